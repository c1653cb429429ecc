/* All that follows from one state of a booth, computed whole. */
#ifndef ENGINE_DERIVED_H
#define ENGINE_DERIVED_H

#include "engine/circuit.h"
#include "engine/faults.h"
#include "engine/heard.h"
#include "engine/order.h"
#include "engine/route.h"
#include "engine/spared.h"

struct derived {
    struct circuit *circuit;
    struct route *routes; /* one for each deck, in the file's order */
    struct heard heard;
    struct faults faults;
    struct steps steps;
};

/* b must be sound and outlive what is derived. Free with derived_free(). */
struct derived *derived_make(const struct booth *b);
void derived_free(struct derived *d);

/* Appends the next sensible thing to do, as one sentence: the fix of the first error, else the
 * current step of the checklist, else that all is ready; nothing that is spared. */
void derived_next(const struct derived *d, const struct spared *spared, struct str *out);

#endif
