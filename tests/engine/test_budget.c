#include <check.h>
#include <stdio.h>
#include <string.h>

#include "engine/budget.h"
#include "support/booth_from.h"

/* A booth and its budget. */
struct made {
    struct booth *b;
    struct budget *o;
};

static struct made make(const char *world)
{
    struct made m = {.b = booth_from(world)};
    m.o = budget_make(m.b);
    return m;
}

static void unmake(struct made m)
{
    budget_free(m.o);
    booth_free(m.b);
}

static const struct budget_hub *hub_of(const struct budget *o, const char *at)
{
    for (size_t i = 0; i < o->n_hubs; i++)
        if (strcmp(o->hubs[i].at, at) == 0)
            return &o->hubs[i];
    ck_abort_msg("no %s", at);
}

static const struct budget_lead *lead_of(const struct budget *o, const char *thing)
{
    for (size_t i = 0; i < o->n_leads; i++)
        if (strcmp(o->leads[i].thing, thing) == 0)
            return &o->leads[i];
    ck_abort_msg("no %s", thing);
}

/* --- traffic ---------------------------------------------------------------------------------- */

START_TEST(two_directions_at_full_speed_fit_by_bytes_and_fail_by_time)
{
    struct made m = make("joined p1; p1 plugged host.1; p1 speed full; p1 in_channels 2; "
                         "p1 rates 96000; host rate_hz 96000");
    ck_assert_uint_eq(m.o->n_buses, 1);
    const struct budget_bus *bus = &m.o->buses[0];
    ck_assert_int_eq(bus->bytes.used, 582);
    /* with the standard's overhead of 9 bytes (USB 2.0, table 5-4): of 1350 bytes a frame */
    ck_assert_int_le(2 * (bus->bytes.used + 9), 1350);
    ck_assert_int_gt(bus->ns.used, bus->ns.most);
    ck_assert(bus->row.over);
    /* the standard's own case, 576 bytes each way: 457638 + 456635 ns by the kernel's formula */
    ck_assert_int_eq(usb_packet_ns(576, SPEED_FULL, true) + usb_packet_ns(576, SPEED_FULL, false),
                     914273);
    unmake(m);
}
END_TEST

START_TEST(a_mixer_of_many_channels_at_96_khz_sends_several_transactions)
{
    struct made m = make("m1 card 32; m1 in_channels 32; m1 bits 32; m1 rates 96000; "
                         "m1 plugged host.1; joined m1; host rate_hz 96000");
    const struct budget_card *c = &m.o->cards[0];
    ck_assert_int_eq(c->load.out_bytes, 32 * 13 * 4);
    ck_assert(c->out_sent == 2 && c->in_sent == 2 && c->counted && !c->row.over);
    ck_assert_int_eq(m.o->buses[0].ns.used, c->load.out_ns + c->load.in_ns);
    ck_assert(!m.o->buses[0].row.over);
    unmake(m);
    /* 60 play 3120 bytes, and three transactions carry 3072 (USB 2.0, 5.6.3) */
    m = make("m1 card 60; m1 bits 32; m1 rates 96000; m1 plugged host.1; joined m1; "
             "host rate_hz 96000");
    ck_assert(m.o->buses[0].row.over);
    ck_assert_int_gt(m.o->buses[0].bytes.used, m.o->buses[0].bytes.most);
    unmake(m);
}
END_TEST

START_TEST(full_speed_cards_behind_one_hub_share_its_translator_and_multi_tt_parts_them)
{
    static const char cards[] =
        "joined p1 p2 p3 p4; p1 plugged hub1.1; p2 plugged hub1.2; p3 plugged hub1.3; "
        "p4 plugged hub1.4; p1 speed full; p2 speed full; p3 speed full; p4 speed full; ";
    char world[512];
    snprintf(world, sizeof world, "%shub hub1 4 host.1 self_powered 1", cards);
    struct made m = make(world);
    ck_assert_uint_eq(m.o->n_buses, 1);
    ck_assert_str_eq(m.o->buses[0].lane.at, "hub1");
    ck_assert_uint_eq(m.o->buses[0].cards, 4);
    ck_assert_int_eq(m.o->buses[0].ns.used,
                     4 * 236757); /* 294 bytes out, by the kernel's formula */
    ck_assert(m.o->buses[0].row.over);
    unmake(m);
    snprintf(world, sizeof world, "%shub hub1 4 host.1 self_powered 1 multi_tt 1", cards);
    m = make(world);
    ck_assert_uint_eq(m.o->n_buses, 4);
    for (size_t i = 0; i < 4; i++)
        ck_assert(m.o->buses[i].lane.part == (int)i + 1 && m.o->buses[i].cards == 1 &&
                  !m.o->buses[i].row.over);
    unmake(m);
}
END_TEST

