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
