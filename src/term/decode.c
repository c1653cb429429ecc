/* Bytes from a terminal become events.
 *
 * Three kinds of bytes come: characters in UTF-8, control characters, and sequences that start
 * with Esc (ECMA-48, section 5.4: ESC [ parameters final). The trouble is Esc itself, which is a
 * key as well: only time tells a lone one from the first byte of a sequence. Over a slow line the
 * rest may still come after that decision; then it is taken for the late rest of its sequence,
 * never for letters that would act as commands.
 *
 * Mouse reports are those of the modes 1002 and 1006 of xterm's control sequences, and of the
 * older form with three bytes. Both say which button moves, or that none is held: a motion with
 * none means that a release was lost outside the window, so it is given as that release. */
#include "term/decode.h"

#include <assert.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "base/utf8.h"

enum {
    LONGEST = 64,    /* bytes after which a sequence is no sequence */
    LATE_MS = 200,   /* how long the rest of a sequence is waited for */
    PASTE_MS = 2000, /* how long a paste may pause before it counts as ended */
    LEARNT_MAX = 48, /* sequences that can be taught */
    SHIFT = 1,       /* modifiers in a sequence are 1 + a set of these bits */
    ESC = 27,
};

struct learnt {
    char rest[16]; /* the sequence after its Esc */
    size_t len;
    int key;
};

struct decode {
    char in[DECODE_CHUNK + LONGEST]; /* what came, from at to end not yet understood */
    size_t at, end;
    bool starved; /* what is left needs more bytes */
    int escape_ms;
    long long fed;        /* when the last bytes came */
    long long late_until; /* until then "[" may be the rest of a sequence */
    bool pasting;
    struct str paste, text; /* as it came; as it is given out */
    int held;               /* the mouse button that is down, 0 for none */
    struct learnt learnt[LEARNT_MAX];
    int learnt_count;
};

/* What became of the bytes at the front. */
enum taken { TAKEN_EVENT, TAKEN_NOTHING, TAKEN_SHORT };

struct bytes {
    const char *s;
    size_t n;
    size_t used; /* how many of them were understood */
};

struct decode *decode_new(int escape_ms)
{
    struct decode *d = mem_new(1, sizeof *d);
    d->escape_ms = escape_ms;
    return d;
}

void decode_free(struct decode *d)
{
    if (!d)
        return;
    str_clear(&d->paste);
    str_clear(&d->text);
    mem_free(d);
}

void decode_learn(struct decode *d, const char *sequence, int key)
{
    if (!sequence || sequence[0] != ESC || !sequence[1] || d->learnt_count == LEARNT_MAX)
        return;
    const char *rest = sequence + 1;
    struct learnt *l = &d->learnt[d->learnt_count];
    if (strlen(rest) >= sizeof l->rest || strcmp(rest, "[") == 0 || strncmp(rest, "[M", 2) == 0 ||
        strncmp(rest, "[<", 2) == 0)
        return;
    strcpy(l->rest, rest);
    l->len = strlen(rest);
    l->key = key;
    d->learnt_count++;
}

void decode_feed(struct decode *d, const char *bytes, size_t n, long long now)
{
    size_t left = d->end - d->at;
    assert(n <= DECODE_CHUNK && left <= LONGEST);
    memmove(d->in, d->in + d->at, left);
    memcpy(d->in + left, bytes, n);
    d->at = 0;
    d->end = left + n;
    d->fed = now;
    d->starved = false;
}

static enum taken give_key(struct event *out, int key)
{
    *out = (struct event){.kind = EVENT_KEY, .key = key};
    return TAKEN_EVENT;
}

/* --- the mouse ------------------------------------------------------------------------------- */

enum {
    BUTTON = 3, /* which button; 3 is none */
    MODIFIERS = 28,
    MOTION = 32,
    WHEEL = 64,
    FARTHER = 66, /* from here on: wheels that tilt, buttons of the thumb */
};

/* code, column and row as in the report; up when it says that a button went up. */
static enum taken take_mouse(struct decode *d, const int report[3], bool up, struct event *out)
{
    int code = report[0] & ~MODIFIERS;
    int button = (code & BUTTON) == BUTTON ? 0 : (code & BUTTON) + 1;
    *out = (struct event){.column = report[1] > 0 ? report[1] - 1 : 0,
                          .row = report[2] > 0 ? report[2] - 1 : 0,
                          .button = button ? button : d->held};
    if (code >= FARTHER)
        return TAKEN_NOTHING;
    if (code & WHEEL) {
        out->kind = EVENT_WHEEL;
        out->key = code & 1 ? 1 : -1;
        out->button = 0;
        return TAKEN_EVENT;
    }
    if (up || !button) {
        out->kind = EVENT_LIFT;
        bool known = out->button != 0;
        d->held = 0;
        return known ? TAKEN_EVENT : TAKEN_NOTHING;
    }
    out->kind = code & MOTION ? EVENT_MOVE : EVENT_PRESS;
    d->held = button;
    return TAKEN_EVENT;
}

