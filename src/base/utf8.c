/* Strict decoding and safe showing.
 *
 * What is unsafe is replaced visibly, never deleted: two names that differ must not look equal. */
#include "base/utf8.h"

#include <stdio.h>
#include <string.h>
#include <wchar.h>

size_t utf8_next(const char *s, size_t n, uint32_t *point)
{
    const unsigned char *b = (const unsigned char *)s;
    if (b[0] < 0x80) {
        *point = b[0];
        return 1;
    }
    size_t len = b[0] >= 0xf0 ? 4 : b[0] >= 0xe0 ? 3 : 2;
    if (b[0] < 0xc2 || b[0] > 0xf4 || len > n)
        return 0;
    uint32_t p = b[0] & (0x7fu >> len);
    for (size_t i = 1; i < len; i++) {
        if ((b[i] & 0xc0) != 0x80)
            return 0;
        p = p << 6 | (b[i] & 0x3fu);
    }
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    if (p < least[len] || p > 0x10ffff || (p >= 0xd800 && p <= 0xdfff))
        return 0;
    *point = p;
    return len;
}

size_t utf8_valid(const char *s, size_t n)
{
    size_t at = 0;
    while (at < n) {
        uint32_t point;
        size_t len = utf8_next(s + at, n - at, &point);
        if (!len)
            break;
        at += len;
    }
    return at;
}

size_t utf8_cut(const char *text, size_t max)
{
    size_t n = strlen(text);
    if (n <= max)
        return n;
    for (n = max; n > 0 && ((unsigned char)text[n] & 0xc0) == 0x80;)
        n--;
    return n;
}

void utf8_add(struct str *out, uint32_t p)
{
    if (p < 0x80) {
        str_addc(out, (char)p);
        return;
    }
    if (p < 0x800) {
        str_addc(out, (char)(0xc0 | p >> 6));
    } else {
        if (p < 0x10000) {
            str_addc(out, (char)(0xe0 | p >> 12));
        } else {
            str_addc(out, (char)(0xf0 | p >> 18));
            str_addc(out, (char)(0x80 | (p >> 12 & 0x3f)));
        }
        str_addc(out, (char)(0x80 | (p >> 6 & 0x3f)));
    }
    str_addc(out, (char)(0x80 | (p & 0x3f)));
}

bool utf8_unsafe(uint32_t p)
{
    static const struct {
        uint32_t first, last;
    } ranges[] = {
        {0x00, 0x1f},       {0x7f, 0x9f},        {0xad, 0xad},     {0x61c, 0x61c},
        {0x180e, 0x180e},   {0x200b, 0x200f},    {0x2028, 0x202e}, {0x2060, 0x206f},
        {0xe000, 0xf8ff},   {0xfe00, 0xfe0f},    {0xfeff, 0xfeff}, {0xfff0, 0xfffb},
        {0xe0000, 0xe0fff}, {0xf0000, 0x10ffff},
    };
    for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++)
        if (p >= ranges[i].first && p <= ranges[i].last)
            return true;
    return (p & 0xfffe) == 0xfffe || (p >= 0xfdd0 && p <= 0xfdef);
}

/* One character as it will be shown: its bytes, its columns, how much of the text it took. */
struct shown {
    char bytes[12];
    int columns;
    size_t took;
};

static struct shown show_next(const char *s, size_t n, bool ascii)
{
    struct shown c = {.bytes = {*s}, .columns = 1, .took = 1};
    if (*s >= ' ' && *s <= '~')
        return c;
    uint32_t p;
    size_t len = utf8_next(s, n, &p);
    if (!len || utf8_unsafe(p)) {
        c.took = len ? len : 1;
        unsigned shown = len ? (unsigned)p : (unsigned char)*s;
        c.columns = snprintf(c.bytes, sizeof c.bytes, "<%02X>", shown);
        return c;
    }
    c.took = len;
    c.columns = p < 0x80 ? 1 : ascii ? -1 : wcwidth((wchar_t)p);
    if (c.columns < 0) {
        c.columns = 1;
        c.bytes[0] = '?';
        return c;
    }
    memcpy(c.bytes, s, len);
    return c;
}

int utf8_safe(struct str *out, const char *text, int max, bool ascii)
{
    size_t n = strlen(text);
    int columns = 0, before = 0, marks = 0;
    size_t cut = out->len; /* where the text would end if "~" had to follow */
    for (size_t at = 0; at < n;) {
        struct shown c = show_next(text + at, n - at, ascii);
        at += c.took;
        if (c.columns == 0 && (columns == 0 || ++marks > 2))
            continue;
        if (max >= 0 && columns + c.columns > max) {
            str_cut(out, cut);
            if (max > 0)
                str_addc(out, '~');
            return max > 0 ? before + 1 : 0;
        }
        if (c.columns > 0)
            marks = 0;
        columns += c.columns;
        str_add(out, c.bytes);
        if (max < 0 || columns < max) {
            cut = out->len;
            before = columns;
        }
    }
    return columns;
}

int utf8_columns(const char *text, bool ascii)
{
    struct str out = {0};
    int columns = utf8_safe(&out, text, -1, ascii);
    str_clear(&out);
    return columns;
}
