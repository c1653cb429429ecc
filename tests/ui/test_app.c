#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/ears.h"
#include "support/play_file.h"
#include "ui/pane.h"

#define TWO "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 wants s2"

START_TEST(a_straight_booth_from_nothing_to_no_errors_takes_at_most_fifteen_keys)
{
    struct play p;
    play_begin(&p);
    play(&p, "keys n End Enter");
    ck_assert_int_eq(p.app->screen, SCREEN_BOOTH);
    ck_assert_uint_eq(p.app->derived->faults.count[SEVERITY_ERROR], 0);
    ck_assert_uint_eq(play_booth(&p)->decks.n, 4);
    for (int i = 0; i < 4; i++)
        ck_assert(p.app->derived->routes[i].there);
    ck_assert_int_le(p.keys, 15);
    play_end(&p);
}
END_TEST

START_TEST(a_long_line_of_typing_shows_where_the_cursor_is)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys Home Down i\ntype -abcdefghijklmnopqrstuvwxyz0123456789-Z-the-end");
    p.app->prompt.most = 4096; /* as long as the longest prompts */
    play(&p, "type abcdefghijklmnopqrstuvwxyz0123456789-the-very-end");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "-the-very-end"));
    play(&p, "keys Home");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "-abcdefg"));
    ck_assert_ptr_null(strstr(play_screen(&p), "-the-very-end"));
    play_end(&p);
}
END_TEST

START_TEST(a_drag_by_mouse_and_the_same_move_by_keys_give_the_same_screen_and_booth)
{
    struct play mouse, keys;
    play_world(&mouse, TWO);
    play_world(&keys, TWO);
    play(&mouse, "drag h1 s2");
    play(&keys, "keys Home space Down Down Right space");
    ck_assert_str_eq(booth_deck(play_booth(&mouse), "h1")->wants, "s2");
    ck_assert_str_eq(booth_deck(play_booth(&mouse), "h2")->wants, "s1");
    ck_assert(booth_equal(play_booth(&mouse), play_booth(&keys)));
    char *screen = mem_text(play_screen(&mouse));
    ck_assert_str_eq(screen, play_screen(&keys));
    mem_free(screen);
    play_end(&mouse);
    play_end(&keys);
}
END_TEST

START_TEST(while_carried_the_result_is_shown_and_escape_puts_everything_back)
{
    struct play p;
    play_world(&p, TWO);
    struct booth *before = booth_copy(play_booth(&p));
    char *screen = mem_text(play_screen(&p));
    play(&p, "grab h1 s2");
    ck_assert_str_eq(booth_deck(app_shown(p.app)->circuit->booth, "h2")->wants, "s1");
    ck_assert(booth_equal(play_booth(&p), before));
    ck_assert_str_ne(screen, play_screen(&p));
    play(&p, "keys Esc");
    ck_assert(booth_equal(play_booth(&p), before));
    ck_assert(history_is_saved(p.app->history));
    mem_free(screen);
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(a_new_venue_takes_its_name_as_it_is_typed)
{
    struct play p;
    play_begin(&p);
    play(&p, "keys n\ntype Shale\nkeys Enter\ntype 12\nkeys Enter\ntype 3\nkeys Enter");
    play(&p, "keys Enter Enter");
    ck_assert_int_eq(p.app->screen, SCREEN_NEW);
    play(&p, "keys Enter");
    ck_assert_int_eq(p.app->screen, SCREEN_BOOTH);
    ck_assert_str_eq(play_booth(&p)->venue.name, "Shale");
    ck_assert_uint_eq(play_booth(&p)->devices.n, 13);
    ck_assert_uint_eq(play_booth(&p)->decks.n, 3);
    play_end(&p);
}
END_TEST

START_TEST(in_the_new_venues_form_a_click_takes_the_row_that_is_seen)
{
    struct play p;
    play_begin(&p);
    play(&p, "keys n Down\ntype 64\nkeys Enter\npress 5,7");
    ck_assert_int_eq(p.app->fresh.cursor, 3); /* the strips' second line */
    play(&p, "press 5,9");
    ck_assert_int_eq(p.app->fresh.cursor, 4);
    play(&p, "press 5,10");
    ck_assert_int_eq(p.app->fresh.cursor, 5);
    play(&p, "press 5,11");
    ck_assert_int_eq(p.app->screen, SCREEN_NEW);
    play(&p, "press 5,10");
    ck_assert_int_eq(p.app->screen, SCREEN_BOOTH);
    play_end(&p);
}
END_TEST

START_TEST(a_number_pasted_after_a_wrong_one_is_taken_without_a_word)
{
    struct play p;
    play_begin(&p);
    play(&p, "keys n Down\npaste 99\nkeys Enter");
    ck_assert(p.app->message != NULL);
    play(&p, "paste 5\nkeys Enter");
    ck_assert_ptr_null(p.app->message);
    ck_assert_int_eq(p.app->fresh.players, 5);
    ck_assert_int_eq(p.app->fresh.cursor, 2);
    play_end(&p);
}
END_TEST

START_TEST(a_number_out_of_range_keeps_its_row_and_says_why)
{
    struct play p;
    play_begin(&p);
    play(&p, "keys n Down\ntype 999\nkeys Enter");
    ck_assert_int_eq(p.app->fresh.cursor, 1);
    ck_assert_int_eq(p.app->fresh.players, 4);
    ck_assert_ptr_nonnull(
        strstr(play_screen(&p), "\"999\" is not a number of players; expected 1 to 64"));
    play_end(&p);
}
END_TEST

/* The rows of the screen on which a text that may be wrapped is looked for, as one line. */
static bool tells(struct play *p, const char *text)
{
    struct str flat = {0};
    const char *screen = play_screen(p);
    for (const char *c = screen; *c; c++)
        if ((*c != ' ' && *c != '\n') || (flat.len && flat.text[flat.len - 1] != ' '))
            str_addc(&flat, *c == '\n' ? ' ' : *c);
    bool found = strstr(str_text(&flat), text) != NULL;
    str_clear(&flat);
    return found;
}

START_TEST(what_crossing_two_cables_would_do_is_told_whole_in_eighty_columns)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "grab s1.line s2.line");
    ck_assert(
        tells(&p, "drop: exchange the plugs in strip 1's line input and strip 2's line input"));
    ck_assert(tells(&p, " the plug in strip 1's line input "));
    play(&p, "keys space");
    ck_assert(tells(&p, "exchange the plugs in strip 1's line input and strip 2's line input"));
    ck_assert(booth_cable(play_booth(&p), "p1.line", "s2.line") != NULL);
    play_end(&p);
}
END_TEST

