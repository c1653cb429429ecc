/* What is played, held against the ident itself, sample by sample, in every form that a device may
 * take it in; the bytes are put together here by hand. */
#include "cli/playing.h"

#include <check.h>
#include <math.h>
#include <string.h>

#include "base/mem.h"
#include "support/booth_from.h"

#define INTERFACE "x1 card 8; joined x1; x1.o1 > s1.line; x1.o2 > s2.line; "

/* Reads "ident - DECK --play booth" and what else is given, for a booth. */
static bool read_playing(const char *world, const char *deck, const char *option, const char *value,
                         struct playing *p)
{
    char words[][16] = {"b", "ident", "-", "h1", "--play", "booth", "", ""};
    char *argv[8];
    int argc = option ? 8 : 6;
    strcpy(words[3], deck);
    strcpy(words[6], option ? option : "");
    strcpy(words[7], value ? value : "");
    for (int i = 0; i < argc; i++)
        argv[i] = words[i];
    struct arguments a;
    struct err e;
    struct booth *b = booth_from(world);
    ck_assert(arguments_read(&a, argc, argv, &e));
    bool good = playing_read(&a, b, p, &e);
    ck_assert(good || e.code == ERR_USAGE);
    arguments_clear(&a);
    booth_free(b);
    return good;
}

static struct playing played(const char *world, const char *deck)
{
    struct playing p;
    ck_assert(read_playing(world, deck, NULL, NULL, &p));
    return p;
}

/* --- which channels --------------------------------------------------------------------------- */

static const struct {
    const char *world, *deck;
    int left, right;
} ways[] = {
    {INTERFACE "h1 wants s1", "h1", 0, 1},
    {INTERFACE "h1 wants s2", "h1", 2, 3},
    {INTERFACE "h1 wants s1; h1 set 2 3", "h1", 2, 3},
    {INTERFACE "h1 wants s1; h1 set 3 2", "h1", 3, 2},
    {INTERFACE "h1 wants s1; h1 set 5 5", "h1", 5, 5},
    {INTERFACE "h1 wants s1; h2 set 1 2", "h2", 1, 2},
};

START_TEST(a_deck_plays_to_what_it_is_set_to_else_to_its_route)
{
    struct playing p = played(ways[_i].world, ways[_i].deck);
    ck_assert_int_eq(p.pair.left, ways[_i].left);
    ck_assert_int_eq(p.pair.right, ways[_i].right);
    ck_assert_int_eq(p.channels, 8);
}
END_TEST

START_TEST(a_deck_without_channels_in_the_interface_is_not_played)
{
    static const char *const worlds[] = {"h1 wants s1; s1 selects line",
                                         INTERFACE "h1 wants s3; s3 selects line",
                                         INTERFACE "h1 wants s1; h1 set 7 8", "h1 set 0 1"};
    struct playing p;
    for (size_t i = 0; i < sizeof worlds / sizeof *worlds; i++)
        ck_assert_msg(!read_playing(worlds[i], "h1", NULL, NULL, &p), "%s", worlds[i]);
}
END_TEST

START_TEST(the_rate_is_the_hosts_or_the_one_that_is_asked_for)
{
    struct playing p;
    ck_assert_int_eq(played(INTERFACE "h1 set 0 1; host rate_hz 44100", "h1").rate_hz, 44100);
    ck_assert_int_eq(played(INTERFACE "h1 set 0 1; host rate_hz 48000", "h1").rate_hz, 48000);
    ck_assert(!read_playing(INTERFACE "h1 set 0 1; host rate_hz 96000", "h1", NULL, NULL, &p));
    ck_assert(
        read_playing(INTERFACE "h1 set 0 1; host rate_hz 96000", "h1", "--rate", "44100", &p));
    ck_assert_int_eq(p.rate_hz, 44100);
}
END_TEST

START_TEST(no_level_above_the_idents_own_is_taken)
{
    static const struct {
        const char *text;
        bool good;
    } levels[] = {
        {"-18", true},  {"-19", true},   {"-60", true},          {"-17", false}, {"-61", false},
        {"0", false},   {"18", false},   {"-18.5", false},       {"", false},    {"-", false},
        {"nan", false}, {"-18x", false}, {"-99999999999", false}};
    for (size_t i = 0; i < sizeof levels / sizeof *levels; i++) {
        struct playing p;
        bool good = read_playing(INTERFACE "h1 set 0 1", "h1", "--level", levels[i].text, &p);
        ck_assert_msg(good == levels[i].good, "%s", levels[i].text);
        ck_assert(!good || p.level_db <= -18);
    }
    ck_assert_int_eq(played(INTERFACE "h1 set 0 1", "h1").level_db, -18);
}
END_TEST

