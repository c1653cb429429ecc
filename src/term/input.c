/* What happens, in the order in which it happened.
 *
 * Bytes are read and decoded here and not by curses: its mouse hands out the newest report first
 * and reads without an end when one is cut (see decode.c for what we do). From the terminal's
 * description come the keys that differ between terminals. Signals turn up as events as well: a
 * new size of the window is one, and being resumed is given as one. */
#include "term/terminal.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <time.h>
#include <unistd.h>

#include "term/decode.h"
#include "term/described.h"
#include "term/inside.h"
#include "term/watch.h"

static struct decode *decoder;
static bool news; /* an event of the window's size is owed */

/* The names are those of terminfo(5). */
static const struct {
    const char *name;
    int key;
} keys[] = {
    {"kcuu1", K_UP},     {"kcud1", K_DOWN},      {"kcub1", K_LEFT},      {"kcuf1", K_RIGHT},
    {"kri", K_SHIFT_UP}, {"kind", K_SHIFT_DOWN}, {"kLFT", K_SHIFT_LEFT}, {"kRIT", K_SHIFT_RIGHT},
    {"khome", K_HOME},   {"kend", K_END},        {"kpp", K_PAGE_UP},     {"knp", K_PAGE_DOWN},
    {"kich1", K_INSERT}, {"kdch1", K_DELETE},    {"kcbt", K_BACKTAB},    {"kent", K_ENTER},
    {"kf1", K_F1},       {"kf2", K_F1 + 1},      {"kf3", K_F1 + 2},      {"kf4", K_F1 + 3},
    {"kf5", K_F1 + 4},   {"kf6", K_F1 + 5},      {"kf7", K_F1 + 6},      {"kf8", K_F1 + 7},
    {"kf9", K_F1 + 8},   {"kf10", K_F1 + 9},     {"kf11", K_F1 + 10},    {"kf12", K_F1 + 11},
};

void input_start(int escape_ms)
{
    decoder = decode_new(escape_ms);
    news = true;
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        decode_learn(decoder, described_string(keys[i].name), keys[i].key);
}

void input_stop(void)
{
    decode_free(decoder);
    decoder = NULL;
}

void input_news(void)
{
    news = true;
}

long long terminal_now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (long long)t.tv_sec * 1000 + t.tv_nsec / 1000000;
}

/* The shorter of ms and what is left until the decoder wants to be asked again. */
static int patience(int ms)
{
    long long due = decode_due(decoder);
    if (due < 0)
        return ms;
    long long left = due - terminal_now();
    left = left < 0 ? 0 : left;
    return ms >= 0 && ms < left ? ms : (int)left;
}

void terminal_wait(int ms)
{
    struct pollfd on[] = {{.fd = STDIN_FILENO, .events = POLLIN},
                          {.fd = watch_fd(), .events = POLLIN}};
    if (terminal_ended() || poll(on, 2, patience(ms)) < 0)
        return;
    if (on[1].revents)
        watch_heard();
}

/* Feeds what can be read at once; false when there is nothing. */
static bool read_more(void)
{
    struct pollfd on = {.fd = STDIN_FILENO, .events = POLLIN};
    if (poll(&on, 1, 0) <= 0)
        return false;
    char bytes[DECODE_CHUNK];
    ssize_t n = read(STDIN_FILENO, bytes, sizeof bytes);
    if (n > 0)
        decode_feed(decoder, bytes, (size_t)n, terminal_now());
    else if (n == 0 || (errno != EINTR && errno != EAGAIN))
        tty_gone();
    return n > 0;
}

static bool next_from_signals(struct event *out)
{
    if (watch_seen(WATCH_STOP))
        terminal_suspend();
    bool resumed = watch_seen(WATCH_CONTINUE); /* after a stop that cannot be caught */
    if (resumed)
        tty_retake();
    if (!watch_seen(WATCH_RESIZE) && !resumed && !news)
        return false;
    news = false;
    tty_measure();
    *out = (struct event){
        .kind = EVENT_RESIZE, .column = terminal_columns(), .row = terminal_rows()};
    return true;
}

static bool next_from_bytes(struct event *out)
{
    do {
        if (decode_next(decoder, out))
            return true;
    } while (read_more());
    return !terminal_ended() && decode_expire(decoder, terminal_now(), out);
}

/* A report may be older than the size of the window. */
static void put_inside(struct event *ev)
{
    if (ev->kind == EVENT_RESIZE)
        return;
    if (ev->column >= terminal_columns())
        ev->column = terminal_columns() - 1;
    if (ev->row >= terminal_rows())
        ev->row = terminal_rows() - 1;
}

bool terminal_next(struct event *out)
{
    if (terminal_ended())
        return false;
    if (!next_from_signals(out) && !next_from_bytes(out))
        return false;
    put_inside(out);
    return true;
}
