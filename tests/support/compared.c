#include "support/compared.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "model/shape.h"

/* What is not the booth. Written down once more, so that a field cannot be forgotten by calling it
 * paper in its shape. */
static bool is_paper(const struct shape *s, const char *key)
{
    static const char *const of_booth[] = {"venue",     "decks",      "found",
                                           "checklist", "step_notes", "line_check"};
    for (size_t i = 0; s == &shape_booth && i < sizeof of_booth / sizeof *of_booth; i++)
        if (strcmp(of_booth[i], key) == 0)
            return true;
    return s == &shape_host && (strcmp(key, "combinations") == 0 || strcmp(key, "minutes") == 0);
}

/* --- items and parts -------------------------------------------------------------------------- */

static bool item_is(const struct shape *s, const void *item, const char *id, const char *other)
{
    return strcmp(field_of(&s->fields[0], item), id) == 0 &&
           (!*other || strcmp(field_of(&s->fields[1], item), other) == 0);
}

/* The place of an item by its id, of a cable by its ends; -1: none. */
static int item_at(const struct field *f, const void *list, const char *id, const char *other)
{
    for (size_t i = 0; i < records_count(list); i++)
        if (item_is(f->shape, records_at(f, list, i), id, other))
            return (int)i;
    return -1;
}

static void *part_of(const struct field *f, const void *record)
{
    void *part;
    memcpy(&part, field_of(f, record), sizeof part);
    return part;
}

static void give_part(const struct field *f, void *record)
{
    void *part = mem_new(1, f->shape->size);
    record_init(f->shape, part);
    memcpy(field_in(f, record), &part, sizeof part);
}

/* --- what a difference names ------------------------------------------------------------------ */

/* A record with the list that it stands in. */
struct spot {
    const struct shape *shape;
    void *record;              /* NULL: not there */
    const struct field *field; /* of the list */
    void *list;
};

static struct spot spot_in(const struct shape *owner, void *record, const char *key, const char *id,
                           const char *other)
{
    const struct field *f = shape_field(owner, key);
    ck_assert_msg(f && f->kind == FIELD_RECORDS, "%s has no list %s", owner->what, key);
    void *list = field_in(f, record);
    int at = item_at(f, list, id, other);
    return (struct spot){f->shape, at < 0 ? NULL : records_at(f, list, (size_t)at), f, list};
}

static struct spot thing_named(struct booth *b, const char *id)
{
    if (strcmp(id, "host") == 0)
        return (struct spot){.shape = &shape_host, .record = &b->host};
    struct spot s = spot_in(&shape_booth, b, "devices", id, "");
    if (!s.record)
        s = spot_in(&shape_booth, b, "hubs", id, "");
    for (size_t i = 0; i < b->devices.n && !s.record; i++)
        s = spot_in(&shape_device, &b->devices.v[i], "strips", id, "");
    return s;
}

/* The spot of a difference's subject; *key becomes what of its field is left to be found there. */
static struct spot named(struct booth *b, const struct difference *d, const char **key)
{
    char owner[ID_SIZE], jack[ID_SIZE], list[FIELD_PATH_SIZE];
    *key = d->field;
    if (*d->other)
        return spot_in(&shape_booth, b, "cables", d->subject, d->other);
    if (!ref_split(d->subject, owner, jack))
        return thing_named(b, d->subject);
    struct spot s = thing_named(b, owner);
    ck_assert_msg(s.record, "%s: there is no %s", d->text, owner);
    snprintf(list, sizeof list, "%.*s", (int)strcspn(d->field, "."), d->field);
    *key += strlen(list) + (d->field[strlen(list)] == '.');
    return spot_in(s.shape, s.record, list, jack, "");
}

/* --- applying --------------------------------------------------------------------------------- */

static const struct field *field_named(const struct shape *s, const char *key,
                                       const struct difference *d)
{
    const struct field *f = shape_field(s, key);
    ck_assert_msg(f, "%s: %s has no %s", d->text, s->what, key);
    return f;
}

static void take_value(const struct shape *s, const char *key, void *to, const void *from)
{
    const struct field *f = shape_field(s, key);
    ck_assert_msg(f, "%s has no %s", s->what, key);
    field_clear(f, field_in(f, to));
    field_copy(f, field_in(f, to), field_of(f, from));
}

