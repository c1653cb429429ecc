#include <check.h>
#include <string.h>

#include "support/play_file.h"

#define TWO                                                                                        \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 " \
    "wants s2; h1 set 0 1; "                                                                       \
    "h2 set 2 3"

START_TEST(a_deck_that_is_right_takes_two_keys)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 2 Enter 1 Enter");
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 2);
    for (int i = 0; i < 2; i++) {
        const struct listen *l = &play_booth(&p)->line_check.v[i];
        ck_assert_uint_eq(l->heard.n, 1);
        ck_assert_str_eq(l->deck, i ? "h1" : "h2"); /* as advised */
        ck_assert_str_eq(l->heard.v[0].strip, i ? "s1" : "s2");
    }
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "All 2 decks were heard"));
    play_end(&p);
}
END_TEST

START_TEST(a_mark_is_one_step_of_undo)
{
    struct play p;
    play_world(&p, TWO);
    struct booth *before = booth_copy(play_booth(&p));
    play(&p, "keys 8 1 y Esc u u");
    ck_assert(booth_equal(play_booth(&p), before));
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(decks_heard_on_each_other_s_strips_are_explained_and_mended_by_enter)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 1 Enter 2 Enter");
    ck_assert_uint_gt(p.app->diagnosis.n, 0);
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "why"));
    play(&p, "keys Home Down Down");
    ck_assert_ptr_nonnull(p.app->mend);
    ck_assert(p.app->mend->feasible);
    play(&p, "keys Enter");
    /* the cards joined the other way round: the host plays the decks the other way round */
    ck_assert_int_eq(play_booth(&p)->decks.v[0].set_to.left, 2);
    ck_assert_int_eq(play_booth(&p)->decks.v[1].set_to.left, 0);
    /* what was heard before the mend says nothing any more, and is asked for anew */
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 0);
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "mended: what told of it is unchecked again"));
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
    play_world(&p, TWO);
    struct booth *before = booth_copy(play_booth(&p));
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
    ck_assert_uint_eq(p.app->struck.n, 0);
    play(&p, "keys Esc u u"); /* the marks alone were changes */
    ck_assert(booth_equal(play_booth(&p), before));
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(what_is_struck_out_stays_while_marks_change_and_goes_with_the_wiring)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 1 Enter 2 Enter Home Down Down x Home 1");
    ck_assert_uint_eq(p.app->struck.n, 1);
    ck_assert(!order_explains(&p));
    play(&p, "keys Tab Home Down t 8");
    ck_assert_uint_eq(p.app->struck.n, 0);
    play_end(&p);
}
END_TEST

START_TEST(when_everything_is_struck_out_nothing_else_explains_it)
{
    struct play p;
    play_world(&p, TWO);
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
    play_world(&p, TWO "; p1 plugged host.1; p2 plugged host.2; h1 set 0 1; h2 set 2 3");
    play(&p, "keys 8 Home Down 2 Home 0 End");
    for (int i = 0; i < 20 && (!p.app->mend || !p.app->mend->feasible ||
                               p.app->mend->actions[0].change.what != CHANGE_SOURCE);
         i++)
        play(&p, "keys Up");
    ck_assert_int_eq(p.app->mend->actions[0].change.what, CHANGE_SOURCE);
    play(&p, "keys Enter");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "mended: what told of it is unchecked again"));
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 1); /* what was heard rightly stays */
    play_end(&p);
}
END_TEST

START_TEST(a_setting_one_too_high_is_told_side_by_side)
{
    struct play p;
    play_world(&p, TWO);
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
    play_world(&p, TWO);
    play(&p, "keys 8 7");
    ck_assert_int_eq(p.app->pane, PANE_CHECK);
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "no strip is printed 7"));
    play_end(&p);
}
END_TEST

