/* The sentences of differences. The well-known fields have words of their own; any other is said
 * by its title: "P1's sound card: rates: 44100 48000 Hz, was 44100 Hz". */
#include <string.h>

#include "engine/compare_parts.h"
#include "model/say.h"

static const char *const words[] = {
    [DIFFERENCE_GONE] = "gone",       [DIFFERENCE_NEW] = "new",
    [DIFFERENCE_MODEL] = "model",     [DIFFERENCE_FIRMWARE] = "firmware",
    [DIFFERENCE_MOVED] = "moved",     [DIFFERENCE_LABEL] = "label",
    [DIFFERENCE_UNWIRED] = "unwired", [DIFFERENCE_WIRED] = "wired",
    [DIFFERENCE_SIDES] = "sides",     [DIFFERENCE_SELECTOR] = "selector",
    [DIFFERENCE_SWITCH] = "switch",   [DIFFERENCE_SOURCE] = "source",
    [DIFFERENCE_LEAD] = "lead",       [DIFFERENCE_IN_USE] = "in-use",
    [DIFFERENCE_JOINED] = "joined",   [DIFFERENCE_FIELD] = "field",
};

const char *difference_word(enum difference_kind kind)
{
    return words[kind];
}

/* --- fields ----------------------------------------------------------------------------------- */

static const struct saying {
    const char *key;
    enum difference_kind kind;
    const char *words; /* before the value; "" for none */
} sayings[] = {
    {"model", DIFFERENCE_MODEL, "model"},
    {"family", DIFFERENCE_MODEL, "family"},
    {"firmware", DIFFERENCE_FIRMWARE, "firmware"},
    {"place", DIFFERENCE_MOVED, "stands in place"},
    {"label", DIFFERENCE_LABEL, "is labelled"},
    {"sides", DIFFERENCE_SIDES, ""},
    {"selected", DIFFERENCE_SELECTOR, "is switched to"},
    {"level", DIFFERENCE_SWITCH, "stands on"}, /* of an input with a switch */
    {"source", DIFFERENCE_SOURCE, "source"},
    {"plugged", DIFFERENCE_LEAD, "data lead in"},
    {"in_use", DIFFERENCE_IN_USE, "in use by"},
    {"joined", DIFFERENCE_JOINED, "in the interface:"},
};

static const struct saying *saying_of(const char *key)
{
    for (size_t i = 0; i < sizeof sayings / sizeof *sayings; i++)
        if (strcmp(sayings[i].key, key) == 0)
            return &sayings[i];
    return NULL;
}

enum difference_kind compare_kind(const struct shape *s, const struct field *f, const void *record)
{
    const struct saying *known = saying_of(f->key);
    if (!known)
        return DIFFERENCE_FIELD;
    bool turns = s == &shape_input && ((const struct input *)record)->levels.n;
    return known->kind == DIFFERENCE_SWITCH && !turns ? DIFFERENCE_FIELD : known->kind;
}

/* What is shown for no value at all. */
static const char *empty_word(const struct field *f)
{
    return strcmp(f->key, "in_use") == 0 ? "nobody"
           : f->kind == FIELD_REFS       ? "nothing"
                                         : "not told";
}

/* A value, with the unit that its title ends in ("rates, Hz"). */
static void say_shown(const struct booth *b, const struct field *f, const void *value,
                      struct str *out)
{
    size_t from = out->len;
    const char *unit = strstr(f->title, ", ");
    if (f->kind == FIELD_PLUG)
        say_plug(b, value, out);
    else if (f->kind == FIELD_REFS)
        say_labels(b, value, out);
    else
        say_value(f, value, 0, out);
    if (out->len == from)
        str_add(out, empty_word(f));
    else if (unit)
        str_addf(out, " %s", unit + 2);
}

void compare_say_field(const struct booth *const booths[2], const struct field *f,
                       const void *const values[2], enum difference_kind kind, struct str *out)
{
    struct str was = {0}, is = {0};
    say_shown(booths[0], f, values[0], &was);
    say_shown(booths[1], f, values[1], &is);
    if (kind == DIFFERENCE_FIELD)
        str_addf(out, "%.*s: ", (int)strcspn(f->title, ","), f->title);
    else if (*saying_of(f->key)->words)
        str_addf(out, "%s ", saying_of(f->key)->words);
    str_add(out, str_text(&is));
    if (strcmp(str_text(&was), str_text(&is)) != 0)
        str_addf(out, "%s was%s %s", f->kind == FIELD_REFS ? ";" : ",",
                 f->kind == FIELD_REFS ? ":" : "", str_text(&was));
    else
        str_add(out, ", another than before");
    str_clear(&was);
    str_clear(&is);
}

/* --- subjects --------------------------------------------------------------------------------- */

void compare_say_subject(const struct booth *b, const struct subject *s, struct str *out)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    if (s->shape == &shape_cable) {
        str_add(out, "the cable from ");
        say_jack(b, s->name, out);
        str_add(out, " to ");
        say_jack(b, s->other, out);
    } else if (ref_split(s->name, owner, jack)) {
        say_thing(b, owner, out);
        str_addf(out, "'s %s %s", jack, s->shape == &shape_output ? "output" : "input");
    } else {
        say_thing(b, s->name, out);
        if (s->part)
            str_addf(out, "'s %s", s->part->title);
    }
}
