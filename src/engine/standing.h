/* In which order things stand in a picture of the booth, on the screen and on paper. */
#ifndef ENGINE_STANDING_H
#define ENGINE_STANDING_H

#include "engine/circuit.h"

/* The group of a device in the row above the strips, from the left: players and controllers, then
 * turntables and interfaces (turntables last where they are wired to strips on the right). Within a
 * group they stand by place, then in the file's order; hubs stand right of all, as STANDING_HUBS.
 */
enum { STANDING_HUBS = 4 };
int standing_group(const struct circuit *c, int device);

#endif
