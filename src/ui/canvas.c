/* The canvas as a value: made whole from what is derived, then only looked at.
 *
 * First columns (canvas_boxes.c), then wires (canvas_wires.c), since only they tell how many rows
 * the channels need; then rows, here. What a window has to spare goes to the channels, always in
 * the same order, so that a wire more or less seldom moves the boxes. */
#include "ui/canvas.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "ui/canvas_parts.h"

struct spot spot_of(enum spot_kind kind, const char *name)
{
    struct spot s = {.kind = kind};
    snprintf(s.name, sizeof s.name, "%s", name);
    return s;
}

bool spot_same(const struct spot *a, const struct spot *b)
{
    return a->kind == b->kind && strcmp(a->name, b->name) == 0;
}

static size_t in_band(const struct canvas *c, enum band band)
{
    return c->first[band + 1] - c->first[band];
}

/* --- rows ------------------------------------------------------------------------------------- */

static void note_extra_rows(struct canvas *c)
{
    for (int i = 0; i < (int)c->b->decks.n; i++)
        c->deck_warns |= canvas_deck_is_stale(c, i);
    for (size_t i = 0; i < c->b->devices.n; i++) {
        const struct device *d = &c->b->devices.v[i];
        c->device_in_use |= d->kind != KIND_MIXER && d->in_use;
        for (size_t k = 0; k < d->strips.n; k++)
            c->strip_in_use |= d->strips.v[k].in_use != NULL;
    }
}

/* Rows that a channel keeps free of runs: below them for what a cable does to the sides, and above
 * them too where such a cable comes back up. */
static int rows_for_marks(const struct channel *ch)
{
    int rows = 0;
    for (size_t i = 0; i < ch->n; i++)
        if (ch->threads[i].mark && rows < 1 + ch->wires[i].returns)
            rows = 1 + ch->wires[i].returns;
    return rows;
}

static void measure_bands(struct canvas *c)
{
    note_extra_rows(c);
    if (in_band(c, BAND_DECKS))
        c->tall[BAND_DECKS] = 3 + c->deck_warns;
    if (in_band(c, BAND_DEVICES)) /* frame, place, source, lead, jacks */
        c->tall[BAND_DEVICES] = 6 + c->device_in_use;
    if (in_band(c, BAND_STRIPS)) /* frame, inputs, guests */
        c->tall[BAND_STRIPS] = 4 + c->strip_in_use;
    else if (in_band(c, BAND_MIXERS))
        c->tall[BAND_STRIPS] = 1; /* the upper border of mixers without strips */
    if (in_band(c, BAND_MIXERS))
        c->tall[BAND_MIXERS] = 2;
    bool below_decks = c->tall[BAND_DEVICES] || c->tall[BAND_STRIPS];
    bool below_devices = c->tall[BAND_DEVICES] && c->tall[BAND_STRIPS];
    c->upper.height = c->upper.rows + (c->tall[BAND_DECKS] && below_decks && !c->upper.rows);
    c->lower.height = c->lower.rows + rows_for_marks(&c->lower);
    c->lower.height += below_devices && !c->lower.height;
}

static int rows_used(const struct canvas *c)
{
    int rows = c->upper.height + c->lower.height;
    for (int band = 0; band < BAND_COUNT; band++)
        rows += c->tall[band];
    return rows;
}

/* What is to spare goes first to the line that says from where one looks, then where the next row
 * on this list is not reached yet. Returns the rows left blank at the top. */
static int spend_spare_rows(struct canvas *c)
{
    static const int wishes[][2] = {{1, 3}, {2, 4}, {2, 5}, {3, 6}, {3, 8}};
    int spare = c->want_h - rows_used(c);
    c->says_from_where = spare > 0 && c->tall[BAND_STRIPS];
    spare -= c->says_from_where;
    for (size_t i = 0; i < sizeof wishes / sizeof *wishes; i++) {
        for (; spare > 0 && c->lower.height && c->lower.height < wishes[i][1]; spare--)
            c->lower.height++;
        for (; spare > 0 && c->upper.height && c->upper.height < wishes[i][0]; spare--)
            c->upper.height++;
    }
    return spare > 4 ? 2 : spare > 1;
}

/* Where rows are short, decks sit right on their devices, and a mixer's name on its border. */
static void save_rows(struct canvas *c)
{
    if (rows_used(c) > c->want_h && c->upper.rows == 0)
        c->upper.height = 0;
    if (rows_used(c) > c->want_h && c->tall[BAND_STRIPS] > 1 && c->tall[BAND_MIXERS])
        c->tall[BAND_MIXERS] = 1;
}

