/* Keys, the mouse and pastes as they reach a program under the usual terminal types. */
#include <check.h>
#include <stdio.h>

#ifdef HAVE_vterm
#include <string.h>

#include "tty/demo.h"
#include "ui/event.h"

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
    demo_start_with(NULL, types[_i]);
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        pty_key(&demo, keys[i].key, keys[i].mod);
        demo_until_key(keys[i].means);
    }
    pty_send(&demo, "\xc3\xa9");
    demo_until_key(0xe9);
    demo_quit();
}
END_TEST

START_TEST(a_box_follows_the_mouse_under_every_terminal_type)
{
    demo_start_with(NULL, types[_i]);
    pty_until_shown(&demo, "1 resize");
    demo_drag_from(10, 8);
    demo_quit();
}
END_TEST

START_TEST(the_arrows_move_the_box_as_the_mouse_does)
{
    demo_start();
    for (int i = 0; i < 3; i++)
        pty_key(&demo, VTERM_KEY_RIGHT, VTERM_MOD_NONE);
    for (int i = 0; i < 2; i++)
        pty_key(&demo, VTERM_KEY_DOWN, VTERM_MOD_NONE);
    pty_until_shown(&demo, "box at 13,10 in");
    demo_quit();
}
END_TEST

START_TEST(the_mouse_reaches_the_far_columns)
{
    demo_start_sized(300, 24);
    pty_until_shown(&demo, "shown 1");
    pty_move(&demo, 290, 20);
    pty_button(&demo, 1, true);
    pty_until_shown(&demo, "press 1 at 290,20.");
    demo_quit();
}
END_TEST

START_TEST(two_drags_in_one_write_both_count)
{
    demo_start();
    pty_send(&demo, "\033[<0;12;10M\033[<32;14;12M\033[<0;14;12m"
                    "\033[<0;14;12M\033[<32;24;13M\033[<0;24;13m");
    pty_until_shown(&demo, "7 lift 1 at 23,12.");
    pty_until_shown(&demo, "box at 22,11 in");
    demo_quit();
}
END_TEST

START_TEST(the_wheel_tells_up_from_down)
{
    demo_start();
    pty_button(&demo, 4, true);
    pty_until_shown(&demo, "wheel -1 at");
    pty_button(&demo, 5, true);
    pty_until_shown(&demo, "wheel 1 at");
    demo_quit();
}
END_TEST

START_TEST(a_report_from_outside_the_window_is_moved_inside)
{
    demo_start();
    pty_send(&demo, "\033[<0;9999;9999M");
    pty_until_shown(&demo, "press 1 at 79,23.");
    demo_quit();
}
END_TEST

START_TEST(a_paste_is_data_not_keys)
{
    demo_start();
    pty_paste(&demo, "q\r\nq\033[Aq\001\xc2\x9b!");
    pty_until_shown(&demo, "2 paste 7 [q q[Aq!]");
    demo_quit();
}
END_TEST

/* Whether the demo would end, stop or tick by that byte. */
static bool is_order(char c)
{
    return c && strchr("qSAEMRt\032", c) != NULL;
}

START_TEST(random_bytes_keep_the_keys_working)
{
    unsigned seed = (unsigned)_i * 7919u + 12345u;
    static char flood[100000];
    demo_start();
    unsigned r = seed;
    for (size_t i = 0; i < sizeof flood; i++) {
        r = r * 1103515245u + 12345u;
        char c = (char)(r >> 16);
        if (r % 7 == 0)
            c = "\033[<;M0m~O"[(r >> 24) % 9];
        flood[i] = is_order(c) ? '.' : c;
    }
    pty_sendn(&demo, flood, sizeof flood);
    pty_send(&demo, "\033[201~\033[B");
    pty_until_shown(&demo, "key 1114113 at");
    pty_send(&demo, "q");
    int status = pty_until_ended(&demo);
    ck_assert_msg(status == 0 && pty_is_as_before(&demo), "generator started from %u", seed);
    pty_free(&demo);
}
END_TEST
#endif

Suite *test_tty_input(void)
{
    Suite *s = suite_create("tty/input");
#ifdef HAVE_vterm
    TCase *t = tcase_create("input");
    tcase_set_timeout(t, 2 * PTY_PATIENCE);
    suite_add_tcase(s, t);
    tcase_add_loop_test(t, every_key_is_known_under_every_terminal_type, 0, TYPES);
    tcase_add_loop_test(t, a_box_follows_the_mouse_under_every_terminal_type, 0, TYPES);
    tcase_add_test(t, the_arrows_move_the_box_as_the_mouse_does);
    tcase_add_test(t, the_mouse_reaches_the_far_columns);
    tcase_add_test(t, two_drags_in_one_write_both_count);
    tcase_add_test(t, the_wheel_tells_up_from_down);
    tcase_add_test(t, a_report_from_outside_the_window_is_moved_inside);
    tcase_add_test(t, a_paste_is_data_not_keys);
    tcase_add_loop_test(t, random_bytes_keep_the_keys_working, 0, 3);
#else
    puts("skipped: tty/input needs libvterm");
#endif
    return s;
}
