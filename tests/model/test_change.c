#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "model/change.h"
#include "model/history.h"
#include "model/shape.h"
#include "model/sound.h"
#include "support/booth_from.h"

static struct change change_to(enum change_do what, const char *a, const char *b, int number)
{
    struct change c = change_of(what, a, b);
    c.number = number;
    return c;
}

static struct change third(struct change c, const char *name)
{
    snprintf(c.c, sizeof c.c, "%s", name);
    return c;
}

/* Makes it; the booth must stay sound. */
static void make(struct booth *b, struct change c)
{
    struct err e = {0};
    ck_assert_msg(change_make(b, &c, &e), "%s", e.says);
    ck_assert_msg(booth_sound(b, &e), "%s: %s", e.place, e.says);
}

static void refuse(struct booth *b, struct change c, const char *says)
{
    struct err e = {0};
    struct booth *before = booth_copy(b);
    ck_assert(!change_make(b, &c, &e));
    ck_assert_str_eq(e.says, says);
    ck_assert(booth_equal(b, before));
    booth_free(before);
}

static void says(const struct booth *b, struct change c, const char *text)
{
    struct str out = {0};
    change_say(b, &c, &out);
    ck_assert_str_eq(str_text(&out), text);
    str_clear(&out);
}

START_TEST(a_deck_that_takes_a_strip_gives_its_own_to_the_deck_that_was_there)
{
    struct booth *b = booth_from("h1 wants s1; h2 wants s2; h3 wants s2");
    make(b, change_of(CHANGE_WANT, "h1", "s2"));
    ck_assert_str_eq(booth_deck(b, "h1")->wants, "s2");
    ck_assert_str_eq(booth_deck(b, "h2")->wants, "s1");
    ck_assert_str_eq(booth_deck(b, "h3")->wants, "");
    make(b, change_of(CHANGE_WANT, "h1", ""));
    ck_assert_str_eq(booth_deck(b, "h1")->wants, "");
    refuse(b, change_of(CHANGE_WANT, "h1", "s9"), "there is no strip \"s9\"");
    booth_free(b);
}
END_TEST

START_TEST(a_deck_is_set_and_controlled)
{
    struct booth *b = booth_from("joined p1; m1 place 1; h1 by p1");
    struct change set = change_of(CHANGE_SET, "h1", NULL);
    set.pair = (struct pair){2, 3};
    make(b, set);
    ck_assert_int_eq(booth_deck(b, "h1")->set_to.right, 3);
    set.pair = (struct pair){2, MAX_CHANNEL + 1};
    refuse(b, set, "2/16384 is no pair: the host counts from 0 to 16383");
    set.pair = (struct pair){-1, 5};
    make(b, set);
    ck_assert_int_eq(booth_deck(b, "h1")->set_to.left, -1);
    make(b, change_of(CHANGE_CONTROL, "h1", ""));
    ck_assert_str_eq(booth_deck(b, "h1")->controlled_by, "");
    refuse(b, change_of(CHANGE_CONTROL, "h1", "m1"), "M1 cannot control a deck: it is a mixer");
    booth_free(b);
}
END_TEST

START_TEST(selectors_and_switches_turn_to_what_they_have)
{
    struct booth *b = booth_from("p1.line > s1.line");
    struct input *in = &b->devices.v[1].strips.v[0].inputs.v[0];
    ints_add(&in->levels, LEVEL_LINE);
    ints_add(&in->levels, LEVEL_PHONO);
    make(b, change_of(CHANGE_SELECT, "s1", "digital"));
    ck_assert_str_eq(booth_strip(b, "s1", NULL)->selected, "digital");
    refuse(b, change_of(CHANGE_SELECT, "s1", "usb"), "strip 1 has no input \"usb\"");
    make(b, change_to(CHANGE_SWITCH, "s1.line", "", LEVEL_PHONO));
    ck_assert_int_eq(strip_input(booth_strip(b, "s1", NULL), "line")->level, LEVEL_PHONO);
    refuse(b, change_to(CHANGE_SWITCH, "s1.digital", "", LEVEL_LINE),
           "\"s1.digital\" has no switch that stands like that");
    booth_free(b);
}
END_TEST

