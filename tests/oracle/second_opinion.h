/* The booth's questions answered a second time, plainly and slowly: by searching the records for
 * every answer, with nothing of the engine's. */
#ifndef TESTS_ORACLE_SECOND_OPINION_H
#define TESTS_ORACLE_SECOND_OPINION_H

#include "model/booth.h"

/* The pair that a deck's strip asks for; false where there is no route. */
bool opinion_route(const struct booth *b, const struct deck *d, struct pair *pair);

/* What a deck plays to: what it is set to, else its route, else left -1. */
struct pair opinion_plays(const struct booth *b, const struct deck *d);

/* All that is heard, "s1.left h1.right", each once, in no order. The caller frees the texts. */
void opinion_heard(const struct booth *b, struct texts *out);

/* Nothing that is in use was touched between two states of a booth: an in-use strip's selector,
 * switches and cables, an in-use device's source, lead, cables and absence from the interface. If
 * not, *what is what. */
bool opinion_hands_off(const struct booth *before, const struct booth *after, const char **what);

#endif
