/* How a mark begins, grows and goes, and what the pane advises meanwhile. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "support/play_file.h"

#define TWO                                                                                        \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 " \
    "wants s2; h1 set 0 1; "                                                                       \
    "h2 set 2 3"

/* TWO, with a third strip: a deck heard on all of them is explained by nothing. */
#define THREE TWO "; t1.phono > s3.phono; s3 selects phono"

static const struct listen *heard_of(const struct play *p, const char *deck)
{
    const struct listen *l = booth_listen(play_booth(p), deck);
    ck_assert_ptr_nonnull(l);
    return l;
}

static const char *the_row(struct play *p, int from_below)
{
    static char row[256];
    const char *at = play_screen(p), *end = at + strlen(at);
    for (int i = 0; i < from_below; i++) {
        while (end > at && end[-1] == '\n')
            end--;
        while (end > at && end[-1] != '\n')
            end--;
    }
    snprintf(row, sizeof row, "%.*s", (int)strcspn(end, "\n"), end);
    return row;
}

START_TEST(without_its_last_strip_a_deck_is_not_checked_and_the_cursor_stays)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 Home 1 2 1");
    ck_assert_uint_eq(heard_of(&p, "h1")->heard.n, 1);
    play(&p, "keys 2");
    ck_assert_uint_eq(play_booth(&p)->line_check.n, 0);
    ck_assert_int_eq(p.app->item[PANE_CHECK], 0);
    ck_assert(play_shows(&p, "no mark of H1 is left: not checked; u takes it back"));
    ck_assert(play_shows(&p, "H1, strip 1: not checked"));
    play(&p, "keys u 0");
    ck_assert_uint_eq(heard_of(&p, "h1")->heard.n, 0);
    play_end(&p);
}
END_TEST

START_TEST(a_deck_that_is_asked_for_again_is_marked_afresh)
{
    struct play p;
    play_world(&p, THREE);
    play(&p, "keys 8 Home 1 Down 1 2 3");
    ck_assert_uint_eq(p.app->diagnosis.n, 0);
    ck_assert_int_eq(p.app->diagnosis.odd, 1);
    play(&p, "keys Up Down 2"); /* the cursor came back */
    ck_assert(play_shows(&p, "marked H2 afresh: heard on 2; u takes it back"));
    ck_assert_uint_eq(heard_of(&p, "h2")->heard.n, 1);
    play(&p, "keys 3"); /* and further strips add to that */
    ck_assert_uint_eq(heard_of(&p, "h2")->heard.n, 2);
    play(&p, "keys u u 2"); /* a mark that was taken back was none */
    ck_assert_uint_eq(heard_of(&p, "h2")->heard.n, 1);
    ck_assert_str_eq(heard_of(&p, "h2")->heard.v[0].strip, "s2");
    play_end(&p);
}
END_TEST

START_TEST(a_deck_heard_again_as_before_keeps_its_mark)
{
    struct play p;
    play_world(&p, THREE);
    play(&p, "keys 8 Home 2 Down 1 Enter"); /* for its sides, the first tells most */
    ck_assert_int_eq(p.app->item[PANE_CHECK], 0);
    play(&p, "keys 2");
    ck_assert(play_shows(&p, "H1 is marked so already: heard on 2"));
    ck_assert_uint_eq(heard_of(&p, "h1")->heard.n, 1);
    play(&p, "keys 1");
    ck_assert_uint_eq(heard_of(&p, "h1")->heard.n, 2);
    play_end(&p);
}
END_TEST

START_TEST(enter_goes_to_the_deck_that_is_doubted_and_begins_it_afresh)
{
    struct play p;
    play_world(&p, THREE);
    play(&p, "keys 8 Home 1 Down 1 2 3 Up Enter");
    ck_assert_int_eq(p.app->item[PANE_CHECK], 1);
    play(&p, "keys Up Down 1 2 3 Enter"); /* it is there already */
    ck_assert_int_eq(p.app->item[PANE_CHECK], 1);
    ck_assert(play_shows(&p, "play H2 again: the first strip marks it afresh"));
    play(&p, "keys 2");
    ck_assert_uint_eq(heard_of(&p, "h2")->heard.n, 1);
    play_end(&p);
}
END_TEST

START_TEST(a_deck_that_nobody_asked_for_again_is_added_to)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 Home 1 Down 2 Up 2");
    ck_assert_uint_eq(heard_of(&p, "h1")->heard.n, 2);
    play_end(&p);
}
END_TEST

START_TEST(below_stands_the_pane_s_own_advice_and_no_fault_s)
{
    struct play p;
    play_world(&p, THREE);
    play(&p, "keys 8 Home 1 Down 1 2 3 Up");
    ck_assert(play_shows(&p, "check H2 again."));
    ck_assert_str_eq(the_row(&p, 2), " next: check H2 again");
    play(&p, "keys Down Enter 2");
    ck_assert_str_eq(the_row(&p, 2), " next: the line check is done: Tab leaves");
    play(&p, "keys Tab"); /* elsewhere the booth's advice stands as ever */
    ck_assert(!play_shows(&p, "next: the line check is done"));
    play_end(&p);
}
END_TEST