START_TEST(a_cable_comes_is_turned_moves_at_both_ends_and_goes)
{
    struct booth *b = booth_from("p1.line > s1.line; p2.line > s2.line; h1 wants s3");
    make(b, change_to(CHANGE_CABLE, "p1.digital", "s1.digital", SIDES_SWAPPED));
    ck_assert_int_eq(booth_cable(b, "p1.digital", "s1.digital")->sides, SIDES_SWAPPED);
    make(b, change_to(CHANGE_CABLE, "p1.digital", "s1.digital", SIDES_STRAIGHT));
    ck_assert_uint_eq(b->cables.n, 3);
    ck_assert_int_eq(booth_cable(b, "p1.digital", "s1.digital")->sides, SIDES_STRAIGHT);
    make(b, third(change_of(CHANGE_CABLE_MOVE, "p1.line", "s1.line"), "s3.line"));
    make(b, third(change_of(CHANGE_CABLE_FROM, "p1.line", "s3.line"), "p2.digital"));
    ck_assert_str_eq(b->cables.v[0].from, "p2.digital");
    ck_assert_str_eq(b->cables.v[0].to, "s3.line");
    make(b, change_of(CHANGE_UNCABLE, "p2.digital", "s3.line"));
    ck_assert_uint_eq(b->cables.n, 2);
    refuse(b, change_of(CHANGE_UNCABLE, "p2.digital", "s3.line"),
           "there is no cable from \"p2.digital\" to \"s3.line\"");
    refuse(b, third(change_of(CHANGE_CABLE_FROM, "p2.line", "s2.line"), "p7.line"),
           "there is no output \"p7.line\"");
    booth_free(b);
}
END_TEST

START_TEST(no_cable_ends_in_a_usb_input_or_lies_there_twice)
{
    struct booth *b = booth_from("m1 card 8; p1.line > s1.line; p1.line > s2.line");
    refuse(b, change_of(CHANGE_CABLE, "p1.line", "s1.usb"),
           "\"s1.usb\" is a usb input: no cable ends there");
    refuse(b, third(change_of(CHANGE_CABLE_MOVE, "p1.line", "s1.line"), "s2.line"),
           "there is a cable from \"p1.line\" to \"s2.line\" already");
    booth_free(b);
}
END_TEST

START_TEST(only_players_have_a_source)
{
    struct booth *b = booth_from("joined p1; t1.phono > s1.phono");
    make(b, change_to(CHANGE_SOURCE, "p1", "", SOURCE_OWN_MEDIA));
    ck_assert_int_eq(booth_device(b, "p1")->source, SOURCE_OWN_MEDIA);
    refuse(b, change_to(CHANGE_SOURCE, "t1", "", SOURCE_COMPUTER),
           "T1 has no source to switch: it is no player");
    booth_free(b);
}
END_TEST

START_TEST(devices_join_at_a_place_leave_and_stand_from_left_to_right)
{
    struct booth *b = booth_from("joined p3 x1 p2; m1 place 1; p1 place 1");
    make(b, change_to(CHANGE_JOIN, "p1", "", -1));
    ck_assert_str_eq(b->joined.v[3], "p1");
    make(b, change_to(CHANGE_JOIN, "p1", "", 1));
    ck_assert_str_eq(b->joined.v[1], "p1");
    make(b, change_of(CHANGE_ORDER, NULL, NULL));
    const char *order[] = {"p1", "p2", "x1", "p3"};
    for (size_t i = 0; i < 4; i++)
        ck_assert_str_eq(b->joined.v[i], order[i]);
    make(b, change_of(CHANGE_LEAVE, "p2", NULL));
    ck_assert_uint_eq(b->joined.n, 3);
    refuse(b, change_of(CHANGE_LEAVE, "p2", NULL), "P2 is not in the interface");
    refuse(b, change_to(CHANGE_JOIN, "m1", "", -1), "M1 has no sound card to join");
    booth_free(b);
}
END_TEST

