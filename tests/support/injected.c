#include "support/injected.h"

#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "engine/heard.h"
#include "support/listening.h"

static bool same_ears(const struct circuit *a, const struct circuit *b)
{
    for (size_t i = 0; i < a->n_decks; i++) {
        struct heard x = heard_deck(a, (int)i, a->decks[i].set_to);
        struct heard y = heard_deck(b, (int)i, b->decks[i].set_to);
        bool same = x.n == y.n && (x.n == 0 || memcmp(x.v, y.v, x.n * sizeof *x.v) == 0);
        heard_clear(&x);
        heard_clear(&y);
        if (!same)
            return false;
    }
    return true;
}

int found_in(struct booth *b, const struct cause *causes, int n, const char *what)
{
    struct circuit *c = believed(b), *truth = circuit_copy(c);
    for (int i = 0; i < n; i++)
        cause_apply(truth, &causes[i]);
    listen_to(b, truth, ~0u);
    struct diagnosis d = diagnosis_make(b);
    int group = -1;
    for (size_t i = 0; i < d.n; i++) {
        struct circuit *told = circuit_copy(c);
        ck_assert_msg(diagnosis_replays(&d, &d.v[i]), "%s: explanation %zu does not replay", what,
                      i);
        for (int k = 0; k < d.v[i].n; k++)
            cause_apply(told, &d.v[i].causes[k]);
        if (group < 0 && same_ears(truth, told))
            group = d.v[i].group;
        circuit_free(told);
    }
    diagnosis_clear(&d);
    circuit_free(truth);
    circuit_free(c);
    return group;
}

static void must_find(struct booth *b, const struct circuit *c, const struct cause *causes, int n,
                      const char *where)
{
    struct str what = {0};
    str_addf(&what, "%s: ", where);
    for (int i = 0; i < n; i++) {
        str_add(&what, i ? " and " : "");
        cause_say_among(c, causes, n, i, &what);
    }
    ck_assert_msg(found_in(b, causes, n, what.text) >= 0, "not found: %s", what.text);
    str_clear(&what);
}

void find_singles(struct booth *b, const char *where)
{
    struct circuit *c = believed(b);
    struct causes all = causes_of(c);
    for (size_t i = 0; i < all.n; i++)
        must_find(b, c, &all.v[i], 1, where);
    mem_free(all.v);
    circuit_free(c);
}

void find_pairs(struct booth *b, const char *where, size_t step)
{
    struct circuit *c = believed(b);
    struct causes all = causes_of(c);
    for (size_t at = 0; at < all.n * all.n; at += step) {
        struct cause two[2] = {all.v[at / all.n], all.v[at % all.n]};
        if (at / all.n == at % all.n || (two[0].kind == two[1].kind && two[0].a == two[1].a))
            continue;
        must_find(b, c, two, 2, where);
    }
    mem_free(all.v);
    circuit_free(c);
}

void next_order(unsigned char *v, int n)
{
    int i = n - 2, k = n - 1;
    while (i >= 0 && v[i] > v[i + 1])
        i--;
    while (i >= 0 && v[k] < v[i])
        k--;
    if (i >= 0) {
        unsigned char x = v[i];
        v[i] = v[k];
        v[k] = x;
    }
    for (int a = i + 1, z = n - 1; a < z; a++, z--) {
        unsigned char x = v[a];
        v[a] = v[z];
        v[z] = x;
    }
}

static void add_order(struct causes *out, const struct circuit *c, const unsigned char *at)
{
    struct cause k = {.kind = CAUSE_JOIN_ORDER};
    for (size_t i = 0; i < c->n_joined; i++)
        k.order[i] = (unsigned char)c->joined[at[i]];
    out->v = mem_grow(out->v, &out->cap, out->n + 1, sizeof *out->v);
    out->v[out->n++] = k;
}

/* Orders of joining other than the believed one. */
static struct causes orders_of(const struct circuit *c)
{
    struct causes out = {0};
    unsigned char at[MAX_DEVICES];
    int n = (int)c->n_joined;
    for (int i = 0; i < n; i++)
        at[i] = (unsigned char)i;
    static const int orders[] = {1, 1, 2, 6, 24};
    for (int i = 1; n <= 4 && i < orders[n]; i++) {
        next_order(at, n);
        add_order(&out, c, at);
    }
    for (int i = 0; n > 4 && i < n; i++)
        for (int k = i + 1; k < n; k++) {
            at[i] = (unsigned char)k;
            at[k] = (unsigned char)i;
            add_order(&out, c, at);
            at[i] = (unsigned char)i;
            at[k] = (unsigned char)k;
        }
    return out;
}

void find_orders(struct booth *b, const char *where, size_t step)
{
    struct circuit *c = believed(b);
    struct causes all = causes_of(c), orders = orders_of(c);
    for (size_t i = 0; i < orders.n; i++)
        must_find(b, c, &orders.v[i], 1, where);
    for (size_t at = 0; at < orders.n * all.n; at += step) {
        struct cause two[2] = {all.v[at % all.n], orders.v[at / all.n]};
        must_find(b, c, two, 2, where);
    }
    mem_free(all.v);
    mem_free(orders.v);
    circuit_free(c);
}
