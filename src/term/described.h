/* The terminal's description (terminfo). In a room of its own because <term.h> makes macros of
 * words like "columns" and "lines". */
#ifndef TERM_DESCRIBED_H
#define TERM_DESCRIBED_H

#include <stdbool.h>

/* Whether this machine describes the terminal type; *moves is then set to whether such a terminal
 * can put its cursor anywhere. */
bool described_type(const char *type, bool *moves);

/* A string of the terminal that curses has open, by its name in terminfo(5); NULL when it has
 * none. Owned by curses. */
const char *described_string(const char *name);

#endif
