/* The booth drawn from the left as the DJ sees it, in three rows:
 *
 *   host decks                       above what carries them
 *   devices and hubs                 in the screen's order, near the strips that they are wired to
 *   strips, framed by their mixers   side by side
 *
 * Strips come first and spread over the page; the others stand where they would like to, and push
 * each other apart without changing their order. So what is wired straight is drawn straight. */
#include <string.h>

#include "base/mem.h"
#include "base/utf8.h"
#include "engine/sheet_pen.h"
#include "engine/standing.h"
#include "model/say.h"

enum {
    DECKS_Y = DRAWING_TOP,
    DECK_H = 48,
    DEVICES_Y = DECKS_Y + DECK_H + 34,
    DEVICE_H = 60,
    STRIPS_Y = DEVICES_Y + DEVICE_H + 66,
    STRIP_H = 60,
    TITLE = 12, /* sizes of type */
    SMALL = 10,
    TINY = 8,
    BOX_MOST = 190,
    LINES = 3, /* in a box, below its title */
    FIRM = 16, /* the weight of a wish that a wire depends on, against 1 of mere order */
};

/* One of the things that stand in a row: its number in the booth, and where it stands. */
struct standing {
    int number;  /* of a deck or device; of a hub: after the devices */
    int rank[3]; /* from the left; the first that differs counts */
    int x;       /* of its middle; at first where it would like to be */
    int weight;  /* of that wish */
};

struct row {
    struct standing *v;
    size_t n;
};

struct drawing {
    const struct derived *d;
    const struct circuit *c;
    const struct booth *b;
    struct str *out;
    struct row decks, devices;
    int *strip_x, *device_x; /* of the middles */
    int pitch, width;        /* from middle to middle at the least; of a box */
};

/* --- rows ------------------------------------------------------------------------------------- */

static bool stands_before(const struct standing *a, const struct standing *b)
{
    for (int i = 0; i < 3; i++)
        if (a->rank[i] != b->rank[i])
            return a->rank[i] < b->rank[i];
    return false;
}

static void row_add(struct row *r, struct standing s)
{
    size_t at = r->n++;
    for (; at > 0 && stands_before(&s, &r->v[at - 1]); at--)
        r->v[at] = r->v[at - 1];
    r->v[at] = s;
}

/* Things that stand side by side, as one. */
struct block {
    long sum, weight; /* of the wishes of all, each as if it were the first of the row */
    size_t n;
};

static long middle_of(const struct block *b)
{
    return b->sum / b->weight;
}

/* Apart by the pitch and within the page, in their order, as near to their wishes as can be: those
 * that would overlap form a block, which stands at the weighted mean (so the sum of the weighted
 * squares is the least: isotonic regression by pooling adjacent violators). */
static void push_apart(struct row *r, int pitch)
{
    struct block *v = mem_new(r->n, sizeof *v);
    long left = PAGE_LEFT + pitch / 2, right = PAGE_RIGHT - pitch / 2 - pitch * ((long)r->n - 1);
    size_t n = 0, at = 0;
    for (size_t i = 0; i < r->n; i++) {
        long weight = r->v[i].weight;
        v[n++] = (struct block){weight * (r->v[i].x - pitch * (long)i), weight, 1};
        for (; n > 1 && middle_of(&v[n - 2]) >= middle_of(&v[n - 1]); n--) {
            v[n - 2].sum += v[n - 1].sum;
            v[n - 2].weight += v[n - 1].weight;
            v[n - 2].n += v[n - 1].n;
        }
    }
    for (size_t i = 0; i < n; i++) {
        long x = middle_of(&v[i]);
        x = x > right ? right : x;
        x = x < left ? left : x;
        for (size_t k = 0; k < v[i].n; k++, at++)
            r->v[at].x = (int)x + pitch * (int)at;
    }
    mem_free(v);
}

/* A mixer is the frame of its strips; one without strips stands among the devices. */
static bool is_framed(const struct device *d)
{
    return d->kind == KIND_MIXER && d->strips.n > 0;
}

