/* The verb ident: a sound file for each host deck. */
#ifndef CLI_WRITE_IDENT_H
#define CLI_WRITE_IDENT_H

#include "base/str.h"
#include "cli/arguments.h"

/* Writes the files and appends a line for each; says errors itself and returns the exit status. A
 * file that is there already is never written over: with the same sound in it, it stays; else it
 * is told, with ERR_CHANGED. */
int write_ident(const struct arguments *a, struct str *out);

#endif
