/* One thing changed at a time in a file that says a bit of everything (tests/file/example.json):
 * what the reader says of it, and whether a schema could. */
#ifndef TESTS_SUPPORT_BROKEN_FILE_H
#define TESTS_SUPPORT_BROKEN_FILE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/str.h"

struct broken {
    const char *from, *to;    /* what stands in the file, and what instead */
    const char *place, *says; /* where and what must be told; NULL: it is read */
};

/* How many there are, and the i-th (of so many). */
size_t broken_count(void);
const struct broken *broken_at(size_t i);

/* Whether no schema can tell, only the reader. */
bool broken_reader_only(size_t i);

/* Appends the changed file on one line; fails the test when the example has no such place. */
void broken_text(size_t i, struct str *out);

#endif