START_TEST(what_was_heard_is_told_apart_from_what_is_in_error)
{
    struct play p;
    play_world(&p, TWO "; h3 wants s2");
    size_t errors = p.app->derived->faults.count[SEVERITY_ERROR];
    ck_assert_uint_gt(errors, 0);
    play(&p, "keys 8 Home 1");
    ck_assert(play_shows(&p, "What was heard so far is"));
    struct str stand = {0};
    str_addf(&stand, errors == 1 ? "%zu error stands: pane 1" : "%zu errors stand: pane 1", errors);
    ck_assert(play_shows(&p, stand.text));
    str_clear(&stand);
    play_end(&p);
    play_world(&p, TWO "; p1 plugged host.1; p2 plugged host.2");
    play(&p, "keys 8 Home 1");
    ck_assert(play_shows(&p, "What was heard so far is"));
    ck_assert(!play_shows(&p, "pane 1"));
    play_end(&p);
}
END_TEST

START_TEST(undoing_the_sides_says_so)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 Home 1 y u");
    ck_assert(play_shows(&p, "undone: the sides of H1"));
    play(&p, "keys u");
    ck_assert(play_shows(&p, "undone: what was heard of H1"));
    play_end(&p);
}
END_TEST

START_TEST(sides_are_told_at_a_deck_s_row)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys 8 1 Enter 2 Enter Home Down Down l");
    ck_assert(play_shows(&p, "sides are told at a deck's row"));
    play_end(&p);
}
END_TEST

START_TEST(a_mend_that_takes_no_time_says_none)
{
    struct play p;
    play_world(&p, TWO "; h1 by p1; h2 by p2");
    play(&p, "keys 8 1 Enter 2 Enter Home Down");
    for (int i = 0; i < 12 && !play_shows(&p, "control H"); i++)
        play(&p, "keys Down");
    ck_assert(play_shows(&p, "control H") && !play_shows(&p, "(0.00"));
    play_end(&p);
}
END_TEST

START_TEST(one_less_likely_explanation_is_one)
{
    struct play p;
    play_world(&p, THREE);
    play(&p, "size 140x90 ascii\nkeys 8 Home 0 Home Down Down");
    ck_assert_uint_gt(p.app->diagnosis.n_lines, 14);
    for (int i = 0; i < 60 && p.app->diagnosis.n_lines > 14; i++)
        play(&p, "keys Home Down Down x");
    play(&p, "keys Home");
    ck_assert(play_shows(&p, "and 2 less likely ones"));
    play(&p, "keys Home Down Down x Home");
    ck_assert_uint_eq(p.app->diagnosis.n_lines, 13);
    ck_assert(play_shows(&p, "and 1 less likely one") && !play_shows(&p, "likely ones"));
    play_end(&p);
}
END_TEST

START_TEST(sides_told_of_a_deck_heard_again_keep_its_strip_and_more_strips_add_to_it)
{
    struct play p;
    play_world(&p, THREE);
    play(&p, "keys 8 Home 2 Down 1 Enter y"); /* it is asked for again, and heard as before */
    ck_assert_uint_eq(heard_of(&p, "h1")->heard.n, 1);
    play(&p, "keys 3");
    ck_assert_uint_eq(heard_of(&p, "h1")->heard.n, 2);
    ck_assert_int_eq(heard_of(&p, "h1")->heard.v[0].left, EAR_LEFT);
    play_end(&p);
}
END_TEST

Suite *test_pane_check_marks(void)
{
    Suite *s = suite_create("ui/pane_check_marks");
    TCase *t = tcase_create("marks and advice");
    tcase_add_test(t, without_its_last_strip_a_deck_is_not_checked_and_the_cursor_stays);
    tcase_add_test(t, a_deck_that_is_asked_for_again_is_marked_afresh);
    tcase_add_test(t, a_deck_heard_again_as_before_keeps_its_mark);
    tcase_add_test(t, enter_goes_to_the_deck_that_is_doubted_and_begins_it_afresh);
    tcase_add_test(t, a_deck_that_nobody_asked_for_again_is_added_to);
    tcase_add_test(t, below_stands_the_pane_s_own_advice_and_no_fault_s);
    tcase_add_test(t, what_was_heard_is_told_apart_from_what_is_in_error);
    tcase_add_test(t, undoing_the_sides_says_so);
    tcase_add_test(t, sides_are_told_at_a_deck_s_row);
    tcase_add_test(t, a_mend_that_takes_no_time_says_none);
    tcase_add_test(t, one_less_likely_explanation_is_one);
    tcase_add_test(t, sides_told_of_a_deck_heard_again_keep_its_strip_and_more_strips_add_to_it);
    suite_add_tcase(s, t);
    return s;
}