static void collect_devices(struct drawing *w)
{
    int devices = (int)w->c->n_devices;
    w->devices.v = mem_new(w->c->n_devices + w->b->hubs.n, sizeof *w->devices.v);
    for (int i = 0; i < devices; i++) {
        const struct device *d = circuit_device(w->c, i);
        if (!is_framed(d))
            row_add(&w->devices,
                    (struct standing){i, {standing_group(w->c, i), d->place, i}, 0, 1});
    }
    for (int i = 0; i < (int)w->b->hubs.n; i++)
        row_add(&w->devices, (struct standing){devices + i, {STANDING_HUBS, i, 0}, 0, 1});
}

/* Side by side over the page, but for the room that hubs take at the right, if they can. */
static void place_strips(struct drawing *w)
{
    int n = (int)w->c->n_strips, hubs = (int)w->b->hubs.n * w->pitch;
    int width = PAGE_RIGHT - PAGE_LEFT - hubs;
    width = width < n * w->pitch ? PAGE_RIGHT - PAGE_LEFT : width;
    w->strip_x = mem_new(w->c->n_strips, sizeof *w->strip_x);
    for (int k = 0; k < n; k++)
        w->strip_x[w->c->by_rank[k]] = PAGE_LEFT + width * (2 * k + 1) / (2 * n);
}

/* The middle of the strips that a device is wired to; -1: of none. */
static int wired_at(const struct drawing *w, int device)
{
    int sum = 0, n = 0;
    for (size_t i = 0; i < w->c->n_cables; i++) {
        const struct circuit_cable *c = &w->c->cables[i];
        int strip = w->c->inputs[c->input].strip;
        if (w->c->outputs[c->output].device != device || strip < 0)
            continue;
        sum += w->strip_x[strip];
        n++;
    }
    return n ? sum / n : -1;
}

static void place_devices(struct drawing *w)
{
    int next = PAGE_LEFT + w->pitch / 2;
    w->device_x = mem_new(w->c->n_devices, sizeof *w->device_x);
    for (size_t i = 0; i < w->devices.n; i++) {
        struct standing *s = &w->devices.v[i];
        int wired = s->number < (int)w->c->n_devices ? wired_at(w, s->number) : -1;
        s->x = wired >= 0 ? wired : next;
        s->weight = wired >= 0 ? FIRM : 1;
        next = s->x + w->pitch;
    }
    push_apart(&w->devices, w->pitch);
    for (size_t i = 0; i < w->devices.n; i++)
        if (w->devices.v[i].number < (int)w->c->n_devices)
            w->device_x[w->devices.v[i].number] = w->devices.v[i].x;
}

/* Where a jack is: the at-th of n along the edge of its box, inputs left of outputs. */
static int jack_x(const struct drawing *w, int middle, size_t at, size_t n)
{
    return middle - w->width / 2 + (int)((size_t)w->width * (at + 1) / (n + 1));
}

static int output_x(const struct drawing *w, int output)
{
    int device = w->c->outputs[output].device;
    const struct device *d = circuit_device(w->c, device);
    size_t at = 0;
    for (int i = output; i > 0 && w->c->outputs[i - 1].device == device; i--)
        at++;
    return jack_x(w, w->device_x[device], d->inputs.n + at, d->inputs.n + d->outputs.n);
}

static int input_x(const struct drawing *w, int input)
{
    const struct circuit_input *in = &w->c->inputs[input];
    size_t at = 0;
    for (int i = input; i > 0 && w->c->inputs[i - 1].device == in->device &&
                        w->c->inputs[i - 1].strip == in->strip;
         i--)
        at++;
    if (in->strip >= 0)
        return jack_x(w, w->strip_x[in->strip], at, circuit_strip(w->c, in->strip)->inputs.n);
    const struct device *d = circuit_device(w->c, in->device);
    return jack_x(w, w->device_x[in->device], at, d->inputs.n + d->outputs.n);
}

/* Above what carries it, else above the strip that it wants, else at the right. Decks above the
 * same device stand in the order of its outputs. */
static struct standing stand_deck(const struct drawing *w, int deck)
{
    const struct route *r = &w->d->routes[deck];
    int strip = w->c->decks[deck].wants;
    bool carried = r->there && r->output >= 0;
    int x = carried ? w->device_x[r->device] : strip >= 0 ? w->strip_x[strip] : PAGE_RIGHT;
    return (struct standing){deck, {x, carried ? r->output : 0, deck}, x, strip >= 0 ? FIRM : 1};
}

