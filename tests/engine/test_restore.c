#include <check.h>
#include <string.h>

#include "engine/restore.h"
#include "model/found.h"
#include "model/shape.h"
#include "model/sound.h"
#include "support/booth_from.h"

/* The orders of a booth that was found as one world and stands as another, parted by "; ". */
static const char *orders(const char *found, const char *now)
{
    static struct str said;
    struct booth *was = booth_from(found), *b = booth_from(now);
    struct restore r;
    str_clear(&said);
    b->found = found_of(was);
    r = restore_make(b);
    for (size_t i = 0; i < r.n; i++)
        str_addf(&said, "%s%s", i ? "; " : "", r.v[i].text);
    restore_clear(&r);
    booth_free(was);
    booth_free(b);
    return str_text(&said);
}

START_TEST(what_was_never_surveyed_and_what_is_as_found_needs_nothing)
{
    struct booth *b = booth_from("p1.line > s1.line");
    struct restore r = restore_make(b);
    ck_assert_uint_eq(r.n, 0);
    found_keep(b);
    r = restore_make(b);
    ck_assert_uint_eq(r.n, 0);
    booth_free(b);
}
END_TEST

START_TEST(things_go_back_in_the_order_of_hands)
{
    ck_assert_str_eq(orders("p1.line > s1.line; p2.line > s2.line; p1 own-media; p1 plugged host.1",
                            "p1.line > s2.line; p2.line > s1.line; s1 selects phono"),
                     "move the plug of P1's line output to strip 1's line input, "
                     "after the plug that stands there is out; "
                     "move the plug of P2's line output to strip 2's line input; "
                     "turn strip 1's selector to line; "
                     "switch P1 to its own media; "
                     "plug P1 into port 1 of the laptop");
}
END_TEST

START_TEST(a_cable_that_came_later_goes_and_one_that_was_taken_comes_back)
{
    ck_assert_str_eq(orders("p1.line > s1.line; p2.line > s2.line; p1.digital > s3.digital",
                            "p1.line > s1.line; p2.line > s2.line; p2.digital > s3.digital"),
                     "run a cable from P1's digital output to strip 3's digital input, "
                     "after the plug that stands there is out; "
                     "take away the cable from P2's digital output to strip 3's digital input");
}
END_TEST

START_TEST(what_is_in_use_or_gone_is_left_alone_and_said)
{
    ck_assert_str_eq(orders("p1.line > s1.line; p3 own-media",
                            "p1.line > s1.line; s1 selects phono; s1 in-use Robin"),
                     "leave strip 1 as it is: it is in use; ask first; "
                     "leave p3 as it is: it is gone from the booth; "
                     "leave p3 as it is: it is gone from the booth");
}
END_TEST

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

/* Law: making every action leaves the booth as it was found, but for what is in use or gone. */
START_TEST(putting_everything_back_leaves_the_booth_as_found)
{
    for (unsigned seed = 1; seed <= 600; seed++) {
        struct booth *b = booth_random(seed);
        unsigned long long state = seed;
        found_free(b->found);
        b->found = found_of(b);
        for (size_t i = 0; i < b->devices.n; i++) { /* stir what hands can turn */
            struct device *d = &b->devices.v[i];
            d->source = random_below(&state, 2) ? SOURCE_COMPUTER : SOURCE_OWN_MEDIA;
            for (size_t k = 0; k < d->strips.n; k++) {
                struct strip *s = &d->strips.v[k];
                strcpy(s->selected, s->inputs.v[random_below(&state, (unsigned)s->inputs.n)].id);
                text_set(&s->in_use, NULL);
            }
            text_set(&d->in_use, NULL);
        }
        for (size_t i = b->cables.n; i-- > 0;)
            if (random_below(&state, 2))
                records_splice(shape_field(&shape_booth, "cables"), &b->cables, i, 1, NULL, 0);
        struct restore r = restore_make(b);
        struct err e;
        for (size_t i = 0; i < r.n; i++)
            ck_assert_msg(r.v[i].change.what != CHANGE_NONE && change_make(b, &r.v[i].change, &e),
                          "seed %u: %s", seed, r.v[i].text);
        restore_clear(&r);
        r = restore_make(b);
        ck_assert_msg(r.n == 0, "seed %u: still to do: %s", seed, r.n ? r.v[0].text : "");
        restore_clear(&r);
        booth_free(b);
    }
}
END_TEST

Suite *test_restore(void)
{
    Suite *s = suite_create("engine/restore");
    TCase *t = tcase_create("restore");
    tcase_add_test(t, what_was_never_surveyed_and_what_is_as_found_needs_nothing);
    tcase_add_test(t, things_go_back_in_the_order_of_hands);
    tcase_add_test(t, a_cable_that_came_later_goes_and_one_that_was_taken_comes_back);
    tcase_add_test(t, what_is_in_use_or_gone_is_left_alone_and_said);
    tcase_add_test(t, the_first_change_to_wiring_keeps_what_was_found_and_a_setting_does_not);
    tcase_add_test(t, putting_everything_back_leaves_the_booth_as_found);
    suite_add_tcase(s, t);
    return s;
}
