/* A screen as a value: cells of text with a look. The scene writes it, the terminal shows it,
 * tests read it as a picture.
 *
 * A cell is text, or a piece of line drawing: a set of arms that reach its edges. Arms of one
 * weight add up, so a box or a wire is drawn piece by piece and the corners make themselves. */
#ifndef UI_GRID_H
#define UI_GRID_H

#include <stdbool.h>

#include "base/str.h"

/* What a cell is, not what colour it has: the terminal decides how each is shown, and every one
 * of them has a look of its own without colour too (see term/looks.c). */
enum look {
    LOOK_PLAIN,
    LOOK_DIM,    /* background matter: hints, empty places */
    LOOK_STRONG, /* what to read first */
    LOOK_TITLE,  /* the top line, pane heads */
    LOOK_ERROR,
    LOOK_WARNING,
    LOOK_NOTE,
    LOOK_GOOD, /* done, right */
    LOOK_DECK, /* a host deck and what belongs to it */
    LOOK_WIRE,
    LOOK_SELECTED, /* the box or the row that keys act on */
    LOOK_CARRIED,  /* what is being dragged, and where it would land */
    LOOK_IN_USE,   /* hands off */
    LOOK_COUNT
};

enum arm { ARM_UP = 1, ARM_DOWN = 2, ARM_LEFT = 4, ARM_RIGHT = 8 };

enum line { LINE_NONE, LINE_LIGHT, LINE_HEAVY, LINE_DASHED };

struct cell {
    char text[16];       /* UTF-8 of one character and its marks; "" right of a wide one */
    unsigned char width; /* columns: 1 or 2; 0 for the right half of a wide character */
    unsigned char look;  /* enum look */
    unsigned char arms;  /* set of enum arm, for a line drawing cell; else 0 */
    unsigned char line;  /* enum line of those arms */
};

struct grid {
    int columns, rows;
    bool ascii;             /* draw lines with + - | and show only ASCII */
    int cursor_x, cursor_y; /* where the text cursor stands; -1, -1: there is none */
    struct cell *cells;
};

/* A blank grid. Sizes are 1 to 1000 columns and 1 to 500 rows (others are clamped). Free with
 * grid_free(). */
struct grid *grid_new(int columns, int rows, bool ascii);
void grid_free(struct grid *g);

/* Blanks every cell (and takes the text cursor away), or a rectangle. All drawing outside the grid
 * is ignored. */
void grid_blank(struct grid *g);
void grid_fill(struct grid *g, int x, int y, int w, int h, enum look look);

/* The cell at x, y, or NULL outside. */
struct cell *grid_at(const struct grid *g, int x, int y);

/* Writes text made safe (utf8_safe) from x on, within max columns (negative: to the right edge),
 * and returns the columns used. */
int grid_put(struct grid *g, int x, int y, int max, enum look look, const char *text);
int grid_putf(struct grid *g, int x, int y, int max, enum look look, const char *fmt, ...)
    __attribute__((format(printf, 6, 7)));

/* Adds arms to a cell. A piece of another weight, or text, is replaced. */
void grid_arms(struct grid *g, int x, int y, unsigned arms, enum line line, enum look look);

/* A frame of w by h cells (each at least 2); its inside is left alone. */
void grid_frame(struct grid *g, int x, int y, int w, int h, enum line line, enum look look);

/* Changes the look of w cells from x on, keeping their text. */
void grid_paint(struct grid *g, int x, int y, int w, enum look look);

/* The bytes that show a cell (never "", but for the right half of a wide character). */
const char *grid_glyph(const struct grid *g, const struct cell *c);

/* Appends the whole grid as text, a line a row, trailing blanks cut. */
void grid_text(const struct grid *g, struct str *out);

#endif
