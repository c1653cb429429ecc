/* A survey is a copy of what hands can change, by name. */
#include "model/found.h"

#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "model/shape.h"

static void keep_plug(struct found *f, const char *id, const struct plug *p)
{
    struct str text = {0};
    str_add(&text, p->at);
    if (p->port)
        str_addf(&text, ".%d", p->port);
    map_set(&f->plugged, id, text.len ? str_text(&text) : NULL);
    str_clear(&text);
}

static void keep_inputs(struct found *f, const char *owner, const struct inputs *inputs)
{
    for (size_t i = 0; i < inputs->n; i++) {
        char name[REF_SIZE];
        snprintf(name, sizeof name, "%s.%s", owner, inputs->v[i].id);
        if (inputs->v[i].levels.n)
            map_set(&f->level, name, word_file(&words_level, (int)inputs->v[i].level));
    }
}

static void keep_device(struct found *f, const struct device *d)
{
    if (d->kind == KIND_PLAYER)
        map_set(&f->source, d->id, word_file(&words_source, (int)d->source));
    keep_plug(f, d->id, &d->plugged);
    keep_inputs(f, d->id, &d->inputs);
    for (size_t i = 0; i < d->strips.n; i++) {
        map_set(&f->selected, d->strips.v[i].id, d->strips.v[i].selected);
        keep_inputs(f, d->strips.v[i].id, &d->strips.v[i].inputs);
    }
}

struct found *found_of(const struct booth *b)
{
    struct found *f = mem_new(1, sizeof *f);
    record_init(&shape_found, f);
    const struct field *cables = shape_field(&shape_found, "cables");
    if (b->cables.n)
        records_splice(cables, &f->cables, 0, 0, b->cables.v, b->cables.n);
    for (size_t i = 0; i < b->devices.n; i++)
        keep_device(f, &b->devices.v[i]);
    for (size_t i = 0; i < b->hubs.n; i++)
        keep_plug(f, b->hubs.v[i].id, &b->hubs.v[i].plugged);
    return f;
}

void found_free(struct found *f)
{
    if (!f)
        return;
    record_clear(&shape_found, f);
    mem_free(f);
}

void found_keep(struct booth *b)
{
    struct found *f = found_of(b);
    found_free(b->found);
    b->found = f;
}

/* Whether a name that both have stands otherwise. */
static bool differs(const struct map *a, const struct map *b)
{
    for (size_t i = 0; i < a->n; i++) {
        const struct entry *other = map_find(b, a->v[i].key);
        const char *x = a->v[i].value, *y = other ? other->value : NULL;
        if (other && strcmp(x ? x : "", y ? y : "") != 0)
            return true;
    }
    return false;
}

bool found_keep_before(const struct booth *now, struct booth *next)
{
    if (now->found || next->found)
        return false;
    struct found *before = found_of(now), *after = found_of(next);
    bool moved = !field_equal(shape_field(&shape_found, "cables"), &before->cables,
                              &after->cables) ||
                 differs(&before->selected, &after->selected) ||
                 differs(&before->level, &after->level) ||
                 differs(&before->source, &after->source) ||
                 differs(&before->plugged, &after->plugged);
    found_free(after);
    if (moved)
        next->found = before;
    else
        found_free(before);
    return moved;
}
