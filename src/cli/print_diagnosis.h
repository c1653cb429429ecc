/* The explanations of a line check. */
#ifndef CLI_PRINT_DIAGNOSIS_H
#define CLI_PRINT_DIAGNOSIS_H

#include <stdbool.h>

#include "base/str.h"
#include "engine/diagnose.h"
#include "file/json_out.h"

/* Explanations, likeliest first, with the cheapest mend of the first; faults that are known to make
 * it so; then what to check next. */
void text_diagnosis(const struct diagnosis *d, bool ascii, struct str *out);

/* "explanations", "cut", "known" and "next_check", into the open object. */
void json_diagnosis(const struct diagnosis *d, struct json_out *w);

#endif
