/* One row a cause: its word and its likelihood. Enumerating and applying are a switch each, for
 * each cause changes another thing. */
#include "engine/causes.h"

#include <limits.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "model/say.h"
#include "model/shape.h"

static const struct {
    const char *word;
    double likelihood; /* thousandths; common practice, no source */
} rows[] = {
    [CAUSE_JOIN_ORDER] = {"join-order", 50},
    [CAUSE_JOIN_MISSING] = {"join-missing", 30},
    [CAUSE_OTHER_PAIR] = {"other-pair", 40},
    [CAUSE_OFF_BY_ONE] = {"off-by-one", 35},
    [CAUSE_CABLES_EXCHANGED] = {"cables-exchanged", 25},
    [CAUSE_CABLE_ELSEWHERE] = {"cable-elsewhere", 8},
    [CAUSE_SIDES_SWAPPED] = {"sides-swapped", 15},
    [CAUSE_SIDE_DEAD] = {"side-dead", 15},
    [CAUSE_SELECTOR] = {"selector-elsewhere", 60},
    [CAUSE_OWN_MEDIA] = {"own-media", 55},
    [CAUSE_STRIP_DEAD] = {"strip-dead", 45},
};

const char *cause_word(enum cause_kind kind)
{
    return rows[kind].word;
}

int cause_compare(const struct cause *a, const struct cause *b)
{
    const int by[] = {(int)a->kind - (int)b->kind, a->a - b->a, a->b - b->b,
                      a->pair.left - b->pair.left, a->pair.right - b->pair.right};
    for (size_t i = 0; i < sizeof by / sizeof *by; i++)
        if (by[i])
            return by[i];
    return memcmp(a->order, b->order, sizeof a->order);
}

bool cause_same(const struct cause *a, const struct cause *b)
{
    return cause_compare(a, b) == 0;
}

int cause_exchanges(const struct circuit *c, const struct cause *k)
{
    bool seen[MAX_DEVICES] = {false};
    int cycles = 0;
    for (size_t i = 0; i < c->n_joined; i++) {
        if (seen[i])
            continue;
        cycles++;
        for (size_t at = i; !seen[at];) {
            seen[at] = true;
            at = (size_t)c->devices[k->order[at]].joined;
        }
    }
    return (int)c->n_joined - cycles;
}

static int left_out(const struct circuit *c, const struct cause *k, size_t n)
{
    for (size_t i = 0; i < c->n_joined; i++)
        if (!memchr(k->order, c->joined[i], n))
            return c->joined[i];
    return -1;
}

int cause_complete_order(const struct circuit *c, struct cause *k, size_t n)
{
    int device = left_out(c, k, n), fewest = INT_MAX;
    if (device < 0)
        return cause_exchanges(c, k);
    const struct cause known = *k;
    for (size_t at = 0; at <= n; at++) {
        struct cause with = known;
        memmove(with.order + at + 1, known.order + at, n - at);
        with.order[at] = (unsigned char)device;
        int exchanges = cause_complete_order(c, &with, n + 1);
        if (exchanges < fewest) {
            fewest = exchanges;
            *k = with;
        }
    }
    return fewest;
}

double cause_likelihood(const struct circuit *c, const struct cause *k)
{
    double p = rows[k->kind].likelihood;
    if (k->kind == CAUSE_OTHER_PAIR && k->b)
        p /= 4;
    for (int i = 1; k->kind == CAUSE_JOIN_ORDER && i < cause_exchanges(c, k); i++)
        p /= 4;
    return p;
}

/* --- enumerating ------------------------------------------------------------------------------ */

static void add(struct causes *out, struct cause k)
{
    out->v = mem_grow(out->v, &out->cap, out->n + 1, sizeof *out->v);
    out->v[out->n++] = k;
}

static bool same_pair(struct pair a, struct pair b)
{
    return a.left == b.left && a.right == b.right;
}

