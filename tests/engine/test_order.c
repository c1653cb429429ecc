#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "engine/order.h"
#include "model/layout.h"
#include "model/shape.h"
#include "support/booth_from.h"
#include "support/records.h"

/* A booth with its circuit and steps. */
struct world {
    struct booth *b;
    struct circuit *c;
    struct steps steps;
};

static struct world world_of(struct booth *b)
{
    struct world w = {.b = b, .c = circuit_new(b)};
    w.steps = steps_make(w.c);
    return w;
}

static struct world world_from(const char *text)
{
    return world_of(booth_from(text));
}

static void world_free(struct world *w)
{
    steps_clear(&w->steps);
    circuit_free(w->c);
    booth_free(w->b);
}

/* The ids between levels-down, laptop and save, which every booth has. */
static void order_is(const struct world *w, const char *expected)
{
    struct str ids = {0};
    ck_assert_uint_ge(w->steps.n, 3);
    ck_assert_str_eq(w->steps.v[0].id, "levels-down");
    ck_assert_str_eq(w->steps.v[1].id, "laptop");
    size_t last = w->steps.n - 1; /* what is put back afterwards is tested in test_restore.c */
    while (strncmp(w->steps.v[last].id, "restore-", 8) == 0)
        last--;
    ck_assert_str_eq(w->steps.v[last].id, "save");
    for (size_t i = 2; i < last; i++)
        str_addf(&ids, "%s%s", i > 2 ? " " : "", w->steps.v[i].id);
    ck_assert_str_eq(str_text(&ids), expected);
    str_clear(&ids);
}

static const struct step *step_at(const struct world *w, const char *id)
{
    for (size_t i = 0; i < w->steps.n; i++)
        if (strcmp(w->steps.v[i].id, id) == 0)
            return &w->steps.v[i];
    ck_abort_msg("there is no step %s", id);
    return NULL;
}

static bool has_step(const struct steps *s, const char *kind, const char *id)
{
    char name[REF_SIZE * 2];
    snprintf(name, sizeof name, "%s-%s", kind, id);
    for (size_t i = 0; i < s->n; i++)
        if (strcmp(s->v[i].id, name) == 0)
            return true;
    return false;
}

START_TEST(a_quiet_room_combined_by_hand_goes_from_levels_to_save)
{
    struct layout l = {.players = 2, .decks = 2, .strips = "2 1", .way = WAY_PLAYER_CARDS};
    struct err e;
    struct world w = world_of(booth_laid_out(&l, &e));
    order_is(&w, "power-p1 power-p2 combination join-p1 join-p2 interface source-p1 source-p2 "
                 "selector-s1 selector-s2 set-h1 set-h2 control-p1 control-p2 check-h1 check-h2");
    ck_assert_str_eq(
        step_at(&w, "join-p2")->text,
        "plug P2 into port 2 of the laptop, wait until the host lists it, and tick it");
    ck_assert_str_eq(step_at(&w, "join-p2")->see, "the interface shows 4 channels");
    ck_assert_str_eq(step_at(&w, "set-h1")->text, "set H1 to pair 2/3");
    ck_assert_str_eq(step_at(&w, "control-p2")->text, "let P2 control H1");
    ck_assert_str_eq(step_at(&w, "interface")->text,
                     "choose the combined interface, nothing else, and set 48 kHz and 256 frames");
    ck_assert_str_eq(step_at(&w, "interface")->see,
                     "read back: 4 channels, 48 kHz and 256 frames, drift correction on");
    ck_assert_str_eq(step_at(&w, "check-h1")->text, "play H1 alone and raise strip 1 slowly");
    world_free(&w);
}
END_TEST

START_TEST(a_live_room_by_driver_leaves_what_is_in_use_alone)
{
    struct world w = world_from(
        "p1.line > s1.line; p2.line > s2.line; p3.line > s3.line; joined p1 p2; h1 wants s1; "
        "h2 wants s2; h1 by p1; h2 by p4; h3 by p5; host combining by-driver; hub hub1 4; "
        "hub hub2 4; p1 plugged hub1.1; p4 plugged hub2.1; p5 in-use Robin; p5 plugged hub2.2; "
        "p1 firmware 1.9 1.10; s3 in-use Alex");
    order_is(&w, "power-p1 power-p2 power-p4 firmware-p1 driver hub-hub1 join-p1 join-p2 plug-p4 "
                 "interface source-p1 source-p2 selector-s1 selector-s2 set-h1 set-h2 control-p1 "
                 "control-p4 check-h1 check-h2");
    ck_assert_str_eq(w.steps.v[0].text,
                     "pull down only faders of free strips; hands off strip 3 (Alex), P5 (Robin)");
    ck_assert_str_eq(step_at(&w, "firmware-p1")->text,
                     "read the firmware off P1: at least 1.10 is needed");
    ck_assert_str_eq(step_at(&w, "firmware-p1")->see, "1.10 or newer; last time it was 1.9");
    ck_assert_str_eq(step_at(&w, "join-p1")->text, "plug P1 into port 1 of hub1 and wait");
    ck_assert_str_eq(step_at(&w, "join-p2")->text,
                     "plug P2 into a free port (note which) and wait");
    ck_assert_str_eq(step_at(&w, "check-h2")->text,
                     "play H2 alone, strip 2's fader down: meter and headphone cue only");
    world_free(&w);
}
END_TEST

