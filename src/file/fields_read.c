/* Records from JSON: a walk over the members of an object.
 *
 * A member that the table knows is read by its kind; null, and the empty text or list where a text
 * or a list stands, mean what absence means (that it was spelled out is remembered). Any other
 * member is kept as it is. Errors name the value, and what was expected in its stead. */
#include "file/fields.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "base/utf8.h"

/* --- sentences -------------------------------------------------------------------------------- */

/* A value in so many words: a text (cut), a number, or what kind of thing it is. */
static void describe(const struct json *j, struct str *out)
{
    static const char *const kinds[] = {"null", "", "", "", "a list", "an object"};
    struct json_out w = json_on(out, true);
    switch (json_kind(j)) {
    case JSON_TEXT: {
        const char *text = json_string(j);
        size_t n = utf8_cut(text, 60);
        str_addf(out, "\"%.*s%s\"", (int)n, text, text[n] ? "..." : "");
        break;
    }
    case JSON_NUMBER:
    case JSON_BOOL:
        json_copy(&w, NULL, j);
        break;
    default:
        str_add(out, kinds[json_kind(j)]);
    }
}

static void expect_words(const struct words *words, struct str *out)
{
    size_t first = words->v[0].file ? 0 : 1;
    for (size_t i = first; i < words->n; i++)
        str_addf(out, "%s%s",
                 i == first          ? ""
                 : i + 1 == words->n ? " or "
                                     : ", ",
                 words->v[i].file);
}

/* What a value of this kind looks like; of a list: what one of its items does. */
static void expect(const struct field *f, struct str *out)
{
    switch (f->kind) {
    case FIELD_ID:
    case FIELD_REFS:
        str_add(out, "an id (1 to 32 of a-z, 0-9 and -)");
        break;
    case FIELD_REF:
        str_add(out, "a name of at most 65 bytes");
        break;
    case FIELD_PLUG:
        str_add(out, "host.N, a hub's id.N, built-in or null");
        break;
    case FIELD_WORD:
    case FIELD_WORDS:
        expect_words(f->words, out);
        break;
    case FIELD_INT:
    case FIELD_INTS:
        str_addf(out, "a whole number from %d to %d", f->low, f->high);
        break;
    case FIELD_BOOL:
        str_add(out, "true or false");
        break;
    case FIELD_MILLI:
        str_addf(out, "a number from 0 to %d", f->high / 1000);
        break;
    case FIELD_PAIR:
        str_addf(out, "two whole numbers from %d to %d, or null", f->low, f->high);
        break;
    case FIELD_MAP:
        if (f->words)
            expect_words(f->words, out);
        else
            str_add(out, "a text or null");
        break;
    case FIELD_RECORD:
    case FIELD_OPTION:
    case FIELD_RECORDS:
        str_add(out, "an object");
        break;
    case FIELD_TEXT:
    case FIELD_TEXTS:
        str_add(out, "a text");
        break;
    }
}

/* Fills e for a value that is not what its field holds; returns false. */
static bool not_one(const struct field *f, const struct json *j, struct err *e)
{
    struct str is = {0}, expected = {0};
    describe(j, &is);
    expect(f, &expected);
    err_set(e, ERR_READ, "", "%s is not %s", str_text(&is), str_text(&expected));
    str_clear(&is);
    str_clear(&expected);
    return false;
}

static bool in_item(struct err *e, size_t i)
{
    char item[32];
    snprintf(item, sizeof item, "[%zu]", i);
    err_within(e, item);
    return false;
}

static size_t count(const struct json *j)
{
    size_t n = 0;
    for (j = json_first(j); j; j = json_next(j))
        n++;
    return n;
}

/* Whether j is a list or an object, as wanted, of no more items than we hold. */
static bool is_many(const struct json *j, enum json_kind wanted, struct err *e)
{
    if (json_kind(j) != wanted) {
        struct str is = {0};
        describe(j, &is);
        err_set(e, ERR_READ, "", "%s is not %s", str_text(&is),
                wanted == JSON_ARRAY ? "a list" : "an object");
        str_clear(&is);
        return false;
    }
    size_t n = count(j);
    return n <= FIELDS_MAX_ITEMS ||
           err_set(e, ERR_READ, "", "%zu are too many; expected at most %d", n, FIELDS_MAX_ITEMS);
}

/* --- single values ---------------------------------------------------------------------------- */

/* The number if it is whole and in the field's range. */
static bool whole(const struct field *f, const struct json *j, int *n)
{
    if (json_kind(j) != JSON_NUMBER)
        return false;
    long long value = json_thousandths(j);
    if (value % 1000 || value / 1000 < f->low || value / 1000 > f->high)
        return false;
    *n = (int)(value / 1000);
    return true;
}

