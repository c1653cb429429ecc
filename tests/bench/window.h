/* A program in a terminal's window of 80 by 24, measured from outside: how many bytes it sends,
 * when the last of them comes, the CPU time and memory that it uses. */
#ifndef BENCH_WINDOW_H
#define BENCH_WINDOW_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>
#include <time.h>
#include <vterm.h>

enum { WINDOW_COLUMNS = 80, WINDOW_ROWS = 24 };

struct window {
    int master;
    pid_t program;
    clockid_t cpu;
    VTerm *vt;
    VTermScreen *screen;
};

/* What a program sent until it fell silent. */
struct answer {
    size_t bytes;
    double last; /* when the last byte came, on seconds_now()'s clock */
};

/* Starts a program (argv ended by NULL); ends this one with a sentence where it cannot. */
void window_open(struct window *w, char *const argv[]);

/* Ends the program and returns its peak memory in KiB. */
double window_close(struct window *w);

void window_type(struct window *w, const char *bytes);

/* Takes what comes until nothing came for so many milliseconds. */
struct answer window_settle(struct window *w, int silence);

/* The CPU time that the program has used, in seconds. */
double window_cpu(const struct window *w);

/* Where a text of ASCII stands: the first place from the top, or the last. False: nowhere. */
bool window_find(const struct window *w, const char *text, bool last, int *x, int *y);

#endif
