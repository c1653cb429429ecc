#include <check.h>
#include <stdio.h>
#include <string.h>

#include "engine/derived.h"
#include "engine/plan.h"
#include "model/shape.h"
#include "model/sound.h"
#include "support/booth_from.h"
#include "support/leads.h"
#include "support/one_way.h"

/* A way's plan in one line: "2.25: move the plug ...; set ...", or "no: the reason". */
static const char *planned_in(struct booth *b, enum way way)
{
    static struct str said;
    struct plan *plans = plans_make(b);
    const struct plan *p = plans_of(plans, way);
    str_clear(&said);
    if (p->feasible)
        str_addf(&said, "%d:", p->minutes);
    else
        str_addf(&said, "no: %s", p->why_not);
    for (size_t i = 0; i < p->n; i++)
        str_addf(&said, "%s %s", i ? ";" : "", p->actions[i].text);
    plans_free(plans);
    booth_free(b);
    return str_text(&said);
}

static const char *planned(const char *world, enum way way)
{
    return planned_in(booth_from(world), way);
}

#define BY_HAND "host combining by-hand; "

START_TEST(a_booth_that_works_needs_nothing)
{
    ck_assert_str_eq(planned(BY_HAND "p1.line > s1.line; joined p1; p1 plugged host.1; "
                                     "h1 wants s1; h1 set 0 1; h1 by p1",
                             WAY_PLAYER_CARDS),
                     "0:");
    ck_assert_str_eq(planned("p1.line > s1.line", WAY_PATCHED), "0:");
}
END_TEST

START_TEST(exchanging_two_settings_is_less_work_than_exchanging_two_plugs)
{
    ck_assert_str_eq(
        planned(BY_HAND "p1.line > s2.line; p2.line > s1.line; joined p1 p2; p1 plugged host.1; "
                        "p2 plugged host.2; h1 wants s1; h2 wants s2; h1 set 0 1; h2 set 2 3; "
                        "h1 by p2; h2 by p1",
                WAY_PLAYER_CARDS),
        "1000: set H1 to pair 2/3; set H2 to pair 0/1");
}
END_TEST

START_TEST(hands_go_behind_the_mixer_first_and_into_the_host_last)
{
    ck_assert_str_eq(planned(BY_HAND
                             "p1 own-media; p1 plugged host.1; s1 selects phono; h1 wants s1; "
                             "s1 in-use none; s1 place 1; p9.line > s1.phono; p9 card 2",
                             WAY_PLAYER_CARDS),
                     "no: strip 1 is in use by none");
    ck_assert_str_eq(planned(BY_HAND "p1 own-media; p1 plugged host.1; s1 selects phono; "
                                     "h1 wants s1",
                             WAY_PLAYER_CARDS),
                     "5000: run a cable from P1's line output to strip 1's line input; "
                     "join P1; turn strip 1's selector to line; "
                     "switch P1 to the computer; set H1 to pair 0/1; let P1 control H1");
}
END_TEST

START_TEST(the_mixers_card_is_joined_alone_and_strips_turn_to_usb)
{
    ck_assert_str_eq(planned("m1 card 8; m1 plugged host.1; p1.line > s1.line; joined p1; "
                             "h1 wants s2; h2 wants s1",
                             WAY_MIXER_CARD),
                     "2500: take P1 out of the interface; join M1; "
                     "turn strip 1's selector to usb; turn strip 2's selector to usb; "
                     "set H2 to pair 0/1; set H1 to pair 2/3");
    ck_assert_str_eq(planned("p1.line > s1.line; h1 wants s1", WAY_MIXER_CARD),
                     "no: no mixer with a sound card owns every wanted strip");
}
END_TEST

