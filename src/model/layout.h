/* A new venue, laid out from a few numbers: a booth that works as it stands, to change from. */
#ifndef MODEL_LAYOUT_H
#define MODEL_LAYOUT_H

#include "base/err.h"
#include "model/booth.h"

struct layout {
    const char *venue;  /* its name; NULL or "": "New venue" */
    int players, decks; /* how many, from 0 to the model's limits */
    const char *strips; /* the labels printed on the mixer, from left to right, between blanks:
                           "3 1 2 4"; NULL or "": no mixer */
    enum way way;       /* into the mixer */
    const char *model;  /* of the players; NULL: not known */
};

/* The k-th player from the left is cabled to the k-th strip from the left; the decks take the
 * strips in the order of their numbers, as far as there are strips that the way reaches (further
 * decks stay undecided), and are set to their routes.
 *   player-cards: the players that a deck plays through are joined from the left, on the computer,
 *     and control their deck; they hang on the laptop's ports or, where those do not suffice, on
 *     one hub with its own supply; combined by hand, with drift correction, and saved as such
 *   mixer-card: every strip has a usb input, numbered as the strips are; the mixer is joined
 *   patched: an interface feeds a second line input of every strip and is joined
 * A booth so made has no errors. NULL, with one sentence in e, when a number is out of the model's
 * limits or a label is too long. Free with booth_free(). */
struct booth *booth_laid_out(const struct layout *l, struct err *e);

#endif
