/* What every bench program needs: a clock, the middle of several runs, a line to print. */
#ifndef BENCH_FIGURES_H
#define BENCH_FIGURES_H

#include <stddef.h>

/* Seconds on a clock that only goes forward. */
double seconds_now(void);

/* The middle of n > 0 values, which are sorted for it. */
double median(double *values, size_t n);

/* Microseconds a call of work(self): the median of several runs, each of as many calls as make it
 * long enough to time. */
double microseconds(void (*work)(void *), void *self);

/* Prints a figure with its unit, and how many times another one of the same unit it is (0: there
 * is nothing to compare it with). */
void figure(const char *what, double value, const char *unit, double beside);

#endif