/* --- which samples ---------------------------------------------------------------------------- */

static const struct sample_layout layouts[] = {{8, 4, 32}, {9, 4, 24}, {8, 3, 24}, {11, 2, 16}};
enum { LAYOUTS = sizeof layouts / sizeof *layouts, FRAMES = 640 };

/* A sample, from its lowest byte on, in units of 24 bits. */
static double sample_at(const struct sample_layout *l, const char *bytes)
{
    long long value = 0;
    for (int i = 0; i < l->bytes_sample; i++)
        value += (long long)(unsigned char)bytes[i] << (8 * i);
    if (value >= 1LL << (8 * l->bytes_sample - 1))
        value -= 1LL << (8 * l->bytes_sample);
    return ldexp((double)value, 24 - l->bits);
}

/* What a channel has to hold, in the same units. */
static double wanted_at(const struct playing *p, int64_t at, int channel)
{
    int32_t side[2];
    ident_frame(p->kind, p->deck + 1, p->rate_hz, at, side);
    double softer = pow(10, (p->level_db + 18) / 20.0), value = 0;
    int sides = 0;
    if (channel == p->pair.left)
        value += side[0], sides++;
    if (channel == p->pair.right)
        value += side[1], sides++;
    return sides ? value / sides * softer : 0;
}

/* Compares so many frames from a position on; half a step of rounding is allowed where there are
 * fewer bits than in the ident, or it was made softer. */
static void compare_frames(const struct playing *p, const struct sample_layout *l, int64_t from)
{
    size_t size = (size_t)FRAMES * (size_t)l->channels * (size_t)l->bytes_sample;
    char *bytes = mem_new(size + 1, 1), *at = bytes;
    bytes[size] = 'x';
    playing_fill(p, l, from, FRAMES, bytes);
    bool whole = l->bits >= 24 && p->level_db == -18 && p->pair.left != p->pair.right;
    double most = whole ? 0 : ldexp(0.5001, 24 - l->bits);
    for (int i = 0; i < FRAMES; i++)
        for (int k = 0; k < l->channels; k++, at += l->bytes_sample) {
            double got = sample_at(l, at), want = wanted_at(p, from + i, k);
            if (want == 0 ? got != 0 : fabs(got - want) > most)
                ck_abort_msg("channel %d, frame %d: %.3f instead of %.3f", k, i, got, want);
        }
    ck_assert_int_eq(bytes[size], 'x');
    mem_free(bytes);
}

/* From before the first sound to after the last, at every quarter of a second. */
static void compare_all(struct playing p)
{
    for (size_t i = 0; i < LAYOUTS; i++)
        for (int64_t at = 0; at + FRAMES <= p.frames; at += p.rate_hz / 4 - FRAMES / 2)
            compare_frames(&p, &layouts[i], at);
}

START_TEST(the_pair_holds_the_ident_and_every_other_channel_is_silent)
{
    compare_all(played(ways[_i].world, ways[_i].deck));
}
END_TEST

START_TEST(a_lower_level_is_the_same_ident_and_softer)
{
    static const char *const levels[] = {"-19", "-30", "-60"};
    struct playing p;
    ck_assert(read_playing(INTERFACE "h1 set 2 3", "h1", "--level", levels[_i], &p));
    compare_all(p);
}
END_TEST

Suite *test_playing(void);
Suite *test_playing(void)
{
    Suite *s = suite_create("cli/playing");
    TCase *t = tcase_create("playing");
    suite_add_tcase(s, t);
    tcase_add_loop_test(t, a_deck_plays_to_what_it_is_set_to_else_to_its_route, 0,
                        sizeof ways / sizeof *ways);
    tcase_add_test(t, a_deck_without_channels_in_the_interface_is_not_played);
    tcase_add_test(t, the_rate_is_the_hosts_or_the_one_that_is_asked_for);
    tcase_add_test(t, no_level_above_the_idents_own_is_taken);
    tcase_add_loop_test(t, the_pair_holds_the_ident_and_every_other_channel_is_silent, 0,
                        sizeof ways / sizeof *ways);
    tcase_add_loop_test(t, a_lower_level_is_the_same_ident_and_softer, 0, 3);
    return s;
}
