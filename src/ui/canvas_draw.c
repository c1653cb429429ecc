/* Drawing: a window of the layout into a grid of its own, then that into the caller's.
 *
 * So nothing outside of the window can be touched, whatever is half in it. What stands out is
 * told by more than its colour: heavy frames, brackets, "!", "?", filled and hollow jacks. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/utf8.h"
#include "ui/canvas_pen.h"

/* --- boxes with a label --------------------------------------------------------------------------
 */

/* A box with its label on the upper border. */
static struct style draw_box(const struct pen *p, const struct box *b, const char *label,
                             const char *in_use)
{
    struct style s = pen_style(p, &b->spot, in_use);
    enum look title = s.plain || s.look == LOOK_IN_USE ? LOOK_STRONG : s.look;
    pen_frame(p, b->at, s.line, s.look);
    bool named = pen_names(p, b->spot.name);
    pen_put(p, across(b->at.x + 1, b->at.y, b->at.w - 2 - 2 * named), title, label);
    if (named)
        pen_put(p, across(b->at.x + b->at.w - 2, b->at.y, 1), LOOK_ERROR, "!");
    return s;
}

/* --- jacks ------------------------------------------------------------------------------------ */

static const char *jack_glyph(const struct pen *p, const struct jack *j)
{
    bool ascii = p->g->ascii;
    if (pen_names(p, j->spot.name))
        return "!";
    if (pen_marks(&p->m->selected, &j->spot) || pen_marks(&p->m->carried, &j->spot) ||
        pen_marks(&p->m->target, &j->spot))
        return ascii ? "#" : "\u25c6";
    return j->cabled ? (ascii ? "@" : "\u25cf") : (ascii ? "o" : "\u25cb");
}

static void draw_jack(const struct pen *p, const struct jack *j, const char *id)
{
    struct str name = {0};
    struct spot selector = spot_of(SPOT_SELECTOR, j->spot.name);
    bool picked = pen_marks(&p->m->selected, &selector);
    struct style s = pen_style(p, &j->spot, NULL);
    bool output = j->spot.kind == SPOT_OUTPUT;
    enum look look = picked                ? LOOK_SELECTED
                     : !s.plain            ? s.look
                     : j->selected         ? LOOK_STRONG
                     : output && j->cabled ? LOOK_PLAIN
                                           : LOOK_DIM;
    canvas_name_short(id, j->name_w, &name);
    pen_put(p, across(j->name_x, j->name_y, j->name_w), look, str_text(&name));
    if (j->selected) {
        pen_put(p, across(j->name_x - 1, j->name_y, 1), look, "[");
        pen_put(p, across(j->name_x + j->name_w, j->name_y, 1), look, "]");
    }
    pen_put(p, across(j->x, j->y, 1), s.plain ? LOOK_WIRE : s.look, jack_glyph(p, j));
    str_clear(&name);
}

static void draw_inputs(const struct pen *p, const struct inputs *in, int first)
{
    for (size_t i = 0; i < in->n; i++)
        draw_jack(p, canvas_input(p->c, first + (int)i), in->v[i].id);
}

static void draw_outputs(const struct pen *p, const struct outputs *out, int first)
{
    for (size_t i = 0; i < out->n; i++)
        draw_jack(p, canvas_output(p->c, first + (int)i), out->v[i].id);
}

/* --- boxes ------------------------------------------------------------------------------------ */

/* A pair of channels in w columns. Where the host names them by device and that is too long, the
 * device is left out: the deck stands above it. */
static void add_pair(const struct pen *p, struct pair pair, int w, struct str *out)
{
    struct str shown = {0};
    route_show(p->c->c, pair, &shown);
    const char *space = strrchr(str_text(&shown), ' ');
    bool fits = utf8_columns(str_text(&shown), p->g->ascii) <= w;
    str_add(out, fits || !space ? str_text(&shown) : space + 1);
    str_clear(&shown);
}