START_TEST(the_laptops_buses_are_apart_and_the_fuller_one_comes_first)
{
    struct made m = make("joined p1 p2 x1; p1 plugged host.1; p2 plugged host.3; "
                         "x1 plugged host.2; host usb_ports 3; host usb_buses 2");
    ck_assert_uint_eq(m.o->n_buses, 2);
    ck_assert(m.o->buses[0].cards == 1 && m.o->buses[0].lane.part == 1); /* eight channels */
    ck_assert(m.o->buses[1].cards == 2 && m.o->buses[1].lane.part == 0); /* two and two */
    unmake(m);
}
END_TEST

START_TEST(what_is_on_no_bus_of_ours_is_not_counted)
{
    struct made m = make("joined p1 x1 p2; p1 plugged host.1; p1 speed super; x1 plugged built-in; "
                         "p2 plugged none");
    ck_assert_uint_eq(m.o->n_buses, 0);
    ck_assert_uint_eq(m.o->n_cards, 3);
    for (size_t i = 0; i < 3; i++)
        ck_assert(!m.o->cards[i].counted);
    ck_assert_uint_eq(m.o->n_leads, 1); /* p1's */
    unmake(m);
}
END_TEST

/* --- ports, current, depth -------------------------------------------------------------------- */

START_TEST(a_bus_powered_hub_feeds_four_players_of_one_unit_load_and_no_fifth)
{
    /* USB 2.0, 7.2.1.1 */
    static const char four[] =
        "hub hub1 7; p1 plugged hub1.1; p2 plugged hub1.2; p3 plugged hub1.3; p4 plugged hub1.4; "
        "p1 self_powered 0; p2 self_powered 0; p3 self_powered 0; p4 self_powered 0; "
        "p1 max_power_ma 100; p2 max_power_ma 100; p3 max_power_ma 100; p4 max_power_ma 100";
    struct made m = make(four);
    const struct budget_hub *h = hub_of(m.o, "hub1");
    ck_assert(h->ma.used == 400 && h->ma.most == 400 && h->port_ma == 100);
    ck_assert(h->ports.used == 4 && h->ports.most == 7 && !h->row.over);
    ck_assert(lead_of(m.o, "hub1")->ma.used == 500 && !lead_of(m.o, "hub1")->row.over);
    unmake(m);
    char five[512];
    snprintf(five, sizeof five, "%s; p5 plugged hub1.5", four);
    m = make(five);
    ck_assert_int_eq(lead_of(m.o, "hub1")->hunger, USB_CROWDED);
    ck_assert(hub_of(m.o, "host")->power_over && !hub_of(m.o, "hub1")->power_over);
    ck_assert_str_eq(m.o->leads[0].thing, "hub1"); /* the worst comes first */
    unmake(m);
}
END_TEST

START_TEST(a_hub_without_a_supply_cannot_hang_on_another)
{
    struct made m = make("hub hub1 4; hub hub2 4 hub1.1; p1 plugged hub2.1");
    ck_assert_int_eq(hub_of(m.o, "hub2")->hubs.used, 2);
    ck_assert_int_eq(lead_of(m.o, "hub2")->hunger, USB_UNSUPPLIED);
    ck_assert(hub_of(m.o, "hub1")->power_over);
    unmake(m);
    m = make("hub hub1 4 host.1 self_powered 1; hub hub2 4 hub1.1; p1 plugged hub2.1");
    ck_assert_int_eq(lead_of(m.o, "hub2")->hunger, USB_FED);
    ck_assert(!hub_of(m.o, "hub1")->row.over);
    ck_assert_int_eq(hub_of(m.o, "hub1")->ma.most, 4 * 500);
    unmake(m);
}
END_TEST

