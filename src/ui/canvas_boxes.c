/* Where every box stands, from left to right.
 *
 * Strips come first: they stand side by side as on the mixer. Devices keep the order of their
 * places and stand above the strips that they are wired to; decks stand above what carries them.
 * So a booth that is wired straight is a picture of straight lines, and what is not straight
 * shows. A deck that plays through a mixer's own card has its wire pass between the devices. */
#include "ui/canvas_parts.h"

#include <string.h>

#include "base/mem.h"
#include "engine/standing.h"

static bool stands_before(const struct stand *a, const struct stand *b)
{
    for (int i = 0; i < 3; i++)
        if (a->rank[i] != b->rank[i])
            return a->rank[i] < b->rank[i];
    return false;
}

static void row_insert(struct row *r, size_t at, struct stand s)
{
    memmove(&r->stands[at + 1], &r->stands[at], (r->n - at) * sizeof *r->stands);
    memmove(&r->at[at + 1], &r->at[at], (r->n - at) * sizeof *r->at);
    r->stands[at] = s;
    r->at[at] = (struct spread){.width = 1, .gap = 1, .weight = 1};
    r->n++;
}

static void row_add(struct row *r, struct stand s)
{
    size_t at = r->n;
    while (at > 0 && stands_before(&s, &r->stands[at - 1]))
        at--;
    row_insert(r, at, s);
}

static struct row row_of(const struct canvas *c)
{
    size_t all = c->b->devices.n + c->b->hubs.n + c->b->decks.n;
    struct row r = {.stands = mem_new(all, sizeof *r.stands), .at = mem_new(all, sizeof *r.at)};
    for (int i = 0; i < (int)c->b->devices.n; i++) {
        const struct device *d = circuit_device(c->c, i);
        if (d->kind != KIND_MIXER)
            row_add(&r, (struct stand){i, -1, -1, {standing_group(c->c, i), d->place, i}});
    }
    for (int i = 0; i < (int)c->b->hubs.n; i++)
        row_add(&r, (struct stand){-1, i, -1, {STANDING_HUBS, 0, i}});
    return r;
}

static void row_clear(struct row *r)
{
    mem_free(r->stands);
    mem_free(r->at);
}

static size_t add_box(struct canvas *c, struct box b)
{
    c->boxes = mem_grow(c->boxes, &c->boxes_cap, c->n_boxes + 1, sizeof *c->boxes);
    c->boxes[c->n_boxes] = b;
    return c->n_boxes++;
}

/* Whether a strip is the rightmost of its mixer. */
static bool last_of_mixer(const struct canvas *c, size_t rank)
{
    return rank + 1 == c->c->n_strips ||
           c->c->strips[c->c->by_rank[rank]].mixer != c->c->strips[c->c->by_rank[rank + 1]].mixer;
}

/* Strips stand under the middle of the players, or of all devices where there are none. */
static int strips_start(const struct canvas *c, const struct row *r)
{
    struct row players = *r;
    while (players.n && players.stands[players.n - 1].rank[0] > 0)
        players.n--;
    int above = players.n ? canvas_row_width(c, &players, c->player_w, c->gap) : c->right - c->left;
    int strips = canvas_strips_width(c, c->strip_w),
        whole = canvas_row_width(c, r, c->player_w, c->gap);
    int spare = (whole > strips ? above : c->right - c->left) - strips;
    return c->left + (spare > 0 ? spare / 2 : 0);
}

/* Makes the boxes of strips, from the left, each mixer's side by side. */
static void place_strips(struct canvas *c, const struct row *r)
{
    int x = strips_start(c, r);
    for (size_t i = 0; i < c->c->n_strips; i++) {
        int strip = c->c->by_rank[i];
        bool last = last_of_mixer(c, i);
        add_box(c, (struct box){.spot = spot_of(SPOT_STRIP, circuit_strip(c->c, strip)->id),
                                .at = {x, 0, c->strip_w + 1 + last, 0},
                                .band = BAND_STRIPS,
                                .number = strip});
        canvas_lay_strip(c, strip, x);
        x += c->strip_w + 1 + (last ? 1 + MIXERS_APART : 0);
    }
}

/* A mixer's box spans its strips (by now the first boxes of all); those without strips stand to the
 * right of all. */
static void place_mixers(struct canvas *c)
{
    int right = c->left;
    for (size_t i = 0; i < c->c->n_strips; i++) {
        int mixer = c->c->strips[c->boxes[i].number].mixer;
        const struct device *d = circuit_device(c->c, mixer);
        if (i > 0 && c->c->strips[c->boxes[i - 1].number].mixer == mixer)
            continue;
        struct rect at = {c->boxes[i].at.x, 0, canvas_mixer_width(d, c->strip_w), 0};
        right = at.x + at.w + MIXERS_APART;
        add_box(c, (struct box){spot_of(SPOT_DEVICE, d->id), at, BAND_MIXERS, mixer});
    }
    for (int i = 0; i < (int)c->b->devices.n; i++) {
        const struct device *d = circuit_device(c->c, i);
        if (d->kind != KIND_MIXER || d->strips.n)
            continue;
        struct rect at = {right, 0, canvas_mixer_width(d, c->strip_w), 0};
        right += at.w + MIXERS_APART;
        add_box(c, (struct box){spot_of(SPOT_DEVICE, d->id), at, BAND_MIXERS, i});
    }
}