static void place_rows(struct canvas *c)
{
    measure_bands(c);
    save_rows(c);
    int y = spend_spare_rows(c);
    c->top[BAND_DECKS] = y;
    c->upper.top = y += c->tall[BAND_DECKS];
    c->top[BAND_DEVICES] = y += c->upper.height;
    c->lower.top = y += c->tall[BAND_DEVICES];
    c->top[BAND_STRIPS] = y += c->lower.height;
    c->top[BAND_MIXERS] = y += c->tall[BAND_STRIPS];
    y += c->tall[BAND_MIXERS];
    c->height = y > c->want_h ? y : c->want_h;
    for (size_t i = 0; i < c->n_boxes; i++) {
        struct box *b = &c->boxes[i];
        b->at.y = c->top[b->band];
        b->at.h = c->tall[b->band];
    }
}

/* --- jacks and their boxes -------------------------------------------------------------------- */

static void tie_jacks(struct canvas *c)
{
    for (size_t i = 0; i < c->n_boxes; i++) {
        const struct box *b = &c->boxes[i];
        if (b->spot.kind == SPOT_STRIP) {
            int first = canvas_strip_input(c, b->number);
            for (int k = 0; k < (int)circuit_strip(c->c, b->number)->inputs.n; k++)
                canvas_input(c, first + k)->box = i;
        }
        if (b->spot.kind != SPOT_DEVICE)
            continue;
        const struct device *d = circuit_device(c->c, b->number);
        for (int k = 0; k < (int)d->inputs.n; k++)
            canvas_input(c, canvas_device_input(c, b->number) + k)->box = i;
        for (int k = 0; k < (int)d->outputs.n; k++)
            canvas_output(c, canvas_device_output(c, b->number) + k)->box = i;
    }
}

static size_t jacks_count(const struct canvas *c)
{
    return c->c->n_inputs + c->c->n_outputs;
}

/* A strip's jacks are on its upper border, a device's on its lower one; names are inside. */
static void place_jack_rows(struct canvas *c)
{
    for (size_t i = 0; i < jacks_count(c); i++) {
        struct jack *j = &c->jacks[i];
        const struct box *b = &c->boxes[j->box];
        bool strip = b->spot.kind == SPOT_STRIP;
        j->y = strip ? b->at.y : b->at.y + b->at.h - 1;
        j->name_y = strip ? j->y + 1 : j->y - 1;
    }
}

/* --- the canvas ------------------------------------------------------------------------------- */

struct canvas *canvas_make(const struct derived *d, int width, int height)
{
    struct canvas *c = mem_new(1, sizeof *c);
    *c = (struct canvas){
        .d = d, .c = d->circuit, .b = d->circuit->booth, .want_w = width, .want_h = height};
    c->jacks = mem_new(jacks_count(c), sizeof *c->jacks);
    c->passes = mem_new(c->b->decks.n, sizeof *c->passes);
    for (size_t i = 0; i < c->b->decks.n; i++)
        c->passes[i] = -1;
    canvas_name_jacks(c);
    canvas_place_boxes(c);
    tie_jacks(c);
    canvas_make_wires(c);
    place_rows(c);
    place_jack_rows(c);
    return c;
}

static void channel_clear(struct channel *ch)
{
    mem_free(ch->wires);
    mem_free(ch->threads);
}

void canvas_free(struct canvas *c)
{
    if (!c)
        return;
    channel_clear(&c->upper);
    channel_clear(&c->lower);
    mem_free(c->boxes);
    mem_free(c->jacks);
    mem_free(c->passes);
    mem_free(c);
}

void canvas_size(const struct canvas *c, int *width, int *height)
{
    *width = c->width;
    *height = c->height;
}

/* --- pointing --------------------------------------------------------------------------------- */

static bool holds(const struct rect *r, int x, int y)
{
    return x >= r->x && y >= r->y && x < r->x + r->w && y < r->y + r->h;
}

/* The row in which a player says what it plays from. */
static struct rect source_rect(const struct box *b)
{
    return (struct rect){b->at.x + 1, b->at.y + 2, b->at.w - 2, 1};
}

static bool has_source(const struct canvas *c, const struct box *b)
{
    return b->band == BAND_DEVICES && b->spot.kind == SPOT_DEVICE &&
           circuit_device(c->c, b->number)->kind == KIND_PLAYER;
}

/* The word of an input in its strip, with the brackets that it may have. */
static struct rect selector_rect(const struct jack *j)
{
    return (struct rect){j->name_x - 1, j->name_y, j->name_w + 1, 1};
}

static bool in_strip(const struct canvas *c, const struct jack *j)
{
    return c->boxes[j->box].spot.kind == SPOT_STRIP;
}

static struct spot hit_jack(const struct canvas *c, int x, int y)
{
    for (size_t i = 0; i < jacks_count(c); i++) {
        const struct jack *j = &c->jacks[i];
        struct rect name = selector_rect(j);
        if (j->x == x && j->y == y)
            return j->spot;
        if (holds(&name, x, y))
            return in_strip(c, j) ? spot_of(SPOT_SELECTOR, j->spot.name) : j->spot;
    }
    return (struct spot){.kind = SPOT_NONE};
}

