/* Growing text: always NUL-terminated once it holds anything. */
#include "base/str.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"

void str_addn(struct str *s, const char *bytes, size_t n)
{
    s->text = mem_grow(s->text, &s->cap, s->len + n + 1, 1);
    if (n)
        memcpy(s->text + s->len, bytes, n);
    s->len += n;
    s->text[s->len] = '\0';
}

void str_add(struct str *s, const char *text)
{
    str_addn(s, text, strlen(text));
}

void str_addc(struct str *s, char c)
{
    str_addn(s, &c, 1);
}

void str_addf(struct str *s, const char *fmt, ...)
{
    va_list args, again;
    va_start(args, fmt);
    va_copy(again, args);
    int n = vsnprintf(NULL, 0, fmt, args);
    va_end(args);
    assert(n >= 0);
    s->text = mem_grow(s->text, &s->cap, s->len + (size_t)n + 1, 1);
    vsnprintf(s->text + s->len, (size_t)n + 1, fmt, again);
    va_end(again);
    s->len += (size_t)n;
}

void str_cut(struct str *s, size_t n)
{
    assert(n <= s->len);
    s->len = n;
    if (s->text)
        s->text[n] = '\0';
}

const char *str_text(const struct str *s)
{
    return s->text ? s->text : "";
}

char *str_take(struct str *s)
{
    char *text = s->text ? s->text : mem_text("");
    *s = (struct str){0};
    return text;
}

void str_clear(struct str *s)
{
    mem_free(s->text);
    *s = (struct str){0};
}
