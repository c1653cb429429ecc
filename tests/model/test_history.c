#include <check.h>
#include <string.h>

#include "model/history.h"
#include "model/shape.h"
#include "model/sound.h"
#include "support/booth_from.h"

START_TEST(undoing_everything_gives_the_first_booth_and_redoing_the_last)
{
    struct booth *first = booth_from("p1.line > s1.line; joined p1; h1 wants s1");
    struct history *h = history_new(booth_copy(first));
    const char *worlds[] = {"p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1",
                            "p2.line x s1.line; joined p2; h1 wants s2; h2 set 0 1", ""};
    for (size_t i = 0; i < 3; i++)
        ck_assert(history_commit(h, booth_from(worlds[i]), "a new world"));
    struct booth *last = booth_copy(history_booth(h));
    while (history_undo(h))
        ;
    ck_assert(booth_equal(history_booth(h), first));
    while (history_redo(h))
        ;
    ck_assert(booth_equal(history_booth(h), last));
    booth_free(first);
    booth_free(last);
    history_free(h);
}
END_TEST

START_TEST(a_commit_after_an_undo_drops_what_could_be_redone)
{
    struct history *h = history_new(booth_from("joined p1"));
    ck_assert(history_commit(h, booth_from("joined p1 p2"), "join P2"));
    ck_assert_str_eq(history_undo(h), "join P2");
    ck_assert(history_commit(h, booth_from("joined p2"), "other"));
    ck_assert_ptr_null(history_redo(h));
    ck_assert(!history_commit(h, booth_copy(history_booth(h)), "nothing"));
    history_free(h);
}
END_TEST

START_TEST(saved_is_known_also_through_undo_and_is_lost_on_another_branch)
{
    struct history *h = history_new(booth_from("joined p1"));
    ck_assert(history_is_saved(h));
    history_commit(h, booth_from("joined p1 p2"), "join P2");
    ck_assert(!history_is_saved(h));
    history_saved(h);
    ck_assert(history_is_saved(h));
    history_undo(h);
    ck_assert(!history_is_saved(h));
    history_commit(h, booth_from("joined p2"), "other");
    history_undo(h);
    ck_assert(!history_is_saved(h));
    history_free(h);
}
END_TEST

Suite *test_history(void)
{
    Suite *s = suite_create("model/history");
    TCase *t = tcase_create("history");
    tcase_add_test(t, undoing_everything_gives_the_first_booth_and_redoing_the_last);
    tcase_add_test(t, a_commit_after_an_undo_drops_what_could_be_redone);
    tcase_add_test(t, saved_is_known_also_through_undo_and_is_lost_on_another_branch);
    suite_add_tcase(s, t);
    return s;
}