START_TEST(a_sixth_hub_in_a_row_is_over_once_a_device_hangs_on_it) /* USB 2.0, 4.1.1 */
{
    static const char six[] = "hub hub1 4 host.1 self_powered 1; hub hub2 4 hub1.1 self_powered 1; "
                              "hub hub3 4 hub2.1 self_powered 1; hub hub4 4 hub3.1 self_powered 1; "
                              "hub hub5 4 hub4.1 self_powered 1; hub hub6 4 hub5.1 self_powered 1";
    struct made m = make(six);
    ck_assert(hub_of(m.o, "hub6")->hubs.used == 6 && !hub_of(m.o, "hub6")->row.over);
    unmake(m);
    char deep[512];
    snprintf(deep, sizeof deep, "%s; hub hub7 2 hub6.3; p1 plugged hub6.2", six);
    m = make(deep);
    ck_assert(hub_of(m.o, "hub6")->hubs_over && m.o->hubs[0].at == hub_of(m.o, "hub6")->at);
    unmake(m);
}
END_TEST

START_TEST(a_hub_with_its_own_supply_feeds_all_its_ports) /* USB 2.0, 7.2.1.2 */
{
    struct made m = make("hub hub1 7 host.1 self_powered 1; hub hub2 7 host.2 self_powered 1 "
                         "port_ma 900");
    ck_assert_int_eq(hub_of(m.o, "hub1")->ma.most, 7 * 500);
    ck_assert_int_eq(hub_of(m.o, "hub2")->ma.most, 7 * 900);
    ck_assert_int_eq(hub_of(m.o, "host")->ma.used, 0);
    unmake(m);
}
END_TEST

START_TEST(a_hub_that_leads_nowhere_has_no_depth)
{
    struct made m = make("hub hub1 4 none; p1 plugged hub1.1; joined p1");
    ck_assert_int_eq(hub_of(m.o, "hub1")->hubs.used, -1);
    ck_assert_int_eq(hub_of(m.o, "hub1")->ports.used, 1);
    ck_assert_uint_eq(m.o->n_buses, 0);
    unmake(m);
}
END_TEST

/* --- rates, clocks, levels -------------------------------------------------------------------- */

START_TEST(cards_without_a_rate_in_common_have_none_and_those_that_cannot_run_come_first)
{
    struct made m = make("joined p1 p2; p1 rates 48000; p2 rates 44100");
    ck_assert_uint_eq(m.o->rates_hz.n, 0);
    ck_assert(m.o->cards[0].row.over && m.o->cards[0].device == booth_device(m.b, "p2"));
    ck_assert(!m.o->cards[1].row.over);
    unmake(m);
}
END_TEST

START_TEST(a_rate_that_only_some_can_do_is_not_among_the_common_ones)
{
    struct made m = make("joined p1 p2 p3; p1 rates 44100 48000 96000; p3 rates 48000 96000; "
                         "host rate_hz 96000");
    ck_assert_uint_eq(m.o->rates_hz.n, 1);
    ck_assert_int_eq(m.o->rates_hz.v[0], 48000);
    ck_assert(m.o->cards[0].row.over && m.o->cards[0].device == booth_device(m.b, "p2"));
    ck_assert(!m.o->cards[1].row.over && !m.o->cards[2].row.over);
    unmake(m);
}
END_TEST

