/* Which wires there are, between which columns, and how each is drawn.
 *
 * A wire that nothing comes through is dashed. Of the others, two that cross differ in weight, so
 * that the eye can follow each through the crossing. */
#include "ui/canvas_parts.h"

#include "base/mem.h"

static void add_wire(struct channel *ch, struct wire w, struct thread t)
{
    ch->wires[ch->n] = w;
    ch->threads[ch->n++] = t;
}

static size_t box_index(const struct canvas *c, const struct box *b)
{
    return (size_t)(b - c->boxes);
}

/* The column nearest to x on the border of a box, corners not counted. */
static int on_border(const struct box *b, int x)
{
    int left = b->at.x + 1, right = b->at.x + b->at.w - 2;
    return x < left ? left : x > right ? right : x;
}

/* The wire of a routed deck: to its device, or past the devices to the usb input. */
static void wire_deck(struct canvas *c, size_t from)
{
    int deck = c->boxes[from].number;
    const struct route *r = &c->d->routes[deck];
    struct thread t = {.deck = deck,
                       .cable = -1,
                       .line = canvas_deck_is_stale(c, deck) ? LINE_DASHED : LINE_NONE,
                       .box = {from, from}};
    struct wire w = {.from = c->boxes[from].at.x + c->deck_w / 2};
    if (!r->there)
        return; /* else straight down wherever both ends allow it */
    if (r->output >= 0) {
        const struct box *device = canvas_device_box(c, r->device);
        t.box[1] = box_index(c, device);
        w.to = on_border(device, w.from);
        w.from = on_border(&c->boxes[from], w.to);
        add_wire(&c->upper, w, t);
        return;
    }
    const struct jack *in = canvas_input(c, r->input);
    t.box[1] = in->box;
    w.to = c->passes[deck] >= 0 ? c->passes[deck] : in->x;
    w.from = on_border(&c->boxes[from], w.to);
    add_wire(&c->upper, w, t);
    if (c->passes[deck] >= 0)
        add_wire(&c->lower, (struct wire){.from = w.to, .to = in->x}, t);
}

static const char *sides_mark(enum sides s)
{
    return s == SIDES_SWAPPED      ? "x"
           : s == SIDES_LEFT_ONLY  ? "L"
           : s == SIDES_RIGHT_ONLY ? "R"
                                   : NULL;
}

static void wire_cable(struct canvas *c, int cable)
{
    const struct circuit_cable *k = &c->c->cables[cable];
    const struct jack *out = canvas_output(c, k->output), *in = canvas_input(c, k->input);
    bool strip = c->c->inputs[k->input].strip >= 0;
    bool passes = canvas_output_sounds(c, k->output) &&
                  c->c->inputs[k->input].digital == c->c->outputs[k->output].digital;
    struct thread t = {.deck = -1,
                       .cable = cable,
                       .line = passes ? LINE_NONE : LINE_DASHED,
                       .faint = strip && !in->selected,
                       .box = {out->box, in->box},
                       .mark = sides_mark(k->sides)};
    add_wire(&c->lower, (struct wire){.from = out->x, .to = in->x, .returns = !strip}, t);
}

static void room_for(struct channel *ch, size_t n)
{
    ch->wires = mem_new(n, sizeof *ch->wires);
    ch->threads = mem_new(n, sizeof *ch->threads);
}

/* Light where it can be, heavy where it crosses more light wires than heavy ones. */
static void style_wires(struct channel *ch)
{
    for (size_t i = 0; i < ch->n; i++) {
        int light = 0, heavy = 0;
        if (ch->threads[i].line == LINE_DASHED)
            continue;
        for (size_t k = 0; k < i; k++) {
            int crossings = wires_cross(&ch->wires[i], &ch->wires[k]);
            light += ch->threads[k].line == LINE_LIGHT ? crossings : 0;
            heavy += ch->threads[k].line == LINE_HEAVY ? crossings : 0;
        }
        ch->threads[i].line = light > heavy ? LINE_HEAVY : LINE_LIGHT;
    }
}

/* A deck's wire that passes the devices has one weight all the way. */
static void match_passes(struct canvas *c)
{
    for (size_t i = 0; i < c->upper.n; i++)
        for (size_t k = 0; k < c->lower.n; k++)
            if (c->lower.threads[k].deck == c->upper.threads[i].deck)
                c->upper.threads[i].line = c->lower.threads[k].line;
}

void canvas_make_wires(struct canvas *c)
{
    room_for(&c->upper, c->b->decks.n);
    room_for(&c->lower, c->b->decks.n + c->c->n_cables);
    for (size_t i = c->first[BAND_DECKS]; i < c->first[BAND_DECKS + 1]; i++)
        wire_deck(c, i);
    for (int i = 0; i < (int)c->c->n_cables; i++)
        wire_cable(c, i);
    c->upper.rows = wires_route(c->upper.wires, c->upper.n);
    c->lower.rows = wires_route(c->lower.wires, c->lower.n);
    style_wires(&c->upper);
    style_wires(&c->lower);
    match_passes(c);
}

int canvas_thread_path(const struct channel *ch, size_t i, struct point p[WIRE_POINTS])
{
    int first = ch->top + (ch->height - ch->rows) / 2;
    return wire_path(&ch->wires[i], first, ch->top - 1, ch->top + ch->height, p);
}