START_TEST(the_next_step_is_told_whole_however_long_it_is)
{
    struct play p;
    play_world(&p, TWO "; h1 set 0 1; h2 set 2 3");
    struct str next = {0};
    play(&p,
         "keys Home Down e\ntype -that-has-quite-a-long-name-for-a-player-of-a-booth\nkeys Enter");
    play(&p, "keys x"); /* the message goes, the next step stays */
    derived_next(p.app->derived, &(struct spared){.instead = NULL}, &next);
    ck_assert_uint_gt(next.len, 0);
    ck_assert(tells(&p, str_text(&next)));
    str_clear(&next);
    play_end(&p);
}
END_TEST

START_TEST(panes_to_work_through_take_the_keys_at_once_the_others_when_asked_again)
{
    struct play p;
    play_world(&p, TWO);
    for (int key = '1'; key <= '9'; key++) {
        char line[32];
        bool works = key == '2' || key == '5' || key == '8';
        snprintf(line, sizeof line, "keys %c", key);
        if (key == '1') /* it is shown already: this is the second time */
            continue;
        play(&p, line);
        ck_assert_msg(p.app->pane_keys == works, "%c", key);
        play(&p, key == '8' ? "keys Tab" : line); /* in the line check it could be a strip */
        ck_assert_msg(p.app->pane_keys != works, "%c again", key);
    }
    play_end(&p);
}
END_TEST

START_TEST(a_lone_mixer_is_not_picked_up)
{
    struct play p;
    play_world(&p, TWO);
    p.app->selected = spot_of(SPOT_DEVICE, "m1");
    play(&p, "keys space");
    ck_assert_int_eq(p.app->drag.from.kind, SPOT_NONE);
    ck_assert(tells(&p, "nothing to pick up here"));
    play_end(&p);
}
END_TEST

START_TEST(a_measured_level_tells_how_long_ears_have_and_a_wrong_one_says_why)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys L\ntype 100\nkeys Enter");
    ck_assert_int_eq(p.app->level, 1000);
    ck_assert(tells(&p, "at 100.0 dB(A) ears have 15 min in a day (NIOSH)"));
    play(&p, "keys L\ntype 20\nkeys Enter");
    ck_assert(tells(&p, "\"20\" is not a level in dB(A); expected 60 to 140"));
    ck_assert_int_eq(p.app->level, 1000);
    play(&p, "keys L Backspace Enter");
    ck_assert_int_eq(p.app->level, EARS_UNTOLD);
    play_end(&p);
}
END_TEST

START_TEST(in_the_budget_the_cursor_selects_what_a_row_is_about)
{
    struct play p;
    play_world(&p, "hub hub1 4 none; p1 plugged hub1.1; p1.line > s1.line; joined p1; h1 wants s1");
    play(&p, "keys 9 9 Home Down Down Down");
    ck_assert_int_eq(p.app->selected.kind, SPOT_HUB);
    play(&p, "keys End");
    ck_assert_int_eq(p.app->selected.kind, SPOT_DEVICE);
    ck_assert_str_eq(p.app->selected.name, "p1");
    play_end(&p);
}
END_TEST

