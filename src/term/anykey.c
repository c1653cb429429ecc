/* The key is not read: it is enough that there is something to read, and whatever was typed is
 * thrown away at the end, so that no shell takes it for a command. ^C and ^Z are keys like any
 * other here. */
#include "term/anykey.h"

#include <poll.h>
#include <signal.h>
#include <termios.h>
#include <unistd.h>

#include "base/mem.h"
#include "term/watch.h"

static struct termios as_found;
static volatile sig_atomic_t taken; /* the terminal is not as it was found */
static bool pressed, gone;          /* gone: the terminal is closed */

/* A program in the background must not touch the terminal: it would be stopped. */
static bool in_foreground(void)
{
    return isatty(STDIN_FILENO) && tcgetpgrp(STDIN_FILENO) == getpgrp();
}

static void give_back(void)
{
    if (!taken)
        return;
    taken = 0;
    if (in_foreground())
        tcsetattr(STDIN_FILENO, TCSANOW, &as_found);
}

static void take(void)
{
    if (!in_foreground() || tcgetattr(STDIN_FILENO, &as_found) != 0)
        return;
    struct termios keys = as_found;
    keys.c_lflag &= (tcflag_t) ~(ICANON | ECHO | ISIG | IEXTEN);
    keys.c_iflag &= (tcflag_t) ~(IXON | IXOFF);
    keys.c_cc[VMIN] = 1;
    keys.c_cc[VTIME] = 0;
    taken = 1;
    if (tcsetattr(STDIN_FILENO, TCSANOW, &keys) != 0)
        taken = 0;
    else
        tcflush(STDIN_FILENO, TCIFLUSH);
}

bool anykey_open(struct err *e)
{
    if (!watch_start(give_back, e))
        return false;
    mem_on_last_words(give_back);
    pressed = gone = false;
    take();
    return true;
}

bool anykey_there(void)
{
    return taken;
}

bool anykey_pressed(void)
{
    struct pollfd key = {.fd = STDIN_FILENO, .events = POLLIN};
    if (taken && poll(&key, 1, 0) > 0)
        pressed = true;
    if (key.revents & (POLLHUP | POLLERR))
        gone = true;
    if (watch_end() || watch_seen(WATCH_STOP) || watch_seen(WATCH_CONTINUE))
        pressed = true;
    return pressed;
}

bool anykey_wait(int fd)
{
    struct pollfd on[] = {{.fd = fd, .events = POLLIN},
                          {.fd = watch_fd(), .events = POLLIN},
                          {.fd = taken ? STDIN_FILENO : -1, .events = POLLIN}};
    while (!anykey_pressed()) {
        if (poll(on, sizeof on / sizeof *on, -1) < 0)
            continue;
        if (on[0].revents)
            return anykey_pressed();
        watch_heard(); /* of what does not count, such as a window's new size */
    }
    return true;
}

int anykey_close(void)
{
    if (taken && in_foreground())
        tcflush(STDIN_FILENO, TCIFLUSH);
    give_back();
    mem_on_last_words(NULL);
    int ended = gone ? SIGHUP : watch_end();
    watch_stop();
    return ended;
}
