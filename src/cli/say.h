/* What the program says: its answer on standard output, and on standard error one sentence an
 * error, safe to show. */
#ifndef CLI_SAY_H
#define CLI_SAY_H

#include <stdbool.h>

#include "base/err.h"
#include "base/str.h"

/* Whether text for people must keep to ASCII, because the locale is not one of UTF-8. */
bool say_ascii(void);

/* Prints "boothwright: FILE: PLACE: sentence" on standard error and returns the exit status.
 * file may be NULL; a place that only names the file again is left out. */
int say_error(const char *file, const struct err *e);

/* Writes a part of the answer at once, and leaves standard output open; returns 0 or ERR_WRITE,
 * told as say_answer() does. */
int say_now(const struct str *part);

/* Writes the answer to standard output, which it closes then, and returns the exit status: the one
 * given, or ERR_WRITE. A reader that has gone is told nothing. */
int say_answer(const struct str *answer, int status);

#endif