START_TEST(data_leads_go_to_ports_but_hubs_never_behind_themselves)
{
    struct booth *b = booth_from("hub hub1 4; hub hub2 4; joined p1");
    make(b, change_to(CHANGE_PLUG, "hub2", "hub1", 2));
    make(b, change_to(CHANGE_PLUG, "p1", "hub2", 4));
    ck_assert_str_eq(booth_device(b, "p1")->plugged.at, "hub2");
    ck_assert_int_eq(booth_device(b, "p1")->plugged.port, 4);
    refuse(b, change_to(CHANGE_PLUG, "hub1", "hub2", 1), "hub1 would be plugged in behind itself");
    refuse(b, change_to(CHANGE_PLUG, "p1", "hub1", 0), "there is no port 0: ports count from 1");
    refuse(b, change_to(CHANGE_PLUG, "p1", "hub9", 1), "there is no hub \"hub9\"");
    make(b, change_of(CHANGE_PLUG, "p1", "built-in"));
    make(b, change_of(CHANGE_PLUG, "p1", ""));
    ck_assert_str_eq(booth_device(b, "p1")->plugged.at, "");
    booth_free(b);
}
END_TEST

START_TEST(places_are_exchanged_also_of_two_in_one_place)
{
    struct booth *b = booth_from("joined p1 p2; t1.phono > s1.phono; h1 wants s2; s2 place 1");
    make(b, change_of(CHANGE_PLACE, "p1", "p2"));
    ck_assert_int_eq(booth_device(b, "p1")->place, 2);
    make(b, change_of(CHANGE_PLACE, "s1", "s2"));
    ck_assert(booth_strip(b, "s2", NULL) < booth_strip(b, "s1", NULL));
    refuse(b, change_of(CHANGE_PLACE, "p1", "t1"),
           "places count within a kind: P1 is a player, T1 a turntable");
    booth_free(b);
}
END_TEST

START_TEST(things_are_marked_labelled_and_made_alike)
{
    struct booth *b = booth_from("joined p1 p2; p1 model dunlin-2; p1 card 4; hub hub1 4;"
                                 "h1 wants s1");
    make(b, change_of(CHANGE_IN_USE, "s1", "Robin"));
    ck_assert_str_eq(booth_strip(b, "s1", NULL)->in_use, "Robin");
    make(b, change_of(CHANGE_IN_USE, "s1", ""));
    ck_assert_ptr_null(booth_strip(b, "s1", NULL)->in_use);
    const char *const ids[] = {"p1", "s1", "h1", "hub1"};
    for (size_t i = 0; i < 4; i++) {
        make(b, change_of(CHANGE_LABEL, ids[i], "Left"));
        ck_assert_str_eq(booth_label(b, ids[i]), "Left");
    }
    refuse(b, change_of(CHANGE_LABEL, "p1", ""), "a label cannot be empty");
    make(b, change_of(CHANGE_MODEL, "p2", "p1"));
    ck_assert_str_eq(booth_device(b, "p2")->model, "dunlin-2");
    ck_assert_int_eq(booth_device(b, "p2")->card->out_channels, 4);
    booth_free(b);
}
END_TEST

START_TEST(long_texts_are_cut_at_a_character)
{
    char text[80];
    memset(text, 'x', sizeof text);
    memcpy(text + 64, "\xc3\xb8", 3);
    ck_assert_uint_eq(strlen(change_of(CHANGE_LABEL, "p1", text).b), 64);
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    ck_assert_uint_eq(strlen(change_of(CHANGE_LABEL, "p1", text).b), REF_SIZE - 1);
}
END_TEST

