/* Where a venue comes from: the list of saved ones, a new one, a path that has none yet, and a file
 * that is no venue. */
#include <check.h>
#include <stdio.h>

#ifdef HAVE_vterm
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
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

/* A copy of a demo venue in the folder of saved ones. */
static void put_saved(const char *demo, const char *name)
{
    struct str text = program_file(demo);
    ck_assert_uint_gt(text.len, 0);
    scratch_put(name, str_text(&text));
    str_clear(&text);
}

static void start_alone(void)
{
    editor_start((struct editor_start){0});
    pty_until_shown(&editor, "arrows, Enter opens");
}

START_TEST(alone_it_lists_the_saved_venues_with_their_faults_and_opens_one)
{
    put_saved("venues/tideline-hall.json", "venues/hall.json");
    put_saved("venues/salt-yard.json", "venues/yard.json");
    scratch_put("venues/broken.json", "{\"format\": 1}");
    scratch_put("venues/notes.txt", "not a venue");
    start_alone();
    pty_until_shown(&editor, "hall.json");
    pty_until_shown(&editor, "Tideline Hall, Lower floor: no faults");
    pty_until_shown(&editor, "Salt Yard");
    pty_until_shown(&editor, "broken.json");
    pty_until_shown(&editor, "cannot be read: format: ");
    ck_assert(!pty_shows(&editor, "notes.txt"));
    pty_key(&editor, VTERM_KEY_DOWN, VTERM_MOD_NONE);
    pty_key(&editor, VTERM_KEY_ENTER, VTERM_MOD_NONE);
    editor_twin("venues/hall.json");
    editor_play("drag h1 s4\nkeys w");
    editor_file_is_twin("venues/hall.json");
    quit();
    start_alone();
    pty_until_shown(&editor, "Tideline Hall, Lower floor: 2 errors, 2 warnings");
    quit();
}
END_TEST

START_TEST(a_broken_one_is_not_opened_and_says_why_again)
{
    put_saved("venues/tideline-hall.json", "venues/hall.json");
    scratch_put("venues/broken.json", "{\"format\": 1}");
    start_alone();
    pty_key(&editor, VTERM_KEY_ENTER, VTERM_MOD_NONE);
    pty_until_shown(&editor, " format: ");
    pty_until_shown(&editor, "arrows, Enter opens");
    ck_assert(scratch_holds("venues/broken.json", "{\"format\": 1}"));
    quit();
}
END_TEST

START_TEST(the_one_that_is_chosen_is_opened_whatever_came_and_went_meanwhile)
{
    put_saved("venues/tideline-hall.json", "venues/hall.json");
    start_alone();
    put_saved("venues/salt-yard.json", "venues/a-yard.json"); /* before it in the folder */
    pty_key(&editor, VTERM_KEY_ENTER, VTERM_MOD_NONE);
    editor_twin("venues/hall.json");
    quit();
    unlink(scratch("venues/a-yard.json"));
    start_alone();
    unlink(scratch("venues/hall.json"));
    pty_key(&editor, VTERM_KEY_ENTER, VTERM_MOD_NONE);
    pty_until_shown(&editor, "has no venue yet");
    pty_send(&editor, "\003");
    editor_ends(0);
    ck_assert(!scratch_has("venues/hall.json"));
}
END_TEST

START_TEST(a_click_chooses_a_saved_venue_and_a_second_one_opens_it)
{
    put_saved("venues/tideline-hall.json", "venues/hall.json");
    put_saved("venues/salt-yard.json", "venues/yard.json");
    start_alone();
    for (int i = 0; i < 2; i++) {
        pty_move(&editor, 10, 5);
        pty_button(&editor, 1, true);
        pty_button(&editor, 1, false);
    }
    editor_twin("venues/yard.json");
    quit();
}
END_TEST

START_TEST(a_new_venue_is_on_the_disk_at_once_and_listed_the_next_time)
{
    ck_assert_int_eq(rmdir(scratch("venues")), 0); /* nothing was ever saved */
    start_alone();
    editor_type("n", "boothwright: a new venue");
    editor_type("\033[F\r", "saved to ");
    ck_assert(scratch_has("venues/new-venue.json"));
    struct booth *b = editor_booth_in("venues/new-venue.json");
    ck_assert_uint_eq(b->decks.n, 4);
    booth_free(b);
    editor_type("o", "unsaved"); /* an edit that no save follows */
    editor_kill();
    start_alone();
    pty_until_shown(&editor, "new-venue.json");
    pty_until_shown(&editor, "New venue: 1 note");
    editor_type("\r", "1 unsaved edit, left");
    editor_type("t", "1 of 1 edits");
    editor_type("w", "saved to ");
    quit();
}
END_TEST

START_TEST(two_new_venues_of_one_name_have_two_files)
{
    for (int i = 0; i < 2; i++) {
        start_alone();
        editor_type("n", "boothwright: a new venue");
        editor_type("\033[F\r", "saved to ");
        quit();
    }
    ck_assert(scratch_has("venues/new-venue.json"));
    ck_assert(scratch_has("venues/new-venue-2.json"));
}
END_TEST