static void place_decks(struct drawing *w)
{
    w->decks.v = mem_new(w->c->n_decks, sizeof *w->decks.v);
    for (int i = 0; i < (int)w->c->n_decks; i++)
        row_add(&w->decks, stand_deck(w, i));
    push_apart(&w->decks, w->pitch);
}

/* --- boxes ------------------------------------------------------------------------------------ */

struct box {
    int x, y, h; /* x of its middle */
    const char *title;
    const struct str *lines; /* LINES of them; empty ones take no room */
};

static void add_box(const struct drawing *w, struct box box)
{
    int size = pen_columns(TITLE, w->width) < 6 ? TINY : TITLE, y = box.y + 15;
    pen_box(w->out, box.x - w->width / 2, box.y, w->width, box.h);
    pen_text(w->out, (struct pen_text){box.x, y, size, w->width - 2, .middle = true, .bold = true},
             box.title);
    size = pen_columns(SMALL, w->width) < 12 ? TINY : SMALL;
    for (int i = 0; i < LINES; i++)
        if (box.lines[i].len)
            pen_text(w->out, (struct pen_text){box.x, y += 13, size, w->width - 4, .middle = true},
                     box.lines[i].text);
}

static void clear_lines(struct str lines[LINES])
{
    for (int i = 0; i < LINES; i++)
        str_clear(&lines[i]);
}

static void add_decks(const struct drawing *w)
{
    for (size_t i = 0; i < w->decks.n; i++) {
        int deck = w->decks.v[i].number;
        const struct deck *k = &w->b->decks.v[deck];
        const struct route *r = &w->d->routes[deck];
        struct str lines[LINES] = {{0}};
        if (r->there) {
            str_add(&lines[0], "pair ");
            route_show(w->c, r->pair, &lines[0]);
        } else {
            str_add(&lines[0], "no route");
        }
        if (*k->controlled_by)
            str_addf(&lines[1], "%s controls", booth_label(w->b, k->controlled_by));
        add_box(w, (struct box){w->decks.v[i].x, DECKS_Y, DECK_H, k->label, lines});
        clear_lines(lines);
    }
}

/* "joins as number 2", or what there is to say of a device that does not. */
static void say_joining(const struct drawing *w, const struct device *d, struct str *out)
{
    int at = booth_joined_at(w->b, d->id);
    if (at >= 0)
        str_addf(out, "joins as number %d", at + 1);
    else
        str_add(out,
                d->card ? "not in the interface" : word_people(&words_device_kind, (int)d->kind));
}

static void add_device(const struct drawing *w, const struct device *d, int x)
{
    struct str lines[LINES] = {{0}};
    say_joining(w, d, &lines[0]);
    if (*d->plugged.at || d->kind != KIND_TURNTABLE)
        say_plug(w->b, &d->plugged, &lines[1]);
    if (d->in_use)
        str_addf(&lines[2], "USED: %s", d->in_use);
    else if (d->kind == KIND_PLAYER && d->source == SOURCE_OWN_MEDIA)
        str_add(&lines[2], "on its own media");
    add_box(w, (struct box){x, DEVICES_Y, DEVICE_H, d->label, lines});
    clear_lines(lines);
}

static void add_hub(const struct drawing *w, const struct hub *h, int x)
{
    struct str lines[LINES] = {{0}};
    str_addf(&lines[0], "%d ports", h->ports);
    say_plug(w->b, &h->plugged, &lines[1]);
    str_add(&lines[2], h->self_powered ? "own supply" : "no supply of its own");
    add_box(w, (struct box){x, DEVICES_Y, DEVICE_H, booth_label(w->b, h->id), lines});
    clear_lines(lines);
}

static void add_devices(const struct drawing *w)
{
    int devices = (int)w->c->n_devices;
    for (size_t i = 0; i < w->devices.n; i++) {
        const struct standing *s = &w->devices.v[i];
        if (s->number < devices)
            add_device(w, circuit_device(w->c, s->number), s->x);
        else
            add_hub(w, &w->b->hubs.v[s->number - devices], s->x);
    }
}

