/* An edit is the key of a part of the booth, and its new value (or what is spliced into its list).
 *
 * A value is read into a spare booth, where every part has a place of its own, and copied out. */
#include "file/changes.h"

#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "file/fields.h"

static void write_splice(const struct edit *d, struct json_out *w)
{
    json_number(w, "at", (long long)d->at);
    json_number(w, "out", (long long)d->out);
    json_array(w, "in");
    for (size_t i = 0; i < d->in; i++)
        record_write(d->part->shape, (const char *)d->after + i * d->part->shape->size, NULL, w);
    json_end(w);
}

void changes_write(const struct edits *edits, struct str *out)
{
    struct json_out w = json_on(out, true);
    json_object(&w, NULL);
    json_array(&w, "edits");
    for (size_t i = 0; i < edits->n; i++) {
        const struct edit *d = &edits->v[i];
        json_object(&w, NULL);
        json_text(&w, "part", d->part->key);
        if (d->part->kind == FIELD_RECORDS)
            write_splice(d, &w);
        else
            field_write(d->part, d->after, "to", &w);
        json_end(&w);
    }
    json_end(&w);
    json_end(&w);
}

static bool read_count(const struct json *j, const char *key, size_t *n, struct err *e)
{
    const struct json *m = json_member(j, key);
    long long value = m && json_kind(m) == JSON_NUMBER ? json_thousandths(m) : -1;
    if (value < 0 || value % 1000 || value / 1000 > FIELDS_MAX_ITEMS)
        return err_set(e, ERR_READ, key, "is not a whole number from 0 to %d", FIELDS_MAX_ITEMS);
    *n = (size_t)(value / 1000);
    return true;
}

/* Which part, and where in its list. */
static bool read_part(const struct json *j, struct edit *d, struct err *e)
{
    const struct json *part = json_kind(j) == JSON_OBJECT ? json_member(j, "part") : NULL;
    if (part && json_kind(part) == JSON_TEXT)
        d->part = shape_field(&shape_booth, json_string(part));
    if (!d->part)
        return err_set(e, ERR_READ, "part", "is not a part of a venue");
    return d->part->kind != FIELD_RECORDS ||
           (read_count(j, "at", &d->at, e) && read_count(j, "out", &d->out, e));
}

static bool read_edit(const struct json *j, struct edits *edits, struct err *e)
{
    struct edit d = {0};
    if (!read_part(j, &d, e))
        return false;
    bool records = d.part->kind == FIELD_RECORDS;
    const struct json *to = json_member(j, records ? "in" : "to");
    if (!to)
        return err_set(e, ERR_READ, d.part->key, "has no new value; expected one");
    struct booth *spare = booth_new(NULL);
    void *value = field_in(d.part, spare);
    bool fine = field_read(d.part, to, value, e);
    if (fine) {
        d.in = records ? records_count(value) : 0;
        d.after = !records ? value : d.in ? records_at(d.part, value, 0) : NULL;
        edits_add(edits, d);
    }
    booth_free(spare);
    return fine;
}

static bool read_all(const struct json *doc, struct edits *edits, struct err *e)
{
    const struct json *list = json_kind(doc) == JSON_OBJECT ? json_member(doc, "edits") : NULL;
    if (!list || json_kind(list) != JSON_ARRAY)
        return err_set(e, ERR_READ, "", "is not a list of edits; expected {\"edits\":[...]}");
    size_t i = 0;
    for (const struct json *j = json_first(list); j; j = json_next(j), i++) {
        if (read_edit(j, edits, e))
            continue;
        char place[32];
        snprintf(place, sizeof place, "edits[%zu]", i);
        err_within(e, place);
        return false;
    }
    return true;
}

bool changes_read(const char *line, size_t n, struct edits *edits, struct err *e)
{
    *edits = (struct edits){0};
    struct json *doc = json_read(line, n, e);
    bool fine = doc && read_all(doc, edits, e);
    json_free(doc);
    if (!fine)
        edits_clear(edits);
    return fine;
}
