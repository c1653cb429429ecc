/* Medians, since a machine that does something else for a moment must not count. */
#include "bench/figures.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

double seconds_now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

static int by_value(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

double median(double *values, size_t n)
{
    qsort(values, n, sizeof *values, by_value);
    return n % 2 ? values[n / 2] : (values[n / 2 - 1] + values[n / 2]) / 2;
}

void figure(const char *what, double value, const char *unit, double beside)
{
    printf("  %-48s %10.*f %-5s", what, value < 100 ? 2 : 0, value, unit);
    if (beside > 0)
        printf("  x %.2f", value / beside);
    printf("\n");
}

static double time_of(void (*work)(void *), void *self, long times)
{
    double start = seconds_now();
    for (long i = 0; i < times; i++)
        work(self);
    return seconds_now() - start;
}

double microseconds(void (*work)(void *), void *self)
{
    enum { RUNS = 7 };
    const double long_enough = 0.02; /* seconds */
    double runs[RUNS];
    long times = 1;
    while (time_of(work, self, times) < long_enough)
        times *= 2;
    for (int i = 0; i < RUNS; i++)
        runs[i] = time_of(work, self, times) / (double)times * 1e6;
    return median(runs, RUNS);
}
