/* The grammar of JSON to the letter (RFC 8259), and our limits, before anything is built. */
#ifndef FILE_JSON_SCAN_H
#define FILE_JSON_SCAN_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"

/* Whether n bytes (without a byte order mark) are one JSON document as json.h describes it, but
 * for keys that stand twice. If not, e says the line, the column (in characters, from 1) and what
 * is wrong there, with ERR_READ. Needs stack for JSON_MAX_DEPTH levels only. */
bool json_scan(const char *text, size_t n, struct err *e);

#endif
