#include <check.h>
#include <math.h>

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

/* USB 2.0, 5.11.3 as it is printed, in ns and without a host's delay: the second opinion. The
 * constants were read in USB 1.1, 5.9.3 (full speed) and in a public host controller driver that
 * quotes the formula (high speed). */
static double printed_ns(int bytes, enum speed speed, bool in)
{
    double bits = floor(3.167 + 1.1667 * 8 * bytes); /* BitStuffTime, the worst case */
    if (speed == SPEED_HIGH)
        return 38 * 8 * 2.083 + 2.083 * bits;
    return (in ? 7268 : 6265) + 83.54 * bits;
}

START_TEST(the_printed_formula_gives_the_values_that_were_worked_out_from_it)
{
    ck_assert_double_eq_tol(printed_ns(192, SPEED_FULL, true), 157222.30, 0.01);
    ck_assert_double_eq_tol(printed_ns(270, SPEED_FULL, true), 218039.42, 0.01);
    ck_assert_double_eq_tol(printed_ns(1023, SPEED_FULL, true), 805158.54, 0.01);
    ck_assert_double_eq_tol(printed_ns(192, SPEED_HIGH, true), 4372.217, 0.001);
    ck_assert_double_eq_tol(printed_ns(1024, SPEED_HIGH, true), 20546.712, 0.001);
}
END_TEST

/* The kernel's host takes 1000 ns at full speed and 5 ns at high speed; its whole numbers stand at
 * most one bit (83.54 ns, 2.083 ns) and a rounding from the printed form. */
START_TEST(a_packets_time_is_the_printed_formulas_to_a_bit)
{
    for (int bytes = 1; bytes <= 1023; bytes++)
        for (int in = 0; in < 2; in++)
            ck_assert_double_eq_tol((double)usb_packet_ns(bytes, SPEED_FULL, in) - 1000,
                                    printed_ns(bytes, SPEED_FULL, in), 83.54 + 10);
    for (int bytes = 1; bytes <= 1024; bytes++)
        ck_assert_double_eq_tol((double)usb_packet_ns(bytes, SPEED_HIGH, true) - 5,
                                printed_ns(bytes, SPEED_HIGH, true), 2.083 + 1);
}
END_TEST

