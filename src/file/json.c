/* Documents as trees, by cJSON: the only file that knows it.
 *
 * cJSON alone is lenient (keys twice, control bytes, 01, half surrogates), so json_scan() has
 * proved the grammar before it sees a byte. struct json is never defined: a pointer to one is a
 * pointer to cJSON's node. */
#include "file/json.h"

#include <assert.h>
#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/utf8.h"
#include "file/json_scan.h"

static const cJSON *node(const struct json *j)
{
    return (const cJSON *)j;
}

static const struct json *value(const cJSON *c)
{
    return (const struct json *)c;
}

/* --- keys that stand twice -------------------------------------------------------------------- */

static int by_text(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

/* A key of the object that stands there twice, or NULL. */
static const char *key_twice(const cJSON *object)
{
    size_t n = 0, i = 0;
    const cJSON *c;
    cJSON_ArrayForEach(c, object) n++;
    const char **keys = mem_new(n, sizeof *keys), *twice = NULL;
    cJSON_ArrayForEach(c, object) keys[i++] = c->string;
    qsort(keys, n, sizeof *keys, by_text);
    for (i = 1; i < n && !twice; i++)
        if (strcmp(keys[i - 1], keys[i]) == 0)
            twice = keys[i];
    mem_free(keys);
    return twice;
}

static bool keys_once(const cJSON *c, struct err *e)
{
    const char *twice = cJSON_IsObject(c) ? key_twice(c) : NULL;
    if (twice) {
        int shown = (int)utf8_cut(twice, 60);
        err_set(e, ERR_READ, "", "the key \"%.*s\" is there twice; expected it once", shown, twice);
        return false;
    }
    size_t i = 0;
    const cJSON *item;
    cJSON_ArrayForEach(item, c)
    {
        char place[72];
        if (item->string)
            snprintf(place, sizeof place, "%.*s", (int)utf8_cut(item->string, 60), item->string);
        else
            snprintf(place, sizeof place, "[%zu]", i++);
        if (!keys_once(item, e)) {
            err_within(e, place);
            return false;
        }
    }
    return true;
}

/* --- documents -------------------------------------------------------------------------------- */

struct json *json_read(const char *bytes, size_t n, struct err *e)
{
    static const char mark[] = "\xef\xbb\xbf";
    if (n > JSON_MAX_BYTES) {
        err_set(e, ERR_READ, "", "is %zu bytes long; expected at most %d", n, JSON_MAX_BYTES);
        return NULL;
    }
    if (n >= 3 && memcmp(bytes, mark, 3) == 0) {
        bytes += 3;
        n -= 3;
    }
    if (!json_scan(bytes, n, e))
        return NULL;
    cJSON_InitHooks(&(cJSON_Hooks){mem_alloc, mem_free});
    char *copy = mem_new(n + 1, 1);
    memcpy(copy, bytes, n);
    cJSON *c = cJSON_ParseWithLengthOpts(copy, n + 1, NULL, 1);
    mem_free(copy);
    if (!c)
        err_set(e, ERR_READ, "", "is not JSON that can be read");
    if (!c || keys_once(c, e))
        return (struct json *)c;
    cJSON_Delete(c);
    return NULL;
}

void json_free(struct json *j)
{
    cJSON_Delete((cJSON *)j);
}

enum json_kind json_kind(const struct json *j)
{
    const cJSON *c = node(j);
    return cJSON_IsObject(c)   ? JSON_OBJECT
           : cJSON_IsArray(c)  ? JSON_ARRAY
           : cJSON_IsString(c) ? JSON_TEXT
           : cJSON_IsNumber(c) ? JSON_NUMBER
           : cJSON_IsBool(c)   ? JSON_BOOL
                               : JSON_NULL;
}

bool json_truth(const struct json *j)
{
    assert(cJSON_IsBool(node(j)));
    return cJSON_IsTrue(node(j));
}

long long json_thousandths(const struct json *j)
{
    assert(cJSON_IsNumber(node(j)));
    return llround(node(j)->valuedouble * 1000);
}

const char *json_string(const struct json *j)
{
    assert(cJSON_IsString(node(j)));
    return node(j)->valuestring;
}

const struct json *json_first(const struct json *j)
{
    return value(node(j)->child);
}

const struct json *json_next(const struct json *j)
{
    return value(node(j)->next);
}

const char *json_key(const struct json *j)
{
    return node(j)->string;
}

const struct json *json_member(const struct json *j, const char *key)
{
    return value(cJSON_GetObjectItemCaseSensitive(node(j), key));
}
