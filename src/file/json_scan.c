/* A walk over the bytes that allows what the standard allows and nothing else.
 *
 * One function a rule of RFC 8259: value, object, array, text, number. Each starts at its first
 * byte and leaves s->at behind its last. No byte is looked at beyond the end: peek() gives -1
 * there. */
#include "file/json_scan.h"

#include <ctype.h>
#include <stdint.h>
#include <string.h>

#include "base/utf8.h"
#include "file/json.h"

struct scan {
    const char *text;
    size_t n, at;
    int depth;
    struct err *e;
};

/* Says what is wrong at an offset, as line and column. */
static bool wrong_at(struct scan *s, size_t at, const char *says)
{
    size_t line = 1, column = 1, i = 0;
    while (i < at) {
        uint32_t point;
        size_t len = utf8_next(s->text + i, s->n - i, &point);
        column = s->text[i] == '\n' ? 1 : column + 1;
        line += s->text[i] == '\n';
        i += len ? len : 1;
    }
    char place[64];
    struct str text = {0};
    str_addf(&text, "line %zu, column %zu", line, column);
    memcpy(place, str_text(&text), text.len < sizeof place ? text.len + 1 : sizeof place);
    place[sizeof place - 1] = '\0';
    str_clear(&text);
    return err_set(s->e, ERR_READ, place, "%s", says);
}

static bool wrong(struct scan *s, const char *says)
{
    return wrong_at(s, s->at, s->at < s->n ? says : "the document ends too early");
}

static int peek(const struct scan *s)
{
    return s->at < s->n ? (unsigned char)s->text[s->at] : -1;
}

static bool take(struct scan *s, char c)
{
    if (peek(s) != c)
        return false;
    s->at++;
    return true;
}

static void skip_blanks(struct scan *s)
{
    while (take(s, ' ') || take(s, '\t') || take(s, '\n') || take(s, '\r'))
        ;
}

/* --- texts ------------------------------------------------------------------------------------ */

/* The four hexadecimal digits after \u, or -1. */
static int hex4(struct scan *s)
{
    int value = 0;
    for (int i = 0; i < 4; i++, s->at++) {
        int c = peek(s);
        if (c < 0 || !isxdigit(c))
            return -1;
        value = value * 16 + (isdigit(c) ? c - '0' : tolower(c) - 'a' + 10);
    }
    return value;
}

static bool scan_unicode(struct scan *s, size_t start)
{
    int first = hex4(s), second = -1;
    if (first < 0)
        return wrong(s, "a broken \\u escape; expected four hexadecimal digits");
    if (first == 0)
        return wrong_at(s, start, "a NUL character; a text cannot hold one");
    if (first < 0xd800 || first > 0xdfff)
        return true;
    if (first < 0xdc00 && take(s, '\\') && take(s, 'u'))
        second = hex4(s);
    if (second >= 0xdc00 && second <= 0xdfff)
        return true;
    return wrong_at(s, start, "half of a surrogate pair; expected both halves");
}

static bool scan_escape(struct scan *s)
{
    size_t start = s->at++;
    int c = peek(s);
    if (c > 0 && strchr("\"\\/bfnrt", c)) {
        s->at++;
        return true;
    }
    if (!take(s, 'u'))
        return wrong(s, "an unknown escape; expected one of \\\" \\\\ \\/ \\b \\f \\n \\r \\t \\u");
    return scan_unicode(s, start);
}

static bool scan_text(struct scan *s)
{
    if (peek(s) == '\'')
        return wrong(s, "a single quote; expected a double quote");
    if (!take(s, '"'))
        return wrong(s, "no text; expected one in double quotes");
    while (!take(s, '"')) {
        int c = peek(s);
        if (c < 0)
            return wrong(s, "");
        if (c < 0x20)
            return wrong(s, "a raw control character in a text; expected it escaped, like \\n");
        if (c != '\\')
            s->at++;
        else if (!scan_escape(s))
            return false;
    }
    return true;
}

/* --- numbers ---------------------------------------------------------------------------------- */

/* What a number is worth, as it is read: digits times ten to the power. */
struct amount {
    long long digits;
    long long power;
    bool too_long;
};

static void add_digit(struct amount *a, int digit, bool decimal)
{
    if (a->digits > 100000000000000000) /* far beyond any number that is allowed */
        a->too_long = true;
    else
        a->digits = a->digits * 10 + digit;
    a->power -= decimal;
}

static size_t scan_digits(struct scan *s, struct amount *a, bool decimal)
{
    size_t start = s->at;
    for (; peek(s) >= '0' && peek(s) <= '9'; s->at++)
        add_digit(a, peek(s) - '0', decimal);
    return s->at - start;
}

static bool scan_exponent(struct scan *s, struct amount *a)
{
    struct amount exponent = {0};
    s->at++;
    bool minus = take(s, '-');
    if (!minus)
        take(s, '+');
    if (!scan_digits(s, &exponent, false))
        return wrong(s, "a broken exponent; expected digits");
    long long power = exponent.too_long || exponent.digits > 1000 ? 1000 : exponent.digits;
    a->power += minus ? -power : power;
    return true;
}

