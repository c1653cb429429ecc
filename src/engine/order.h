/* The connection checklist: the steps from a dark booth to a saved venue, in the order in which
 * they must be done.
 *
 *   levels-down  laptop  power-ID  firmware-ID  driver or combination  hub-ID  join-ID  plug-ID
 *   interface  source-ID  selector-ID  switch-ID  set-ID  control-ID  check-ID  save
 *   restore-...
 *
 * ID is what the hands are on: a device, a hub, a strip (selector, switch), a deck (set, check);
 * for control the device that controls. What is made from the booth:
 * - Power, data leads, joining and settings are always listed: the booth tells what shall be, and
 *   only a tick tells that it is. A device inside the laptop needs no power and no port.
 * - source, selector and switch are listed for the players and strips that wanted decks are heard
 *   through (a wanted strip that is switched elsewhere is turned to its first input that a joined
 *   device reaches), unless the booth was found so and still stands so.
 * - set and check are listed for the decks that then have a route.
 * - After save, what would have to be put back to leave the booth as it was found (restore.h).
 * - What is in use gets no step. A source, or a check, that somebody would hear over their own
 *   music becomes a step that says to wait, and for whom. A mixer with a strip in use is not
 *   switched on, and a hub that carries something in use is not plugged. */
#ifndef ENGINE_ORDER_H
#define ENGINE_ORDER_H

#include "engine/circuit.h"

struct step {
    char *id;            /* "join-p1" */
    char *text;          /* one imperative sentence; small at the start, without a final stop */
    char *see;           /* what the person should then see */
    char *why;           /* NULL where nothing needs saying */
    int expect_channels; /* what the interface shows after it; -1 where it does not matter */
    bool done;           /* ticked in the venue */
    const char *note;    /* the person's own, borrowed from the booth; NULL: none */
};

struct steps {
    struct step *v;
    size_t n, cap;
};

/* No steps in a booth without devices and decks; ids are unique. The circuit must be of a sound
 * booth, which must outlive the steps. Free with steps_clear(). */
struct steps steps_make(const struct circuit *c);
void steps_clear(struct steps *s);

/* The first step that is not done; -1 when all are. */
int steps_current(const struct steps *s);

#endif
