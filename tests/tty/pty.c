/* A terminal for tests; see pty.h. Without libvterm there is none. */
#ifdef HAVE_vterm
#include "tty/pty.h"

#include <check.h>
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "base/str.h"
#include "base/utf8.h"

/* --- what the shell-like process tells -------------------------------------------------------- */

enum became { STARTED, STOPPED, ENDED };

struct report {
    enum became what;
    int value;
};

static void report(int to, enum became what, int value)
{
    struct report r = {.what = what, .value = value};
    if (write(to, &r, sizeof r) < 0)
        _exit(1);
}

static void set_environment(const struct pty_setup *setup)
{
    static const char *const unset[] = {"LINES", "COLUMNS", "NO_COLOR", "ESCDELAY"};
    for (size_t i = 0; i < sizeof unset / sizeof *unset; i++)
        unsetenv(unset[i]);
    setenv("TERM", "xterm-256color", 1);
    setenv("LC_ALL", "C.UTF-8", 1);
    for (size_t i = 0; i < sizeof setup->env / sizeof *setup->env && setup->env[i]; i++) {
        char name[64] = {0};
        const char *value = strchr(setup->env[i], '=') + 1;
        memcpy(name, setup->env[i], (size_t)(value - setup->env[i]) - 1);
        setenv(name, value, 1);
    }
}

static void run_program(const struct pty_setup *setup)
{
    setpgid(0, 0);
    tcsetpgrp(STDIN_FILENO, getpid());
    for (int i = 1; i < 32; i++)
        signal(i, SIG_DFL);
    sigset_t none;
    sigemptyset(&none);
    sigprocmask(SIG_SETMASK, &none, NULL);
    set_environment(setup);
    if (setup->as_nobody && geteuid() == 0 && (setgid(PTY_NOBODY) < 0 || setuid(PTY_NOBODY) < 0))
        _exit(126);
    execv(setup->argv[0], setup->argv);
    _exit(127);
}

/* Leads the session, starts the program in the foreground, and tells what becomes of it. */
static void run_shell(const struct pty *p, const struct pty_setup *setup, int to)
{
    setsid();
    ioctl(p->slave, TIOCSCTTY, 0);
    for (int fd = 0; fd < 3; fd++)
        dup2(p->slave, fd);
    signal(SIGTTOU, SIG_IGN);
    signal(SIGHUP, SIG_IGN);
    pid_t program = fork();
    if (program == 0)
        run_program(setup);
    setpgid(program, program);
    tcsetpgrp(STDIN_FILENO, program);
    report(to, STARTED, (int)program);
    int status = 0;
    while (waitpid(program, &status, WUNTRACED) == program && WIFSTOPPED(status))
        report(to, STOPPED, WSTOPSIG(status));
    report(to, ENDED, status);
    _exit(0);
}

static void hear(struct pty *p)
{
    struct report r;
    if (read(p->news, &r, sizeof r) != (ssize_t)sizeof r)
        return;
    if (r.what == STARTED)
        p->program = (pid_t)r.value;
    p->stops += r.what == STOPPED;
    if (r.what == ENDED) {
        p->ended = true;
        p->status = r.value;
    }
}

/* --- libvterm --------------------------------------------------------------------------------- */

static void on_output(const char *bytes, size_t n, void *self)
{
    struct pty *p = self;
    p->said += n;
    if (!p->ended)
        pty_sendn(p, bytes, n);
}

static int on_property(VTermProp property, VTermValue *value, void *self)
{
    struct pty *p = self;
    if (property == VTERM_PROP_MOUSE)
        p->mouse = value->number;
    else if (property == VTERM_PROP_ALTSCREEN)
        p->alternate = value->boolean;
    else if (property == VTERM_PROP_CURSORVISIBLE)
        p->cursor = value->boolean;
    else if (property == VTERM_PROP_TITLE)
        p->titles++;
    return 1;
}

static int on_bell(void *self)
{
    ((struct pty *)self)->bells++;
    return 1;
}

static void start_vterm(struct pty *p)
{
    static const VTermScreenCallbacks calls = {.settermprop = on_property, .bell = on_bell};
    p->vt = vterm_new(p->rows, p->columns);
    vterm_set_utf8(p->vt, 1);
    vterm_output_set_callback(p->vt, on_output, p);
    p->screen = vterm_obtain_screen(p->vt);
    vterm_screen_set_callbacks(p->screen, &calls, p);
    vterm_screen_enable_altscreen(p->screen, 1);
    vterm_screen_reset(p->screen, 1);
    p->cursor = true;
    p->titles = 0;
}

