#include <check.h>
#include <stdio.h>
#include <string.h>

#include "support/play_file.h"
#include "ui/pane.h"

#define TWO                                                                                        \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; joined p1 p2; "                 \
    "p1 plugged host.1; p2 plugged host.2; h1 wants s1; h2 wants s2; h1 set 0 1; h2 set 2 3"

/* The row of the pane's first line, from a line on, that says something. */
static int row_of(const struct play *p, const char *text, int from)
{
    struct lines l = pane_lines(p->app);
    int row = from;
    while (row < (int)l.n && !strstr(l.v[row].text, text))
        row++;
    ck_assert_msg(row < (int)l.n, "no line says %s", text);
    lines_clear(&l);
    return row;
}

/* Clicks on such a line. */
static void click_line(struct play *p, const char *text, int from)
{
    char line[32];
    int row = row_of(p, text, from) - p->app->pane_scroll[p->app->pane];
    snprintf(line, sizeof line, "press 60,%d", app_pane_rect(p->app).y + row);
    play(p, line);
}

START_TEST(a_click_on_a_step_only_reads_it_and_one_on_the_offer_takes_the_way_back)
{
    struct play p;
    play_world(&p, TWO);
    struct booth *before = booth_copy(play_booth(&p));
    play(&p, "click p1\nkeys 7");
    click_line(&p, "the data lead", 0);
    for (int i = 0; i < 3; i++)
        click_line(&p, "back in", 0);
    ck_assert_int_eq(p.app->item[PANE_FAILURES], 1);
    ck_assert(p.app->previewing);
    ck_assert(booth_equal(play_booth(&p), before));
    click_line(&p, "Enter takes it", 0);
    ck_assert(!booth_equal(play_booth(&p), before));
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(the_first_click_only_looks_and_the_second_takes_the_way_back)
{
    struct play p;
    play_world(&p, TWO);
    struct booth *before = booth_copy(play_booth(&p));
    play(&p, "click p1\nkeys 7\npress 60,3");
    ck_assert(p.app->pane_keys);
    ck_assert(p.app->previewing);
    ck_assert(booth_equal(play_booth(&p), before));
    play(&p, "press 60,3");
    ck_assert(!booth_equal(play_booth(&p), before));
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(the_first_click_puts_nothing_back)
{
    struct play p;
    play_world(&p, TWO "; s1 selects line");
    play(&p, "click selector:s1.phono\nclick p1\nkeys 6");
    struct booth *before = booth_copy(play_booth(&p));
    char line[32];
    int row = 0;
    struct lines l = pane_lines(p.app);
    while (lines_item_at(&l, 0, row) != 0)
        row++;
    lines_clear(&l);
    snprintf(line, sizeof line, "press 60,%d", app_pane_rect(p.app).y + row);
    play(&p, line);
    ck_assert(booth_equal(play_booth(&p), before));
    play(&p, line);
    ck_assert_str_eq(booth_strip(play_booth(&p), "s1", NULL)->selected, "line");
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(the_title_of_a_preview_says_that_it_is_one)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "click p1\nkeys 7");
    ck_assert(!play_shows(&p, "preview:"));
    ck_assert(play_shows(&p, "  saved\n"));
    play(&p, "keys Tab");
    ck_assert(play_shows(&p, "preview: "));
    ck_assert(!play_shows(&p, "saved\n"));
    play(&p, "keys Tab");
    ck_assert(play_shows(&p, "  saved\n"));
    play_end(&p);
}
END_TEST

START_TEST(a_strip_is_called_a_strip)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "click s1\nkeys 7");
    ck_assert(play_shows(&p, "at strip 1, if it dies:"));
    play_end(&p);
}
END_TEST

START_TEST(at_a_host_deck_stands_all_that_it_plays_through)
{
    struct play p;
    play_world(&p, "host combining by-hand; hub hub1 4 host.1; p1.line > s1.line; joined p1; "
                   "p1 plugged hub1.1; h1 wants s1; h2 by p1");
    play(&p, "click h1\nkeys 7");
    ck_assert(play_tells(&p, "H1 plays through these; if one dies: P1: silent H1"));
    ck_assert(play_tells(&p, "the data lead of P1: silent H1 "));
    ck_assert(play_tells(&p, "hub1: silent H1 "));
    ck_assert(
        play_tells(&p, "the cable from P1's line output to strip 1's line input: silent H1 "));
    ck_assert(play_tells(&p, "strip 1: silent H1 "));
    ck_assert(play_tells(&p, "the laptop: silent H1 "));
    play(&p, "click h2");
    ck_assert(play_tells(&p, "H2 plays through no strip yet; if this dies: the laptop"));
    play_end(&p);
}
END_TEST