static void say_wanted(const struct drawing *w, int strip, struct str *out)
{
    for (size_t i = 0; i < w->c->n_decks; i++)
        if (w->c->decks[i].wants == strip)
            str_addf(out, "%s%s", out->len ? ", " : "wanted: ", w->b->decks.v[i].label);
}

/* The heard are sorted by strip and side, so that a deck can stand there twice. */
static void say_heard(const struct drawing *w, int strip, struct str *out)
{
    bool told[MAX_DECKS] = {false};
    for (size_t i = 0; i < w->d->heard.n; i++) {
        const struct sound *s = &w->d->heard.v[i];
        if (s->strip != strip || told[s->deck])
            continue;
        told[s->deck] = true;
        str_addf(out, "%s%s", out->len ? ", " : "heard: ", w->b->decks.v[s->deck].label);
    }
}

static void add_strip(const struct drawing *w, int strip)
{
    const struct strip *s = circuit_strip(w->c, strip);
    struct str lines[LINES] = {{0}}, title = {0};
    bool narrow = pen_columns(TITLE, w->width) < 8;
    str_addf(&title, "%s%s", narrow ? "" : "strip ", s->label);
    str_add(&lines[0], s->selected);
    if (s->in_use)
        str_addf(&lines[0], ", USED: %s", s->in_use);
    say_wanted(w, strip, &lines[1]);
    say_heard(w, strip, &lines[2]);
    if (lines[1].len && !lines[2].len)
        str_add(&lines[2], "heard: none");
    add_box(w, (struct box){w->strip_x[strip], STRIPS_Y, STRIP_H, title.text, lines});
    str_clear(&title);
    clear_lines(lines);
}

/* The frame of a mixer around its strips, and what it is. */
static void add_frame(const struct drawing *w, int mixer, int first, int last)
{
    const struct device *d = circuit_device(w->c, mixer);
    int x = first - w->width / 2 - 3, width = last - first + w->width + 6;
    struct str title = {0};
    pen_box(w->out, x, STRIPS_Y - 5, width, STRIP_H + 22);
    str_addf(&title, "%s: ", d->label);
    say_joining(w, d, &title);
    if (*d->plugged.at) {
        str_add(&title, ", ");
        say_plug(w->b, &d->plugged, &title);
    }
    if (d->socket)
        str_addf(&title, ", its socket %s", d->socket);
    if (d->in_use)
        str_addf(&title, ", USED: %s", d->in_use);
    pen_text(w->out,
             (struct pen_text){x + 4, STRIPS_Y + STRIP_H + 13, SMALL, width - 6, .bold = true},
             title.text);
    str_clear(&title);
}

static void add_frames(const struct drawing *w)
{
    for (size_t i = 0, k; i < w->c->n_strips; i = k) {
        int mixer = w->c->strips[w->c->by_rank[i]].mixer;
        for (k = i + 1; k < w->c->n_strips && w->c->strips[w->c->by_rank[k]].mixer == mixer; k++)
            ;
        add_frame(w, mixer, w->strip_x[w->c->by_rank[i]], w->strip_x[w->c->by_rank[k - 1]]);
    }
}

/* --- wires ------------------------------------------------------------------------------------ */

/* Names a jack beside the end of its wire, on the side where the wire is not, if there is room. */
static void name_jack(const struct drawing *w, const char *text, struct pen_point p, bool left)
{
    int room = w->width * 2 / 3, columns = utf8_columns(text, false);
    int most = pen_columns(TINY, room);
    columns = columns < most ? columns : most;
    if (w->width >= 90)
        pen_text(w->out,
                 (struct pen_text){left ? p.x - 4 - columns * 5 : p.x + 4, p.y, TINY, room,
                                   .bold = false},
                 text);
}

/* Both ends of a cable, and whether its sides are right. */
static void name_ends(const struct drawing *w, const struct circuit_cable *c, int from, int to)
{
    bool strip = w->c->inputs[c->input].strip >= 0;
    int below = DEVICES_Y + DEVICE_H + 10;
    char name[REF_SIZE];
    struct str text = {0};
    circuit_output_name(w->c, c->output, name);
    name_jack(w, strchr(name, '.') + 1, (struct pen_point){from, below}, strip && to > from);
    circuit_input_name(w->c, c->input, name);
    str_add(&text, strchr(name, '.') + 1);
    if (c->sides != SIDES_STRAIGHT)
        str_addf(&text, ", %s", word_people(&words_sides, (int)c->sides));
    name_jack(w, text.text, (struct pen_point){to, strip ? STRIPS_Y - 10 : below},
              strip && to < from);
    str_clear(&text);
}

