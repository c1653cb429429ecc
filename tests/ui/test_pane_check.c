#include <check.h>
#include <string.h>

#include "support/booth_from.h"
#include "support/play_file.h"

#define TWO                                                                                        \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 " \
    "wants s2; h1 set 0 1; "                                                                       \
    "h2 set 2 3"

static void open_world(struct play *p, const char *world)
{
    play_begin(p);
    app_open(p->app, booth_from(world), "world.json");
}

static const struct booth *now(const struct play *p)
{
    return app_booth(p->app);
}

START_TEST(a_deck_that_is_right_takes_two_keys)
{
    struct play p;
    open_world(&p, TWO);
    play(&p, "keys 8 2 Enter 1 Enter");
    ck_assert_uint_eq(now(&p)->line_check.n, 2);
    for (int i = 0; i < 2; i++) {
        const struct listen *l = &now(&p)->line_check.v[i];
        ck_assert_uint_eq(l->heard.n, 1);
        ck_assert_str_eq(l->deck, i ? "h1" : "h2"); /* as advised */
        ck_assert_str_eq(l->heard.v[0].strip, i ? "s1" : "s2");
    }
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "Nothing is wrong so far."));
    play_end(&p);
}
END_TEST

START_TEST(a_mark_is_one_step_of_undo)
{
    struct play p;
    open_world(&p, TWO);
    struct booth *before = booth_copy(now(&p));
    play(&p, "keys 8 1 y Esc u u");
    ck_assert(booth_equal(now(&p), before));
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(decks_heard_on_each_other_s_strips_are_explained_and_mended_by_enter)
{
    struct play p;
    open_world(&p, TWO);
    play(&p, "keys 8 1 Enter 2 Enter");
    ck_assert_uint_gt(p.app->diagnosis.n, 0);
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "why"));
    play(&p, "keys Home Down Down");
    ck_assert_ptr_nonnull(p.app->mend);
    ck_assert(p.app->mend->feasible);
    play(&p, "keys Enter");
    /* the cards joined the other way round: the host plays the decks the other way round */
    ck_assert_int_eq(now(&p)->decks.v[0].set_to.left, 2);
    ck_assert_int_eq(now(&p)->decks.v[1].set_to.left, 0);
    /* what was heard before the mend says nothing any more, and is asked for anew */
    ck_assert_uint_eq(now(&p)->line_check.n, 0);
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "mended: now play H1 again"));
    ck_assert_uint_eq(p.app->diagnosis.marks, 0);
    play_end(&p);
}
END_TEST

/* Whether an explanation of two decks heard on each other's strips is an order of joining. */
static bool order_explains(const struct play *p)
{
    bool found = false;
    for (size_t i = 0; i < p->app->diagnosis.n; i++)
        for (int k = 0; k < p->app->diagnosis.v[i].n; k++)
            found = found || p->app->diagnosis.v[i].causes[k].kind == CAUSE_JOIN_ORDER;
    return found;
}

START_TEST(what_somebody_looked_at_is_struck_out_and_taken_back_by_the_same_key)
{
    struct play p;
    open_world(&p, TWO);
    struct booth *before = booth_copy(now(&p));
    play(&p, "keys 8 1 Enter 2 Enter Home Down Down");
    ck_assert(order_explains(&p));
    size_t all = p.app->diagnosis.n;
    play(&p, "keys x");
    ck_assert(!order_explains(&p) && p.app->diagnosis.n > 0);
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "it is not"));
    ck_assert_ptr_nonnull(p.app->mend); /* of the likeliest that is left */
    play(&p, "keys End x");
    ck_assert(order_explains(&p));
    ck_assert_uint_eq(p.app->diagnosis.n, all);
    ck_assert_uint_eq(p.app->struck.names.n, 0);
    play(&p, "keys Esc u u"); /* the marks alone were changes */
    ck_assert(booth_equal(now(&p), before));
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(what_is_struck_out_stays_while_marks_change_and_goes_with_the_wiring)
{
    struct play p;
    open_world(&p, TWO);
    play(&p, "keys 8 1 Enter 2 Enter Home Down Down x Home 1");
    ck_assert_uint_eq(p.app->struck.names.n, 1);
    ck_assert(!order_explains(&p));
    play(&p, "keys Tab Home Down t 8");
    ck_assert_uint_eq(p.app->struck.names.n, 0);
    play_end(&p);
}
END_TEST

