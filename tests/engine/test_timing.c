#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "engine/timing.h"
#include "support/booth_from.h"

START_TEST(two_clocks_slip_as_often_as_their_tolerances_say)
{
    /* slips/s = rate * ppm * 1e-6. Tolerances: AES11 grade 1 (1 ppm) and grade 2 (10 ppm), as
     * maker's guides quote it; IEC 60958-3 levels I (50 ppm) and II (1000 ppm), as the Linux
     * kernel's asoundef.h has them; USB 2.0, 7.1.11 (500 ppm). Figures by arithmetic from the
     * formula. */
    static const struct {
        int ppm;
        double at_44, s_44, at_48, s_48; /* samples a second, seconds a sample */
        double s_256;                    /* for 256 frames at 48 kHz */
        double drift_ms;                 /* in an hour */
    } rows[] = {{2, 0.0882, 11.338, 0.096, 10.417, 2666.667, 7.2},
                {20, 0.882, 1.1338, 0.96, 1.0417, 266.667, 72},
                {100, 4.41, 0.22676, 4.8, 0.20833, 53.333, 360},
                {500, 22.05, 0.04535, 24, 0.04167, 10.667, 1800},
                {2000, 88.2, 0.01134, 96, 0.01042, 2.667, 7200}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double at_44 = (double)timing_slips(44100, rows[i].ppm) / 1e6;
        double at_48 = (double)timing_slips(48000, rows[i].ppm) / 1e6;
        ck_assert_double_eq_tol(at_44, rows[i].at_44, 1e-9);
        ck_assert_double_eq_tol(at_48, rows[i].at_48, 1e-9);
        ck_assert_double_eq_tol(1 / at_44, rows[i].s_44, rows[i].s_44 * 5e-4);
        ck_assert_double_eq_tol(1 / at_48, rows[i].s_48, rows[i].s_48 * 5e-4);
        ck_assert_double_eq_tol(256 / at_48, rows[i].s_256, 0.0005);
        ck_assert_double_eq_tol(3600 * at_48 / 48000 * 1000, rows[i].drift_ms, 1e-9);
    }
}
END_TEST

START_TEST(the_worst_two_clocks_count)
{
    struct booth *b = booth_from("joined p1 p2 p3; p1 clock_ppm 10; p2 clock_ppm 100");
    ck_assert_int_eq(timing_worst_ppm(b), 150);
    ck_assert(timing_runs_free(b));
    booth_free(b);
    b = booth_from("joined p1; host drift_correction 0");
    ck_assert(!timing_runs_free(b));
    booth_free(b);
    b = booth_from("joined p1 p2; host drift_correction 1");
    ck_assert(!timing_runs_free(b));
    booth_free(b);
}
END_TEST

START_TEST(two_buffers_take_frames_over_rate_each)
{
    /* latency = period * periods / rate: ALSA's how-to, as quoted by others; figures by arithmetic.
     * One buffer is half of it, as in the row of 64 frames. */
    static const struct {
        int frames, rate_hz;
        double ms;
    } rows[] = {{64, 48000, 2 * 1.333}, {64, 44100, 2 * 1.451}, {128, 48000, 5.333},
                {128, 44100, 5.805},    {256, 48000, 10.667},   {512, 44100, 23.220},
                {1024, 48000, 42.667},  {2048, 44100, 92.88},   {480, 48000, 20}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct host h = {
            .buffer_frames = rows[i].frames, .rate_hz = rows[i].rate_hz, .latency_limit_ms = 20};
        ck_assert_double_eq_tol(timing_latency_ms(&h), rows[i].ms, 0.0011);
        ck_assert_int_eq(timing_latency_over(&h), rows[i].ms > 20.001);
    }
}
END_TEST

START_TEST(the_largest_buffer_within_the_limit_is_within_it_and_the_next_is_not)
{
    static const int rates[] = {8000, 44100, 48000, 88200, 96000, 768000};
    for (size_t i = 0; i < sizeof rates / sizeof *rates; i++)
        for (int limit = 1; limit <= 50; limit++) {
            struct host h = {.rate_hz = rates[i], .latency_limit_ms = limit};
            h.buffer_frames = (int)timing_most_frames(&h);
            ck_assert(!timing_latency_over(&h));
            h.buffer_frames++;
            ck_assert(timing_latency_over(&h));
            ck_assert_int_gt(timing_latency_hundredths(&h), 100LL * limit);
        }
}
END_TEST

static char *rates_of(const char *world)
{
    struct booth *b = booth_from(world);
    struct ints common = timing_common_rates(b);
    struct str out = {0};
    for (size_t i = 0; i < common.n; i++)
        str_addf(&out, "%s%d", i ? " " : "", common.v[i]);
    mem_free(common.v);
    booth_free(b);
    return str_take(&out);
}

START_TEST(the_common_rates_are_those_that_every_joined_card_runs_at)
{
    static const char *const rows[][2] = {
        {"joined p1 p2", "44100 48000"},
        {"joined p1 p2; p1 rates 96000 48000; p2 rates 48000 96000 192000", "48000 96000"},
        {"joined p1 p2; p1 rates 44100; p2 rates 48000", ""},
        {"joined p1 p2; p1 rates 96000 44100", "44100"},
        {"joined p1 p2; p1 rates 48000 44100 48000", "44100 48000"},
        {"p1 rates 44100", ""}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        char *rates = rates_of(rows[i][0]);
        ck_assert_str_eq(rates, rows[i][1]);
        mem_free(rates);
    }
}
END_TEST

Suite *test_timing(void);
Suite *test_timing(void)
{
    Suite *s = suite_create("engine/timing");
    TCase *t = tcase_create("timing");
    tcase_add_test(t, two_clocks_slip_as_often_as_their_tolerances_say);
    tcase_add_test(t, the_worst_two_clocks_count);
    tcase_add_test(t, two_buffers_take_frames_over_rate_each);
    tcase_add_test(t, the_largest_buffer_within_the_limit_is_within_it_and_the_next_is_not);
    tcase_add_test(t, the_common_rates_are_those_that_every_joined_card_runs_at);
    suite_add_tcase(s, t);
    return s;
}