/* The old form: "[M" and three bytes, each 32 more than it means. */
static enum taken take_old_mouse(struct decode *d, struct bytes *b, struct event *out)
{
    if (b->n < 5)
        return TAKEN_SHORT;
    int report[3];
    for (int i = 0; i < 3; i++)
        report[i] = (unsigned char)b->s[2 + i] - 32;
    bool whole = report[0] >= 0 && report[1] >= 1 && report[2] >= 1;
    b->used = whole ? 5 : 2;
    return whole ? take_mouse(d, report, false, out) : TAKEN_NOTHING;
}

/* --- keys with sequences ---------------------------------------------------------------------- */

struct named {
    int code, key;
};

/* ESC [ letter and ESC O letter. */
static const struct named letters[] = {
    {'A', K_UP},     {'B', K_DOWN},   {'C', K_RIGHT},   {'D', K_LEFT},
    {'H', K_HOME},   {'F', K_END},    {'Z', K_BACKTAB}, {'P', K_F1},
    {'Q', K_F1 + 1}, {'R', K_F1 + 2}, {'S', K_F1 + 3},  {0, 0},
};

/* ESC [ number ~ */
static const struct named numbers[] = {
    {1, K_HOME},      {2, K_INSERT},  {3, K_DELETE},  {4, K_END},      {5, K_PAGE_UP},
    {6, K_PAGE_DOWN}, {7, K_HOME},    {8, K_END},     {11, K_F1},      {12, K_F1 + 1},
    {13, K_F1 + 2},   {14, K_F1 + 3}, {15, K_F1 + 4}, {17, K_F1 + 5},  {18, K_F1 + 6},
    {19, K_F1 + 7},   {20, K_F1 + 8}, {21, K_F1 + 9}, {23, K_F1 + 10}, {24, K_F1 + 11},
    {0, 0},
};

/* ESC O letter on a number pad that sends its own codes. */
static const struct named number_pad[] = {
    {'M', K_ENTER}, {'j', '*'}, {'k', '+'}, {'l', ','}, {'m', '-'}, {'n', '.'},
    {'o', '/'},     {'p', '0'}, {'q', '1'}, {'r', '2'}, {'s', '3'}, {'t', '4'},
    {'u', '5'},     {'v', '6'}, {'w', '7'}, {'x', '8'}, {'y', '9'}, {0, 0},
};

static int key_named(const struct named *table, int code)
{
    for (; table->code; table++)
        if (table->code == code)
            return table->key;
    return 0;
}

/* Of the modifiers only Shift with an arrow makes another key; the rest are let go. */
static int key_shifted(int key, int modifiers)
{
    bool arrow = key >= K_UP && key <= K_RIGHT;
    return arrow && modifiers > 1 && ((modifiers - 1) & SHIFT) ? key + (K_SHIFT_UP - K_UP) : key;
}

struct csi {
    char mark;    /* "<", "=", ">", "?" in front of the parameters, or 0 */
    int given[3]; /* parameters, 0 where left out */
    int count;
    char final;
};

/* Reads parameters from s up to the final byte at end. Numbers and lists that are longer than any
 * that we know are cut; the sequence then means nothing to us. */
static struct csi csi_read(const char *s, const char *end)
{
    struct csi c = {.final = *end};
    if (*s >= '<' && *s <= '?')
        c.mark = *s++;
    int k = 0;
    for (; s < end; s++) {
        if (*s == ';')
            k++;
        else if (*s >= '0' && *s <= '9' && k < 3 && c.given[k] < 10000)
            c.given[k] = c.given[k] * 10 + (*s - '0');
        else
            c.mark = '!';
    }
    c.count = k + 1;
    return c;
}

