/* The booth as a picture: decks above the devices that carry them, devices above the strips that
 * they are wired to, each row from left to right by place, and the wires between.
 *
 * The layout is a value of its own, in cells from 0, 0, as large as the booth needs; a window of
 * it is drawn into a grid. It knows where everything stands, so a click finds what it hit. */
#ifndef UI_CANVAS_H
#define UI_CANVAS_H

#include <stdbool.h>

#include "engine/derived.h"
#include "ui/grid.h"

/* Something on the canvas that can be pointed at. name: a deck, device, strip or hub by id, or a
 * jack ("p1.line", "s1.line"). */
enum spot_kind {
    SPOT_NONE,
    SPOT_DECK,
    SPOT_DEVICE,
    SPOT_STRIP,
    SPOT_HUB,
    SPOT_OUTPUT,   /* a jack that a cable can start at */
    SPOT_INPUT,    /* a jack that a cable can end at, or a usb input */
    SPOT_SELECTOR, /* the word of an input in its strip: name is the input, clicking selects it */
    SPOT_SOURCE,   /* a player's source */
};

struct spot {
    enum spot_kind kind;
    char name[REF_SIZE];
};

struct rect {
    int x, y, w, h;
};

struct canvas;

/* Lays out everything; width is that of the window it should fit into if it can, height likewise:
 * boxes are as wide and the channels between the rows as high as that allows, never less than
 * they must be. d must outlive the canvas. Free with canvas_free(). */
struct canvas *canvas_make(const struct derived *d, int width, int height);
void canvas_free(struct canvas *c);

/* The size of the whole layout. */
void canvas_size(const struct canvas *c, int *width, int *height);

/* What is at a cell: a jack before a word, a word before its box. */
struct spot canvas_hit(const struct canvas *c, int x, int y);

/* Where a spot is; false when it is not on the canvas. */
bool canvas_where(const struct canvas *c, const struct spot *s, struct rect *r);

/* The box that arrow keys go to from a box: dx, dy one of -1, 0, 1. The same spot where there is
 * nothing further that way. From nothing, or from what is gone: the first box. Among boxes only
 * (decks, devices, hubs, strips); jacks walks among jacks instead. */
struct spot canvas_step(const struct canvas *c, const struct spot *from, int dx, int dy,
                        bool jacks);

/* What stands out in the picture. */
struct canvas_marks {
    struct spot selected;      /* the box (or jack) that keys act on */
    struct spot carried;       /* what is in hand */
    struct spot target;        /* where it would go */
    const struct texts *named; /* ids and jack names that the fault in focus names; may be NULL */
    bool listening;            /* strips say what was heard beside what is expected */
};

/* Draws the part of the layout from scroll_x, scroll_y on into a rectangle of the grid; nothing
 * outside of it is touched. Arrows at the edges say that there is more. */
void canvas_draw(const struct canvas *c, struct grid *g, struct rect window, int scroll_x,
                 int scroll_y, const struct canvas_marks *marks);

bool spot_same(const struct spot *a, const struct spot *b);
struct spot spot_of(enum spot_kind kind, const char *name);

#endif