/* --- running ---------------------------------------------------------------------------------- */

static void set_size(struct pty *p, int columns, int rows)
{
    struct winsize w = {.ws_col = (unsigned short)columns, .ws_row = (unsigned short)rows};
    p->columns = columns;
    p->rows = rows;
    ioctl(p->master, TIOCSWINSZ, &w);
}

static void open_pair(struct pty *p)
{
    p->master = posix_openpt(O_RDWR | O_NOCTTY);
    ck_assert_int_ge(p->master, 0);
    ck_assert_int_eq(grantpt(p->master), 0);
    ck_assert_int_eq(unlockpt(p->master), 0);
    p->slave = open(ptsname(p->master), O_RDWR | O_NOCTTY);
    ck_assert_int_ge(p->slave, 0);
    fcntl(p->master, F_SETFD, FD_CLOEXEC);
    fcntl(p->slave, F_SETFD, FD_CLOEXEC);
    tcgetattr(p->slave, &p->before);
}

static long long now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (long long)t.tv_sec * 1000 + t.tv_nsec / 1000000;
}

/* Takes what the program wrote or became; false when nothing comes until the deadline. */
static bool pump(struct pty *p, long long deadline)
{
    long long left = deadline - now();
    struct pollfd on[] = {{.fd = p->master, .events = POLLIN}, {.fd = p->news, .events = POLLIN}};
    if (left <= 0 || poll(on, 2, (int)left) <= 0)
        return false;
    if (on[0].revents & POLLIN) {
        char bytes[16384];
        ssize_t n = read(p->master, bytes, sizeof bytes);
        if (n > 0)
            vterm_input_write(p->vt, bytes, (size_t)n);
        str_addn(&p->wrote, bytes, n > 0 ? (size_t)n : 0);
        vterm_screen_flush_damage(p->screen);
    } else if (on[1].revents && (poll(on, 1, 0) <= 0 || !(on[0].revents & POLLIN))) {
        hear(p); /* only when all that it wrote has been read: asked again, for it may have come
                    after the first look and before the news */
    }
    return true;
}

static long long deadline(void)
{
    return now() + PTY_PATIENCE * 1000;
}

void pty_start(struct pty *p, const struct pty_setup *setup)
{
    memset(p, 0, sizeof *p);
    open_pair(p);
    set_size(p, setup->columns ? setup->columns : 80, setup->rows ? setup->rows : 24);
    start_vterm(p);
    int news[2];
    ck_assert_int_eq(pipe(news), 0);
    fcntl(news[0], F_SETFD, FD_CLOEXEC);
    fcntl(news[1], F_SETFD, FD_CLOEXEC);
    p->news = news[0];
    p->shell = fork();
    ck_assert_int_ge(p->shell, 0);
    if (p->shell == 0) {
        close(p->master);
        run_shell(p, setup, news[1]);
    }
    close(news[1]);
    hear(p);
    ck_assert_int_gt(p->program, 0);
}

void pty_free(struct pty *p)
{
    if (!p->ended)
        kill(p->program, SIGKILL);
    kill(p->program, SIGCONT);
    while (waitpid(p->shell, NULL, 0) < 0 && errno == EINTR)
        ;
    vterm_free(p->vt);
    str_clear(&p->wrote);
    pty_hang_up(p);
    close(p->news);
}

void pty_sendn(struct pty *p, const char *bytes, size_t n)
{
    long long until = deadline();
    while (n > 0 && now() < until) {
        struct pollfd on = {.fd = p->master, .events = POLLIN | POLLOUT};
        poll(&on, 1, 1000);
        if (on.revents & POLLIN) /* or both would wait for each other */
            pump(p, until);
        if (!(on.revents & POLLOUT))
            continue;
        ssize_t sent = write(p->master, bytes, n < 512 ? n : 512);
        bytes += sent > 0 ? sent : 0;
        n -= sent > 0 ? (size_t)sent : 0;
    }
    ck_assert_msg(n == 0, "the program does not read");
}

void pty_send(struct pty *p, const char *bytes)
{
    pty_sendn(p, bytes, strlen(bytes));
}

