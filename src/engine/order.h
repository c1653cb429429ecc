/* The connection checklist: the steps from a dark booth to a saved venue, in the order in which
 * they must be done. */
#ifndef ENGINE_ORDER_H
#define ENGINE_ORDER_H

#include "engine/circuit.h"

struct step {
    char *id;            /* "join-p1" */
    char *text;          /* one imperative sentence */
    char *see;           /* what the person should then see */
    char *why;           /* NULL where nothing needs saying */
    int expect_channels; /* what the interface shows after it; -1 where it does not matter */
    bool done;           /* ticked in the venue */
    const char *note;    /* the person's own, borrowed from the booth; NULL: none */
};

struct steps {
    struct step *v;
    size_t n, cap;
};

/* Free with steps_clear(). */
struct steps steps_make(const struct circuit *c);
void steps_clear(struct steps *s);

/* The first step that is not done; -1 when all are. */
int steps_current(const struct steps *s);

#endif
