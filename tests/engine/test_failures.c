#include <check.h>
#include <stdio.h>
#include <string.h>

#include "engine/failures.h"
#include "engine/restore.h"
#include "model/found.h"
#include "model/shape.h"
#include "support/booth_from.h"

#define TWO                                                                                        \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; joined p1 p2; "                 \
    "p1 plugged host.1; p2 plugged host.2; h1 wants s1; h2 wants s2; h1 set 0 1; h2 set 2 3; "

/* "silent: h1 h2; moved: -; 2500 way" for one thing that fails. */
static const char *when(const char *world, const char *subject)
{
    static struct str said;
    struct booth *b = booth_from(world);
    struct failure f;
    str_clear(&said);
    ck_assert_msg(failure_make(b, subject, &f), "nothing is called %s", subject);
    for (size_t i = 0; i < f.silent.n; i++)
        str_addf(&said, "%s ", f.silent.v[i]);
    str_addf(&said, "silent,");
    for (size_t i = 0; i < f.moved.n; i++)
        str_addf(&said, " %s", f.moved.v[i]);
    str_add(&said, " moved; ");
    if (f.back.plan.feasible)
        str_addf(&said, "%s, %d", f.back.text, f.back.plan.minutes);
    else
        str_addf(&said, "%s%s", f.loses ? "no: " : "-", f.loses ? f.back.plan.why_not : "");
    if (f.meanwhile.plan.feasible)
        str_addf(&said, "; meanwhile %d without", f.meanwhile.plan.minutes);
    for (size_t i = 0; i < f.meanwhile.without.n; i++)
        str_addf(&said, " %s", f.meanwhile.without.v[i]);
    failure_clear(&f);
    booth_free(b);
    return str_text(&said);
}

START_TEST(losing_a_joined_player_stops_everything_until_the_interface_is_chosen_again)
{
    ck_assert_str_eq(when(TWO "p3 card 2; p3 plugged host.3; p3 place 3", "p1"),
                     "h1 h2 silent, moved; the players' cards combined, 5750");
    ck_assert_str_eq(when(TWO, "p1"),
                     "h1 h2 silent, moved; no: 1 player with a sound card and outputs for 2 wanted "
                     "strips; meanwhile 1000 without h1");
}
END_TEST

/* The first n actions of a way back, and what to bring. */
static const char *back_by(const char *world, const char *subject, size_t n)
{
    static struct str said;
    struct booth *b = booth_from(world);
    struct failure f;
    ck_assert(failure_make(b, subject, &f));
    const struct plan *p = &f.back.plan;
    str_clear(&said);
    for (size_t i = 0; i < n && i < p->n; i++)
        str_addf(&said, "%s%s", i ? "; " : "", p->actions[i].text);
    for (size_t i = 0; i < p->bag.n; i++)
        str_addf(&said, "; bring %s", p->bag.v[i]);
    failure_clear(&f);
    booth_free(b);
    return str_text(&said);
}

START_TEST(without_a_hub_its_leads_go_elsewhere_and_another_hub_is_of_use)
{
    ck_assert_str_eq(back_by("host combining by-hand; host usb_ports 2; hub hub1 4 host.1; "
                             "hub hub2 4 hub1.3; p1.line > s1.line; p2.line > s2.line; "
                             "p3.line > s3.line; joined p1 p2 p3; p1 plugged hub1.1; "
                             "p2 plugged hub1.2; p3 plugged hub2.1; h1 wants s1; h2 wants s2; "
                             "h3 wants s3",
                             "hub1", 7),
                     "pull the data lead of hub1; plug hub2 into port 1 of the laptop; "
                     "plug P1 into port 2 of the laptop; join P1; plug P2 into port 2 of hub2; "
                     "join P2, after the others; join P3, after the others");
}
END_TEST