void pty_key(struct pty *p, VTermKey key, VTermModifier mod)
{
    vterm_keyboard_key(p->vt, key, mod);
}

void pty_paste(struct pty *p, const char *text)
{
    vterm_keyboard_start_paste(p->vt);
    pty_send(p, text);
    vterm_keyboard_end_paste(p->vt);
}

void pty_move(struct pty *p, int column, int row)
{
    vterm_mouse_move(p->vt, row, column, VTERM_MOD_NONE);
}

void pty_button(struct pty *p, int button, bool down)
{
    if (p->mouse) /* libvterm would send it in any case */
        vterm_mouse_button(p->vt, button, down, VTERM_MOD_NONE);
}

void pty_resize(struct pty *p, int columns, int rows)
{
    vterm_set_size(p->vt, rows, columns);
    set_size(p, columns, rows);
}

void pty_signal(struct pty *p, int number)
{
    ck_assert_int_eq(kill(p->program, number), 0);
}

void pty_resume(struct pty *p)
{
    kill(-p->program, SIGCONT);
}

void pty_hang_up(struct pty *p)
{
    if (p->master < 0)
        return;
    close(p->slave);
    close(p->master);
    p->master = p->slave = -1;
}

/* --- looking ---------------------------------------------------------------------------------- */

VTermScreenCell pty_cell(const struct pty *p, int column, int row)
{
    VTermScreenCell cell = {0};
    vterm_screen_get_cell(p->screen, (VTermPos){.row = row, .col = column}, &cell);
    return cell;
}

const char *pty_row(const struct pty *p, int y, char *row)
{
    struct str s = {0};
    for (int x = 0; x < p->columns;) {
        VTermScreenCell cell = pty_cell(p, x, y);
        if (!cell.chars[0])
            str_addc(&s, ' ');
        for (int i = 0; i < VTERM_MAX_CHARS_PER_CELL && cell.chars[i]; i++)
            utf8_add(&s, cell.chars[i]);
        x += cell.width > 1 ? cell.width : 1;
    }
    snprintf(row, PTY_ROW, "%s", str_text(&s));
    str_clear(&s);
    return row;
}

bool pty_shows(const struct pty *p, const char *text)
{
    char row[PTY_ROW];
    for (int y = 0; y < p->rows; y++)
        if (strstr(pty_row(p, y, row), text))
            return true;
    return false;
}

static void fail_with_picture(const struct pty *p, const char *what)
{
    char row[PTY_ROW];
    fprintf(stderr, "waited in vain: %s (ended %d, status %x)\n", what, p->ended,
            (unsigned)p->status);
    for (int y = 0; y < p->rows; y++)
        fprintf(stderr, "%3d|%s|\n", y, pty_row(p, y, row));
    ck_abort_msg("waited in vain: %.60s", what);
}

void pty_until_shown(struct pty *p, const char *text)
{
    long long until = deadline();
    while (!pty_shows(p, text))
        if (p->ended || !pump(p, until))
            fail_with_picture(p, text);
}

void pty_until_stopped(struct pty *p, int stops)
{
    long long until = deadline();
    while (p->stops < stops)
        if (p->ended || !pump(p, until))
            fail_with_picture(p, "stopped");
}

int pty_until_ended(struct pty *p)
{
    long long until = deadline();
    while (!p->ended)
        if (!pump(p, until))
            fail_with_picture(p, "ended");
    return p->status;
}

void pty_until(struct pty *p, bool (*holds)(const struct pty *p), const char *what)
{
    long long until = deadline();
    while (!holds(p))
        if (p->ended || !pump(p, until))
            fail_with_picture(p, what);
}

/* Whether a paste would be announced. */
static bool pastes_are_marked(struct pty *p)
{
    bool ended = p->ended;
    size_t before = p->said;
    p->ended = true; /* keeps the mark from being sent */
    vterm_keyboard_start_paste(p->vt);
    p->ended = ended;
    return p->said > before;
}

bool pty_is_as_before(struct pty *p)
{
    struct termios t;
    tcgetattr(p->slave, &t);
    return !p->mouse && !p->alternate && p->cursor && !pastes_are_marked(p) &&
           t.c_iflag == p->before.c_iflag && t.c_oflag == p->before.c_oflag &&
           t.c_lflag == p->before.c_lflag && t.c_cflag == p->before.c_cflag;
}
#else
enum { NO_PTY }; /* a file is not to be empty */
#endif
