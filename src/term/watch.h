/* Signals, watched: handlers only leave a mark and wake the one who waits. */
#ifndef TERM_WATCH_H
#define TERM_WATCH_H

#include <stdbool.h>

#include "base/err.h"

/* What may have happened to the program or its window. */
enum watch { WATCH_RESIZE, WATCH_STOP, WATCH_CONTINUE, WATCH_COUNT };

/* Starts to watch. rescue is called, from a signal handler, before the program dies of a crash. A
 * request to end that the parent had us ignore stays ignored. */
bool watch_start(void (*rescue)(void), struct err *e);

/* Puts back what was there before. */
void watch_stop(void);

/* A descriptor that becomes readable when a signal came; watch_heard() empties it. */
int watch_fd(void);
void watch_heard(void);

/* Whether it happened since the last time it was asked. */
bool watch_seen(enum watch what);

/* The signal that asked the program to end, or 0. */
int watch_end(void);

/* Stops the program as ^Z would have; returns when it is resumed, or at once where nobody could
 * resume it. */
void watch_stop_here(void);

#endif
