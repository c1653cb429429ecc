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
        cause_say(c, &causes[i], &what);
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
        if (at / all.n >= at % all.n || (two[0].kind == two[1].kind && two[0].a == two[1].a))
            continue;
        must_find(b, c, two, 2, where);
    }
    mem_free(all.v);
    circuit_free(c);
}
