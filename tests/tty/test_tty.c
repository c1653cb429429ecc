/* The terminal as a person meets it: a program on a pseudo-terminal (canvas_demo.c), looked at
 * through libvterm. */
#include <check.h>
#include <stdio.h>

#ifdef HAVE_vterm
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

#include "tty/pty.h"
#include "ui/event.h"

static struct pty pty;

/* Starts the demo with options, in an environment; both may be NULL. */
static void start_with(const char *option, const char *env)
{
    const char *path = getenv("CANVAS_DEMO");
    ck_assert_msg(path != NULL, "CANVAS_DEMO does not name the program");
    char program[1024], word[64];
    snprintf(program, sizeof program, "%s", path);
    snprintf(word, sizeof word, "%s", option ? option : "");
    char *argv[] = {program, option ? word : NULL, NULL};
    pty_start(&pty, &(struct pty_setup){.argv = argv, .env = {env}});
}

static void start(void)
{
    start_with(NULL, NULL);
    pty_until_shown(&pty, "1 resize 0 at 80,24.");
    pty_until_shown(&pty, "shown 1");
}

static void quit(void)
{
    pty_send(&pty, "q");
    int status = pty_until_ended(&pty);
    ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "status %x", (unsigned)status);
    ck_assert(pty_is_as_before(&pty));
    pty_free(&pty);
}

static void until_key(int key)
{
    char text[32];
    snprintf(text, sizeof text, "key %d at", key);
    pty_until_shown(&pty, text);
}

/* Drags the box, whose corner must be at x, y, three cells to the right and two down. */
static void drag_from(int x, int y)
{
    char text[64];
    pty_move(&pty, x + 1, y);
    pty_button(&pty, 1, true);
    pty_until_shown(&pty, "press 1");
    pty_move(&pty, x + 3, y + 1);
    snprintf(text, sizeof text, "move 1 at %d,%d.", x + 3, y + 1);
    pty_until_shown(&pty, text);
    snprintf(text, sizeof text, "box at %d,%d in", x + 2, y + 1);
    pty_until_shown(&pty, text);
    pty_move(&pty, x + 4, y + 2);
    pty_button(&pty, 1, false);
    pty_until_shown(&pty, "lift 1");
    snprintf(text, sizeof text, "box at %d,%d in", x + 3, y + 2);
    pty_until_shown(&pty, text);
}

START_TEST(the_first_frame_fills_the_window_and_q_leaves_no_trace)
{
    start();
    ck_assert(pty_shows(&pty, "box at 10,8 in 80x24"));
    ck_assert(pty_shows(&pty, "│shale  │"));
    ck_assert(pty.alternate);
    ck_assert(!pty.cursor);
    ck_assert_int_eq(pty.mouse, VTERM_PROP_MOUSE_DRAG);
    quit();
}
END_TEST

START_TEST(what_was_on_the_screen_before_is_there_again)
{
    start();
    ck_assert(pty_shows(&pty, "shale"));
    pty_send(&pty, "q");
    pty_until_ended(&pty);
    ck_assert(!pty_shows(&pty, "shale"));
    pty_free(&pty);
}
END_TEST

static const struct {
    VTermKey key;
    VTermModifier mod;
    int means;
} keys[] = {
    {VTERM_KEY_UP, 0, K_UP},
    {VTERM_KEY_DOWN, 0, K_DOWN},
    {VTERM_KEY_LEFT, 0, K_LEFT},
    {VTERM_KEY_RIGHT, 0, K_RIGHT},
    {VTERM_KEY_UP, VTERM_MOD_SHIFT, K_SHIFT_UP},
    {VTERM_KEY_DOWN, VTERM_MOD_SHIFT, K_SHIFT_DOWN},
    {VTERM_KEY_LEFT, VTERM_MOD_SHIFT, K_SHIFT_LEFT},
    {VTERM_KEY_RIGHT, VTERM_MOD_SHIFT, K_SHIFT_RIGHT},
    {VTERM_KEY_HOME, 0, K_HOME},
    {VTERM_KEY_END, 0, K_END},
    {VTERM_KEY_PAGEUP, 0, K_PAGE_UP},
    {VTERM_KEY_PAGEDOWN, 0, K_PAGE_DOWN},
    {VTERM_KEY_INS, 0, K_INSERT},
    {VTERM_KEY_DEL, 0, K_DELETE},
    {VTERM_KEY_TAB, VTERM_MOD_SHIFT, K_BACKTAB},
    {VTERM_KEY_TAB, 0, K_TAB},
    {VTERM_KEY_ENTER, 0, K_ENTER},
    {VTERM_KEY_BACKSPACE, 0, K_BACKSPACE},
    {VTERM_KEY_ESCAPE, 0, K_ESC},
    {VTERM_KEY_FUNCTION(1), 0, K_F1},
    {VTERM_KEY_FUNCTION(12), 0, K_F1 + 11},
};

