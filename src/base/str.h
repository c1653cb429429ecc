/* Text that grows. A struct str is a value to embed: all zero is the empty text. */
#ifndef BASE_STR_H
#define BASE_STR_H

#include <stddef.h>

struct str {
    char *text; /* may be NULL while empty: read it with str_text() */
    size_t len; /* bytes, without the final NUL */
    size_t cap;
};

/* Appends a C string, n bytes, one byte, or formatted text. */
void str_add(struct str *s, const char *text);
void str_addn(struct str *s, const char *bytes, size_t n);
void str_addc(struct str *s, char c);
void str_addf(struct str *s, const char *fmt, ...) __attribute__((format(printf, 2, 3)));

/* Shortens to n bytes; n must not be more than its length. */
void str_cut(struct str *s, size_t n);

/* The text, never NULL, owned by s until the next change. */
const char *str_text(const struct str *s);

/* Gives the text away (never NULL; the caller frees it with mem_free()) and empties s. */
char *str_take(struct str *s);

/* Frees the text and empties s. */
void str_clear(struct str *s);

#endif