START_TEST(silence_sides_and_a_click_on_a_strip_are_marked)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 Home 0");
    ck_assert_uint_eq(play_booth(&p)->line_check.v[0].heard.n, 0);
    play(&p, "keys y");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "first the strip"));
    play(&p, "click s1\nkeys x");
    const struct listen *l = &play_booth(&p)->line_check.v[0];
    ck_assert_uint_eq(l->heard.n, 1);
    ck_assert_int_eq(l->heard.v[0].left, EAR_RIGHT);
    ck_assert_int_eq(l->heard.v[0].right, EAR_LEFT);
    play(&p, "keys 1"); /* the same strip again: not there */
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 0);
    play_end(&p);
}
END_TEST

START_TEST(a_change_of_wires_makes_a_mark_old_and_undo_makes_it_good_again)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 1 Tab\ndrag p1.line s2.line");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "out of date"));
    play(&p, "keys u");
    ck_assert_ptr_null(strstr(play_screen(&p), "out of date"));
    play_end(&p);
}
END_TEST

static int times_shown(struct play *p, const char *text)
{
    int n = 0;
    for (const char *at = play_screen(p); (at = strstr(at, text)); at++)
        n++;
    return n;
}

START_TEST(the_pane_says_that_digits_mark_here_and_how_one_leaves)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8");
    ck_assert(play_shows(&p, "Line check: 0-9 mark"));
    ck_assert(play_shows(&p, "1-9 mark the strip") && play_shows(&p, "Tab leaves"));
    play(&p, "keys Tab");
    ck_assert(!play_shows(&p, "0-9 mark"));
    play(&p, "keys 3");
    ck_assert_int_eq(p.app->pane, PANE_ROUTES);
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 0);
    play_end(&p);
}
END_TEST

START_TEST(a_mark_is_told_at_once_and_taken_back_by_one_key)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 Home 2");
    ck_assert_int_eq(p.app->pane, PANE_CHECK);
    ck_assert(play_shows(&p, "marked H1: heard on 2; u takes it back, Tab leaves"));
    play(&p, "keys x");
    ck_assert(play_shows(&p, "marked H1: heard on 2, sides exchanged; u takes it back"));
    play(&p, "keys u u");
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 0);
    play(&p, "keys Home 0");
    ck_assert(play_shows(&p, "marked H1: silence; u takes it back"));
    play_end(&p);
}
END_TEST

START_TEST(below_the_decks_digits_choose_panes_as_everywhere)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 1 Enter 2 Enter Home Down Down");
    ck_assert(!play_shows(&p, "0-9 mark"));
    play(&p, "keys 3");
    ck_assert_int_eq(p.app->pane, PANE_ROUTES);
    play_end(&p);
}
END_TEST

START_TEST(after_a_mend_only_one_order_is_given_and_the_cursor_is_there)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 1 Enter 2 Enter Home Down Down Enter");
    ck_assert(play_shows(&p, "mended: what told of it is unchecked again; u undoes it"));
    ck_assert(!play_shows(&p, "now play"));
    int next = p.app->diagnosis.next_deck;
    ck_assert_int_eq(p.app->item[PANE_CHECK], next);
    struct str order = {0};
    str_addf(&order, " next: play %s, and listen where", play_booth(&p)->decks.v[next].label);
    ck_assert(play_shows(&p, order.text));
    str_clear(&order);
    play_end(&p);
}
END_TEST

START_TEST(a_mend_says_its_minutes)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 1 Enter 2 Enter Home Down Down");
    ck_assert(play_shows(&p, "(0.50 min)"));
    play_end(&p);
}
END_TEST

