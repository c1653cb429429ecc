/* Differences of booths, part by part: what is equal at the front and at the end of a list stays,
 * the middle is one splice. */
#include "model/edit.h"

#include <assert.h>

#include "base/mem.h"

static void *copy_values(const struct field *part, const void *from, size_t n)
{
    bool records = part->kind == FIELD_RECORDS;
    size_t size = records ? part->shape->size : field_size(part);
    char *copy = mem_new(records ? n : 1, size);
    if (!records)
        field_copy(part, copy, from);
    for (size_t i = 0; records && i < n; i++)
        record_copy(part->shape, copy + i * size, (const char *)from + i * size);
    return copy;
}

static void free_values(const struct field *part, void *values, size_t n)
{
    if (!values)
        return;
    if (part->kind != FIELD_RECORDS)
        field_clear(part, values);
    for (size_t i = 0; part->kind == FIELD_RECORDS && i < n; i++)
        record_clear(part->shape, (char *)values + i * part->shape->size);
    mem_free(values);
}

void edits_add(struct edits *e, struct edit edit)
{
    size_t cap = e->n;
    e->v = mem_grow(e->v, &cap, e->n + 1, sizeof *e->v);
    edit.before = edit.before ? copy_values(edit.part, edit.before, edit.out) : NULL;
    edit.after = edit.after ? copy_values(edit.part, edit.after, edit.in) : NULL;
    e->v[e->n++] = edit;
}

void edits_clear(struct edits *e)
{
    for (size_t i = 0; i < e->n; i++) {
        free_values(e->v[i].part, e->v[i].before, e->v[i].out);
        free_values(e->v[i].part, e->v[i].after, e->v[i].in);
    }
    mem_free(e->v);
    *e = (struct edits){0};
}

static void add_splice(struct edits *e, const struct field *f, const void *a, const void *b)
{
    size_t na = records_count(a), nb = records_count(b), front = 0, back = 0;
    size_t least = na < nb ? na : nb;
    while (front < least &&
           record_equal(f->shape, records_at(f, a, front), records_at(f, b, front)))
        front++;
    while (back < least - front &&
           record_equal(f->shape, records_at(f, a, na - 1 - back), records_at(f, b, nb - 1 - back)))
        back++;
    size_t out = na - front - back, in = nb - front - back;
    edits_add(e, (struct edit){.part = f,
                               .at = front,
                               .out = out,
                               .in = in,
                               .before = out ? records_at(f, a, front) : NULL,
                               .after = in ? records_at(f, b, front) : NULL});
}

struct edits edits_between(const struct booth *from, const struct booth *to)
{
    struct edits e = {0};
    for (size_t i = 0; i < shape_booth.n; i++) {
        const struct field *f = &shape_booth.fields[i];
        const void *a = field_of(f, from), *b = field_of(f, to);
        if (field_equal(f, a, b))
            continue;
        if (f->kind == FIELD_RECORDS) {
            add_splice(&e, f, a, b);
            continue;
        }
        struct edit whole = {.part = f};
        whole.before = copy_values(f, a, 0);
        whole.after = copy_values(f, b, 0);
        edits_add(&e, whole);
        free_values(f, whole.before, 0);
        free_values(f, whole.after, 0);
    }
    return e;
}

static void replace(struct booth *b, const struct edit *e, bool forward)
{
    void *value = field_in(e->part, b);
    const void *with = forward ? e->after : e->before;
    if (e->part->kind == FIELD_RECORDS) {
        size_t out = forward ? e->out : e->in, in = forward ? e->in : e->out;
        assert(with || in == 0);
        records_splice(e->part, value, e->at, out, with, in);
        return;
    }
    assert(with);
    field_clear(e->part, value);
    field_copy(e->part, value, with);
}

void edits_apply(struct booth *b, const struct edits *e)
{
    for (size_t i = 0; i < e->n; i++)
        replace(b, &e->v[i], true);
}

void edits_undo(struct booth *b, const struct edits *e)
{
    for (size_t i = e->n; i-- > 0;)
        replace(b, &e->v[i], false);
}

bool edits_fit(const struct booth *b, const struct edits *e)
{
    for (size_t i = 0; i < e->n; i++) {
        const struct edit *d = &e->v[i];
        if (d->part->kind != FIELD_RECORDS)
            continue;
        /* at most one splice a part in one group: counts are those of the booth as it is */
        size_t n = records_count(field_of(d->part, b));
        if (d->at > n || d->out > n - d->at)
            return false;
        for (size_t k = 0; k < i; k++)
            if (e->v[k].part == d->part)
                return false;
    }
    return true;
}
