/* What a person sees: sizes, characters, looks, the text cursor. */
#include <check.h>
#include <stdio.h>

#ifdef HAVE_vterm
#include <stdlib.h>
#include <string.h>

#include "tty/demo.h"

START_TEST(the_smallest_window_and_back_is_survived)
{
    static const int sizes[][2] = {{1, 1}, {2, 2}, {80, 1}, {1, 24}, {120, 40}};
    demo_start();
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
        pty_resize(&demo, sizes[i][0], sizes[i][1]);
    pty_until_shown(&demo, "box at 10,8 in 120x40");
    pty_resize(&demo, 1, 1);
    pty_resize(&demo, 81, 25);
    pty_until_shown(&demo, "box at 10,8 in 81x25");
    demo_drag_from(10, 8);
    demo_quit();
}
END_TEST

START_TEST(a_window_of_one_cell_is_a_start_as_well)
{
    demo_start_sized(1, 1);
    pty_until_shown(&demo, "~");
    pty_resize(&demo, 90, 30);
    pty_until_shown(&demo, "box at 10,8 in 90x30");
    demo_quit();
}
END_TEST

START_TEST(a_terminal_that_tells_no_size_has_a_usual_one)
{
    demo_start_from_shell("stty rows 0 columns 0; COLUMNS=200000 exec \"$CANVAS_DEMO\"", 80);
    pty_until_shown(&demo, "box at 10,8 in 80x24");
    demo_drag_from(10, 8);
    pty_send(&demo, "q");
    pty_until_ended(&demo);
    pty_free(&demo);
}
END_TEST

START_TEST(hostile_sizes_in_the_environment_are_not_believed)
{
    static const char *const lies[] = {"LINES=-1", "COLUMNS=1000000000", "LINES=99999"};
    demo_start_with(NULL, lies[_i]);
    pty_until_shown(&demo, "box at 10,8 in 80x24");
    demo_quit();
}
END_TEST

START_TEST(a_huge_window_is_used_up_to_a_bound)
{
    demo_start_sized(_i ? 1200 : 80, _i ? 600 : 24);
    pty_until_shown(&demo, "shown 1");
    if (_i == 0)
        pty_resize(&demo, 1200, 600);
    pty_until_shown(&demo, "resize 0 at 1000,500.");
    pty_until_shown(&demo, "box at 10,8 in 1000x500");
    demo_quit();
}
END_TEST

/* Whether every cell holds ASCII, or has no colour. */
static bool is_ascii(const VTermScreenCell *c)
{
    return c->chars[0] < 0x80;
}

static bool is_colourless(const VTermScreenCell *c)
{
    return VTERM_COLOR_IS_DEFAULT_FG(&c->fg) && VTERM_COLOR_IS_DEFAULT_BG(&c->bg);
}

static int count_cells(bool (*is)(const VTermScreenCell *))
{
    int n = 0;
    for (int y = 0; y < demo.rows; y++)
        for (int x = 0; x < demo.columns; x++) {
            VTermScreenCell c = pty_cell(&demo, x, y);
            n += is(&c);
        }
    return n;
}

START_TEST(without_utf8_only_ascii_is_drawn)
{
    static const char *const options[] = {NULL, "--ascii"};
    static const char *const envs[] = {"LC_ALL=C", NULL};
    demo_start_with(options[_i], envs[_i]);
    pty_until_shown(&demo, "shown 1");
    ck_assert(pty_shows(&demo, "|shale  |"));
    ck_assert(pty_shows(&demo, "+-------+"));
    ck_assert_int_eq(count_cells(is_ascii), 80 * 24);
    demo_quit();
}
END_TEST

START_TEST(a_utf8_locale_that_is_not_installed_still_draws_lines)
{
    demo_start_with(NULL, "LC_ALL=qq_QQ.UTF-8");
    pty_until_shown(&demo, "│shale  │");
    demo_quit();
}
END_TEST

START_TEST(without_colour_no_cell_has_one)
{
    static const char *const options[] = {NULL, "--mono", NULL};
    static const char *const envs[] = {"NO_COLOR=1", NULL, "TERM=vt100"};
    demo_start_with(options[_i], envs[_i]);
    pty_until_shown(&demo, "shown 1");
    ck_assert_int_eq(count_cells(is_colourless), 80 * 24);
    ck_assert(pty_cell(&demo, 10 * 4, 2).attrs.reverse);
    demo_quit();
}
END_TEST