/* Where a device would like to stand: an interface in the middle of what it feeds; any other so
 * that its first cable into a selected input, else its first cable, runs straight down. */
static bool device_wish(const struct canvas *c, int device, int *want)
{
    bool interface = circuit_device(c->c, device)->kind == KIND_INTERFACE, best = false;
    int sum = 0, n = 0;
    for (size_t i = 0; i < c->c->n_cables; i++) {
        const struct circuit_cable *k = &c->c->cables[i];
        if (c->c->outputs[k->output].device != device || c->c->inputs[k->input].strip < 0)
            continue;
        const struct jack *in = canvas_input(c, k->input);
        bool better = in->selected && !best;
        if (n && !interface && !better)
            continue;
        sum = (interface ? sum : 0) + in->x - canvas_output(c, k->output)->x;
        n = interface ? n + 1 : 1;
        best |= in->selected;
    }
    *want = n ? sum / n : *want;
    return n > 0;
}

static bool is_interface(const struct canvas *c, const struct stand *s)
{
    return s->device >= 0 && circuit_device(c->c, s->device)->kind == KIND_INTERFACE;
}

/* As far right as boxes may stand: the window's edge, or where the row ends that does not fit. */
static int far_right(const struct canvas *c)
{
    int window = c->want_w - c->margin;
    return window > c->right ? window : c->right;
}

/* A box with all its jacks' names in full. */
static int width_in_full(const struct device *d)
{
    int w = 1;
    for (size_t i = 0; i < d->inputs.n; i++)
        w += (int)strlen(d->inputs.v[i].id) + 1;
    for (size_t i = 0; i < d->outputs.n; i++)
        w += (int)strlen(d->outputs.v[i].id) + 1;
    return w;
}

/* Widens a box to a wish, as far as there is room. */
static void widen(struct spread *at, int wish, int *spare)
{
    int more = wish - at->width < *spare ? wish - at->width : *spare;
    if (more <= 0)
        return;
    at->width += more;
    *spare -= more;
}

/* Interfaces name their jacks in full if the window has room for that, and grow towards the strips
 * that they feed if there is room above these. */
static void grow_interfaces(const struct canvas *c, struct row *r)
{
    int row = canvas_row_width(c, r, c->player_w, c->gap);
    int spare = c->right - c->left - row, window = far_right(c) - c->left - row;
    for (size_t i = 0; i < r->n; i++) {
        if (!is_interface(c, &r->stands[i]))
            continue;
        const struct device *d = circuit_device(c->c, r->stands[i].device);
        int full = width_in_full(d), before = r->at[i].width;
        if (full - before <= window)
            widen(&r->at[i], full, &window);
        spare -= r->at[i].width - before;
        before = r->at[i].width;
        widen(&r->at[i], (int)(d->outputs.n + d->inputs.n) * (c->strip_w + 1) - 1, &spare);
        window -= r->at[i].width - before;
    }
}

static void wish_devices(struct canvas *c, struct row *r)
{
    int next = c->left;
    for (size_t i = 0; i < r->n; i++)
        r->at[i].width = canvas_stand_width(c, &r->stands[i], c->player_w);
    grow_interfaces(c, r);
    for (size_t i = 0; i < r->n; i++) {
        struct spread *at = &r->at[i];
        *at = (struct spread){.width = at->width, .gap = c->gap, .want = next, .weight = 1};
        next += at->width + c->gap;
        if (r->stands[i].device < 0)
            continue;
        canvas_lay_device(c, r->stands[i].device, at->width);
        if (device_wish(c, r->stands[i].device, &at->want))
            at->weight = FIRM;
    }
}

/* Lets the wires of decks on a mixer's own card pass between the devices, near their inputs. */
static void let_pass(const struct canvas *c, struct row *r)
{
    int beside = c->tight ? 0 : 1;
    for (int deck = 0; deck < (int)c->b->decks.n; deck++) {
        if (!canvas_deck_passes(c, (size_t)deck))
            continue;
        int want = canvas_input(c, c->d->routes[deck].input)->x;
        size_t at = 0;
        while (at < r->n && r->at[at].x + r->at[at].width / 2 < want)
            at++;
        row_insert(r, at, (struct stand){-1, -1, deck, {0, 0, 0}});
        r->at[at] = (struct spread){
            .width = 1, .gap = beside, .want = want, .weight = FIRM, .x = want};
        if (at > 0)
            r->at[at - 1].gap = beside;
    }
}