/* What puts a booth back as it was, once the way back of a failure was taken. */
static const char *restored_after(const char *world, const char *subject)
{
    static struct str said;
    struct booth *b = booth_from(world);
    struct failure f;
    ck_assert(failure_make(b, subject, &f) && failure_after(&f));
    struct booth *after = booth_copy(failure_after(&f));
    found_keep_before(b, after);
    struct restore r = restore_make(after);
    str_clear(&said);
    for (size_t i = 0; i < r.n; i++)
        str_addf(&said, "%s%s", i ? "; " : "", r.v[i].text);
    restore_clear(&r);
    booth_free(after);
    failure_clear(&f);
    booth_free(b);
    return str_text(&said);
}

START_TEST(what_died_stays_in_the_file_and_goes_back_at_the_end)
{
    ck_assert_str_eq(restored_after("host combining by-hand; hub hub1 4 host.1; p1.line > s1.line; "
                                    "joined p1; p1 plugged hub1.2; h1 wants s1",
                                    "hub1"),
                     "plug P1 into port 2 of hub1; plug hub1 into port 1 of the laptop");
}
END_TEST

START_TEST(another_data_lead_goes_into_the_port_of_the_one_that_died)
{
    ck_assert_str_eq(back_by(TWO "hub hub1 4 host.3; p1 plugged hub1.2", "lead-p1", 3),
                     "plug P1 into port 2 of hub1; join P1, after the others; "
                     "choose the interface again in the host; bring 1 usb data lead");
    ck_assert_str_eq(
        back_by(TWO "host usb_ports 1; p2 plugged none; host on_drop plays-on", "lead-p1", 2),
        "plug P2 into port 1 of the laptop; plug P1 into port 2 of the laptop; "
        "bring 2 usb data lead; bring 1 hub with a supply of its own: no port is free");
}
END_TEST

START_TEST(the_lead_of_what_died_makes_room)
{
    ck_assert_str_eq(back_by("host combining by-hand; host usb_ports 1; m1 card 8; "
                             "m1 plugged host.1; joined m1; s1 selects usb; p1.line > s1.line; "
                             "h1 wants s1",
                             "m1", 2),
                     "pull the data lead of M1; plug P1 into port 1 of the laptop; "
                     "bring 1 usb data lead");
    ck_assert_str_eq(back_by(TWO "host gap keeps; p3 place 3; p3 plugged host.3", "p1", 3),
                     "run a cable from P3's digital output to strip 1's digital input; pull the "
                     "data lead of P1; join P3, after the others; bring 1 coax cable");
}
END_TEST

START_TEST(a_gap_that_is_kept_closes_only_by_hand)
{
    ck_assert_str_eq(back_by("host combining by-hand; host gap keeps; host on_drop plays-on; "
                             "p1.line > s1.line; p2.line > s1.phono; s1.phono switch line phono; "
                             "joined p1 p2; p1 plugged host.1; p2 plugged host.2; h1 wants s1; "
                             "h1 set 0 1",
                             "p1", 3),
                     "take P1 out of the interface; turn the switch of strip 1's phono input to "
                     "line; turn strip 1's selector to phono");
}
END_TEST

START_TEST(the_interface_is_chosen_when_there_is_something_to_choose)
{
    ck_assert_str_eq(
        back_by("host combining by-hand; host gap keeps; p1.line > s1.line; joined p1; "
                "p1 plugged host.1; h1 wants s1; h1 set 0 1",
                "lead-p1", 2),
        "plug P1 into port 1 of the laptop; choose the interface again in the host; "
        "bring 1 usb data lead");
}
END_TEST

#define OUTLET                                                                                     \
    "host combining by-hand; x1 plugged built-in; x1.o1 > s2.line; p1.line > s1.line; "            \
    "p1 plugged host.1; h1 wants s1; h1 set 8 9; "

START_TEST(a_built_in_output_that_is_joined_already_stays_so)
{
    ck_assert_str_eq(back_by(OUTLET "joined x1 p1", "p1.line>s1.line", 9), "set H1 to pair 0/1");
    ck_assert_str_eq(back_by(OUTLET "joined p1 x1; h1 set 0 1; host gap keeps", "p1", 9),
                     "take P1 out of the interface; choose the interface again in the host");
}
END_TEST

