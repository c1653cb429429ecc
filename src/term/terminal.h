/* The terminal: one, process-wide, taken over from terminal_open() to terminal_close().
 *
 *     terminal_open -> (terminal_wait -> terminal_next ... -> terminal_show) -> terminal_close
 *
 * Whatever ends the program in between (a signal, a crash, memory that ran out) gives the terminal
 * back as it was found. Only SIGKILL cannot be helped: the command "reset" does it then. */
#ifndef TERM_TERMINAL_H
#define TERM_TERMINAL_H

#include <stdbool.h>

#include "base/err.h"
#include "ui/event.h"
#include "ui/grid.h"

struct terminal_setup {
    bool ascii; /* draw with ASCII only, whatever the locale says */
    bool mono;  /* no colour, whatever the terminal can do */
};

/* Sets LC_CTYPE from the environment (and from nothing else: numbers stay those of the C locale)
 * and tells whether text is UTF-8 in it. Where the environment names a UTF-8 locale that is not
 * installed, C.UTF-8 stands in. */
bool terminal_locale(void);

/* Takes the terminal over. False, with code ERR_USAGE and nothing drawn, when standard input or
 * output is no terminal, or one whose cursor cannot be moved. A terminal type that is unknown here
 * is treated as xterm-256color. Colour is left out for setup.mono, a NO_COLOR that is not empty,
 * and a terminal without. ESCDELAY (1 to 10000 ms, else 25) is how long an Esc waits for the rest
 * of a key's sequence. */
bool terminal_open(struct terminal_setup setup, struct err *e);

/* Gives the terminal back. Does nothing when it is not open. */
void terminal_close(void);

/* The same from anywhere, also from a signal handler: no memory, no curses. For a program that is
 * about to die; nothing but terminal_close() may follow. */
void terminal_abandon(void);

/* Whether grids must be drawn with ASCII only: the setup said so, or the locale is not UTF-8. */
bool terminal_ascii(void);

/* Cells across and down: 1 to 1000 and 1 to 500. */
int terminal_columns(void);
int terminal_rows(void);

/* Milliseconds of a clock that never jumps. */
long long terminal_now(void);

/* Sleeps until something may have happened, at most ms milliseconds (negative: for ever). */
void terminal_wait(int ms);

/* The next thing that happened; false when there is nothing left for now, or the program is to
 * end. The first event is the size of the window, and a resumed program gets one, too. Mouse
 * positions lie inside the window. out->text is borrowed until the next call. */
bool terminal_next(struct event *out);

/* Why the program is to end: 0 while it is not, else the number of the signal that asked for it;
 * SIGHUP also when the terminal has gone. */
int terminal_ended(void);

/* Shows the grid: every cell of the window, and the text cursor if the grid has one. What is
 * outside the grid is blank. Only what differs from the last time is sent. */
void terminal_show(const struct grid *g);

/* Makes the next terminal_show() send everything, for a screen that others have scribbled on. */
void terminal_repaint(void);

void terminal_bell(void);

/* Gives the terminal back, stops the program as ^Z does, and takes the terminal over again when
 * it is resumed. */
void terminal_suspend(void);

#endif
