/* Data leads, current and traffic of a plan. */
#include <check.h>

#include "engine/plan.h"
#include "support/booth_from.h"
#include "support/one_way.h"

#define BY_HAND "host combining by-hand; "

START_TEST(a_lead_goes_into_the_first_port_that_is_free)
{
    struct booth *b = booth_from(BY_HAND "m1 card 8; hub hub1 4 host.1; hub hub2 4 host.3; "
                                         "p1 plugged host.2; h1 wants s1");
    struct plan *plans = NULL;
    const struct plan *p = one_way(&plans, b, WAY_MIXER_CARD);
    ck_assert_str_eq(p->actions[0].text, "plug M1 into port 1 of hub1");
    plans_free(plans);
    booth_free(b);
    b = booth_from(BY_HAND "m1 card 8; p1 plugged host.1; p2 plugged host.2; p3 plugged host.3; "
                           "m1 max_power_ma 900; m1 self_powered 0; h1 wants s1");
    plans = NULL;
    p = one_way(&plans, b, WAY_MIXER_CARD);
    ck_assert_str_eq(p->actions[0].text, "plug M1 into port 4 of the laptop");
    ck_assert_str_eq(p->bag.v[0], "1 usb data lead");
    ck_assert_uint_eq(p->bag.n, 2);
    ck_assert_str_eq(p->bag.v[1], "1 hub with a supply of its own: no port is free");
    plans_free(plans);
    booth_free(b);
}
END_TEST

START_TEST(a_lead_goes_into_a_port_that_feeds_its_device)
{
    struct booth *b = booth_from(BY_HAND "m1 card 8; m1 max_power_ma 400; m1 self_powered 0; "
                                         "hub hub1 4 host.1; hub hub2 4 host.2; h1 wants s1");
    struct plan *plans = NULL;
    b->hubs.v[0].self_powered = false;
    b->hubs.v[1].self_powered = true;
    const struct plan *p = one_way(&plans, b, WAY_MIXER_CARD);
    ck_assert_str_eq(p->actions[0].text, "plug M1 into port 1 of hub2");
    ck_assert_uint_eq(p->bag.n, 1); /* the lead */
    b->hubs.v[1].self_powered = false;
    p = one_way(&plans, b, WAY_MIXER_CARD);
    ck_assert_str_eq(p->actions[0].text, "plug M1 into port 1 of hub1");
    ck_assert_str_eq(p->bag.v[1],
                     "1 hub with a supply of its own: a port gives too little current");
    plans_free(plans);
    booth_free(b);
}
END_TEST

START_TEST(a_card_that_gets_too_little_is_advised_to_a_port_that_feeds_it)
{
    struct booth *b = booth_from(BY_HAND
                                 "p1.line > s1.line; p1 max_power_ma 400; p1 self_powered 0; "
                                 "hub hub1 4 host.1; p1 plugged hub1.1; h1 wants s1");
    struct plan *plans = NULL;
    const struct plan *p = one_way(&plans, b, WAY_PLAYER_CARDS);
    ck_assert_uint_eq(p->bag.n, 0);
    ck_assert_str_eq(p->advice.v[0],
                     "plug P1 into port 2 of the laptop: where it is it gets too little current");
    b->host.usb_ports = 1;
    p = one_way(&plans, b, WAY_PLAYER_CARDS);
    ck_assert_uint_eq(p->advice.n, 0);
    ck_assert_str_eq(p->bag.v[0],
                     "1 hub with a supply of its own: a port gives too little current");
    plans_free(plans);
    booth_free(b);
}
END_TEST

START_TEST(what_controls_a_deck_is_advised_to_be_there)
{
    struct booth *b = booth_from(BY_HAND "m1 card 8; m1 plugged host.1; c1 place 1; p1 own-media; "
                                         "p1 plugged host.2; t1 place 1; h1 wants s1; h2 wants s2; "
                                         "h3 wants s3; h4 wants s4; h1 by c1; h2 by c1; h3 by p1; "
                                         "h4 by t1");
    struct plan *plans = NULL;
    const struct plan *p = one_way(&plans, b, WAY_MIXER_CARD);
    ck_assert_uint_eq(p->advice.n, 2);
    ck_assert_str_eq(p->advice.v[0], "plug in C1 as well: it controls H1, H2");
    ck_assert_str_eq(p->advice.v[1], "switch P1 to the computer as well: it controls H3");
    plans_free(plans);
    booth_free(b);
}
END_TEST

