/* The booth as it was found: wiring, selectors, switches, sources and data leads, kept so that it
 * can be left that way. */
#ifndef MODEL_FOUND_H
#define MODEL_FOUND_H

#include <stdbool.h>

#include "model/booth.h"

/* What would be kept of a booth as it stands now. Free with found_free(). */
struct found *found_of(const struct booth *b);
void found_free(struct found *f);

/* Keeps the booth as it stands now as the one that was found, in place of an earlier one. */
void found_keep(struct booth *b);

/* When nothing is kept yet and next differs from now in wiring, or in a selector, switch, source
 * or data lead of a thing that both have: next keeps now as it was found. What is kept already is
 * completed by what it does not name and is different now. True when next keeps more than before;
 * it remembers the labels of the things that go as well. */
bool found_keep_before(const struct booth *now, struct booth *next);

#endif
