/* The program plays through alsa-lib into files: a configuration of our own makes every sound
 * device a file over one that leads nowhere. What is in the file must be the ident in the two
 * channels of the deck, bit by bit, and nothing anywhere else. The library puts rate, channels and
 * format into the file's name. */
#include <check.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "cli/program.h"
#include "engine/ident.h"
#include "file/venue.h"
#include "support/booth_from.h"
#include "support/scratch_file.h"

#define INTERFACE "x1 card 8; joined x1; x1.o1 > s1.line; x1.o2 > s2.line; "

/* Writes the venue, and runs "ident" on it with these arguments. */
static void run_ident(struct program *p, const char *world, char *const *arguments, size_t n)
{
    char *all[12] = {(char[]){"ident"}, NULL};
    char file[256];
    struct str text = {0};
    struct booth *b = booth_from(world);
    venue_write(b, &text);
    scratch_put("venue.json", str_text(&text));
    str_clear(&text);
    booth_free(b);
    snprintf(file, sizeof file, "%s", scratch("venue.json"));
    all[1] = file;
    ck_assert_uint_le(n, 10);
    for (size_t i = 0; i < n; i++)
        all[i + 2] = arguments[i];
    program_run(p, all, n + 2);
}

static char h1[] = "h1", h2[] = "h2", play[] = "--play", booth[] = "booth";

#ifdef HAVE_alsa
static void configure(void)
{
    struct str text = {0};
    scratch_make();
    const char *folder = scratch("");
    str_addf(&text,
             "pcm.booth { type file file \"%s/%%r-%%c-%%f.raw\" format raw slave.pcm { type null } "
             "}\n",
             folder);
    str_add(&text, "pcm.pair { type multi master 0 slaves.a { pcm booth channels 2 }\n"
                   "  bindings { 0 { slave a channel 0 } 1 { slave a channel 1 } } }\n");
    str_add(&text, "pcm.ten { type multi master 0 slaves.a { pcm booth channels 10 }\n bindings {");
    for (int i = 0; i < 10; i++)
        str_addf(&text, " %d { slave a channel %d }", i, i);
    str_add(&text, " } }\npcm.slow { type plug slave { pcm booth rate 22050 } }\n"
                   "pcm.broken { type multi }\n");
    scratch_put("asound.conf", str_text(&text));
    setenv("ALSA_CONFIG_PATH", scratch("asound.conf"), 1);
    str_clear(&text);
}

static int32_t sample_at(const char *bytes)
{
    const unsigned char *b = (const unsigned char *)bytes;
    uint32_t value = b[0] | (uint32_t)b[1] << 8 | (uint32_t)b[2] << 16 | (uint32_t)b[3] << 24;
    return (int32_t)value;
}

struct expected {
    const char *file;
    enum ident kind;
    int number, rate_hz, channels, left, right;
};

/* The ident has 24 bits and what is played 32; a single channel has the mean of both sides. */
static void compare_frame(const struct expected *x, int64_t at, const char *frame)
{
    int32_t side[2];
    ident_frame(x->kind, x->number, x->rate_hz, at, side);
    for (int k = 0; k < x->channels; k++) {
        int32_t want = 256 * (k == x->left ? side[0] : k == x->right ? side[1] : 0);
        int32_t got = sample_at(frame + 4 * k);
        if (k == x->left && k == x->right)
            want = 128 * (side[0] + side[1]);
        if (got != want)
            ck_abort_msg("%s: frame %lld, channel %d: %d, not %d", x->file, (long long)at, k,
                         (int)got, (int)want);
    }
}

static void compare_file(const struct expected *x)
{
    struct str got = program_file(scratch(x->file));
    int64_t frames = ident_frames(x->kind, x->number, x->rate_hz);
    ck_assert_uint_eq(got.len, (size_t)frames * (size_t)x->channels * 4);
    for (int64_t i = 0; i < frames; i++)
        compare_frame(x, i, got.text + i * x->channels * 4);
    str_clear(&got);
}

static void run_well(const char *world, char *const *arguments, size_t n, const char *says)
{
    struct program p = {0};
    run_ident(&p, world, arguments, n);
    ck_assert_str_eq(str_text(&p.err), "");
    ck_assert_int_eq(p.status, 0);
    ck_assert_str_eq(str_text(&p.out), says);
    program_clear(&p);
}

/* What it has to say first. */
#define SAYS(deck, pair, channels, of, seconds, level)                                             \
    deck " plays to the host's pair " pair ", which is " channels " (from 1) of the " of           \
         "; " seconds " s, " level " dB full scale\n"                                              \
         "faders and headphones down first, then up slowly; it plays to its end\n"

START_TEST(a_deck_sounds_in_its_pair_of_an_interface_of_eight_and_nowhere_else)
{
    run_well(INTERFACE "h1 wants s2", (char *[]){h1, play, booth}, 3,
             SAYS("H1", "2/3", "channels 3 and 4", "8 of booth", "13.2", "-18"));
    compare_file(&(struct expected){"48000-8-S32_LE.raw", IDENT_GLITS, 1, 48000, 8, 2, 3});
}
END_TEST

START_TEST(what_a_deck_is_set_to_counts_before_its_route_and_sides_may_be_swapped)
{
    char ebu[] = "--ebu";
    run_well(INTERFACE "h1 wants s2; h2 wants s1; h2 set 6 4; host rate_hz 44100",
             (char *[]){h2, play, booth, ebu}, 4,
             SAYS("H2", "6/4", "channels 7 and 5", "8 of booth", "10.7", "-18"));
    compare_file(&(struct expected){"44100-8-S32_LE.raw", IDENT_EBU, 2, 44100, 8, 6, 4});
}
END_TEST

