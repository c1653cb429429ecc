/* What to put back so that the booth is left as it was found. */
#ifndef ENGINE_RESTORE_H
#define ENGINE_RESTORE_H

#include <stdbool.h>

#include "model/change.h"

struct putting_back {
    struct change change;       /* CHANGE_NONE: it cannot be done, and text says why */
    char id[2 * REF_SIZE + 32]; /* of its step in the checklist: "restore-selector-s1", or
                                   "restore-cable-p1.line-s1.line" */
    char *text;                 /* an order; or what stays, and why */
};

struct restore {
    struct putting_back *v;
    size_t n, cap;
};

/* In the order of hands: cables behind the mixer, switches, selectors, sources, data leads. What
 * is in use is left alone, with whatever it stands in the way of, and each such thing is said once.
 * Empty when nothing was kept or all is as it was. Things that came after the survey lose the
 * cables that were not there, and their lead where it stands in another's port. Free with
 * restore_clear(). */
struct restore restore_make(const struct booth *b);
void restore_clear(struct restore *r);

#endif
