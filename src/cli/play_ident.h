/* The verb ident with --play: the ident of one deck straight into its channels. */
#ifndef CLI_PLAY_IDENT_H
#define CLI_PLAY_IDENT_H

#include "base/str.h"
#include "cli/arguments.h"

/* Says on standard output where it plays to, then plays, until the end or until a key or a signal
 * stops it, and appends to out what is left to say. Says errors itself and returns the exit status:
 * 128 and its number after a signal that ends programs. */
int play_ident(const struct arguments *a, struct str *out);

#endif
