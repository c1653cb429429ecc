/* A line that proves itself whole: "SUM LENGTH PAYLOAD\n".
 *
 * SUM is the CRC-32 of the payload in 8 lower-case hexadecimal digits, LENGTH its bytes in 6. A
 * torn or changed line is never taken for a whole one; a reader stops before the first such. */
#ifndef FILE_RECORD_H
#define FILE_RECORD_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/str.h"

#define RECORD_MAX ((size_t)1 << 20) /* bytes of a payload */

/* Appends the line of a payload of n bytes (at most RECORD_MAX, without newline and NUL). */
void record_add(struct str *out, const char *payload, size_t n);

/* Whether the n bytes begin with a whole line. If so, *payload points at its payload in there
 * (not NUL-terminated), *len is that one's length, and the line's own is record_size(*len). */
bool record_next(const char *bytes, size_t n, const char **payload, size_t *len);

/* The bytes of a line with a payload of n bytes. */
size_t record_size(size_t n);

/* The CRC-32 of Ethernet and gzip (RFC 1952, section 8). */
uint32_t record_sum(const char *bytes, size_t n);

#endif