static enum taken csi_means(struct decode *d, const struct csi *c, struct event *out)
{
    bool mouse = c->final == 'M' || c->final == 'm';
    if (c->mark == '<' && mouse && c->count == 3)
        return take_mouse(d, c->given, c->final == 'm', out);
    if (c->mark)
        return TAKEN_NOTHING;
    if (c->final == '~' && c->given[0] == 200) {
        d->pasting = true;
        return TAKEN_NOTHING;
    }
    int key = c->final == '~' ? key_named(numbers, c->given[0]) : key_named(letters, c->final);
    return key ? give_key(out, key_shifted(key, c->given[1])) : TAKEN_NOTHING;
}

/* What starts with "[": up to its final byte. A byte that cannot be in a sequence ends it. */
static enum taken take_csi(struct decode *d, struct bytes *b, struct event *out)
{
    if (b->n >= 2 && b->s[1] == 'M')
        return take_old_mouse(d, b, out);
    if (b->n >= 3 && b->s[1] == '[') { /* the Linux console's F1 to F5: "[[A" to "[[E" */
        b->used = 3;
        bool known = b->s[2] >= 'A' && b->s[2] <= 'E';
        return known ? give_key(out, K_F1 + (b->s[2] - 'A')) : TAKEN_NOTHING;
    }
    for (size_t i = 1; i < b->n && i < LONGEST - 1; i++) {
        unsigned char c = (unsigned char)b->s[i];
        bool last = c >= 0x40 && c <= 0x7e && !(c == '[' && i == 1);
        if (last) {
            b->used = i + 1;
            struct csi csi = csi_read(b->s + 1, b->s + i);
            return csi_means(d, &csi, out);
        }
        if (c < 0x20 || c > 0x7e) {
            b->used = i;
            return TAKEN_NOTHING;
        }
    }
    b->used = b->n < LONGEST - 1 ? 0 : LONGEST - 1;
    return b->used ? TAKEN_NOTHING : TAKEN_SHORT;
}

/* What starts with "O": one letter. Anything else: "O" was a letter of its own. */
static enum taken take_ss3(struct bytes *b, struct event *out)
{
    if (b->n < 2)
        return TAKEN_SHORT;
    int key = key_named(letters, b->s[1]);
    if (!key)
        key = key_named(number_pad, b->s[1]);
    b->used = key ? 2 : 0;
    return key ? give_key(out, key) : TAKEN_NOTHING;
}

static enum taken take_learnt(const struct decode *d, struct bytes *b, struct event *out)
{
    enum taken best = TAKEN_NOTHING;
    for (int i = 0; i < d->learnt_count; i++) {
        const struct learnt *l = &d->learnt[i];
        size_t shared = l->len < b->n ? l->len : b->n;
        if (memcmp(l->rest, b->s, shared) != 0)
            continue;
        if (shared == l->len) {
            b->used = l->len;
            return give_key(out, l->key);
        }
        best = TAKEN_SHORT;
    }
    return best;
}

/* The bytes after an Esc. With none used and nothing taken they are no sequence. */
static enum taken take_sequence(struct decode *d, struct bytes *b, struct event *out)
{
    if (!b->n)
        return TAKEN_SHORT;
    enum taken known = take_learnt(d, b, out);
    if (known != TAKEN_NOTHING)
        return known;
    if (b->s[0] == '[')
        return take_csi(d, b, out);
    return b->s[0] == 'O' ? take_ss3(b, out) : TAKEN_NOTHING;
}

/* --- pastes ----------------------------------------------------------------------------------- */

/* The paste as it may be given out: no controls, no broken UTF-8; a break or tab is a blank. */
static void paste_clean(struct decode *d)
{
    const struct str *p = &d->paste;
    str_cut(&d->text, 0);
    for (size_t i = 0; i < p->len;) {
        uint32_t point = 0;
        size_t n = utf8_next(p->text + i, p->len - i, &point);
        bool after_return = i > 0 && p->text[i - 1] == '\r';
        if (point == '\r' || point == '\t' || (point == '\n' && !after_return))
            str_addc(&d->text, ' ');
        else if (n && point >= 0x20 && (point < 0x7f || point > 0x9f))
            str_addn(&d->text, p->text + i, n);
        i += n ? n : 1;
    }
}

static enum taken paste_end(struct decode *d, struct event *out)
{
    paste_clean(d);
    str_cut(&d->paste, 0);
    d->pasting = false;
    *out = (struct event){.kind = EVENT_PASTE, .text = str_text(&d->text)};
    return TAKEN_EVENT;
}