START_TEST(a_deck_that_wants_nothing_is_not_heard_through_the_built_in_output)
{
    ck_assert_str_eq(
        back_by(OUTLET "joined p1; h1 set 0 1; h2 set 0 1; host on_drop plays-on", "p1", 9),
        "join X1; take back the setting of H2");
}
END_TEST

START_TEST(going_on_without_some_is_told_though_it_takes_no_minutes)
{
    struct booth *b = booth_from(TWO "host on_drop plays-on");
    struct failure f;
    struct minutes own = {.set = 0,
                          .selector = -1,
                          .switch_ = -1,
                          .source = -1,
                          .move = -1,
                          .add = -1,
                          .unplug = -1,
                          .join = -1,
                          .leave = -1,
                          .plug = -1};
    b->host.minutes = &own;
    ck_assert(failure_make(b, "p1", &f));
    ck_assert(!f.back.plan.feasible && f.meanwhile.plan.feasible);
    ck_assert_int_eq(f.meanwhile.plan.minutes, 0);
    failure_clear(&f);
    ck_assert(failure_make(b, "p2", &f)); /* H1 goes on as it is */
    ck_assert(!f.back.plan.feasible && !f.meanwhile.plan.feasible);
    failure_clear(&f);
    b->host.minutes = NULL;
    booth_free(b);
}
END_TEST

/* The actions of going on without some. */
static const char *meanwhile(const char *world, const char *subject)
{
    static struct str said;
    struct booth *b = booth_from(world);
    struct failure f;
    ck_assert(failure_make(b, subject, &f));
    str_clear(&said);
    for (size_t i = 0; i < f.meanwhile.plan.n; i++)
        str_addf(&said, "%s%s", i ? "; " : "", f.meanwhile.plan.actions[i].text);
    failure_clear(&f);
    booth_free(b);
    return str_text(&said);
}

START_TEST(a_deck_that_is_given_up_does_not_go_on_over_another)
{
    ck_assert_str_eq(meanwhile("host combining by-hand; p1.line > s1.line; p2.line > s2.line; "
                               "joined p1 p2; p1 plugged host.1; p2 plugged host.2; "
                               "h1 wants s1; h2 wants s2; h2 by p2",
                               "p1"),
                     "choose the interface again in the host; set H2 to pair 0/1; "
                     "take back the setting of H1");
}
END_TEST

START_TEST(what_controls_a_deck_is_missed_with_its_lead_and_its_hub)
{
    static const char *const subjects[] = {"p1", "lead-p1", "lead-c1", "hub1", "p2"};
    static const char *const lost[] = {"h1 ", "h1 ", "h2 ", "h1 h2 ", ""};
    struct booth *b = booth_from(TWO "hub hub1 4 host.3; p1 plugged hub1.1; c1 plugged hub1.2; "
                                     "h1 by p1; h2 by c1");
    for (int i = 0; i < 5; i++) {
        struct failure f;
        struct str said = {0};
        ck_assert(failure_make(b, subjects[i], &f));
        for (size_t k = 0; k < f.uncontrolled.n; k++)
            str_addf(&said, "%s ", f.uncontrolled.v[k]);
        ck_assert_str_eq(str_text(&said), lost[i]);
        str_clear(&said);
        failure_clear(&f);
    }
    booth_free(b);
}
END_TEST

START_TEST(without_the_laptop_a_whole_cable_goes_first)
{
    ck_assert_str_eq(when("p1.line l> s1.line; p2.line > s2.line; joined p1; h1 wants s1; "
                          "p1 plugged host.1",
                          "host"),
                     "h1 silent, moved; play from P2 itself on strip 2, 250");
}
END_TEST

