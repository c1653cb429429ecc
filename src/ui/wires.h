/* Wires through the channel between two rows of boxes: short, few crossings, and never two that
 * share a run so that they could not be told apart.
 *
 *        o     o        rows are counted from 0 at the top of the channel
 *        └──┐  │ 0      a wire goes down from its jack, along its own run, and down again;
 *        ┌──│──┘ 1      where two jacks stand right above each other's ends, one wire changes
 *        │  └──┐ 2      its run on the way (a jog)
 *        o     o
 */
#ifndef UI_WIRES_H
#define UI_WIRES_H

#include <stdbool.h>
#include <stddef.h>

struct wire {
    int from, to;         /* columns of its ends; from lies above the channel */
    bool returns;         /* to lies above the channel too, else below it */
    int row;              /* answer: the row of its run, from 0; -1: it goes straight */
    int jog_col, jog_row; /* answer: where it changes to a second run below; row -1: it does not */
};

struct point {
    int x, y;
};

enum { WIRE_POINTS = 6 };

/* Finds a way for every wire and returns the rows that it takes (0: all are straight). Wires with
 * a jack in common share the way from that jack to where they part; all others share no cell but
 * where one crosses the other at a right angle. */
int wires_route(struct wire *w, size_t n);

/* The corners of a routed wire, ends included, when the runs' row 0 is drawn at y = first, and
 * the rows of the jacks above and below at y = above and y = below. Returns how many: 2 to 6. */
int wire_path(const struct wire *w, int first, int above, int below, struct point p[WIRE_POINTS]);

/* How often two routed wires cross. */
int wires_cross(const struct wire *a, const struct wire *b);

#endif
