/* The few strokes that the sheet's picture is made of, as SVG. All numbers are points of the page;
 * the type is monospaced, so that what fits is known whatever font the renderer has. For the
 * sheet's files alone. */
#ifndef ENGINE_SHEET_PEN_H
#define ENGINE_SHEET_PEN_H

#include <stdbool.h>

#include "base/str.h"
#include "engine/derived.h"

enum {
    PAGE_W = 1123,
    PAGE_H = 794,
    PAGE_LEFT = 40,
    PAGE_RIGHT = PAGE_W - 40,
};

struct pen_text {
    int x, y, size;
    int room;          /* in points: what is wider is cut, with "~" at its end */
    bool bold, middle; /* x is the text's middle, not its start */
};

/* How many columns of a size fit into so many points. */
int pen_columns(int size, int points);

/* A text, made safe; nothing where not even a letter and "~" fit. */
void pen_text(struct str *out, struct pen_text at, const char *text);

void pen_box(struct str *out, int x, int y, int w, int h);

struct pen_point {
    int x, y;
};

/* Lines from point to point: solid (0) or dashed in one of PEN_STYLES ways, or dotted. */
enum { PEN_STYLES = 4, PEN_DOTTED = PEN_STYLES };
void pen_lines(struct str *out, const struct pen_point *p, size_t n, int style, bool thick);

/* The head of an arrow that points up at p. */
void pen_arrow_up(struct str *out, struct pen_point p);

/* sheet_drawing.c: the booth from the left: decks, devices, strips, and the wires between. It ends
 * above DRAWING_END. */
enum { DRAWING_TOP = 76, DRAWING_END = 376 };
void sheet_drawing(const struct derived *d, struct str *out);

#endif
