/* What somebody has looked at in a line check, and it is not that: struck out for as long as the
 * editor runs and the booth is wired, switched and set as it was then. Nothing of it is saved. */
#ifndef UI_STRUCK_H
#define UI_STRUCK_H

#include "engine/diagnose.h"

struct strike {
    struct texts names; /* of the sets of causes that were said as one: see causes_name() */
    char *says;         /* the same for people */
    size_t done;        /* how many steps of the history were done then */
};

struct struck {
    struct strike *v;
    size_t n, cap;
    char *basis; /* what they rest on: see basis_make(); NULL: nothing yet */
};

/* Forgets all when the booth is no longer what it rests on. */
void struck_follow(struct struck *s, const struct booth *b);

/* Strikes out the i-th explanation, one of the lines, after so many steps of the history: every one
 * that contains its causes, or those of one that is said as one with it. */
void struck_add(struct struck *s, const struct diagnosis *d, size_t i, size_t done);

/* Appends the names of all that is struck out. */
void struck_names(const struct struck *s, struct texts *out);

/* Whether the last strike was made after the last of so many steps of the history. */
bool struck_last(const struct struck *s, size_t done);

void struck_take_back(struct struck *s, size_t i);
void struck_clear(struct struck *s);

#endif
