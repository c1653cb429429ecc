/* Checked against the published descriptions: GLITS (an encyclopedia's text on line idents: left
 * off once for 250 ms every 4 s; 250 ms later right off twice, 250 ms each, 250 ms apart), the EBU
 * stereo ident (EBU R 49, restated in EBU Tech 3304, both quoted by others: left interrupted for
 * 250 ms every 3 s), alignment level (EBU R 68: 18 dB below the largest sine). */
#include <check.h>
#include <math.h>
#include <string.h>

#include "base/mem.h"
#include "engine/ident.h"

static const int rates[] = {44100, 48000};

struct sides {
    double *v[2]; /* samples, 1.0 at full scale */
    int64_t n;
};

static struct sides sides_of(enum ident kind, int number, int rate)
{
    struct sides s = {.n = ident_frames(kind, number, rate)};
    for (int side = 0; side < 2; side++)
        s.v[side] = mem_new((size_t)s.n, sizeof(double));
    for (int64_t i = 0; i < s.n; i++) {
        int32_t frame[2];
        ident_frame(kind, number, rate, i, frame);
        for (int side = 0; side < 2; side++)
            s.v[side][i] = frame[side] / 8388607.0;
    }
    return s;
}

static void sides_free(struct sides *s)
{
    mem_free(s->v[0]);
    mem_free(s->v[1]);
}

/* "-" and "." for each quarter of a second that sounds or is silent, to the sample: a quarter that
 * does both is "?". */
static const char *quarters(const struct sides *s, int side, int rate, int from, int count)
{
    static char text[256];
    int64_t quarter = rate / 4;
    for (int q = 0; q < count; q++) {
        const double *v = s->v[side] + (from + q) * quarter;
        int64_t zeros = 0, longest = 0;
        for (int64_t i = 0; i < quarter; i++) {
            zeros = v[i] == 0 ? zeros + 1 : 0;
            longest = zeros > longest ? zeros : longest;
        }
        text[q] = longest == quarter ? '.' : longest <= 2 ? '-' : '?';
    }
    text[count] = '\0';
    return text;
}

/* Amplitude of one frequency over n samples. */
static double goertzel(const double *v, int64_t n, double hz, double rate)
{
    double w = 2 * 3.14159265358979323846 * hz / rate, c = 2 * cos(w), a = 0, b = 0;
    for (int64_t i = 0; i < n; i++) {
        double next = v[i] + c * a - b;
        b = a;
        a = next;
    }
    return 2 * sqrt(a * a + b * b - c * a * b) / (double)n;
}

START_TEST(the_number_is_told_by_a_long_burst_for_ten_and_a_short_one_for_one)
{
    struct sides s = sides_of(IDENT_GLITS, 12, 48000);
    ck_assert_str_eq(quarters(&s, 0, 48000, 0, 11), "---.-.-....");
    ck_assert_str_eq(quarters(&s, 1, 48000, 0, 11), "---.-.-....");
    sides_free(&s);
}
END_TEST

START_TEST(glits_has_its_published_gaps_to_the_sample)
{
    int rate = rates[_i];
    struct sides s = sides_of(IDENT_GLITS, 1, rate);
    ck_assert_str_eq(quarters(&s, 0, rate, 5, 32), "-----------.---------------.----");
    ck_assert_str_eq(quarters(&s, 1, rate, 5, 32), "-------------.-.-------------.-.");
    sides_free(&s);
}
END_TEST

START_TEST(the_ebu_ident_interrupts_the_left_side_only_every_three_seconds)
{
    int rate = rates[_i];
    struct sides s = sides_of(IDENT_EBU, 1, rate);
    ck_assert_str_eq(quarters(&s, 0, rate, 5, 24), "-----------.-----------.");
    ck_assert_str_eq(quarters(&s, 1, rate, 5, 24), "------------------------");
    sides_free(&s);
}
END_TEST

START_TEST(the_level_is_eighteen_decibels_below_full_scale_by_both_conventions)
{
    int rate = rates[_i];
    struct sides s = sides_of(IDENT_GLITS, 1, rate);
    const double *v = s.v[0] + 5 * (rate / 4);
    double peak = 0, sum = 0;
    int64_t n = 2 * rate;
    for (int64_t i = 0; i < n; i++) {
        peak = fabs(v[i]) > peak ? fabs(v[i]) : peak;
        sum += v[i] * v[i];
    }
    double amplitude = goertzel(v, n, 1000, rate);
    double rms = 10 * log10(sum / (double)n);
    ck_assert_double_eq_tol(20 * log10(amplitude), -18.0, 0.001);
    ck_assert_double_le(20 * log10(peak), -17.999);
    ck_assert_double_eq_tol(rms, -21.0103, 0.01);       /* re a full-scale peak */
    ck_assert_double_eq_tol(rms + 3.0103, -18.0, 0.01); /* AES17: re a full-scale sine */
    sides_free(&s);
}
END_TEST

START_TEST(the_spectrum_is_one_line)
{
    int rate = rates[_i];
    struct sides s = sides_of(IDENT_GLITS, 1, rate);
    const double *v = s.v[1] + 5 * (rate / 4);
    for (int hz = 100; hz < 20000; hz += 37)
        if (hz != 1000)
            ck_assert_msg(20 * log10(goertzel(v, rate, hz, rate) + 1e-12) < -120, "%d Hz", hz);
    sides_free(&s);
}
END_TEST

Suite *test_ident(void)
{
    Suite *s = suite_create("engine/ident");
    TCase *t = tcase_create("ident");
    tcase_add_test(t, the_number_is_told_by_a_long_burst_for_ten_and_a_short_one_for_one);
    tcase_add_loop_test(t, glits_has_its_published_gaps_to_the_sample, 0, 2);
    tcase_add_loop_test(t, the_ebu_ident_interrupts_the_left_side_only_every_three_seconds, 0, 2);
    tcase_add_loop_test(t, the_level_is_eighteen_decibels_below_full_scale_by_both_conventions, 0,
                        2);
    tcase_add_loop_test(t, the_spectrum_is_one_line, 0, 2);
    suite_add_tcase(s, t);
    return s;
}