START_TEST(what_was_silent_anyway_is_given_up_as_well)
{
    ck_assert_str_eq(when(TWO "h3 wants s3", "p1"),
                     "h1 h2 silent, moved; no: 1 player with a sound card and outputs for 3 wanted "
                     "strips; meanwhile 1000 without h1 h3");
    ck_assert_str_eq(when(TWO "h3 wants s3", "lead-p1"), /* P1 joins last: two settings */
                     "h1 h2 silent, moved; no: 2 players with a sound card and outputs for 3 "
                     "wanted strips; meanwhile 2500 without h3");
}
END_TEST

START_TEST(a_deck_that_is_heard_on_another_strip_than_it_wants_falls_silent_as_well)
{
    ck_assert_str_eq(when("host combining by-hand; p1.line > s2.line; joined p1; s1 selects line; "
                          "p1 plugged host.1; h1 wants s1; h1 set 0 1",
                          "s2"),
                     "h1 silent, moved; the players' cards combined, 2000");
}
END_TEST

/* P3 stands in the interface as well; "joined" and the settings are the case's own. */
#define THREE                                                                                      \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; p1 plugged host.1; "            \
    "p2 plugged host.2; p3 card 2; p3 place 3; p3 plugged host.3; h1 wants s1; h2 wants s2; "

START_TEST(a_gap_that_is_kept_leaves_the_others_as_they_are_set)
{
    ck_assert_str_eq(when(THREE "host gap keeps; joined p3 p1 p2; h1 set 2 3; h2 set 4 5", "p3"),
                     "h1 h2 silent, moved; the players' cards combined, 500");
    ck_assert_str_eq(when(THREE "joined p3 p1 p2; h1 set 2 3; h2 set 4 5", "p3"),
                     "h1 h2 silent, moved; the players' cards combined, 1500");
    ck_assert_str_eq(when(TWO "host gap keeps; p3 place 3; p3 plugged host.3", "p1"),
                     /* a cable to strip 1's digital input, p3 joined after p2, h1 set */
                     "h1 h2 silent, moved; the players' cards combined, 5250");
    ck_assert_str_eq(when(TWO "host gap keeps", "lead-p1"), /* back into its own gap */
                     "h1 h2 silent, moved; the players' cards combined, 500");
}
END_TEST

START_TEST(where_the_rest_plays_on_the_gap_says_what_moves) /* (practice) */
{
    ck_assert_str_eq(when(TWO "host on_drop plays-on; host gap keeps", "p1"),
                     "h1 silent, moved; no: 1 player with a sound card and outputs for 2 wanted "
                     "strips");
    ck_assert_str_eq(when(TWO "host on_drop plays-on; host gap closes", "p1"),
                     "h1 h2 silent, h1 moved; no: 1 player with a sound card and outputs for 2 "
                     "wanted strips; meanwhile 500 without h1");
}
END_TEST

START_TEST(a_mixers_card_that_failed_is_said_to_have_failed)
{
    ck_assert_str_eq(
        when("m1 card 4; m1 plugged host.1; joined m1; h1 wants s1; s1 selects usb", "m1"),
        "h1 silent, moved; no: M1's sound card failed, and there is no other way in");
}
END_TEST

START_TEST(a_cable_silences_its_deck_alone_and_a_new_one_brings_it_back)
{
    ck_assert_str_eq(when(TWO, "p1.line>s1.line"),
                     "h1 silent, moved; the players' cards combined, 3000");
}
END_TEST

START_TEST(a_data_lead_is_put_in_anew_and_its_player_joins_last)
{
    ck_assert_str_eq(when(TWO, "lead-p2"),
                     "h1 h2 silent, moved; the players' cards combined, 2000");
}
END_TEST

START_TEST(a_strip_that_dies_sends_its_deck_to_a_free_one)
{
    ck_assert_str_eq(when(TWO "s3 selects line", "s1"),
                     "h1 silent, moved; H1 on strip 3; the players' cards combined, 2000");
}
END_TEST

