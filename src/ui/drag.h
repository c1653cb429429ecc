/* A gesture: something is picked up, carried over other things, and put down on one of them.
 *
 * The mouse (press, move, release) and the keys (pick up, arrows, drop) are the same machine. It
 * changes nothing: it says which changes putting it down would make. */
#ifndef UI_DRAG_H
#define UI_DRAG_H

#include <stdbool.h>

#include "model/change.h"
#include "ui/canvas.h"

struct drag {
    struct spot from; /* what is in hand; SPOT_NONE: nothing */
    struct spot over; /* what it is over */
    bool by_keys;     /* picked up by keys: a release of the mouse does not drop it */
    bool moved;       /* it has been over something else since it was picked up */
    int column, row;  /* of the mouse */
    enum sides sides; /* of a new cable */
};

/* What can be picked up: decks, jacks, devices, strips, hubs. */
bool drag_can_start(const struct booth *b, const struct spot *s);

/* Adds to out what putting `from` down on `over` does; false (and nothing) where that means
 * nothing:
 *   a deck on a strip (or on what belongs to it): it wants that strip, and a deck that wanted it
 *     takes the other's; on a deck: they exchange; on a player or controller: that controls it
 *   an output on an input (or a strip: its selected input): a cable; on an output: its cable
 *   an input on an input or a strip: its cable's plug goes there, and one that is there comes back
 *   an input on an output: its cable comes from there
 *   a device on a device of its kind, a strip on a strip: they exchange places
 *   a device or a hub on a hub: its data lead into the first free port; on a deck: of the laptop */
bool drag_changes(const struct booth *b, const struct drag *d, struct changes *out);

/* Adds what letting go of a cable in the air does: the cable at a jack goes. */
bool drag_unplug(const struct booth *b, const struct spot *jack, struct changes *out);

/* What `over` may be for what is in hand: the spots that arrow keys should walk. */
bool drag_wants_jacks(const struct spot *from);

#endif
