/* What a file held when it was last seen, in three numbers.
 *
 * Only the content counts: a copy that puts the old time back is still another file, and a file
 * that was merely touched is still the same. */
#ifndef FILE_STAMP_H
#define FILE_STAMP_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/str.h"

/* All zero: there was no file. */
struct stamp {
    bool exists;
    uint64_t size; /* bytes */
    uint64_t hash; /* of the content */
};

/* The stamp of a file that holds these n bytes (bytes may be NULL when n is 0). After a save it
 * is the stamp of what was saved. */
struct stamp stamp_of(const char *bytes, size_t n);

/* Whether both saw the same content, or both saw no file. */
bool stamp_same(const struct stamp *a, const struct stamp *b);

/* Appends the stamp as one word, "none" or "SIZE-HASH": equal words, equal stamps. */
void stamp_text(const struct stamp *s, struct str *out);

#endif