/* "card.bits": into the part, which is given or read with its defaults where there is none. */
static void take_part(struct spot to, struct spot from, const char *path,
                      const struct difference *d)
{
    char key[FIELD_PATH_SIZE];
    snprintf(key, sizeof key, "%.*s", (int)strcspn(path, "."), path);
    const struct field *f = field_named(to.shape, key, d);
    void *usual = mem_new(1, f->shape->size);
    record_init(f->shape, usual);
    if (!part_of(f, to.record))
        give_part(f, to.record);
    const void *part = part_of(f, from.record);
    take_value(f->shape, path + strlen(key) + 1, part_of(f, to.record), part ? part : usual);
    record_clear(f->shape, usual);
    mem_free(usual);
}

static void set_field(struct booth *b, struct booth *now, const struct difference *d)
{
    const char *key;
    struct spot to = named(b, d, &key), from = named(now, d, &key);
    ck_assert_msg(to.record && from.record, "%s: there is no %s", d->text, d->subject);
    if (strcmp(d->subject, "host") == 0 && !shape_field(&shape_host, key))
        take_value(&shape_booth, key, b, now);
    else if (strchr(key, '.'))
        take_part(to, from, key, d);
    else
        take_value(to.shape, key, to.record, from.record);
}

static void take_out(struct booth *b, const struct difference *d)
{
    const char *key;
    struct spot s = named(b, d, &key);
    ck_assert_msg(s.record, "%s: there is no %s", d->text, d->subject);
    if (*key) {
        const struct field *f = field_named(s.shape, key, d);
        ck_assert_msg(f->kind == FIELD_OPTION, "%s: %s goes", d->text, key);
        field_clear(f, field_in(f, s.record));
    } else {
        int at = item_at(s.field, s.list, d->subject, d->other);
        char owner[ID_SIZE], jack[ID_SIZE];
        if (at < 0 && ref_split(d->subject, owner, jack))
            at = item_at(s.field, s.list, jack, "");
        records_splice(s.field, s.list, (size_t)at, 1, NULL, 0);
    }
}

/* A strip comes into the mixer that has it now, all else into the list of its kind. */
static void put_in(struct booth *b, struct booth *now, const struct difference *d)
{
    const char *key;
    struct spot from = named(now, d, &key), to = named(b, d, &key);
    const struct device *mixer = NULL;
    ck_assert_msg(from.record, "%s: there is no %s", d->text, d->subject);
    if (*key) {
        take_value(from.shape, key, to.record, from.record);
        return;
    }
    ck_assert_msg(!to.record, "%s: %s is there", d->text, d->subject);
    if (from.shape == &shape_strip && booth_strip(now, d->subject, &mixer))
        to = spot_in(&shape_device, thing_named(b, mixer->id).record, "strips", d->subject, "");
    else if (from.shape == &shape_device || from.shape == &shape_hub)
        to = spot_in(&shape_booth, b, from.field->key, d->subject, "");
    records_splice(to.field, to.list, records_count(to.list), 0, from.record, 1);
}

/* --- names ------------------------------------------------------------------------------------ */

static void rename_in(char *name, size_t size, const struct renamed *names, size_t n)
{
    char rest[REF_SIZE];
    size_t length = strcspn(name, ".");
    snprintf(rest, sizeof rest, "%s", name + length);
    for (size_t i = 0; i < n; i++) {
        if (strlen(names[i].before) != length || strncmp(names[i].before, name, length) != 0)
            continue;
        snprintf(name, size, "%.32s%.33s", names[i].now, rest);
        return;
    }
}

void compared_rename(struct booth *b, const struct renamed *names, size_t n)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        struct device *d = &b->devices.v[i];
        rename_in(d->id, ID_SIZE, names, n);
        if (d->plugged.port)
            rename_in(d->plugged.at, ID_SIZE, names, n);
        for (size_t k = 0; k < d->strips.n; k++)
            rename_in(d->strips.v[k].id, ID_SIZE, names, n);
    }
    for (size_t i = 0; i < b->hubs.n; i++) {
        rename_in(b->hubs.v[i].id, ID_SIZE, names, n);
        rename_in(b->hubs.v[i].plugged.at, ID_SIZE, names, n);
    }
    for (size_t i = 0; i < b->cables.n; i++) {
        rename_in(b->cables.v[i].from, REF_SIZE, names, n);
        rename_in(b->cables.v[i].to, REF_SIZE, names, n);
    }
    for (size_t i = 0; i < b->decks.n; i++) {
        rename_in(b->decks.v[i].wants, REF_SIZE, names, n);
        rename_in(b->decks.v[i].controlled_by, REF_SIZE, names, n);
    }
    for (size_t i = 0; i < b->joined.n; i++) {
        char id[ID_SIZE];
        snprintf(id, sizeof id, "%s", b->joined.v[i]);
        rename_in(id, sizeof id, names, n);
        texts_remove(&b->joined, i);
        texts_insert(&b->joined, i, id);
    }
}

