/* Records to JSON: a walk over their table, then what was kept.
 *
 * A default is left out, unless the file spelled it out: then it stands in its one canonical
 * spelling ("" for a text, null for what is nowhere, [] and {}). */
#include "file/fields.h"

#include <assert.h>
#include <string.h>

static const void *pointer_of(const void *value)
{
    const void *p;
    memcpy(&p, value, sizeof p);
    return p;
}

static void write_ref(struct json_out *w, const char *key, const char *ref)
{
    json_text(w, key, *ref ? ref : NULL);
}

static void write_plug(struct json_out *w, const char *key, const struct plug *p)
{
    char text[REF_SIZE];
    plug_text(p, text);
    write_ref(w, key, text);
}

static void write_pair(struct json_out *w, const char *key, const struct pair *p)
{
    if (p->left < 0) {
        json_null(w, key);
        return;
    }
    json_array(w, key);
    json_number(w, NULL, p->left);
    json_number(w, NULL, p->right);
    json_end(w);
}

static void write_ints(struct json_out *w, const char *key, const struct ints *l,
                       const struct words *words)
{
    json_array(w, key);
    for (size_t i = 0; i < l->n; i++)
        if (words)
            json_text(w, NULL, word_file(words, l->v[i]));
        else
            json_number(w, NULL, l->v[i]);
    json_end(w);
}

static void write_texts(struct json_out *w, const char *key, const struct texts *l)
{
    json_array(w, key);
    for (size_t i = 0; i < l->n; i++)
        json_text(w, NULL, l->v[i]);
    json_end(w);
}

static void write_map(struct json_out *w, const char *key, const struct map *m)
{
    json_object(w, key);
    for (size_t i = 0; i < m->n; i++)
        json_text(w, m->v[i].key, m->v[i].value);
    json_end(w);
}

static void write_records(const struct field *f, const void *list, const char *key,
                          struct json_out *w)
{
    json_array(w, key);
    for (size_t i = 0; i < records_count(list); i++)
        record_write(f->shape, records_at(f, list, i), NULL, w);
    json_end(w);
}

static void write_option(const struct field *f, const void *record, const char *key,
                         struct json_out *w)
{
    if (record)
        record_write(f->shape, record, key, w);
    else
        json_null(w, key);
}

static void write_number(const struct field *f, int n, const char *key, struct json_out *w)
{
    if (f->kind == FIELD_INT)
        json_number(w, key, n);
    else if (n < 0)
        json_null(w, key);
    else
        json_milli(w, key, n);
}

void field_write(const struct field *f, const void *value, const char *key, struct json_out *w)
{
    const char *text = f->kind == FIELD_TEXT ? pointer_of(value) : value;
    switch (f->kind) {
    case FIELD_TEXT:
        json_text(w, key, text ? text : "");
        break;
    case FIELD_ID:
    case FIELD_REF:
        write_ref(w, key, text);
        break;
    case FIELD_PLUG:
        write_plug(w, key, value);
        break;
    case FIELD_WORD:
        json_text(w, key, word_file(f->words, *(const int *)value));
        break;
    case FIELD_BOOL:
        json_bool(w, key, *(const bool *)value);
        break;
    case FIELD_INT:
    case FIELD_MILLI:
        write_number(f, *(const int *)value, key, w);
        break;
    case FIELD_PAIR:
        write_pair(w, key, value);
        break;
    case FIELD_INTS:
    case FIELD_WORDS:
        write_ints(w, key, value, f->words);
        break;
    case FIELD_TEXTS:
    case FIELD_REFS:
        write_texts(w, key, value);
        break;
    case FIELD_MAP:
        write_map(w, key, value);
        break;
    case FIELD_RECORD:
        record_write(f->shape, value, key, w);
        break;
    case FIELD_OPTION:
        write_option(f, pointer_of(value), key, w);
        break;
    case FIELD_RECORDS:
        write_records(f, value, key, w);
        break;
    }
}

static void write_kept(const char *text, struct json_out *w)
{
    struct err e;
    struct json *j = json_read(text, strlen(text), &e);
    assert(j); /* it was written by keep() in fields_read.c */
    json_copy_members(w, j);
    json_free(j);
}

void record_write_members(const struct shape *s, const void *record, struct json_out *w)
{
    const struct kept *kept = record;
    for (size_t i = 0; i < s->n; i++) {
        const struct field *f = &s->fields[i];
        const void *value = field_of(f, record);
        if (kept->seen >> i & 1 || field_required(s, f, record) || !field_is_default(f, value))
            field_write(f, value, f->key, w);
    }
    if (kept->json)
        write_kept(kept->json, w);
}

void record_write(const struct shape *s, const void *record, const char *key, struct json_out *w)
{
    json_object(w, key);
    record_write_members(s, record, w);
    json_end(w);
}
