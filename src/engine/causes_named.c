/* Causes by name, as a person tells what it is not: "selector-elsewhere:s2", a word and subjects;
 * "off-by-one", a word alone: every cause of that kind; two or three joined by "+": only where they
 * hold together. A detail (which input, which pair) is not named: who has looked has seen it. */
#include <string.h>

#include "base/mem.h"
#include "engine/causes.h"
#include "model/shape.h"

static void add_name(const struct circuit *c, const struct cause *k, struct str *out)
{
    struct texts subjects = {0};
    cause_subjects(c, k, &subjects);
    str_add(out, cause_word(k->kind));
    for (size_t i = 0; i < subjects.n; i++)
        str_addf(out, "%s%s", i ? "," : ":", subjects.v[i]);
    texts_clear(&subjects);
}

void causes_name(const struct circuit *c, const struct cause *set, int n, struct str *out)
{
    for (int i = 0; i < n; i++) {
        str_add(out, i ? "+" : "");
        add_name(c, &set[i], out);
    }
}

static bool is_called(const struct circuit *c, const struct cause *k, const char *name, size_t len)
{
    const char *word = cause_word(k->kind);
    if (strlen(word) == len && memcmp(word, name, len) == 0)
        return true;
    struct str own = {0};
    add_name(c, k, &own);
    bool same = own.len == len && memcmp(own.text, name, len) == 0;
    str_clear(&own);
    return same;
}

/* Two plugs that are exchanged may be named either way round. */
static bool is_named(const struct circuit *c, const struct cause *k, const char *name, size_t len)
{
    struct cause turned = *k;
    turned.a = k->b;
    turned.b = k->a;
    return is_called(c, k, name, len) ||
           (k->kind == CAUSE_CABLES_EXCHANGED && is_called(c, &turned, name, len));
}

bool causes_named(const struct circuit *c, const char *names, const struct cause *set, int n)
{
    bool all = true;
    for (const char *at = names; at && all; at = strchr(at, '+')) {
        at += *at == '+';
        bool found = false;
        for (int i = 0; i < n && !found; i++)
            found = is_named(c, &set[i], at, strcspn(at, "+"));
        all = found;
    }
    return all;
}

/* Whether a name is that of an order of joining: a word alone, or with every joined device once. */
static bool is_order(const struct circuit *c, const char *name, size_t len)
{
    struct cause k = {.kind = CAUSE_JOIN_ORDER};
    size_t word = strlen(cause_word(k.kind)), n = 0;
    if (len < word || memcmp(name, cause_word(k.kind), word) != 0)
        return false;
    for (size_t at = word; at < len && n < c->n_joined; n++) {
        size_t id = strcspn(name + ++at, ",+");
        for (size_t i = 0; i < c->n_joined; i++)
            if (strncmp(circuit_device(c, c->joined[i])->id, name + at, id) == 0 &&
                !circuit_device(c, c->joined[i])->id[id])
                k.order[n] = (unsigned char)c->joined[i];
        at += id;
    }
    for (size_t i = 0; i < n; i++)
        if (memchr(k.order, k.order[i], i))
            return false; /* one of them twice */
    return is_called(c, &k, name, len);
}

bool cause_name_known(const struct circuit *c, const char *names)
{
    struct causes all = causes_of(c);
    bool known = true;
    for (const char *at = names; at && known; at = strchr(at, '+')) {
        at += *at == '+';
        size_t len = strcspn(at, "+");
        known = is_order(c, at, len);
        for (size_t i = 0; i < all.n && !known; i++)
            known = is_named(c, &all.v[i], at, len);
    }
    mem_free(all.v);
    return known;
}