START_TEST(an_interface_serves_as_many_strips_as_it_has_pairs)
{
    ck_assert_str_eq(planned("x1.o2 > s1.line; x1 plugged host.1; joined x1; h1 wants s1; "
                             "h1 set 2 3",
                             WAY_PATCHED),
                     "0:");
    ck_assert_str_eq(planned("x1.o1 > s1.line; x1 in-use Robin; h1 wants s1", WAY_PATCHED),
                     "no: X1 is in use by Robin");
    ck_assert_str_eq(planned("p1.line > s1.line; h1 wants s1", WAY_PATCHED),
                     "no: there is no interface with a sound card");
}
END_TEST

START_TEST(reasons_come_in_their_order)
{
    ck_assert_str_eq(planned("s1 in-use Robin; h1 wants s1; h2 wants s1", WAY_PLAYER_CARDS),
                     "no: H1 and H2 both want strip 1");
    ck_assert_str_eq(planned("p1.line > s1.line; p2.line > s2.line; h1 wants s1; h2 wants s2; "
                             "host combining none",
                             WAY_PLAYER_CARDS),
                     "no: the laptop cannot combine sound cards");
    ck_assert_str_eq(planned("p1.line > s1.line; h1 wants s1; h2 wants s2", WAY_PLAYER_CARDS),
                     "no: 1 player with a sound card and outputs for 2 wanted strips");
}
END_TEST

#define HELD "p1.line > s2.line; p1.digital > s2.digital; s2 in-use Robin; "

START_TEST(the_reason_is_true_of_the_booth)
{
    ck_assert_str_eq(planned("host combining by-driver; " HELD "h1 wants s1", WAY_PLAYER_CARDS),
                     "no: no output of a player fits strip 1 without touching what is in use");
    ck_assert_str_eq(
        planned(BY_HAND HELD "p2.line > s1.line; h1 wants s1; h2 wants s3", WAY_PLAYER_CARDS),
        "no: no choice of players fits every wanted strip at once without touching "
        "what is in use");
    ck_assert_str_eq(planned("x1.o1 > s1.line; x2.o1 > s2.line; x1 in-use Robin; x2 in-use Kim; "
                             "h1 wants s1",
                             WAY_PATCHED),
                     "no: X1 is in use by Robin, X2 by Kim");
    ck_assert_str_eq(planned(BY_HAND "p1.line > s1.line; p2.line > s2.line; p2 in-use Kim; "
                                     "h1 wants s1; h2 wants s2",
                             WAY_PLAYER_CARDS),
                     "no: 1 player with a sound card and outputs for 2 wanted strips; P2 is in use "
                     "by Kim");
    ck_assert_str_eq(planned("host combining by-driver; p1.line > s1.line; p2.line > s2.line; "
                             "p1 family dunlin; p2 family plover; h1 wants s1; h2 wants s2",
                             WAY_PLAYER_CARDS),
                     "no: the driver combines players of one family only: 1 at most for 2 wanted "
                     "strips");
    ck_assert_str_eq(planned("t1.phono > s1.phono; h1 wants s1", WAY_PLAYER_CARDS),
                     "no: there is no player with a sound card and outputs");
}
END_TEST

START_TEST(use_is_the_reason_only_where_it_is)
{
    struct booth *b = booth_from("p1 card 2; s2 in-use Robin; h1 wants s1");
    for (size_t i = 0; i < b->devices.v[0].outputs.n; i++)
        b->devices.v[0].outputs.v[i].level = LEVEL_PHONO;
    ck_assert_str_eq(planned_in(b, WAY_PLAYER_CARDS), "no: no output of a player fits strip 1");
    b = booth_from("p1 card 2; p2 card 2; p2 in-use Kim; h1 wants s1");
    for (size_t i = 0; i < b->devices.v[0].outputs.n; i++)
        b->devices.v[0].outputs.v[i].level = LEVEL_PHONO;
    ck_assert_str_eq(planned_in(b, WAY_PLAYER_CARDS),
                     "no: no output of a player fits strip 1 without touching what is in use");
    ck_assert_str_eq(planned("host combining by-driver; p1 family dunlin; p2 family dunlin; "
                             "p3 family plover; p2 in-use Kim; h1 wants s1; h2 wants s2",
                             WAY_PLAYER_CARDS),
                     "no: the driver combines players of one family only: 1 at most for 2 wanted "
                     "strips; P2 is in use by Kim");
}
END_TEST