START_TEST(when_everything_is_struck_out_nothing_else_explains_it)
{
    struct play p;
    open_world(&p, TWO);
    play(&p, "keys 8 1 Enter 2 Enter Home Down Down");
    for (int i = 0; i < 60 && p.app->diagnosis.n; i++)
        play(&p, "keys Home Down Down x");
    ck_assert_uint_eq(p.app->diagnosis.n, 0);
    play(&p, "keys Home Down");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "Nothing else explains"));
    play_end(&p);
}
END_TEST

START_TEST(a_mend_that_the_file_agrees_with_asks_for_the_deck_again)
{
    struct play p;
    open_world(&p, TWO "; p1 plugged host.1; p2 plugged host.2; h1 set 0 1; h2 set 2 3");
    play(&p, "keys 8 Home Down 2 Home 0 End");
    for (int i = 0; i < 20 && (!p.app->mend || !p.app->mend->feasible ||
                               p.app->mend->actions[0].change.what != CHANGE_SOURCE);
         i++)
        play(&p, "keys Up");
    ck_assert_int_eq(p.app->mend->actions[0].change.what, CHANGE_SOURCE);
    play(&p, "keys Enter");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "mended: now play H1 again"));
    ck_assert_uint_eq(now(&p)->line_check.n, 1); /* what was heard rightly stays */
    play_end(&p);
}
END_TEST

START_TEST(a_setting_one_too_high_is_told_side_by_side)
{
    struct play p;
    open_world(&p, TWO);
    play(&p, "keys 8 Home 1 r 2 l"); /* its left on strip 1's right, its right on strip 2's left */
    const struct explanation *e = p.app->diagnosis.v;
    ck_assert_uint_gt(p.app->diagnosis.n, 0);
    ck_assert_int_eq(e->causes[0].kind, CAUSE_OFF_BY_ONE);
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "H1 R only"));
    play_end(&p);
}
END_TEST

START_TEST(a_digit_that_no_strip_bears_is_refused)
{
    struct play p;
    open_world(&p, TWO);
    play(&p, "keys 8 7");
    ck_assert_int_eq(p.app->pane, PANE_CHECK);
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "no strip is printed 7"));
    play_end(&p);
}
END_TEST

START_TEST(silence_sides_and_a_click_on_a_strip_are_marked)
{
    struct play p;
    open_world(&p, TWO);
    play(&p, "keys 8 Home 0");
    ck_assert_uint_eq(now(&p)->line_check.v[0].heard.n, 0);
    play(&p, "keys y");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "first the strip"));
    play(&p, "click s1\nkeys x");
    const struct listen *l = &now(&p)->line_check.v[0];
    ck_assert_uint_eq(l->heard.n, 1);
    ck_assert_int_eq(l->heard.v[0].left, EAR_RIGHT);
    ck_assert_int_eq(l->heard.v[0].right, EAR_LEFT);
    play(&p, "keys 1"); /* the same strip again: not there */
    ck_assert_uint_eq(now(&p)->line_check.v[0].heard.n, 0);
    play_end(&p);
}
END_TEST

START_TEST(a_change_of_wires_makes_a_mark_old_and_undo_makes_it_good_again)
{
    struct play p;
    open_world(&p, TWO);
    play(&p, "keys 8 1 Tab\ndrag p1.line s2.line");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "out of date"));
    play(&p, "keys u");
    ck_assert_ptr_null(strstr(play_screen(&p), "out of date"));
    play_end(&p);
}
END_TEST

Suite *test_pane_check(void)
{
    Suite *s = suite_create("ui/pane_check");
    TCase *t = tcase_create("line check");
    tcase_add_test(t, a_deck_that_is_right_takes_two_keys);
    tcase_add_test(t, a_mark_is_one_step_of_undo);
    tcase_add_test(t, decks_heard_on_each_other_s_strips_are_explained_and_mended_by_enter);
    tcase_add_test(t, silence_sides_and_a_click_on_a_strip_are_marked);
    tcase_add_test(t, a_change_of_wires_makes_a_mark_old_and_undo_makes_it_good_again);
    tcase_add_test(t, what_somebody_looked_at_is_struck_out_and_taken_back_by_the_same_key);
    tcase_add_test(t, what_is_struck_out_stays_while_marks_change_and_goes_with_the_wiring);
    tcase_add_test(t, when_everything_is_struck_out_nothing_else_explains_it);
    tcase_add_test(t, a_mend_that_the_file_agrees_with_asks_for_the_deck_again);
    tcase_add_test(t, a_setting_one_too_high_is_told_side_by_side);
    tcase_add_test(t, a_digit_that_no_strip_bears_is_refused);
    suite_add_tcase(s, t);
    return s;
}
