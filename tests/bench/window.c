/* The program gets a pseudo-terminal; libvterm reads what it sends, answers what it asks, and knows
 * what stands where. */
#ifdef HAVE_vterm
#include "bench/window.h"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench/figures.h"

static void must(bool good, const char *what)
{
    if (good)
        return;
    perror(what);
    exit(1);
}

static void send_bytes(const char *bytes, size_t n, void *self)
{
    const struct window *w = self;
    must(write(w->master, bytes, n) == (ssize_t)n, "typing");
}

static void become(const char *terminal, char *const argv[])
{
    setsid();
    int fd = open(terminal, O_RDWR);
    ioctl(fd, TIOCSCTTY, 0);
    for (int i = 0; i < 3; i++)
        dup2(fd, i);
    setenv("TERM", "xterm-256color", 1);
    setenv("LC_ALL", "C.UTF-8", 1);
    unsetenv("LINES");
    unsetenv("COLUMNS");
    execv(argv[0], argv);
    perror(argv[0]);
    _exit(127);
}

void window_open(struct window *w, char *const argv[])
{
    struct winsize size = {.ws_col = WINDOW_COLUMNS, .ws_row = WINDOW_ROWS};
    w->master = posix_openpt(O_RDWR | O_NOCTTY);
    must(w->master >= 0 && grantpt(w->master) == 0 && unlockpt(w->master) == 0, "a terminal");
    fcntl(w->master, F_SETFD, FD_CLOEXEC);
    ioctl(w->master, TIOCSWINSZ, &size);
    w->vt = vterm_new(WINDOW_ROWS, WINDOW_COLUMNS);
    vterm_set_utf8(w->vt, 1);
    vterm_output_set_callback(w->vt, send_bytes, w);
    w->screen = vterm_obtain_screen(w->vt);
    vterm_screen_enable_altscreen(w->screen, 1);
    vterm_screen_reset(w->screen, 1);
    w->program = fork();
    must(w->program >= 0, "another process");
    if (w->program == 0)
        become(ptsname(w->master), argv);
    must(clock_getcpuclockid(w->program, &w->cpu) == 0, "its CPU clock");
}

double window_close(struct window *w)
{
    struct rusage used;
    kill(w->program, SIGTERM);
    window_settle(w, 20); /* or its last words would fill the terminal */
    must(wait4(w->program, NULL, 0, &used) == w->program, "its end");
    vterm_free(w->vt);
    close(w->master);
    return (double)used.ru_maxrss;
}

void window_type(struct window *w, const char *bytes)
{
    send_bytes(bytes, strlen(bytes), w);
}

struct answer window_settle(struct window *w, int silence)
{
    struct answer a = {0, seconds_now()};
    struct pollfd on = {.fd = w->master, .events = POLLIN};
    char bytes[16384];
    while (poll(&on, 1, silence) > 0) {
        ssize_t n = read(w->master, bytes, sizeof bytes);
        if (n <= 0)
            break;
        a.bytes += (size_t)n;
        a.last = seconds_now();
        vterm_input_write(w->vt, bytes, (size_t)n);
    }
    return a;
}

double window_cpu(const struct window *w)
{
    struct timespec t;
    must(clock_gettime(w->cpu, &t) == 0, "its CPU time");
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

/* The row's characters, "?" for what is not ASCII: as many as there are columns. */
static void read_row(const struct window *w, int y, char row[WINDOW_COLUMNS + 1])
{
    for (int x = 0; x < WINDOW_COLUMNS; x++) {
        VTermScreenCell cell;
        vterm_screen_get_cell(w->screen, (VTermPos){.row = y, .col = x}, &cell);
        row[x] = cell.chars[0] == 0 ? ' ' : cell.chars[0] < 127 ? (char)cell.chars[0] : '?';
    }
    row[WINDOW_COLUMNS] = '\0';
}

bool window_find(const struct window *w, const char *text, bool last, int *x, int *y)
{
    char row[WINDOW_COLUMNS + 1];
    bool found = false;
    for (int i = 0; i < WINDOW_ROWS && (last || !found); i++) {
        read_row(w, i, row);
        const char *at = strstr(row, text);
        if (!at)
            continue;
        found = true;
        *x = (int)(at - row);
        *y = i;
    }
    return found;
}
#else
enum { NO_WINDOW }; /* a file is not to be empty */
#endif
