#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/diagnose.h"
#include "engine/heard.h"
#include "engine/route.h"
#include "model/shape.h"
#include "support/booth_from.h"
#include "support/listening.h"
#include "support/records.h"

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

/* Injects causes, marks all decks, diagnoses: every explanation replays, and one of them is what
 * was injected or sounds just like it. Returns the group of that one, or -1. */
static int found_in(struct booth *b, const struct cause *causes, int n, const char *what)
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

#define FOUR                                                                                       \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; p3.line > s3.line; "            \
    "p4.line > s4.line; joined p1 p2 p3 p4; h1 wants s2; h2 wants s3; h3 wants s1; h4 wants s4; "

/* The likeliest explanation of a world's line check, told; the world's decks are marked by hand. */
static const char *told(struct booth *b)
{
    static struct str said;
    struct diagnosis d = diagnosis_make(b);
    str_clear(&said);
    for (int i = 0; d.n && i < d.v[0].n; i++) {
        if (i)
            str_add(&said, "; ");
        cause_say(d.believed, &d.v[0].causes[i], &said);
    }
    if (d.n == 0)
        str_add(&said, "nothing explains it");
    else if (d.v[0].n == 0)
        str_add(&said, "nothing is wrong");
    diagnosis_clear(&d);
    return str_text(&said);
}

static void say_heard(struct booth *b, const char *deck, const char *strip)
{
    struct listen *l = add_record(&shape_booth, b, "line_check");
    snprintf(l->deck, sizeof l->deck, "%s", deck);
    if (!strip)
        return;
    struct mark *m = add_record(&shape_listen, l, "heard");
    snprintf(m->strip, sizeof m->strip, "%s", strip);
}

START_TEST(all_heard_where_they_should_be_is_nothing_wrong)
{
    struct booth *b = booth_from(FOUR);
    say_heard(b, "h1", "s2");
    say_heard(b, "h2", "s3");
    ck_assert_str_eq(told(b), "nothing is wrong");
    booth_free(b);
}
END_TEST

START_TEST(silence_of_one_deck_is_first_a_selector)
{
    struct booth *b = booth_from(FOUR);
    say_heard(b, "h1", NULL);
    say_heard(b, "h2", "s3");
    say_heard(b, "h3", "s1");
    say_heard(b, "h4", "s4");
    ck_assert_str_eq(told(b), "strip 2's selector stands on digital");
    booth_free(b);
}
END_TEST

START_TEST(two_decks_exchanged_is_first_an_order_of_joining)
{
    struct booth *b = booth_from(FOUR);
    say_heard(b, "h1", "s3");
    say_heard(b, "h2", "s2");
    say_heard(b, "h3", "s1");
    say_heard(b, "h4", "s4");
    ck_assert_str_eq(told(b), "the devices joined in the order P1, P3, P2, P4");
    booth_free(b);
}
END_TEST

START_TEST(every_single_cause_of_four_players_is_found)
{
    struct booth *b = booth_from(FOUR);
    struct circuit *c = believed(b);
    struct causes all = causes_of(c);
    for (size_t i = 0; i < all.n; i++) {
        struct str what = {0};
        cause_say(c, &all.v[i], &what);
        ck_assert_msg(found_in(b, &all.v[i], 1, what.text) >= 0, "not found: %s", what.text);
        str_clear(&what);
    }
    mem_free(all.v);
    circuit_free(c);
    booth_free(b);
}
END_TEST

static void next_order(unsigned char *v, int n) /* the next permutation */
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

START_TEST(every_order_of_four_players_is_found)
{
    struct booth *b = booth_from(FOUR);
    struct circuit *c = believed(b);
    struct cause k = {.kind = CAUSE_JOIN_ORDER};
    for (size_t i = 0; i < c->n_joined; i++)
        k.order[i] = (unsigned char)c->joined[i];
    for (int i = 0; i < 24; i++, next_order(k.order, 4))
        ck_assert_msg(found_in(b, &k, 1, "order") >= 0, "order %d", i);
    circuit_free(c);
    booth_free(b);
}
END_TEST