START_TEST(with_colour_errors_are_red_and_the_background_stays)
{
    demo_start_with(NULL, "NO_COLOR=");
    pty_until_shown(&demo, "shown 1");
    VTermScreenCell c = pty_cell(&demo, 4 * 4, 2);
    ck_assert_int_eq(c.chars[0], '0');
    ck_assert(VTERM_COLOR_IS_INDEXED(&c.fg));
    ck_assert_int_eq(c.fg.indexed.idx, 1);
    ck_assert(VTERM_COLOR_IS_DEFAULT_BG(&c.bg));
    demo_quit();
}
END_TEST

START_TEST(wide_characters_and_hostile_text_keep_their_columns)
{
    demo_start();
    char row[PTY_ROW];
    const char *text = "|\u6f22\u5b57|e\u0301|<202E>|<1B>[31m|";
    ck_assert(strncmp(pty_row(&demo, 3, row), text, strlen(text)) == 0);
    ck_assert_int_eq(pty_cell(&demo, 5, 3).chars[0], '|');
    ck_assert_int_eq(pty_cell(&demo, 7, 3).chars[0], '|');
    demo_quit();
}
END_TEST

static bool has_cursor_at_5_1(const struct pty *p)
{
    VTermPos at;
    vterm_state_get_cursorpos(vterm_obtain_state(p->vt), &at);
    return p->cursor && at.col == 5 && at.row == 1;
}

START_TEST(the_text_cursor_stands_where_the_grid_says)
{
    demo_start();
    pty_send(&demo, "c");
    pty_until_shown(&demo, "shown 2");
    pty_until(&demo, has_cursor_at_5_1, "the cursor in its place");
    demo_quit();
}
END_TEST

static bool has_rung(const struct pty *p)
{
    return p->bells == 1;
}

START_TEST(the_bell_rings_once_and_a_tick_comes_once)
{
    demo_start();
    pty_send(&demo, "b");
    pty_until(&demo, has_rung, "a bell");
    pty_send(&demo, "t");
    pty_until_shown(&demo, "4 tick");
    pty_send(&demo, "x");
    pty_until_shown(&demo, "5 key");
    demo_quit();
}
END_TEST

START_TEST(a_screen_that_was_scribbled_on_is_sent_again)
{
    demo_start();
    static const char scribble[] = "\033[9;1Hdisturbance\033[1;1Hdisturbance";
    vterm_input_write(demo.vt, scribble, sizeof scribble - 1);
    ck_assert(pty_shows(&demo, "disturbance"));
    pty_send(&demo, "\014");
    demo_until_key(12);
    pty_send(&demo, "x");
    pty_until_shown(&demo, "shown 3");
    ck_assert(!pty_shows(&demo, "disturbance"));
    demo_quit();
}
END_TEST
#endif

Suite *test_tty_output(void)
{
    Suite *s = suite_create("tty/output");
#ifdef HAVE_vterm
    TCase *t = tcase_create("output");
    tcase_set_timeout(t, 2 * PTY_PATIENCE);
    suite_add_tcase(s, t);
    tcase_add_test(t, the_smallest_window_and_back_is_survived);
    tcase_add_test(t, a_window_of_one_cell_is_a_start_as_well);
    tcase_add_loop_test(t, hostile_sizes_in_the_environment_are_not_believed, 0, 3);
    tcase_add_loop_test(t, a_huge_window_is_used_up_to_a_bound, 0, 2);
    tcase_add_test(t, a_terminal_that_tells_no_size_has_a_usual_one);
    tcase_add_loop_test(t, without_utf8_only_ascii_is_drawn, 0, 2);
    tcase_add_test(t, a_utf8_locale_that_is_not_installed_still_draws_lines);
    tcase_add_loop_test(t, without_colour_no_cell_has_one, 0, 3);
    tcase_add_test(t, with_colour_errors_are_red_and_the_background_stays);
    tcase_add_test(t, wide_characters_and_hostile_text_keep_their_columns);
    tcase_add_test(t, the_text_cursor_stands_where_the_grid_says);
    tcase_add_test(t, the_bell_rings_once_and_a_tick_comes_once);
    tcase_add_test(t, a_screen_that_was_scribbled_on_is_sent_again);
#else
    puts("skipped: tty/output needs libvterm");
#endif
    return s;
}
