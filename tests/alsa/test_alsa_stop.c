/* Stopped while it plays. The sound device is a file that is a pipe: it takes a little, and then
 * the program stands still until the test reads on, so that the test knows that it is playing, and
 * that the key waits at its door, without a look at any clock. */
#include <check.h>
#include <stdio.h>

#if defined(HAVE_alsa) && defined(HAVE_vterm)
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "engine/ident.h"
#include "support/scratch_file.h"
#include "tty/pty.h"

enum {
    FRAME = 8 * 4, /* bytes: eight channels of 32 bits */
    ENOUGH = 1000000,
};

static struct pty terminal;
static int sound = -1; /* where the sound comes out */

static void fixture(void)
{
    char text[512];
    scratch_make();
    snprintf(text, sizeof text,
             "pcm.booth { type file file \"%s\" format raw slave.pcm { type null } }\n",
             scratch("sound"));
    scratch_put("asound.conf", text);
    ck_assert_int_eq(mkfifo(scratch("sound"), 0600), 0);
    sound = open(scratch("sound"), O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    ck_assert_int_ge(sound, 0);
}

static void fixture_end(void)
{
    if (sound >= 0)
        close(sound);
    scratch_remove();
}

/* Plays the first deck of the demo venue. */
static void start_program(void)
{
    char env[256],
        *path = realpath(getenv("BOOTHWRIGHT") ? getenv("BOOTHWRIGHT") : "build/plain/boothwright",
                         NULL);
    char *argv[] = {path,
                    (char[]){"ident"},
                    (char[]){"venues/tideline-hall.json"},
                    (char[]){"H1"},
                    (char[]){"--play"},
                    (char[]){"booth"},
                    NULL};
    ck_assert_ptr_nonnull(path);
    snprintf(env, sizeof env, "ALSA_CONFIG_PATH=%s", scratch("asound.conf"));
    pty_start(&terminal, &(struct pty_setup){.argv = argv, .columns = 100, .env = {env}});
    free(path);
}

/* The same, until some of it has come out. */
static void start(void)
{
    start_program();
    pty_until_shown(&terminal, "faders and headphones down first, then up slowly; any key stops");
    struct pollfd out = {.fd = sound, .events = POLLIN};
    ck_assert_int_eq(poll(&out, 1, PTY_PATIENCE * 1000), 1);
}

/* Reads to the end of the sound, or until there were at least so many bytes; returns how many that
 * were. *sounded becomes true when one of them was not silent. */
static size_t drain(size_t most, bool *sounded)
{
    static char bytes[65536];
    size_t all = 0;
    struct pollfd out = {.fd = sound, .events = POLLIN};
    while (all < most) {
        ck_assert_msg(poll(&out, 1, PTY_PATIENCE * 1000) > 0, "the sound has no end");
        ssize_t n = read(sound, bytes, sizeof bytes);
        if (n <= 0)
            break;
        all += (size_t)n;
        for (ssize_t i = 0; i < n; i++)
            *sounded |= bytes[i] != 0;
    }
    return all;
}

/* Waits until the key is at the program's door, or the program has gone with it already. */
static void wait_for_key(void)
{
    struct pollfd on[] = {{.fd = terminal.slave, .events = POLLIN},
                          {.fd = terminal.news, .events = POLLIN}};
    ck_assert_int_ge(poll(on, 2, PTY_PATIENCE * 1000), 1);
}

/* How far a device takes what is played after the program was told to stop: for a moment, or not a
 * byte more. Without a clock in it, it would take all before the program wakes up. */
static const size_t takes[] = {ENOUGH, 0};

/* Waits until the program has ended, and returns its status. What came out was only the beginning:
 * not a tenth of it. */
static int was_cut_off(size_t most)
{
    bool sounded = false;
    size_t all = drain(most, &sounded);
    int status = pty_until_ended(&terminal);
    all += drain(SIZE_MAX, &sounded);
    ck_assert(sounded);
    ck_assert_uint_lt(all, (size_t)ident_frames(IDENT_GLITS, 1, 48000) * FRAME / 10);
    return status;
}

static const char *const keys[] = {"x", " ", "\r", "\033", "\003", "\032", "\023", "\033[A"};

START_TEST(any_key_stops_it_whatever_the_device_takes_and_no_shell_gets_the_key)
{
    int left = -1;
    start();
    pty_send(&terminal, keys[_i / 2]);
    wait_for_key();
    int status = was_cut_off(takes[_i % 2]);
    ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    ck_assert(pty_shows(&terminal, "stopped"));
    ck_assert(pty_is_as_before(&terminal));
    ck_assert_int_eq(ioctl(terminal.slave, FIONREAD, &left), 0);
    ck_assert_int_eq(left, 0);
    ck_assert_int_eq(terminal.stops, 0);
    pty_free(&terminal);
}
END_TEST

START_TEST(any_key_stops_it_though_the_device_does_not_even_let_itself_be_opened)
{
    struct pollfd end = {.events = POLLIN};
    close(sound); /* a pipe that nobody reads holds whoever opens it */
    sound = -1;
    start_program();
    end.fd = terminal.news;
    while (poll(&end, 1, 10) == 0) /* types until a key counts: before the start none does */
        pty_send(&terminal, keys[_i]);
    int status = pty_until_ended(&terminal);
    ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    ck_assert(!pty_shows(&terminal, "faders"));
    ck_assert(pty_shows(&terminal, "stopped"));
    ck_assert(pty_is_as_before(&terminal));
    pty_free(&terminal);
}
END_TEST

static const int ends[] = {SIGINT, SIGTERM, SIGHUP, SIGQUIT};

START_TEST(a_signal_stops_it_whatever_the_device_takes_and_the_terminal_is_as_before)
{
    start();
    pty_signal(&terminal, ends[_i / 2]);
    int status = was_cut_off(takes[_i % 2]);
    ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 128 + ends[_i / 2]);
    ck_assert(pty_is_as_before(&terminal));
    pty_free(&terminal);
}
END_TEST

