/* Numbers are read as whole or not at all; ranges are those of the shape's row. */
#include "ui/fieldtext.h"

#include <assert.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"

bool fieldtext_is_choice(const struct field *f)
{
    return f->kind == FIELD_WORD || f->kind == FIELD_BOOL;
}

bool fieldtext_is_typed(const struct field *f)
{
    switch (f->kind) {
    case FIELD_TEXT:
    case FIELD_INT:
    case FIELD_MILLI:
    case FIELD_PAIR:
    case FIELD_INTS:
    case FIELD_WORDS:
    case FIELD_PLUG:
    case FIELD_TEXTS:
        return true;
    default:
        return false;
    }
}

static bool read_whole(const char *text, long *n, const char **end)
{
    char *stop;
    errno = 0;
    *n = strtol(text, &stop, 10);
    *end = stop;
    return stop != text && errno == 0;
}

static bool refuse(const struct field *f, const char *text, struct err *e, const char *expected)
{
    return err_set(e, ERR_USAGE, f->title, "\"%.60s\" is not %s", text, expected);
}

static bool read_int(const struct field *f, int *value, const char *text, struct err *e)
{
    long n = f->fallback;
    const char *end = text;
    if (*text && (!read_whole(text, &n, &end) || *end))
        return refuse(f, text, e, "a whole number");
    if (n < f->low || n > f->high)
        return err_set(e, ERR_USAGE, f->title, "%ld is out of range; expected %d to %d", n, f->low,
                       f->high);
    *value = (int)n;
    return true;
}

/* Minutes with up to three decimals, without floating point. */
static bool read_milli(const struct field *f, int *value, const char *text, struct err *e)
{
    long whole = 0, part = 0;
    const char *end = text;
    if (!*text) {
        *value = -1;
        return true;
    }
    if (!read_whole(text, &whole, &end) || whole < 0 || whole > 600)
        return refuse(f, text, e, "minutes from 0 to 600");
    if (*end == '.') {
        int scale = 100;
        for (end++; *end >= '0' && *end <= '9' && scale; end++, scale /= 10)
            part += (*end - '0') * scale;
    }
    if (*end || whole * 1000 + part > f->high)
        return refuse(f, text, e, "minutes from 0 to 600 with at most 3 decimals");
    *value = (int)(whole * 1000 + part);
    return true;
}

static bool read_pair(const struct field *f, struct pair *value, int from, const char *text,
                      struct err *e)
{
    long left = 0, right = 0;
    const char *end = text;
    if (!*text || strcmp(text, "-") == 0) {
        *value = (struct pair){-1, -1};
        return true;
    }
    if (!read_whole(text, &left, &end) || *end != '/' || !read_whole(end + 1, &right, &end) || *end)
        return refuse(f, text, e, "a pair like 2/3");
    left -= from;
    right -= from;
    if (left < 0 || right < 0 || left > f->high || right > f->high)
        return refuse(f, text, e, "a pair that a host can have");
    *value = (struct pair){(int)left, (int)right};
    return true;
}

static bool read_item(const struct field *f, struct ints *l, const char *word, struct err *e)
{
    if (f->kind == FIELD_WORDS) {
        int value = word_find(f->words, word);
        if (value < 0)
            return refuse(f, word, e, f->words->what);
        ints_add(l, value);
        return true;
    }
    int value = 0;
    if (!read_int(f, &value, word, e))
        return false;
    ints_add(l, value);
    return true;
}

static bool read_list(const struct field *f, struct ints *value, const char *text, struct err *e)
{
    struct ints l = {0};
    char *copy = mem_text(text), *state = NULL;
    bool fine = true;
    for (char *w = strtok_r(copy, " ,", &state); w && fine; w = strtok_r(NULL, " ,", &state))
        fine = read_item(f, &l, w, e);
    mem_free(copy);
    if (fine) {
        mem_free(value->v);
        *value = l;
    } else {
        mem_free(l.v);
    }
    return fine;
}

static bool read_texts(struct texts *value, const char *text)
{
    texts_clear(value);
    char *copy = mem_text(text), *state = NULL;
    for (char *w = strtok_r(copy, ",", &state); w; w = strtok_r(NULL, ",", &state)) {
        while (*w == ' ')
            w++;
        if (*w)
            texts_add(value, w);
    }
    mem_free(copy);
    return true;
}

static bool read_plug(const struct field *f, struct plug *value, const char *text, struct err *e)
{
    const char *dot = strrchr(text, '.'), *end = "";
    long port = 0;
    if (!*text || strcmp(text, "built-in") == 0) {
        *value = (struct plug){0};
        strcpy(value->at, text);
        return true;
    }
    if (!dot || dot - text >= ID_SIZE || !read_whole(dot + 1, &port, &end) || *end || port < 1 ||
        port > 9999)
        return refuse(f, text, e, "a port like host.1 or hub1.2");
    *value = (struct plug){.port = (int)port};
    memcpy(value->at, text, (size_t)(dot - text));
    return true;
}

static bool read_text(const struct field *f, char **value, const char *text, struct err *e)
{
    if (f->required && !*text)
        return refuse(f, text, e, "a name");
    if (f->high && strlen(text) > (size_t)f->high)
        return err_set(e, ERR_USAGE, f->title, "is too long; expected at most %d bytes", f->high);
    text_set(value, text);
    return true;
}

bool fieldtext_read(const struct field *f, void *value, int from, const char *text, struct err *e)
{
    switch (f->kind) {
    case FIELD_TEXT:
        return read_text(f, value, text, e);
    case FIELD_INT:
        return read_int(f, value, text, e);
    case FIELD_MILLI:
        return read_milli(f, value, text, e);
    case FIELD_PAIR:
        return read_pair(f, value, from, text, e);
    case FIELD_INTS:
    case FIELD_WORDS:
        return read_list(f, value, text, e);
    case FIELD_PLUG:
        return read_plug(f, value, text, e);
    case FIELD_TEXTS:
        return read_texts(value, text);
    case FIELD_REF:
        if (strlen(text) >= REF_SIZE)
            return refuse(f, text, e, "a name of something in the booth");
        strcpy(value, text);
        return true;
    default:
        assert(false && "not a field to type");
        return false;
    }
}

void fieldtext_turn(const struct field *f, void *value, int step)
{
    if (f->kind == FIELD_BOOL) {
        *(bool *)value = !*(bool *)value;
        return;
    }
    int n = (int)f->words->n, *word = value;
    do {
        *word = (*word + step + n) % n;
    } while (f->required && !word_file(f->words, *word));
}