START_TEST(u_takes_back_the_last_of_marks_and_strikes)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 1 Enter 2 Enter Home Down Down x x");
    ck_assert_uint_eq(p.app->struck.n, 2);
    ck_assert(play_shows(&p, "2 struck out"));
    play(&p, "keys Home 1"); /* marked, after the strikes */
    play(&p, "keys u");
    ck_assert_uint_eq(p.app->struck.n, 2);
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 2);
    play(&p, "keys u");
    ck_assert_uint_eq(p.app->struck.n, 1);
    ck_assert(play_shows(&p, "it may be that after all") && play_shows(&p, "1 struck out"));
    play(&p, "keys u");
    ck_assert_uint_eq(p.app->struck.n, 0);
    ck_assert(!play_shows(&p, "struck out") && order_explains(&p));
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 2);
    play(&p, "keys u u");
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 0);
    play_end(&p);
}
END_TEST

START_TEST(in_another_pane_u_undoes_what_can_be_seen_there)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 1 Enter 2 Enter Home Down Down x 3 u");
    ck_assert_uint_eq(p.app->struck.n, 1);
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 1);
    play_end(&p);
}
END_TEST

START_TEST(a_line_that_stands_for_many_inputs_is_struck_out_whole)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 Home 0 Home Down Down");
    const char *elsewhere = "plugged into another input";
    for (int i = 0; i < 9 && !(p.app->mend && p.app->mend->n &&
                               p.app->mend->actions[0].change.what == CHANGE_CABLE_MOVE);
         i++)
        play(&p, "keys Down");
    play(&p, "keys x");
    ck_assert_uint_eq(p.app->struck.n, 1);
    ck_assert_uint_gt(p.app->struck.v[0].names.n, 1);
    ck_assert_ptr_nonnull(strstr(p.app->struck.v[0].says, elsewhere));
    for (size_t i = 0; i < p.app->diagnosis.n; i++)
        ck_assert(p.app->diagnosis.v[i].n > 1 ||
                  p.app->diagnosis.v[i].causes[0].kind != CAUSE_CABLE_ELSEWHERE);
    play_end(&p);
}
END_TEST

START_TEST(what_the_settings_give_is_named_and_mended_by_enter)
{
    struct play p;
    play_world(&p, TWO "; h1 set 2 3; h2 set 0 1; p1 plugged host.1; p2 plugged host.2");
    play(&p, "keys 8 Home 2 Home Down 1");
    ck_assert(!play_shows(&p, "Nothing is wrong"));
    ck_assert(play_shows(&p, "what the booth gives") || play_shows(&p, "that is what the"));
    ck_assert(play_shows(&p, "x H1 is set to pair 2/3"));
    ck_assert_int_eq(times_shown(&p, " next: "), 1);
    ck_assert(play_shows(&p, " next: what is known to be wrong: Enter on it mends it"));
    play(&p, "keys Home Down Down");
    ck_assert(play_shows(&p, "set H1 to pair 0/1"));
    ck_assert(play_shows(&p, "Enter mends it, u undoes, Tab leaves"));
    play(&p, "keys x"); /* it cannot be struck out */
    ck_assert_uint_eq(p.app->struck.n, 0);
    play(&p, "keys Enter");
    ck_assert_int_eq(play_booth(&p)->decks.v[0].set_to.left, 0);
    ck_assert_int_eq(play_booth(&p)->decks.v[1].set_to.left, 2);
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 0);
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
    tcase_add_test(t, the_pane_says_that_digits_mark_here_and_how_one_leaves);
    tcase_add_test(t, a_mark_is_told_at_once_and_taken_back_by_one_key);
    tcase_add_test(t, below_the_decks_digits_choose_panes_as_everywhere);
    tcase_add_test(t, after_a_mend_only_one_order_is_given_and_the_cursor_is_there);
    tcase_add_test(t, a_mend_says_its_minutes);
    tcase_add_test(t, u_takes_back_the_last_of_marks_and_strikes);
    tcase_add_test(t, in_another_pane_u_undoes_what_can_be_seen_there);
    tcase_add_test(t, a_line_that_stands_for_many_inputs_is_struck_out_whole);
    tcase_add_test(t, what_the_settings_give_is_named_and_mended_by_enter);
    suite_add_tcase(s, t);
    return s;
}
