/* The writer is a depth and a comma: begin() puts what stands before any value. */
#include "file/json_out.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/utf8.h"

struct json_out json_on(struct str *out, bool flat)
{
    return (struct json_out){.out = out, .flat = flat, .empty = true};
}

static void new_line(struct json_out *w)
{
    if (w->flat)
        return;
    str_addc(w->out, '\n');
    for (int i = 0; i < w->depth; i++)
        str_add(w->out, "  ");
}

static void add_escaped(struct str *out, uint32_t point)
{
    static const char letters[] = "\"\"\\\\\bb\ff\nn\rr\tt";
    for (const char *l = letters; *l; l += 2)
        if ((unsigned char)*l == point) {
            str_addf(out, "\\%c", l[1]);
            return;
        }
    if (point < 0x20 || (point >= 0x7f && point <= 0x9f))
        str_addf(out, "\\u%04x", (unsigned)point);
    else
        utf8_add(out, point);
}

/* How many bytes at the start of a text stand in quotes as they are. */
static size_t plain(const char *text, size_t n)
{
    size_t at = 0;
    while (at < n) {
        uint32_t point;
        size_t len = utf8_next(text + at, n - at, &point);
        if (!len || point == '"' || point == '\\' || point < 0x20 ||
            (point >= 0x7f && point <= 0x9f))
            break;
        at += len;
    }
    return at;
}

static void quote(struct str *out, const char *text)
{
    size_t n = strlen(text), at = 0;
    str_addc(out, '"');
    while (at < n) {
        size_t run = plain(text + at, n - at);
        str_addn(out, text + at, run);
        at += run;
        if (at == n)
            break;
        uint32_t point;
        size_t len = utf8_next(text + at, n - at, &point);
        add_escaped(out, len ? point : 0xfffd);
        at += len ? len : 1;
    }
    str_addc(out, '"');
}

static bool in_array(const struct json_out *w)
{
    return w->arrays >> w->depth & 1;
}

/* What stands before a value: a comma after another one, the line, the key. */
static void begin(struct json_out *w, const char *key)
{
    assert((key != NULL) == (w->depth > 0 && !in_array(w)));
    if (!w->empty)
        str_addc(w->out, ',');
    if (w->depth)
        new_line(w);
    if (key) {
        quote(w->out, key);
        str_add(w->out, w->flat ? ":" : ": ");
    }
    w->empty = false;
}

static void end_document(struct json_out *w)
{
    if (w->depth == 0 && !w->flat)
        str_addc(w->out, '\n');
}

static void open(struct json_out *w, const char *key, bool array)
{
    begin(w, key);
    str_addc(w->out, array ? '[' : '{');
    w->depth++;
    assert(w->depth <= 60);
    w->arrays &= ~(1ull << w->depth);
    w->arrays |= (unsigned long long)array << w->depth;
    w->empty = true;
}

void json_object(struct json_out *w, const char *key)
{
    open(w, key, false);
}

void json_array(struct json_out *w, const char *key)
{
    open(w, key, true);
}

void json_end(struct json_out *w)
{
    assert(w->depth > 0);
    char bracket = in_array(w) ? ']' : '}';
    w->depth--;
    if (!w->empty)
        new_line(w);
    str_addc(w->out, bracket);
    w->empty = false;
    end_document(w);
}

/* A value that is these very letters. */
static void add_plain(struct json_out *w, const char *key, const char *letters)
{
    begin(w, key);
    str_add(w->out, letters);
    end_document(w);
}

void json_text(struct json_out *w, const char *key, const char *text)
{
    if (!text) {
        json_null(w, key);
        return;
    }
    begin(w, key);
    quote(w->out, text);
    end_document(w);
}

void json_number(struct json_out *w, const char *key, long long n)
{
    char digits[24];
    snprintf(digits, sizeof digits, "%lld", n);
    add_plain(w, key, digits);
}

void json_milli(struct json_out *w, const char *key, long long thousandths)
{
    char digits[32];
    long long whole = llabs(thousandths) / 1000, rest = llabs(thousandths) % 1000;
    int n = snprintf(digits, sizeof digits, "%s%lld.%03lld", thousandths < 0 ? "-" : "", whole,
                     rest);
    while (digits[n - 1] == '0')
        digits[--n] = '\0';
    if (digits[n - 1] == '.')
        digits[n - 1] = '\0';
    add_plain(w, key, digits);
}

void json_real(struct json_out *w, const char *key, double n)
{
    char digits[40];
    if (!isfinite(n)) {
        json_null(w, key);
        return;
    }
    for (int precision = 1; precision <= 17; precision++) {
        snprintf(digits, sizeof digits, "%.*g", precision, n);
        if (!(strtod(digits, NULL) < n) && !(strtod(digits, NULL) > n))
            break;
    }
    add_plain(w, key, digits);
}

void json_bool(struct json_out *w, const char *key, bool truth)
{
    add_plain(w, key, truth ? "true" : "false");
}

void json_null(struct json_out *w, const char *key)
{
    add_plain(w, key, "null");
}

void json_copy_members(struct json_out *w, const struct json *object)
{
    for (const struct json *m = json_first(object); m; m = json_next(m))
        json_copy(w, json_key(m), m);
}

void json_copy(struct json_out *w, const char *key, const struct json *j)
{
    switch (json_kind(j)) {
    case JSON_NULL:
        json_null(w, key);
        return;
    case JSON_BOOL:
        json_bool(w, key, json_truth(j));
        return;
    case JSON_NUMBER:
        json_milli(w, key, json_thousandths(j));
        return;
    case JSON_TEXT:
        json_text(w, key, json_string(j));
        return;
    case JSON_ARRAY:
        json_array(w, key);
        break;
    case JSON_OBJECT:
        json_object(w, key);
        break;
    }
    json_copy_members(w, j);
    json_end(w);
}