START_TEST(the_mixers_own_card_needs_no_player)
{
    struct world w = world_from("m1 card 8; m1 plugged host.2; s1 selects usb; s2 selects line;"
                                "joined m1; h1 wants s1; h2 wants s2; host names from-1");
    order_is(&w, "power-m1 join-m1 interface selector-s1 selector-s2 set-h1 set-h2 check-h1 "
                 "check-h2");
    ck_assert_str_eq(step_at(&w, "selector-s2")->text, "turn strip 2's selector to usb");
    ck_assert_str_eq(step_at(&w, "set-h2")->text, "set H2 to pair 3/4"); /* as it will be */
    ck_assert_str_eq(step_at(&w, "interface")->text,
                     "choose M1, nothing else, and set 48 kHz and 256 frames");
    world_free(&w);
}
END_TEST

START_TEST(expected_channels_count_up_with_odd_cards_and_stand_still_after)
{
    struct world w = world_from("joined p2 p1 x1; p1 card 3; x1 plugged built-in; h1 by p3");
    ck_assert_int_eq(step_at(&w, "join-p2")->expect_channels, 2);
    ck_assert_int_eq(step_at(&w, "join-p1")->expect_channels, 5);
    ck_assert_int_eq(step_at(&w, "join-x1")->expect_channels, 13);
    ck_assert_int_eq(step_at(&w, "plug-p3")->expect_channels, 13);
    ck_assert_int_eq(step_at(&w, "interface")->expect_channels, 13);
    ck_assert_int_eq(step_at(&w, "power-p1")->expect_channels, -1);
    ck_assert(!has_step(&w.steps, "power", "x1"));
    ck_assert_str_eq(step_at(&w, "join-x1")->text,
                     "take X1, which is built in, into the interface");
    world_free(&w);
}
END_TEST

START_TEST(a_saved_combination_is_opened_only_if_it_has_these_models_in_this_order)
{
    const char *world = "joined p1 p2; p1 model dunlin-2; p2 model plover-3; "
                        "host combining by-hand";
    struct booth *b = booth_from(world);
    struct combination *c = add_record(&shape_host, &b->host, "combinations");
    text_set(&c->name, "both");
    texts_add(&c->models, "plover-3");
    texts_add(&c->models, "dunlin-2");
    struct world w = world_of(b);
    ck_assert_str_eq(step_at(&w, "combination")->text, "make a new combination in the host");
    ck_assert_str_eq(step_at(&w, "combination")->see,
                     "an empty one; it will hold P1 (dunlin-2), P2 (plover-3), in this order");
    world_free(&w);
    b = booth_from(world);
    c = add_record(&shape_host, &b->host, "combinations");
    text_set(&c->name, "both");
    texts_add(&c->models, "dunlin-2");
    texts_add(&c->models, "plover-3");
    w = world_of(b);
    ck_assert_str_eq(step_at(&w, "combination")->text, "open the saved combination \"both\"");
    world_free(&w);
}
END_TEST

START_TEST(hubs_come_before_what_hangs_on_them_with_their_supply)
{
    struct booth *b = booth_from(
        "joined p1; p1 plugged hub2.1; hub hub1 4; hub hub2 4; hub hub3 4");
    b->hubs.v[1].plugged = (struct plug){"hub1", 3};
    b->hubs.v[1].self_powered = true;
    struct world w = world_of(b);
    order_is(&w, "power-p1 hub-hub1 hub-hub2 join-p1 interface");
    ck_assert_str_eq(step_at(&w, "hub-hub2")->text,
                     "give hub2 its own supply, then plug it into port 3 of hub1");
    world_free(&w);
}
END_TEST

