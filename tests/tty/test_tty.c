/* The life of the terminal as a person meets it: taken, stopped and resumed, and given back
 * whatever ends the program. */
#include <check.h>
#include <stdio.h>

#ifdef HAVE_vterm
#include <signal.h>
#include <string.h>
#include <sys/wait.h>

#include "tty/demo.h"

START_TEST(the_first_frame_fills_the_window_and_q_leaves_no_trace)
{
    demo_start();
    ck_assert(pty_shows(&demo, "box at 10,8 in 80x24"));
    ck_assert(pty_shows(&demo, "│shale  │"));
    ck_assert(demo.alternate);
    ck_assert(!demo.cursor);
    ck_assert_int_eq(demo.mouse, VTERM_PROP_MOUSE_DRAG);
    demo_quit();
}
END_TEST

START_TEST(what_was_on_the_screen_before_is_there_again)
{
    demo_start();
    ck_assert(pty_shows(&demo, "shale"));
    pty_send(&demo, "q");
    pty_until_ended(&demo);
    ck_assert(!pty_shows(&demo, "shale"));
    pty_free(&demo);
}
END_TEST

static bool is_given_back(const struct pty *p)
{
    return !p->alternate && !p->mouse && p->cursor;
}

START_TEST(a_stopped_program_gives_the_terminal_back_and_takes_it_again)
{
    demo_start();
    if (_i == 0)
        pty_send(&demo, "\032");
    else
        pty_signal(&demo, SIGTSTP);
    pty_until_stopped(&demo, 1);
    pty_until(&demo, is_given_back, "given back");
    ck_assert(pty_is_as_before(&demo));
    if (_i == 0)
        pty_resize(&demo, 100, 30);
    pty_resume(&demo);
    pty_until_shown(&demo, _i == 0 ? "resize 0 at 100,30." : "2 resize 0 at 80,24.");
    pty_until_shown(&demo, "shown");
    ck_assert_int_eq(demo.mouse, VTERM_PROP_MOUSE_DRAG);
    demo_drag_from(10, 8);
    demo_quit();
}
END_TEST

START_TEST(a_program_that_was_stopped_by_force_takes_the_terminal_again)
{
    demo_start();
    pty_signal(&demo, SIGSTOP);
    pty_until_stopped(&demo, 1);
    tcsetattr(demo.slave, TCSANOW, &demo.before);
    vterm_screen_reset(demo.screen, 1);
    pty_resume(&demo);
    pty_until_shown(&demo, "2 resize 0 at 80,24.");
    pty_until_shown(&demo, "box at 10,8 in 80x24");
    demo_drag_from(10, 8);
    demo_quit();
}
END_TEST

static const int ends[] = {SIGTERM, SIGHUP, SIGINT, SIGQUIT, SIGUSR1};

START_TEST(a_signal_that_ends_the_program_leaves_no_trace)
{
    demo_start();
    pty_signal(&demo, ends[_i]);
    int status = pty_until_ended(&demo);
    ck_assert(WIFEXITED(status));
    ck_assert_int_eq(WEXITSTATUS(status), 128 + ends[_i]);
    ck_assert(pty_is_as_before(&demo));
    pty_free(&demo);
}
END_TEST

static const struct {
    const char *key;
    const char *says; /* on standard error, afterwards */
} deaths[] = {{"S", ""}, {"A", ""}, {"E", "Assertion"}, {"M", "out of memory"}, {"R", ""}};

START_TEST(a_crash_leaves_no_trace_but_its_last_words)
{
    demo_start_with(NULL, "ASAN_OPTIONS=allocator_may_return_null=1");
    pty_until_shown(&demo, "shown 1");
    pty_send(&demo, deaths[_i].key);
    int status = pty_until_ended(&demo);
    ck_assert(!WIFEXITED(status) || WEXITSTATUS(status) != 0);
    ck_assert(pty_is_as_before(&demo));
    ck_assert(pty_shows(&demo, deaths[_i].says));
    pty_free(&demo);
}
END_TEST

