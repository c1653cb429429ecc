/* The program itself, run as a script would: no terminal, no TERM. */
#ifndef TESTS_CLI_PROGRAM_H
#define TESTS_CLI_PROGRAM_H

#include <stddef.h>

#include "base/str.h"

/* All zero is a plain run. */
struct program {
    const char *input;  /* the file on standard input; NULL: nothing */
    const char *locale; /* LC_ALL; NULL: C.UTF-8 */
    int output;         /* a descriptor for standard output; 0: it is kept in out */

    /* what came of it */
    int status; /* of its exit; -1 when it did not end by itself */
    struct str out, err;
};

/* Runs $BOOTHWRIGHT (or the plain build) in tests/cli with these n arguments. Clear p after. */
void program_run(struct program *p, char *const *arguments, size_t n);
void program_clear(struct program *p);

/* The bytes of a file, or an empty text where there is none. */
struct str program_file(const char *path);

#endif
