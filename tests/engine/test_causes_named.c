/* Ruling out: what somebody has looked at and it was not that. */
#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "engine/diagnose.h"
#include "model/shape.h"
#include "support/booth_from.h"
#include "support/listening.h"

#define FOUR                                                                                       \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; p3.line > s3.line; "            \
    "p4.line > s4.line; joined p1 p2 p3 p4; h1 wants s2; h2 wants s3; h3 wants s1; h4 wants s4"

static bool contains(const struct explanation *e, const struct cause *k)
{
    for (int i = 0; i < e->n; i++)
        if (cause_same(&e->causes[i], k))
            return true;
    return false;
}

static bool listed(const struct diagnosis *d, const struct explanation *e)
{
    for (size_t i = 0; i < d->n; i++) {
        int same = 0;
        for (int k = 0; k < e->n; k++)
            same += contains(&d->v[i], &e->causes[k]);
        if (d->v[i].n == e->n && same == e->n)
            return true;
    }
    return false;
}

/* Rules out an explanation of a diagnosis: it must be gone, with all that contain it, and nothing
 * else. */
static void rule_out(const struct booth *b, const struct diagnosis *d, const struct explanation *e)
{
    struct str name = {0};
    struct texts out = {0};
    causes_name(d->believed, e->causes, e->n, &name);
    texts_add(&out, name.text);
    ck_assert_msg(cause_name_known(d->believed, name.text), "%s is not known", name.text);
    struct diagnosis rest = diagnosis_without(b, &out);
    for (size_t i = 0; i < rest.n; i++) {
        const struct explanation *x = &rest.v[i];
        ck_assert_msg(diagnosis_replays(&rest, x), "without %s: %zu", name.text, i);
        ck_assert_msg(!causes_named(d->believed, name.text, x->causes, x->n), "%s", name.text);
    }
    for (size_t i = 0; i < d->n; i++) {
        const struct explanation *x = &d->v[i];
        bool gone = causes_named(d->believed, name.text, x->causes, x->n);
        ck_assert_msg(listed(&rest, x) != gone, "without %s: %zu of %zu", name.text, i, d->n);
    }
    diagnosis_clear(&rest);
    texts_clear(&out);
    str_clear(&name);
}

START_TEST(what_is_ruled_out_is_in_no_explanation_and_the_others_stay)
{
    struct booth *b = booth_from(FOUR);
    struct circuit *c = believed(b);
    struct causes all = causes_of(c);
    for (size_t i = 0; i < all.n; i += 3) {
        struct circuit *truth = circuit_copy(c);
        cause_apply(truth, &all.v[i]);
        listen_to(b, truth, ~0u);
        struct diagnosis d = diagnosis_make(b);
        for (size_t k = 0; k < d.n && k < 12; k++)
            if (d.v[k].n)
                rule_out(b, &d, &d.v[k]);
        diagnosis_clear(&d);
        circuit_free(truth);
    }
    mem_free(all.v);
    circuit_free(c);
    booth_free(b);
}
END_TEST

START_TEST(a_name_is_a_word_with_all_its_subjects_or_alone)
{
    static const struct {
        const char *name;
        bool known;
    } names[] = {{"selector-elsewhere:s2", true},
                 {"selector-elsewhere", true},
                 {"off-by-one", true},
                 {"cables-exchanged:s1.line,s3.line", true},
                 {"cables-exchanged:s3.line,s1.line", true},
                 {"sides-swapped:s1.line,p1.line", false},
                 {"join-order:p4,p3,p2,p1", true},
                 {"join-order", true},
                 {"join-order:p4,p3,p2", false},
                 {"join-order:p4,p3,p2,p2", false},
                 {"join-order:p4,p3,p2,p1,p1", false},
                 {"join-order:", false},
                 {"join-missing:p2+own-media:p1", true},
                 {"join-missing:p2+own-media:p1+join-order", true},
                 {"join-missing:p2+", false},
                 {"join-missing:p2+rain", false},
                 {"selector-elsewhere:s", false},
                 {"selector", false},
                 {"", false},
                 {"+", false}};
    struct booth *b = booth_from(FOUR);
    struct circuit *c = believed(b);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        ck_assert_msg(cause_name_known(c, names[i].name) == names[i].known, "\"%s\"",
                      names[i].name);
    circuit_free(c);
    booth_free(b);
}
END_TEST

Suite *test_causes_named(void);
Suite *test_causes_named(void)
{
    Suite *s = suite_create("engine/causes, named");
    TCase *t = tcase_create("named");
    tcase_add_test(t, what_is_ruled_out_is_in_no_explanation_and_the_others_stay);
    tcase_add_test(t, a_name_is_a_word_with_all_its_subjects_or_alone);
    suite_add_tcase(s, t);
    return s;
}
