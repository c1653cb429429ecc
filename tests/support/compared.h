/* The law of comparing: what compare tells, applied to the old booth, gives the new one.
 *
 * Nothing here asks compare.c anything but the differences: booths are walked by their shapes. */
#ifndef TESTS_SUPPORT_COMPARED_H
#define TESTS_SUPPORT_COMPARED_H

#include "engine/compare.h"

/* A copy of before to which the differences were applied one by one. now is asked only for what a
 * difference names. Fails the test when one names what is not there. Free with booth_free(). */
struct booth *compared_applied(const struct booth *before, const struct booth *now,
                               const struct comparison *c);

/* Where two booths differ in anything but the person's papers and the order of lists:
 * "devices.p1.card.bits"; NULL when they do not. Free with mem_free(). */
char *compared_unlike(const struct booth *a, const struct booth *b);

/* Makes both of the above and fails the test, with what it says of whom, unless the law holds. */
void compared_holds(const struct booth *before, const struct booth *now, const char *whom);

/* Calls things otherwise, all at once, in every name of the booth that is wired or plugged. */
void compared_rename(struct booth *b, const struct renamed *names, size_t n);

#endif