START_TEST(a_path_without_a_venue_gets_a_new_one)
{
    if (_i == 1)
        scratch_put("shed.json", "");
    else if (_i == 2)
        scratch_put("shed.json", " \n\n");
    editor_start((struct editor_start){.file = "shed.json"});
    pty_until_shown(&editor, "boothwright: a new venue");
    pty_until_shown(&editor, "shed.json has no venue yet");
    ck_assert(_i > 0 || !scratch_has("shed.json"));
    editor_type("\033[F\r", "saved to ");
    booth_free(editor_booth_in("shed.json"));
    editor_type("o", "unsaved");
    editor_type("w", "saved to ");
    quit();
    struct booth *b = editor_booth_in("shed.json");
    ck_assert_str_eq(b->decks.v[0].wants, "");
    booth_free(b);
    ck_assert(!scratch_has(".shed.json.journal"));
}
END_TEST

START_TEST(leaving_before_a_new_venue_is_made_makes_nothing)
{
    editor_start((struct editor_start){.file = "shed.json"});
    pty_until_shown(&editor, "boothwright: a new venue");
    pty_send(&editor, "\003");
    editor_ends(0);
    ck_assert_int_eq(scratch_count(), 3); /* hall.json, venues, state */
}
END_TEST

START_TEST(a_new_venue_that_loses_its_place_is_not_called_saved)
{
    ck_assert_int_eq(mkdir(scratch("none"), 0755), 0);
    editor_start((struct editor_start){.file = "none/shed.json"});
    pty_until_shown(&editor, "boothwright: a new venue");
    ck_assert_int_eq(rmdir(scratch("none")), 0);
    editor_type("\033[F\r", "not saved: ");
    pty_until_shown(&editor, "unsaved");
    editor_type("q", "there are unsaved changes");
    ck_assert_int_eq(mkdir(scratch("none"), 0755), 0);
    pty_send(&editor, "s");
    editor_ends(0);
    booth_free(editor_booth_in("none/shed.json"));
}
END_TEST

START_TEST(a_new_venue_in_a_folder_that_is_not_there_is_refused_at_once)
{
    editor_start((struct editor_start){.file = "none/shed.json"});
    int status = pty_until_ended(&editor);
    ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 4);
    ck_assert_ptr_nonnull(strstr(str_text(&editor.wrote), "its folder is not there"));
    ck_assert(pty_is_as_before(&editor));
    pty_free(&editor);
}
END_TEST

static const struct {
    const char *text, *says;
} broken[] = {
    {"no venue at all", "expected"}, {"{\"format\": 1}", "format"}, {"\xff\xfe", "UTF-8"}};

START_TEST(a_broken_file_is_told_in_one_sentence_and_the_terminal_untouched)
{
    scratch_put("hall.json", broken[_i].text);
    editor_start((struct editor_start){.file = "hall.json", .columns = 300});
    int status = pty_until_ended(&editor);
    ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 3);
    const char *wrote = str_text(&editor.wrote), *end = strchr(wrote, '\n');
    ck_assert_msg(strstr(wrote, "hall.json: ") && strstr(wrote, broken[_i].says), "%s", wrote);
    ck_assert_msg(end && end[1] == '\0' && !strchr(wrote, '\033'), "%s", wrote);
    ck_assert(pty_is_as_before(&editor));
    pty_free(&editor);
    ck_assert(scratch_holds("hall.json", broken[_i].text));
    ck_assert(!scratch_has(".hall.json.journal"));
}
END_TEST
#endif

Suite *test_editor_start(void)
{
    Suite *s = suite_create("tty/editor_start");
#ifdef HAVE_vterm
    TCase *t = tcase_create("beginnings");
    tcase_set_timeout(t, 2 * PTY_PATIENCE);
    tcase_add_checked_fixture(t, editor_fixture, editor_fixture_end);
    suite_add_tcase(s, t);
    tcase_add_test(t, alone_it_lists_the_saved_venues_with_their_faults_and_opens_one);
    tcase_add_test(t, a_broken_one_is_not_opened_and_says_why_again);
    tcase_add_test(t, the_one_that_is_chosen_is_opened_whatever_came_and_went_meanwhile);
    tcase_add_test(t, a_click_chooses_a_saved_venue_and_a_second_one_opens_it);
    tcase_add_test(t, a_new_venue_is_on_the_disk_at_once_and_listed_the_next_time);
    tcase_add_test(t, two_new_venues_of_one_name_have_two_files);
    tcase_add_loop_test(t, a_path_without_a_venue_gets_a_new_one, 0, 3);
    tcase_add_test(t, leaving_before_a_new_venue_is_made_makes_nothing);
    tcase_add_test(t, a_new_venue_that_loses_its_place_is_not_called_saved);
    tcase_add_test(t, a_new_venue_in_a_folder_that_is_not_there_is_refused_at_once);
    tcase_add_loop_test(t, a_broken_file_is_told_in_one_sentence_and_the_terminal_untouched, 0, 3);
#else
    puts("skipped: tty/editor_start needs libvterm");
#endif
    return s;
}