START_TEST(at_a_jack_stand_its_cables_and_it_is_called_as_everywhere)
{
    struct play p;
    play_world(&p, TWO "; p1.line > s3.line");
    play(&p, "click p1.line\nkeys 7");
    ck_assert(play_tells(&p, "at P1's line output, if it dies: the cable from P1's line output to "
                             "strip 1's line input: silent H1"));
    ck_assert(play_tells(&p, "to strip 3's line input: nothing falls silent"));
    ck_assert(!play_tells(&p, "from P2"));
    play(&p, "click p1.digital");
    ck_assert(play_tells(&p, "no cable at P1's digital output; if this dies: the laptop"));
    play_end(&p);
}
END_TEST

START_TEST(a_mixer_without_a_card_sends_to_its_strips)
{
    struct play p;
    play_world(&p, TWO);
    p.app->selected = spot_of(SPOT_DEVICE, "m1");
    play(&p, "keys 7");
    ck_assert(play_tells(&p,
                         "M1 has no sound card that could fail; ask at its strips, one by one. If "
                         "this dies: the laptop"));
    play_end(&p);
}
END_TEST

/* At 80x24 the way back from this hub is longer than the pane. */
static void at_the_hub(struct play *p)
{
    play_begin(p);
    play(p, "venue venues/kelp-store.json");
    p->app->selected = spot_of(SPOT_HUB, "hub1");
    play(p, "keys 7 Tab");
}

START_TEST(pages_scroll_a_long_way_back_and_leave_it_chosen)
{
    struct play p;
    at_the_hub(&p);
    ck_assert(play_shows(&p, "> Hub: silent"));
    struct booth *before = booth_copy(play_booth(&p));
    play(&p, "keys PageDown PageDown");
    ck_assert(!play_shows(&p, "> Hub: silent"));
    ck_assert(play_shows(&p, "Enter takes it, u"));
    ck_assert_int_eq(p.app->item[PANE_FAILURES], 0);
    play(&p, "keys PageUp PageUp");
    ck_assert(play_shows(&p, "if it dies:"));
    ck_assert(play_shows(&p, "> Hub: silent"));
    ck_assert_int_eq(p.effect, EFFECT_NONE);
    play(&p, "keys PageUp");
    ck_assert_int_eq(p.effect, EFFECT_BELL);
    ck_assert(play_shows(&p, "there is no more of the pane"));
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(the_head_of_a_long_way_back_is_in_view_where_the_arrows_go)
{
    static const char *const walk[] = {"Down", "Down", "Down", "Down", "Up", "Up", "Up", "Up"};
    struct play p;
    at_the_hub(&p);
    for (size_t k = 0; k < play_booth(&p)->devices.n; k++) {
        p.app->selected = spot_of(SPOT_DEVICE, play_booth(&p)->devices.v[k].id);
        for (size_t i = 0; i < sizeof walk / sizeof *walk; i++) {
            char line[16];
            snprintf(line, sizeof line, "keys %s", walk[i]);
            play(&p, line);
            ck_assert_msg(play_shows(&p, "|> "), "at %s, step %zu", p.app->selected.name, i);
        }
    }
    play_end(&p);
}
END_TEST

START_TEST(where_hands_do_nothing_there_is_nothing_to_take)
{
    struct play p;
    play_world(&p, TWO "; t1.phono > s3.phono; s3 selects phono");
    play(&p, "click s3\nkeys 7 Tab End");
    ck_assert(play_tells(&p, "back at once: play from T1 itself"));
    ck_assert(!play_shows(&p, "Enter takes it"));
    struct booth *before = booth_copy(play_booth(&p));
    play(&p, "keys Enter");
    ck_assert_int_eq(p.effect, EFFECT_BELL);
    ck_assert(play_shows(&p, "there is nothing to do: play from T1 itself on strip 3"));
    ck_assert(booth_equal(play_booth(&p), before));
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(what_to_bring_stands_before_what_to_do)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "click p1\nkeys 7 Tab Down Down");
    const char *screen = play_screen(&p);
    const char *bring = strstr(screen, "bring 1"), *run = strstr(screen, "- run a cable");
    ck_assert_ptr_nonnull(bring);
    ck_assert_ptr_nonnull(run);
    ck_assert(bring < run);
    play_end(&p);
}
END_TEST

