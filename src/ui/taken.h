/* The plans and the ways back that were taken and what was put back, beside the history: each
 * counts while its step is done. Nothing of it is saved: the next night everything may play again.
 */
#ifndef UI_TAKEN_H
#define UI_TAKEN_H

#include "engine/failures.h"
#include "engine/spared.h"
#include "ui/canvas.h"

struct taking {
    size_t step;            /* how many steps of the history were done with it */
    struct failure failure; /* what had failed, with the way back; all 0: none had */
    struct plan plan;       /* a way into the mixer; not feasible: none was taken */
    struct spot at;         /* the box that was asked about */
    bool passed;            /* the person went on to another */
    struct spared spared;   /* what it leaves wrong, and what has died */
};

struct taken {
    struct taking *v;
    size_t n, cap;
};

void taken_clear(struct taken *t);

/* Forgets what was taken after so many steps: it was undone, and cannot be done again any more. */
void taken_forget(struct taken *t, size_t steps);

struct app;

/* Takes a way back of the selected box, as one step: the failure is taken over, unless it says
 * false, with the reason. after: what taking it makes of the booth. */
bool taken_way_back(struct app *a, struct failure *f, const struct booth *after);

/* Takes the plan of a way into the mixer, as one step: it is taken over, unless it says false, with
 * the reason. It must be feasible. */
bool taken_plan(struct app *a, struct plan *p);

/* The plans that were taken and still stand, the oldest first: `at`, from 0, goes past the one that
 * is given; NULL: no more. Borrowed. */
const struct plan *taken_next_plan(const struct app *a, size_t *at);

/* Puts something back as it was found, as one step. False, with the reason, when it is refused. */
bool taken_putting_back(struct app *a, struct change c);

/* The selection moved: who left the box of a way back that was taken asks anew. */
void taken_follow(struct app *a);

/* The way back that was taken at the selected box, as the last thing that was done; or NULL. */
const struct failure *taken_last(const struct app *a);

/* All that is spared now. Free with spared_clear(). */
struct spared taken_spares(const struct app *a);

#endif