static const char *const types[] = {"TERM=xterm-256color", "TERM=tmux-256color",
                                    "TERM=screen-256color", "TERM=linux", "TERM=vt100"};
enum { TYPES = sizeof types / sizeof *types };

START_TEST(every_key_is_known_under_every_terminal_type)
{
    start_with(NULL, types[_i]);
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        pty_key(&pty, keys[i].key, keys[i].mod);
        until_key(keys[i].means);
    }
    pty_send(&pty, "\xc3\xa9");
    until_key(0xe9);
    quit();
}
END_TEST

START_TEST(a_box_follows_the_mouse_under_every_terminal_type)
{
    start_with(NULL, types[_i]);
    pty_until_shown(&pty, "1 resize");
    drag_from(10, 8);
    quit();
}
END_TEST

START_TEST(the_arrows_move_the_box_as_the_mouse_does)
{
    start();
    for (int i = 0; i < 3; i++)
        pty_key(&pty, VTERM_KEY_RIGHT, VTERM_MOD_NONE);
    for (int i = 0; i < 2; i++)
        pty_key(&pty, VTERM_KEY_DOWN, VTERM_MOD_NONE);
    pty_until_shown(&pty, "box at 13,10 in");
    quit();
}
END_TEST

START_TEST(two_drags_in_one_write_both_count)
{
    start();
    pty_send(&pty, "\033[<0;12;10M\033[<32;14;12M\033[<0;14;12m"
                   "\033[<0;14;12M\033[<32;24;13M\033[<0;24;13m");
    pty_until_shown(&pty, "7 lift 1 at 23,12.");
    pty_until_shown(&pty, "box at 22,11 in");
    quit();
}
END_TEST

START_TEST(the_wheel_tells_up_from_down)
{
    start();
    pty_button(&pty, 4, true);
    pty_until_shown(&pty, "wheel -1 at");
    pty_button(&pty, 5, true);
    pty_until_shown(&pty, "wheel 1 at");
    quit();
}
END_TEST

START_TEST(a_report_from_outside_the_window_is_moved_inside)
{
    start();
    pty_send(&pty, "\033[<0;9999;9999M");
    pty_until_shown(&pty, "press 1 at 79,23.");
    quit();
}
END_TEST

START_TEST(the_smallest_window_and_back_is_survived)
{
    static const int sizes[][2] = {{1, 1}, {2, 2}, {80, 1}, {1, 24}, {120, 40}};
    start();
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
        pty_resize(&pty, sizes[i][0], sizes[i][1]);
    pty_until_shown(&pty, "box at 10,8 in 120x40");
    pty_resize(&pty, 1, 1);
    pty_resize(&pty, 81, 25);
    pty_until_shown(&pty, "box at 10,8 in 81x25");
    drag_from(10, 8);
    quit();
}
END_TEST

START_TEST(a_window_of_one_cell_is_a_start_as_well)
{
    char program[1024];
    snprintf(program, sizeof program, "%s", getenv("CANVAS_DEMO"));
    char *argv[] = {program, NULL};
    pty_start(&pty, &(struct pty_setup){.argv = argv, .columns = 1, .rows = 1});
    pty_until_shown(&pty, "~");
    pty_resize(&pty, 90, 30);
    pty_until_shown(&pty, "box at 10,8 in 90x30");
    quit();
}
END_TEST

static bool is_given_back(const struct pty *p)
{
    return !p->alternate && !p->mouse && p->cursor;
}

START_TEST(a_stopped_program_gives_the_terminal_back_and_takes_it_again)
{
    start();
    if (_i == 0)
        pty_send(&pty, "\032");
    else
        pty_signal(&pty, SIGTSTP);
    pty_until_stopped(&pty, 1);
    pty_until(&pty, is_given_back, "given back");
    ck_assert(pty_is_as_before(&pty));
    pty_resize(&pty, 100, 30);
    pty_resume(&pty);
    pty_until_shown(&pty, "box at 10,8 in 100x30");
    ck_assert_int_eq(pty.mouse, VTERM_PROP_MOUSE_DRAG);
    drag_from(10, 8);
    quit();
}
END_TEST