START_TEST(what_else_is_to_be_done_stands_below_the_actions)
{
    struct play p;
    play_begin(&p);
    play(&p, "venue venues/kelp-store.json\nclick p1\nkeys 7 Tab");
    ck_assert(play_tells(&p, "also set the laptop to 44.1 kHz: a bus has too little time"));
    play(&p, "keys Enter"); /* also once it is taken */
    ck_assert(play_tells(&p, "P1 died; taken:"));
    ck_assert(play_tells(&p, "also set the laptop to 44.1 kHz: a bus has too little time"));
    play_end(&p);
}
END_TEST

#define HUB                                                                                        \
    "host combining by-hand; hub hub1 4 host.1; hub hub2 4 host.2; p1 plugged hub1.1; "            \
    "p2 plugged hub1.2; p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; "         \
    "h2 wants s2; h1 set 0 1; h2 set 2 3"

START_TEST(what_was_taken_is_shown_where_it_was_asked_and_a_second_enter_takes_nothing)
{
    struct play p;
    play_world(&p, HUB);
    play(&p, "click hub1\nkeys 7 Tab Enter");
    ck_assert(play_tells(&p, "hub1 died; taken:"));
    ck_assert(play_tells(&p, "- pull the data lead of hub1"));
    ck_assert(play_shows(&p, "next: do by hand what the pane lists, from the top"));
    ck_assert_str_eq(p.app->selected.name, "hub1");
    struct booth *after = booth_copy(play_booth(&p));
    play(&p, "keys Enter Down Enter End Enter");
    ck_assert(booth_equal(play_booth(&p), after));
    ck_assert(!p.app->previewing);
    play(&p, "keys Tab Home");
    ck_assert(play_tells(&p, "if one dies:"));
    booth_free(after);
    play_end(&p);
}
END_TEST

START_TEST(the_pane_follows_undo_and_redo)
{
    struct play p;
    play_world(&p, HUB);
    play(&p, "click p1\nkeys 7 Tab Down");
    int item = p.app->item[PANE_FAILURES];
    play(&p, "keys Enter");
    ck_assert(play_tells(&p, "the data lead of P1 died; taken:"));
    play(&p, "keys u");
    ck_assert(play_tells(&p, "at P1, if it dies:"));
    ck_assert_int_eq(p.app->item[PANE_FAILURES], item);
    play(&p, "keys U");
    ck_assert(play_tells(&p, "the data lead of P1 died; taken:"));
    play(&p, "keys u j"); /* another step in its place */
    ck_assert(play_shows(&p, "at P1, if it dies:"));
    play_end(&p);
}
END_TEST

START_TEST(next_does_not_ask_for_what_was_given_up)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "click p1\nkeys 7 Tab Enter 1");
    ck_assert(play_tells(&p, "H1 wants strip 1, but P1")); /* the fault stands */
    ck_assert(play_shows(&p, "next: "));
    ck_assert(!play_shows(&p, "next: join P1"));
    play(&p, "keys u j"); /* taken out by hand: that is no giving up */
    ck_assert(play_shows(&p, "next: join P1"));
    play_end(&p);
}
END_TEST

START_TEST(no_step_of_the_checklist_is_asked_for_that_uses_what_died)
{
    struct play p;
    play_world(&p, TWO "; h1 by p1");
    play(&p, "keys 2 space space Tab\nclick p1\nkeys 7 Tab Enter 1");
    ck_assert(play_shows(&p, "next: switch P2 on"));
    play_end(&p);
}
END_TEST

START_TEST(without_the_laptop_next_is_what_still_plays)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "click p1\nkeys 7 Tab End Enter");
    ck_assert(play_shows(&p, "next: play from P1 itself on strip 1"));
    play(&p, "keys 1");
    ck_assert(play_shows(&p, "next: play from P1 itself on strip 1"));
    play_end(&p);
}
END_TEST