static bool is_past(const struct difference *d)
{
    return d->kind == DIFFERENCE_GONE || d->kind == DIFFERENCE_UNWIRED;
}

struct booth *compared_applied(const struct booth *before, const struct booth *now,
                               const struct comparison *c)
{
    struct booth *b = booth_copy(before), *source = booth_copy(now);
    for (size_t i = 0; i < c->n; i++)
        if (is_past(&c->v[i]))
            take_out(b, &c->v[i]);
    compared_rename(b, c->names, c->n_names);
    for (size_t i = 0; i < c->n; i++) {
        const struct difference *d = &c->v[i];
        if (d->kind == DIFFERENCE_NEW || d->kind == DIFFERENCE_WIRED)
            put_in(b, source, d);
        else if (!is_past(d))
            set_field(b, source, d);
    }
    booth_free(source);
    return b;
}

/* --- alike ------------------------------------------------------------------------------------ */

static bool alike(const struct shape *s, const void *a, const void *b, struct str *where);

static bool items_alike(const struct field *f, const void *a, const void *b, struct str *where)
{
    if (records_count(a) != records_count(b))
        return false;
    for (size_t i = 0; i < records_count(a); i++) {
        const void *item = records_at(f, a, i);
        const char *id = field_of(&f->shape->fields[0], item);
        const char *other = f->shape == &shape_cable ? ((const struct cable *)item)->to : "";
        int at = item_at(f, b, id, other);
        size_t length = where->len;
        str_addf(where, ".%s", id);
        if (at < 0 || !alike(f->shape, item, records_at(f, b, (size_t)at), where))
            return false;
        str_cut(where, length);
    }
    return true;
}

/* No record of what USB says means what is usual. */
static bool parts_alike(const struct field *f, const void *a, const void *b, struct str *where)
{
    const void *x, *y;
    memcpy(&x, a, sizeof x);
    memcpy(&y, b, sizeof y);
    if (!x != !y && f->shape != &shape_usb)
        return false;
    void *usual = mem_new(1, f->shape->size);
    record_init(f->shape, usual);
    bool same = alike(f->shape, x ? x : usual, y ? y : usual, where);
    mem_free(usual);
    return same;
}

static bool values_alike(const struct field *f, const void *a, const void *b, struct str *where)
{
    switch (f->kind) {
    case FIELD_RECORDS:
        return items_alike(f, a, b, where);
    case FIELD_OPTION:
        return parts_alike(f, a, b, where);
    case FIELD_RECORD:
        return alike(f->shape, a, b, where);
    default:
        return field_equal(f, a, b);
    }
}

static bool alike(const struct shape *s, const void *a, const void *b, struct str *where)
{
    for (size_t i = 0; i < s->n; i++) {
        const struct field *f = &s->fields[i];
        size_t length = where->len;
        str_addf(where, "%s%s", length ? "." : "", f->key);
        if (!is_paper(s, f->key) && !values_alike(f, field_of(f, a), field_of(f, b), where))
            return false;
        str_cut(where, length);
    }
    return true;
}

char *compared_unlike(const struct booth *a, const struct booth *b)
{
    struct str where = {0};
    if (!alike(&shape_booth, a, b, &where))
        return str_take(&where);
    str_clear(&where);
    return NULL;
}

void compared_holds(const struct booth *before, const struct booth *now, const char *whom)
{
    struct comparison c = compare_make(before, now);
    struct booth *good = compared_applied(before, now, &c);
    char *where = compared_unlike(good, now);
    ck_assert_msg(!where, "%s: %s was not told", whom, where);
    if (c.n == 0 && c.n_names == 0) {
        where = compared_unlike(before, now);
        ck_assert_msg(!where, "%s: nothing told, but %s differs", whom, where);
    }
    booth_free(good);
    comparison_clear(&c);
}
