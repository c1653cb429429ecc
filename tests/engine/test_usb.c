#include <check.h>

#include "engine/usb.h"
#include "support/booth_from.h"

START_TEST(a_full_speed_packet_takes_its_time)
{
    /* USB 2.0, 5.11.3, in the whole-number form of the Linux kernel's usb_calc_bus_time() */
    static const struct {
        int bytes;
        long in, out;
    } times[] = {{192, 158230, 157227}, {196, 161321, 160318}, {270, 219047, 218044},
                 {288, 233082, 232079}, {294, 237760, 236757}, {576, 457638, 456635},
                 {1023, 806166, 805163}};
    for (size_t i = 0; i < sizeof times / sizeof *times; i++) {
        ck_assert_int_eq(usb_packet_ns(times[i].bytes, SPEED_FULL, true), times[i].in);
        ck_assert_int_eq(usb_packet_ns(times[i].bytes, SPEED_FULL, false), times[i].out);
    }
}
END_TEST

START_TEST(a_high_speed_packet_takes_its_time)
{
    /* USB 2.0, 5.11.3, in the whole-number form of the Linux kernel's HS_NSECS_ISO */
    static const struct {
        int bytes;
        long ns;
    } times[] = {{36, 1344},  {48, 1577},    {192, 4377},         {288, 6243},
                 {384, 8109}, {1024, 20551}, {1025, 20551 + 663}, {3072, 3 * 20551}};
    for (size_t i = 0; i < sizeof times / sizeof *times; i++)
        ck_assert_int_eq(usb_packet_ns(times[i].bytes, SPEED_HIGH, i % 2), times[i].ns);
}
END_TEST

START_TEST(nothing_and_super_speed_take_no_time)
{
    ck_assert_int_eq(usb_packet_ns(0, SPEED_FULL, true), 0);
    ck_assert_int_eq(usb_packet_ns(0, SPEED_HIGH, true), 0);
    ck_assert_int_eq(usb_packet_ns(500, SPEED_SUPER, true), 0);
}
END_TEST

START_TEST(the_largest_packet_has_one_frame_more_than_the_rate_needs)
{
    /* the packet rules of the USB audio device class: ceil(rate / packets a second), and one frame
     * more for a sink with a clock of its own; worked by hand */
    static const struct {
        int rate_hz, channels, sample_bytes;
        enum speed speed;
        int bytes;
    } packets[] = {{44100, 2, 2, SPEED_FULL, 184},  {44100, 2, 3, SPEED_FULL, 276},
                   {48000, 2, 3, SPEED_FULL, 294},  {96000, 2, 3, SPEED_FULL, 582},
                   {44100, 10, 3, SPEED_HIGH, 210}, {48000, 8, 4, SPEED_HIGH, 224},
                   {96000, 8, 4, SPEED_HIGH, 416},  {192000, 16, 4, SPEED_HIGH, 1600},
                   {48000, 6, 4, SPEED_FULL, 1176}, {48000, 0, 3, SPEED_HIGH, 0}};
    for (size_t i = 0; i < sizeof packets / sizeof *packets; i++)
        ck_assert_int_eq(usb_packet_bytes(packets[i].rate_hz, packets[i].channels,
                                          packets[i].sample_bytes, packets[i].speed),
                         packets[i].bytes);
}
END_TEST

START_TEST(a_load_counts_slot_bytes_or_else_the_bits_rounded_up)
{
    struct booth *b = booth_from("x1 bits 20; x2 slot_bytes 4; x3 bits 16; x3 in_channels 2");
    struct usb_load load = usb_load_of(booth_device(b, "x1"), 48000);
    ck_assert_int_eq(load.out_bytes, 8 * 7 * 3);
    ck_assert_int_eq(load.in_bytes, 0);
    ck_assert_int_eq(load.out_ns, usb_packet_ns(168, SPEED_HIGH, false));
    ck_assert_int_eq(load.in_ns, 0);
    ck_assert_int_eq(usb_load_of(booth_device(b, "x2"), 48000).out_bytes, 8 * 7 * 4);
    load = usb_load_of(booth_device(b, "x3"), 48000);
    ck_assert_int_eq(load.in_bytes, 2 * 7 * 2);
    ck_assert_int_eq(load.out_ns, usb_packet_ns(112, SPEED_HIGH, false));
    ck_assert_int_eq(load.in_ns, usb_packet_ns(28, SPEED_HIGH, true));
    booth_free(b);
}
END_TEST

