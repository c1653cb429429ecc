/* The forward model: what the ear finds at each strip, side by side. */
#ifndef ENGINE_HEARD_H
#define ENGINE_HEARD_H

#include "engine/circuit.h"

/* Sides: 0 left, 1 right. One thing heard: a side of a deck, on a side of a strip. */
struct sound {
    int strip, side, deck, deck_side;
};

struct heard {
    struct sound *v;
    size_t n, cap;
};

/* All that is heard with the decks as they are set (those not set play to their route), each once,
 * by the strip's rank, its side, the deck, the deck's side. Free with heard_clear(). */
struct heard heard_make(const struct circuit *c);

/* The same for one deck that plays to a pair (left -1: nothing). */
struct heard heard_deck(const struct circuit *c, int deck, struct pair pair);

void heard_clear(struct heard *h);

#endif
