/* The main job on a real terminal, as a person does it: open a venue, drag, look, save; and the
 * command line gives the same answers about the file. */
#include <check.h>
#include <stdio.h>

#ifdef HAVE_vterm
#include <cjson/cJSON.h>
#include <string.h>

#include "base/mem.h"
#include "cli/program.h"
#include "support/scratch_file.h"
#include "tty/editor.h"

static const struct {
    int columns, rows;
} sizes[] = {{80, 24}, {120, 40}};

static void open_sized(int i)
{
    editor_start((struct editor_start){
        .file = "hall.json", .columns = sizes[i].columns, .rows = sizes[i].rows});
    editor_twin("hall.json");
}

static void save(void)
{
    editor_play("keys w");
    editor_file_is_twin("hall.json");
}

START_TEST(a_drag_shows_its_result_before_the_release_and_its_file_after_the_save)
{
    open_sized(_i);
    editor_play("grab h1 s4");
    pty_until_shown(&editor, "drop: let H1 be heard on strip 4");
    pty_until_shown(&editor, "preview: 2 errors  2 warnings");
    ck_assert_str_eq(booth_deck(app_booth(twin.app), "h1")->wants, "s2");
    editor_play("drag h1 s4");
    pty_until_shown(&editor, "2 errors  2 warnings  unsaved");
    save();
    struct booth *b = editor_booth_in("hall.json");
    ck_assert_str_eq(booth_deck(b, "h1")->wants, "s4");
    ck_assert_str_eq(booth_deck(b, "h4")->wants, "s2");
    booth_free(b);
    pty_send(&editor, "q");
    editor_ends(0);
}
END_TEST

START_TEST(the_same_by_keys_makes_the_same_file)
{
    open_sized(_i);
    editor_play("drag h1 s4");
    save();
    struct str by_mouse = program_file(scratch("hall.json"));
    editor_play("keys u w");
    ck_assert(!scratch_holds("hall.json", str_text(&by_mouse)));
    editor_play("keys Home Right space Down Down\nkeys Right Right space");
    save();
    ck_assert(scratch_holds("hall.json", str_text(&by_mouse)));
    str_clear(&by_mouse);
    pty_send(&editor, "q");
    editor_ends(0);
}
END_TEST

/* --- the command line about the file ---------------------------------------------------------- */

static cJSON *answer(char *verb)
{
    char json[] = "--json", file[600];
    snprintf(file, sizeof file, "%s", scratch("hall.json"));
    char *argv[] = {verb, json, file};
    struct program p = {0};
    program_run(&p, argv, 3);
    cJSON *tree = cJSON_Parse(str_text(&p.out));
    ck_assert_msg(tree != NULL, "%s", str_text(&p.err));
    program_clear(&p);
    return tree;
}

static const char *text_in(const cJSON *item, const char *key)
{
    return cJSON_GetStringValue(cJSON_GetObjectItem(item, key));
}

/* The table of the routes pane holds every deck with its pair. */
static void routes_are_shown(void)
{
    char verb[] = "route";
    cJSON *tree = answer(verb), *route;
    int n = 0;
    editor_play("keys 3");
    cJSON_ArrayForEach(route, cJSON_GetObjectItem(tree, "routes"))
    {
        ck_assert_msg(pty_shows(&editor, text_in(route, "shown")), "%s", text_in(route, "shown"));
        n++;
    }
    ck_assert_int_eq(n, 4);
    cJSON_Delete(tree);
}

/* The faults pane holds the beginning of each sentence, the top line their number. */
static void faults_are_shown(int errors)
{
    char verb[] = "check", top[32], begins[16];
    cJSON *tree = answer(verb), *fault;
    int n = 0;
    editor_play("keys 1");
    cJSON_ArrayForEach(fault, cJSON_GetObjectItem(tree, "faults"))
    {
        n += strcmp(text_in(fault, "severity"), "error") == 0;
        snprintf(begins, sizeof begins, "%s", text_in(fault, "text"));
        ck_assert_msg(pty_shows(&editor, begins), "%s", begins);
    }
    ck_assert_int_eq(n, errors);
    snprintf(top, sizeof top, "%d errors", errors);
    ck_assert(errors == 0 || pty_shows(&editor, top));
    cJSON_Delete(tree);
}

START_TEST(route_and_check_on_the_file_say_what_the_screen_shows)
{
    open_sized(_i);
    routes_are_shown();
    faults_are_shown(0);
    editor_play("drag h1 s4");
    save();
    routes_are_shown();
    faults_are_shown(2);
    editor_play("keys S w");
    routes_are_shown();
    faults_are_shown(0);
    pty_send(&editor, "q");
    editor_ends(0);
}
END_TEST

START_TEST(two_crossed_cables_are_seen_and_put_right_by_their_fixes)
{
    open_sized(_i);
    editor_play("drag s1.line s2.line");
    save();
    struct booth *b = editor_booth_in("hall.json");
    ck_assert(booth_cable(b, "p1.line", "s2.line") && booth_cable(b, "p2.line", "s1.line"));
    booth_free(b);
    faults_are_shown(2);
    editor_play("keys n f\nkeys n f");
    ck_assert(!pty_shows(&editor, "error"));
    save();
    faults_are_shown(0);
    pty_send(&editor, "q");
    editor_ends(0);
}
END_TEST

START_TEST(leaving_with_unsaved_work_asks_and_each_answer_does_what_it_says)
{
    struct str before = program_file(scratch("hall.json"));
    editor_open();
    editor_play("drag h1 s4\nkeys q");
    pty_until_shown(&editor, "there are unsaved changes");
    editor_play("keys Esc\nkeys q");
    if (_i == 0)
        play(&twin, "keys d");
    else
        play(&twin, "keys s");
    editor_ends(0);
    ck_assert(scratch_holds("hall.json", str_text(&before)) == (_i == 0));
    if (_i == 1)
        editor_file_is_twin("hall.json");
    ck_assert(!scratch_has(".hall.json.journal"));
    str_clear(&before);
}
END_TEST
#endif

Suite *test_editor(void)
{
    Suite *s = suite_create("tty/editor");
#ifdef HAVE_vterm
    TCase *t = tcase_create("the main job");
    tcase_set_timeout(t, 2 * PTY_PATIENCE);
    tcase_add_checked_fixture(t, editor_fixture, editor_fixture_end);
    suite_add_tcase(s, t);
    tcase_add_loop_test(t, a_drag_shows_its_result_before_the_release_and_its_file_after_the_save,
                        0, 2);
    tcase_add_loop_test(t, the_same_by_keys_makes_the_same_file, 0, 2);
    tcase_add_loop_test(t, route_and_check_on_the_file_say_what_the_screen_shows, 0, 2);
    tcase_add_loop_test(t, two_crossed_cables_are_seen_and_put_right_by_their_fixes, 0, 2);
    tcase_add_loop_test(t, leaving_with_unsaved_work_asks_and_each_answer_does_what_it_says, 0, 2);
#else
    puts("skipped: tty/editor needs libvterm");
#endif
    return s;
}
