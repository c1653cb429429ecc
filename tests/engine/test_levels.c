#include <check.h>
#include <math.h>

#include "engine/levels.h"

/* 0 dBu is 1 mW in 600 ohm: sqrt(0.6) V. */
static double dbu(double volts)
{
    return 20 * log10(volts / sqrt(0.6));
}

START_TEST(a_dbu_is_what_level_calculators_say)
{
    /* figures as a public level calculator and IEC 61938, as described by others, give them */
    ck_assert_double_eq_tol(sqrt(0.6), 0.7745967, 5e-8);
    ck_assert_double_eq_tol(dbu(1), 2.2185, 0.00005);
    ck_assert_double_eq_tol(dbu(1.2277), 4, 0.001);
    ck_assert_double_eq_tol(dbu(0.31623), -7.7815, 0.0001);
    ck_assert_double_eq_tol(dbu(1.2277) - dbu(0.31623), 11.7815, 0.001);
    ck_assert_double_eq_tol(dbu(6), 17.78, 0.005);
    ck_assert_double_eq_tol(dbu(0.5), -3.80, 0.005);
    ck_assert_double_eq_tol(dbu(1.99), dbu(0.5) + 12, 0.005);
}
END_TEST

START_TEST(line_is_two_volts_and_phono_five_millivolts)
{
    /* IEC 61938: nominal 0.5 V and a maximum 12 dB above, in practice 2 V rms; moving magnet, 5 mV
     * at 1 kHz and 5 cm/s: cartridge makers' usual figure */
    int line, phono;
    ck_assert(levels_dbu(LEVEL_LINE, &line) && levels_dbu(LEVEL_PHONO, &phono));
    ck_assert_double_eq_tol(line / 100.0, dbu(2), 0.005);
    ck_assert_double_eq_tol(phono / 100.0, dbu(0.005), 0.005);
    ck_assert(!levels_dbu(LEVEL_DIGITAL, &line) && !levels_dbu(LEVEL_USB, &line));
}
END_TEST

START_TEST(what_does_not_fit_is_52_decibels_off_or_passes_nothing)
{
    int margin;
    ck_assert_int_eq(levels_fit(LEVEL_LINE, LEVEL_LINE), LEVELS_FIT);
    ck_assert(levels_margin(LEVEL_LINE, LEVEL_LINE, &margin) && margin == 0);
    ck_assert(levels_margin(LEVEL_PHONO, LEVEL_PHONO, &margin) && margin == 0);
    ck_assert_int_eq(levels_fit(LEVEL_LINE, LEVEL_PHONO), LEVELS_TOO_LOUD);
    ck_assert(levels_margin(LEVEL_LINE, LEVEL_PHONO, &margin));
    ck_assert_double_eq_tol(margin / 100.0, 20 * log10(2 / 0.005), 0.005);
    ck_assert_int_eq(levels_fit(LEVEL_PHONO, LEVEL_LINE), LEVELS_TOO_QUIET);
    ck_assert(levels_margin(LEVEL_PHONO, LEVEL_LINE, &margin) && margin == -5204);
    ck_assert_int_eq(levels_fit(LEVEL_DIGITAL, LEVEL_DIGITAL), LEVELS_FIT);
    ck_assert_int_eq(levels_fit(LEVEL_DIGITAL, LEVEL_LINE), LEVELS_NOTHING);
    ck_assert_int_eq(levels_fit(LEVEL_LINE, LEVEL_DIGITAL), LEVELS_NOTHING);
    ck_assert(!levels_margin(LEVEL_LINE, LEVEL_DIGITAL, &margin));
}
END_TEST

START_TEST(the_replay_curve_is_the_printed_one)
{
    /* 3180, 318 and 75 us: IEC 60098 (RIAA). 20, 100, 1000, 5000, 10000 and 20000 Hz stand in a
     * public test table; the others are computed from the same formula in another program */
    static const struct {
        double hz, db;
    } rows[] = {{20, 19.274},     {30, 18.593},     {40, 17.792},     {50, 16.946},
                {60, 16.101},     {70, 15.283},     {80, 14.506},     {100, 13.088},
                {150, 10.271},    {200, 8.219},     {300, 5.484},     {400, 3.784},
                {500, 2.648},     {600, 1.841},     {700, 1.234},     {800, 0.751},
                {1000, 0},        {1500, -1.395},   {2000, -2.589},   {3000, -4.740},
                {4000, -6.605},   {5000, -8.210},   {6000, -9.599},   {7000, -10.816},
                {8000, -11.894},  {9000, -12.860},  {10000, -13.734}, {12000, -15.264},
                {14000, -16.570}, {16000, -17.708}, {20000, -19.620}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        ck_assert_double_eq_tol(levels_replay_db(rows[i].hz), rows[i].db, 0.0006);
}
END_TEST

START_TEST(a_mismatch_tilts_by_the_curve_and_nothing_else_does)
{
    ck_assert_double_eq_tol(levels_tilt_db(LEVELS_TOO_LOUD, 50), 16.946, 0.0006);
    ck_assert_double_eq_tol(levels_tilt_db(LEVELS_TOO_QUIET, 50), -16.946, 0.0006);
    ck_assert_double_eq_tol(levels_tilt_db(LEVELS_TOO_QUIET, 10000), 13.734, 0.0006);
    ck_assert(levels_tilt_db(LEVELS_FIT, 50) == 0 && levels_tilt_db(LEVELS_NOTHING, 50) == 0);
}
END_TEST

Suite *test_levels(void);
Suite *test_levels(void)
{
    Suite *s = suite_create("engine/levels");
    TCase *t = tcase_create("levels");
    tcase_add_test(t, a_dbu_is_what_level_calculators_say);
    tcase_add_test(t, line_is_two_volts_and_phono_five_millivolts);
    tcase_add_test(t, what_does_not_fit_is_52_decibels_off_or_passes_nothing);
    tcase_add_test(t, the_replay_curve_is_the_printed_one);
    tcase_add_test(t, a_mismatch_tilts_by_the_curve_and_nothing_else_does);
    suite_add_tcase(s, t);
    return s;
}