START_TEST(a_program_that_was_stopped_by_force_takes_the_terminal_again)
{
    start();
    pty_signal(&pty, SIGSTOP);
    pty_until_stopped(&pty, 1);
    tcsetattr(pty.slave, TCSANOW, &pty.before);
    vterm_screen_reset(pty.screen, 1);
    pty_resume(&pty);
    pty_until_shown(&pty, "2 resize 0 at 80,24.");
    pty_until_shown(&pty, "box at 10,8 in 80x24");
    drag_from(10, 8);
    quit();
}
END_TEST

static const int ends[] = {SIGTERM, SIGHUP, SIGINT, SIGQUIT, SIGUSR1};

START_TEST(a_signal_that_ends_the_program_leaves_no_trace)
{
    start();
    pty_signal(&pty, ends[_i]);
    int status = pty_until_ended(&pty);
    ck_assert(WIFEXITED(status));
    ck_assert_int_eq(WEXITSTATUS(status), 128 + ends[_i]);
    ck_assert(pty_is_as_before(&pty));
    pty_free(&pty);
}
END_TEST

static const struct {
    const char *key;
    const char *says; /* on standard error, afterwards */
} deaths[] = {{"S", ""}, {"A", ""}, {"E", "Assertion"}, {"M", "out of memory"}};

START_TEST(a_crash_leaves_no_trace_but_its_last_words)
{
    start_with(NULL, "ASAN_OPTIONS=allocator_may_return_null=1");
    pty_until_shown(&pty, "shown 1");
    pty_send(&pty, deaths[_i].key);
    int status = pty_until_ended(&pty);
    ck_assert(!WIFEXITED(status) || WEXITSTATUS(status) != 0);
    ck_assert(pty_is_as_before(&pty));
    ck_assert(pty_shows(&pty, deaths[_i].says));
    pty_free(&pty);
}
END_TEST

START_TEST(a_closed_window_ends_the_program)
{
    start();
    pty_hang_up(&pty);
    int status = pty_until_ended(&pty);
    ck_assert(WIFEXITED(status));
    ck_assert_int_eq(WEXITSTATUS(status), 128 + SIGHUP);
    pty_free(&pty);
}
END_TEST

START_TEST(an_unknown_terminal_type_is_taken_for_a_usual_one)
{
    static const char *const names[] = {"TERM=no-such-terminal", "TERM=", "TERM=../../etc/passwd"};
    start_with(NULL, names[_i]);
    pty_until_shown(&pty, "box at 10,8 in 80x24");
    drag_from(10, 8);
    quit();
}
END_TEST

START_TEST(a_terminal_without_a_cursor_to_move_is_refused)
{
    start_with(NULL, "TERM=dumb");
    int status = pty_until_ended(&pty);
    ck_assert(WIFEXITED(status));
    ck_assert_int_eq(WEXITSTATUS(status), 2);
    ck_assert(pty_shows(&pty, "TERM is \"dumb\""));
    ck_assert(pty_is_as_before(&pty));
    pty_free(&pty);
}
END_TEST

START_TEST(what_is_no_terminal_is_refused)
{
    static char command[] = "\"$CANVAS_DEMO\" </dev/null; echo status $?;"
                            "{ \"$CANVAS_DEMO\"; echo status $? >&2; } | cat";
    char sh[] = "/bin/sh", option[] = "-c";
    char *argv[] = {sh, option, command, NULL};
    pty_start(&pty, &(struct pty_setup){.argv = argv, .columns = 200});
    ck_assert_int_eq(pty_until_ended(&pty), 0);
    ck_assert(pty_shows(&pty, "standard input is not one"));
    ck_assert(pty_shows(&pty, "standard output is not one"));
    char row[PTY_ROW];
    ck_assert(strncmp(pty_row(&pty, 1, row), "status 2 ", 9) == 0);
    ck_assert(strncmp(pty_row(&pty, 3, row), "status 2 ", 9) == 0);
    ck_assert(pty_is_as_before(&pty));
    pty_free(&pty);
}
END_TEST

START_TEST(hostile_sizes_in_the_environment_are_not_believed)
{
    static const char *const lies[] = {"LINES=-1", "COLUMNS=1000000000", "LINES=99999"};
    start_with(NULL, lies[_i]);
    pty_until_shown(&pty, "box at 10,8 in 80x24");
    quit();
}
END_TEST

