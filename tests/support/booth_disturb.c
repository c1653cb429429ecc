/* Each step is thrown on a copy; one that leaves it unsound is thrown again. */
#include "support/booth_disturb.h"

#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "model/shape.h"
#include "model/sound.h"
#include "model/thing.h"
#include "support/booth_from.h"
#include "support/compared.h"

struct dice {
    unsigned long long state;
    struct booth *b;
    struct str *done;
};

static unsigned below(struct dice *d, size_t n)
{
    return random_below(&d->state, (unsigned)n);
}

/* --- fields ----------------------------------------------------------------------------------- */

static int number_in(struct dice *d, const struct field *f)
{
    int room = f->high - f->low, small = room < 12 ? room : 12;
    return f->low + (int)below(d, (size_t)(below(d, 3) ? small : room) + 1);
}

static const char *name_in(struct dice *d)
{
    static const char *const names[] = {"dunlin 2", "2.4",    "Robin", "B",     "i1",
                                        "i2",       "p1.o1",  "x1.o2", "s1.i1", "s2.i2",
                                        "s1",       "x1.in1", "t1.o1", "s3.i1", "p2.o1"};
    return names[below(d, sizeof names / sizeof *names)];
}

static void disturb_ints(struct dice *d, const struct field *f, struct ints *list)
{
    if (list->n && below(d, 2))
        list->n--;
    else
        ints_add(list, f->kind == FIELD_WORDS ? 1 + (int)below(d, 2) : number_in(d, f));
}

static void disturb_refs(struct dice *d, struct texts *list)
{
    if (list->n && below(d, 2))
        texts_remove(list, below(d, list->n));
    else if (d->b->devices.n)
        texts_insert(list, below(d, list->n + 1), d->b->devices.v[below(d, d->b->devices.n)].id);
}

static void disturb_value(struct dice *d, const struct field *f, void *value)
{
    static const struct plug plugs[] = {{"host", 1}, {"host", 2}, {"hub1", 1},
                                        {"hub2", 3}, {"", 0},     {"built-in", 0}};
    switch (f->kind) {
    case FIELD_TEXT:
        text_set((char **)value, below(d, 4) ? name_in(d) : NULL);
        break;
    case FIELD_REF:
        snprintf(value, REF_SIZE, "%s", name_in(d));
        break;
    case FIELD_WORD:
        *(int *)value = (int)below(d, f->words->n);
        break;
    case FIELD_INT:
        *(int *)value = number_in(d, f);
        break;
    case FIELD_BOOL:
        *(bool *)value = !*(bool *)value;
        break;
    case FIELD_PLUG:
        *(struct plug *)value = plugs[below(d, sizeof plugs / sizeof *plugs)];
        break;
    case FIELD_INTS:
    case FIELD_WORDS:
        disturb_ints(d, f, value);
        break;
    case FIELD_REFS:
        disturb_refs(d, value);
        break;
    default:
        break;
    }
}

static void disturb_record(struct dice *d, const struct shape *s, void *record);

static void disturb_items(struct dice *d, const struct field *f, void *list)
{
    size_t n = records_count(list);
    unsigned what = below(d, 8);
    if (n && what == 0) {
        records_splice(f, list, below(d, n), 1, NULL, 0);
    } else if (n && what == 1) {
        void *twin = mem_new(1, f->shape->size);
        record_copy(f->shape, twin, records_at(f, list, below(d, n)));
        snprintf(field_in(&f->shape->fields[0], twin), ID_SIZE, "%s%u",
                 f->shape == &shape_cable ? name_in(d) : "fresh", below(d, 9));
        records_splice(f, list, below(d, n + 1), 0, twin, 1);
        record_clear(f->shape, twin);
        mem_free(twin);
    } else if (n) {
        disturb_record(d, f->shape, records_at(f, list, below(d, n)));
    }
}