START_TEST(a_usb_input_of_another_socket_is_not_denied)
{
    ck_assert_str_eq(planned("m1 card 4; s1.usb socket B; h1 wants s1", WAY_MIXER_CARD),
                     "no: strip 1 has no usb input of our socket");
}
END_TEST

START_TEST(a_reason_is_as_long_as_who_uses_it)
{
    struct booth *b = booth_from("p1 card 2; h1 wants s1");
    struct str who = {0};
    while (who.len < 801)
        str_add(&who, "\303\266");
    text_set(&b->devices.v[0].in_use, str_text(&who));
    ck_assert_ptr_nonnull(strstr(planned_in(b, WAY_PLAYER_CARDS), str_text(&who)));
    str_clear(&who);
}
END_TEST

START_TEST(a_persons_own_minutes_count)
{
    struct booth *b = booth_from(BY_HAND "p1.line > s2.line; joined p1; p1 plugged host.1; "
                                         "h1 wants s1; h1 set 0 1; s1 selects line");
    static struct minutes own = {.set = -1,
                                 .selector = -1,
                                 .switch_ = -1,
                                 .source = -1,
                                 .move = 7250,
                                 .add = 9000,
                                 .unplug = -1,
                                 .join = -1,
                                 .leave = -1,
                                 .plug = -1};
    b->host.minutes = &own;
    struct plan *plans = plans_make(b);
    ck_assert_int_eq(plans_of(plans, WAY_PLAYER_CARDS)->minutes, 7250);
    plans_free(plans);
    b->host.minutes = NULL;
    booth_free(b);
}
END_TEST

/* --- laws ------------------------------------------------------------------------------------- */

static bool about(const struct fault *f, const char *slug)
{
    return strcmp(f->slug, slug) == 0;
}

/* Whether a fault is about the selected input of a wanted strip. */
static bool served(const struct booth *b, const struct fault *f)
{
    for (size_t i = 0; i < f->subjects.n; i++) {
        struct in_end in;
        if (!booth_input(b, f->subjects.v[i], &in) || !in.strip ||
            strcmp(in.strip->selected, in.input->id) != 0)
            continue;
        for (size_t k = 0; k < b->decks.n; k++)
            if (strcmp(b->decks.v[k].wants, in.strip->id) == 0)
                return true;
    }
    return false;
}

static bool every_wanted_deck_is_heard(const struct booth *b)
{
    struct derived *d = derived_make(b);
    bool all = true;
    for (size_t i = 0; i < d->circuit->n_decks; i++) {
        int strip = d->circuit->decks[i].wants;
        bool heard = strip < 0;
        for (size_t k = 0; k < d->heard.n; k++)
            heard = heard || (d->heard.v[k].strip == strip && d->heard.v[k].deck == (int)i);
        all = all && heard;
    }
    derived_free(d);
    return all;
}

/* None of the faults that a plan puts right is left. */
static void check_after(const struct plan *p, unsigned seed)
{
    static const char *const gone[] = {"own-media",     "selector-elsewhere", "not-joined",
                                       "unwired-strip", "stale-setting",      "no-such-channel",
                                       "doubled-pair"};
    static const char *const ends[] = {"dead-side", "swapped-sides", "doubled-input"};
    struct derived *d = derived_make(p->after);
    for (size_t i = 0; i < d->faults.n; i++)
        for (size_t k = 0; k < sizeof ends / sizeof *ends; k++)
            ck_assert_msg(!about(&d->faults.v[i], ends[k]) || !served(p->after, &d->faults.v[i]),
                          "seed %u way %d: %s", seed, p->way, d->faults.v[i].text);
    for (size_t i = 0; i < d->faults.n; i++)
        for (size_t k = 0; k < sizeof gone / sizeof *gone; k++)
            ck_assert_msg(!about(&d->faults.v[i], gone[k]), "seed %u way %d: %s", seed, p->way,
                          d->faults.v[i].text);
    derived_free(d);
    ck_assert_msg(every_wanted_deck_is_heard(p->after), "seed %u way %d", seed, p->way);
}