static bool milli(const struct field *f, const struct json *j, int *n)
{
    if (json_kind(j) != JSON_NUMBER)
        return false;
    long long value = json_thousandths(j);
    if (value < 0 || value > f->high)
        return false;
    *n = (int)value;
    return true;
}

static bool pair(const struct field *f, const struct json *j, struct pair *p)
{
    if (json_kind(j) != JSON_ARRAY || count(j) != 2)
        return false;
    const struct json *left = json_first(j);
    return whole(f, left, &p->left) && whole(f, json_next(left), &p->right);
}

static bool word(const struct words *words, const struct json *j, int *value)
{
    int found = json_kind(j) == JSON_TEXT ? word_find(words, json_string(j)) : -1;
    if (found >= 0)
        *value = found;
    return found >= 0;
}

static bool fixed_text(const struct json *j, char *text, size_t size)
{
    if (json_kind(j) != JSON_TEXT || strlen(json_string(j)) >= size)
        return false;
    strcpy(text, json_string(j));
    return true;
}

static bool read_single(const struct field *f, const struct json *j, void *value)
{
    enum json_kind kind = json_kind(j);
    switch (f->kind) {
    case FIELD_TEXT:
        if (kind == JSON_TEXT)
            text_set(value, json_string(j));
        return kind == JSON_TEXT;
    case FIELD_ID:
        return fixed_text(j, value, ID_SIZE) && id_valid(value);
    case FIELD_REF:
        return fixed_text(j, value, REF_SIZE);
    case FIELD_PLUG:
        return kind == JSON_TEXT && plug_read(json_string(j), value);
    case FIELD_WORD:
        return word(f->words, j, value);
    case FIELD_INT:
        return whole(f, j, value);
    case FIELD_BOOL:
        if (kind == JSON_BOOL)
            *(bool *)value = json_truth(j);
        return kind == JSON_BOOL;
    case FIELD_MILLI:
        return milli(f, j, value);
    case FIELD_PAIR:
        return pair(f, j, value);
    default:
        return false;
    }
}

/* --- lists and maps --------------------------------------------------------------------------- */

static bool read_item(const struct field *f, const struct json *j, void *list)
{
    int n = 0;
    switch (f->kind) {
    case FIELD_INTS:
        if (!whole(f, j, &n))
            return false;
        ints_add(list, n);
        return true;
    case FIELD_WORDS:
        if (!word(f->words, j, &n))
            return false;
        ints_add(list, n);
        return true;
    default:
        if (json_kind(j) != JSON_TEXT)
            return false;
        if (f->kind == FIELD_REFS && !id_valid(json_string(j)))
            return false;
        texts_add(list, json_string(j));
        return true;
    }
}

static bool read_list(const struct field *f, const struct json *j, void *list, struct err *e)
{
    if (!is_many(j, JSON_ARRAY, e))
        return false;
    size_t i = 0;
    for (const struct json *item = json_first(j); item; item = json_next(item), i++)
        if (!read_item(f, item, list)) {
            not_one(f, item, e);
            return in_item(e, i);
        }
    return true;
}

static bool read_map(const struct field *f, const struct json *j, struct map *m, struct err *e)
{
    if (!is_many(j, JSON_OBJECT, e))
        return false;
    for (const struct json *item = json_first(j); item; item = json_next(item)) {
        const char *text = json_kind(item) == JSON_TEXT ? json_string(item) : NULL;
        bool fits = json_kind(item) == JSON_NULL || (text && !*text) ||
                    (text && (!f->words || word_find(f->words, text) >= 0));
        if (!fits) {
            char key[64];
            snprintf(key, sizeof key, "%.*s", (int)utf8_cut(json_key(item), 60), json_key(item));
            not_one(f, item, e);
            err_within(e, key);
            return false;
        }
        map_set(m, json_key(item), text && *text ? text : NULL);
    }
    return true;
}

bool records_read(const struct field *f, const struct json *list, void *records, struct err *e)
{
    char *record = records;
    size_t i = 0;
    for (const struct json *item = json_first(list); item; item = json_next(item), i++)
        if (!record_read(f->shape, item, record + i * f->shape->size, e))
            return in_item(e, i);
    return true;
}