START_TEST(what_was_found_right_and_still_is_needs_no_step)
{
    struct booth *b = booth_from("p1.line > s1.line; p2.line > s2.line; joined p1 p2;"
                                 "h1 wants s1; h2 wants s2");
    struct input *in = &b->devices.v[1].strips.v[0].inputs.v[0];
    ints_add(&in->levels, LEVEL_LINE);
    ints_add(&in->levels, LEVEL_PHONO);
    struct world w = world_of(booth_copy(b));
    order_is(&w, "power-p1 power-p2 join-p1 join-p2 interface source-p1 source-p2 selector-s1 "
                 "selector-s2 switch-s1 set-h1 set-h2 check-h1 check-h2");
    ck_assert_str_eq(step_at(&w, "switch-s1")->text,
                     "turn the switch of strip 1's line input to line");
    world_free(&w);
    b->found = mem_new(1, sizeof *b->found);
    record_init(&shape_found, b->found);
    map_set(&b->found->source, "p1", "computer");
    map_set(&b->found->source, "p2", "own-media");
    map_set(&b->found->selected, "s1", "line");
    map_set(&b->found->selected, "s2", "phono");
    map_set(&b->found->level, "s1.line", "line");
    w = world_of(b);
    order_is(&w, "power-p1 power-p2 join-p1 join-p2 interface source-p2 selector-s2 set-h1 set-h2 "
                 "check-h1 check-h2");
    world_free(&w);
}
END_TEST

START_TEST(a_player_that_somebody_hears_is_switched_later)
{
    struct world w = world_from("p1.line > s1.line; p1.digital > s2.digital; s2 selects digital;"
                                "s2 in-use Robin; joined p1; p1 own-media; h1 wants s1; "
                                "h2 wants s2");
    ck_assert_str_eq(step_at(&w, "source-p1")->text,
                     "wait with switching P1 to the computer: strip 2 hears it and is in use by "
                     "Robin");
    ck_assert_str_eq(step_at(&w, "check-h1")->text,
                     "wait with playing H1: strip 2 hears it and is in use by Robin");
    ck_assert_ptr_null(strstr(step_at(&w, "join-p1")->why, "no growth"));
    ck_assert(!has_step(&w.steps, "selector", "s2"));
    world_free(&w);
}
END_TEST

START_TEST(ticks_and_notes_come_from_the_venue)
{
    struct booth *b = booth_from("joined p1");
    map_set(&b->checklist, "levels-down", "done");
    map_set(&b->checklist, "laptop", "later");
    map_set(&b->step_notes, "join-p1", "the lead is short");
    struct world w = world_of(b);
    ck_assert(step_at(&w, "levels-down")->done);
    ck_assert(!step_at(&w, "laptop")->done);
    ck_assert_str_eq(step_at(&w, "join-p1")->note, "the lead is short");
    ck_assert_int_eq(steps_current(&w.steps), 1);
    world_free(&w);
}
END_TEST

START_TEST(one_that_controls_two_decks_is_one_step_and_turntables_need_no_lead)
{
    struct world w = world_from("joined p1; h1 by p1; h2 by p1; h3 by t1");
    order_is(&w, "power-p1 power-t1 join-p1 interface control-p1 control-t1");
    ck_assert_str_eq(step_at(&w, "control-p1")->text, "let P1 control H1 and H2");
    ck_assert_str_eq(step_at(&w, "control-t1")->text, "put a control record on T1 for H3");
    ck_assert_ptr_nonnull(strstr(step_at(&w, "levels-down")->see, "earth lead"));
    world_free(&w);
}
END_TEST

START_TEST(an_empty_booth_has_no_steps)
{
    struct world w = world_from("");
    ck_assert_uint_eq(w.steps.n, 0);
    world_free(&w);
}
END_TEST

START_TEST(safety_is_told_and_practice_is_called_practice)
{
    struct world w = world_from("p1.line > s1.line; joined p1; h1 wants s1");
    static const char *const practice[] = {"levels-down", "laptop",    "power-p1",    "join-p1",
                                           "interface",   "source-p1", "selector-s1", "check-h1"};
    for (size_t i = 0; i < sizeof practice / sizeof *practice; i++) {
        const char *why = step_at(&w, practice[i])->why;
        ck_assert_msg(strstr(why, "(common practice, no source)") != NULL, "%s", practice[i]);
    }
    const char *why = step_at(&w, "levels-down")->why;
    ck_assert_ptr_nonnull(strstr(why, "never lift a protective earth"));
    ck_assert_ptr_nonnull(strstr(why, "licensed electrician"));
    ck_assert_ptr_nonnull(strstr(why, "in twos"));
    ck_assert_ptr_nonnull(strstr(why, "walkway"));
    ck_assert_ptr_nonnull(strstr(step_at(&w, "check-h1")->why, "harms hearing"));
    world_free(&w);
}
END_TEST

/* --- laws over random booths --------------------------------------------------------------------
 */

static int rank_of(const char *id)
{
    static const char *const kinds[] = {
        "levels-down", "laptop", "power-",   "firmware-", "driver",  "combination",
        "hub-",        "join-",  "plug-",    "interface", "source-", "selector-",
        "switch-",     "set-",   "control-", "check-",    "save",    "restore-"};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (strncmp(id, kinds[i], strlen(kinds[i])) == 0)
            return (int)i;
    return -1;
}