START_TEST(of_free_strips_the_one_with_the_least_work_is_taken)
{
    ck_assert_str_eq(when(TWO "s3 selects phono; s4 selects line", "s1"),
                     "h1 silent, moved; H1 on strip 4; the players' cards combined, 2000");
    ck_assert_str_eq(when(TWO "s3 in-use Robin; p1.digital > s4.digital", "s1"),
                     "h1 silent, moved; H1 on strip 4; the players' cards combined, 250");
    ck_assert_str_eq(when(TWO, "s1"), "h1 silent, moved; no: no other strip is free");
}
END_TEST

START_TEST(the_built_in_output_is_weighed_against_the_plan_and_else_the_last_resort)
{
    ck_assert_str_eq(
        when("x1.o1 > s1.line; x2.o1 > s3.line; joined x1; x2 plugged built-in; "
             "p1.digital > s1.digital; host combining by-hand; p1 plugged host.2; "
             "h1 wants s1; h1 set 0 1; x1 plugged host.1",
             "x1"), /* the player's card serves strip 1 by its digital input */
        "h1 silent, moved; all decks through the laptop's own output on strip 3, mixed "
        "in the host, 1500");
    ck_assert_str_eq(when("x1.o1 > s1.line; x2.o1 > s3.line; joined x1; x2 plugged built-in; "
                          "s3 selects phono; h1 wants s1; h1 set 0 1; x1 plugged host.1",
                          "lead-x1"),
                     "h1 silent, moved; an interface patched in, 1500");
    ck_assert_str_eq(when(TWO "x2.o1 > s3.line; x2 plugged built-in", "p1"),
                     "h1 h2 silent, moved; all decks through the laptop's own output on strip 3, "
                     "mixed in the host, 2000");
    ck_assert_str_eq(when(TWO "x2.o1 > s3.line; x2 plugged built-in; host on_drop plays-on", "p2"),
                     "h2 silent, moved; an interface patched in, 7000");
}
END_TEST

START_TEST(only_decks_that_want_a_strip_are_set_to_the_built_in_output)
{
    ck_assert_str_eq(
        when("x1.o1 > s1.line; x2.o1 > s3.line; joined x1; x2 plugged built-in; "
             "h1 wants s1; h2 set 4 5; x1 plugged host.1",
             "x1"),
        "h1 silent, moved; all decks through the laptop's own output on strip 3, mixed "
        "in the host, 2000");
}
END_TEST

START_TEST(without_the_laptop_a_switch_is_turned_if_that_is_soonest)
{
    ck_assert_str_eq(when("m1 card 8; joined m1; s1 selects usb; h1 wants s1; t1.phono > s2.line; "
                          "s2.line switch line phono",
                          "host"),
                     "h1 silent, moved; play from T1 itself on strip 2, 250");
}
END_TEST

START_TEST(without_the_laptop_the_soonest_own_media_plays)
{
    ck_assert_str_eq(when(TWO, "host"), "h1 h2 silent, moved; play from P1 itself on strip 1, 250");
    ck_assert_str_eq(when(TWO "t1.phono > s3.phono; s3 selects phono", "host"),
                     "h1 h2 silent, moved; play from T1 itself on strip 3, 0");
    ck_assert_str_eq(when("m1 card 8; joined m1; s1 selects usb; h1 wants s1", "host"),
                     "h1 silent, moved; no: nothing here plays without the laptop");
}
END_TEST

START_TEST(without_the_interface_all_decks_go_through_the_built_in_output)
{
    ck_assert_str_eq(when("x1.o1 > s1.line; x1.o2 > s2.line; x2.o1 > s3.line; joined x1; "
                          "x2 plugged built-in; h1 wants s1; h2 wants s2; x1 plugged host.1",
                          "x1"),
                     "h1 h2 silent, moved; all decks through the laptop's own output on strip 3, "
                     "mixed in the host, 2500");
}
END_TEST

START_TEST(a_built_in_output_that_fails_is_no_way_back_from_itself)
{
    ck_assert_str_eq(when("x1.o1 > s1.line; x1 plugged built-in; joined x1; h1 wants s1", "x1"),
                     "h1 silent, moved; no: there is no interface with a sound card");
}
END_TEST