START_TEST(hubs_are_counted_up_to_the_host)
{
    struct booth *b = booth_from("hub hub1 4; hub hub2 4 hub1.2; hub hub3 4 none; "
                                 "hub hub4 4 hub3.1; p1 plugged hub2.1; p2 plugged hub2.2");
    ck_assert_int_eq(usb_hubs_above(b, "host"), 0);
    ck_assert_int_eq(usb_hubs_above(b, "hub1"), 1);
    ck_assert_int_eq(usb_hubs_above(b, "hub2"), 2);
    ck_assert_int_eq(usb_hubs_above(b, "hub4"), -1);
    ck_assert_int_eq(usb_things_in(b, "hub2", 0), 2);
    ck_assert_int_eq(usb_things_in(b, "hub2", 2), 1);
    ck_assert_int_eq(usb_things_in(b, "hub2", 3), 0);
    booth_free(b);
}
END_TEST

START_TEST(a_port_gives_and_a_thing_needs_what_the_standard_says_unless_told_otherwise)
{
    /* USB 2.0, 7.2.1: unit load 100 mA, five of them at a port of the host or a self-powered hub,
     * one at a port of a bus-powered hub, which itself needs five */
    struct booth *b = booth_from("hub hub1 4 host.1; hub hub2 4 host.2 self_powered 1; "
                                 "hub hub3 4 none port_ma 900; x1 self_powered 0; "
                                 "x1 max_power_ma 480; x2 max_power_ma 480");
    ck_assert_int_eq(usb_port_ma(b, "host"), 500);
    ck_assert_int_eq(usb_port_ma(b, "hub1"), 100);
    ck_assert_int_eq(usb_port_ma(b, "hub2"), 500);
    ck_assert_int_eq(usb_port_ma(b, "hub3"), 900);
    ck_assert_int_eq(usb_needs_ma(b, "hub1"), 500);
    ck_assert_int_eq(usb_needs_ma(b, "hub2"), 0);
    ck_assert_int_eq(usb_needs_ma(b, "x1"), 480);
    ck_assert_int_eq(usb_needs_ma(b, "x2"), 0);
    ck_assert(usb_could_hang(b, "x1", "hub2") && usb_could_hang(b, "x1", "host"));
    ck_assert(!usb_could_hang(b, "x1", "hub1"));   /* too little current */
    ck_assert(!usb_could_hang(b, "x2", "hub3"));   /* leads nowhere */
    ck_assert(!usb_could_hang(b, "hub3", "hub1")); /* neither has a supply */
    ck_assert(!usb_could_hang(b, "hub1", "hub1")); /* itself */
    booth_free(b);
}
END_TEST

START_TEST(a_bus_powered_hub_takes_four_things_and_no_more) /* USB 2.0, 7.2.1.1 */
{
    struct booth *b = booth_from("hub hub1 7; p1 plugged hub1.1; p2 plugged hub1.2; "
                                 "p3 plugged hub1.3; p4 plugged none");
    ck_assert(usb_could_hang(b, "p4", "hub1"));
    booth_free(b);
    b = booth_from("hub hub1 7; p1 plugged hub1.1; p2 plugged hub1.2; p3 plugged hub1.3; "
                   "p4 plugged hub1.4; p5 plugged none");
    ck_assert(!usb_could_hang(b, "p5", "hub1"));
    booth_free(b);
}
END_TEST

START_TEST(five_hubs_may_stand_between_and_no_more) /* USB 2.0, 4.1.1 */
{
    struct booth *b = booth_from("hub hub1 4; hub hub2 4 hub1.1; hub hub3 4 hub2.1; "
                                 "hub hub4 4 hub3.1; hub hub5 4 hub4.1 self_powered 1; "
                                 "hub hub6 4 none self_powered 1; p1 plugged none");
    ck_assert(usb_could_hang(b, "p1", "hub5"));
    ck_assert(usb_could_hang(b, "hub6", "host"));
    ck_assert(!usb_could_hang(b, "hub6", "hub5")); /* what hangs on it would be behind six */
    booth_free(b);
}
END_TEST

Suite *test_usb(void)
{
    Suite *s = suite_create("engine/usb");
    TCase *t = tcase_create("usb");
    tcase_add_test(t, a_full_speed_packet_takes_its_time);
    tcase_add_test(t, a_high_speed_packet_takes_its_time);
    tcase_add_test(t, nothing_and_super_speed_take_no_time);
    tcase_add_test(t, the_largest_packet_has_one_frame_more_than_the_rate_needs);
    tcase_add_test(t, a_load_counts_slot_bytes_or_else_the_bits_rounded_up);
    tcase_add_test(t, hubs_are_counted_up_to_the_host);
    tcase_add_test(t, a_port_gives_and_a_thing_needs_what_the_standard_says_unless_told_otherwise);
    tcase_add_test(t, a_bus_powered_hub_takes_four_things_and_no_more);
    tcase_add_test(t, five_hubs_may_stand_between_and_no_more);
    suite_add_tcase(s, t);
    return s;
}
