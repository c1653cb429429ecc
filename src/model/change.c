/* Making changes: a row for each kind of change, and one way to carry any of them out.
 *
 *   copy the booth -> make the changes on the copy -> is it sound? -> it becomes the booth
 *
 * So a refused change leaves nothing half done, and no maker needs to clean up behind itself. The
 * makers of wires and switches are in change_wires.c; how changes are told is in change_say.c. */
#include "model/change.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/utf8.h"
#include "model/change_make.h"
#include "model/shape.h"
#include "model/sound.h"

/* --- changes as values ------------------------------------------------------------------------ */

void changes_add(struct changes *c, struct change change)
{
    c->v = mem_grow(c->v, &c->cap, c->n + 1, sizeof *c->v);
    c->v[c->n++] = change;
}

void changes_clear(struct changes *c)
{
    mem_free(c->v);
    *c = (struct changes){0};
}

/* Copies as many whole characters as fit. */
static void set_name(char name[REF_SIZE], const char *text)
{
    size_t n = 0, length = text ? strlen(text) : 0;
    uint32_t point;
    while (n < length) {
        size_t step = utf8_next(text + n, length - n, &point);
        step += step == 0; /* not UTF-8: a byte is a character */
        if (n + step >= REF_SIZE)
            break;
        n += step;
    }
    if (n)
        memcpy(name, text, n);
    name[n] = '\0';
}

struct change change_of(enum change_do what, const char *a, const char *b)
{
    struct change c = {.what = what, .pair = {-1, -1}};
    set_name(c.a, a);
    set_name(c.b, b);
    return c;
}

/* --- finding what a change names -------------------------------------------------------------- */

bool change_absent(struct err *e, const char *what, const char *name)
{
    return err_set(e, ERR_USAGE, "", "there is no %s \"%s\"", what, name);
}

struct device *change_device(struct booth *b, const char *id, struct err *e)
{
    const struct device *d = booth_device(b, id);
    if (d)
        return &b->devices.v[d - b->devices.v];
    change_absent(e, "device", id);
    return NULL;
}

struct strip *change_strip(struct booth *b, const char *id, struct err *e)
{
    const struct device *mixer;
    const struct strip *s = booth_strip(b, id, &mixer);
    if (s)
        return &b->devices.v[mixer - b->devices.v].strips.v[s - mixer->strips.v];
    change_absent(e, "strip", id);
    return NULL;
}

struct deck *change_deck(struct booth *b, const char *id, struct err *e)
{
    const struct deck *d = booth_deck(b, id);
    if (d)
        return &b->decks.v[d - b->decks.v];
    change_absent(e, "host deck", id);
    return NULL;
}

struct input *change_input(struct booth *b, const char *name, struct err *e)
{
    struct in_end end;
    if (!booth_input(b, name, &end)) {
        change_absent(e, "input", name);
        return NULL;
    }
    struct device *d = &b->devices.v[end.device - b->devices.v];
    if (!end.strip)
        return &d->inputs.v[end.input - d->inputs.v];
    struct strip *s = &d->strips.v[end.strip - d->strips.v];
    return &s->inputs.v[end.input - s->inputs.v];
}

void change_name(char ref[REF_SIZE], const char *name)
{
    memmove(ref, name, strlen(name) + 1);
}

/* --- decks ------------------------------------------------------------------------------------ */

static bool make_want(struct booth *b, const struct change *c, struct err *e)
{
    struct deck *deck = change_deck(b, c->a, e);
    if (!deck || (*c->b && !change_strip(b, c->b, e)))
        return false;
    char before[REF_SIZE];
    change_name(before, deck->wants);
    for (size_t i = 0; i < b->decks.n && *c->b; i++) {
        struct deck *other = &b->decks.v[i];
        if (other == deck || strcmp(other->wants, c->b) != 0)
            continue;
        change_name(other->wants, strcmp(before, c->b) == 0 ? "" : before);
        before[0] = '\0';
    }
    change_name(deck->wants, c->b);
    return true;
}

static bool make_set(struct booth *b, const struct change *c, struct err *e)
{
    struct deck *deck = change_deck(b, c->a, e);
    bool none = c->pair.left < 0;
    if (!deck)
        return false;
    if (!none && (c->pair.left > MAX_CHANNEL || c->pair.right < 0 || c->pair.right > MAX_CHANNEL))
        return err_set(e, ERR_USAGE, "", "%d/%d is no pair: the host counts from 0 to %d",
                       c->pair.left, c->pair.right, MAX_CHANNEL);
    deck->set_to = none ? (struct pair){-1, -1} : c->pair;
    return true;
}

static bool make_control(struct booth *b, const struct change *c, struct err *e)
{
    struct deck *deck = change_deck(b, c->a, e);
    const struct device *by = deck && *c->b ? change_device(b, c->b, e) : NULL;
    if (!deck || (*c->b && !by))
        return false;
    if (by && (by->kind == KIND_MIXER || by->kind == KIND_INTERFACE))
        return err_set(e, ERR_USAGE, "", "%s cannot control a deck: it is %s %s", by->label,
                       by->kind == KIND_MIXER ? "a" : "an",
                       word_people(&words_device_kind, (int)by->kind));
    change_name(deck->controlled_by, c->b);
    return true;
}