START_TEST(nothing_plays_on_when_the_program_is_killed)
{
    start();
    pty_signal(&terminal, SIGKILL);
    was_cut_off(0);
    pty_free(&terminal);
}
END_TEST

START_TEST(what_would_stop_the_program_for_a_while_stops_the_sound_for_good)
{
    start();
    pty_signal(&terminal, SIGTSTP);
    int status = was_cut_off(ENOUGH);
    ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    ck_assert_int_eq(terminal.stops, 0);
    ck_assert(pty_is_as_before(&terminal));
    pty_free(&terminal);
}
END_TEST

START_TEST(a_closed_window_stops_it)
{
    start();
    pty_hang_up(&terminal);
    int status = was_cut_off(ENOUGH);
    ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 128 + SIGHUP);
    pty_free(&terminal);
}
END_TEST

START_TEST(without_a_key_it_plays_to_its_end)
{
    bool sounded = false;
    start();
    ck_assert_uint_eq(drain(SIZE_MAX, &sounded),
                      (size_t)ident_frames(IDENT_GLITS, 1, 48000) * FRAME);
    int status = pty_until_ended(&terminal);
    ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    ck_assert(!pty_shows(&terminal, "stopped"));
    ck_assert(pty_is_as_before(&terminal));
    pty_free(&terminal);
}
END_TEST
#endif

Suite *test_alsa_stop(void);
Suite *test_alsa_stop(void)
{
    Suite *s = suite_create("alsa/stop");
#if defined(HAVE_alsa) && defined(HAVE_vterm)
    TCase *t = tcase_create("stop");
    tcase_set_timeout(t, 2 * PTY_PATIENCE);
    tcase_add_checked_fixture(t, fixture, fixture_end);
    suite_add_tcase(s, t);
    tcase_add_loop_test(t, any_key_stops_it_whatever_the_device_takes_and_no_shell_gets_the_key, 0,
                        2 * sizeof keys / sizeof *keys);
    tcase_add_loop_test(t, any_key_stops_it_though_the_device_does_not_even_let_itself_be_opened, 0,
                        2);
    tcase_add_loop_test(t,
                        a_signal_stops_it_whatever_the_device_takes_and_the_terminal_is_as_before,
                        0, 2 * sizeof ends / sizeof *ends);
    tcase_add_test(t, nothing_plays_on_when_the_program_is_killed);
    tcase_add_test(t, what_would_stop_the_program_for_a_while_stops_the_sound_for_good);
    tcase_add_test(t, a_closed_window_stops_it);
    tcase_add_test(t, without_a_key_it_plays_to_its_end);
#else
    puts("skipped: alsa/stop needs alsa-lib and libvterm");
#endif
    return s;
}
