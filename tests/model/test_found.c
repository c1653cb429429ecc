#include <check.h>

#include "model/change.h"
#include "model/found.h"
#include "model/shape.h"
#include "support/booth_from.h"

START_TEST(the_first_change_to_wiring_keeps_what_was_found_and_a_setting_does_not)
{
    struct booth *b = booth_from("p1.line > s1.line; h1 wants s1");
    struct booth *set = booth_copy(b), *turned = booth_copy(b);
    struct err e;
    struct change setting = change_of(CHANGE_SET, "h1", NULL);
    setting.pair = (struct pair){0, 1};
    struct change selector = change_of(CHANGE_SELECT, "s1", "phono");
    ck_assert(change_make(set, &setting, &e) && change_make(turned, &selector, &e));
    ck_assert(!found_keep_before(b, set));
    ck_assert(found_keep_before(b, turned));
    ck_assert_str_eq(map_find(&turned->found->selected, "s1")->value, "line");
    booth_free(b);
    booth_free(set);
    booth_free(turned);
}
END_TEST

START_TEST(a_survey_that_does_not_name_what_changes_is_completed)
{
    struct booth *b = booth_from("p1.line > s1.line; p1 plugged host.1; m1 card 8");
    struct err e;
    struct change lead = change_of(CHANGE_PLUG, "m1", "host");
    lead.number = 2;
    found_keep(b);
    map_remove(&b->found->plugged, "m1");
    map_remove(&b->found->plugged, "p1");
    struct booth *next = booth_copy(b);
    ck_assert(change_make(next, &lead, &e));
    ck_assert(found_keep_before(b, next));
    ck_assert(map_find(&next->found->plugged, "m1") && !map_find(&next->found->plugged, "p1"));
    ck_assert_ptr_null(map_find(&next->found->plugged, "m1")->value);
    ck_assert(!found_keep_before(b, next)); /* once is enough */
    booth_free(next);
    booth_free(b);
}
END_TEST

Suite *test_found(void)
{
    Suite *s = suite_create("model/found");
    TCase *t = tcase_create("found");
    tcase_add_test(t, the_first_change_to_wiring_keeps_what_was_found_and_a_setting_does_not);
    tcase_add_test(t, a_survey_that_does_not_name_what_changes_is_completed);
    suite_add_tcase(s, t);
    return s;
}