static void swap_bytes(void *a, void *b, size_t n)
{
    unsigned char *x = a, *y = b;
    for (size_t i = 0; i < n; i++) {
        unsigned char byte = x[i];
        x[i] = y[i];
        y[i] = byte;
    }
}

static bool swap_strips(struct booth *b, const struct change *c, struct err *e)
{
    struct strip *x = change_strip(b, c->a, e), *y = x ? change_strip(b, c->b, e) : NULL;
    const struct device *of_x, *of_y;
    if (!y)
        return false;
    booth_strip(b, c->a, &of_x);
    booth_strip(b, c->b, &of_y);
    if (of_x != of_y)
        return err_set(e, ERR_USAGE, "", "strips of two mixers cannot exchange their places");
    swap_bytes(&x->place, &y->place, sizeof x->place);
    if (x->place == y->place && x != y)
        swap_bytes(x, y, sizeof *x);
    return true;
}

/* Of two in the same place, the file's order tells which is further left: so that is exchanged. */
static bool make_place(struct booth *b, const struct change *c, struct err *e)
{
    if (booth_strip(b, c->a, NULL))
        return swap_strips(b, c, e);
    struct device *x = change_device(b, c->a, e), *y = x ? change_device(b, c->b, e) : NULL;
    if (!y)
        return false;
    if (x->kind != y->kind)
        return err_set(e, ERR_USAGE, "", "places count within a kind: %s is a %s, %s a %s",
                       x->label, word_people(&words_device_kind, (int)x->kind), y->label,
                       word_people(&words_device_kind, (int)y->kind));
    swap_bytes(&x->place, &y->place, sizeof x->place);
    if (x->place == y->place && x != y)
        swap_bytes(x, y, sizeof *x);
    return true;
}

static bool make_in_use(struct booth *b, const struct change *c, struct err *e)
{
    if (booth_strip(b, c->a, NULL)) {
        text_set(&change_strip(b, c->a, e)->in_use, c->b);
        return true;
    }
    struct device *d = change_device(b, c->a, e);
    if (d)
        text_set(&d->in_use, c->b);
    return d != NULL;
}

static bool make_label(struct booth *b, const struct change *c, struct err *e)
{
    const struct hub *hub = booth_hub(b, c->a);
    if (strlen(c->b) > LABEL_MAX)
        return err_set(e, ERR_USAGE, "", "a label has at most %d bytes", LABEL_MAX);
    if (!*c->b && !hub)
        return err_set(e, ERR_USAGE, "", "a label cannot be empty");
    if (hub)
        text_set(&b->hubs.v[hub - b->hubs.v].label, c->b);
    else if (booth_strip(b, c->a, NULL))
        text_set(&change_strip(b, c->a, e)->label, c->b);
    else if (booth_deck(b, c->a))
        text_set(&change_deck(b, c->a, e)->label, c->b);
    else if (booth_device(b, c->a))
        text_set(&change_device(b, c->a, e)->label, c->b);
    else
        return change_absent(e, "device, strip, deck or hub", c->a);
    return true;
}

static bool make_model(struct booth *b, const struct change *c, struct err *e)
{
    static const char *const told[] = {"model",        "family", "firmware",
                                       "firmware_min", "card",   "usb"};
    struct device *d = change_device(b, c->a, e);
    const struct device *like = d ? change_device(b, c->b, e) : NULL;
    if (!like || d == like)
        return like != NULL;
    if (d->kind != like->kind)
        return err_set(e, ERR_USAGE, "", "%s and %s are of two kinds", d->label, like->label);
    for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
        const struct field *f = shape_field(&shape_device, told[i]);
        field_clear(f, field_in(f, d));
        field_copy(f, field_in(f, d), field_of(f, like));
    }
    return true;
}

/* --- things and the host ---------------------------------------------------------------------- */

static bool make_add(struct booth *b, const struct change *c, struct err *e)
{
    if (c->number < THING_PLAYER || c->number > THING_HUB)
        return err_set(e, ERR_USAGE, "", "there is no such kind of thing");
    return thing_add(b, (enum thing)c->number, c->a, e);
}

static bool make_remove(struct booth *b, const struct change *c, struct err *e)
{
    return thing_remove(b, c->a, e);
}

static bool make_rate(struct booth *b, const struct change *c, struct err *e)
{
    const struct field *f = shape_field(&shape_host, "rate_hz");
    if (c->number < f->low || c->number > f->high)
        return err_set(e, ERR_USAGE, "", "%d Hz is no rate: expected %d to %d", c->number, f->low,
                       f->high);
    b->host.rate_hz = c->number;
    return true;
}

static bool make_drift(struct booth *b, const struct change *c, struct err *e)
{
    (void)e;
    b->host.drift_correction = c->number != 0;
    return true;
}

