/* The inverse: the channels that the host must play a deck to, so that it is heard where it wants
 * to be. */
#ifndef ENGINE_ROUTE_H
#define ENGINE_ROUTE_H

#include <stdbool.h>

#include "base/str.h"
#include "engine/circuit.h"

struct route {
    bool there;       /* false: no route; nothing below counts */
    struct pair pair; /* channels of the interface, from 0; both the same for a single one */
    int device;       /* the joined device that it leads through */
    int output;       /* the output, or -1 by usb */
    int input;        /* the selected input of the wanted strip */
};

/* The route of a strip: by the usb input of a joined mixer, else through the first joined device
 * with a cable into the selected input (then the first cable in the file's order). */
struct route route_to(const struct circuit *c, int strip);

/* The route of a deck; not there for an undecided one. */
struct route route_of(const struct circuit *c, int deck);

/* What a deck plays to: what it is set to, else its route; left -1 for neither. */
struct pair route_effective(const struct circuit *c, int deck);

/* Appends the path of a deck's route as names: deck, output (or mixer), input, strip. */
void route_path(const struct circuit *c, int deck, const struct route *r, struct texts *path);

/* Appends how the host counts a pair: "2/3", "3/4", "P2 L/R", "P1 R/P2 L", "3/3"; "?" for a
 * channel that the interface does not have, "-" for no pair (left -1). */
void route_show(const struct circuit *c, struct pair p, struct str *out);

#endif
