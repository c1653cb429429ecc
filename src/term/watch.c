/* Signals, watched.
 *
 * A handler may do next to nothing, so these set a mark and write one byte to a pipe that the
 * loop sleeps on: no signal is lost between looking and sleeping. Crashes are different: nothing
 * will run afterwards, so their handler itself gives the terminal back (on a stack of its own, in
 * case the stack is what broke) and then lets the signal do what it does.
 *
 * Handlers must be set before curses starts: it takes only signals that are still untouched. */
#include "term/watch.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <unistd.h>

#if defined(__has_feature)
#if __has_feature(address_sanitizer)
#define SANITIZED 1
#endif
#endif
#ifdef __SANITIZE_ADDRESS__
#define SANITIZED 1
#endif
#ifdef SANITIZED
/* The sanitizer reports crashes itself, and ends the program in its own way. */
void __sanitizer_set_death_callback(void (*callback)(void));
#endif

enum { MARKS, ENDS, IGNORED, CRASHES };

static const struct {
    int number;
    int kind;
    enum watch mark;
} signals[] = {
    {SIGWINCH, MARKS, WATCH_RESIZE},
    {SIGTSTP, MARKS, WATCH_STOP},
    {SIGCONT, MARKS, WATCH_CONTINUE},
    {SIGHUP, ENDS, 0},
    {SIGINT, ENDS, 0},
    {SIGQUIT, ENDS, 0},
    {SIGTERM, ENDS, 0},
    {SIGALRM, ENDS, 0},
    {SIGUSR1, ENDS, 0},
    {SIGUSR2, ENDS, 0},
    {SIGPIPE, IGNORED, 0},
    {SIGSEGV, CRASHES, 0},
    {SIGBUS, CRASHES, 0},
    {SIGILL, CRASHES, 0},
    {SIGFPE, CRASHES, 0},
    {SIGABRT, CRASHES, 0},
};
enum { SIGNALS = sizeof signals / sizeof *signals };

static struct sigaction before[SIGNALS];
static sigset_t mask_before;
static volatile sig_atomic_t marks[WATCH_COUNT], end;
static int wake[2] = {-1, -1};
static char crash_stack[65536];
static void (*rescue_terminal)(void);

static void wake_up(void)
{
    int kept = errno;
    ssize_t n = write(wake[1], "", 1);
    (void)n; /* a full pipe wakes just as well */
    errno = kept;
}

static void on_mark(int number)
{
    for (size_t i = 0; i < SIGNALS; i++)
        if (signals[i].number == number)
            marks[signals[i].mark] = 1;
    wake_up();
}

static void on_end(int number)
{
    end = number;
    wake_up();
}

static void on_crash(int number)
{
    rescue_terminal();
    signal(number, SIG_DFL);
    raise(number);
}

static bool open_pipe(struct err *e)
{
    if (pipe(wake) != 0)
        return err_set(e, ERR_USAGE, NULL, "cannot open a pipe: %s", strerror(errno));
    for (int i = 0; i < 2; i++) {
        fcntl(wake[i], F_SETFL, O_NONBLOCK);
        fcntl(wake[i], F_SETFD, FD_CLOEXEC);
    }
    return true;
}

static void set_handler(size_t i)
{
    static void (*const handlers[])(int) = {
        [MARKS] = on_mark, [ENDS] = on_end, [IGNORED] = SIG_IGN, [CRASHES] = on_crash};
    struct sigaction now = {.sa_handler = handlers[signals[i].kind]};
    sigemptyset(&now.sa_mask);
    if (signals[i].kind == CRASHES)
        now.sa_flags = SA_ONSTACK | (int)SA_RESETHAND;
    sigaction(signals[i].number, NULL, &before[i]);
    if (signals[i].kind != ENDS || before[i].sa_handler != SIG_IGN)
        sigaction(signals[i].number, &now, NULL);
}

/* Whether a signal is ours to handle. */
static bool is_ours(size_t i)
{
#ifdef SANITIZED
    return signals[i].kind != CRASHES || signals[i].number == SIGABRT;
#else
    (void)i;
    return true;
#endif
}

bool watch_start(void (*rescue)(void), struct err *e)
{
    if (!open_pipe(e))
        return false;
    rescue_terminal = rescue;
    end = 0;
    for (int i = 0; i < WATCH_COUNT; i++)
        marks[i] = 0;
#ifdef SANITIZED
    __sanitizer_set_death_callback(rescue);
#endif
    stack_t stack = {.ss_sp = crash_stack, .ss_size = sizeof crash_stack};
    sigaltstack(&stack, NULL);
    sigset_t ours;
    sigemptyset(&ours);
    for (size_t i = 0; i < SIGNALS; i++) {
        if (is_ours(i))
            set_handler(i);
        sigaddset(&ours, signals[i].number);
    }
    sigprocmask(SIG_UNBLOCK, &ours, &mask_before);
    return true;
}

void watch_stop(void)
{
    for (size_t i = 0; i < SIGNALS; i++)
        if (is_ours(i))
            sigaction(signals[i].number, &before[i], NULL);
    sigprocmask(SIG_SETMASK, &mask_before, NULL);
    for (int i = 0; i < 2; i++) {
        close(wake[i]);
        wake[i] = -1;
    }
}

int watch_fd(void)
{
    return wake[0];
}

void watch_heard(void)
{
    char bytes[64];
    while (read(wake[0], bytes, sizeof bytes) > 0)
        ;
}

bool watch_seen(enum watch what)
{
    bool seen = marks[what];
    marks[what] = 0;
    return seen;
}

int watch_end(void)
{
    return (int)end;
}

void watch_stop_here(void)
{
    struct sigaction plain = {.sa_handler = SIG_DFL}, ours;
    sigemptyset(&plain.sa_mask);
    sigaction(SIGTSTP, &plain, &ours);
    raise(SIGTSTP);
    sigaction(SIGTSTP, &ours, NULL);
    marks[WATCH_STOP] = marks[WATCH_CONTINUE] = 0;
}
