/* The world beside the editor: a second editor, somebody who changes the file, a folder or a disk
 * that takes nothing in. Each is told in a sentence, no work is lost, and saving again works. */
#include <check.h>
#include <stdio.h>

#ifdef HAVE_vterm
#include <signal.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"
#include "cli/program.h"
#include "support/scratch_file.h"
#include "tty/editor.h"

static void quit(void)
{
    pty_send(&editor, "q");
    editor_ends(0);
}

static void wants(const char *deck, const char *strip)
{
    struct booth *b = editor_booth_in("hall.json");
    ck_assert_str_eq(booth_deck(b, deck)->wants, strip);
    booth_free(b);
}

/* --- two editors ------------------------------------------------------------------------------ */

static struct pty second;

static void start_second(void)
{
    char who[64];
    editor_start((struct editor_start){.file = "hall.json", .in = &second});
    snprintf(who, sizeof who, "is being edited by process %d on", (int)editor.program);
    pty_until_shown(&second, who);
    pty_until_shown(&second, "read only");
}

static void say_to_second(const char *bytes, const char *shown)
{
    pty_send(&second, bytes);
    pty_until_shown(&second, shown);
}

START_TEST(a_second_editor_names_the_first_and_changes_nothing)
{
    struct str before = program_file(scratch("hall.json"));
    editor_open();
    start_second();
    say_to_second("o", "this venue is open for reading only");
    say_to_second("3", "Routes");
    say_to_second("w", "is being edited by process");
    pty_send(&second, "q");
    ck_assert_int_eq(pty_until_ended(&second), 0);
    pty_free(&second);
    editor_play("drag h1 s4"); /* the first has lost nothing by it */
    editor_kill();
    ck_assert(scratch_has(".hall.json.journal"));
    ck_assert(scratch_holds("hall.json", str_text(&before)));
    str_clear(&before);
}
END_TEST

START_TEST(when_the_first_has_left_the_second_can_edit_what_it_saved)
{
    editor_open();
    start_second();
    editor_play("drag h1 s4\nkeys w");
    quit();
    say_to_second("w", "nobody else is editing it any more: now you can");
    pty_until_shown(&second, "2 errors  2 warnings  saved");
    say_to_second("S", "set every deck to its pair");
    say_to_second("w", "saved to");
    pty_send(&second, "q");
    ck_assert_int_eq(pty_until_ended(&second), 0);
    pty_free(&second);
    struct booth *b = editor_booth_in("hall.json");
    ck_assert_int_eq(booth_deck(b, "h1")->set_to.left, 6);
    booth_free(b);
}
END_TEST

START_TEST(when_the_first_has_died_the_second_is_offered_its_work)
{
    editor_open();
    start_second();
    editor_play("drag h1 s4");
    editor_kill();
    say_to_second("w", "1 unsaved edit, left just now");
    say_to_second("t", "1 of 1 edits taken over");
    say_to_second("w", "saved to");
    pty_send(&second, "q");
    ck_assert_int_eq(pty_until_ended(&second), 0);
    pty_free(&second);
    editor_file_is_twin("hall.json");
}
END_TEST

/* --- the file changes behind our back --------------------------------------------------------- */

static char *other_text(void)
{
    struct str text = program_file(scratch("hall.json"));
    char *room = strstr(text.text, "Lower");
    memcpy(room, "Upper", 5);
    return str_take(&text);
}

static void change_it_behind_our_back(const char *other)
{
    editor_open();
    editor_play("drag h1 s4");
    scratch_put("hall.json", other);
    editor_type("w", "not saved: somebody else changed this file");
}

START_TEST(a_file_changed_behind_our_back_is_asked_about_and_escape_keeps_both)
{
    char *other = other_text();
    change_it_behind_our_back(other);
    pty_key(&editor, VTERM_KEY_ESCAPE, VTERM_MOD_NONE);
    pty_until_shown(&editor, "space picks up");
    editor_play("keys Home"); /* every edit is still there, unsaved */
    ck_assert(scratch_holds("hall.json", other));
    editor_type("w", "somebody else changed this file");
    editor_type("o", "saved to");
    editor_file_is_twin("hall.json");
    ck_assert(scratch_holds("hall.json.bak", other)); /* theirs is not lost, either */
    quit();
    mem_free(other);
}
END_TEST