START_TEST(of_clocks_those_that_part_most_come_first)
{
    struct made m = make("joined p1 p2 p3; p1 clock_ppm 10; p3 clock_ppm 0; p2 clock_ppm 90");
    ck_assert_uint_eq(m.o->n_clocks, 3);
    ck_assert(m.o->clocks[0].ppm == 100 && m.o->clocks[1].ppm == 90 && m.o->clocks[2].ppm == 10);
    ck_assert_str_eq(m.o->clocks[0].a->id, "p1");
    ck_assert_str_eq(m.o->clocks[0].b->id, "p2");
    ck_assert_double_eq_tol(m.o->clocks[0].per_second, 4.8, 1e-9);
    ck_assert_double_eq_tol(m.o->clocks[0].seconds, 0.20833, 0.00001);
    ck_assert(m.o->clocks[0].row.over);
    unmake(m);
    m = make("joined p1 p2; p1 clock_ppm 0; p2 clock_ppm 0; host drift_correction 1");
    ck_assert(m.o->clocks[0].seconds == 0 && !m.o->clocks[0].row.over);
    unmake(m);
}
END_TEST

START_TEST(of_levels_the_too_loud_come_first_then_what_passes_nothing_then_the_too_quiet)
{
    struct made m = make("p1.line > s1.line; t1.phono > s2.line; p2.digital > s3.line; "
                         "p3.line > s4.phono; p4.digital > s4.digital");
    static const enum levels_fit fits[] = {LEVELS_TOO_LOUD, LEVELS_NOTHING, LEVELS_TOO_QUIET,
                                           LEVELS_FIT, LEVELS_FIT};
    ck_assert_uint_eq(m.o->n_levels, 5);
    for (size_t i = 0; i < 5; i++)
        ck_assert_int_eq(m.o->levels[i].fit, fits[i]);
    ck_assert(m.o->levels[0].margin == 5204 && m.o->levels[2].margin == -5204);
    ck_assert(!m.o->levels[1].has_figure && m.o->levels[3].has_figure &&
              !m.o->levels[4].has_figure);
    unmake(m);
}
END_TEST

START_TEST(an_empty_booth_uses_nothing)
{
    struct booth *b = booth_new("empty");
    struct budget *o = budget_make(b);
    ck_assert(!o->n_buses && !o->n_cards && !o->n_leads && !o->n_clocks && !o->n_levels);
    ck_assert(o->n_hubs == 1 && !o->hubs[0].row.over && o->hubs[0].ports.used == 0);
    ck_assert(o->rates_hz.n == 0 && !o->latency_over);
    budget_free(o);
    budget_free(NULL);
    booth_free(b);
}
END_TEST

Suite *test_budget(void);
Suite *test_budget(void)
{
    Suite *s = suite_create("engine/budget");
    TCase *t = tcase_create("traffic");
    tcase_add_test(t, two_directions_at_full_speed_fit_by_bytes_and_fail_by_time);
    tcase_add_test(t, a_mixer_of_many_channels_at_96_khz_sends_several_transactions);
    tcase_add_test(t, full_speed_cards_behind_one_hub_share_its_translator_and_multi_tt_parts_them);
    tcase_add_test(t, the_laptops_buses_are_apart_and_the_fuller_one_comes_first);
    tcase_add_test(t, what_is_on_no_bus_of_ours_is_not_counted);
    suite_add_tcase(s, t);
    t = tcase_create("ports");
    tcase_add_test(t, a_bus_powered_hub_feeds_four_players_of_one_unit_load_and_no_fifth);
    tcase_add_test(t, a_hub_without_a_supply_cannot_hang_on_another);
    tcase_add_test(t, a_sixth_hub_in_a_row_is_over_once_a_device_hangs_on_it);
    tcase_add_test(t, a_hub_with_its_own_supply_feeds_all_its_ports);
    tcase_add_test(t, a_hub_that_leads_nowhere_has_no_depth);
    suite_add_tcase(s, t);
    t = tcase_create("the rest");
    tcase_add_test(t,
                   cards_without_a_rate_in_common_have_none_and_those_that_cannot_run_come_first);
    tcase_add_test(t, a_rate_that_only_some_can_do_is_not_among_the_common_ones);
    tcase_add_test(t, of_clocks_those_that_part_most_come_first);
    tcase_add_test(t,
                   of_levels_the_too_loud_come_first_then_what_passes_nothing_then_the_too_quiet);
    tcase_add_test(t, an_empty_booth_uses_nothing);
    suite_add_tcase(s, t);
    return s;
}