START_TEST(a_plan_made_is_heard_costs_what_it_says_and_needs_nothing_again)
{
    int made = 0;
    for (unsigned seed = 1; seed <= 1500; seed++) {
        struct booth *b = booth_random(seed);
        struct plan *plans = plans_make(b);
        for (int i = 0; i < WAYS; i++) {
            const struct plan *p = &plans[i];
            struct err e;
            bool wanted = false;
            for (size_t k = 0; k < b->decks.n; k++)
                wanted = wanted || *b->decks.v[k].wants;
            if (!p->feasible || !wanted) /* nothing wanted: nothing is promised */
                continue;
            made += p->n > 0;
            ck_assert_msg(p->minutes > 0 || b->host.minutes || every_wanted_deck_is_heard(b),
                          "seed %u way %d: no minutes, yet not heard", seed, p->way);
            int sum = 0;
            struct booth *step = booth_copy(b);
            for (size_t k = 0; k < p->n; k++) {
                sum += p->actions[k].minutes;
                ck_assert_msg(!change_touches_in_use(step, &p->actions[k].change) ||
                                  p->actions[k].change.what == CHANGE_LEAVE,
                              "seed %u: %s touches what is in use", seed, p->actions[k].text);
                ck_assert(change_make(step, &p->actions[k].change, &e));
            }
            booth_free(step);
            ck_assert_int_eq(sum, p->minutes);
            ck_assert(booth_sound(p->after, &e));
            check_after(p, seed);
            const char *astray = lead_astray(b, p, NULL);
            ck_assert_msg(!astray, "seed %u way %d: %s leads nowhere", seed, p->way, astray);
            struct plan *again = plans_make(p->after);
            const struct plan *q = plans_of(again, p->way);
            ck_assert_msg(q->feasible && q->minutes == 0, "seed %u way %d: again %d, first %s",
                          seed, p->way, q->minutes, q->n ? q->actions[0].text : q->why_not);
            plans_free(again);
        }
        plans_free(plans);
        booth_free(b);
    }
    ck_assert_int_gt(made, 100);
}
END_TEST

START_TEST(what_to_bring_is_counted_by_kind)
{
    struct booth *b = booth_from(BY_HAND "p1 plugged host.1; p2 plugged host.2; joined p1 p2; "
                                         "h1 wants s1; h2 wants s2");
    struct plan *plans = plans_make(b);
    const struct plan *p = plans_of(plans, WAY_PLAYER_CARDS);
    ck_assert_uint_eq(p->bag.n, 1);
    ck_assert_str_eq(p->bag.v[0], "2 RCA cable");
    plans_free(plans);
    booth_free(b);
}
END_TEST

START_TEST(a_plug_that_moves_to_another_kind_of_socket_needs_an_adapter)
{
    struct booth *b = booth_from(BY_HAND "p1 plugged host.1; p1.line > s2.line; joined p1; "
                                         "h1 wants s1; h1 set 0 1; s1 selects line");
    struct plan *plans = NULL;
    struct strips *strips = &b->devices.v[1].strips;
    struct input *in = &strips->v[strcmp(strips->v[0].id, "s1") != 0].inputs.v[0];
    in->connector = CONNECTOR_TRS;
    const struct plan *p = one_way(&plans, b, WAY_PLAYER_CARDS);
    ck_assert_int_eq(p->minutes, 2000);
    ck_assert_uint_eq(p->bag.n, 1);
    ck_assert_str_eq(p->bag.v[0], "1 RCA to TRS jack adapter");
    in->connector = CONNECTOR_UNSAID;
    ck_assert_uint_eq(one_way(&plans, b, WAY_PLAYER_CARDS)->bag.n, 0);
    plans_free(plans);
    booth_free(b);
}
END_TEST

