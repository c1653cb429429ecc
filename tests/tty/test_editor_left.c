/* What an editor leaves behind that did not come to its end: the next one offers every finished
 * edit, and loses none before it was told what to do with them. */
#include <check.h>
#include <stdio.h>

#ifdef HAVE_vterm
#include <signal.h>
#include <string.h>
#include <sys/wait.h>

#include "cli/program.h"
#include "support/scratch_file.h"
#include "tty/editor.h"

#define JOURNAL ".hall.json.journal"

static struct str at_first; /* what the file held */

static void fixture(void)
{
    editor_fixture();
    at_first = program_file(scratch("hall.json"));
}

static void fixture_end(void)
{
    str_clear(&at_first);
    editor_fixture_end();
}

static void start(void)
{
    editor_start((struct editor_start){.file = "hall.json"});
}

/* Works on the hall, with undo and redo in between, and is killed. */
static void work_and_die(void)
{
    editor_open();
    editor_play("drag h1 s4\nkeys S\nkeys u\nkeys u\nkeys U\ndrag p2.line s3.line");
    editor_play("keys Home\nkeys Down\nkeys i\nkeys ^u\ntype Robin\nkeys Enter");
    editor_kill();
}

static void quit(void)
{
    pty_send(&editor, "q");
    editor_ends(0);
}

static void take_and_save(const char *shown)
{
    editor_type("t", shown);
    pty_until_shown(&editor, "unsaved");
    editor_type("w", "saved to");
    quit();
    ck_assert(!scratch_has(JOURNAL));
}

START_TEST(work_of_a_killed_editor_is_offered_and_taken_is_every_finished_edit)
{
    work_and_die();
    ck_assert(scratch_holds("hall.json", str_text(&at_first)));
    start();
    pty_until_shown(&editor, "7 unsaved edits, left just now");
    pty_until_shown(&editor, "no faults  saved");
    take_and_save("7 of 7 edits taken over; save to keep them");
    editor_file_is_twin("hall.json");
    start();
    pty_until_shown(&editor, "saved");
    ck_assert(!pty_shows(&editor, "unsaved"));
    quit();
}
END_TEST

START_TEST(work_that_was_taken_can_be_undone_edit_by_edit)
{
    work_and_die();
    start();
    pty_until_shown(&editor, "7 unsaved edits");
    editor_type("t", "7 of 7 edits");
    for (int i = 0; i < 7; i++) {
        editor_type("u", "undone: work taken over");
        pty_key(&editor, VTERM_KEY_HOME, VTERM_MOD_NONE);
        pty_until_shown(&editor, "space picks up");
    }
    editor_type("u", "nothing to undo");
    ck_assert(!pty_shows(&editor, "unsaved"));
    quit();
    ck_assert(scratch_holds("hall.json", str_text(&at_first)));
}
END_TEST

START_TEST(work_that_is_thrown_away_is_gone_and_the_file_as_it_was)
{
    work_and_die();
    start();
    pty_until_shown(&editor, "7 unsaved edits");
    editor_type("d", "thrown away");
    ck_assert(!pty_shows(&editor, "unsaved"));
    quit();
    ck_assert(scratch_holds("hall.json", str_text(&at_first)));
    ck_assert(!scratch_has(JOURNAL));
}
END_TEST

static bool has_rung(const struct pty *p)
{
    return p->bells > 0;
}

START_TEST(escape_asks_again_and_who_leaves_or_dies_undecided_is_asked_the_next_time)
{
    work_and_die();
    for (int i = 0; i < 3; i++) {
        start();
        pty_until_shown(&editor, "7 unsaved edits");
        pty_key(&editor, VTERM_KEY_ESCAPE, VTERM_MOD_NONE);
        pty_send(&editor, "\001"); /* no answer: it rings */
        pty_until(&editor, has_rung, "a bell");
        pty_until_shown(&editor, "7 unsaved edits");
        if (i == 0)
            editor_kill();
        else if (i == 1)
            quit();
    }
    take_and_save("7 of 7 edits");
    editor_file_is_twin("hall.json");
}
END_TEST

START_TEST(a_second_death_keeps_the_work_of_both_lives)
{
    work_and_die();
    start();
    pty_until_shown(&editor, "7 unsaved edits");
    editor_type("t", "7 of 7 edits");
    editor_type("v", "Esc done");
    editor_type("\033", "space picks up");
    editor_type("S", "set every deck");
    editor_kill();
    start();
    pty_until_shown(&editor, "8 unsaved edits");
    play(&twin, "keys 1"); /* the twin alone */
    take_and_save("8 of 8 edits");
}
END_TEST

START_TEST(what_is_in_hand_or_half_typed_at_the_end_is_no_finished_edit)
{
    editor_open();
    editor_play("drag h1 s4");
    editor_play(_i == 0 ? "grab h2 s1" : "keys Home\nkeys e\ntype half");
    editor_kill();
    start();
    pty_until_shown(&editor, "1 unsaved edit, left");
    editor_type("t", "1 of 1 edits");
    editor_type("w", "saved to");
    struct booth *b = editor_booth_in("hall.json");
    ck_assert_str_eq(booth_deck(b, "h1")->wants, "s4");
    ck_assert_str_eq(booth_deck(b, "h2")->wants, "s3");
    ck_assert_str_eq(booth_deck(b, "h3")->label, "H3");
    booth_free(b);
    quit();
}
END_TEST

