#include <check.h>
#include <string.h>

#include "support/play_file.h"
#include "ui/pane.h"

START_TEST(what_was_scrolled_away_is_looked_at_before_it_is_done)
{
    struct play p;
    play_begin(&p);
    play(&p, "venue venues/kelp-store.json\nkeys 2 End");
    int last = p.app->item[PANE_CHECKLIST];
    ck_assert(play_shows(&p, "> [ ]"));
    play(&p, "keys PageUp PageUp");
    ck_assert(!play_shows(&p, "> [ ]"));
    ck_assert_int_eq(p.app->item[PANE_CHECKLIST], last);
    play(&p, "keys space");
    ck_assert(play_shows(&p, "> [ ]"));
    ck_assert(history_is_saved(p.app->history));
    play_end(&p);
}
END_TEST

START_TEST(keys_scroll_a_text_by_lines_and_pages_and_to_its_ends)
{
    struct play p;
    play_begin(&p);
    play(&p, "venue venues/kelp-store.json\nkeys ?");
    play(&p, "keys PageDown"); /* the boxes have the keys */
    ck_assert_int_eq(p.app->pane_scroll[PANE_KEYS], app_pane_rect(p.app).h - 1);
    play(&p, "keys Tab End");
    ck_assert(play_shows(&p, "the wheel scrolls"));
    ck_assert(!play_shows(&p, "PgDn    scroll the pane"));
    play(&p, "keys Home");
    ck_assert(play_shows(&p, "PgDn    scroll the pane"));
    ck_assert_int_eq(p.app->pane_scroll[PANE_KEYS], 0);
    play(&p, "keys Down");
    ck_assert_int_eq(p.app->pane_scroll[PANE_KEYS], 3);
    play_end(&p);
}
END_TEST

Suite *test_pane(void)
{
    Suite *s = suite_create("ui/pane");
    TCase *t = tcase_create("pane");
    tcase_add_test(t, what_was_scrolled_away_is_looked_at_before_it_is_done);
    tcase_add_test(t, keys_scroll_a_text_by_lines_and_pages_and_to_its_ends);
    suite_add_tcase(s, t);
    return s;
}
