/* A call into a sound library can stand still for as long as the device likes, and no key and no
 * signal ends it reliably. A process that can be killed is out of it at once:
 *
 *     here            the process
 *     start           opens the device
 *       <- opened --
 *     go --- go --->  plays, and waits for the last frame
 *       <-- done ---  ends
 *     end             is killed, unless it has ended within a moment of the orders' being closed
 *
 * It looks between two periods, of some 20 ms, whether the orders have been closed, and when this
 * program dies they are. Signals it leaves to this program alone. */
#include "cli/sounding.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "cli/playback.h"

enum { MOMENT_MS = 200 };

/* The news: both times what went wrong, and at first how the device was opened. */
struct news {
    struct err e;
    struct sample_layout layout;
};

/* --- the process ------------------------------------------------------------------------------ */

/* Whether the orders are closed. */
static bool told_to_stop(int orders)
{
    struct pollfd on = {.fd = orders, .events = POLLIN};
    return poll(&on, 1, 0) > 0;
}

/* Hands over all frames, and waits for the last, unless it is told to stop. */
static bool play_frames(const struct playing *p, struct playback *to, int orders, struct err *e)
{
    struct sample_layout layout = playback_layout(to);
    int64_t period = (int64_t)playback_period(to);
    char *buffer = mem_new((size_t)period, (size_t)layout.channels * (size_t)layout.bytes_sample);
    int64_t at = 0;
    long taken = 0;
    while (at < p->frames && taken >= 0 && !told_to_stop(orders)) {
        size_t n = (size_t)(p->frames - at < period ? p->frames - at : period);
        playing_fill(p, &layout, at, n, buffer);
        taken = playback_write(to, buffer, n, e);
        at += taken > 0 ? taken : 0;
    }
    mem_free(buffer);
    return taken >= 0 && (at < p->frames || playback_finish(to, e));
}

/* False when nobody is there any more to read it. */
static bool tell(int to, const struct news *news)
{
    return write(to, news, sizeof *news) == (ssize_t)sizeof *news;
}

static bool told_to_go(int orders)
{
    char order;
    return read(orders, &order, 1) == 1;
}

static void play_apart(const struct playing *p, int orders, int to)
{
    struct news opened = {0}, done = {0};
    struct playback *out = playback_open(p, &opened.e);
    if (out)
        opened.layout = playback_layout(out);
    bool go = tell(to, &opened) && out && told_to_go(orders);
    if (go)
        play_frames(p, out, orders, &done.e);
    if (out)
        playback_close(out);
    if (go)
        tell(to, &done); /* only when it is silent */
}

/* --- from outside ----------------------------------------------------------------------------- */

static bool fails(struct err *e)
{
    return err_set(e, ERR_WRITE, NULL, "no process can be started to play: %s", strerror(errno));
}

/* Pipes that no other program inherits. */
static bool open_pipe(int ends[2])
{
    if (pipe(ends) != 0)
        return false;
    fcntl(ends[0], F_SETFD, FD_CLOEXEC);
    fcntl(ends[1], F_SETFD, FD_CLOEXEC);
    return true;
}

static void close_pipe(const int ends[2])
{
    close(ends[0]);
    close(ends[1]);
}

static void be_the_process(const struct playing *p, const int orders[2], const int news[2])
{
    sigset_t all;
    sigfillset(&all);
    sigprocmask(SIG_BLOCK, &all, NULL);
    mem_on_last_words(NULL);
    close(orders[1]);
    close(news[0]);
    play_apart(p, orders[0], news[1]);
    _exit(0);
}

bool sounding_start(struct sounding *s, const struct playing *p, struct err *e)
{
    int orders[2], news[2];
    if (!open_pipe(orders))
        return fails(e);
    if (!open_pipe(news)) {
        fails(e);
        close_pipe(orders);
        return false;
    }
    *s = (struct sounding){.process = fork(), .orders = orders[1], .news = news[0]};
    if (s->process == 0)
        be_the_process(p, orders, news);
    if (s->process < 0) {
        fails(e);
        close_pipe(orders);
        close_pipe(news);
        return false;
    }
    close(orders[0]);
    close(news[1]);
    return true;
}

int sounding_news(const struct sounding *s)
{
    return s->news;
}

/* Small enough to come in one piece, or not at all when the process has died. */
static bool read_news(const struct sounding *s, struct news *news, struct err *e)
{
    ssize_t n;
    do
        n = read(s->news, news, sizeof *news);
    while (n < 0 && errno == EINTR);
    if (n != (ssize_t)sizeof *news)
        return err_set(e, ERR_WRITE, NULL, "what plays has broken off");
    *e = news->e;
    return news->e.code == ERR_NONE;
}

bool sounding_opened(struct sounding *s, struct sample_layout *layout, struct err *e)
{
    struct news news;
    if (!read_news(s, &news, e))
        return false;
    *layout = news.layout;
    return true;
}

void sounding_go(struct sounding *s)
{
    ssize_t n = write(s->orders, "", 1);
    (void)n; /* when it has died, the news says so */
}

bool sounding_done(struct sounding *s, struct err *e)
{
    struct news news;
    return read_news(s, &news, e);
}

/* The news ends with the process; there may still be some that nobody wants any more. */
static bool ends_by_itself(const struct sounding *s)
{
    struct pollfd on = {.fd = s->news, .events = POLLIN};
    struct news unwanted;
    ssize_t n;
    do
        n = poll(&on, 1, MOMENT_MS) > 0 ? read(s->news, &unwanted, sizeof unwanted) : -1;
    while (n > 0);
    return n == 0;
}

void sounding_end(struct sounding *s)
{
    close(s->orders);
    if (!ends_by_itself(s))
        kill(s->process, SIGKILL);
    while (waitpid(s->process, NULL, 0) < 0 && errno == EINTR)
        ;
    close(s->news);
}
