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

Suite *test_levels(void);
Suite *test_levels(void)
{
    Suite *s = suite_create("engine/levels");
    TCase *t = tcase_create("levels");
    tcase_add_test(t, a_dbu_is_what_level_calculators_say);
    tcase_add_test(t, line_is_two_volts_and_phono_five_millivolts);
    tcase_add_test(t, what_does_not_fit_is_52_decibels_off_or_passes_nothing);
    suite_add_tcase(s, t);
    return s;
}