static void draw_deck(const struct pen *p, const struct box *b)
{
    const struct canvas *c = p->c;
    bool stale = canvas_deck_is_stale(c, b->number);
    struct pair pair = route_effective(c->c, b->number);
    int x = b->at.x + 1, y = b->at.y + 1, w = b->at.w - 2;
    struct str text = {0};
    draw_box(p, b, c->b->decks.v[b->number].label, NULL);
    if (pair.left < 0)
        canvas_say_no_pair(c, b->number, w, &text);
    else
        add_pair(p, pair, stale ? w - 2 : w, &text);
    str_add(&text, stale ? " !" : "");
    pen_put_middle(p, across(x, y, w),
                   stale           ? LOOK_ERROR
                   : pair.left < 0 ? LOOK_DIM
                                   : LOOK_STRONG,
                   str_text(&text));
    if (stale) {
        const char *before = w >= 10 ? "needs " : "->";
        str_cut(&text, 0);
        str_add(&text, before);
        add_pair(p, c->d->routes[b->number].pair, w - (int)strlen(before), &text);
        pen_put_middle(p, across(x, y + 1, w), LOOK_ERROR, str_text(&text));
    }
    str_clear(&text);
}

static void draw_in_use(const struct pen *p, int x, int y, int w, const char *by)
{
    static const char *const before[] = {"in use: ", "used: ", "by "};
    struct str text = {0};
    for (size_t i = 0; i < sizeof before / sizeof *before; i++) {
        str_cut(&text, 0);
        str_addf(&text, "%s%s", before[i], by);
        if (utf8_columns(str_text(&text), p->g->ascii) <= w)
            break;
    }
    pen_put(p, across(x, y, w), LOOK_IN_USE, str_text(&text));
    str_clear(&text);
}

static void draw_source(const struct pen *p, const struct box *b, const struct device *d)
{
    struct spot spot = spot_of(SPOT_SOURCE, b->spot.name);
    bool computer = d->source == SOURCE_COMPUTER;
    enum look look = pen_marks(&p->m->selected, &spot) ? LOOK_SELECTED
                     : computer                        ? LOOK_PLAIN
                                                       : LOOK_WARNING;
    int w = b->at.w - 2;
    pen_put(p, across(b->at.x + 1, b->at.y + 2, w), look,
            computer ? "computer"
            : w < 9  ? "own"
                     : "own media");
}

static void draw_device(const struct pen *p, const struct box *b)
{
    const struct canvas *c = p->c;
    const struct device *d = circuit_device(c->c, b->number);
    bool joined = c->c->devices[b->number].joined >= 0;
    int x = b->at.x + 1, y = b->at.y + 1, w = b->at.w - 2;
    struct str text = {0};
    draw_box(p, b, d->label, d->in_use);
    canvas_say_place(c, b->number, w, &text);
    pen_put(p, across(x, y, w), joined ? LOOK_STRONG : LOOK_DIM, str_text(&text));
    if (d->kind == KIND_PLAYER)
        draw_source(p, b, d);
    str_cut(&text, 0);
    if (d->card || d->plugged.at[0]) {
        canvas_say_lead(c, &d->plugged, w, &text);
        pen_put(p, across(x, y + 2, w), d->plugged.at[0] ? LOOK_PLAIN : LOOK_DIM, str_text(&text));
    }
    if (d->in_use)
        draw_in_use(p, x, y + 3, w, d->in_use);
    draw_inputs(p, &d->inputs, canvas_device_input(c, b->number));
    draw_outputs(p, &d->outputs, canvas_device_output(c, b->number));
    str_clear(&text);
}

static void draw_hub(const struct pen *p, const struct box *b)
{
    const struct hub *h = &p->c->b->hubs.v[b->number];
    int x = b->at.x + 1, y = b->at.y + 1, w = b->at.w - 2;
    struct str text = {0};
    draw_box(p, b, h->label ? h->label : h->id, NULL);
    str_addf(&text, w < 7 ? "%d usb" : "%d ports", h->ports);
    pen_put(p, across(x, y, w), LOOK_PLAIN, str_text(&text));
    str_cut(&text, 0);
    canvas_say_lead(p->c, &h->plugged, w, &text);
    pen_put(p, across(x, y + 2, w), h->plugged.at[0] ? LOOK_PLAIN : LOOK_DIM, str_text(&text));
    str_clear(&text);
}

