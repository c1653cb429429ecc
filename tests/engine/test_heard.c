#include <check.h>
#include <string.h>

#include "base/str.h"
#include "engine/heard.h"
#include "engine/route.h"
#include "support/booth_from.h"

/* Everything heard, as "s1.left=h1.left ...". */
static const char *heard_in(const char *world)
{
    static struct str out;
    str_clear(&out);
    struct booth *b = booth_from(world);
    struct circuit *c = circuit_new(b);
    struct heard h = heard_make(c);
    for (size_t i = 0; i < h.n; i++)
        str_addf(&out, "%s%s.%s=%s.%s", i ? " " : "", circuit_strip(c, h.v[i].strip)->id,
                 h.v[i].side ? "right" : "left", b->decks.v[h.v[i].deck].id,
                 h.v[i].deck_side ? "right" : "left");
    heard_clear(&h);
    circuit_free(c);
    booth_free(b);
    return str_text(&out);
}

/* The route of the first deck as the host writes it. */
static const char *route_in(const char *world)
{
    static struct str out;
    str_clear(&out);
    struct booth *b = booth_from(world);
    struct circuit *c = circuit_new(b);
    struct route r = route_of(c, 0);
    route_show(c, r.there ? r.pair : (struct pair){-1, -1}, &out);
    circuit_free(c);
    booth_free(b);
    return str_text(&out);
}

START_TEST(a_deck_is_heard_where_its_player_is_wired)
{
    ck_assert_str_eq(heard_in("p1.line > s1.line; joined p1; h1 set 0 1"),
                     "s1.left=h1.left s1.right=h1.right");
}
END_TEST

START_TEST(a_swapped_cable_exchanges_the_sides)
{
    ck_assert_str_eq(heard_in("p1.line x s1.line; joined p1; h1 wants s1"),
                     "s1.left=h1.right s1.right=h1.left");
}
END_TEST

START_TEST(a_cable_with_one_side_passes_only_that_side)
{
    ck_assert_str_eq(heard_in("p1.line r> s1.line; joined p1; h1 wants s1"), "s1.right=h1.right");
}
END_TEST

START_TEST(nothing_is_heard_from_own_media_another_input_or_outside_the_interface)
{
    ck_assert_str_eq(heard_in("p1.line > s1.line; joined p1; p1 own-media; h1 wants s1"), "");
    ck_assert_str_eq(heard_in("p1.line > s1.line; joined p1; s1 selects phono; h1 set 0 1"), "");
    ck_assert_str_eq(heard_in("p1.line > s1.line; h1 set 0 1"), "");
    ck_assert_str_eq(heard_in("p1.digital > s1.line; joined p1; h1 set 0 1"), "");
}
END_TEST

START_TEST(channels_follow_the_order_of_joining_and_the_size_of_each_card) /* (practice) */
{
    ck_assert_str_eq(route_in("p1.line > s1.line; p2 card 3; joined p2 p1; h1 wants s1"), "3/4");
    ck_assert_str_eq(route_in("p1.line > s1.line; joined p1 p2; h1 wants s1; host names from-1"),
                     "1/2");
    ck_assert_str_eq(route_in("p2.line > s1.line; joined p1 p2; h1 wants s1"), "2/3");
}
END_TEST

START_TEST(names_by_device_follow_the_cards)
{
    ck_assert_str_eq(route_in("h1 wants s1; p2.line > s1.line; joined p1 p2; host names by-device"),
                     "P2 L/R");
    ck_assert_str_eq(route_in("m1 card 8; h1 wants s2; s2 selects usb; joined m1; "
                              "host names by-device"),
                     "M1 3/4");
    ck_assert_str_eq(route_in("h1 wants s1; host names by-device"), "-");
}
END_TEST

START_TEST(the_mixers_own_card_leads_straight_into_its_strips)
{
    ck_assert_str_eq(heard_in("m1 card 8; h1 wants s2; s2 selects usb; joined m1"),
                     "s2.left=h1.left s2.right=h1.right");
}
END_TEST

START_TEST(two_decks_on_a_pair_are_both_heard_by_strip_side_and_deck)
{
    ck_assert_str_eq(heard_in("p1.line > s1.line; joined p1; h1 set 0 1; h2 set 1 0"),
                     "s1.left=h1.left s1.left=h2.right s1.right=h1.right s1.right=h2.left");
}
END_TEST

Suite *test_heard(void)
{
    Suite *s = suite_create("engine/heard, route");
    TCase *t = tcase_create("heard");
    tcase_add_test(t, a_deck_is_heard_where_its_player_is_wired);
    tcase_add_test(t, a_swapped_cable_exchanges_the_sides);
    tcase_add_test(t, a_cable_with_one_side_passes_only_that_side);
    tcase_add_test(t, nothing_is_heard_from_own_media_another_input_or_outside_the_interface);
    tcase_add_test(t, channels_follow_the_order_of_joining_and_the_size_of_each_card);
    tcase_add_test(t, names_by_device_follow_the_cards);
    tcase_add_test(t, the_mixers_own_card_leads_straight_into_its_strips);
    tcase_add_test(t, two_decks_on_a_pair_are_both_heard_by_strip_side_and_deck);
    suite_add_tcase(s, t);
    return s;
}
