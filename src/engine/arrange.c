/* First every deck that moves lets go, then each takes its strip: nothing is exchanged on the way.
 */
#include "engine/arrange.h"

#include <string.h>

/* The free strips from the left. */
static int free_strips(const struct circuit *c, int strips[MAX_STRIPS])
{
    int n = 0;
    for (size_t i = 0; i < c->n_strips; i++)
        if (!circuit_strip(c, c->by_rank[i])->in_use)
            strips[n++] = c->by_rank[i];
    return n;
}

/* Of n strips the one for the k-th deck when the first are in the middle: outwards, left first. */
static int from_middle(int n, int k)
{
    int left = (n - 1) / 2;
    return k % 2 == 0 ? left - (n % 2 ? (k + 1) / 2 : k / 2) : left + (k + 1) / 2;
}

/* The id of the strip for a deck; "" for none. */
static const char *place_for(const struct circuit *c, enum arrangement how,
                             const struct booth *saved, int deck)
{
    int strips[MAX_STRIPS], n = free_strips(c, strips);
    if (how == ARRANGE_AS_SAVED) {
        const struct deck *d = booth_deck(saved, c->booth->decks.v[deck].id);
        const struct strip *s = d ? booth_strip(c->booth, d->wants, NULL) : NULL;
        return s && !s->in_use ? s->id : "";
    }
    if (deck >= n)
        return "";
    return circuit_strip(c, strips[how == ARRANGE_MIDDLE ? from_middle(n, deck) : deck])->id;
}

struct changes arrange_decks(const struct circuit *c, enum arrangement how,
                             const struct booth *saved)
{
    struct changes out = {0};
    const struct decks *decks = &c->booth->decks;
    for (int round = 0; round < 2; round++)
        for (size_t i = 0; i < decks->n; i++) {
            const char *strip = place_for(c, how, saved, (int)i);
            if (strcmp(decks->v[i].wants, strip) != 0 && (round == 0 || *strip))
                changes_add(&out, change_of(CHANGE_WANT, decks->v[i].id, round ? strip : NULL));
        }
    return out;
}