START_TEST(a_new_player_is_complete_and_like_the_last)
{
    struct booth *b = booth_new("Tideline Hall");
    make(b, change_to(CHANGE_ADD, "", "", THING_PLAYER));
    const struct device *p = booth_device(b, "p1");
    ck_assert_str_eq(p->label, "P1");
    ck_assert_int_eq(p->card->out_channels, 2);
    ck_assert_int_eq(p->card->bits, 24);
    ck_assert_int_eq(p->source, SOURCE_OWN_MEDIA);
    ck_assert_str_eq(p->plugged.at, "");
    ck_assert(booth_output(b, "p1.line", NULL) && booth_output(b, "p1.digital", NULL));
    make(b, change_to(CHANGE_PLUG, "p1", "host", 1));
    text_set(&b->devices.v[0].model, "dunlin 2");
    b->devices.v[0].control = CONTROL_HID;
    make(b, change_to(CHANGE_ADD, "", "", THING_PLAYER));
    p = booth_device(b, "p2");
    ck_assert_str_eq(p->model, "dunlin 2");
    ck_assert_int_eq(p->control, CONTROL_HID);
    ck_assert_int_eq(p->place, 2);
    ck_assert_str_eq(p->plugged.at, "host");
    ck_assert_int_eq(p->plugged.port, 2);
    make(b, change_to(CHANGE_ADD, "", "", THING_PLAYER)); /* the laptop has two ports */
    ck_assert_str_eq(booth_device(b, "p3")->plugged.at, "");
    booth_free(b);
}
END_TEST

START_TEST(every_kind_of_thing_can_be_added_and_removed)
{
    static const char *const ids[] = {"p1", "t1", "m1", "x1", "c1", "s2", "h1", "hub1"};
    struct booth *b = booth_new("Tideline Hall");
    for (int kind = THING_PLAYER; kind <= THING_HUB; kind++) {
        make(b, change_to(CHANGE_ADD, "", "", kind));
        ck_assert_str_ne(booth_label(b, ids[kind]), ids[kind]);
    }
    ck_assert_uint_eq(booth_device(b, "x1")->outputs.n, 4);
    ck_assert_int_eq(booth_device(b, "x1")->card->out_channels, 8);
    ck_assert_int_eq(booth_hub(b, "hub1")->ports, 4);
    ck_assert_str_eq(booth_label(b, "s2"), "2");
    ck_assert_int_eq(booth_strip(b, "s2", NULL)->place, 2);
    for (int kind = THING_HUB; kind >= THING_PLAYER; kind--)
        make(b, change_of(CHANGE_REMOVE, ids[kind], NULL));
    ck_assert_uint_eq(b->devices.n + b->decks.n + b->hubs.n, 0);
    refuse(b, change_of(CHANGE_REMOVE, "p1", NULL), "there is nothing called \"p1\" here");
    refuse(b, change_to(CHANGE_ADD, "", "", THING_STRIP),
           "there is no mixer for a strip; add one first");
    booth_free(b);
}
END_TEST

START_TEST(a_new_strip_takes_its_own_channels_of_the_mixers_card_while_there_are_any)
{
    struct booth *b = booth_from("m1 card 4; h1 wants s1");
    make(b, change_to(CHANGE_ADD, "m1", "", THING_STRIP));
    const struct input *usb = strip_input(booth_strip(b, "s2", NULL), "usb");
    ck_assert_int_eq(usb->channels.v[0], 3);
    ck_assert_int_eq(usb->channels.v[1], 4);
    make(b, change_to(CHANGE_ADD, "m1", "", THING_STRIP));
    ck_assert_ptr_null(strip_input(booth_strip(b, "s3", NULL), "usb"));
    ck_assert_ptr_nonnull(strip_input(booth_strip(b, "s3", NULL), "phono"));
    booth_free(b);
}
END_TEST