START_TEST(reading_it_again_drops_what_was_here)
{
    char *other = other_text();
    change_it_behind_our_back(other);
    editor_type("r", "Upper floor");
    pty_until_shown(&editor, "no faults  saved");
    ck_assert(scratch_holds("hall.json", other));
    editor_type("u", "nothing to undo");
    editor_type("w", "saved to"); /* and it is ours again */
    quit();
    wants("h1", "s2");
    mem_free(other);
}
END_TEST

static const struct {
    const char *key, *tells;
} panes[] = {{"5", "nothing to do"}, {"6", "nothing differs"}, {"9", "buffers"}};

START_TEST(the_pane_tells_of_what_was_read_again_at_once)
{
    char *other = other_text();
    change_it_behind_our_back(other);
    pty_key(&editor, VTERM_KEY_ESCAPE, VTERM_MOD_NONE);
    pty_until_shown(&editor, "space picks up");
    pty_send(&editor, panes[_i].key);
    editor_type("w", "somebody else changed this file");
    editor_type("r", "Upper floor");
    pty_until_shown(&editor, panes[_i].tells);
    quit();
    mem_free(other);
}
END_TEST

START_TEST(reading_again_what_cannot_be_read_loses_nothing)
{
    change_it_behind_our_back("no venue");
    pty_send(&editor, "r");
    pty_until_shown(&editor, "expected");
    pty_until_shown(&editor, "unsaved");
    editor_kill();
    struct str before = program_file("venues/tideline-hall.json");
    scratch_put("hall.json", str_text(&before));
    str_clear(&before);
    editor_start((struct editor_start){.file = "hall.json"});
    pty_until_shown(&editor, "1 unsaved edit, left");
    editor_type("t", "1 of 1");
    editor_type("w", "saved to");
    editor_file_is_twin("hall.json");
    quit();
}
END_TEST

START_TEST(saving_on_the_way_out_over_a_changed_file_asks_and_stays)
{
    char *other = other_text();
    editor_open();
    editor_play("drag h1 s4");
    scratch_put("hall.json", other);
    editor_type("q", "there are unsaved changes");
    editor_type("s", "somebody else changed this file");
    pty_key(&editor, VTERM_KEY_ESCAPE, VTERM_MOD_NONE);
    pty_until_shown(&editor, "space picks up");
    editor_type("q", "there are unsaved changes");
    pty_send(&editor, "d");
    editor_ends(0);
    ck_assert(scratch_holds("hall.json", other));
    mem_free(other);
}
END_TEST

START_TEST(a_removed_file_is_said_to_be_and_can_be_saved_all_the_same)
{
    editor_open();
    editor_play("drag h1 s4");
    unlink(scratch("hall.json"));
    editor_type("w", "not saved: somebody removed this file");
    editor_type("o", "saved to");
    editor_file_is_twin("hall.json");
    quit();
}
END_TEST

/* --- nothing can be written ------------------------------------------------------------------- */

START_TEST(a_folder_that_takes_nothing_in_is_told_and_saving_again_works)
{
    editor_start((struct editor_start){.file = "hall.json", .as_nobody = true});
    editor_twin("hall.json");
    editor_play("drag h1 s4");
    ck_assert_int_eq(chmod(scratch(""), 0555), 0);
    editor_type("w", "not saved: ");
    pty_until_shown(&editor, "unsaved");
    editor_type("q", "there are unsaved changes");
    editor_type("s", "not saved: ");
    wants("h1", "s2");
    ck_assert_int_eq(chmod(scratch(""), 0755), 0);
    editor_type("w", "saved to");
    editor_file_is_twin("hall.json");
    quit();
}
END_TEST

START_TEST(where_the_folder_takes_nothing_in_the_work_is_kept_elsewhere)
{
    ck_assert_int_eq(chmod(scratch(""), 0555), 0);
    editor_start((struct editor_start){.file = "hall.json", .as_nobody = true});
    editor_twin("hall.json");
    editor_play("drag h1 s4");
    editor_kill();
    ck_assert(!scratch_has(".hall.json.journal"));
    editor_start((struct editor_start){.file = "hall.json", .as_nobody = true});
    pty_until_shown(&editor, "1 unsaved edit, left");
    editor_type("t", "1 of 1");
    ck_assert_int_eq(chmod(scratch(""), 0755), 0);
    editor_type("w", "saved to");
    editor_file_is_twin("hall.json");
    quit();
}
END_TEST

