/* A key that stops what is going on, whichever it is, and signals that do the same. From
 * anykey_open() to anykey_close() the terminal shows no typing and hands on every key at once;
 * whatever ends the program in between gives it back as it was. Not together with terminal.h. */
#ifndef TERM_ANYKEY_H
#define TERM_ANYKEY_H

#include <stdbool.h>

#include "base/err.h"

/* Starts; what was typed before does not count. False, with ERR_USAGE, when it cannot. */
bool anykey_open(struct err *e);

/* Whether there are keys: standard input is a terminal, and the program in its foreground. */
bool anykey_there(void);

/* Whether something asked to stop since the start: a key, a signal that ends or stops programs, or
 * the terminal's going. Does not wait; once true, it stays so. */
bool anykey_pressed(void);

/* Sleeps until fd has something to read, or has ended, or something asked to stop; returns whether
 * the latter. */
bool anykey_wait(int fd);

/* Gives the terminal back, without what was typed. Returns the signal that asked the program to
 * end, SIGHUP when the terminal is gone, or 0. */
int anykey_close(void);

#endif
