/* Edits on one line of JSON: what the journal keeps of each change.
 *
 *   {"edits":[{"part":"cables","at":1,"out":1,"in":[{"from":"p1.line","to":"s2.line"}]},
 *             {"part":"joined","to":["p1","p2"]}]}
 *
 * Only the way forward is written: what is read back can be applied, not undone. */
#ifndef FILE_CHANGES_H
#define FILE_CHANGES_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"
#include "base/str.h"
#include "model/edit.h"

/* Appends the edits as one line, without the newline. */
void changes_write(const struct edits *edits, struct str *out);

/* Reads n bytes that changes_write() gave into *edits (free it with edits_clear(); empty on
 * false). False when they are anything else: e (not NULL) says what, with ERR_READ. Before they
 * are applied to a booth, ask edits_fit(); after, booth_sound(). */
bool changes_read(const char *line, size_t n, struct edits *edits, struct err *e);

#endif
