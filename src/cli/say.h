/* What the program says on standard error: one sentence an error, safe to show. */
#ifndef CLI_SAY_H
#define CLI_SAY_H

#include <stdbool.h>

#include "base/err.h"

/* Whether text for people must keep to ASCII, because the locale is not one of UTF-8. */
bool say_ascii(void);

/* Prints "boothwright: FILE: PLACE: sentence" on standard error and returns the exit status.
 * file may be NULL; a place that only names the file again is left out. */
int say_error(const char *file, const struct err *e);

#endif
