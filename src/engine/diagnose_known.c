/* What needs no explaining: decks that are heard just as the booth gives it, but not as they want
 * it, since something is set or wired wrongly and known to be. */
#include <string.h>

#include "base/mem.h"
#include "engine/diagnose_parts.h"
#include "engine/route.h"

/* Whether a deck is heard where it wants to be, if it does, left on the left and right on the
 * right; both on the left where its route is a single channel. */
static bool heard_as_wanted(const struct circuit *c, int deck)
{
    enum { STRAIGHT = 1 | 8, SINGLE = 1 | 2 };
    ears found;
    struct route r = route_of(c, deck);
    if (c->decks[deck].wants < 0)
        return true;
    hear(c, deck, found);
    bool single = r.there && r.pair.left == r.pair.right;
    return found[c->decks[deck].wants] == (single ? SINGLE : STRAIGHT);
}

void note_amiss(const struct search *s)
{
    struct diagnosis *d = s->d;
    d->amiss = mem_new(s->c->n_decks, sizeof *d->amiss);
    for (size_t i = 0; i < s->n_marks; i++) {
        int deck = s->marks[i].deck;
        if (d->amiss[deck] || !mark_fits(s->c, &s->marks[i]))
            continue;
        d->amiss[deck] = !heard_as_wanted(s->c, deck);
        d->n_amiss += d->amiss[deck];
    }
}

/* Whether a subject is a deck, or the input that its strip is switched to. */
static bool is_about(const struct diagnosis *d, size_t deck, const char *subject)
{
    const struct circuit *c = d->believed;
    char input[REF_SIZE];
    circuit_input_name(c, c->strips[c->decks[deck].wants].selected, input);
    return strcmp(subject, c->booth->decks.v[deck].id) == 0 || strcmp(subject, input) == 0;
}

bool diagnosis_knows(const struct diagnosis *d, const struct fault *f)
{
    if (f->severity != SEVERITY_ERROR)
        return false;
    for (size_t deck = 0; deck < d->believed->n_decks; deck++)
        for (size_t i = 0; d->amiss[deck] && i < f->subjects.n; i++)
            if (is_about(d, deck, f->subjects.v[i]))
                return true;
    return false;
}

bool diagnosis_righted(const struct diagnosis *d, const struct booth *after)
{
    struct circuit *c = circuit_new(after);
    bool right = true;
    for (size_t i = 0; i < c->n_decks; i++) {
        c->decks[i].set_to = route_effective(c, (int)i);
        right = right && (!d->amiss[i] || heard_as_wanted(c, (int)i));
    }
    circuit_free(c);
    return right;
}