START_TEST(a_closed_window_ends_the_program)
{
    demo_start();
    pty_hang_up(&demo);
    int status = pty_until_ended(&demo);
    ck_assert(WIFEXITED(status));
    ck_assert_int_eq(WEXITSTATUS(status), 128 + SIGHUP);
    pty_free(&demo);
}
END_TEST

START_TEST(an_unknown_terminal_type_is_taken_for_a_usual_one)
{
    static const char *const names[] = {"TERM=no-such-terminal", "TERM=", "TERM=../../etc/passwd"};
    demo_start_with(NULL, names[_i]);
    pty_until_shown(&demo, "box at 10,8 in 80x24");
    demo_drag_from(10, 8);
    demo_quit();
}
END_TEST

START_TEST(a_terminal_without_a_cursor_to_move_is_refused)
{
    demo_start_with(NULL, "TERM=dumb");
    int status = pty_until_ended(&demo);
    ck_assert(WIFEXITED(status));
    ck_assert_int_eq(WEXITSTATUS(status), 2);
    ck_assert(pty_shows(&demo, "TERM is \"dumb\""));
    ck_assert(pty_is_as_before(&demo));
    pty_free(&demo);
}
END_TEST

START_TEST(what_is_no_terminal_is_refused)
{
    demo_start_from_shell("\"$CANVAS_DEMO\" </dev/null; echo status $?;"
                          "{ \"$CANVAS_DEMO\"; echo status $? >&2; } | cat",
                          200);
    ck_assert_int_eq(pty_until_ended(&demo), 0);
    ck_assert(pty_shows(&demo, "standard input is not one"));
    ck_assert(pty_shows(&demo, "standard output is not one"));
    char row[PTY_ROW];
    ck_assert(strncmp(pty_row(&demo, 1, row), "status 2 ", 9) == 0);
    ck_assert(strncmp(pty_row(&demo, 3, row), "status 2 ", 9) == 0);
    ck_assert(pty_is_as_before(&demo));
    pty_free(&demo);
}
END_TEST

START_TEST(a_signal_that_was_to_be_ignored_stays_ignored)
{
    demo_start_from_shell("trap '' HUP; exec \"$CANVAS_DEMO\"", 80);
    pty_until_shown(&demo, "shown 1");
    pty_signal(&demo, SIGHUP);
    pty_send(&demo, "x");
    pty_until_shown(&demo, "shown 2");
    demo_quit();
}
END_TEST

START_TEST(an_idle_program_sleeps)
{
    demo_start();
    char text[64];
    for (int i = 2; i <= 5; i++) {
        pty_send(&demo, "x");
        snprintf(text, sizeof text, "shown %d drawn %d ", i, i);
        pty_until_shown(&demo, text);
    }
    demo_quit();
}
END_TEST
#endif

Suite *test_tty(void)
{
    Suite *s = suite_create("tty/life");
#ifdef HAVE_vterm
    TCase *t = tcase_create("life");
    tcase_set_timeout(t, 2 * PTY_PATIENCE);
    suite_add_tcase(s, t);
    tcase_add_test(t, the_first_frame_fills_the_window_and_q_leaves_no_trace);
    tcase_add_test(t, what_was_on_the_screen_before_is_there_again);
    tcase_add_loop_test(t, a_stopped_program_gives_the_terminal_back_and_takes_it_again, 0, 2);
    tcase_add_test(t, a_program_that_was_stopped_by_force_takes_the_terminal_again);
    tcase_add_loop_test(t, a_signal_that_ends_the_program_leaves_no_trace, 0, 5);
    tcase_add_loop_test(t, a_crash_leaves_no_trace_but_its_last_words, 0, 5);
    tcase_add_test(t, a_closed_window_ends_the_program);
    tcase_add_test(t, a_signal_that_was_to_be_ignored_stays_ignored);
    tcase_add_test(t, an_idle_program_sleeps);
    tcase_add_loop_test(t, an_unknown_terminal_type_is_taken_for_a_usual_one, 0, 3);
    tcase_add_test(t, a_terminal_without_a_cursor_to_move_is_refused);
    tcase_add_test(t, what_is_no_terminal_is_refused);
#else
    puts("skipped: tty/life needs libvterm");
#endif
    return s;
}