/* During the line check: "H1 ok" where it is heard alone, "H1 ?" while it is not checked, "H1 !H3"
 * where another is heard instead. */
static int draw_listened(const struct pen *p, struct rect r, int strip)
{
    int at = 0, decks = (int)p->c->b->decks.n;
    for (int i = 0; i < 2 * decks && at < r.w; i++) { /* who is expected first */
        struct str text = {0};
        if ((p->c->c->decks[i % decks].wants == strip) != (i < decks))
            continue;
        enum look look = canvas_say_listened(p->c, strip, i % decks, &text);
        pen_put(p, across(r.x + at, r.y, r.w - at), look, str_text(&text));
        at += text.len ? utf8_columns(str_text(&text), p->g->ascii) + 1 : 0;
        str_clear(&text);
    }
    return at;
}

/* Who is at a strip: "H1", "H4 ?" when it is not heard rightly, "+H2" when it should not be. */
static int draw_guests(const struct pen *p, int x, int y, int w, int strip)
{
    const struct canvas *c = p->c;
    struct guest v[8];
    int at = 0, own = canvas_own_sound(c, strip);
    size_t n = canvas_guests(c, strip, v, sizeof v / sizeof *v);
    for (size_t i = 0; i < n && at < w; i++) {
        struct str text = {0};
        bool good = v[i].wants && v[i].rightly;
        str_addf(&text, "%s%s%s", v[i].wants ? "" : "+", c->b->decks.v[v[i].deck].label,
                 v[i].wants && !good            ? " ?"
                 : !v[i].wants && !v[i].rightly ? "?"
                                                : "");
        pen_put(p, across(x + at, y, w - at), good ? LOOK_DECK : LOOK_ERROR, str_text(&text));
        at += utf8_columns(str_text(&text), p->g->ascii) + 1;
        str_clear(&text);
    }
    if (n == 0 && own >= 0) {
        pen_put(p, across(x, y, w), LOOK_DIM, circuit_device(c->c, own)->label);
        at += utf8_columns(circuit_device(c->c, own)->label, p->g->ascii) + 1;
    }
    return at;
}

/* The selected input's whole name at the right, where the row of inputs only has letters of it. */
static void draw_selected(const struct pen *p, const struct box *b, int y, int taken)
{
    const struct strip *s = circuit_strip(p->c->c, b->number);
    const struct jack *j = canvas_input(p->c, p->c->c->strips[b->number].selected);
    int w = p->c->strip_w - 2, name = (int)strlen(s->selected);
    if (j->name_w < name && taken + name <= w)
        pen_put(p, across(b->at.x + 2 + w - name, y, name), LOOK_DIM, s->selected);
}

static void draw_strip(const struct pen *p, const struct box *b)
{
    const struct canvas *c = p->c;
    const struct strip *s = circuit_strip(c->c, b->number);
    struct style style = pen_style(p, &b->spot, s->in_use);
    struct rect r = {b->at.x, b->at.y, c->strip_w + 2, b->at.h};
    struct str label = {0};
    if (!style.plain)
        pen_frame(p, r, style.line, style.look);
    draw_inputs(p, &s->inputs, canvas_strip_input(c, b->number));
    int taken = p->m->listening ? draw_listened(p, across(r.x + 2, r.y + 2, r.w - 3), b->number)
                                : draw_guests(p, r.x + 2, r.y + 2, r.w - 3, b->number);
    draw_selected(p, b, r.y + 2, taken);
    if (s->in_use)
        draw_in_use(p, r.x + 1, r.y + 3, r.w - 2, s->in_use);
    bool named = pen_names(p, s->id);
    str_addf(&label, " %s ", s->label);
    pen_put_middle(p, across(r.x + 2, r.y + r.h - 1, r.w - 4),
                   style.plain ? LOOK_STRONG : style.look, str_text(&label));
    if (named)
        pen_put(p, across(r.x + 1, r.y + r.h - 1, 1), LOOK_ERROR, "!");
    str_clear(&label);
}

