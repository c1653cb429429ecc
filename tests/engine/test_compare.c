#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/compare.h"
#include "engine/route.h"
#include "model/shape.h"
#include "support/booth_disturb.h"
#include "support/booth_from.h"
#include "support/compared.h"

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
        "P1's line output: was in strip 1's line input; "
        "P1's line output: now in strip 2's line input; "
        "P2's line output: was in strip 2's line input; "
        "P2's line output: now in strip 1's line input | h1 0 to 2 | h2 2 to 0");
}
END_TEST

START_TEST(a_plug_that_moved_is_one_line_and_a_second_cable_another)
{
    struct booth *a = booth_from("p1.line > s1.line; p1.line > s2.line; s3 selects line; "
                                 "joined p1");
    struct booth *b = booth_from("p1.line > s2.line; p1.line > s3.line; p1.line > s1.phono; "
                                 "joined p1");
    struct comparison c = compare_make(a, b);
    struct str line = {0};
    ck_assert_uint_eq(comparison_line(&c, 0, &line), 2);
    ck_assert_str_eq(line.text,
                     "P1's line output: was in strip 1's line input; now in strip 3's line input");
    str_clear(&line);
    ck_assert_uint_eq(comparison_line(&c, 2, &line), 1);
    ck_assert_str_eq(line.text, "the cable from P1's line output to strip 1's phono input is new");
    str_clear(&line);
    comparison_clear(&c);
    booth_free(a);
    booth_free(b);
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

START_TEST(any_field_of_a_device_a_hub_a_jack_and_the_host_is_told)
{
    ck_assert_str_eq(differences("p1 card 2; hub hub1 4", "p1 in_channels 2; p1 rates 44100 96000; "
                                                          "p1 control hid; p1 max_power_ma 500; "
                                                          "hub hub1 7; host gap keeps"),
                     "the laptop: when one is missing: the gap stays, was later channels move down"
                     "; P1: control: HID, was none"
                     "; P1's sound card: input channels: 2, was 0"
                     "; P1's sound card: rates: 44100 96000 Hz, was not told"
                     "; P1's USB: power: 500 mA, was 0 mA"
                     "; hub1: ports: 7, was 4");
    ck_assert_str_eq(differences("p1 place 1", "p1.line carries 2"),
                     "P1's line output: card channels: 2, was 1 2");
    ck_assert_str_eq(differences("s1.line switch line phono", "s1 selects line"),
                     "strip 1's line input: switch: not told, was line phono");
}
END_TEST

START_TEST(usb_that_is_as_usual_is_the_same_as_none)
{
    ck_assert_str_eq(differences("p1 place 1", "p1 max_power_ma 0"), "");
}
END_TEST

START_TEST(parts_that_come_and_go_are_told_without_their_fields)
{
    ck_assert_str_eq(differences("s1 selects line", "m1 card 8; s1 selects line"),
                     "M1's sound card is new; strip 1's usb input is new");
    ck_assert_str_eq(differences("t1 place 1", "t1 place 1; p1 model dunlin-2; s1 selects phono"),
                     "P1 is new; M1 is new");
}
END_TEST

START_TEST(a_device_of_another_kind_is_another_thing_under_the_same_id)
{
    ck_assert_str_eq(differences("c1 place 1", "c1 kind interface"),
                     "C1 (controller) is gone; C1 (interface) is new");
    /* then place and model tell where the old one is now */
    ck_assert_str_eq(differences("p1 model dunlin-2; p1.line > s1.line; joined p1",
                                 "p1 kind controller; p7 model dunlin-2; p7 place 1; "
                                 "p7.line > s1.line; joined p7"),
                     "P1 (controller) is new; P7: is labelled P7, was P1");
}
END_TEST

START_TEST(two_devices_may_exchange_their_ids)
{
    ck_assert_str_eq(differences("p1 kind controller; p1 place 5; p2 place 1; p2.line > s1.line",
                                 "p2 kind controller; p2 place 5; p1 place 1; p1.line > s1.line"),
                     "P2: is labelled P2, was P1; P1: is labelled P1, was P2");
}
END_TEST

START_TEST(a_subject_is_named_once_on_a_line)
{
    struct booth *a = booth_from("p1 model plover-3; p1 firmware 1.9; p2 place 2");
    struct booth *b = booth_from("p1 model dunlin-2; p1 firmware 2.0; p2 place 3");
    struct comparison c = compare_make(a, b);
    struct str line = {0};
    ck_assert_uint_eq(comparison_line(&c, 0, &line), 2);
    ck_assert_str_eq(str_text(&line), "P1: model dunlin-2, was plover-3; firmware 2.0, was 1.9");
    str_clear(&line);
    ck_assert_uint_eq(comparison_line(&c, 2, &line), 1);
    ck_assert_str_eq(str_text(&line), "P2: stands in place 3, was 2");
    str_clear(&line);
    comparison_clear(&c);
    booth_free(a);
    booth_free(b);
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

/* Law: the differences, applied one by one to the old booth, give the new one. */
START_TEST(the_differences_applied_to_the_old_booth_give_the_new_one)
{
    for (unsigned seed = 1; seed <= 400; seed++) {
        struct booth *a = booth_random(seed), *b = booth_random(seed + 1);
        char whom[32];
        snprintf(whom, sizeof whom, "seed %u", seed);
        compared_holds(a, b, whom);
        booth_free(a);
        booth_free(b);
    }
}
END_TEST

START_TEST(whatever_changes_in_a_booth_is_told)
{
    for (unsigned seed = 1; seed <= 3000; seed++) {
        struct booth *a = booth_random(seed), *b = booth_copy(a);
        struct str whom = {0};
        str_addf(&whom, "seed %u:", seed);
        booth_disturb(b, seed, 1 + seed % 4, &whom);
        compared_holds(a, b, str_text(&whom));
        compared_holds(b, a, str_text(&whom));
        str_clear(&whom);
        booth_free(a);
        booth_free(b);
    }
}
END_TEST

/* --- least work ------------------------------------------------------------------------------- */

/* The actions from one world's settings to another's, parted by "; ", and their minutes. */
static const char *work(const char *before, const char *now)
{
    static struct str said;
    struct booth *a = booth_from(before), *b = booth_from(now);
    struct plan *p = compare_work(a, b);
    str_clear(&said);
    for (size_t i = 0; i < p->n; i++)
        str_addf(&said, "%s%s", i ? "; " : "", p->actions[i].text);
    str_addf(&said, " | %d", p->minutes);
    compare_work_free(p);
    booth_free(a);
    booth_free(b);
    return str_text(&said);
}

#define TWO "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 wants s2"

START_TEST(a_deck_is_set_again_only_where_the_host_plays_it_elsewhere)
{
    ck_assert_str_eq(work(TWO, TWO), " | 0");
    ck_assert_str_eq(work(TWO, "p1.line > s2.line; p2.line > s1.line; joined p1 p2; h1 wants s1; "
                               "h2 wants s2; h1 set 2 3"),
                     "set H1 to pair 2/3; set H2 to pair 0/1 | 1000");
    /* it was set wrongly all along: the route is the same, the work is not nothing */
    ck_assert_str_eq(work(TWO "; h1 set 2 3", TWO), "set H1 to pair 0/1 | 500");
    /* it happened to be set to what is right now */
    ck_assert_str_eq(work(TWO "; h1 set 2 3; h2 set 0 1",
                          "p1.line > s2.line; p2.line > s1.line; joined p1 p2; h1 wants s1; "
                          "h2 wants s2"),
                     " | 0");
}
END_TEST

START_TEST(what_stood_in_this_order_stays_joined)
{
    ck_assert_str_eq(work("joined p1 p2 p3", "joined p1 p2 p3; p4 place 4"), " | 0");
    ck_assert_str_eq(work("joined p1 p2 p3", "joined p2 p3; p1 place 1"),
                     "take P1 out of the interface | 0");
    ck_assert_str_eq(work("joined p1 p2 p3", "joined p2 p3"), " | 0");
    ck_assert_str_eq(work("joined p1 p2", "joined p2 p1"),
                     "take P1 out of the interface; join P1, after the others | 1000");
    ck_assert_str_eq(work("joined p1 p3", "joined p1 p2 p3"),
                     "take P3 out of the interface; join P2, after the others; "
                     "join P3, after the others | 2000");
}
END_TEST

START_TEST(a_deck_that_lost_its_route_is_not_set_any_more)
{
    ck_assert_str_eq(work("p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; "
                          "h2 wants s2; h1 set 0 1; h2 set 2 3",
                          "p1 place 1; p2.line > s2.line; s1 selects line; joined p2; h1 wants s1; "
                          "h2 wants s2; h1 set 0 1; h2 set 2 3"),
                     "take P1 out of the interface; take back the setting of H1; "
                     "set H2 to pair 0/1 | 500");
    ck_assert_str_eq(work("h1 wants s1; h1 set 0 1", "h1 wants s1; h1 set 0 1"), " | 0");
}
END_TEST

START_TEST(control_is_handed_over)
{
    ck_assert_str_eq(work(TWO "; h1 by p1", TWO "; h1 by p2"), "let P2 control H1 | 0");
    ck_assert_str_eq(work("h1 wants s1", "h1 by p1"), "let P1 control H1 | 0");
    ck_assert_str_eq(work("h1 by p1", "p1 place 1; h1 wants s1"), " | 0"); /* nobody's is no work */
}
END_TEST

/* The fewest joins that lead from one list to another, by trying every sequence: any device may
 * leave, and one that is out may be joined after the others. */
static int fewest_joins(const struct texts *was, const struct texts *is)
{
    int fewest = (int)is->n;
    for (unsigned stays = 0; stays < 1u << was->n; stays++) {
        size_t kept = 0;
        bool fits = true;
        for (size_t i = 0; i < was->n && fits; i++)
            if (stays >> i & 1)
                fits = kept < is->n && strcmp(was->v[i], is->v[kept++]) == 0;
        if (fits && (int)(is->n - kept) < fewest)
            fewest = (int)(is->n - kept);
    }
    return fewest;
}

/* What must be done whatever the order: joins, settings. */
static int least_minutes(const struct booth *a, const struct booth *b)
{
    struct prices prices = plan_prices(b);
    struct circuit *old = circuit_new(a), *now = circuit_new(b);
    int minutes = 0;
    for (int i = 0; i < (int)b->decks.n; i++) {
        struct route route = route_of(now, i);
        struct pair set = {-1, -1};
        for (int k = 0; k < (int)a->decks.n; k++)
            if (strcmp(a->decks.v[k].id, b->decks.v[i].id) == 0)
                set = route_effective(old, k);
        bool is_set = set.left == route.pair.left && set.right == route.pair.right;
        minutes += route.there && !is_set ? prices.set : 0;
    }
    circuit_free(old);
    circuit_free(now);
    return minutes + fewest_joins(&a->joined, &b->joined) * prices.join;
}

/* Some of what is joined leaves, the rest comes in any order; every price is the usual one. */
static void join_otherwise(struct booth *b, unsigned seed)
{
    unsigned long long dice = seed;
    for (size_t i = b->joined.n; i > 0; i--) {
        char *id = mem_text(b->joined.v[i - 1]);
        texts_remove(&b->joined, i - 1);
        if (random_below(&dice, 4))
            texts_insert(&b->joined, random_below(&dice, (unsigned)b->joined.n + 1), id);
        mem_free(id);
    }
    field_clear(shape_field(&shape_host, "minutes"), &b->host.minutes);
}

static bool plays_to_its_routes(const struct booth *b)
{
    struct circuit *c = circuit_new(b);
    bool plays = true;
    for (int i = 0; i < (int)b->decks.n; i++) {
        struct route r = route_of(c, i);
        struct pair set = b->decks.v[i].set_to;
        plays = plays && (!r.there || (set.left == r.pair.left && set.right == r.pair.right));
    }
    circuit_free(c);
    return plays;
}

START_TEST(the_work_leads_to_the_new_routes_and_none_is_less)
{
    const struct field *joined = shape_field(&shape_booth, "joined");
    for (unsigned seed = 1; seed <= 600; seed++) {
        struct booth *a = booth_random(seed), *b = booth_copy(a);
        join_otherwise(b, seed);
        struct plan *p = compare_work(a, b);
        int least = least_minutes(a, b);
        ck_assert_msg(p->minutes == least, "seed %u: %d, not %d", seed, p->minutes, least);
        ck_assert_msg(field_equal(joined, &p->after->joined, &b->joined), "seed %u", seed);
        ck_assert_msg(plays_to_its_routes(p->after), "seed %u", seed);
        compare_work_free(p);
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
    tcase_add_test(t, a_plug_that_moved_is_one_line_and_a_second_cable_another);
    tcase_add_test(t, a_player_that_is_gone_is_told_once_with_what_hung_on_it);
    tcase_add_test(t, another_selector_source_firmware_and_use_are_told);
    tcase_add_test(t, a_device_of_another_id_in_the_same_place_of_the_same_model_is_the_same);
    tcase_add_test(t, a_strip_is_matched_by_its_id_before_its_place);
    tcase_add_test(t, any_field_of_a_device_a_hub_a_jack_and_the_host_is_told);
    tcase_add_test(t, usb_that_is_as_usual_is_the_same_as_none);
    tcase_add_test(t, parts_that_come_and_go_are_told_without_their_fields);
    tcase_add_test(t, a_device_of_another_kind_is_another_thing_under_the_same_id);
    tcase_add_test(t, two_devices_may_exchange_their_ids);
    tcase_add_test(t, a_subject_is_named_once_on_a_line);
    tcase_add_test(t, a_booth_compared_with_itself_is_the_same);
    tcase_add_test(t, the_differences_applied_to_the_old_booth_give_the_new_one);
    tcase_add_test(t, whatever_changes_in_a_booth_is_told);
    tcase_add_test(t, a_deck_is_set_again_only_where_the_host_plays_it_elsewhere);
    tcase_add_test(t, what_stood_in_this_order_stays_joined);
    tcase_add_test(t, a_deck_that_lost_its_route_is_not_set_any_more);
    tcase_add_test(t, control_is_handed_over);
    tcase_add_test(t, the_work_leads_to_the_new_routes_and_none_is_less);
    suite_add_tcase(s, t);
    return s;
}
