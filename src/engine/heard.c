/* Sound follows the wires: channel, card, output or usb input, cable, input, strip.
 *
 * Levels that do not fit are heard all the same (too loud or too quiet); only between digital and
 * analogue nothing passes. */
#include "engine/heard.h"

#include <stdlib.h>

#include "base/mem.h"
#include "engine/route.h"

static void hear(struct heard *h, struct sound s)
{
    for (size_t i = 0; i < h->n; i++)
        if (h->v[i].strip == s.strip && h->v[i].side == s.side && h->v[i].deck == s.deck &&
            h->v[i].deck_side == s.deck_side)
            return;
    h->v = mem_grow(h->v, &h->cap, h->n + 1, sizeof *h->v);
    h->v[h->n++] = s;
}

/* The side on which a cable lets a side out, or -1. */
static int through_cable(enum sides sides, int side)
{
    switch (sides) {
    case SIDES_SWAPPED:
        return 1 - side;
    case SIDES_LEFT_ONLY:
        return side == 0 ? 0 : -1;
    case SIDES_RIGHT_ONLY:
        return side == 1 ? 1 : -1;
    default:
        return side;
    }
}

static void arrive(const struct circuit *c, struct heard *h, int input, struct sound s)
{
    s.strip = c->inputs[input].strip;
    if (s.strip >= 0 && s.side >= 0 && c->strips[s.strip].selected == input &&
        !c->strips[s.strip].dead)
        hear(h, s);
}

static void leave_output(const struct circuit *c, struct heard *h, int output, struct sound s)
{
    for (size_t i = 0; i < c->n_cables; i++) {
        const struct circuit_cable *cable = &c->cables[i];
        if (cable->output != output ||
            c->inputs[cable->input].digital != c->outputs[output].digital)
            continue;
        struct sound at = s;
        at.side = through_cable(cable->sides, s.side);
        arrive(c, h, cable->input, at);
    }
}

static void play_channel(const struct circuit *c, struct heard *h, int channel, struct sound s)
{
    int on_card = 0, device = circuit_owner(c, channel, &on_card);
    if (device < 0)
        return;
    for (s.side = 0; s.side < 2; s.side++) {
        for (size_t i = 0; i < c->n_inputs && c->devices[device].mixer; i++)
            if (c->inputs[i].device == device && c->inputs[i].carries[s.side] == on_card)
                arrive(c, h, (int)i, s);
        for (size_t i = 0; i < c->n_outputs && c->devices[device].plays; i++)
            if (c->outputs[i].device == device && c->outputs[i].carries[s.side] == on_card)
                leave_output(c, h, (int)i, s);
    }
}

static void play_deck(const struct circuit *c, struct heard *h, int deck, struct pair pair)
{
    if (pair.left < 0)
        return;
    play_channel(c, h, pair.left, (struct sound){.deck = deck, .deck_side = 0});
    play_channel(c, h, pair.right, (struct sound){.deck = deck, .deck_side = 1});
}

/* Strips are compared by rank, which stands in for them while sorting. */
static int compare_sounds(const void *a, const void *b)
{
    const struct sound *x = a, *y = b;
    int by[] = {x->strip - y->strip, x->side - y->side, x->deck - y->deck,
                x->deck_side - y->deck_side};
    for (size_t i = 0; i < 3; i++)
        if (by[i])
            return by[i];
    return by[3];
}

static void sort_heard(const struct circuit *c, struct heard *h)
{
    for (size_t i = 0; i < h->n; i++)
        h->v[i].strip = c->strips[h->v[i].strip].rank;
    if (h->n)
        qsort(h->v, h->n, sizeof *h->v, compare_sounds);
    for (size_t i = 0; i < h->n; i++)
        h->v[i].strip = c->by_rank[h->v[i].strip];
}

struct heard heard_deck(const struct circuit *c, int deck, struct pair pair)
{
    struct heard h = {0};
    play_deck(c, &h, deck, pair);
    sort_heard(c, &h);
    return h;
}

struct heard heard_make(const struct circuit *c)
{
    struct heard h = {0};
    for (size_t i = 0; i < c->n_decks; i++) {
        struct heard one = {0};
        play_deck(c, &one, (int)i, route_effective(c, (int)i));
        for (size_t k = 0; k < one.n; k++) {
            h.v = mem_grow(h.v, &h.cap, h.n + 1, sizeof *h.v);
            h.v[h.n++] = one.v[k];
        }
        heard_clear(&one);
    }
    sort_heard(c, &h);
    return h;
}

void heard_clear(struct heard *h)
{
    mem_free(h->v);
    *h = (struct heard){0};
}