/* A mixer's frame around its strips, the lines between them, and its own row below them. */
static void draw_mixer(const struct pen *p, const struct box *b)
{
    const struct canvas *c = p->c;
    const struct device *d = circuit_device(c->c, b->number);
    struct rect own = {b->at.x, b->at.y - 1, b->at.w, b->at.h + 1};
    struct rect whole = {own.x, c->top[BAND_STRIPS], own.w, c->tall[BAND_STRIPS] + b->at.h};
    struct style s = pen_style(p, &b->spot, d->in_use);
    struct str text = {0};
    if (d->strips.n)
        pen_frame(p, whole, LINE_LIGHT, LOOK_PLAIN);
    pen_frame(p, own, s.line, s.look);
    for (size_t i = 0; i < d->strips.n; i++) {
        struct rect strip = {own.x + (int)i * (c->strip_w + 1), whole.y, c->strip_w + 2,
                             c->tall[BAND_STRIPS]};
        pen_frame(p, strip, LINE_LIGHT, LOOK_PLAIN);
    }
    int w = own.w - 4, used = utf8_columns(d->label, p->g->ascii);
    pen_put(p, across(own.x + 2, b->at.y, w), s.plain ? LOOK_STRONG : s.look, d->label);
    if (d->in_use)
        str_addf(&text, "in use: %s", d->in_use);
    else
        canvas_say_card(c, b->number, w - used - 2, &text);
    int needs = utf8_columns(str_text(&text), p->g->ascii);
    if (needs < w - used)
        pen_put(p, across(own.x + 2 + w - needs, b->at.y, needs),
                d->in_use ? LOOK_IN_USE : LOOK_DIM, str_text(&text));
    if (pen_names(p, d->id))
        pen_put(p, across(own.x + own.w - 2, own.y + own.h - 1, 1), LOOK_ERROR, "!");
    str_clear(&text);
}

/* --- wires ------------------------------------------------------------------------------------ */

/* Whether a wire is on the way of a deck from the host to its strip. */
static bool on_route(const struct canvas *c, const struct thread *t, size_t deck)
{
    const struct route *r = &c->d->routes[deck];
    if (t->cable < 0)
        return t->deck == (int)deck;
    const struct circuit_cable *k = &c->c->cables[t->cable];
    return r->there && k->output == r->output && k->input == r->input;
}

/* Whether a wire ends at what is selected, or carries the selected deck or the deck that wants the
 * selected strip. */
static bool attached(const struct pen *p, const struct thread *t)
{
    const struct canvas *c = p->c;
    const struct spot *s = &p->m->selected;
    if (s->kind == SPOT_NONE)
        return false;
    for (size_t i = 0; i < c->b->decks.n; i++) {
        const struct deck *d = &c->b->decks.v[i];
        const char *name = s->kind == SPOT_DECK ? d->id : s->kind == SPOT_STRIP ? d->wants : "";
        if (strcmp(name, s->name) == 0 && on_route(c, t, i))
            return true;
    }
    if (pen_marks(s, &c->boxes[t->box[0]].spot) || pen_marks(s, &c->boxes[t->box[1]].spot))
        return true;
    const struct cable *k = t->cable >= 0 ? &c->b->cables.v[t->cable] : NULL;
    return k && (strcmp(k->from, s->name) == 0 || strcmp(k->to, s->name) == 0);
}

static enum look thread_look(const struct pen *p, const struct channel *ch, size_t i)
{
    const struct thread *t = &ch->threads[i];
    const struct cable *k = t->cable >= 0 ? &p->c->b->cables.v[t->cable] : NULL;
    if (k && pen_names(p, k->from) && pen_names(p, k->to))
        return LOOK_ERROR;
    if (attached(p, t))
        return LOOK_STRONG;
    return !k ? LOOK_DECK : t->faint ? LOOK_DIM : LOOK_WIRE;
}

/* Adds a piece of wire to a cell that another wire may have a corner in. */
static void lay(const struct pen *p, struct point at, unsigned arms, struct style s)
{
    struct cell *c = pen_cell(p, at.x, at.y);
    if (!c)
        return;
    if (arms == (ARM_UP | ARM_DOWN) && c->arms == (ARM_LEFT | ARM_RIGHT))
        c->arms = 0; /* a bridge: the level wire is interrupted */
    unsigned before = c->arms;
    grid_arms(p->g, at.x + p->dx, at.y + p->dy, before | arms, s.line, s.look);
}

