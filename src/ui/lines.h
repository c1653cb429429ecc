/* Lines of a pane: texts with a look, wrapped to a width, each belonging to an item or to none.
 *
 * A pane says its lines; how they scroll, how a cursor walks its items and what a click on a row
 * means is the same for all panes and lives here. */
#ifndef UI_LINES_H
#define UI_LINES_H

#include <stddef.h>

#include "ui/canvas.h"
#include "ui/grid.h"

struct line_of_text {
    char *text;
    enum look look;
    int item;  /* from 0; -1: belongs to none */
    bool read; /* it is there to be read: a click on it only selects its item */
};

struct lines {
    struct line_of_text *v;
    size_t n, cap;
    int width; /* columns to wrap at; at least 8 */
    bool ascii;
    bool reading; /* lines that are added now are there to be read */
    int items;    /* highest item + 1 */
};

void lines_clear(struct lines *l);

/* Adds a text, wrapped at blanks; lines after the first are indented by `indent` columns. */
void lines_add(struct lines *l, int item, enum look look, int indent, const char *text);
void lines_addf(struct lines *l, int item, enum look look, int indent, const char *fmt, ...)
    __attribute__((format(printf, 5, 6)));

/* The scroll that keeps an item within so many rows, starting from a scroll. */
int lines_scroll(const struct lines *l, int item, int scroll, int rows);

/* The item at a row of the window, or -1. */
int lines_item_at(const struct lines *l, int scroll, int row);

/* Whether the line at a row of the window is there to be read only. */
bool lines_read_at(const struct lines *l, int scroll, int row);

/* Draws from a scroll on. The item with the cursor (-1: none) is marked by ">" in the first
 * column (texts begin in the third), and by LOOK_SELECTED where the pane has the keys. */
void lines_draw(const struct lines *l, struct grid *g, struct rect r, int scroll, int item,
                bool has_keys);

#endif