START_TEST(kinds_come_in_their_order_each_id_once_and_counts_only_grow)
{
    for (unsigned seed = 0; seed < 300; seed++) {
        struct world w = world_of(booth_random(seed));
        int rank = 0, channels = 0;
        for (size_t i = 0; i < w.steps.n; i++) {
            const struct step *s = &w.steps.v[i];
            ck_assert_msg(rank_of(s->id) >= rank, "seed %u: %s", seed, s->id);
            rank = rank_of(s->id);
            ck_assert_msg(*s->text && *s->see && !strchr(s->text, '$'), "seed %u", seed);
            for (size_t k = 0; k < i; k++)
                ck_assert_msg(strcmp(s->id, w.steps.v[k].id) != 0, "seed %u: %s", seed, s->id);
            bool joins = strncmp(s->id, "join-", 5) == 0;
            if (s->expect_channels < 0)
                continue;
            ck_assert_msg(joins ? s->expect_channels > channels : s->expect_channels == channels,
                          "seed %u: %s", seed, s->id);
            channels = s->expect_channels;
        }
        world_free(&w);
    }
}
END_TEST

static void hands_off(const struct steps *s, const char *id, const char *const kinds[], size_t n,
                      unsigned seed)
{
    for (size_t i = 0; i < n; i++)
        ck_assert_msg(!has_step(s, kinds[i], id), "seed %u: %s-%s", seed, kinds[i], id);
}

static bool starts(const char *text, const char *with)
{
    return strncmp(text, with, strlen(with)) == 0;
}

START_TEST(nothing_in_use_is_ever_told_to_be_touched)
{
    static const char *const device[] = {"power", "firmware", "join", "plug", "source", "control"};
    static const char *const strip[] = {"selector", "switch"};
    static const char *const mixer[] = {"power"};
    int waits = 0;
    for (unsigned seed = 0; seed < 400; seed++) {
        struct world w = world_of(booth_random(seed));
        for (size_t i = 0; i < w.b->devices.n; i++) {
            const struct device *d = &w.b->devices.v[i];
            if (d->in_use)
                hands_off(&w.steps, d->id, device, sizeof device / sizeof *device, seed);
            if (d->in_use && booth_hub(w.b, d->plugged.at))
                ck_assert_msg(!has_step(&w.steps, "hub", d->plugged.at), "seed %u", seed);
            for (size_t k = 0; k < d->strips.n; k++) {
                if (!d->strips.v[k].in_use)
                    continue;
                hands_off(&w.steps, d->strips.v[k].id, strip, 2, seed);
                hands_off(&w.steps, d->id, mixer, 1, seed);
            }
        }
        for (size_t i = 0; i < w.b->decks.n; i++) {
            const struct strip *wanted = booth_strip(w.b, w.b->decks.v[i].wants, NULL);
            const char *id = w.b->decks.v[i].id;
            char name[REF_SIZE];
            snprintf(name, sizeof name, "check-%.32s", id);
            if (!wanted || !wanted->in_use || !has_step(&w.steps, "check", id))
                continue;
            ck_assert_msg(starts(step_at(&w, name)->text, "wait with"), "seed %u: %s", seed, name);
            waits++;
        }
        world_free(&w);
    }
    ck_assert_int_gt(waits, 0);
}
END_TEST

Suite *test_order(void)
{
    Suite *s = suite_create("engine/order");
    TCase *t = tcase_create("order");
    tcase_add_test(t, a_quiet_room_combined_by_hand_goes_from_levels_to_save);
    tcase_add_test(t, a_live_room_by_driver_leaves_what_is_in_use_alone);
    tcase_add_test(t, the_mixers_own_card_needs_no_player);
    tcase_add_test(t, expected_channels_count_up_with_odd_cards_and_stand_still_after);
    tcase_add_test(t, a_saved_combination_is_opened_only_if_it_has_these_models_in_this_order);
    tcase_add_test(t, hubs_come_before_what_hangs_on_them_with_their_supply);
    tcase_add_test(t, what_was_found_right_and_still_is_needs_no_step);
    tcase_add_test(t, a_player_that_somebody_hears_is_switched_later);
    tcase_add_test(t, ticks_and_notes_come_from_the_venue);
    tcase_add_test(t, one_that_controls_two_decks_is_one_step_and_turntables_need_no_lead);
    tcase_add_test(t, an_empty_booth_has_no_steps);
    tcase_add_test(t, safety_is_told_and_practice_is_called_practice);
    tcase_add_test(t, kinds_come_in_their_order_each_id_once_and_counts_only_grow);
    tcase_add_test(t, nothing_in_use_is_ever_told_to_be_touched);
    suite_add_tcase(s, t);
    return s;
}