/* Whether it is whole within 2^31, or has at most three decimals within a million. */
static bool fits(struct amount a)
{
    if (a.digits == 0)
        return !a.too_long;
    if (a.too_long)
        return false;
    for (; a.digits % 10 == 0; a.power++)
        a.digits /= 10;
    if (a.power < -3 || a.power > 9)
        return false;
    for (int i = -3; i < a.power; i++)
        if ((a.digits *= 10) > 10000000000000)
            return false;
    return a.digits % 1000 ? a.digits <= 1000000000 : a.digits <= 2147483648000;
}

static bool scan_number(struct scan *s)
{
    size_t start = s->at;
    struct amount a = {0};
    take(s, '-');
    bool zero = peek(s) == '0';
    size_t n = scan_digits(s, &a, false);
    if (n == 0)
        return wrong(s, "a broken number; expected a digit");
    if (zero && n > 1)
        return wrong_at(s, start, "a number with leading zeros; expected none");
    if (take(s, '.') && !scan_digits(s, &a, true))
        return wrong(s, "a broken number; expected a digit after the point");
    if ((peek(s) == 'e' || peek(s) == 'E') && !scan_exponent(s, &a))
        return false;
    if (s->at - start > 60 || !fits(a))
        return wrong_at(s, start,
                        "a number out of range; expected a whole one within 2147483648, or "
                        "one within 1000000 with at most 3 decimals");
    return true;
}

/* --- values ----------------------------------------------------------------------------------- */

static bool scan_value(struct scan *s);

static bool scan_member(struct scan *s)
{
    skip_blanks(s);
    if (peek(s) == '}')
        return wrong(s, "a comma before the closing bracket; expected another member");
    if (!scan_text(s))
        return false;
    skip_blanks(s);
    if (!take(s, ':'))
        return wrong(s, "no colon after a key; expected one");
    return scan_value(s);
}

static bool scan_object(struct scan *s)
{
    s->at++;
    skip_blanks(s);
    if (take(s, '}'))
        return true;
    do {
        if (!scan_member(s))
            return false;
        skip_blanks(s);
    } while (take(s, ','));
    return take(s, '}') || wrong(s, "no end of the object; expected a comma or a closing brace");
}

static bool scan_array(struct scan *s)
{
    s->at++;
    skip_blanks(s);
    if (take(s, ']'))
        return true;
    do {
        skip_blanks(s);
        if (peek(s) == ']')
            return wrong(s, "a comma before the closing bracket; expected another value");
        if (!scan_value(s))
            return false;
        skip_blanks(s);
    } while (take(s, ','));
    return take(s, ']') || wrong(s, "no end of the list; expected a comma or a closing bracket");
}

static bool scan_word(struct scan *s)
{
    static const char *const words[] = {"true", "false", "null"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        size_t n = strlen(words[i]);
        if (s->n - s->at < n || memcmp(s->text + s->at, words[i], n) != 0)
            continue;
        s->at += n;
        return true;
    }
    int c = peek(s);
    if (c == '/' || c == '#')
        return wrong(s, "a comment; JSON has none");
    if (c == '+' || c == '.')
        return wrong(s, "a broken number; expected a digit or a minus first");
    return wrong(s, "not a JSON value; expected a text in double quotes, a number, an object, "
                    "a list, true, false or null");
}

static bool scan_value(struct scan *s)
{
    skip_blanks(s);
    int c = peek(s);
    if (c == '"' || c == '\'')
        return scan_text(s);
    if (c == '-' || (c >= '0' && c <= '9'))
        return scan_number(s);
    if (c != '{' && c != '[')
        return scan_word(s);
    if (s->depth == JSON_MAX_DEPTH)
        return wrong(s, "too many brackets in brackets; expected at most 32");
    s->depth++;
    bool fine = c == '{' ? scan_object(s) : scan_array(s);
    s->depth--;
    return fine;
}

static bool scan_bytes(struct scan *s)
{
    const char *nul = memchr(s->text, '\0', s->n);
    size_t bad = utf8_valid(s->text, s->n);
    if (nul && (size_t)(nul - s->text) < bad)
        return wrong_at(s, (size_t)(nul - s->text), "a NUL byte; a document cannot hold one");
    return bad == s->n || wrong_at(s, bad, "bytes that are not UTF-8");
}

bool json_scan(const char *text, size_t n, struct err *e)
{
    struct scan s = {text, n, 0, 0, e};
    if (!scan_bytes(&s))
        return false;
    skip_blanks(&s);
    if (s.at == n)
        return err_set(e, ERR_READ, "", "is empty; expected a JSON document");
    if (!scan_value(&s))
        return false;
    skip_blanks(&s);
    return s.at == n || wrong(&s, "more after the end of the document; expected nothing");
}