START_TEST(a_huge_window_is_used_up_to_a_bound)
{
    start();
    struct pty *p = &pty;
    pty_resize(p, 1200, 600);
    pty_until_shown(p, "box at 10,8 in 1000x500");
    quit();
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
    for (int y = 0; y < pty.rows; y++)
        for (int x = 0; x < pty.columns; x++) {
            VTermScreenCell c = pty_cell(&pty, x, y);
            n += is(&c);
        }
    return n;
}

START_TEST(without_utf8_only_ascii_is_drawn)
{
    static const char *const options[] = {NULL, "--ascii"};
    static const char *const envs[] = {"LC_ALL=C", NULL};
    start_with(options[_i], envs[_i]);
    pty_until_shown(&pty, "shown 1");
    ck_assert(pty_shows(&pty, "|shale  |"));
    ck_assert(pty_shows(&pty, "+-------+"));
    ck_assert_int_eq(count_cells(is_ascii), 80 * 24);
    quit();
}
END_TEST

START_TEST(a_utf8_locale_that_is_not_installed_still_draws_lines)
{
    start_with(NULL, "LC_ALL=qq_QQ.UTF-8");
    pty_until_shown(&pty, "│shale  │");
    quit();
}
END_TEST

START_TEST(without_colour_no_cell_has_one)
{
    static const char *const options[] = {NULL, "--mono", NULL};
    static const char *const envs[] = {"NO_COLOR=1", NULL, "TERM=vt100"};
    start_with(options[_i], envs[_i]);
    pty_until_shown(&pty, "shown 1");
    ck_assert_int_eq(count_cells(is_colourless), 80 * 24);
    ck_assert(pty_cell(&pty, 10 * 4, 2).attrs.reverse);
    quit();
}
END_TEST

START_TEST(with_colour_errors_are_red_and_the_background_stays)
{
    start_with(NULL, "NO_COLOR=");
    pty_until_shown(&pty, "shown 1");
    VTermScreenCell c = pty_cell(&pty, 4 * 4, 2);
    ck_assert_int_eq(c.chars[0], '0');
    ck_assert(VTERM_COLOR_IS_INDEXED(&c.fg));
    ck_assert_int_eq(c.fg.indexed.idx, 1);
    ck_assert(VTERM_COLOR_IS_DEFAULT_BG(&c.bg));
    quit();
}
END_TEST

START_TEST(wide_characters_and_hostile_text_keep_their_columns)
{
    start();
    char row[PTY_ROW];
    const char *text = "|\u6f22\u5b57|e\u0301|<202E>|<1B>[31m|";
    ck_assert(strncmp(pty_row(&pty, 3, row), text, strlen(text)) == 0);
    ck_assert_int_eq(pty_cell(&pty, 5, 3).chars[0], '|');
    ck_assert_int_eq(pty_cell(&pty, 7, 3).chars[0], '|');
    quit();
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
    start();
    pty_send(&pty, "c");
    pty_until_shown(&pty, "shown 2");
    pty_until(&pty, has_cursor_at_5_1, "the cursor in its place");
    quit();
}
END_TEST

START_TEST(a_paste_is_data_not_keys)
{
    start();
    pty_paste(&pty, "q\r\nq\033[Aq\001\xc2\x9b!");
    pty_until_shown(&pty, "2 paste 7 [q q[Aq!]");
    quit();
}
END_TEST

static bool has_rung(const struct pty *p)
{
    return p->bells == 1;
}

START_TEST(the_bell_rings_once_and_a_tick_comes_once)
{
    start();
    pty_send(&pty, "b");
    pty_until(&pty, has_rung, "a bell");
    pty_send(&pty, "t");
    pty_until_shown(&pty, "4 tick");
    pty_send(&pty, "x");
    pty_until_shown(&pty, "5 key");
    quit();
}
END_TEST

START_TEST(a_screen_that_was_scribbled_on_is_sent_again)
{
    start();
    static const char scribble[] = "\033[9;1Hdisturbance\033[1;1Hdisturbance";
    vterm_input_write(pty.vt, scribble, sizeof scribble - 1);
    ck_assert(pty_shows(&pty, "disturbance"));
    pty_send(&pty, "\014");
    until_key(12);
    pty_send(&pty, "x");
    pty_until_shown(&pty, "shown 3");
    ck_assert(!pty_shows(&pty, "disturbance"));
    quit();
}
END_TEST