struct spot canvas_hit(const struct canvas *c, int x, int y)
{
    struct spot jack = hit_jack(c, x, y);
    if (jack.kind != SPOT_NONE)
        return jack;
    for (size_t i = 0; i < c->n_boxes; i++) {
        const struct box *b = &c->boxes[i];
        struct rect source = source_rect(b);
        if (!holds(&b->at, x, y))
            continue;
        if (has_source(c, b) && holds(&source, x, y))
            return spot_of(SPOT_SOURCE, b->spot.name);
        return b->spot;
    }
    return (struct spot){.kind = SPOT_NONE};
}

static const struct box *find_box(const struct canvas *c, const struct spot *s)
{
    for (size_t i = 0; i < c->n_boxes; i++)
        if (spot_same(&c->boxes[i].spot, s))
            return &c->boxes[i];
    return NULL;
}

static const struct jack *find_jack(const struct canvas *c, const struct spot *s)
{
    enum spot_kind kind = s->kind == SPOT_SELECTOR ? SPOT_INPUT : s->kind;
    for (size_t i = 0; i < jacks_count(c); i++)
        if (c->jacks[i].spot.kind == kind && strcmp(c->jacks[i].spot.name, s->name) == 0)
            return &c->jacks[i];
    return NULL;
}

bool canvas_where(const struct canvas *c, const struct spot *s, struct rect *r)
{
    const struct jack *j = find_jack(c, s);
    struct spot device = spot_of(SPOT_DEVICE, s->name);
    const struct box *b = find_box(c, s->kind == SPOT_SOURCE ? &device : s);
    if (j && (s->kind != SPOT_SELECTOR || in_strip(c, j)))
        *r = s->kind == SPOT_SELECTOR ? selector_rect(j) : (struct rect){j->x, j->y, 1, 1};
    else if (b && s->kind == SPOT_SOURCE && has_source(c, b))
        *r = source_rect(b);
    else if (b && s->kind != SPOT_SOURCE)
        *r = b->at;
    else
        return false;
    return true;
}

/* --- walking by arrows ------------------------------------------------------------------------ */

/* A place to stand while walking: levels are counted from the top. */
struct stop {
    struct spot spot;
    int level, middle;
};

static struct stop *stops_of(const struct canvas *c, bool jacks, size_t *n)
{
    *n = jacks ? jacks_count(c) : c->n_boxes;
    struct stop *v = mem_new(*n, sizeof *v);
    for (size_t i = 0; i < *n && jacks; i++) {
        const struct jack *j = &c->jacks[i];
        v[i] = (struct stop){j->spot, in_strip(c, j), 2 * j->x};
    }
    for (size_t i = 0; i < *n && !jacks; i++) {
        const struct box *b = &c->boxes[i];
        v[i] = (struct stop){b->spot, (int)b->band, 2 * b->at.x + b->at.w};
    }
    return v;
}

/* How far it is from a to b when walking that way; -1: it does not lie that way. A level nearer
 * counts more than any column. */
static long distance(const struct stop *a, const struct stop *b, int dx, int dy)
{
    enum { LEVEL = 100000 };
    long across = b->middle - a->middle, down = b->level - a->level;
    if (dx)
        return down == 0 && across * dx > 0 ? labs(across) : -1;
    return down * dy > 0 ? labs(down) * LEVEL + labs(across) : -1;
}

/* Where a walk starts that comes from something that is no stop itself: at the nearest one. */
static struct stop start_of(const struct canvas *c, const struct rect *r, const struct stop *v,
                            size_t n)
{
    struct stop best = v[0];
    long nearest = -1;
    for (size_t i = 0; i < n; i++) {
        struct rect at;
        if (!canvas_where(c, &v[i].spot, &at))
            continue;
        long far = labs(2L * r->x + r->w - v[i].middle) +
                   4 * labs(2L * (r->y - at.y) + r->h - at.h);
        if (nearest < 0 || far < nearest) {
            nearest = far;
            best = v[i];
        }
    }
    return best;
}

struct spot canvas_step(const struct canvas *c, const struct spot *from, int dx, int dy, bool jacks)
{
    size_t n;
    struct stop *v = stops_of(c, jacks, &n);
    struct spot to = {.kind = SPOT_NONE};
    const struct stop *at = NULL;
    struct rect r;
    long nearest = -1;
    for (size_t i = 0; i < n; i++)
        if (spot_same(&v[i].spot, from))
            at = &v[i];
    if (at) {
        to = *from;
    } else if (n) {
        to = canvas_where(c, from, &r) ? start_of(c, &r, v, n).spot : v[0].spot;
    }
    for (size_t i = 0; i < n && at; i++) {
        long far = distance(at, &v[i], dx, dy);
        if (far < 0 || (nearest >= 0 && far >= nearest))
            continue;
        nearest = far;
        to = v[i].spot;
    }
    mem_free(v);
    return to;
}