static int sign(int n)
{
    return (n > 0) - (n < 0);
}

/* All cells of a piece between two corners but the corners themselves. */
static void lay_piece(const struct pen *p, struct point a, struct point b, struct style s)
{
    int dx = sign(b.x - a.x), dy = sign(b.y - a.y);
    unsigned arms = dx ? ARM_LEFT | ARM_RIGHT : ARM_UP | ARM_DOWN;
    for (a.x += dx, a.y += dy; a.x != b.x || a.y != b.y; a.x += dx, a.y += dy)
        lay(p, a, arms, s);
}

static unsigned arm_towards(struct point from, struct point to)
{
    return to.x > from.x ? ARM_RIGHT : to.x < from.x ? ARM_LEFT : to.y > from.y ? ARM_DOWN : ARM_UP;
}

static void draw_wire(const struct pen *p, const struct channel *ch, size_t i, bool level)
{
    struct point at[WIRE_POINTS];
    int n = canvas_thread_path(ch, i, at);
    struct style s = {ch->threads[i].line, thread_look(p, ch, i), true};
    for (int k = 0; k + 1 < n; k++)
        if ((at[k].y == at[k + 1].y) == level)
            lay_piece(p, at[k], at[k + 1], s);
    for (int k = 1; k + 1 < n && level; k++)
        lay(p, at[k], arm_towards(at[k], at[k - 1]) | arm_towards(at[k], at[k + 1]), s);
}

/* Where the sides are exchanged or one is missing, on the wire's last leg. */
static void draw_mark(const struct pen *p, const struct channel *ch, size_t i)
{
    struct point at[WIRE_POINTS];
    int n = canvas_thread_path(ch, i, at);
    struct point end = at[n - 1];
    end.y += at[n - 2].y < end.y ? -1 : 1;
    if (ch->threads[i].mark)
        pen_put(p, across(end.x, end.y, 1), LOOK_ERROR, ch->threads[i].mark);
}

static void draw_channel(const struct pen *p, const struct channel *ch)
{
    for (size_t i = 0; i < ch->n; i++)
        draw_wire(p, ch, i, true);
    for (size_t i = 0; i < ch->n; i++)
        draw_wire(p, ch, i, false);
    for (size_t i = 0; i < ch->n; i++)
        draw_mark(p, ch, i);
}

/* The ends of deck wires on frames, and the wires that pass the devices. */
static void draw_ends(const struct pen *p)
{
    const struct channel *ch = &p->c->upper;
    for (size_t i = 0; i < ch->n; i++) {
        const struct thread *t = &ch->threads[i];
        struct point a = {ch->wires[i].from, ch->top - 1};
        struct point b = {ch->wires[i].to, ch->top + ch->height};
        struct style s = {t->line, thread_look(p, ch, i), true};
        pen_join(p, a.x, a.y, ARM_DOWN);
        if (p->c->passes[t->deck] < 0) {
            pen_join(p, b.x, b.y, ARM_UP);
            continue;
        }
        for (; b.y < p->c->lower.top; b.y++)
            lay(p, b, ARM_UP | ARM_DOWN, s);
    }
}

/* --- the whole -------------------------------------------------------------------------------- */

static bool in_window(const struct pen *p, const struct rect *r)
{
    return r->x + r->w + 1 + p->dx > 0 && r->x + p->dx < p->w && r->y + r->h + p->dy > 0 &&
           r->y + p->dy < p->h;
}

static void draw_one(const struct pen *p, const struct box *b)
{
    if (b->spot.kind == SPOT_DECK)
        draw_deck(p, b);
    else if (b->spot.kind == SPOT_HUB)
        draw_hub(p, b);
    else if (b->spot.kind == SPOT_STRIP)
        draw_strip(p, b);
    else if (b->band == BAND_MIXERS)
        draw_mixer(p, b);
    else
        draw_device(p, b);
}

