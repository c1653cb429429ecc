/* What must hold in every booth, whoever made it: the reader refuses a file that breaks it, the
 * editor a change, and the hard build asserts it after every commit. */
#ifndef MODEL_SOUND_H
#define MODEL_SOUND_H

#include <stdbool.h>

#include "base/err.h"
#include "model/booth.h"

/* Whether every value is in its range, every reference resolves and every rule of domain.md's
 * "Refused" holds. If not, e (not NULL) says where (a JSON path), what is wrong and what was
 * expected, with ERR_READ. The first fault in the file's order is told. */
bool booth_sound(const struct booth *b, struct err *e);

#endif
