/* What the failures' two files share. Only for failures*.c. */
#ifndef ENGINE_FAILURES_PARTS_H
#define ENGINE_FAILURES_PARTS_H

#include "engine/failures.h"

struct wound {
    const struct booth *b;
    struct failure *f;
    bool lost[MAX_DEVICES]; /* cards that drop out of the interface, by the device's number */
    bool hushed;            /* no deck is heard where it wants to be any more */
};

/* Whether everything stops until the interface is chosen again: a joined card drops out, and the
 * host's on_drop says so. */
bool interface_stops(const struct wound *w);

/* Whether it is the cable of a subject, "p1.line>s1.line". */
bool cable_is(const struct cable *c, const char *subject);

/* Fills the failure's back, or else its meanwhile. The failure loses something. */
void find_way_back(struct wound *w);

void way_back_clear(struct way_back *w);

#endif