/* off: how many channels beside what an output carries or the host counts off. */
static void add_pair(struct causes *out, int deck, struct pair now, struct pair pair, int off)
{
    struct cause k = {.kind = CAUSE_OTHER_PAIR,
                      .a = deck,
                      .b = off != 0,
                      .pair = {pair.left + off, pair.right + off}};
    bool known = same_pair(now, k.pair) || k.pair.left < 0 || k.pair.right < 0;
    for (size_t i = out->n; i-- > 0 && !known && out->v[i].kind == k.kind && out->v[i].a == deck;)
        known = same_pair(out->v[i].pair, k.pair);
    if (!known)
        add(out, k);
}

static struct pair carried(const struct circuit_device *d, const int carries[2])
{
    int left = d->first + carries[0] - 1;
    return (struct pair){left, carries[1] ? d->first + carries[1] - 1 : left};
}

/* The pairs of the interface that an output or a usb input carries together, and those that the
 * host counts off two by two, also where nothing is plugged in. */
static void add_pairs_of(const struct circuit *c, int deck, int off, struct causes *out)
{
    struct pair now = c->decks[deck].set_to;
    for (size_t i = 0; i < c->n_outputs; i++) {
        const struct circuit_device *d = &c->devices[c->outputs[i].device];
        if (d->joined >= 0 && c->outputs[i].carries[0])
            add_pair(out, deck, now, carried(d, c->outputs[i].carries), off);
    }
    for (size_t i = 0; i < c->n_inputs; i++) {
        const struct circuit_device *d = &c->devices[c->inputs[i].device];
        if (d->joined >= 0 && c->inputs[i].carries[0])
            add_pair(out, deck, now, carried(d, c->inputs[i].carries), off);
    }
    for (int left = 0; left + 1 < c->channels; left += 2)
        add_pair(out, deck, now, (struct pair){left, left + 1}, off);
}

/* Then those one channel beside them: a slip of the hand, or a pair that was one too high with all
 * others. */
static void add_pairs(const struct circuit *c, struct causes *out)
{
    static const int off[] = {0, 1, -1};
    for (size_t deck = 0; deck < c->n_decks; deck++)
        for (size_t i = 0; i < 3 && c->decks[deck].set_to.left >= 0; i++) {
            add_pairs_of(c, (int)deck, off[i], out);
            add_pair(out, (int)deck, c->decks[deck].set_to, c->decks[deck].set_to, off[i]);
        }
}

static bool input_is_free(const struct circuit *c, int input)
{
    for (size_t i = 0; i < c->n_cables; i++)
        if (c->cables[i].input == input)
            return false;
    return !c->inputs[input].usb;
}

static void add_cables(const struct circuit *c, struct causes *out)
{
    for (int i = 0; i < (int)c->n_cables; i++) {
        enum sides sides = c->cables[i].sides;
        for (int k = 0; k < i; k++)
            if (c->cables[i].input != c->cables[k].input)
                add(out, (struct cause){.kind = CAUSE_CABLES_EXCHANGED, .a = k, .b = i});
        for (int k = 0; k < (int)c->n_inputs; k++)
            if (input_is_free(c, k))
                add(out, (struct cause){.kind = CAUSE_CABLE_ELSEWHERE, .a = i, .b = k});
        if (sides == SIDES_STRAIGHT || sides == SIDES_SWAPPED)
            add(out, (struct cause){.kind = CAUSE_SIDES_SWAPPED, .a = i});
        for (int side = SIDES_LEFT_ONLY; side <= SIDES_RIGHT_ONLY; side++)
            if (sides != (enum sides)side)
                add(out, (struct cause){.kind = CAUSE_SIDE_DEAD, .a = i, .b = side});
    }
}