START_TEST(in_microseconds_a_packets_time_is_rounded_as_the_kernel_does)
{
    /* (ns + 500) / 1000: the kernel's NS_TO_US, on its usb_calc_bus_time() */
    static const int rows[][2] = {{36, 1}, {48, 2}, {192, 4}, {288, 6}, {384, 8}, {1024, 21}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_int_eq((usb_packet_ns(rows[i][0], SPEED_HIGH, false) + 500) / 1000, rows[i][1]);
}
END_TEST

/* A row of the standard's own tables: so many transfers of so many bytes fit into all the bytes of
 * a frame, so many bytes remain, and so many fit into what periodic traffic may take. */
struct row {
    int bytes, fit, remain, periodic;
};

/* The tables know no bit stuffing: a packet takes at least its bytes on the wire, and at most a
 * sixth more by a clock that is 0.25 % slow (USB 2.0, 7.1.11), and what turning round costs; so no
 * more of them fit than the table allows. */
static void check_row(const struct row *r, enum speed speed, bool in)
{
    bool full = speed == SPEED_FULL;
    int all = full ? 1500 : 7500, overhead = full ? 9 : 38;
    int sent = full ? 1 : (r->bytes + 1023) / 1024;
    ck_assert_int_eq(r->fit, all / (r->bytes + overhead));
    ck_assert_int_eq(r->remain, all % (r->bytes + overhead));
    ck_assert_int_eq(r->periodic, all * (full ? 9 : 8) / 10 / (r->bytes + overhead));
    double wire = (r->bytes + sent * overhead) * 8 * 1000 / (full ? 12.0 : 480.0);
    long ns = usb_packet_ns(r->bytes, speed, in);
    ck_assert_double_ge((double)ns, wire);
    ck_assert_double_le((double)ns, wire * 7 / 6 * 1.0025 + (full ? 1000 + 7268 - 6265 : 0));
    ck_assert_int_le(usb_limit_ns(speed) / ns, r->periodic);
}

START_TEST(no_more_packets_fit_than_the_standards_table_allows_at_full_speed)
{
    /* USB 2.0, table 5-4: 1500 bytes a frame, 9 of overhead. Rows 128 and 1023 were read in public
     * pages; the others worked out by the table's rule, equal to print from memory. */
    static const struct row rows[] = {{1, 150, 0, 135}, {2, 136, 4, 122},  {4, 115, 5, 103},
                                      {8, 88, 4, 79},   {16, 60, 0, 54},   {32, 36, 24, 32},
                                      {64, 20, 40, 18}, {128, 10, 130, 9}, {256, 5, 175, 5},
                                      {512, 2, 458, 2}, {1023, 1, 468, 1}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        check_row(&rows[i], SPEED_FULL, false);
        check_row(&rows[i], SPEED_FULL, true);
    }
}
END_TEST

START_TEST(no_more_packets_fit_than_the_standards_table_allows_at_high_speed)
{
    /* USB 2.0, table 5-5: 7500 bytes a microframe, 38 of overhead, once even for the rows that go
     * as two and three packets. That those rows are there and the overhead were read; the cells
     * are worked out by the table's rule, equal to print from memory. */
    static const struct row rows[] = {{1, 192, 12, 153},  {2, 187, 20, 150},  {4, 178, 24, 142},
                                      {8, 163, 2, 130},   {16, 138, 48, 111}, {32, 107, 10, 85},
                                      {64, 73, 54, 58},   {128, 45, 30, 36},  {256, 25, 150, 20},
                                      {512, 13, 350, 10}, {1024, 7, 66, 5},   {2048, 3, 1242, 2},
                                      {3072, 2, 1280, 1}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        check_row(&rows[i], SPEED_HIGH, i % 2);
    /* charged for each packet, as here, three of 2048 and two of 3072 leave 1128 both times */
    ck_assert_int_eq(7500 - 3 * (2048 + 2 * 38), 1128);
    ck_assert_int_eq(7500 - 2 * (3072 + 3 * 38), 1128);
    /* USB 2.0, 5.6.3: 3 x 1024 x 8000 bytes a second at most */
    ck_assert_int_eq(usb_most_bytes(SPEED_HIGH) * 8000, 24576000);
}
END_TEST

START_TEST(a_packet_over_1024_bytes_goes_in_two_or_three_transactions) /* USB 2.0, 5.6.3 */
{
    static const int rows[][2] = {{0, 0},    {1, 1},    {1024, 1}, {1025, 2},
                                  {1600, 2}, {2049, 3}, {3072, 3}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_int_eq(usb_transactions(rows[i][0], SPEED_HIGH), rows[i][1]);
    ck_assert_int_eq(usb_transactions(1023, SPEED_FULL), 1);
    ck_assert_int_eq(usb_transactions(0, SPEED_FULL), 0);
}
END_TEST

START_TEST(twenty_five_streams_of_eight_channels_at_48_khz_take_100_microseconds)
{
    /* 192 bytes are 4.377 us, 4 us as the kernel rounds: 25 of them its whole microframe. To the
     * nanosecond 22 fit. */
    ck_assert_int_eq(25 * ((usb_packet_ns(192, SPEED_HIGH, false) + 500) / 1000), 100);
    ck_assert_int_eq(usb_limit_ns(SPEED_HIGH) / usb_packet_ns(192, SPEED_HIGH, false), 22);
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
    /* the packet rules of the USB audio device class, as the Linux kernel's sound/usb/endpoint.c
     * has them: rate / packets a second, rounded down or up, and one frame more for a sink with a
     * clock of its own; bytes by arithmetic from that */
    static const struct {
        int rate_hz, channels, sample_bytes;
        enum speed speed;
        int large, bytes;
    } packets[] = {{44100, 2, 2, SPEED_FULL, 180, 184},   {44100, 2, 3, SPEED_FULL, 270, 276},
                   {48000, 2, 3, SPEED_FULL, 288, 294},   {96000, 2, 3, SPEED_FULL, 576, 582},
                   {44100, 10, 3, SPEED_HIGH, 180, 210},  {48000, 8, 4, SPEED_HIGH, 192, 224},
                   {96000, 8, 4, SPEED_HIGH, 384, 416},   {192000, 16, 4, SPEED_HIGH, 1536, 1600},
                   {48000, 6, 4, SPEED_FULL, 1152, 1176}, /* more than 1023: not at full speed */
                   {48000, 0, 3, SPEED_HIGH, 0, 0}};
    for (size_t i = 0; i < sizeof packets / sizeof *packets; i++) {
        int bytes = usb_packet_bytes(packets[i].rate_hz, packets[i].channels,
                                     packets[i].sample_bytes, packets[i].speed);
        ck_assert_int_eq(bytes, packets[i].bytes);
        ck_assert_int_eq(bytes - packets[i].channels * packets[i].sample_bytes, packets[i].large);
    }
    ck_assert_int_gt(1176, usb_most_bytes(SPEED_FULL));
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
    tcase_add_test(t, the_printed_formula_gives_the_values_that_were_worked_out_from_it);
    tcase_add_test(t, a_packets_time_is_the_printed_formulas_to_a_bit);
    tcase_add_test(t, in_microseconds_a_packets_time_is_rounded_as_the_kernel_does);
    tcase_add_test(t, no_more_packets_fit_than_the_standards_table_allows_at_full_speed);
    tcase_add_test(t, no_more_packets_fit_than_the_standards_table_allows_at_high_speed);
    tcase_add_test(t, a_packet_over_1024_bytes_goes_in_two_or_three_transactions);
    tcase_add_test(t, twenty_five_streams_of_eight_channels_at_48_khz_take_100_microseconds);
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