START_TEST(a_single_channel_gets_both_sides_no_louder_than_a_pair)
{
    run_well(INTERFACE "h1 set 5 5", (char *[]){h1, play, booth}, 3,
             SAYS("H1", "5/5", "channel 6", "8 of booth", "13.2", "-18"));
    compare_file(&(struct expected){"48000-8-S32_LE.raw", IDENT_GLITS, 1, 48000, 8, 5, 5});
}
END_TEST

START_TEST(a_device_with_more_channels_than_the_interface_is_silent_in_those)
{
    char ten[] = "ten";
    run_well(INTERFACE "h1 set 2 3", (char *[]){h1, play, ten}, 3,
             SAYS("H1", "2/3", "channels 3 and 4", "10 of ten", "13.2", "-18"));
    compare_file(&(struct expected){"48000-10-S32_LE.raw", IDENT_GLITS, 1, 48000, 10, 2, 3});
}
END_TEST

START_TEST(a_lower_level_is_lower_by_just_that)
{
    char level[] = "--level", db[] = "-38";
    int32_t peak = 0;
    run_well(INTERFACE "h1 set 2 3", (char *[]){h1, play, booth, level, db}, 5,
             SAYS("H1", "2/3", "channels 3 and 4", "8 of booth", "13.2", "-38"));
    struct str got = program_file(scratch("48000-8-S32_LE.raw"));
    for (size_t i = 0; i + 4 <= got.len; i += 4) {
        int32_t sample = sample_at(got.text + i);
        peak = sample > peak ? sample : peak;
    }
    /* 38 dB below 2^31: 10^(-38/20) = 0.0125893 */
    ck_assert_int_gt(peak, 27035000);
    ck_assert_int_lt(peak, 27036000);
    str_clear(&got);
}
END_TEST

static const struct {
    const char *device, *says;
} refused[] = {
    {"nobody", "boothwright: nobody: cannot be opened to play: No such file or directory\n"},
    {"broken", "boothwright: broken: cannot be opened to play: Invalid argument\n"},
    {"pair", "boothwright: pair: has at most 2 channels, and the interface of this venue 8\n"},
    {"slow", "boothwright: slow: does not run at 48000 Hz\n"},
};

START_TEST(a_device_that_cannot_play_it_is_refused_with_one_sentence_and_nothing_announced)
{
    struct program p = {0};
    char device[16];
    snprintf(device, sizeof device, "%s", refused[_i].device);
    run_ident(&p, INTERFACE "h1 set 2 3", (char *[]){h1, play, device}, 3);
    ck_assert_str_eq(str_text(&p.err), refused[_i].says);
    ck_assert_int_eq(p.status, 4);
    ck_assert_str_eq(str_text(&p.out), "");
    ck_assert_int_eq(scratch_count(), 2); /* the configuration and the venue */
    program_clear(&p);
}
END_TEST

START_TEST(what_nobody_can_read_is_not_played)
{
    struct program p = {.output = open("/dev/full", O_WRONLY)};
    if (p.output < 0)
        return; /* only some systems have one */
    run_ident(&p, INTERFACE "h1 set 2 3", (char *[]){h1, play, booth}, 3);
    close(p.output);
    ck_assert_int_eq(p.status, 4);
    struct str got = program_file(scratch("48000-8-S32_LE.raw"));
    ck_assert_uint_eq(got.len, 0);
    str_clear(&got);
    program_clear(&p);
}
END_TEST

static void add_tests(TCase *t)
{
    tcase_add_checked_fixture(t, configure, scratch_remove);
    tcase_add_test(t, a_deck_sounds_in_its_pair_of_an_interface_of_eight_and_nowhere_else);
    tcase_add_test(t, what_a_deck_is_set_to_counts_before_its_route_and_sides_may_be_swapped);
    tcase_add_test(t, a_single_channel_gets_both_sides_no_louder_than_a_pair);
    tcase_add_test(t, a_device_with_more_channels_than_the_interface_is_silent_in_those);
    tcase_add_test(t, a_lower_level_is_lower_by_just_that);
    tcase_add_loop_test(
        t, a_device_that_cannot_play_it_is_refused_with_one_sentence_and_nothing_announced, 0,
        sizeof refused / sizeof *refused);
    tcase_add_test(t, what_nobody_can_read_is_not_played);
}
#else
START_TEST(a_build_without_alsa_lib_says_that_it_cannot_play)
{
    struct program p = {0};
    run_ident(&p, INTERFACE "h1 set 2 3", (char *[]){h1, play, booth}, 3);
    ck_assert_int_eq(p.status, 2);
    ck_assert_str_eq(str_text(&p.out), "");
    ck_assert_ptr_nonnull(strstr(str_text(&p.err), "this build cannot play"));
    program_clear(&p);
}
END_TEST

static void add_tests(TCase *t)
{
    (void)h2;
    puts("skipped: alsa/play needs alsa-lib");
    tcase_add_checked_fixture(t, scratch_make, scratch_remove);
    tcase_add_test(t, a_build_without_alsa_lib_says_that_it_cannot_play);
}
#endif

Suite *test_alsa_play(void);
Suite *test_alsa_play(void)
{
    Suite *s = suite_create("alsa/play");
    TCase *t = tcase_create("play");
    add_tests(t);
    suite_add_tcase(s, t);
    return s;
}
