/* How looks are shown.
 *
 * Without colour, bold, underline and reverse are what every terminal has: the eight looks that
 * must never be mistaken for each other use only these. Dim and italic tell the others apart where
 * the terminal has them; where not, each falls back on a neighbour in meaning: what is in use
 * looks like a warning, what is good looks strong, hints and wires look plain.
 * With colour the background stays the terminal's own, and blue is left out: on black it is hard
 * to read. */
#include "term/looks.h"

#include <assert.h>

#define B SHOW_BOLD
#define D SHOW_DIM
#define U SHOW_UNDERLINE
#define R SHOW_REVERSE
#define I SHOW_ITALIC

static const struct look_style styles[LOOK_COUNT] = {
    [LOOK_PLAIN] = {0, HUE_OWN, 0},          [LOOK_DIM] = {D, HUE_OWN, D},
    [LOOK_STRONG] = {B, HUE_OWN, B},         [LOOK_TITLE] = {R | B, HUE_OWN, R | B},
    [LOOK_ERROR] = {R | B | U, HUE_RED, B},  [LOOK_WARNING] = {B | U, HUE_YELLOW, B},
    [LOOK_NOTE] = {I, HUE_CYAN, B},          [LOOK_GOOD] = {B | I, HUE_GREEN, 0},
    [LOOK_DECK] = {U, HUE_MAGENTA, B},       [LOOK_WIRE] = {D | I, HUE_CYAN, 0},
    [LOOK_SELECTED] = {R, HUE_OWN, R},       [LOOK_CARRIED] = {R | U, HUE_YELLOW, R},
    [LOOK_IN_USE] = {B | U | I, HUE_RED, U},
};

const struct look_style *look_style(enum look look)
{
    assert(look < LOOK_COUNT);
    return &styles[look];
}
