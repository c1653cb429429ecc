/* What can happen to a booth between two visits. */
#ifndef TESTS_SUPPORT_BOOTH_DISTURB_H
#define TESTS_SUPPORT_BOOTH_DISTURB_H

#include "base/str.h"
#include "model/booth.h"

/* Changes a sound booth at random, in up to so many steps, and leaves it sound: any field but the
 * person's papers, items and things that come and go, strips in another mixer, other and exchanged
 * ids. The same seed does the same. Appends what was done (NULL: to nothing). */
void booth_disturb(struct booth *b, unsigned seed, unsigned steps, struct str *done);

#endif