START_TEST(a_drag_of_a_jack_to_a_jack_is_a_cable_and_undo_takes_it_back)
{
    struct play p;
    play_world(&p, "p1.line > s1.line; s2 selects line; joined p1");
    play(&p, "drag p1.digital s2.digital");
    ck_assert(booth_cable(play_booth(&p), "p1.digital", "s2.digital") != NULL);
    play(&p, "keys u");
    ck_assert(booth_cable(play_booth(&p), "p1.digital", "s2.digital") == NULL);
    play(&p, "keys U");
    ck_assert(booth_cable(play_booth(&p), "p1.digital", "s2.digital") != NULL);
    play_end(&p);
}
END_TEST

START_TEST(a_click_turns_a_selector_and_a_source)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "click selector:s1.phono\nclick source:p1");
    ck_assert_str_eq(booth_strip(play_booth(&p), "s1", NULL)->selected, "phono");
    ck_assert_int_eq(booth_device(play_booth(&p), "p1")->source, SOURCE_OWN_MEDIA);
    play_end(&p);
}
END_TEST

START_TEST(a_fault_is_found_and_fixed_by_two_keys)
{
    struct play p;
    play_world(&p, "p1.line > s1.line; p1.digital > s1.digital; s1 selects phono; joined p1; "
                   "h1 wants s1; p1 plugged host.1");
    ck_assert_str_eq(p.app->derived->faults.v[0].slug, "selector-elsewhere");
    play(&p, "keys n f");
    ck_assert_str_eq(booth_strip(play_booth(&p), "s1", NULL)->selected, "line");
    ck_assert_uint_eq(p.app->derived->faults.count[SEVERITY_ERROR], 0);
    play_end(&p);
}
END_TEST

START_TEST(a_half_crossed_booth_is_put_right_by_f_alone)
{
    struct play p;
    play_world(&p,
               "host combining by-hand; p1 plugged host.1; p2 plugged host.2; p1.line > s2.line; "
               "joined p1 p2; h1 wants s1; h2 wants s2; h1 set 0 1; h2 set 2 3");
    /* the plugs were exchanged, and P2's is pulled out of strip 1 again */
    for (int i = 0; i < 4 && p.app->derived->faults.count[SEVERITY_ERROR]; i++) {
        play(&p, "keys f");
        ck_assert_int_eq(p.effect, EFFECT_NONE);
        ck_assert_ptr_null(p.app->question.text);
    }
    ck_assert_uint_eq(p.app->derived->faults.count[SEVERITY_ERROR], 0);
    ck_assert_str_eq(play_booth(&p)->cables.v[1].from, "p2.line");
    ck_assert_str_eq(play_booth(&p)->cables.v[1].to, "s1.line");
    play_end(&p);
}
END_TEST

START_TEST(keeping_the_booth_as_found_a_second_time_says_that_it_replaces_the_first)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys F");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "kept as found: wiring"));
    play(&p, "drag p1.line s2.line\nkeys F");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "in place of what was kept before: u takes it"));
    play(&p, "keys F");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "it is kept so already"));
    play_end(&p);
}
END_TEST

START_TEST(leaving_with_unsaved_work_asks_first)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys q");
    ck_assert_int_eq(p.effect, EFFECT_QUIT);
    play(&p, "drag h1 s2\nkeys q");
    ck_assert_int_eq(p.effect, EFFECT_NONE);
    ck_assert(p.app->question.text != NULL);
    play(&p, "keys Esc");
    ck_assert(p.app->question.text == NULL);
    play(&p, "keys q d");
    ck_assert_int_eq(p.effect, EFFECT_QUIT);
    play_end(&p);
}
END_TEST

START_TEST(what_is_read_only_is_never_changed)
{
    struct play p;
    play_world(&p, TWO);
    p.app->read_only = true;
    struct booth *before = booth_copy(play_booth(&p));
    play(&p, "drag h1 s2\nkeys Home t d i");
    ck_assert(booth_equal(play_booth(&p), before));
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(join_steps_are_ticked_in_turn_or_the_person_is_asked)
{
    struct play p;
    play_world(&p, TWO "; p1 plugged host.1; p2 plugged host.2");
    play(&p, "keys 2");
    int second = -1;
    const struct steps *steps = &p.app->derived->steps;
    for (size_t i = 0; i < steps->n; i++)
        if (strcmp(steps->v[i].id, "join-p2") == 0)
            second = (int)i;
    ck_assert_int_ge(second, 0);
    pane_move_to(p.app, second);
    play(&p, "keys space");
    ck_assert(p.app->question.text != NULL);
    ck_assert(map_find(&play_booth(&p)->checklist, "join-p2") == NULL);
    play(&p, "keys y");
    ck_assert(map_find(&play_booth(&p)->checklist, "join-p2") != NULL);
    play_end(&p);
}
END_TEST

START_TEST(marking_in_use_is_one_key_and_a_name)
{
    struct play p;
    play_world(&p, TWO);
    play(&p, "keys Home Down Down i");
    ck_assert_int_eq(p.app->purpose, FOR_IN_USE);
    play(&p, "keys ^u\ntype Robin\nkeys Enter");
    ck_assert_str_eq(booth_strip(play_booth(&p), "s1", NULL)->in_use, "Robin");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "LIVE ROOM"));
    play(&p, "keys i");
    ck_assert_ptr_null(booth_strip(play_booth(&p), "s1", NULL)->in_use);
    play_end(&p);
}
END_TEST