START_TEST(a_cable_into_what_is_in_use_stays_and_its_output_gets_no_second_one)
{
    ck_assert_str_eq(planned(BY_HAND "p1 plugged host.1; p1.line > s2.line; s2 in-use Robin; "
                                     "s1 selects line; h1 wants s1; joined p1; h1 by p1",
                             WAY_PLAYER_CARDS),
                     "3750: run a cable from P1's digital output to strip 1's digital input; "
                     "turn strip 1's selector to digital; set H1 to pair 0/1");
}
END_TEST

START_TEST(a_setting_that_costs_nothing_is_still_put_right)
{
    struct booth *b = booth_from(BY_HAND "p1 plugged host.1; p1.line > s1.line; joined p1; "
                                         "h1 wants s1; h1 set 0 0; h1 by p1");
    static struct minutes own = {0};
    struct plan *plans = NULL;
    b->host.minutes = &own;
    const struct plan *p = one_way(&plans, b, WAY_PLAYER_CARDS);
    ck_assert_uint_eq(p->n, 1);
    ck_assert_str_eq(p->actions[0].text, "set H1 to pair 0/1");
    plans_free(plans);
    b->host.minutes = NULL;
    booth_free(b);
}
END_TEST

START_TEST(the_only_mixer_in_use_is_the_reason_whatever_it_owns)
{
    ck_assert_str_eq(planned("m1 card 8; m1 in-use Robin; h1 wants s1", WAY_MIXER_CARD),
                     "no: M1 is in use by Robin");
}
END_TEST

/* Cables up to the limit, none of which may be touched by the plan. */
START_TEST(a_booth_that_is_full_of_cables_says_so)
{
    struct str world = {0};
    struct plan *plans = NULL;
    str_add(&world, BY_HAND "h1 wants s1; p1 plugged host.1");
    for (int i = 0; i < MAX_CABLES; i++)
        str_addf(&world, "; t%d.phono > s%d.phono", i / 4 + 1, i % 64 + 1);
    struct booth *b = booth_from(str_text(&world));
    ck_assert_uint_eq(b->cables.n, MAX_CABLES);
    const struct plan *p = one_way(&plans, b, WAY_PLAYER_CARDS);
    ck_assert(!p->feasible && !p->after && p->n == 0);
    ck_assert_ptr_nonnull(strstr(p->why_not, "the booth is full"));
    plans_free(plans);
    booth_free(b);
    str_clear(&world);
}
END_TEST

/* Forty strips, the last of which has only the first pair, the one before it the first two, and so
 * on: from the left nearly every choice is wrong, and only one way is right. With a pair fewer
 * there is none. */
START_TEST(usb_inputs_that_leave_only_one_choice_are_matched_in_time)
{
    enum { N = 40 };
    struct str world = {0};
    struct plan *plans = NULL;
    str_addf(&world, "m1 card 256; m1 plugged host.1");
    for (int i = 1; i <= N; i++)
        str_addf(&world, "; h%d wants s%d", i, i);
    struct booth *b = booth_from(str_text(&world));
    struct device *m = &b->devices.v[0];
    const struct field *inputs = shape_field(&shape_strip, "inputs");
    for (int i = 0; i < N; i++) {
        struct inputs *own = &m->strips.v[i].inputs;
        text_set(&own->v[own->n - 1].socket, "B"); /* not ours */
        for (int k = 0; k < N - i - _i; k++) {
            struct input *in = records_add(inputs, &m->strips.v[i].inputs);
            snprintf(in->id, sizeof in->id, "u%d", k);
            in->level = LEVEL_USB;
            for (int side = 1; side <= 2; side++)
                ints_add(&in->channels, 2 * k + side);
        }
    }
    const struct plan *p = one_way(&plans, b, WAY_MIXER_CARD);
    ck_assert_int_eq(p->feasible, _i == 0);
    for (int i = 0; i < N && p->feasible; i++) {
        char want[16];
        snprintf(want, sizeof want, "u%d", N - 1 - i);
        ck_assert_str_eq(p->after->devices.v[0].strips.v[i].selected, want);
    }
    plans_free(plans);
    booth_free(b);
    str_clear(&world);
}
END_TEST