/* Everything up to the end mark is data, whatever it looks like. */
static enum taken take_paste(struct decode *d, struct bytes *b, struct event *out)
{
    static const char mark[] = "\033[201~";
    size_t len = sizeof mark - 1, shared = b->n < len ? b->n : len;
    if (memcmp(b->s, mark, shared) == 0) {
        b->used = shared == len ? len : 0;
        return shared == len ? paste_end(d, out) : TAKEN_SHORT;
    }
    const char *next = memchr(b->s + 1, ESC, b->n - 1);
    b->used = next ? (size_t)(next - b->s) : b->n;
    size_t room = DECODE_PASTE - d->paste.len;
    str_addn(&d->paste, b->s, b->used < room ? b->used : room);
    return TAKEN_NOTHING;
}

/* --- characters, and the whole ---------------------------------------------------------------- */

/* How many bytes a character with this first byte has. */
static size_t utf8_wanted(unsigned char first)
{
    return first < 0xc2 ? 1 : first < 0xe0 ? 2 : first < 0xf0 ? 3 : first < 0xf5 ? 4 : 1;
}

static bool utf8_cut_short(const struct bytes *b)
{
    for (size_t i = 1; i < b->n; i++)
        if (((unsigned char)b->s[i] & 0xc0) != 0x80)
            return false;
    return b->n < utf8_wanted((unsigned char)b->s[0]);
}

/* A character or a control key; bytes that are neither are let go one by one. */
static enum taken take_character(struct bytes *b, struct event *out)
{
    uint32_t point = 0;
    b->used = utf8_next(b->s, b->n, &point);
    if (!b->used && utf8_cut_short(b))
        return TAKEN_SHORT;
    if (!b->used) {
        b->used = 1;
        return TAKEN_NOTHING;
    }
    if (point == 8 || point == 127)
        return give_key(out, K_BACKSPACE);
    bool control = point < 0x20 || (point >= 0x80 && point < 0xa0);
    bool known = !control || (point >= 1 && point <= 26);
    return known ? give_key(out, (int)point) : TAKEN_NOTHING;
}

/* Whether the front may be what is left of a sequence whose Esc was already given as a key. */
static bool is_late(const struct decode *d)
{
    char c = d->in[d->at];
    return d->fed < d->late_until && (c == '[' || c == 'O');
}

static enum taken take_front(struct decode *d, struct event *out)
{
    struct bytes b = {.s = d->in + d->at, .n = d->end - d->at};
    bool esc = b.s[0] == ESC && !d->pasting, late = !esc && !d->pasting && is_late(d);
    enum taken taken = TAKEN_NOTHING;
    if (d->pasting) {
        taken = take_paste(d, &b, out);
    } else if (esc || late) {
        struct bytes rest = {.s = b.s + esc, .n = b.n - esc};
        taken = take_sequence(d, &rest, out);
        b.used = rest.used ? rest.used + esc : 0;
    }
    if (taken == TAKEN_NOTHING && !b.used && esc) {
        b.used = 1;
        taken = give_key(out, K_ESC);
    } else if (taken == TAKEN_NOTHING && !b.used) {
        taken = take_character(&b, out);
    }
    if (taken != TAKEN_SHORT) {
        d->at += b.used;
        d->late_until = 0;
    }
    return taken;
}

bool decode_next(struct decode *d, struct event *out)
{
    while (!d->starved && d->at < d->end) {
        enum taken taken = take_front(d, out);
        if (taken == TAKEN_EVENT)
            return true;
        d->starved = taken == TAKEN_SHORT;
    }
    return false;
}

/* An Esc alone or with one byte, or one byte that may be late: keys of their own after all. */
static bool is_brief(const struct decode *d)
{
    size_t n = d->end - d->at;
    return n == 1 || (n == 2 && d->in[d->at] == ESC);
}

long long decode_due(const struct decode *d)
{
    if (d->at < d->end && !d->starved)
        return 0;
    if (d->pasting)
        return d->fed + PASTE_MS;
    if (d->at == d->end)
        return -1;
    bool lone = d->end - d->at == 1 && d->in[d->at] == ESC;
    return d->fed + (lone ? d->escape_ms : LATE_MS);
}

bool decode_expire(struct decode *d, long long now, struct event *out)
{
    long long due = decode_due(d);
    if (due <= 0 || now < due)
        return false;
    if (d->pasting) {
        d->at = d->end;
        return paste_end(d, out) == TAKEN_EVENT;
    }
    d->starved = false;
    char first = d->in[d->at];
    if (!is_brief(d) || (unsigned char)first >= 0x80) {
        d->at = d->end;
        return false;
    }
    d->at++;
    d->late_until = first == ESC ? now + LATE_MS : 0;
    return give_key(out, first) == TAKEN_EVENT;
}
