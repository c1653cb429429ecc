/* Something goes wrong on purpose, a perfect ear listens, and the diagnosis must find it. */
#ifndef TESTS_SUPPORT_INJECTED_H
#define TESTS_SUPPORT_INJECTED_H

#include "engine/diagnose.h"

/* Injects causes one after the other, marks all decks, diagnoses: fails the test unless every
 * explanation replays. Returns the group of the one that was injected or sounds just like it, or
 * -1. */
int found_in(struct booth *b, const struct cause *causes, int n, const char *what);

/* Fails the test unless every single cause that a booth allows is found; every pair of them that
 * can be together, one after the other both ways, or each step-th (a step of 1: all). Both mark in
 * the booth's line check. */
void find_singles(struct booth *b, const char *where);
void find_pairs(struct booth *b, const char *where, size_t step);

/* The same for orders of joining: every one of up to four devices, of more every exchange of
 * two; alone and beside every other cause, or each
 * step-th of these pairs. */
void find_orders(struct booth *b, const char *where, size_t step);

/* The next permutation of n different numbers; after the last one the first. */
void next_order(unsigned char *v, int n);

#endif
