/* The window: resized at any moment, left by ^Z and come back to, pasted into. */
#include <check.h>
#include <stdio.h>

#ifdef HAVE_vterm
#include <signal.h>
#include <string.h>

#include "tty/editor.h"

static void quit(void)
{
    pty_send(&editor, "q");
    editor_ends(0);
}

#define SIZES                                                                                      \
    "size 120x40\nsize 80x24\nsize 79x23\nsize 200x50\nsize 20x5\nsize 1x1\nsize 81x25\n"          \
    "size 80x24"

/* What may be going on while the window changes. */
static const char *const moments[] = {
    "keys Home",
    "grab h1 s4",
    "keys Home space\nkeys Right",
    "keys Home c\nkeys Down",
    "keys Home Down Enter\nkeys Down Enter",
    "keys Home e\ntype a name",
    "keys a",
    "keys ?\nkeys Tab\nkeys PageDown",
    "keys 2\nkeys Tab",
    "keys 3",
    "keys 4",
    "keys 0",
};

/* Esc, until nothing has the hands; and the mouse's button goes up. */
static void let_go(void)
{
    const struct app *a = twin.app;
    editor_play("lift 40,12");
    while (a->question.text || a->purpose || a->form || a->drag.from.kind)
        editor_play("keys Esc");
}

START_TEST(the_window_may_change_at_any_moment)
{
    editor_open();
    editor_play(moments[_i]);
    editor_play(SIZES);
    let_go();
    while (!app_is_saved(twin.app))
        editor_play("keys u");
    editor_play("drag h1 s4\n" SIZES "\nkeys u");
    ck_assert_str_eq(booth_deck(app_booth(twin.app), "h1")->wants, "s2");
    quit();
}
END_TEST

START_TEST(changes_of_the_window_faster_than_frames_end_in_the_last_size)
{
    editor_open();
    editor_play("grab h1 s4");
    for (int i = 0; i < 50; i++)
        play(&twin, i % 2 ? "size 90x30" : "size 140x45");
    editor_same();
    editor_play("lift 40,12\nsize 80x24\ndrag h1 s4");
    editor_kill();
}
END_TEST

static bool is_given_back(const struct pty *p)
{
    return !p->alternate && !p->mouse && p->cursor;
}

/* Stops it as ^Z does, and resumes it as "fg" does. */
static void stop_and_resume(int stops)
{
    struct event size = {.kind = EVENT_RESIZE, .column = 80, .row = 24};
    pty_send(&editor, "\032");
    pty_until_stopped(&editor, stops);
    pty_until(&editor, is_given_back, "given back");
    ck_assert(pty_is_as_before(&editor));
    pty_resume(&editor);
    app_update(twin.app, &size); /* a resumed program is told its window */
    editor_same();
    ck_assert_int_eq(editor.mouse, VTERM_PROP_MOUSE_DRAG);
}

START_TEST(a_stopped_editor_comes_back_as_it_was_and_can_be_dragged_in)
{
    editor_open();
    editor_play(moments[_i]);
    stop_and_resume(1);
    stop_and_resume(2);
    let_go();
    while (!app_is_saved(twin.app))
        editor_play("keys u");
    editor_play("drag h1 s4\nkeys u");
    quit();
}
END_TEST

START_TEST(a_paste_into_a_prompt_is_text_and_on_the_booth_it_is_nothing)
{
    editor_open();
    editor_play("keys Home\npaste dduxq\nkeys Down");
    ck_assert(app_is_saved(twin.app));
    editor_play("keys e\nkeys ^u\npaste q d u\nkeys Enter");
    ck_assert_str_eq(booth_device(app_booth(twin.app), "p1")->label, "q d u");
    editor_play(
        "keys u\nkeys Enter\nkeys Down\npaste ddux\nkeys Enter\npaste 9\nkeys Enter\nkeys Esc");
    editor_play("keys q\npaste d\nkeys Esc");
    editor_play("grab h1 s4\npaste qqq\nkeys Esc");
    editor_kill();
}
END_TEST

START_TEST(a_long_paste_with_line_ends_stays_one_line_within_its_bounds)
{
    struct str line = {0};
    editor_open();
    editor_play("keys Home Down e\nkeys ^u");
    str_add(&line, "\033[200~");
    for (int i = 0; i < 200; i++)
        str_add(&line, "a\r\n\033[31m\a\xe2\x80\xae");
    str_add(&line, "\033[201~\r");
    pty_send(&editor, str_text(&line));
    pty_until_shown(&editor, "unsaved");
    editor_type("w", "saved to");
    struct booth *b = editor_booth_in("hall.json");
    ck_assert_uint_le(strlen(booth_device(b, "p1")->label), LABEL_MAX);
    ck_assert(!strchr(booth_device(b, "p1")->label, '\n'));
    booth_free(b);
    str_clear(&line);
    quit();
}
END_TEST

/* Every terminal type in use: the drag is live, the picture the same. */
static const char *const types[] = {"TERM=xterm-256color", "TERM=xterm", "TERM=tmux-256color",
                                    "TERM=screen",         "TERM=linux", "TERM=vt100"};

START_TEST(a_drag_is_live_whatever_the_terminal_is_called)
{
    editor_start((struct editor_start){.file = "hall.json", .env = {types[_i]}});
    editor_twin("hall.json");
    editor_play("grab h1 s4\nkeys Esc\nlift 40,12\ndrag p1.line s3.line\nkeys u");
    quit();
}
END_TEST

START_TEST(two_drags_in_one_write_are_two_edits)
{
    editor_open();
    play(&twin, "drag h1 s4\ndrag h2 s1");
    editor_same();
    ck_assert_str_eq(history_undo(twin.app->history), "let H2 be heard on strip 1");
    editor_kill();
}
END_TEST
#endif

Suite *test_editor_window(void)
{
    Suite *s = suite_create("tty/editor_window");
#ifdef HAVE_vterm
    TCase *t = tcase_create("the window");
    int n = (int)(sizeof moments / sizeof *moments);
    tcase_set_timeout(t, 2 * PTY_PATIENCE);
    tcase_add_checked_fixture(t, editor_fixture, editor_fixture_end);
    suite_add_tcase(s, t);
    tcase_add_loop_test(t, the_window_may_change_at_any_moment, 0, n);
    tcase_add_test(t, changes_of_the_window_faster_than_frames_end_in_the_last_size);
    tcase_add_loop_test(t, a_stopped_editor_comes_back_as_it_was_and_can_be_dragged_in, 0, n);
    tcase_add_test(t, a_paste_into_a_prompt_is_text_and_on_the_booth_it_is_nothing);
    tcase_add_test(t, a_long_paste_with_line_ends_stays_one_line_within_its_bounds);
    tcase_add_loop_test(t, a_drag_is_live_whatever_the_terminal_is_called, 0, 6);
    tcase_add_test(t, two_drags_in_one_write_are_two_edits);
#else
    puts("skipped: tty/editor_window needs libvterm");
#endif
    return s;
}