static void add_shifts(const struct circuit *c, struct causes *out)
{
    bool any = false, lowest = false;
    for (size_t i = 0; i < c->n_decks; i++) {
        struct pair p = c->decks[i].set_to;
        any = any || p.left >= 0;
        lowest = lowest || p.left == 0 || (p.left >= 0 && p.right == 0);
    }
    if (any)
        add(out, (struct cause){.kind = CAUSE_OFF_BY_ONE, .a = 1});
    if (any && !lowest)
        add(out, (struct cause){.kind = CAUSE_OFF_BY_ONE, .a = -1});
}

struct causes causes_of(const struct circuit *c)
{
    struct causes out = {0};
    for (int i = 0; i < (int)c->n_inputs; i++) {
        int strip = c->inputs[i].strip;
        if (strip >= 0 && c->strips[strip].selected != i)
            add(&out, (struct cause){.kind = CAUSE_SELECTOR, .a = strip, .b = i});
    }
    for (int i = 0; i < (int)c->n_devices; i++) {
        const struct device *d = circuit_device(c, i);
        if (d->kind == KIND_PLAYER && c->devices[i].plays)
            add(&out, (struct cause){.kind = CAUSE_OWN_MEDIA, .a = i});
    }
    for (int i = 0; i < (int)c->n_strips; i++)
        add(&out, (struct cause){.kind = CAUSE_STRIP_DEAD, .a = i});
    for (size_t i = 0; i < c->n_joined; i++)
        add(&out, (struct cause){.kind = CAUSE_JOIN_MISSING, .a = c->joined[i]});
    add_shifts(c, &out);
    add_pairs(c, &out);
    add_cables(c, &out);
    return out;
}

/* --- making true ------------------------------------------------------------------------------ */

/* The card is not there: later channels move down, or where the host keeps the gap, stay. */
static void lose_card(struct circuit *c, int device)
{
    if (c->booth->host.gap == GAP_CLOSES) {
        size_t n = 0;
        for (size_t i = 0; i < c->n_joined; i++)
            if (c->joined[i] != device)
                c->joined[n++] = c->joined[i];
        c->n_joined = n;
        c->devices[device].joined = -1;
        circuit_number_channels(c);
        return;
    }
    for (size_t i = 0; i < c->n_outputs; i++)
        if (c->outputs[i].device == device)
            c->outputs[i].carries[0] = c->outputs[i].carries[1] = 0;
    for (size_t i = 0; i < c->n_inputs; i++)
        if (c->inputs[i].device == device)
            c->inputs[i].carries[0] = c->inputs[i].carries[1] = 0;
}

static void join_in_order(struct circuit *c, const struct cause *k)
{
    size_t n = 0;
    for (size_t i = 0; n < c->n_joined; i++)
        if (c->devices[k->order[i]].joined >= 0)
            c->joined[n++] = k->order[i];
    circuit_number_channels(c);
}

static void shift_decks(struct circuit *c, int by)
{
    for (size_t i = 0; i < c->n_decks; i++)
        if (c->decks[i].set_to.left >= 0) {
            c->decks[i].set_to.left += by;
            c->decks[i].set_to.right += by;
        }
}

void cause_apply(struct circuit *c, const struct cause *k)
{
    struct circuit_cable *cable = k->kind >= CAUSE_CABLES_EXCHANGED && k->kind <= CAUSE_SIDE_DEAD
                                      ? &c->cables[k->a]
                                      : NULL;
    int input;
    switch (k->kind) {
    case CAUSE_JOIN_ORDER:
        join_in_order(c, k);
        break;
    case CAUSE_JOIN_MISSING:
        lose_card(c, k->a);
        break;
    case CAUSE_OTHER_PAIR:
        c->decks[k->a].set_to = k->pair;
        break;
    case CAUSE_OFF_BY_ONE:
        shift_decks(c, k->a);
        break;
    case CAUSE_CABLES_EXCHANGED:
        input = cable->input;
        cable->input = c->cables[k->b].input;
        c->cables[k->b].input = input;
        break;
    case CAUSE_CABLE_ELSEWHERE:
        cable->input = k->b;
        break;
    case CAUSE_SIDES_SWAPPED:
        cable->sides = cable->sides == SIDES_SWAPPED ? SIDES_STRAIGHT : SIDES_SWAPPED;
        break;
    case CAUSE_SIDE_DEAD:
        cable->sides = (enum sides)k->b;
        break;
    case CAUSE_SELECTOR:
        c->strips[k->a].selected = k->b;
        break;
    case CAUSE_OWN_MEDIA:
        c->devices[k->a].plays = false;
        break;
    case CAUSE_STRIP_DEAD:
        c->strips[k->a].dead = true;
        break;
    }
}