START_TEST(a_deck_that_is_set_to_the_built_in_output_already_is_not_set_again)
{
    ck_assert_str_eq(when("x1.o1 > s1.line; x1.o2 > s2.line; x2.o1 > s3.line; joined x1; "
                          "x2 plugged built-in; h1 wants s1; h2 wants s2; x1 plugged host.1; "
                          "h1 set 0 1; h2 set 2 3",
                          "x1"),
                     "h1 h2 silent, moved; all decks through the laptop's own output on strip 3, "
                     "mixed in the host, 2000");
}
END_TEST

START_TEST(what_nothing_uses_silences_nothing)
{
    ck_assert_str_eq(when(TWO "p3 card 2; p3 place 3; s3 selects line", "p3"), "silent, moved; -");
    ck_assert_str_eq(when(TWO "s3 selects line", "s3"), "silent, moved; -");
    ck_assert_str_eq(when(TWO "p1.digital > s1.digital", "p1.digital>s1.digital"),
                     "silent, moved; -");
}
END_TEST

Suite *test_failures(void)
{
    Suite *s = suite_create("engine/failures");
    TCase *t = tcase_create("failures");
    tcase_add_test(t, losing_a_joined_player_stops_everything_until_the_interface_is_chosen_again);
    tcase_add_test(t, a_gap_that_is_kept_leaves_the_others_as_they_are_set);
    tcase_add_test(t, where_the_rest_plays_on_the_gap_says_what_moves);
    tcase_add_test(t, a_mixers_card_that_failed_is_said_to_have_failed);
    tcase_add_test(t, a_cable_silences_its_deck_alone_and_a_new_one_brings_it_back);
    tcase_add_test(t, a_data_lead_is_put_in_anew_and_its_player_joins_last);
    tcase_add_test(t, another_data_lead_goes_into_the_port_of_the_one_that_died);
    tcase_add_test(t, what_died_stays_in_the_file_and_goes_back_at_the_end);
    tcase_add_test(t, without_a_hub_its_leads_go_elsewhere_and_another_hub_is_of_use);
    tcase_add_test(t, the_lead_of_what_died_makes_room);
    tcase_add_test(t, a_gap_that_is_kept_closes_only_by_hand);
    tcase_add_test(t, the_interface_is_chosen_when_there_is_something_to_choose);
    tcase_add_test(t, a_built_in_output_that_is_joined_already_stays_so);
    tcase_add_test(t, a_deck_that_wants_nothing_is_not_heard_through_the_built_in_output);
    tcase_add_test(t, a_deck_that_is_heard_on_another_strip_than_it_wants_falls_silent_as_well);
    tcase_add_test(t, a_deck_that_is_given_up_does_not_go_on_over_another);
    tcase_add_test(t, what_controls_a_deck_is_missed_with_its_lead_and_its_hub);
    tcase_add_test(t, without_the_laptop_a_whole_cable_goes_first);
    tcase_add_test(t, what_was_silent_anyway_is_given_up_as_well);
    tcase_add_test(t, going_on_without_some_is_told_though_it_takes_no_minutes);
    tcase_add_test(t, a_strip_that_dies_sends_its_deck_to_a_free_one);
    tcase_add_test(t, of_free_strips_the_one_with_the_least_work_is_taken);
    tcase_add_test(t, without_the_laptop_the_soonest_own_media_plays);
    tcase_add_test(t, without_the_laptop_a_switch_is_turned_if_that_is_soonest);
    tcase_add_test(t, the_built_in_output_is_weighed_against_the_plan_and_else_the_last_resort);
    tcase_add_test(t, only_decks_that_want_a_strip_are_set_to_the_built_in_output);
    tcase_add_test(t, without_the_interface_all_decks_go_through_the_built_in_output);
    tcase_add_test(t, a_built_in_output_that_fails_is_no_way_back_from_itself);
    tcase_add_test(t, a_deck_that_is_set_to_the_built_in_output_already_is_not_set_again);
    tcase_add_test(t, what_nothing_uses_silences_nothing);
    suite_add_tcase(s, t);
    return s;
}
