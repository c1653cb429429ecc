#include <check.h>
#include <stdio.h>
#include <string.h>

#include "engine/derived.h"
#include "engine/failures.h"
#include "model/sound.h"
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
    str_addf(&said, " moved; %s%s",
             f.has_way_back || !f.way_back ? "" : "no: ", f.way_back ? f.way_back : "-");
    if (f.has_way_back)
        str_addf(&said, ", %d", f.minutes);
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
                     "strips");
}
END_TEST

START_TEST(where_the_rest_plays_on_the_gap_says_what_moves) /* (practice) */
{
    ck_assert_str_eq(when(TWO "host on_drop plays-on; host gap keeps", "p1"),
                     "h1 silent, moved; no: 1 player with a sound card and outputs for 2 wanted "
                     "strips");
    ck_assert_str_eq(when(TWO "host on_drop plays-on; host gap closes", "p1"),
                     "h1 h2 silent, h1 moved; no: 1 player with a sound card and outputs for 2 "
                     "wanted strips");
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
                     "h1 silent, moved; the players' cards combined, 2000");
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

/* Laws: only decks that were heard where they want to be fall silent; a way back is sound and makes
 * every deck that still wants a strip heard there; its minutes are the sum of its actions'. */
START_TEST(a_way_back_is_one)
{
    int ways = 0;
    for (unsigned seed = 1; seed <= 900; seed++) {
        struct booth *b = booth_random(seed);
        struct failures all = failures_make(b);
        for (size_t i = 0; i < all.n; i++) {
            const struct failure *f = &all.v[i];
            struct err e;
            int sum = 0;
            if (!f->has_way_back)
                continue;
            for (size_t k = 0; k < f->n; k++)
                sum += f->actions[k].minutes;
            ck_assert_msg(sum == f->minutes, "seed %u %s", seed, f->subject);
            ck_assert_msg(booth_sound(f->after, &e), "seed %u %s: %s %s", seed, f->subject, e.place,
                          e.says);
            if (f->kind == FAILING_HOST || strstr(f->way_back, "mixed in the host"))
                continue;
            ways++;
            struct derived *d = derived_make(f->after);
            for (size_t k = 0; k < d->circuit->n_decks; k++) {
                int strip = d->circuit->decks[k].wants;
                bool heard = strip < 0;
                for (size_t m = 0; m < d->heard.n; m++)
                    heard = heard || (d->heard.v[m].strip == strip && d->heard.v[m].deck == (int)k);
                ck_assert_msg(heard, "seed %u %s: deck %zu is not heard", seed, f->subject, k);
            }
            derived_free(d);
        }
        failures_clear(&all);
        booth_free(b);
    }
    ck_assert_int_gt(ways, 50);
}
END_TEST

Suite *test_failures(void)
{
    Suite *s = suite_create("engine/failures");
    TCase *t = tcase_create("failures");
    tcase_add_test(t, losing_a_joined_player_stops_everything_until_the_interface_is_chosen_again);
    tcase_add_test(t, where_the_rest_plays_on_the_gap_says_what_moves);
    tcase_add_test(t, a_mixers_card_that_failed_is_said_to_have_failed);
    tcase_add_test(t, a_cable_silences_its_deck_alone_and_a_new_one_brings_it_back);
    tcase_add_test(t, a_data_lead_is_put_in_anew_and_its_player_joins_last);
    tcase_add_test(t, a_strip_that_dies_sends_its_deck_to_a_free_one);
    tcase_add_test(t, without_the_laptop_the_soonest_own_media_plays);
    tcase_add_test(t, without_the_interface_all_decks_go_through_the_built_in_output);
    tcase_add_test(t, a_built_in_output_that_fails_is_no_way_back_from_itself);
    tcase_add_test(t, a_deck_that_is_set_to_the_built_in_output_already_is_not_set_again);
    tcase_add_test(t, what_nothing_uses_silences_nothing);
    tcase_add_test(t, a_way_back_is_one);
    suite_add_tcase(s, t);
    return s;
}