static void tell_order(const struct circuit *c, const struct cause *k, struct booth *b)
{
    size_t n = 0;
    for (size_t i = 0; n < b->joined.n; i++) {
        const char *id = circuit_device(c, k->order[i])->id;
        int at = booth_joined_at(b, id);
        if (at < 0)
            continue; /* it never joined */
        texts_remove(&b->joined, (size_t)at);
        texts_insert(&b->joined, n++, id);
    }
}

bool cause_fits_booth(const struct circuit *c, const struct cause *k)
{
    return k->kind != CAUSE_STRIP_DEAD &&
           (k->kind != CAUSE_JOIN_MISSING || c->booth->host.gap == GAP_CLOSES);
}

static struct strip *strip_in(struct booth *b, const char *id)
{
    for (size_t i = 0; i < b->devices.n; i++)
        for (size_t k = 0; k < b->devices.v[i].strips.n; k++)
            if (strcmp(b->devices.v[i].strips.v[k].id, id) == 0)
                return &b->devices.v[i].strips.v[k];
    return NULL;
}

void cause_tell_booth(const struct circuit *c, const struct cause *k, struct booth *b)
{
    char name[REF_SIZE], owner[ID_SIZE], jack[ID_SIZE];
    int at;
    switch (k->kind) {
    case CAUSE_JOIN_ORDER:
        tell_order(c, k, b);
        break;
    case CAUSE_JOIN_MISSING:
        at = booth_joined_at(b, circuit_device(c, k->a)->id);
        if (at >= 0)
            texts_remove(&b->joined, (size_t)at);
        break;
    case CAUSE_OTHER_PAIR:
        b->decks.v[k->a].set_to = k->pair;
        break;
    case CAUSE_OFF_BY_ONE:
        for (size_t i = 0; i < b->decks.n; i++)
            if (b->decks.v[i].set_to.left >= 0) {
                b->decks.v[i].set_to.left += k->a;
                b->decks.v[i].set_to.right += k->a;
            }
        break;
    case CAUSE_CABLES_EXCHANGED:
        strcpy(name, b->cables.v[k->a].to);
        strcpy(b->cables.v[k->a].to, b->cables.v[k->b].to);
        strcpy(b->cables.v[k->b].to, name);
        break;
    case CAUSE_CABLE_ELSEWHERE:
        circuit_input_name(c, k->b, b->cables.v[k->a].to);
        break;
    case CAUSE_SIDES_SWAPPED:
        b->cables.v[k->a].sides = b->cables.v[k->a].sides == SIDES_SWAPPED ? SIDES_STRAIGHT
                                                                           : SIDES_SWAPPED;
        break;
    case CAUSE_SIDE_DEAD:
        b->cables.v[k->a].sides = (enum sides)k->b;
        break;
    case CAUSE_SELECTOR:
        circuit_input_name(c, k->b, name);
        if (ref_split(name, owner, jack))
            snprintf(strip_in(b, owner)->selected, REF_SIZE, "%s", jack);
        break;
    case CAUSE_OWN_MEDIA:
        b->devices.v[k->a].source = SOURCE_OWN_MEDIA;
        break;
    case CAUSE_STRIP_DEAD: /* nothing that a booth could hold: hands and eyes must look */
        break;
    }
}