/* A part comes or goes, or changes. */
static void disturb_option(struct dice *d, const struct field *f, void *value)
{
    void *part;
    memcpy(&part, value, sizeof part);
    if (part && below(d, 4)) {
        disturb_record(d, f->shape, part);
    } else if (part) {
        field_clear(f, value);
    } else {
        part = mem_new(1, f->shape->size);
        record_init(f->shape, part);
        if (f->shape == &shape_card)
            ((struct card *)part)->out_channels = 1 + (int)below(d, 8);
        memcpy(value, &part, sizeof part);
    }
}

static void disturb_record(struct dice *d, const struct shape *s, void *record)
{
    const struct field *f;
    do
        f = &s->fields[below(d, s->n)];
    while (f->paper || f->kind == FIELD_ID);
    str_addf(d->done, " %s", f->key);
    if (f->kind == FIELD_RECORDS)
        disturb_items(d, f, field_in(f, record));
    else if (f->kind == FIELD_RECORD)
        disturb_record(d, f->shape, field_in(f, record));
    else if (f->kind == FIELD_OPTION)
        disturb_option(d, f, field_in(f, record));
    else
        disturb_value(d, f, field_in(f, record));
}

/* --- things ----------------------------------------------------------------------------------- */

static const char *any_thing(struct dice *d)
{
    struct booth *b = d->b;
    if (b->hubs.n && below(d, 4) == 0)
        return b->hubs.v[below(d, b->hubs.n)].id;
    if (!b->devices.n)
        return "";
    const struct device *v = &b->devices.v[below(d, b->devices.n)];
    return v->strips.n && below(d, 2) ? v->strips.v[below(d, v->strips.n)].id : v->id;
}

/* A thing under another id: a fresh one, or that of a thing that takes its own. */
static void rename_one(struct dice *d)
{
    struct renamed names[2];
    const char *id = any_thing(d), *other = below(d, 2) ? any_thing(d) : "fresh";
    snprintf(names[0].before, ID_SIZE, "%s", id);
    snprintf(names[0].now, ID_SIZE, "%s", other);
    snprintf(names[1].before, ID_SIZE, "%s", other);
    snprintf(names[1].now, ID_SIZE, "%s", id);
    str_addf(d->done, " %s is %s", id, other);
    compared_rename(d->b, names, 2);
}

static void move_strip(struct dice *d)
{
    struct booth *b = d->b;
    const struct field *f = shape_field(&shape_device, "strips");
    if (!b->devices.n)
        return;
    struct device *from = &b->devices.v[below(d, b->devices.n)];
    struct device *to = &b->devices.v[below(d, b->devices.n)];
    if (from == to || !from->strips.n)
        return;
    size_t at = below(d, from->strips.n);
    str_addf(d->done, " %s into %s", from->strips.v[at].id, to->id);
    records_splice(f, &to->strips, below(d, to->strips.n + 1), 0, &from->strips.v[at], 1);
    records_splice(f, &from->strips, at, 1, NULL, 0);
}

static void disturb(struct dice *d)
{
    struct err e;
    char id[ID_SIZE];
    switch (below(d, 12)) {
    case 0:
        snprintf(id, sizeof id, "%s", any_thing(d));
        str_addf(d->done, " no %s", id);
        thing_remove(d->b, id, &e);
        break;
    case 1:
        str_add(d->done, " one more");
        thing_add(d->b, (enum thing)below(d, THING_HUB + 1), NULL, &e);
        break;
    case 2:
    case 3:
        rename_one(d);
        break;
    case 4:
        move_strip(d);
        break;
    default:
        disturb_record(d, &shape_booth, d->b);
    }
}

void booth_disturb(struct booth *b, unsigned seed, unsigned steps, struct str *done)
{
    struct str nobody = {0};
    struct dice d = {.state = seed, .done = done ? done : &nobody};
    for (unsigned throws = 0; steps > 0 && throws < 200; throws++) {
        struct err e;
        size_t length = d.done->len;
        d.b = booth_copy(b);
        disturb(&d);
        if (!booth_equal(b, d.b) && booth_sound(d.b, &e)) {
            record_clear(&shape_booth, b);
            record_copy(&shape_booth, b, d.b);
            steps--;
        } else {
            str_cut(d.done, length);
        }
        booth_free(d.b);
    }
    str_clear(&nobody);
}
