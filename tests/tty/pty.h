/* A terminal for tests: runs a program on a pseudo-terminal and shows it to libvterm, which tells
 * what a person would see. Keys and the mouse are sent as the modes that the program has set ask
 * for: a mode that is missing shows.
 *
 * The program is the child of a small shell-like process that leads the session, as in life, so
 * that it can be stopped and resumed. Nothing here waits for time to pass: only for something to
 * be true, and gives up after PTY_PATIENCE seconds with a picture of the screen. */
#ifndef TTY_PTY_H
#define TTY_PTY_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>
#include <termios.h>
#include <vterm.h>

#include "base/str.h"

enum { PTY_PATIENCE = 30, PTY_ROW = 4096, PTY_NOBODY = 65534 };

struct pty_setup {
    char *const *argv;  /* ended by NULL */
    int columns, rows;  /* 0: 80 by 24 */
    const char *env[8]; /* "NAME=value"; TERM and LC_ALL have sensible values without */
    bool as_nobody;     /* a superuser runs it as the user PTY_NOBODY; others as themselves */
};

struct pty {
    int master, slave, news; /* news: what the shell-like process reports */
    pid_t shell, program;
    int columns, rows;
    VTerm *vt;
    VTermScreen *screen;
    int mouse; /* VTERM_PROP_MOUSE_*, and the other modes as the program set them */
    bool alternate, cursor;
    int bells, titles; /* how often each came */
    size_t said;       /* bytes that the terminal sent to the program by itself */
    struct str wrote;  /* all bytes that the program sent to the terminal */
    struct termios before;
    int stops; /* how often the program was stopped */
    bool ended;
    int status; /* as from waitpid(), once ended */
};

/* Starts a program; fails the test when it cannot. End with pty_free(), which kills what still
 * runs. */
void pty_start(struct pty *p, const struct pty_setup *setup);
void pty_free(struct pty *p);

/* Types bytes as they are, a key, a character, or a paste. */
void pty_send(struct pty *p, const char *bytes);
void pty_sendn(struct pty *p, const char *bytes, size_t n);
void pty_key(struct pty *p, VTermKey key, VTermModifier mod);
void pty_paste(struct pty *p, const char *text);

/* The mouse, at columns and rows from 0; nothing is sent when the program did not ask for it. */
void pty_move(struct pty *p, int column, int row);
void pty_button(struct pty *p, int button, bool down);

void pty_resize(struct pty *p, int columns, int rows);
void pty_signal(struct pty *p, int number);

/* Resumes a stopped program, as "fg" does. */
void pty_resume(struct pty *p);

/* Closes the terminal's window. */
void pty_hang_up(struct pty *p);

/* The text of a row: UTF-8, wide characters once; row must have room for PTY_ROW bytes. */
const char *pty_row(const struct pty *p, int y, char *row);
bool pty_shows(const struct pty *p, const char *text);
VTermScreenCell pty_cell(const struct pty *p, int column, int row);

/* Wait until the text is shown, until the program was stopped so many times, until it has ended
 * (the status is returned), or until holds(p). Each fails the test when it does not come. */
void pty_until_shown(struct pty *p, const char *text);
void pty_until_stopped(struct pty *p, int stops);
int pty_until_ended(struct pty *p);
void pty_until(struct pty *p, bool (*holds)(const struct pty *p), const char *what);

/* Whether nothing of the program is left: the mouse, the alternate screen, pastes, the cursor and
 * the line's settings are as they were before. */
bool pty_is_as_before(struct pty *p);

#endif
