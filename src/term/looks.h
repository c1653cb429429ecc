/* How each look of a cell is shown, with colour and without: one table. */
#ifndef TERM_LOOKS_H
#define TERM_LOOKS_H

#include "ui/grid.h"

enum show { SHOW_BOLD = 1, SHOW_DIM = 2, SHOW_UNDERLINE = 4, SHOW_REVERSE = 8, SHOW_ITALIC = 16 };

/* The terminal's own foreground, and five of its eight basic colours by their ECMA-48 numbers. */
enum hue {
    HUE_OWN = -1,
    HUE_RED = 1,
    HUE_GREEN = 2,
    HUE_YELLOW = 3,
    HUE_MAGENTA = 5,
    HUE_CYAN = 6
};

struct look_style {
    unsigned mono; /* set of enum show, without colour */
    enum hue hue;  /* with colour: the foreground, */
    unsigned show; /* and the set of enum show */
};

/* The style of a look; no two looks share one, with colour or without. */
const struct look_style *look_style(enum look look);

#endif
