/* Typing a field's value; model/say.h shows it. */
#ifndef UI_FIELDTEXT_H
#define UI_FIELDTEXT_H

#include <stdbool.h>

#include "base/err.h"
#include "model/shape.h"

/* Whether a field is a matter of choice (words, yes or no) rather than of typing; whether it is
 * typed. Neither: ids, maps and lists of records. */
bool fieldtext_is_choice(const struct field *f);
bool fieldtext_is_typed(const struct field *f);

/* Reads what was typed into a value; "" is what absence means. False, with one sentence in e and
 * the value as it was, when it cannot be read or is out of range. */
bool fieldtext_read(const struct field *f, void *value, int from, const char *text, struct err *e);

/* Goes a step (+1, -1) through the words of a choice, around the end. Words that a required field
 * cannot have are passed over. */
void fieldtext_turn(const struct field *f, void *value, int step);

#endif
