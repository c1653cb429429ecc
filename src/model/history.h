/* The booth that is being edited, and the way back: undo and redo without limit.
 *
 * A change is made on a scratch copy and committed; what is kept is the difference. */
#ifndef MODEL_HISTORY_H
#define MODEL_HISTORY_H

#include <stdbool.h>
#include <stddef.h>

#include "model/booth.h"

struct history;

/* Takes the booth over. Free with history_free(). */
struct history *history_new(struct booth *b);
void history_free(struct history *h);

/* The booth as it is now; borrowed until the next commit, undo or redo. */
const struct booth *history_booth(const struct history *h);

/* A number that is new after every commit, undo and redo: the whole cache rule. */
unsigned long history_revision(const struct history *h);

/* How many steps are done: one more after a commit or a redo, one less after an undo. */
size_t history_done(const struct history *h);

/* Makes next (taken over, also on false) the booth, as one step that undo takes back; what names
 * the step for people ("cable from P1 to strip 2") and is copied. Drops what could be redone.
 * False when nothing differs. next must be sound (asserted in the hard build). */
bool history_commit(struct history *h, struct booth *next, const char *what);

/* One step back or forth: what it was called, or NULL when there is none. Borrowed until the next
 * commit. */
const char *history_undo(struct history *h);
const char *history_redo(struct history *h);

/* Remembers that the booth as it is now is what stands in the file; whether it still is. */
void history_saved(struct history *h);
bool history_is_saved(const struct history *h);

#endif
