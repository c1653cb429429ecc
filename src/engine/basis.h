/* What a mark of the line check rests on: it ages when that changes. */
#ifndef ENGINE_BASIS_H
#define ENGINE_BASIS_H

#include <stdbool.h>

#include "base/str.h"
#include "model/booth.h"

/* Appends what marks of this booth rest on, as one word: another one after any change to wiring,
 * selectors, switches, sources, the joined list or settings. */
void basis_make(const struct booth *b, struct str *out);

/* Whether a mark is out of date: it tells what it rests on, and that is not how the booth is. */
bool basis_is_old(const struct booth *b, const struct listen *l);

#endif
