/* What somebody has looked at in a line check, and it is not that: struck out for as long as the
 * editor runs and the booth is wired, switched and set as it was then. Nothing of it is saved. */
#ifndef UI_STRUCK_H
#define UI_STRUCK_H

#include "engine/diagnose.h"

struct struck {
    struct texts names; /* of sets of causes: see causes_name() */
    struct texts says;  /* the same for people */
    char *basis;        /* what they rest on: see basis_make(); NULL: nothing yet */
};

/* Forgets all when the booth is no longer what it rests on. */
void struck_follow(struct struck *s, const struct booth *b);

/* Strikes out the i-th explanation: every one that contains its causes. */
void struck_add(struct struck *s, const struct diagnosis *d, size_t i);

void struck_take_back(struct struck *s, size_t i);
void struck_clear(struct struck *s);

#endif