START_TEST(limits_refuse_with_a_sentence)
{
    struct booth *b = booth_from("joined p1; h1 wants s1");
    const struct {
        int kind, most;
        const char *says;
    } rows[] = {{THING_DECK, MAX_DECKS, "a booth has at most 64 host decks"},
                {THING_HUB, MAX_HUBS, "a booth has at most 32 hubs"},
                {THING_PLAYER, MAX_PLAYERS, "a booth has at most 64 players"},
                {THING_STRIP, MAX_STRIPS, "a booth has at most 64 strips"},
                {THING_CONTROLLER, MAX_DEVICES, "a booth has at most 128 devices"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct change c = change_to(CHANGE_ADD, "", "", rows[i].kind);
        struct err e = {0};
        int made = 0;
        while (made <= rows[i].most && change_make(b, &c, &e))
            made++;
        ck_assert_int_le(made, rows[i].most);
        refuse(b, c, rows[i].says);
    }
    booth_free(b);
}
END_TEST

START_TEST(what_is_removed_takes_along_all_that_names_it_but_not_the_past)
{
    struct booth *b = booth_from("p1.line > s1.line; p2.line > s2.line; joined p1 p2;"
                                 "h1 wants s1; h1 by p1; hub hub1 4; p2 plugged hub1.1");
    map_set(&b->checklist, "join-p1", "done");
    make(b, change_of(CHANGE_REMOVE, "p1", NULL));
    ck_assert_uint_eq(b->cables.n, 1);
    ck_assert_uint_eq(b->joined.n, 1);
    ck_assert_str_eq(booth_deck(b, "h1")->controlled_by, "");
    ck_assert_ptr_nonnull(map_find(&b->checklist, "join-p1"));
    make(b, change_of(CHANGE_REMOVE, "hub1", NULL));
    ck_assert_str_eq(booth_device(b, "p2")->plugged.at, "");
    make(b, change_of(CHANGE_REMOVE, "m1", NULL));
    ck_assert_uint_eq(b->cables.n, 0);
    ck_assert_str_eq(booth_deck(b, "h1")->wants, "");
    make(b, change_of(CHANGE_REMOVE, "p2", NULL));
    make(b, change_to(CHANGE_ADD, "", "", THING_PLAYER));
    ck_assert_msg(booth_device(b, "p2") != NULL, "p1 is ticked off: the new one is another");
    booth_free(b);
}
END_TEST

START_TEST(the_host_learns_rates_drift_and_combinations)
{
    struct booth *b = booth_from("joined p1 p2; p1 model dunlin-2; p2 model dunlin-2");
    make(b, change_to(CHANGE_RATE, "", "", 96000));
    ck_assert_int_eq(b->host.rate_hz, 96000);
    refuse(b, change_to(CHANGE_RATE, "", "", 1), "1 Hz is no rate: expected 8000 to 768000");
    make(b, change_to(CHANGE_DRIFT, "", "", 1));
    ck_assert(b->host.drift_correction);
    make(b, change_of(CHANGE_COMBINE, NULL, NULL));
    ck_assert_str_eq(b->host.combinations.v[0].name, "two dunlin-2");
    ck_assert_uint_eq(b->host.combinations.v[0].models.n, 2);
    refuse(b, change_of(CHANGE_COMBINE, NULL, NULL),
           "a combination of these models is saved already");
    make(b, change_of(CHANGE_LEAVE, "p2", NULL));
    refuse(b, change_of(CHANGE_COMBINE, NULL, NULL),
           "a combination needs at least two joined devices");
    booth_free(b);
}
END_TEST

START_TEST(steps_are_ticked_and_noted)
{
    struct booth *b = booth_from("joined p1");
    make(b, change_to(CHANGE_TICK, "join-p1", "", 1));
    make(b, change_of(CHANGE_NOTE, "join-p1", "the lead is short"));
    ck_assert_str_eq(map_find(&b->checklist, "join-p1")->value, "done");
    ck_assert_str_eq(map_find(&b->step_notes, "join-p1")->value, "the lead is short");
    make(b, change_to(CHANGE_TICK, "join-p1", "", 0));
    make(b, change_of(CHANGE_NOTE, "join-p1", ""));
    ck_assert_uint_eq(b->checklist.n + b->step_notes.n, 0);
    booth_free(b);
}
END_TEST

START_TEST(changes_that_belong_together_are_made_all_or_not_at_all)
{
    struct booth *b = booth_from("p1.line > s1.line; p2.line > s2.line");
    struct booth *before = booth_copy(b);
    struct changes c = {0};
    struct err e = {0};
    changes_add(&c, third(change_of(CHANGE_CABLE_MOVE, "p1.line", "s1.line"), "s2.line"));
    changes_add(&c, third(change_of(CHANGE_CABLE_MOVE, "p2.line", "s2.line"), "s1.line"));
    ck_assert(changes_make(b, &c, &e));
    ck_assert_ptr_nonnull(booth_cable(b, "p2.line", "s1.line"));
    ck_assert(!changes_make(b, &c, &e)); /* the first has moved away */
    booth_free(b);
    b = booth_copy(before);
    changes_add(&c, change_of(CHANGE_SELECT, "s1", "nowhere"));
    ck_assert(!changes_make(b, &c, &e));
    ck_assert(booth_equal(b, before));
    changes_clear(&c);
    booth_free(b);
    booth_free(before);
}
END_TEST

START_TEST(changes_are_told_as_orders_to_a_person)
{
    struct booth *b = booth_from("p1.line > s1.line; joined p1; h1 wants s4; hub hub1 4;"
                                 "host names from-1; x1 place 1");
    struct change set = change_of(CHANGE_SET, "h1", NULL);
    set.pair = (struct pair){2, 3};
    says(b, set, "set H1 to pair 3/4");
    says(b, change_of(CHANGE_WANT, "h1", "s1"), "let H1 be heard on strip 1");
    says(b, change_of(CHANGE_SELECT, "s4", "line"), "turn strip 4's selector to line");
    says(b, change_of(CHANGE_CABLE, "p1.digital", "s4.digital"),
         "run a cable from P1's digital output to strip 4's digital input");
    says(b, third(change_of(CHANGE_CABLE_MOVE, "p1.line", "s1.line"), "s4.line"),
         "move the plug of P1's line output to strip 4's line input");
    says(b, change_to(CHANGE_PLUG, "p1", "host", 2), "plug P1 into port 2 of the laptop");
    says(b, change_to(CHANGE_JOIN, "x1", "", -1), "join X1, after the others");
    says(b, change_to(CHANGE_ADD, "", "", THING_INTERFACE), "add an interface");
    says(b, change_to(CHANGE_RATE, "", "", 44100), "set the rate to 44.1 kHz");
    says(b, change_of(CHANGE_SELECT, "s9", "line"), "turn s9's selector to line");
    booth_free(b);
}
END_TEST

START_TEST(what_is_in_use_is_touched_by_hands_not_by_words)
{
    struct booth *b = booth_from("p1.line > s1.line; p2.line > s2.line; joined p1 p2; hub hub1 4;"
                                 "p2 plugged hub1.1; s1 in-use Robin; p2 in-use Robin");
    const struct {
        struct change c;
        bool touches;
    } rows[] = {
        {change_of(CHANGE_SELECT, "s1", "phono"), true},
        {change_of(CHANGE_SELECT, "s2", "phono"), false},
        {change_of(CHANGE_UNCABLE, "p1.line", "s1.line"), true},
        {change_of(CHANGE_CABLE, "p1.digital", "s2.digital"), false},
        {change_of(CHANGE_CABLE, "p2.digital", "s2.digital"), true},
        {third(change_of(CHANGE_CABLE_MOVE, "p1.digital", "s2.digital"), "s1.phono"), true},
        {change_to(CHANGE_SOURCE, "p2", "", SOURCE_COMPUTER), true},
        {change_to(CHANGE_SOURCE, "p1", "", SOURCE_COMPUTER), false},
        {change_to(CHANGE_JOIN, "p2", "", -1), true},
        {change_of(CHANGE_LEAVE, "p2", NULL), false},
        {change_of(CHANGE_PLUG, "p2", ""), true},
        {change_of(CHANGE_PLUG, "hub1", ""), true},
        {change_of(CHANGE_REMOVE, "p1", NULL), true}, /* its cable holds strip 1 */
        {change_of(CHANGE_REMOVE, "h1", NULL), false},
        {change_of(CHANGE_IN_USE, "s1", ""), false},
        {change_of(CHANGE_LABEL, "p2", "Left"), false},
        {change_of(CHANGE_WANT, "h1", "s1"), false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_msg(change_touches_in_use(b, &rows[i].c) == rows[i].touches, "row %zu", i);
    booth_free(b);
}
END_TEST

/* --- laws over random changes ------------------------------------------------------------------
 */

static const char *any_of(unsigned long long *state, const struct texts *names)
{
    return names->n ? names->v[random_below(state, (unsigned)names->n)] : "";
}

static void name_jacks(const struct inputs *inputs, const char *owner, struct texts *names)
{
    char name[REF_SIZE];
    for (size_t i = 0; i < inputs->n; i++) {
        snprintf(name, sizeof name, "%.32s.%.32s", owner, inputs->v[i].id);
        texts_add(names, name);
        texts_add(names, inputs->v[i].id);
    }
}

/* Every name in a booth, and some that are not there. */
static void name_all(const struct booth *b, struct texts *names)
{
    char name[REF_SIZE];
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        texts_add(names, d->id);
        name_jacks(&d->inputs, d->id, names);
        for (size_t k = 0; k < d->outputs.n; k++) {
            snprintf(name, sizeof name, "%.32s.%.32s", d->id, d->outputs.v[k].id);
            texts_add(names, name);
        }
        for (size_t k = 0; k < d->strips.n; k++) {
            texts_add(names, d->strips.v[k].id);
            name_jacks(&d->strips.v[k].inputs, d->strips.v[k].id, names);
        }
    }
    for (size_t i = 0; i < b->decks.n; i++)
        texts_add(names, b->decks.v[i].id);
    for (size_t i = 0; i < b->hubs.n; i++)
        texts_add(names, b->hubs.v[i].id);
    static const char *const others[] = {"", "host", "built-in", "p99", "s99.line", "Robin"};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        texts_add(names, others[i]);
}

static struct change random_change(const struct booth *b, unsigned long long *state)
{
    struct texts names = {0};
    name_all(b, &names);
    enum change_do what = (enum change_do)random_below(state, CHANGE_NOTE + 1);
    const char *x = any_of(state, &names);
    struct change c = change_of(what, x, any_of(state, &names));
    snprintf(c.c, sizeof c.c, "%s", any_of(state, &names));
    c.pair.left = (int)random_below(state, 20) - 2;
    c.pair.right = (int)random_below(state, 20);
    c.number = (int)random_below(state, 12) - 1;
    if (what == CHANGE_UNCABLE || what == CHANGE_CABLE_MOVE || what == CHANGE_CABLE_FROM)
        if (b->cables.n) {
            const struct cable *cable = &b->cables.v[random_below(state, (unsigned)b->cables.n)];
            memcpy(c.a, cable->from, sizeof c.a);
            memcpy(c.b, cable->to, sizeof c.b);
        }
    if (what <= CHANGE_CONTROL && b->decks.n)
        strcpy(c.a, b->decks.v[random_below(state, (unsigned)b->decks.n)].id);
    if (what == CHANGE_RATE)
        c.number = 7000 + (int)random_below(state, 90000);
    texts_clear(&names);
    return c;
}

/* Random changes on a random booth: made, told and asked about; kept in a history. Counts the
 * kinds that were made. */
static void play(unsigned seed, int made[CHANGE_NOTE + 1])
{
    unsigned long long state = seed;
    struct booth *first = booth_random(seed);
    struct history *h = history_new(booth_copy(first));
    for (int i = 0; i < 30; i++) {
        struct booth *next = booth_copy(history_booth(h)), *before = booth_copy(next);
        struct change c = random_change(next, &state);
        struct str told = {0};
        struct err e = {0};
        change_say(next, &c, &told);
        ck_assert_msg(told.len > 0, "seed %u, change %d", seed, i);
        change_touches_in_use(next, &c);
        if (change_make(next, &c, &e)) {
            made[c.what]++;
            ck_assert_msg(booth_sound(next, &e), "seed %u, change %d: %s", seed, i, e.says);
        } else {
            ck_assert_msg(booth_equal(next, before), "seed %u, change %d", seed, i);
            ck_assert_msg(e.code == ERR_USAGE && *e.says, "seed %u, change %d", seed, i);
        }
        history_commit(h, next, str_text(&told));
        booth_free(before);
        str_clear(&told);
    }
    while (history_undo(h))
        ;
    ck_assert_msg(booth_equal(history_booth(h), first), "seed %u", seed);
    booth_free(first);
    history_free(h);
}

START_TEST(random_changes_keep_a_booth_sound_and_undoing_all_gives_the_first)
{
    int made[CHANGE_NOTE + 1] = {0};
    for (unsigned seed = 0; seed < 300; seed++)
        play(seed, made);
    for (int i = 0; i <= CHANGE_NOTE; i++)
        ck_assert_msg(made[i] > 0, "no change of kind %d was ever made", i);
}
END_TEST

Suite *test_change(void)
{
    Suite *s = suite_create("model/change");
    TCase *t = tcase_create("change");
    tcase_add_test(t, a_deck_that_takes_a_strip_gives_its_own_to_the_deck_that_was_there);
    tcase_add_test(t, a_deck_is_set_and_controlled);
    tcase_add_test(t, selectors_and_switches_turn_to_what_they_have);
    tcase_add_test(t, a_cable_comes_is_turned_moves_at_both_ends_and_goes);
    tcase_add_test(t, no_cable_ends_in_a_usb_input_or_lies_there_twice);
    tcase_add_test(t, only_players_have_a_source);
    tcase_add_test(t, devices_join_at_a_place_leave_and_stand_from_left_to_right);
    tcase_add_test(t, data_leads_go_to_ports_but_hubs_never_behind_themselves);
    tcase_add_test(t, places_are_exchanged_also_of_two_in_one_place);
    tcase_add_test(t, things_are_marked_labelled_and_made_alike);
    tcase_add_test(t, long_texts_are_cut_at_a_character);
    tcase_add_test(t, a_new_player_is_complete_and_like_the_last);
    tcase_add_test(t, every_kind_of_thing_can_be_added_and_removed);
    tcase_add_test(t, a_new_strip_takes_its_own_channels_of_the_mixers_card_while_there_are_any);
    tcase_add_test(t, limits_refuse_with_a_sentence);
    tcase_add_test(t, what_is_removed_takes_along_all_that_names_it_but_not_the_past);
    tcase_add_test(t, the_host_learns_rates_drift_and_combinations);
    tcase_add_test(t, steps_are_ticked_and_noted);
    tcase_add_test(t, changes_that_belong_together_are_made_all_or_not_at_all);
    tcase_add_test(t, changes_are_told_as_orders_to_a_person);
    tcase_add_test(t, what_is_in_use_is_touched_by_hands_not_by_words);
    tcase_add_test(t, random_changes_keep_a_booth_sound_and_undoing_all_gives_the_first);
    suite_add_tcase(s, t);
    return s;
}
