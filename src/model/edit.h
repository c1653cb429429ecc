/* The difference between two booths, as a value that can be applied both ways.
 *
 * A list of records changes by splices (at a place some go out and others come in); any other
 * part of the booth changes as a whole. The journal writes edits down, the history keeps them. */
#ifndef MODEL_EDIT_H
#define MODEL_EDIT_H

#include <stdbool.h>
#include <stddef.h>

#include "model/shape.h"

struct edit {
    const struct field *part; /* a row of shape_booth */
    size_t at, out, in;       /* of RECORDS: the place, and how many go out and come in */
    void *before, *after;     /* RECORDS: arrays of out and of in records; else one value each */
};

struct edits {
    struct edit *v;
    size_t n;
};

/* What makes from into to (and, backwards, to into from). Empty when they are equal. Free with
 * edits_clear(). What is kept for the file at the booth's own level is not part of it: nothing
 * changes that. */
struct edits edits_between(const struct booth *from, const struct booth *to);
void edits_clear(struct edits *e);

/* Applies them in order, or undoes them in reverse. The booth must be the one they start from
 * (asserted as far as counts tell). */
void edits_apply(struct booth *b, const struct edits *e);
void edits_undo(struct booth *b, const struct edits *e);

/* Adds one edit: copies of the values. before may be NULL when it will never be undone. */
void edits_add(struct edits *e, struct edit edit);

/* Whether the edits fit a booth: no splice passes the end of its list. For edits from outside. */
bool edits_fit(const struct booth *b, const struct edits *e);

#endif