START_TEST(every_pair_of_causes_of_four_players_is_found_or_sounds_like_fewer)
{
    struct booth *b = booth_from(FOUR);
    struct circuit *c = believed(b);
    struct causes all = causes_of(c);
    unsigned long long state = 7;
    for (int i = 0; i < 250; i++) {
        struct cause two[2] = {all.v[random_below(&state, (unsigned)all.n)],
                               all.v[random_below(&state, (unsigned)all.n)]};
        if (two[0].kind == two[1].kind && two[0].a == two[1].a)
            continue;
        struct str what = {0};
        cause_say(c, &two[0], &what);
        str_add(&what, " and ");
        cause_say(c, &two[1], &what);
        ck_assert_msg(found_in(b, two, 2, what.text) >= 0, "not found: %s", what.text);
        str_clear(&what);
    }
    mem_free(all.v);
    circuit_free(c);
    booth_free(b);
}
END_TEST

START_TEST(single_causes_of_random_booths_are_found)
{
    for (unsigned seed = 1; seed <= 60; seed++) {
        struct booth *b = booth_random(seed);
        struct circuit *c = believed(b);
        struct causes all = causes_of(c);
        unsigned long long state = seed;
        for (int i = 0; i < 4 && all.n; i++) {
            const struct cause *k = &all.v[random_below(&state, (unsigned)all.n)];
            struct str what = {0};
            str_addf(&what, "seed %u: ", seed);
            cause_say(c, k, &what);
            ck_assert_msg(found_in(b, k, 1, what.text) >= 0, "not found: %s", what.text);
            str_clear(&what);
        }
        mem_free(all.v);
        circuit_free(c);
        booth_free(b);
    }
}
END_TEST

START_TEST(no_cause_of_an_explanation_can_be_dropped_and_the_shares_sum_to_one)
{
    struct booth *b = booth_from(FOUR);
    say_heard(b, "h1", NULL);
    say_heard(b, "h4", "s4");
    struct diagnosis d = diagnosis_make(b);
    double sum = 0;
    ck_assert_uint_gt(d.n, 1);
    for (size_t i = 0; i < d.n; i++) {
        sum += d.v[i].share;
        for (int without = 0; without < d.v[i].n; without++) {
            struct explanation less = {.n = d.v[i].n - 1};
            for (int k = 0, to = 0; k < d.v[i].n; k++)
                if (k != without)
                    less.causes[to++] = d.v[i].causes[k];
            ck_assert(!diagnosis_replays(&d, &less));
        }
    }
    ck_assert_double_eq_tol(sum, 1, 1e-9);
    ck_assert_msg(d.next_deck >= 0, "%d groups of %zu: %s", d.groups, d.n, d.next);
    diagnosis_clear(&d);
    booth_free(b);
}
END_TEST

START_TEST(what_nothing_explains_names_the_odd_mark)
{
    struct booth *b = booth_from(FOUR "s9 selects line");
    say_heard(b, "h2", "s3");
    say_heard(b, "h3", "s1");
    say_heard(b, "h4", "s4");
    say_heard(b, "h1", "gone");
    struct diagnosis d = diagnosis_make(b);
    ck_assert_uint_eq(d.n, 0);
    ck_assert_int_eq(d.odd, 0);
    diagnosis_clear(&d);
    booth_free(b);
}
END_TEST

Suite *test_diagnose(void)
{
    Suite *s = suite_create("engine/diagnose");
    TCase *t = tcase_create("diagnose");
    tcase_add_test(t, all_heard_where_they_should_be_is_nothing_wrong);
    tcase_add_test(t, silence_of_one_deck_is_first_a_selector);
    tcase_add_test(t, two_decks_exchanged_is_first_an_order_of_joining);
    tcase_add_test(t, every_single_cause_of_four_players_is_found);
    tcase_add_test(t, every_order_of_four_players_is_found);
    tcase_add_test(t, every_pair_of_causes_of_four_players_is_found_or_sounds_like_fewer);
    tcase_add_test(t, single_causes_of_random_booths_are_found);
    tcase_add_test(t, no_cause_of_an_explanation_can_be_dropped_and_the_shares_sum_to_one);
    tcase_add_test(t, what_nothing_explains_names_the_odd_mark);
    suite_add_tcase(s, t);
    return s;
}
