/* A perfect ear: marks in a line check what the forward model says. */
#ifndef TESTS_SUPPORT_LISTENING_H
#define TESTS_SUPPORT_LISTENING_H

#include "engine/circuit.h"

/* The circuit of a booth as it is believed to be, with every deck set. Free with circuit_free(). */
struct circuit *believed(const struct booth *b);

/* Marks in the booth's line check what the decks of a circuit are heard as; only of those in the
 * set of bits. */
void listen_to(struct booth *b, const struct circuit *truth, unsigned decks);

#endif