/* Nothing can be saved, no edit is lost, and only who says so leaves without saving. */
static void cannot_save_but_goes_on(void)
{
    editor_type("w", "not saved: ");
    pty_until_shown(&editor, "unsaved");
    editor_play("keys Home");
    editor_type("q", "there are unsaved changes");
    editor_type("s", "not saved: ");
    editor_type("q", "there are unsaved changes");
    pty_send(&editor, "d");
    editor_ends(0);
}

START_TEST(a_full_disk_is_told_and_the_work_stays_on_the_screen)
{
    struct str before = program_file(scratch("hall.json"));
    editor_start((struct editor_start){.file = "hall.json", .before = "ulimit -f 0"});
    pty_until_shown(&editor, "its journal cannot be opened");
    pty_key(&editor, VTERM_KEY_HOME, VTERM_MOD_NONE);
    editor_twin("hall.json");
    editor_play("drag h1 s4");
    cannot_save_but_goes_on();
    ck_assert(scratch_holds("hall.json", str_text(&before)));
    str_clear(&before);
}
END_TEST

START_TEST(a_disk_that_fills_up_meanwhile_is_told_at_the_first_edit_that_is_not_safe)
{
    editor_start((struct editor_start){.file = "hall.json", .before = "ulimit -f 1"});
    editor_twin("hall.json");
    for (int i = 0; i < 20; i++)
        play(&twin, "drag h1 s4\ndrag h1 s2");
    pty_until_shown(&editor, "not in the journal, save soon");
    editor_play("keys Home");
    cannot_save_but_goes_on();
}
END_TEST

START_TEST(a_folder_that_was_removed_is_told_and_saving_works_when_it_is_back)
{
    struct str hall = program_file(scratch("hall.json"));
    ck_assert_int_eq(mkdir(scratch("gone"), 0755), 0);
    scratch_put("gone/hall.json", str_text(&hall));
    editor_start((struct editor_start){.file = "gone/hall.json"});
    editor_twin("gone/hall.json");
    editor_play("drag h1 s4");
    ck_assert_int_eq(unlink(scratch("gone/hall.json")), 0);
    ck_assert_int_eq(unlink(scratch("gone/.hall.json.journal")), 0);
    ck_assert_int_eq(rmdir(scratch("gone")), 0);
    editor_type("w", "not saved: ");
    pty_until_shown(&editor, "unsaved");
    ck_assert_int_eq(mkdir(scratch("gone"), 0755), 0);
    editor_type("w", "somebody removed this file");
    editor_type("o", "saved to");
    editor_file_is_twin("gone/hall.json");
    quit();
    str_clear(&hall);
}
END_TEST
#endif

Suite *test_editor_files(void)
{
    Suite *s = suite_create("tty/editor_files");
#ifdef HAVE_vterm
    TCase *t = tcase_create("the world beside");
    tcase_set_timeout(t, 2 * PTY_PATIENCE);
    tcase_add_checked_fixture(t, editor_fixture, editor_fixture_end);
    suite_add_tcase(s, t);
    tcase_add_test(t, a_second_editor_names_the_first_and_changes_nothing);
    tcase_add_test(t, when_the_first_has_left_the_second_can_edit_what_it_saved);
    tcase_add_test(t, when_the_first_has_died_the_second_is_offered_its_work);
    tcase_add_test(t, a_file_changed_behind_our_back_is_asked_about_and_escape_keeps_both);
    tcase_add_test(t, reading_it_again_drops_what_was_here);
    tcase_add_loop_test(t, the_pane_tells_of_what_was_read_again_at_once, 0, 3);
    tcase_add_test(t, reading_again_what_cannot_be_read_loses_nothing);
    tcase_add_test(t, saving_on_the_way_out_over_a_changed_file_asks_and_stays);
    tcase_add_test(t, a_removed_file_is_said_to_be_and_can_be_saved_all_the_same);
    tcase_add_test(t, a_folder_that_takes_nothing_in_is_told_and_saving_again_works);
    tcase_add_test(t, where_the_folder_takes_nothing_in_the_work_is_kept_elsewhere);
    tcase_add_test(t, a_full_disk_is_told_and_the_work_stays_on_the_screen);
    tcase_add_test(t, a_disk_that_fills_up_meanwhile_is_told_at_the_first_edit_that_is_not_safe);
    tcase_add_test(t, a_folder_that_was_removed_is_told_and_saving_works_when_it_is_back);
#else
    puts("skipped: tty/editor_files needs libvterm");
#endif
    return s;
}