/* Law: what nobody uses any more is no obstacle: minutes do not grow when it is free again. By the
 * usual prices (where moving costs more than adding, a cable that may be moved is a burden), and
 * but for players at the front of the joined list: there the model keeps a longer run joined, whose
 * pairs then count. */
START_TEST(minutes_never_grow_when_an_obstacle_is_removed)
{
    int removed = 0;
    for (unsigned seed = 1; seed <= 1500; seed++) {
        struct booth *b = booth_random(seed);
        const struct field *minutes = shape_field(&shape_host, "minutes");
        field_clear(minutes, &b->host.minutes);
        struct booth *freed = booth_copy(b);
        for (size_t i = 0; i < freed->devices.n; i++) {
            struct device *d = &freed->devices.v[i];
            if (booth_joined_at(freed, d->id) < 0) {
                removed += d->in_use != NULL;
                text_set(&d->in_use, NULL);
            }
            for (size_t k = 0; k < d->strips.n; k++)
                text_set(&d->strips.v[k].in_use, NULL);
        }
        struct plan *before = plans_make(b), *after = plans_make(freed);
        for (int i = 0; i < WAYS; i++) {
            const struct plan *p = plans_of(before, (enum way)i);
            const struct plan *q = plans_of(after, (enum way)i);
            if (p->feasible)
                ck_assert_msg(q->feasible && q->minutes <= p->minutes, "seed %u way %d: %d to %d",
                              seed, i, p->minutes, q->minutes);
        }
        plans_free(before);
        plans_free(after);
        booth_free(b);
        booth_free(freed);
    }
    ck_assert_int_gt(removed, 50);
}
END_TEST

Suite *test_plan(void)
{
    Suite *s = suite_create("engine/plan");
    TCase *t = tcase_create("plan");
    tcase_add_test(t, a_booth_that_works_needs_nothing);
    tcase_add_test(t, the_reason_is_true_of_the_booth);
    tcase_add_test(t, use_is_the_reason_only_where_it_is);
    tcase_add_test(t, a_usb_input_of_another_socket_is_not_denied);
    tcase_add_test(t, a_reason_is_as_long_as_who_uses_it);
    tcase_add_test(t, exchanging_two_settings_is_less_work_than_exchanging_two_plugs);
    tcase_add_test(t, hands_go_behind_the_mixer_first_and_into_the_host_last);
    tcase_add_test(t, the_mixers_card_is_joined_alone_and_strips_turn_to_usb);
    tcase_add_test(t, an_interface_serves_as_many_strips_as_it_has_pairs);
    tcase_add_test(t, reasons_come_in_their_order);
    tcase_add_test(t, a_persons_own_minutes_count);
    tcase_add_test(t, a_plan_made_is_heard_costs_what_it_says_and_needs_nothing_again);
    tcase_add_test(t, what_to_bring_is_counted_by_kind);
    tcase_add_test(t, a_plug_that_moves_to_another_kind_of_socket_needs_an_adapter);
    tcase_add_test(t, a_cable_into_what_is_in_use_stays_and_its_output_gets_no_second_one);
    tcase_add_test(t, a_setting_that_costs_nothing_is_still_put_right);
    tcase_add_test(t, the_only_mixer_in_use_is_the_reason_whatever_it_owns);
    tcase_add_loop_test(t, usb_inputs_that_leave_only_one_choice_are_matched_in_time, 0, 2);
    tcase_add_test(t, a_booth_that_is_full_of_cables_says_so);
    tcase_add_test(t, minutes_never_grow_when_an_obstacle_is_removed);
    suite_add_tcase(s, t);
    return s;
}
