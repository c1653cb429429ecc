/* UTF-8 from files and keyboards: decoded strictly, measured in columns, made safe to show.
 *
 * Every text that somebody else wrote passes utf8_safe() before it reaches a screen, a sheet or
 * standard output. Widths are those of the C library's wcwidth(): set LC_CTYPE first. */
#ifndef BASE_UTF8_H
#define BASE_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/str.h"

/* Decodes the code point at the start of the n > 0 bytes of s into *point and returns its length
 * in bytes (1 to 4); 0 when they are not UTF-8 (overlong forms, surrogates and points above
 * U+10FFFF are refused, as the Unicode Standard, table 3-7, asks). */
size_t utf8_next(const char *s, size_t n, uint32_t *point);

/* The offset of the first byte that is not UTF-8, or n when all of it is. */
size_t utf8_valid(const char *s, size_t n);

/* How many bytes of a text fit into max bytes without cutting a character in half. */
size_t utf8_cut(const char *text, size_t max);

/* Appends the UTF-8 form of a code point (at most U+10FFFF, no surrogate). */
void utf8_add(struct str *out, uint32_t point);

/* Whether a code point may not be shown raw: controls, bidirectional and zero-width controls,
 * variation selectors, private use, tags, noncharacters. */
bool utf8_unsafe(uint32_t point);

/* Appends text so that it can be shown: what is unsafe stands as <1B> or <202E>, a byte that is
 * not UTF-8 as <FF>, a character that the locale cannot measure as "?", at most two combining
 * marks after a base and none at the start. Stops before it would pass max columns (a negative max:
 * no limit), ending in "~" where something was cut. With ascii, anything outside ASCII is "?".
 * Returns the columns used. */
int utf8_safe(struct str *out, const char *text, int max, bool ascii);

/* The columns that utf8_safe(text) takes without a limit. */
int utf8_columns(const char *text, bool ascii);

#endif
