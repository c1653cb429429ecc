#include <check.h>
#include <string.h>

#include "engine/compare.h"
#include "model/shape.h"
#include "model/sound.h"
#include "support/booth_from.h"

/* What differs between two worlds, parted by "; ", then the decks whose routes change. */
static const char *differences(const char *before, const char *now)
{
    static struct str said;
    struct booth *a = booth_from(before), *b = booth_from(now);
    struct comparison c = compare_make(a, b);
    str_clear(&said);
    for (size_t i = 0; i < c.n; i++)
        str_addf(&said, "%s%s", i ? "; " : "", c.v[i].text);
    for (size_t i = 0; i < c.n_routes; i++)
        str_addf(&said, " | %s %d to %d", b->decks.v[c.routes[i].deck].id, c.routes[i].before.left,
                 c.routes[i].now.left);
    comparison_clear(&c);
    booth_free(a);
    booth_free(b);
    return str_text(&said);
}

START_TEST(crossed_cables_are_told_with_the_routes_that_they_change)
{
    ck_assert_str_eq(
        differences("p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 wants s2",
                    "p1.line > s2.line; p2.line > s1.line; joined p1 p2; h1 wants s1; h2 wants s2"),
        "the cable from P1's line output to strip 1's line input is gone; "
        "the cable from P2's line output to strip 2's line input is gone; "
        "the cable from P1's line output to strip 2's line input is new; "
        "the cable from P2's line output to strip 1's line input is new | h1 0 to 2 | h2 2 to 0");
}
END_TEST

START_TEST(a_player_that_is_gone_is_told_once_with_what_hung_on_it)
{
    ck_assert_str_eq(differences("p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s2",
                                 "p2.line > s2.line; s1 selects line; joined p2; h1 wants s2"),
                     "P1 is gone; the cable from P1's line output to strip 1's line input is gone; "
                     "in the interface: P2; was: P1, P2 | h1 2 to 0");
}
END_TEST

START_TEST(another_selector_source_firmware_and_use_are_told)
{
    ck_assert_str_eq(differences("p1.line > s1.line; p1 firmware 1.9",
                                 "p1.line > s1.line; p1 firmware 2.0; p1 own-media; "
                                 "s1 selects phono; s1 in-use Robin"),
                     "P1: firmware 2.0, was 1.9; P1: source own media, was computer; "
                     "strip 1: is switched to phono, was line; "
                     "strip 1: in use by Robin, was nobody");
}
END_TEST

START_TEST(a_device_of_another_id_in_the_same_place_of_the_same_model_is_the_same)
{
    ck_assert_str_eq(differences("p1 model dunlin-2; p1.line > s1.line; joined p1; h1 wants s1",
                                 "p7 model dunlin-2; p7 place 1; p7.line > s1.line; joined p7; "
                                 "h1 wants s1"),
                     "P7: is labelled P7, was P1");
}
END_TEST

START_TEST(a_strip_is_matched_by_its_id_before_its_place)
{
    ck_assert_str_eq(differences("s1 selects line; s2 selects line; s2 place 3",
                                 "s2 selects line; s2 place 1; s9 selects line; s9 place 3"),
                     "strip 1 is gone; strip 2: stands in place 1, was 3; strip 9 is new");
    ck_assert_str_eq(differences("s1 selects line", "s9 selects line; s9 place 1"),
                     "strip 9: is labelled 9, was 1");
}
END_TEST

START_TEST(a_booth_compared_with_itself_is_the_same)
{
    for (unsigned seed = 1; seed <= 400; seed++) {
        struct booth *b = booth_random(seed);
        struct comparison c = compare_make(b, b);
        ck_assert_msg(c.n == 0 && c.n_routes == 0, "seed %u: %s", seed,
                      c.n ? c.v[0].text : "route");
        comparison_clear(&c);
        booth_free(b);
    }
}
END_TEST

/* Law: what was compared and made good is not different any more, and has now's wiring. */
START_TEST(the_differences_applied_to_the_old_booth_give_the_new_wiring)
{
    for (unsigned seed = 1; seed <= 400; seed++) {
        struct booth *a = booth_random(seed), *b = booth_random(seed + 1);
        struct booth *good = compare_applied(a, b);
        struct comparison c = compare_make(good, b);
        struct err e;
        ck_assert_msg(booth_sound(good, &e), "seed %u: %s %s", seed, e.place, e.says);
        ck_assert_msg(c.n == 0, "seed %u: %s", seed, c.n ? c.v[0].text : "");
        ck_assert(field_equal(shape_field(&shape_booth, "cables"), &good->cables, &b->cables));
        comparison_clear(&c);
        booth_free(good);
        booth_free(a);
        booth_free(b);
    }
}
END_TEST

Suite *test_compare(void)
{
    Suite *s = suite_create("engine/compare");
    TCase *t = tcase_create("compare");
    tcase_add_test(t, crossed_cables_are_told_with_the_routes_that_they_change);
    tcase_add_test(t, a_player_that_is_gone_is_told_once_with_what_hung_on_it);
    tcase_add_test(t, another_selector_source_firmware_and_use_are_told);
    tcase_add_test(t, a_device_of_another_id_in_the_same_place_of_the_same_model_is_the_same);
    tcase_add_test(t, a_strip_is_matched_by_its_id_before_its_place);
    tcase_add_test(t, a_booth_compared_with_itself_is_the_same);
    tcase_add_test(t, the_differences_applied_to_the_old_booth_give_the_new_wiring);
    suite_add_tcase(s, t);
    return s;
}