static bool read_records(const struct field *f, const struct json *j, void *list, struct err *e)
{
    if (!is_many(j, JSON_ARRAY, e))
        return false;
    size_t n = count(j), size = f->shape->size;
    char *fresh = mem_new(n, size);
    for (size_t i = 0; i < n; i++)
        record_init(f->shape, fresh + i * size);
    bool fine = records_read(f, j, fresh, e);
    if (fine)
        records_splice(f, list, 0, 0, fresh, n);
    for (size_t i = 0; i < n; i++)
        record_clear(f->shape, fresh + i * size);
    mem_free(fresh);
    return fine;
}

static bool read_option(const struct field *f, const struct json *j, void *value, struct err *e)
{
    void *record = mem_new(1, f->shape->size);
    memcpy(value, &record, sizeof record);
    record_init(f->shape, record);
    return record_read(f->shape, j, record, e);
}

/* --- fields ----------------------------------------------------------------------------------- */

/* Whether a value says what absence says: null, "" for what is written as a text, and no channels
 * for a pair. (Empty lists and maps read as such anyway.) */
static bool is_empty(const struct field *f, const struct json *j)
{
    switch (json_kind(j)) {
    case JSON_NULL:
        return true;
    case JSON_TEXT:
        return f->kind <= FIELD_WORD && !*json_string(j);
    case JSON_ARRAY:
        return f->kind == FIELD_PAIR && !json_first(j);
    default:
        return false;
    }
}

static bool read_value(const struct field *f, const struct json *j, void *value, struct err *e)
{
    switch (f->kind) {
    case FIELD_INTS:
    case FIELD_WORDS:
    case FIELD_TEXTS:
    case FIELD_REFS:
        return read_list(f, j, value, e);
    case FIELD_MAP:
        return read_map(f, j, value, e);
    case FIELD_RECORDS:
        return read_records(f, j, value, e);
    case FIELD_RECORD:
        return record_read(f->shape, j, value, e);
    case FIELD_OPTION:
        return read_option(f, j, value, e);
    default:
        return read_single(f, j, value) || not_one(f, j, e);
    }
}

bool field_read(const struct field *f, const struct json *j, void *value, struct err *e)
{
    if (is_empty(f, j) || read_value(f, j, value, e))
        return true;
    err_within(e, f->key);
    return false;
}

/* --- records ---------------------------------------------------------------------------------- */

/* Whether the key is one of the two that the file keeps for itself. */
static bool is_own(const struct shape *s, const char *key)
{
    return s == &shape_booth && (strcmp(key, VENUE_FORMAT) == 0 || strcmp(key, VENUE_VERSION) == 0);
}

/* Keeps the members that no table knows, as an object on one line. */
static bool keep(const struct shape *s, const struct json *j, struct kept *kept, struct err *e)
{
    struct str text = {0};
    struct json_out w = json_on(&text, true);
    json_object(&w, NULL);
    for (const struct json *m = json_first(j); m; m = json_next(m))
        if (!shape_field(s, json_key(m)) && !is_own(s, json_key(m)))
            json_copy(&w, json_key(m), m);
    bool any = !w.empty;
    json_end(&w);
    if (any && text.len <= JSON_MAX_BYTES)
        kept->json = mem_text(str_text(&text));
    size_t n = text.len;
    str_clear(&text);
    return n <= JSON_MAX_BYTES ||
           err_set(e, ERR_READ, "", "holds %zu bytes that this program does not know", n);
}

static bool nothing_missing(const struct shape *s, const struct json *j, const void *record,
                            struct err *e)
{
    for (size_t i = 0; i < s->n; i++) {
        const struct field *f = &s->fields[i];
        const struct json *m = json_member(j, f->key);
        if (!field_required(s, f, record) || (m && !is_empty(f, m)))
            continue;
        struct str expected = {0};
        expect(f, &expected);
        err_set(e, ERR_READ, f->key, "is %s; expected %s", m ? "empty" : "missing",
                f->kind == FIELD_RECORDS ? "a list" : str_text(&expected));
        str_clear(&expected);
        return false;
    }
    return true;
}

bool record_read(const struct shape *s, const struct json *j, void *record, struct err *e)
{
    if (json_kind(j) != JSON_OBJECT) {
        struct str is = {0};
        describe(j, &is);
        err_set(e, ERR_READ, "", "%s is not %s; expected an object", str_text(&is), s->what);
        str_clear(&is);
        return false;
    }
    struct kept *kept = record;
    for (size_t i = 0; i < s->n; i++) {
        const struct field *f = &s->fields[i];
        const struct json *m = json_member(j, f->key);
        if (m && !field_read(f, m, field_in(f, record), e))
            return false;
        if (m && !field_required(s, f, record) && field_is_default(f, field_of(f, record)))
            kept->seen |= 1u << i;
    }
    return nothing_missing(s, j, record, e) && keep(s, j, kept, e);
}
