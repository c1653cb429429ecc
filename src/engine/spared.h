/* What stays as it is on purpose: what a way back, or putting the booth back as it was found,
 * leaves wrong; and what has died. The next sensible thing to do does not ask for it. */
#ifndef ENGINE_SPARED_H
#define ENGINE_SPARED_H

#include <stdbool.h>

#include "engine/faults.h"

struct spared {
    struct texts faults; /* by slug and subjects */
    struct texts things; /* ids of what has died: no fault of it, and no step with it, is next */
    char *instead;       /* what to do where the laptop has died; NULL: it has not */
};

/* Adds the errors by the names that spared_note() knows them by. */
void spared_errors(const struct faults *f, struct texts *out);

/* Spares the errors of now that were not among those before: those that name a host deck of the
 * booth or this thing; NULL: all. */
void spared_note(struct spared *s, const struct texts *before, const struct faults *now,
                 const struct booth *b, const char *thing);

/* Spares what another spares as well. */
void spared_add(struct spared *s, const struct spared *other);

/* Whether a fault was noted, or is about what has died. */
bool spared_has_fault(const struct spared *s, const struct fault *f);

/* Whether a step of the checklist, by its id, is about what has died; one that puts back is not. */
bool spared_has_step(const struct spared *s, const char *id);

void spared_clear(struct spared *s);

#endif