/* --- the file changed meanwhile --------------------------------------------------------------- */

/* Somebody changes the file: another room, or another way to break what the work was about. */
static void rewrite(const char *from, const char *to)
{
    struct str text = {0};
    const char *at = strstr(str_text(&at_first), from);
    ck_assert_ptr_nonnull(at);
    str_addn(&text, str_text(&at_first), (size_t)(at - str_text(&at_first)));
    str_add(&text, to);
    str_add(&text, at + strlen(from));
    scratch_put("hall.json", str_text(&text));
    str_clear(&text);
}

START_TEST(work_on_another_state_of_the_file_is_offered_as_such_and_never_done_unasked)
{
    work_and_die();
    rewrite("Lower floor", "Upper floor");
    start();
    pty_until_shown(&editor, "made on another state of this file");
    pty_until_shown(&editor, "Upper floor");
    pty_until_shown(&editor, "no faults  saved");
    struct booth *b = editor_booth_in("hall.json");
    ck_assert_str_eq(booth_deck(b, "h1")->wants, "s2");
    booth_free(b);
    take_and_save("7 of 7 edits");
    b = editor_booth_in("hall.json");
    ck_assert_str_eq(b->venue.room, "Upper floor");
    ck_assert_str_eq(booth_deck(b, "h1")->wants, "s4");
    booth_free(b);
}
END_TEST

START_TEST(work_that_fits_nowhere_is_kept_until_it_is_thrown_away)
{
    work_and_die();
    scratch_put("hall.json", "{\"format\":\"boothwright-venue\",\"version\":1,\"venue\":{\"name\":"
                             "\"Shed\"},\"host\":{},\"devices\":[]}");
    start();
    pty_until_shown(&editor, "made on another state");
    editor_type("t", "which this file has no place for");
    editor_kill();
    start();
    pty_until_shown(&editor, "7 unsaved edits");
    editor_type("d", "thrown away");
    quit();
    ck_assert(!scratch_has(JOURNAL));
}
END_TEST

/* --- ended from outside ----------------------------------------------------------------------- */

static const int ends[] = {SIGTERM, SIGHUP, SIGINT, SIGQUIT};

START_TEST(a_signal_gives_the_terminal_back_and_the_work_is_offered_the_next_time)
{
    editor_open();
    editor_play("drag h1 s4");
    pty_signal(&editor, ends[_i]);
    editor_ends(128 + ends[_i]);
    start();
    pty_until_shown(&editor, "1 unsaved edit, left just now");
    take_and_save("1 of 1 edits");
    editor_file_is_twin("hall.json");
}
END_TEST

START_TEST(a_closed_window_loses_nothing)
{
    editor_open();
    editor_play("drag h1 s4");
    pty_hang_up(&editor);
    int status = pty_until_ended(&editor);
    ck_assert(WIFEXITED(status));
    ck_assert_int_eq(WEXITSTATUS(status), 128 + SIGHUP);
    pty_free(&editor);
    start();
    pty_until_shown(&editor, "1 unsaved edit");
    take_and_save("1 of 1 edits");
    editor_file_is_twin("hall.json");
}
END_TEST

START_TEST(a_signal_when_all_is_saved_leaves_nothing_behind)
{
    editor_open();
    editor_play("drag h1 s4\nkeys w");
    pty_signal(&editor, SIGTERM);
    editor_ends(128 + SIGTERM);
    ck_assert(!scratch_has(JOURNAL));
}
END_TEST
#endif

Suite *test_editor_left(void)
{
    Suite *s = suite_create("tty/editor_left");
#ifdef HAVE_vterm
    TCase *t = tcase_create("left behind");
    tcase_set_timeout(t, 2 * PTY_PATIENCE);
    tcase_add_checked_fixture(t, fixture, fixture_end);
    suite_add_tcase(s, t);
    tcase_add_test(t, work_of_a_killed_editor_is_offered_and_taken_is_every_finished_edit);
    tcase_add_test(t, work_that_was_taken_can_be_undone_edit_by_edit);
    tcase_add_test(t, work_that_is_thrown_away_is_gone_and_the_file_as_it_was);
    tcase_add_test(t, escape_asks_again_and_who_leaves_or_dies_undecided_is_asked_the_next_time);
    tcase_add_test(t, a_second_death_keeps_the_work_of_both_lives);
    tcase_add_loop_test(t, what_is_in_hand_or_half_typed_at_the_end_is_no_finished_edit, 0, 2);
    tcase_add_test(t, work_on_another_state_of_the_file_is_offered_as_such_and_never_done_unasked);
    tcase_add_test(t, work_that_fits_nowhere_is_kept_until_it_is_thrown_away);
    tcase_add_loop_test(t, a_signal_gives_the_terminal_back_and_the_work_is_offered_the_next_time,
                        0, 4);
    tcase_add_test(t, a_closed_window_loses_nothing);
    tcase_add_test(t, a_signal_when_all_is_saved_leaves_nothing_behind);
#else
    puts("skipped: tty/editor_left needs libvterm");
#endif
    return s;
}