/* Whether the demo would end, stop or tick by that byte. */
static bool is_order(char c)
{
    return c && strchr("qSAEMt\032", c) != NULL;
}

START_TEST(random_bytes_keep_the_keys_working)
{
    unsigned seed = (unsigned)_i * 7919u + 12345u;
    static char flood[100000];
    start();
    unsigned r = seed;
    for (size_t i = 0; i < sizeof flood; i++) {
        r = r * 1103515245u + 12345u;
        char c = (char)(r >> 16);
        if (r % 7 == 0)
            c = "\033[<;M0m~O"[(r >> 24) % 9];
        flood[i] = is_order(c) ? '.' : c;
    }
    pty_sendn(&pty, flood, sizeof flood);
    pty_send(&pty, "\033[201~\033[B");
    pty_until_shown(&pty, "key 1114113 at");
    pty_send(&pty, "q");
    int status = pty_until_ended(&pty);
    ck_assert_msg(status == 0 && pty_is_as_before(&pty), "generator started from %u", seed);
    pty_free(&pty);
}
END_TEST

static TCase *case_of(Suite *s, const char *name)
{
    TCase *t = tcase_create(name);
    tcase_set_timeout(t, 2 * PTY_PATIENCE);
    suite_add_tcase(s, t);
    return t;
}

static void add_life(TCase *t)
{
    tcase_add_test(t, the_first_frame_fills_the_window_and_q_leaves_no_trace);
    tcase_add_test(t, what_was_on_the_screen_before_is_there_again);
    tcase_add_loop_test(t, a_stopped_program_gives_the_terminal_back_and_takes_it_again, 0, 2);
    tcase_add_test(t, a_program_that_was_stopped_by_force_takes_the_terminal_again);
    tcase_add_loop_test(t, a_signal_that_ends_the_program_leaves_no_trace, 0, 5);
    tcase_add_loop_test(t, a_crash_leaves_no_trace_but_its_last_words, 0, 4);
    tcase_add_test(t, a_closed_window_ends_the_program);
    tcase_add_loop_test(t, an_unknown_terminal_type_is_taken_for_a_usual_one, 0, 3);
    tcase_add_test(t, a_terminal_without_a_cursor_to_move_is_refused);
    tcase_add_test(t, what_is_no_terminal_is_refused);
}

static void add_input(TCase *t)
{
    tcase_add_loop_test(t, every_key_is_known_under_every_terminal_type, 0, TYPES);
    tcase_add_loop_test(t, a_box_follows_the_mouse_under_every_terminal_type, 0, TYPES);
    tcase_add_test(t, the_arrows_move_the_box_as_the_mouse_does);
    tcase_add_test(t, two_drags_in_one_write_both_count);
    tcase_add_test(t, the_wheel_tells_up_from_down);
    tcase_add_test(t, a_report_from_outside_the_window_is_moved_inside);
    tcase_add_test(t, a_paste_is_data_not_keys);
    tcase_add_loop_test(t, random_bytes_keep_the_keys_working, 0, 3);
}

static void add_output(TCase *t)
{
    tcase_add_test(t, the_smallest_window_and_back_is_survived);
    tcase_add_test(t, a_window_of_one_cell_is_a_start_as_well);
    tcase_add_loop_test(t, hostile_sizes_in_the_environment_are_not_believed, 0, 3);
    tcase_add_test(t, a_huge_window_is_used_up_to_a_bound);
    tcase_add_loop_test(t, without_utf8_only_ascii_is_drawn, 0, 2);
    tcase_add_test(t, a_utf8_locale_that_is_not_installed_still_draws_lines);
    tcase_add_loop_test(t, without_colour_no_cell_has_one, 0, 3);
    tcase_add_test(t, with_colour_errors_are_red_and_the_background_stays);
    tcase_add_test(t, wide_characters_and_hostile_text_keep_their_columns);
    tcase_add_test(t, the_text_cursor_stands_where_the_grid_says);
    tcase_add_test(t, the_bell_rings_once_and_a_tick_comes_once);
    tcase_add_test(t, a_screen_that_was_scribbled_on_is_sent_again);
}
#endif

Suite *test_tty(void)
{
    Suite *s = suite_create("tty");
#ifdef HAVE_vterm
    add_life(case_of(s, "life"));
    add_input(case_of(s, "input"));
    add_output(case_of(s, "output"));
#else
    puts("skipped: the terminal's tests need libvterm");
#endif
    return s;
}