/* Strips that stand out come last: they share borders with their neighbours. */
static bool stands_out(const struct pen *p, const struct box *b)
{
    const char *in_use = b->spot.kind == SPOT_STRIP ? circuit_strip(p->c->c, b->number)->in_use
                                                    : NULL;
    return b->band == BAND_STRIPS && !pen_style(p, &b->spot, in_use).plain;
}

static void draw_boxes(const struct pen *p)
{
    const struct canvas *c = p->c;
    for (size_t i = c->first[BAND_MIXERS]; i < c->n_boxes; i++)
        draw_one(p, &c->boxes[i]);
    for (int last = 0; last < 2; last++)
        for (size_t i = 0; i < c->first[BAND_MIXERS]; i++)
            if (in_window(p, &c->boxes[i].at) && stands_out(p, &c->boxes[i]) == (last == 1))
                draw_one(p, &c->boxes[i]);
}

/* Left and right mean nothing until one knows from where. */
static void draw_from_where(const struct pen *p)
{
    static const char text[] = "from the left, as the DJ sees it", brief[] = "as the DJ sees it";
    const struct canvas *c = p->c;
    if (!c->says_from_where)
        return;
    const struct rect *first = &c->boxes[c->first[BAND_MIXERS]].at;
    const struct rect *last = &c->boxes[c->n_boxes - 1].at;
    int w = c->width > c->want_w ? c->want_w : last->x + last->w - first->x;
    pen_put_middle(p, across(first->x, last->y + last->h, w), LOOK_DIM,
                   w < (int)sizeof text ? brief : text);
}

static void draw_band_names(const struct pen *p)
{
    static const char *const names[] = {"host decks", "devices", "strips"};
    const struct canvas *c = p->c;
    for (int band = 0; band <= BAND_STRIPS && c->margin; band++)
        if (c->first[band + 1] > c->first[band])
            pen_put(p, across(c->width - c->margin + 1, c->top[band] + 1, c->margin - 1), LOOK_DIM,
                    names[band]);
}

/* Arrows on the edges behind which there is more. */
static void draw_arrows(const struct pen *p)
{
    int right = p->w - 1, bottom = p->h - 1;
    bool ascii = p->g->ascii;
    if (p->dx < 0)
        grid_put(p->g, 0, bottom / 2, 1, LOOK_STRONG, ascii ? "<" : "\u25c2");
    if (p->c->width + p->dx > p->w)
        grid_put(p->g, right, bottom / 2, 1, LOOK_STRONG, ascii ? ">" : "\u25b8");
    if (p->dy < 0)
        grid_put(p->g, right / 2, 0, 1, LOOK_STRONG, ascii ? "^" : "\u25b4");
    if (p->c->height + p->dy > p->h)
        grid_put(p->g, right / 2, bottom, 1, LOOK_STRONG, ascii ? "v" : "\u25be");
}

static void copy_grid(struct grid *to, struct rect window, const struct grid *from)
{
    for (int y = 0; y < window.h; y++)
        for (int x = 0; x < window.w; x++) {
            struct cell *c = grid_at(to, window.x + x, window.y + y);
            const struct cell *drawn = grid_at(from, x, y);
            if (c && drawn)
                *c = *drawn;
        }
}

void canvas_draw(const struct canvas *c, struct grid *g, struct rect window, int scroll_x,
                 int scroll_y, const struct canvas_marks *marks)
{
    static const struct canvas_marks none = {.named = NULL};
    enum { OVERHANG = 80 };
    struct pen p = {.c = c, .m = marks ? marks : &none, .dx = -scroll_x, .dy = -scroll_y};
    p.w = window.w;
    p.h = window.h;
    if (window.w < 1 || window.h < 1)
        return;
    p.g = grid_new(window.w + OVERHANG, window.h, g->ascii);
    draw_boxes(&p);
    draw_channel(&p, &c->upper);
    draw_channel(&p, &c->lower);
    draw_ends(&p);
    draw_band_names(&p);
    draw_from_where(&p);
    draw_arrows(&p);
    copy_grid(g, window, p.g);
    grid_free(p.g);
}
