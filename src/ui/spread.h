/* Boxes in a row, each as near as can be to where it would like to stand. */
#ifndef UI_SPREAD_H
#define UI_SPREAD_H

#include <stddef.h>

struct spread {
    int width;  /* columns that it takes */
    int gap;    /* least columns between it and the next one */
    int want;   /* the column where its left edge would like to be */
    int weight; /* how much that matters; at least 1 */
    int x;      /* answer: where its left edge is */
};

/* Keeps the order of the n boxes, lets none overlap or come nearer than its gap, and moves them
 * least (weighted least squares, so two that want each other's place meet in the middle). All
 * stay in low to high (not included) if they fit in there; else they start at low. */
void spread_out(struct spread *v, size_t n, int low, int high);

/* The columns that n boxes take when they stand as close as they may. */
int spread_width(const struct spread *v, size_t n);

#endif