/* The first n actions of a way, a line each. */
static const char *first_of(const char *world, enum way way, size_t n)
{
    static struct str said;
    struct booth *b = booth_from(world);
    struct plan *plans = NULL;
    const struct plan *p = one_way(&plans, b, way);
    str_clear(&said);
    ck_assert_uint_ge(p->n, n);
    for (size_t i = 0; i < n; i++)
        str_addf(&said, "%s%s", i ? "; " : "", p->actions[i].text);
    for (size_t i = 0; i < p->bag.n; i++)
        str_addf(&said, "; bring %s", p->bag.v[i]);
    plans_free(plans);
    booth_free(b);
    return str_text(&said);
}

START_TEST(a_lead_that_is_not_needed_any_more_makes_room)
{
    ck_assert_str_eq(first_of(BY_HAND "host usb_ports 1; m1 card 8; m1 plugged host.1; joined m1; "
                                      "p1.line > s1.line; h1 wants s1",
                              WAY_PLAYER_CARDS, 4),
                     "take M1 out of the interface; pull the data lead of M1; plug P1 into port 1 "
                     "of the laptop; join P1; bring 1 usb data lead");
}
END_TEST

START_TEST(hubs_that_lie_there_are_plugged_in_before_one_is_brought)
{
    ck_assert_str_eq(first_of(BY_HAND "host usb_ports 1; hub hub1 4 none; p1.line > s1.line; "
                                      "p2.line > s2.line; h1 wants s1; h2 wants s2",
                              WAY_PLAYER_CARDS, 5),
                     "plug hub1 into port 1 of the laptop; plug P1 into port 1 of hub1; join P1; "
                     "plug P2 into port 2 of hub1; join P2, after the others; "
                     "bring 2 usb data lead");
    ck_assert_str_eq(first_of(BY_HAND "hub hub1 4 none; p1 plugged hub1.2; p1.line > s1.line; "
                                      "h1 wants s1",
                              WAY_PLAYER_CARDS, 2),
                     "plug hub1 into port 1 of the laptop; join P1");
}
END_TEST

START_TEST(a_lower_rate_is_advised_where_the_bus_has_too_little_time_and_is_nothing_to_bring)
{
    struct booth *b = booth_from(BY_HAND
                                 "m1 card 2; m1 in_channels 2; m1 speed full; m1 plugged host.1; "
                                 "m1 rates 44100 48000 96000; host rate_hz 96000; h1 wants s1");
    struct plan *plans = NULL;
    const struct plan *p = one_way(&plans, b, WAY_MIXER_CARD);
    ck_assert_uint_eq(p->bag.n, 0);
    ck_assert_uint_eq(p->advice.n, 1);
    ck_assert_str_eq(p->advice.v[0], /* standards.md 1.4, the edge case */
                     "set the laptop to 48 kHz: a bus has too little time");
    b->devices.v[0].card->rates_hz.v[0] = 96000;
    b->devices.v[0].card->rates_hz.n = 1;
    p = one_way(&plans, b, WAY_MIXER_CARD);
    ck_assert_uint_eq(p->bag.n, 0);
    ck_assert_str_eq(
        p->advice.v[0],
        "use fewer channels, or plug some cards in elsewhere: a bus has too little time");
    plans_free(plans);
    booth_free(b);
}
END_TEST

Suite *test_plan_leads(void)
{
    Suite *s = suite_create("engine/plan_leads");
    TCase *t = tcase_create("leads");
    tcase_add_test(t, a_lead_goes_into_the_first_port_that_is_free);
    tcase_add_test(t, a_lead_goes_into_a_port_that_feeds_its_device);
    tcase_add_test(t, a_card_that_gets_too_little_is_advised_to_a_port_that_feeds_it);
    tcase_add_test(t, what_controls_a_deck_is_advised_to_be_there);
    tcase_add_test(t, a_lead_that_is_not_needed_any_more_makes_room);
    tcase_add_test(t, hubs_that_lie_there_are_plugged_in_before_one_is_brought);
    tcase_add_test(
        t, a_lower_rate_is_advised_where_the_bus_has_too_little_time_and_is_nothing_to_bring);
    suite_add_tcase(s, t);
    return s;
}
