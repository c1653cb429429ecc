#include <check.h>

#include "support/booth_from.h"
#include "ui/drag.h"

/* What putting one spot down on another does, as orders to a person. */
static const char *dropped(const char *world, struct spot from, struct spot over)
{
    static struct str said;
    struct booth *b = booth_from(world);
    struct drag d = {.from = from, .over = over};
    struct changes c = {0};
    str_clear(&said);
    if (!drag_changes(b, &d, &c))
        str_add(&said, "nothing");
    for (size_t i = 0; i < c.n; i++) {
        struct err e;
        if (i)
            str_add(&said, "; ");
        change_say(b, &c.v[i], &said);
        ck_assert_msg(change_make(b, &c.v[i], &e), "%s", e.says);
    }
    changes_clear(&c);
    booth_free(b);
    return str_text(&said);
}

static struct spot deck(const char *name)
{
    return spot_of(SPOT_DECK, name);
}

static struct spot strip(const char *name)
{
    return spot_of(SPOT_STRIP, name);
}

static struct spot out(const char *name)
{
    return spot_of(SPOT_OUTPUT, name);
}

static struct spot in(const char *name)
{
    return spot_of(SPOT_INPUT, name);
}

#define WORLD "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 wants s2"

START_TEST(a_deck_on_an_occupied_strip_or_on_a_deck_exchanges_the_two)
{
    struct booth *b = booth_from(WORLD);
    struct spot targets[] = {strip("s2"), deck("h2"), in("s2.line")};
    for (size_t i = 0; i < sizeof targets / sizeof *targets; i++) {
        struct booth *next = booth_copy(b);
        struct drag d = {.from = deck("h1"), .over = targets[i]};
        struct changes c = {0};
        struct err e;
        ck_assert(drag_changes(b, &d, &c));
        ck_assert(changes_make(next, &c, &e));
        ck_assert_str_eq(booth_deck(next, "h1")->wants, "s2");
        ck_assert_str_eq(booth_deck(next, "h2")->wants, "s1");
        changes_clear(&c);
        booth_free(next);
    }
    booth_free(b);
}
END_TEST

START_TEST(a_plug_on_an_occupied_input_exchanges_the_two_plugs)
{
    struct booth *b = booth_from(WORLD);
    struct drag d = {.from = in("s1.line"), .over = in("s2.line")};
    struct changes c = {0};
    struct err e;
    ck_assert(drag_changes(b, &d, &c));
    ck_assert(changes_make(b, &c, &e));
    ck_assert(booth_cable(b, "p1.line", "s2.line") != NULL);
    ck_assert(booth_cable(b, "p2.line", "s1.line") != NULL);
    ck_assert_uint_eq(b->cables.n, 2);
    changes_clear(&c);
    booth_free(b);
}
END_TEST

START_TEST(an_output_on_a_strip_goes_into_the_selected_input)
{
    struct booth *b = booth_from("p1.line > s1.line; s2 selects phono");
    struct drag d = {.from = out("p1.line"), .over = strip("s2")};
    struct changes c = {0};
    struct err e;
    ck_assert(drag_changes(b, &d, &c) && changes_make(b, &c, &e));
    ck_assert(booth_cable(b, "p1.line", "s2.phono") != NULL);
    changes_clear(&c);
    booth_free(b);
}
END_TEST

START_TEST(what_means_nothing_changes_nothing)
{
    ck_assert_str_eq(dropped(WORLD, deck("h1"), strip("s1")), "nothing");
    ck_assert_str_eq(dropped(WORLD, deck("h1"), deck("h1")), "nothing");
    ck_assert_str_eq(dropped(WORLD, out("p1.line"), in("s1.line")), "nothing");
    ck_assert_str_eq(dropped(WORLD, in("s1.phono"), in("s2.line")), "nothing");
    ck_assert_str_eq(dropped(WORLD, strip("s1"), deck("h1")), "nothing");
    ck_assert_str_eq(dropped(WORLD, spot_of(SPOT_DEVICE, "p1"), strip("s1")), "nothing");
}
END_TEST

START_TEST(a_data_lead_goes_where_its_device_or_hub_is_put_down)
{
    const char *world = "m1 card 8; m1 plugged hub1.1; hub hub1 4 host.1; hub hub2 1 host.2; "
                        "p1 plugged hub2.1; h1 wants s1; host usb_ports 3; t1.phono > s1.phono";
    struct spot m1 = spot_of(SPOT_DEVICE, "m1"), hub1 = spot_of(SPOT_HUB, "hub1");
    struct spot hub2 = spot_of(SPOT_HUB, "hub2"), t1 = spot_of(SPOT_DEVICE, "t1");
    struct booth *b = booth_from(world);
    ck_assert_str_eq(dropped(world, m1, hub1), "plug M1 into port 2 of hub1");
    ck_assert_str_eq(dropped(world, m1, deck("h1")), "plug M1 into port 3 of the laptop");
    ck_assert_str_eq(dropped(world, hub2, hub1), "plug hub2 into port 2 of hub1");
    ck_assert_str_eq(dropped(world, hub2, deck("h1")), "plug hub2 into port 3 of the laptop");
    ck_assert_str_eq(dropped(world, m1, hub2), "nothing"); /* it is full */
    ck_assert_str_eq(dropped(world, hub1, strip("s1")), "nothing");
    ck_assert(drag_can_start(b, &hub1) && drag_can_start(b, &m1));
    ck_assert(!drag_can_start(b, &t1)); /* nothing of its kind, and no lead */
    booth_free(b);
}
END_TEST

Suite *test_drag(void)
{
    Suite *s = suite_create("ui/drag");
    TCase *t = tcase_create("drag");
    tcase_add_test(t, a_deck_on_an_occupied_strip_or_on_a_deck_exchanges_the_two);
    tcase_add_test(t, a_plug_on_an_occupied_input_exchanges_the_two_plugs);
    tcase_add_test(t, an_output_on_a_strip_goes_into_the_selected_input);
    tcase_add_test(t, what_means_nothing_changes_nothing);
    tcase_add_test(t, a_data_lead_goes_where_its_device_or_hub_is_put_down);
    suite_add_tcase(s, t);
    return s;
}
