/* JSON documents, read strictly: whatever a lenient reader would guess at is refused.
 *
 * A document is at most 1 MiB, nested at most 32 deep, UTF-8 without NUL; no key stands twice in
 * an object; a number is whole within 2^31 either way, or within a million with at most three
 * decimals: what is read can be written again without loss. */
#ifndef FILE_JSON_H
#define FILE_JSON_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"

enum { JSON_MAX_BYTES = 1 << 20, JSON_MAX_DEPTH = 32 };

struct json; /* a value in a document */

enum json_kind { JSON_NULL, JSON_BOOL, JSON_NUMBER, JSON_TEXT, JSON_ARRAY, JSON_OBJECT };

/* The document of n bytes (a leading byte order mark is dropped), or NULL: then e (not NULL) says
 * where ("line 3, column 14", or the path of a key that stands twice) and what, with ERR_READ.
 * Free with json_free(). */
struct json *json_read(const char *bytes, size_t n, struct err *e);

/* Frees a document (the value that json_read gave, no other); NULL is allowed. */
void json_free(struct json *j);

enum json_kind json_kind(const struct json *j);

/* The value of a bool, of a number in thousandths, of a text. Asserted to be of that kind. What
 * is pointed to lives as long as the document. */
bool json_truth(const struct json *j);
long long json_thousandths(const struct json *j);
const char *json_string(const struct json *j);

/* The first value in an array or object (NULL: empty, or neither of them) and the one after a
 * value (NULL: the last). */
const struct json *json_first(const struct json *j);
const struct json *json_next(const struct json *j);

/* The key of a value in an object; NULL for any other. */
const char *json_key(const struct json *j);

/* The member of that very key in an object, or NULL. */
const struct json *json_member(const struct json *j, const char *key);

#endif
