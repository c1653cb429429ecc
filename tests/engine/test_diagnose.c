#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/diagnose.h"
#include "engine/heard.h"
#include "engine/route.h"
#include "model/shape.h"
#include "support/booth_from.h"
#include "support/injected.h"
#include "support/listening.h"
#include "support/records.h"

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

START_TEST(a_cable_that_was_thought_to_pass_one_side_may_pass_the_other)
{
    struct booth *b = booth_from("p1.line l> s1.line; joined p1; h1 wants s1");
    say_heard(b, "h1", "s1");
    b->line_check.v[0].heard.v[0].left = EAR_NONE;
    b->line_check.v[0].heard.v[0].right = EAR_RIGHT;
    ck_assert_str_eq(told(b), "the cable from P1's line output passes its right side only");
    booth_free(b);
}
END_TEST

START_TEST(without_decks_nothing_is_wrong_and_nothing_is_checked_next)
{
    struct booth *b = booth_from("p1.line > s1.line; joined p1");
    struct diagnosis d = diagnosis_make(b);
    ck_assert_uint_eq(d.n, 1);
    ck_assert_int_eq(d.v[0].n, 0);
    ck_assert_int_eq(d.next_deck, -1);
    ck_assert_ptr_null(d.next);
    diagnosis_clear(&d);
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

/* All explanations of a world's line check as people read them, a line each. */
static const char *lines_told(struct booth *b)
{
    static struct str said;
    struct diagnosis d = diagnosis_make(b);
    str_clear(&said);
    for (size_t i = 0; i < d.n_lines; i++) {
        explanation_say(&d, d.lines[i], &said);
        str_add(&said, "\n");
    }
    diagnosis_clear(&d);
    return str_text(&said);
}

#define BY_USB                                                                                     \
    "m1 card 8; joined m1; h1 wants s1; h2 wants s2; s1 selects usb; s2 selects line; h2 set 2 3"

START_TEST(only_the_selector_that_differs_may_stand_on_another_input)
{
    struct booth *b = booth_from(BY_USB);
    say_heard(b, "h1", NULL);
    say_heard(b, "h2", "s2");
    const char *told = lines_told(b);
    ck_assert_msg(strstr(told, "strip 1's selector stands on line, or another input; and strip 2's "
                               "selector stands on usb\n"),
                  "%s", told);
    ck_assert_msg(!strstr(told, "usb, or another"), "%s", told);
    booth_free(b);
}
END_TEST

START_TEST(a_plug_that_may_be_in_many_inputs_is_one_line_and_as_many_explanations)
{
    struct booth *b = booth_from(FOUR);
    say_heard(b, "h1", NULL);
    struct diagnosis d = diagnosis_make(b);
    int n = 0;
    for (size_t i = 0; i < d.n; i++)
        n += d.v[i].n == 1 && d.v[i].causes[0].kind == CAUSE_CABLE_ELSEWHERE;
    ck_assert_int_eq(n, 8);
    diagnosis_clear(&d);
    const char *told = lines_told(b);
    const char *line = strstr(told, " %: the cable from P2's line output is plugged into another "
                                    "input: strip 1's digital input, strip 1's phono input, ");
    ck_assert_msg(line && strstr(line, " or 5 more\n"), "%s", told);
    ck_assert_msg(!strstr(told, " %: the cable from P2's line output is plugged into strip"), "%s",
                  told);
    booth_free(b);
}
END_TEST

START_TEST(lines_are_sorted_by_all_that_they_stand_for)
{
    struct booth *b = booth_from(FOUR);
    say_heard(b, "h1", NULL);
    struct diagnosis d = diagnosis_make(b);
    double sum = 0;
    for (size_t i = 0; i < d.n_lines; i++) {
        const struct explanation *e = diagnosis_line(&d, (int)i);
        ck_assert(i == 0 || e->together <= diagnosis_line(&d, (int)i - 1)->together);
        sum += e->together;
    }
    ck_assert_double_eq_tol(sum, 1, 1e-9);
    ck_assert_uint_lt(d.n_lines, d.n);
    ck_assert_ptr_null(diagnosis_line(&d, (int)d.n_lines));
    diagnosis_clear(&d);
    booth_free(b);
}
END_TEST

/* The faults of a world that its diagnosis knows, by slug. */
static const char *known_to(struct booth *b)
{
    static struct str said;
    struct diagnosis d = diagnosis_make(b);
    struct circuit *c = circuit_new(b);
    struct faults all = faults_find(c);
    str_clear(&said);
    for (size_t i = 0; i < all.n; i++)
        if (diagnosis_knows(&d, &all.v[i]))
            str_addf(&said, "%s ", all.v[i].slug);
    faults_clear(&all);
    circuit_free(c);
    diagnosis_clear(&d);
    return str_text(&said);
}

#define SET_WRONG                                                                                  \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; p3.line > s3.line; "            \
    "p4.line x s4.line; joined p1 p2 p3 p4; h1 wants s2; h2 wants s3; h3 wants s1; h4 wants s4; "  \
    "h1 set 0 1; h2 set 4 5; h3 set 2 3"

START_TEST(what_the_settings_give_is_not_nothing_wrong_and_the_faults_are_known)
{
    struct booth *b = booth_from(SET_WRONG);
    ck_assert_str_eq(known_to(b), ""); /* nothing was heard yet */
    say_heard(b, "h2", "s3");
    ck_assert_str_eq(lines_told(b), "100 %: what was heard is as it should be\n");
    ck_assert_str_eq(known_to(b), "");
    say_heard(b, "h1", "s1");
    say_heard(b, "h3", "s2");
    ck_assert_str_eq(lines_told(b), "100 %: that is what the booth gives as it is set and wired, "
                                    "but not what is wanted of H1 and H3\n");
    ck_assert_str_eq(known_to(b), "stale-setting stale-setting ");
    say_heard(b, "h4", "s4"); /* the sides were not told, and are known to be exchanged */
    ck_assert_str_eq(known_to(b), "stale-setting stale-setting swapped-sides ");
    booth_free(b);
}
END_TEST

START_TEST(what_is_known_to_be_wrong_is_so_beside_what_must_be_explained)
{
    struct booth *b = booth_from(SET_WRONG);
    say_heard(b, "h1", "s1");
    say_heard(b, "h2", NULL);
    ck_assert_str_eq(told(b), "strip 3's selector stands on digital");
    ck_assert_str_eq(known_to(b), "stale-setting ");
    booth_free(b);
}
END_TEST

START_TEST(a_single_channel_heard_on_the_left_is_not_amiss)
{
    struct booth *b = booth_from("p1.line > s1.line; p1.line carries 1; joined p1; h1 wants s1");
    say_heard(b, "h1", "s1");
    b->line_check.v[0].heard.v[0].left = EAR_BOTH;
    b->line_check.v[0].heard.v[0].right = EAR_NONE;
    ck_assert_str_eq(lines_told(b), "100 %: what was heard is as it should be\n");
    booth_free(b);
}
END_TEST

START_TEST(every_single_cause_of_four_players_is_found)
{
    struct booth *b = booth_from(FOUR);
    find_singles(b, "four players");
    booth_free(b);
}
END_TEST

START_TEST(every_pair_of_causes_of_four_players_is_found_or_sounds_like_fewer)
{
    struct booth *b = booth_from(FOUR);
    find_pairs(b, "four players", 1);
    booth_free(b);
}
END_TEST

START_TEST(sampled_triples_of_causes_of_four_players_are_found_or_sound_like_fewer)
{
    struct booth *b = booth_from(FOUR);
    struct circuit *c = believed(b);
    struct causes all = causes_of(c);
    unsigned long long state = 20261125;
    for (int i = 0; i < 150; i++) {
        struct cause three[3];
        struct str what = {0};
        for (int k = 0; k < 3; k++)
            three[k] = all.v[random_below(&state, (unsigned)all.n)];
        bool apart = true;
        for (int k = 0; k < 3; k++) {
            const struct cause *x = &three[k], *y = &three[(k + 1) % 3];
            apart = apart && !(x->kind == y->kind && x->a == y->a);
            str_addf(&what, "%s %d %d, ", cause_word(x->kind), x->a, x->b);
        }
        if (apart)
            ck_assert_msg(found_in(b, three, 3, what.text) >= 0, "sample %d: %s", i, what.text);
        str_clear(&what);
    }
    mem_free(all.v);
    circuit_free(c);
    booth_free(b);
}
END_TEST

START_TEST(before_anything_is_wrong_the_deck_that_could_tell_most_is_advised)
{
    struct booth *b = booth_from(FOUR);
    struct diagnosis d = diagnosis_make(b);
    ck_assert_int_eq(d.marks == 0 && d.n == 1 && d.v[0].n == 0, true);
    ck_assert_int_ge(d.next_deck, 0);
    ck_assert_ptr_nonnull(d.next);
    diagnosis_clear(&d);
    const char *decks[] = {"h1", "h2", "h3", "h4"}, *strips[] = {"s2", "s3", "s1", "s4"};
    for (int i = 0; i < 4; i++) {
        say_heard(b, decks[i], strips[i]);
        d = diagnosis_make(b);
        ck_assert_msg(i == 3 ? d.next_deck < 0 : d.next_deck > i, "after %d: %d", i + 1,
                      d.next_deck);
        diagnosis_clear(&d);
    }
    booth_free(b);
}
END_TEST

/* A random cause, or two that can be together. */
static int pick_causes(const struct causes *all, unsigned long long *state, struct cause *two)
{
    int n = 1 + (int)random_below(state, 2);
    for (int k = 0; k < n; k++)
        two[k] = all->v[random_below(state, (unsigned)all->n)];
    return n == 2 && two[0].kind == two[1].kind && two[0].a == two[1].a ? 1 : n;
}

/* After a single cause nothing comes before an explanation by one. */
static void check_first(struct booth *b, const struct circuit *c, const struct cause *k,
                        const char *what)
{
    struct circuit *truth = circuit_copy(c);
    cause_apply(truth, k);
    listen_to(b, truth, ~0u);
    struct diagnosis d = diagnosis_make(b);
    ck_assert_msg(d.n && d.v[0].n <= 1, "%s: two causes come first", what);
    diagnosis_clear(&d);
    circuit_free(truth);
}

static void inject(struct booth *b, unsigned seed, int times)
{
    struct circuit *c = believed(b);
    struct causes all = causes_of(c);
    unsigned long long state = seed;
    for (int i = 0; i < times && all.n; i++) {
        struct cause two[2];
        int n = pick_causes(&all, &state, two);
        struct str what = {0};
        str_addf(&what, "seed %u: ", seed);
        for (int k = 0; k < n; k++) {
            str_add(&what, k ? " and " : "");
            cause_say(c, &two[k], &what);
        }
        ck_assert_msg(found_in(b, two, n, what.text) >= 0, "not found: %s", what.text);
        if (n == 1)
            check_first(b, c, two, what.text);
        str_clear(&what);
    }
    mem_free(all.v);
    circuit_free(c);
}

START_TEST(single_causes_and_pairs_in_hundreds_of_random_booths_are_found)
{
    for (unsigned seed = 1; seed <= 300; seed++) {
        struct booth *b = booth_random(seed);
        inject(b, seed, 8);
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

START_TEST(a_pair_that_nothing_is_plugged_into_is_thought_of)
{
    struct booth *b = booth_from("p1 card 4; p1.line > s1.line; joined p1; h1 wants s1");
    say_heard(b, "h1", NULL);
    struct diagnosis d = diagnosis_make(b);
    bool found = false;
    for (size_t i = 0; i < d.n; i++)
        found = found || (d.v[i].n == 1 && d.v[i].causes[0].kind == CAUSE_OTHER_PAIR &&
                          d.v[i].causes[0].pair.left == 2);
    ck_assert(found);
    diagnosis_clear(&d);
    booth_free(b);
}
END_TEST

START_TEST(a_deck_that_has_told_all_is_not_asked_for_again)
{
    struct booth *b = booth_from(FOUR);
    say_heard(b, "h2", "s3");
    say_heard(b, "h4", NULL);
    say_heard(b, "h1", "s2");
    say_heard(b, "h3", "s1");
    b->line_check.v[0].heard.v[0].left = EAR_NONE; /* of which side of the deck the right is no
                                                    * key can tell */
    for (size_t i = 2; i < 4; i++) {
        b->line_check.v[i].heard.v[0].left = EAR_LEFT;
        b->line_check.v[i].heard.v[0].right = EAR_RIGHT;
    }
    struct diagnosis d = diagnosis_make(b);
    ck_assert_int_gt(d.groups, 1);
    ck_assert_int_eq(d.next_deck, -1);
    ck_assert_msg(strncmp(d.next, "look whether ", 13) == 0, "%s", d.next);
    diagnosis_clear(&d);
    booth_free(b);
}
END_TEST

START_TEST(a_deck_that_would_play_into_use_is_not_asked_for)
{
    struct booth *b = booth_from(FOUR "s2 in-use Robin; p3 in-use Robin");
    struct diagnosis d = diagnosis_make(b); /* H1 wants strip 2, H2 plays through P3 */
    ck_assert_int_ge(d.next_deck, 2);
    diagnosis_clear(&d);
    booth_free(b);
}
END_TEST

START_TEST(where_all_is_silent_what_all_share_is_looked_at)
{
    struct booth *b = booth_from(FOUR "hub hub1 7; p1 plugged hub1.1; p2 plugged hub1.2; "
                                      "p3 plugged hub1.3; p4 plugged hub1.4");
    for (int i = 1; i <= 4; i++) {
        const char *const decks[] = {"h1", "h2", "h3", "h4"};
        say_heard(b, decks[i - 1], NULL);
    }
    struct diagnosis d = diagnosis_make(b);
    ck_assert_uint_eq(d.n, 0);
    ck_assert_str_eq(d.next, "all is silent: look at what all share: the interface chosen in the "
                             "host, hub1 and its lead, the mixer's power and master");
    diagnosis_clear(&d);
    booth_free(b);
}
END_TEST

/* Without a bound on its work this would take hours: that it ends is the test. */
START_TEST(in_the_largest_booth_the_search_ends_and_says_that_it_was_cut)
{
    struct str world = {0};
    str_add(&world, "host combining by-hand; joined");
    for (int i = 1; i <= 64; i++)
        str_addf(&world, " p%d", i);
    for (int i = 1; i <= 64; i++)
        str_addf(&world, "; p%d.line > s%d.line; h%d wants s%d", i, i, i, i);
    struct booth *b = booth_from(str_text(&world));
    say_heard(b, "h3", "s4");
    struct diagnosis d = diagnosis_make(b);
    ck_assert(d.n > 0 && d.v[0].n == 1);
    diagnosis_clear(&d);
    say_heard(b, "h4", NULL);
    say_heard(b, "h9", "s5");
    say_heard(b, "h20", "s60");
    say_heard(b, "h21", NULL);
    d = diagnosis_make(b);
    ck_assert(d.n == 0 && d.cut);
    diagnosis_clear(&d);
    booth_free(b);
    str_clear(&world);
}
END_TEST

Suite *test_diagnose(void)
{
    Suite *s = suite_create("engine/diagnose");
    TCase *t = tcase_create("diagnose");
    tcase_set_timeout(t, 300);
    tcase_add_test(t, all_heard_where_they_should_be_is_nothing_wrong);
    tcase_add_test(t, a_cable_that_was_thought_to_pass_one_side_may_pass_the_other);
    tcase_add_test(t, without_decks_nothing_is_wrong_and_nothing_is_checked_next);
    tcase_add_test(t, silence_of_one_deck_is_first_a_selector);
    tcase_add_test(t, two_decks_exchanged_is_first_an_order_of_joining);
    tcase_add_test(t, only_the_selector_that_differs_may_stand_on_another_input);
    tcase_add_test(t, a_plug_that_may_be_in_many_inputs_is_one_line_and_as_many_explanations);
    tcase_add_test(t, lines_are_sorted_by_all_that_they_stand_for);
    tcase_add_test(t, what_the_settings_give_is_not_nothing_wrong_and_the_faults_are_known);
    tcase_add_test(t, what_is_known_to_be_wrong_is_so_beside_what_must_be_explained);
    tcase_add_test(t, a_single_channel_heard_on_the_left_is_not_amiss);
    tcase_add_test(t, every_single_cause_of_four_players_is_found);
    tcase_add_test(t, every_pair_of_causes_of_four_players_is_found_or_sounds_like_fewer);
    tcase_add_test(t, sampled_triples_of_causes_of_four_players_are_found_or_sound_like_fewer);
    tcase_add_test(t, before_anything_is_wrong_the_deck_that_could_tell_most_is_advised);
    tcase_add_test(t, single_causes_and_pairs_in_hundreds_of_random_booths_are_found);
    tcase_add_test(t, no_cause_of_an_explanation_can_be_dropped_and_the_shares_sum_to_one);
    tcase_add_test(t, what_nothing_explains_names_the_odd_mark);
    tcase_add_test(t, in_the_largest_booth_the_search_ends_and_says_that_it_was_cut);
    tcase_add_test(t, a_deck_that_has_told_all_is_not_asked_for_again);
    tcase_add_test(t, a_deck_that_would_play_into_use_is_not_asked_for);
    tcase_add_test(t, where_all_is_silent_what_all_share_is_looked_at);
    tcase_add_test(t, a_pair_that_nothing_is_plugged_into_is_thought_of);
    suite_add_tcase(s, t);
    return s;
}
