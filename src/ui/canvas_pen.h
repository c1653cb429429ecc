/* Drawing into a window of the layout: for the files canvas*.c only. */
#ifndef UI_CANVAS_PEN_H
#define UI_CANVAS_PEN_H

#include "ui/canvas_parts.h"

struct pen {
    const struct canvas *c;
    const struct canvas_marks *m;
    struct grid *g; /* the window, and more to the right, so that no text is cut short there */
    int dx, dy;     /* from the layout to the grid */
    int w, h;       /* of the window */
};

/* w columns of a row. */
struct rect across(int x, int y, int w);

/* Text in a row, cut to its columns; in its middle. */
void pen_put(const struct pen *p, struct rect r, enum look look, const char *text);
void pen_put_middle(const struct pen *p, struct rect r, enum look look, const char *text);

/* The cell at a place of the layout; NULL outside of the window. */
struct cell *pen_cell(const struct pen *p, int x, int y);

void pen_frame(const struct pen *p, struct rect r, enum line line, enum look look);

/* Joins a wire to whatever frame is there. */
void pen_join(const struct pen *p, int x, int y, unsigned arm);

/* Whether a mark stands on a spot; whether the fault in focus names an id or a jack. */
bool pen_marks(const struct spot *mark, const struct spot *s);
bool pen_names(const struct pen *p, const char *name);

/* How a box or a jack is drawn. */
struct style {
    enum line line;
    enum look look;
    bool plain; /* nothing special about it */
};
struct style pen_style(const struct pen *p, const struct spot *s, const char *in_use);

#endif