/* Into an input of an interface: under the boxes, and up. */
static void add_side_cable(const struct drawing *w, size_t cable, int from, int to)
{
    int bottom = DEVICES_Y + DEVICE_H, low = bottom + 14 + 5 * (int)(cable % 4);
    struct pen_point p[] = {{from, bottom}, {from, low}, {to, low}, {to, bottom}};
    pen_lines(w->out, p, 4, (int)cable % PEN_STYLES, true);
    pen_arrow_up(w->out, p[3]);
}

static void add_cable(const struct drawing *w, size_t i)
{
    const struct circuit_cable *c = &w->c->cables[i];
    int strip = w->c->inputs[c->input].strip;
    int from = output_x(w, c->output), to = input_x(w, c->input);
    struct pen_point p[] = {{from, DEVICES_Y + DEVICE_H}, {to, STRIPS_Y}};
    name_ends(w, c, from, to);
    if (strip < 0)
        add_side_cable(w, i, from, to);
    else
        pen_lines(w->out, p, 2, (int)i % PEN_STYLES, w->c->strips[strip].selected == c->input);
}

/* Where a deck's wire can pass the devices: at x, or beside the box that stands there. Wires that
 * pass one box are drawn apart. */
static int pass_at(const struct drawing *w, int x, int deck)
{
    int beside = w->width / 2 + (w->pitch - w->width) * (deck % 3 + 1) / 4;
    for (size_t i = 0; i < w->devices.n; i++) {
        int box = w->devices.v[i].x;
        if (x >= box - w->width / 2 && x <= box + w->width / 2)
            return x < box ? box - beside : box + beside;
    }
    return x;
}

static void add_route(const struct drawing *w, const struct standing *deck)
{
    const struct route *r = &w->d->routes[deck->number];
    int top = DECKS_Y + DECK_H, from = deck->x;
    if (!r->there)
        return;
    int to = r->output >= 0 ? output_x(w, r->output) : input_x(w, r->input);
    int pass = r->output >= 0 ? to : pass_at(w, to, deck->number);
    if (pass > from - w->width / 2 && pass < from + w->width / 2)
        from = pass; /* straight down */
    struct pen_point p[] = {
        {from, top}, {pass, DEVICES_Y}, {pass, DEVICES_Y + DEVICE_H}, {to, STRIPS_Y}};
    pen_lines(w->out, p, r->output >= 0 ? 2 : 4, PEN_DOTTED, true);
}

/* --- all of it -------------------------------------------------------------------------------- */

static void choose_pitch(struct drawing *w)
{
    size_t most = w->devices.n > w->c->n_strips ? w->devices.n : w->c->n_strips;
    most = w->c->n_decks > most ? w->c->n_decks : most;
    w->pitch = (PAGE_RIGHT - PAGE_LEFT) / (most ? (int)most : 1);
    w->width = w->pitch - (w->pitch > 40 ? 12 : w->pitch / 5);
    w->width = w->width > BOX_MOST ? BOX_MOST : w->width;
}

void sheet_drawing(const struct derived *d, struct str *out)
{
    struct drawing w = {.d = d, .c = d->circuit, .b = d->circuit->booth, .out = out};
    collect_devices(&w);
    choose_pitch(&w);
    place_strips(&w);
    place_devices(&w);
    place_decks(&w);
    add_frames(&w);
    for (size_t i = 0; i < w.c->n_cables; i++)
        add_cable(&w, i);
    for (size_t i = 0; i < w.decks.n; i++)
        add_route(&w, &w.decks.v[i]);
    add_decks(&w);
    add_devices(&w);
    for (size_t i = 0; i < w.c->n_strips; i++)
        add_strip(&w, (int)i);
    mem_free(w.devices.v);
    mem_free(w.decks.v);
    mem_free(w.strip_x);
    mem_free(w.device_x);
}
