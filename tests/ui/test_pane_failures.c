#include <check.h>
#include <stdio.h>
#include <string.h>

#include "support/booth_from.h"
#include "support/play_file.h"
#include "ui/pane.h"

#define TWO                                                                                        \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; joined p1 p2; "                 \
    "p1 plugged host.1; p2 plugged host.2; h1 wants s1; h2 wants s2; h1 set 0 1; h2 set 2 3"

static void open_world(struct play *p, const char *world)
{
    play_begin(p);
    app_open(p->app, booth_from(world), "world.json");
}

static const struct booth *now(const struct play *p)
{
    return app_booth(p->app);
}

static bool shows(const struct play *p, const char *text)
{
    return strstr(play_screen(p), text) != NULL;
}

START_TEST(the_first_click_only_looks_and_the_second_takes_the_way_back)
{
    struct play p;
    open_world(&p, TWO);
    struct booth *before = booth_copy(now(&p));
    play(&p, "click p1\nkeys 7\npress 60,3");
    ck_assert(p.app->pane_keys);
    ck_assert(p.app->previewing);
    ck_assert(booth_equal(now(&p), before));
    play(&p, "press 60,3");
    ck_assert(!booth_equal(now(&p), before));
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(the_first_click_puts_nothing_back)
{
    struct play p;
    open_world(&p, TWO "; s1 selects line");
    play(&p, "click selector:s1.phono\nclick p1\nkeys 6");
    struct booth *before = booth_copy(now(&p));
    char line[32];
    int row = 0;
    struct lines l = pane_lines(p.app);
    while (lines_item_at(&l, 0, row) != 0)
        row++;
    lines_clear(&l);
    snprintf(line, sizeof line, "press 60,%d", app_pane_rect(p.app).y + row);
    play(&p, line);
    ck_assert(booth_equal(now(&p), before));
    play(&p, line);
    ck_assert_str_eq(booth_strip(now(&p), "s1", NULL)->selected, "line");
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(the_title_of_a_preview_says_that_it_is_one)
{
    struct play p;
    open_world(&p, TWO);
    play(&p, "click p1\nkeys 7");
    ck_assert(!shows(&p, "preview:"));
    ck_assert(shows(&p, "  saved\n"));
    play(&p, "keys Tab");
    ck_assert(shows(&p, "preview: "));
    ck_assert(!shows(&p, "saved\n"));
    play(&p, "keys Tab");
    ck_assert(shows(&p, "  saved\n"));
    play_end(&p);
}
END_TEST

START_TEST(a_strip_is_called_a_strip)
{
    struct play p;
    open_world(&p, TWO);
    play(&p, "click s1\nkeys 7");
    ck_assert(shows(&p, "at strip 1, if it dies:"));
    play_end(&p);
}
END_TEST

START_TEST(where_hands_do_nothing_there_is_nothing_to_take)
{
    struct play p;
    open_world(&p, TWO "; t1.phono > s3.phono; s3 selects phono");
    play(&p, "click s3\nkeys 7 Tab End");
    ck_assert(shows(&p, "back at once: play"));
    ck_assert(!shows(&p, "Enter takes it"));
    struct booth *before = booth_copy(now(&p));
    play(&p, "keys Enter");
    ck_assert_int_eq(p.effect, EFFECT_BELL);
    ck_assert(shows(&p, "there is nothing to do: play from T1 itself on strip 3"));
    ck_assert(booth_equal(now(&p), before));
    booth_free(before);
    play_end(&p);
}
END_TEST

START_TEST(what_to_bring_stands_before_what_to_do)
{
    struct play p;
    open_world(&p, TWO);
    play(&p, "click p1\nkeys 7 Tab Down Down");
    const char *screen = play_screen(&p);
    const char *bring = strstr(screen, "bring 1"), *run = strstr(screen, "- run a cable");
    ck_assert_ptr_nonnull(bring);
    ck_assert_ptr_nonnull(run);
    ck_assert(bring < run);
    play_end(&p);
}
END_TEST

Suite *test_pane_failures(void)
{
    Suite *s = suite_create("ui/pane_failures");
    TCase *t = tcase_create("pane_failures");
    tcase_add_test(t, the_first_click_only_looks_and_the_second_takes_the_way_back);
    tcase_add_test(t, the_first_click_puts_nothing_back);
    tcase_add_test(t, the_title_of_a_preview_says_that_it_is_one);
    tcase_add_test(t, a_strip_is_called_a_strip);
    tcase_add_test(t, where_hands_do_nothing_there_is_nothing_to_take);
    tcase_add_test(t, what_to_bring_stands_before_what_to_do);
    suite_add_tcase(s, t);
    return s;
}