static void count_word(size_t n, struct str *out)
{
    static const char *const words[] = {"no",    "one",   "two",  "three", "four",   "five",  "six",
                                        "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    if (n < sizeof words / sizeof *words)
        str_add(out, words[n]);
    else
        str_addf(out, "%zu", n);
}

/* "two dunlin 2, one plover 3": equal neighbours are counted together. */
static void name_combination(struct combination *c)
{
    struct str name = {0};
    for (size_t i = 0; i < c->models.n;) {
        size_t n = 1;
        while (i + n < c->models.n && strcmp(c->models.v[i], c->models.v[i + n]) == 0)
            n++;
        if (i)
            str_add(&name, ", ");
        count_word(n, &name);
        str_addf(&name, " %s", *c->models.v[i] ? c->models.v[i] : "of no model");
        i += n;
    }
    text_set(&c->name, str_text(&name));
    str_clear(&name);
}

static bool make_combine(struct booth *b, const struct change *c, struct err *e)
{
    (void)c;
    const struct field *f = shape_field(&shape_host, "combinations");
    const struct field *models = shape_field(&shape_combination, "models");
    if (b->joined.n < 2)
        return err_set(e, ERR_USAGE, "", "a combination needs at least two joined devices");
    struct combination *fresh = records_add(f, &b->host.combinations);
    for (size_t i = 0; i < b->joined.n; i++) {
        const struct device *d = booth_device(b, b->joined.v[i]);
        if (!d->model)
            return err_set(e, ERR_USAGE, "", "the model of %s is not told yet", d->label);
        texts_add(&fresh->models, d->model);
    }
    for (size_t i = 0; i + 1 < b->host.combinations.n; i++)
        if (field_equal(models, &b->host.combinations.v[i].models, &fresh->models))
            return err_set(e, ERR_USAGE, "", "a combination of these models is saved already");
    name_combination(fresh);
    return true;
}

/* --- the checklist ---------------------------------------------------------------------------- */

static bool make_tick(struct booth *b, const struct change *c, struct err *e)
{
    if (!*c->a)
        return change_absent(e, "step", c->a);
    if (c->number)
        map_set(&b->checklist, c->a, "done");
    else
        map_remove(&b->checklist, c->a);
    return true;
}

static bool make_note(struct booth *b, const struct change *c, struct err *e)
{
    if (!*c->a)
        return change_absent(e, "step", c->a);
    if (*c->b)
        map_set(&b->step_notes, c->a, c->b);
    else
        map_remove(&b->step_notes, c->a);
    return true;
}

/* --- carrying out ----------------------------------------------------------------------------- */

static bool make_nothing(struct booth *b, const struct change *c, struct err *e)
{
    (void)b, (void)c, (void)e;
    return true;
}

static bool (*const makers[])(struct booth *b, const struct change *c, struct err *e) = {
    [CHANGE_NONE] = make_nothing,
    [CHANGE_WANT] = make_want,
    [CHANGE_SET] = make_set,
    [CHANGE_CONTROL] = make_control,
    [CHANGE_SELECT] = change_make_select,
    [CHANGE_SWITCH] = change_make_switch,
    [CHANGE_CABLE] = change_make_cable,
    [CHANGE_CABLE_MOVE] = change_make_cable_move,
    [CHANGE_CABLE_FROM] = change_make_cable_from,
    [CHANGE_UNCABLE] = change_make_uncable,
    [CHANGE_SOURCE] = change_make_source,
    [CHANGE_JOIN] = change_make_join,
    [CHANGE_LEAVE] = change_make_leave,
    [CHANGE_ORDER] = change_make_order,
    [CHANGE_PLUG] = change_make_plug,
    [CHANGE_PLACE] = make_place,
    [CHANGE_IN_USE] = make_in_use,
    [CHANGE_LABEL] = make_label,
    [CHANGE_MODEL] = make_model,
    [CHANGE_ADD] = make_add,
    [CHANGE_REMOVE] = make_remove,
    [CHANGE_RATE] = make_rate,
    [CHANGE_DRIFT] = make_drift,
    [CHANGE_COMBINE] = make_combine,
    [CHANGE_TICK] = make_tick,
    [CHANGE_NOTE] = make_note,
};

bool change_try(struct booth *b, const struct change *c, struct err *e)
{
    assert((size_t)c->what < sizeof makers / sizeof *makers);
    return makers[c->what](b, c, e);
}

static bool make_all(struct booth *b, const struct change *v, size_t n, struct err *e)
{
    struct booth *next = booth_copy(b);
    struct err unsound;
    bool made = true;
    for (size_t i = 0; i < n && made; i++)
        made = change_try(next, &v[i], e);
    if (made && !booth_sound(next, &unsound))
        made = err_set(e, ERR_USAGE, "", "that cannot be: %s %s", unsound.place, unsound.says);
    if (made) {
        struct booth before = *b;
        *b = *next;
        *next = before;
    }
    booth_free(next);
    return made;
}

bool change_make(struct booth *b, const struct change *c, struct err *e)
{
    return make_all(b, c, 1, e);
}

bool changes_make(struct booth *b, const struct changes *c, struct err *e)
{
    return make_all(b, c->v, c->n, e);
}
