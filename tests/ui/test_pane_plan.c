#include <check.h>
#include <stdio.h>
#include <string.h>

#include "support/play_file.h"
#include "ui/pane.h"

/* P1 stands on strip 2, and H1 is wanted on strip 1: a cable is to be moved. */
#define MOVE                                                                                       \
    "host combining by-hand; p1.line > s2.line; joined p1; p1 plugged host.1; h1 wants s1; "       \
    "s1 selects line"

static bool lists_the_work(const struct play *p)
{
    return play_tells(p, "taken: the players' cards combined; by hand now:") &&
           play_tells(p, "2.00  move the plug of P1's line output") &&
           play_tells(p, "faders and monitors down before plugs move");
}

START_TEST(the_plan_that_was_taken_stays_for_hands_to_do)
{
    struct play p;
    play_world(&p, MOVE);
    play(&p, "keys 5 Enter");
    ck_assert(play_shows(&p, "taken: the players' cards combined; u undoes it"));
    ck_assert(lists_the_work(&p));
    ck_assert(play_shows(&p, "next: do by hand what the pane lists, from the top"));
    play(&p, "keys 2 space 4 e H P Enter 5");
    ck_assert(lists_the_work(&p));
    play_end(&p);
}
END_TEST

START_TEST(the_list_of_what_was_taken_follows_undo_and_redo)
{
    struct play p;
    play_world(&p, MOVE);
    play(&p, "keys 5 Enter u");
    ck_assert(!play_tells(&p, "taken:"));
    ck_assert(p.app->previewing);
    play(&p, "keys U");
    ck_assert(lists_the_work(&p));
    play(&p, "keys u S"); /* another step in its place */
    ck_assert(!play_tells(&p, "taken:"));
    play_end(&p);
}
END_TEST

/* Clicks on the first of the pane's lines that says something. */
static void click_line(struct play *p, const char *text)
{
    char line[32];
    struct lines l = pane_lines(p->app);
    int row = 0;
    while (row < (int)l.n && !strstr(l.v[row].text, text))
        row++;
    ck_assert_msg(row < (int)l.n, "no line says %s", text);
    snprintf(line, sizeof line, "press 60,%d",
             app_pane_rect(p->app).y + row - p->app->pane_scroll[PANE_PLAN]);
    lines_clear(&l);
    play(p, line);
}

START_TEST(a_click_on_a_step_takes_nothing_and_one_on_the_name_takes_the_plan)
{
    struct play p;
    play_world(&p, MOVE);
    play(&p, "keys 5");
    click_line(&p, "2.00  move");
    click_line(&p, "faders");
    ck_assert(p.app->previewing);
    ck_assert(!play_tells(&p, "taken:"));
    click_line(&p, "the players' cards");
    ck_assert(lists_the_work(&p));
    click_line(&p, "2.00  move");
    ck_assert_int_eq(p.effect, EFFECT_NONE);
    play_end(&p);
}
END_TEST

START_TEST(enter_on_what_was_taken_takes_nothing)
{
    struct play p;
    play_world(&p, MOVE);
    play(&p, "keys 5 Enter");
    struct booth *after = booth_copy(play_booth(&p));
    play(&p, "keys Enter");
    ck_assert_int_eq(p.effect, EFFECT_BELL);
    ck_assert(play_shows(&p, "it is taken: do by hand what is listed, from the top"));
    ck_assert(!p.app->previewing);
    play(&p, "keys Down Enter");
    ck_assert(play_shows(&p, "there is nothing to do"));
    ck_assert(booth_equal(play_booth(&p), after));
    booth_free(after);
    play_end(&p);
}
END_TEST

START_TEST(of_two_plans_that_were_taken_both_are_listed)
{
    struct play p;
    play_world(&p, MOVE "; x1.o1 > s3.line");
    play(&p, "keys 5 Enter Down Down Enter");
    ck_assert(lists_the_work(&p));
    ck_assert(play_tells(&p, "taken: an interface patched in; by hand now:"));
    play_end(&p);
}
END_TEST

START_TEST(a_live_room_keeps_its_monitors)
{
    struct play p;
    play_world(&p, MOVE "; s3 in-use house");
    play(&p, "keys 5");
    ck_assert(play_tells(&p, "only the faders of free strips down before plugs move"));
    ck_assert(!play_tells(&p, "monitors"));
    play_end(&p);
}
END_TEST

Suite *test_pane_plan(void)
{
    Suite *s = suite_create("ui/pane_plan");
    TCase *t = tcase_create("pane_plan");
    tcase_add_test(t, the_plan_that_was_taken_stays_for_hands_to_do);
    tcase_add_test(t, the_list_of_what_was_taken_follows_undo_and_redo);
    tcase_add_test(t, a_click_on_a_step_takes_nothing_and_one_on_the_name_takes_the_plan);
    tcase_add_test(t, enter_on_what_was_taken_takes_nothing);
    tcase_add_test(t, of_two_plans_that_were_taken_both_are_listed);
    tcase_add_test(t, a_live_room_keeps_its_monitors);
    suite_add_tcase(s, t);
    return s;
}