START_TEST(a_cable_in_the_place_of_a_dead_one_changes_nothing_and_says_so)
{
    struct play p;
    play_world(&p, TWO "; h1 by p1; h2 by p2");
    play(&p, "click p2\nkeys 7 Tab End Up Enter");
    ck_assert(play_shows(&p, "do it by hand: nothing here is different afterwards"));
    ck_assert(history_is_saved(p.app->history));
    ck_assert(!p.app->previewing);
    ck_assert(play_tells(&p, "- run a cable"));
    ck_assert(play_tells(&p, "by hand: nothing here is different afterwards"));
    ck_assert(!play_tells(&p, "Enter takes it"));
    play_end(&p);
}
END_TEST

START_TEST(next_does_not_ask_to_undo_what_was_put_back)
{
    struct play p;
    play_world(&p, TWO "; p1 own-media");
    ck_assert(play_shows(&p, "next: switch P1 to the computer"));
    play(&p, "click source:p1\nkeys 6");
    ck_assert(play_tells(&p, "at the end, to leave it as found"));
    play(&p, "keys Tab");
    ck_assert(play_shows(&p, "put back: switch P1 to its own media"));
    ck_assert(!play_shows(&p, "next: "));
    play(&p, "keys Enter");
    ck_assert(play_shows(&p, "done: switch P1 to its own media; u undoes it"));
    play(&p, "keys 1");
    ck_assert(play_tells(&p, "but P1 is on its own media"));
    ck_assert(!play_shows(&p, "next: switch P1 to the computer"));
    play(&p, "keys u u");
    ck_assert(play_shows(&p, "next: switch P1 to the computer"));
    play_end(&p);
}
END_TEST

START_TEST(a_live_room_keeps_its_monitors_when_things_are_put_back)
{
    struct play p;
    play_world(&p, TWO "; p1 own-media");
    play(&p, "click source:p1\nkeys 6");
    ck_assert(play_tells(&p, "Faders, master and monitors down before plugs move."));
    play(&p, "click s2\nkeys i\ntype Robin\nkeys Enter");
    ck_assert(play_tells(&p, "Only the faders of free strips down before plugs move."));
    ck_assert(!play_tells(&p, "monitors"));
    play_end(&p);
}
END_TEST

Suite *test_pane_failures(void)
{
    Suite *s = suite_create("ui/pane_failures");
    TCase *t = tcase_create("pane_failures");
    tcase_add_test(t, a_click_on_a_step_only_reads_it_and_one_on_the_offer_takes_the_way_back);
    tcase_add_test(t, the_first_click_only_looks_and_the_second_takes_the_way_back);
    tcase_add_test(t, the_first_click_puts_nothing_back);
    tcase_add_test(t, the_title_of_a_preview_says_that_it_is_one);
    tcase_add_test(t, a_strip_is_called_a_strip);
    tcase_add_test(t, at_a_host_deck_stands_all_that_it_plays_through);
    tcase_add_test(t, at_a_jack_stand_its_cables_and_it_is_called_as_everywhere);
    tcase_add_test(t, a_mixer_without_a_card_sends_to_its_strips);
    tcase_add_test(t, pages_scroll_a_long_way_back_and_leave_it_chosen);
    tcase_add_test(t, the_head_of_a_long_way_back_is_in_view_where_the_arrows_go);
    tcase_add_test(t, where_hands_do_nothing_there_is_nothing_to_take);
    tcase_add_test(t, what_to_bring_stands_before_what_to_do);
    tcase_add_test(t, what_else_is_to_be_done_stands_below_the_actions);
    tcase_add_test(t, what_was_taken_is_shown_where_it_was_asked_and_a_second_enter_takes_nothing);
    tcase_add_test(t, the_pane_follows_undo_and_redo);
    tcase_add_test(t, next_does_not_ask_for_what_was_given_up);
    tcase_add_test(t, no_step_of_the_checklist_is_asked_for_that_uses_what_died);
    tcase_add_test(t, without_the_laptop_next_is_what_still_plays);
    tcase_add_test(t, a_cable_in_the_place_of_a_dead_one_changes_nothing_and_says_so);
    tcase_add_test(t, next_does_not_ask_to_undo_what_was_put_back);
    tcase_add_test(t, a_live_room_keeps_its_monitors_when_things_are_put_back);
    suite_add_tcase(s, t);
    return s;
}