/* Lets the row take what the window has to the right, so that every box can stand where it wants
 * to; and more where wires that pass crowd a gap. */
static void spread_row(struct canvas *c, const struct row *r)
{
    spread_out(r->at, r->n, c->left, far_right(c));
    for (size_t i = 0; i < r->n; i++) {
        int right = r->at[i].x + r->at[i].width;
        c->right = right > c->right ? right : c->right;
    }
    c->width = c->right + c->margin > c->width ? c->right + c->margin : c->width;
}

static void place_devices(struct canvas *c, struct row *r)
{
    wish_devices(c, r);
    spread_row(c, r);
    if (r->n)
        let_pass(c, r);
    spread_row(c, r);
    for (size_t i = 0; i < r->n; i++) {
        const struct stand *s = &r->stands[i];
        struct rect at = {r->at[i].x, 0, r->at[i].width, 0};
        if (s->deck >= 0) {
            c->passes[s->deck] = at.x;
        } else if (s->hub >= 0) {
            struct spot spot = spot_of(SPOT_HUB, c->b->hubs.v[s->hub].id);
            add_box(c, (struct box){spot, at, BAND_DEVICES, s->hub});
        } else {
            struct spot spot = spot_of(SPOT_DEVICE, circuit_device(c->c, s->device)->id);
            add_box(c, (struct box){spot, at, BAND_DEVICES, s->device});
            canvas_shift_jacks(c, s->device, at.x);
            if (is_interface(c, s))
                canvas_aim_jacks(c, s->device, at);
        }
    }
}

const struct box *canvas_device_box(const struct canvas *c, int device)
{
    for (size_t i = 0; i < c->n_boxes; i++)
        if (c->boxes[i].spot.kind == SPOT_DEVICE && c->boxes[i].number == device)
            return &c->boxes[i];
    return NULL;
}

/* The column where a deck's wire would like to run down: into the middle of its device or, where
 * that is wide or not there, towards the strip that it wants. *weight: how much that matters. */
static int deck_wish(const struct canvas *c, int deck, int *weight)
{
    const struct route *r = &c->d->routes[deck];
    int strip = c->c->decks[deck].wants;
    *weight = r->there ? FIRM : strip >= 0 ? 4 : 1;
    if (r->there && c->passes[deck] >= 0)
        return c->passes[deck];
    if (r->there && r->output < 0)
        return canvas_input(c, r->input)->x;
    const struct box *device = r->there ? canvas_device_box(c, r->device) : NULL;
    if (device && device->at.w < 2 * c->player_w)
        return device->at.x + device->at.w / 2;
    for (size_t i = 0; i < c->n_boxes && strip >= 0; i++)
        if (c->boxes[i].band == BAND_STRIPS && c->boxes[i].number == strip)
            return c->boxes[i].at.x + (c->strip_w + 1) / 2;
    return c->right;
}

static void place_decks(struct canvas *c)
{
    size_t n = c->b->decks.n;
    struct spread *at = mem_new(n, sizeof *at);
    int *deck = mem_new(n, sizeof *deck);
    for (size_t i = 0; i < n; i++) {
        struct spread s = {.width = c->deck_w, .gap = 1};
        s.want = deck_wish(c, (int)i, &s.weight) - c->deck_w / 2;
        size_t to = i;
        for (; to > 0 && at[to - 1].want > s.want; to--) {
            at[to] = at[to - 1];
            deck[to] = deck[to - 1];
        }
        at[to] = s;
        deck[to] = (int)i;
    }
    spread_out(at, n, c->left, far_right(c));
    for (size_t i = 0; i < n; i++)
        add_box(c, (struct box){.spot = spot_of(SPOT_DECK, c->b->decks.v[deck[i]].id),
                                .at = {at[i].x, 0, c->deck_w, 0},
                                .band = BAND_DECKS,
                                .number = deck[i]});
    mem_free(at);
    mem_free(deck);
}

/* Puts the boxes into the order of their bands; within one they keep theirs. */
static void sort_bands(struct canvas *c)
{
    struct box *sorted = mem_new(c->n_boxes, sizeof *sorted);
    size_t n = 0;
    for (int band = 0; band < BAND_COUNT; band++) {
        c->first[band] = n;
        for (size_t i = 0; i < c->n_boxes; i++)
            if (c->boxes[i].band == (enum band)band)
                sorted[n++] = c->boxes[i];
    }
    c->first[BAND_COUNT] = n;
    mem_free(c->boxes);
    c->boxes = sorted;
    c->boxes_cap = n;
}

void canvas_place_boxes(struct canvas *c)
{
    struct row r = row_of(c);
    canvas_choose_widths(c, &r);
    place_strips(c, &r);
    place_mixers(c);
    place_devices(c, &r);
    place_decks(c);
    row_clear(&r);
    sort_bands(c);
}
