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

static const char *text_of(const struct entry *e)
{
    return e && e->value ? e->value : "";
}

/* Keeps the value before of whatever both have, stands otherwise now and is not kept yet; NULL:
 * keeps nothing. Whether there is such a thing. */
static bool note_change(const struct map *before, const struct map *after, struct map *kept)
{
    bool any = false;
    for (size_t i = 0; i < before->n; i++) {
        const struct entry *was = &before->v[i], *is = map_find(after, was->key);
        if (!is || strcmp(text_of(was), text_of(is)) == 0 || (kept && map_find(kept, was->key)))
            continue;
        any = true;
        if (kept)
            map_set(kept, was->key, was->value);
    }
    return any;
}

static bool note_changes(const struct found *before, const struct found *after, struct found *kept)
{
    bool selected = note_change(&before->selected, &after->selected, kept ? &kept->selected : NULL);
    bool level = note_change(&before->level, &after->level, kept ? &kept->level : NULL);
    bool source = note_change(&before->source, &after->source, kept ? &kept->source : NULL);
    bool plugged = note_change(&before->plugged, &after->plugged, kept ? &kept->plugged : NULL);
    return selected || level || source || plugged;
}

/* Keeps now as it was found, if next is different and keeps nothing; a survey that does not name
 * what is different is completed. */
static bool keep_before(const struct booth *now, struct booth *next)
{
    struct found *before = found_of(now), *after = found_of(next);
    bool moved = note_changes(before, after, next->found);
    if (!now->found && !next->found &&
        (moved ||
         !field_equal(shape_field(&shape_found, "cables"), &before->cables, &after->cables))) {
        next->found = before;
        before = NULL;
        moved = true;
    } else {
        moved = moved && next->found;
    }
    found_free(before);
    found_free(after);
    return moved;
}

static bool cabled(const struct found *f, const char *id)
{
    char from[ID_SIZE], to[ID_SIZE], jack[ID_SIZE];
    for (size_t i = 0; i < f->cables.n; i++)
        if ((ref_split(f->cables.v[i].from, from, jack) && strcmp(from, id) == 0) ||
            (ref_split(f->cables.v[i].to, to, jack) && strcmp(to, id) == 0))
            return true;
    return false;
}

/* Notes what a thing was called if the survey names it and the booth has it no more. */
static void note_gone(struct booth *b, const char *id, const char *label)
{
    struct found *f = b->found;
    bool named = map_find(&f->plugged, id) || map_find(&f->selected, id) ||
                 map_find(&f->source, id) || cabled(f, id);
    bool there = booth_device(b, id) || booth_strip(b, id, NULL) || booth_hub(b, id);
    if (named && !there && label)
        map_set(&f->gone, id, label);
}

static void note_all_gone(const struct booth *now, struct booth *next)
{
    for (size_t i = 0; i < now->devices.n; i++) {
        const struct device *d = &now->devices.v[i];
        note_gone(next, d->id, d->label);
        for (size_t k = 0; k < d->strips.n; k++)
            note_gone(next, d->strips.v[k].id, d->strips.v[k].label);
    }
    for (size_t i = 0; i < now->hubs.n; i++)
        note_gone(next, now->hubs.v[i].id, now->hubs.v[i].label);
}

bool found_keep_before(const struct booth *now, struct booth *next)
{
    bool kept = keep_before(now, next);
    if (next->found)
        note_all_gone(now, next);
    return kept;
}
