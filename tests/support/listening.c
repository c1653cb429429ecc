#include "support/listening.h"

#include <stdio.h>

#include "engine/heard.h"
#include "engine/route.h"
#include "model/shape.h"

struct circuit *believed(const struct booth *b)
{
    struct circuit *c = circuit_new(b);
    for (size_t i = 0; i < c->n_decks; i++)
        c->decks[i].set_to = route_effective(c, (int)i);
    return c;
}

void listen_to(struct booth *b, const struct circuit *truth, unsigned decks)
{
    const struct field *f = shape_field(&shape_booth, "line_check");
    const struct field *heard = shape_field(&shape_listen, "heard");
    field_clear(f, &b->line_check);
    for (size_t i = 0; i < b->decks.n; i++) {
        if (!(decks >> i & 1))
            continue;
        struct listen *l = records_add(f, &b->line_check);
        snprintf(l->deck, sizeof l->deck, "%s", b->decks.v[i].id);
        struct heard h = heard_deck(truth, (int)i, truth->decks[i].set_to);
        unsigned bits[MAX_STRIPS] = {0};
        for (size_t k = 0; k < h.n; k++)
            bits[h.v[k].strip] |= 1u << (h.v[k].side * 2 + h.v[k].deck_side);
        heard_clear(&h);
        static const enum ear ears[] = {EAR_NONE, EAR_LEFT, EAR_RIGHT, EAR_BOTH};
        for (size_t k = 0; k < truth->n_strips; k++) {
            if (!bits[k])
                continue;
            struct mark *m = records_add(heard, &l->heard);
            snprintf(m->strip, sizeof m->strip, "%s", circuit_strip(truth, (int)k)->id);
            m->left = ears[bits[k] & 3];
            m->right = ears[bits[k] >> 2];
        }
    }
}
