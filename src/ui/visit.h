/* The booth as it is shown beside the booth as it was opened. */
#ifndef UI_VISIT_H
#define UI_VISIT_H

#include "engine/circuit.h"
#include "engine/compare.h"
#include "engine/restore.h"

struct visit {
    struct circuit *before;  /* of the booth as it was opened */
    struct comparison since; /* what is different */
    bool whole;              /* the rest is there too */
    struct plan *work;       /* from the old settings to the new; NULL when nothing is different */
    struct restore back;     /* to leave it as it was found */
};

/* Compares; without whole only what costs little. Both must outlive it. Free with visit_free(). */
struct visit *visit_make(const struct booth *opened, const struct booth *now, bool whole);

/* NULL is allowed. */
void visit_free(struct visit *v);

#endif