START_TEST(a_value_finished_in_a_form_is_kept_at_once_and_undone_alone)
{
    struct play p;
    play_world(&p, TWO);
    p.app->selected = spot_of(SPOT_DEVICE, "p1");
    play(&p, "keys Enter Down Down\ntype 42\nkeys Enter");
    ck_assert_int_eq(booth_device(play_booth(&p), "p1")->place, 42);
    play(&p, "keys Down\ntype dunlin 2\nkeys Enter Esc u");
    ck_assert_ptr_null(booth_device(play_booth(&p), "p1")->model);
    ck_assert_int_eq(booth_device(play_booth(&p), "p1")->place, 42);
    play(&p, "keys u");
    ck_assert(history_is_saved(p.app->history));
    play_end(&p);
}
END_TEST

START_TEST(a_small_window_says_what_it_needs_and_comes_back)
{
    struct play p;
    play_world(&p, TWO);
    char *screen = mem_text(play_screen(&p));
    play(&p, "size 79x24 ascii");
    ck_assert_ptr_nonnull(strstr(play_screen(&p), "needs 80x24"));
    play(&p, "size 1x1 ascii");
    play_screen(&p);
    play(&p, "size 80x24 ascii");
    ck_assert_str_eq(screen, play_screen(&p));
    mem_free(screen);
    play_end(&p);
}
END_TEST

Suite *test_app(void)
{
    Suite *s = suite_create("ui/app");
    TCase *t = tcase_create("app");
    tcase_add_test(t, a_straight_booth_from_nothing_to_no_errors_takes_at_most_fifteen_keys);
    tcase_add_test(t, a_long_line_of_typing_shows_where_the_cursor_is);
    tcase_add_test(t, a_drag_by_mouse_and_the_same_move_by_keys_give_the_same_screen_and_booth);
    tcase_add_test(t, while_carried_the_result_is_shown_and_escape_puts_everything_back);
    tcase_add_test(t, a_new_venue_takes_its_name_as_it_is_typed);
    tcase_add_test(t, in_the_new_venues_form_a_click_takes_the_row_that_is_seen);
    tcase_add_test(t, a_number_pasted_after_a_wrong_one_is_taken_without_a_word);
    tcase_add_test(t, a_number_out_of_range_keeps_its_row_and_says_why);
    tcase_add_test(t, what_crossing_two_cables_would_do_is_told_whole_in_eighty_columns);
    tcase_add_test(t, the_next_step_is_told_whole_however_long_it_is);
    tcase_add_test(t, a_measured_level_tells_how_long_ears_have_and_a_wrong_one_says_why);
    tcase_add_test(t, in_the_budget_the_cursor_selects_what_a_row_is_about);
    tcase_add_test(t, panes_to_work_through_take_the_keys_at_once_the_others_when_asked_again);
    tcase_add_test(t, a_lone_mixer_is_not_picked_up);
    tcase_add_test(t, a_drag_of_a_jack_to_a_jack_is_a_cable_and_undo_takes_it_back);
    tcase_add_test(t, a_click_turns_a_selector_and_a_source);
    tcase_add_test(t, a_fault_is_found_and_fixed_by_two_keys);
    tcase_add_test(t, a_half_crossed_booth_is_put_right_by_f_alone);
    tcase_add_test(t, keeping_the_booth_as_found_a_second_time_says_that_it_replaces_the_first);
    tcase_add_test(t, leaving_with_unsaved_work_asks_first);
    tcase_add_test(t, what_is_read_only_is_never_changed);
    tcase_add_test(t, join_steps_are_ticked_in_turn_or_the_person_is_asked);
    tcase_add_test(t, marking_in_use_is_one_key_and_a_name);
    tcase_add_test(t, a_value_finished_in_a_form_is_kept_at_once_and_undone_alone);
    tcase_add_test(t, a_small_window_says_what_it_needs_and_comes_back);
    suite_add_tcase(s, t);
    return s;
}
