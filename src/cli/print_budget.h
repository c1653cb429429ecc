/* The budget, as text with bars and as JSON. */
#ifndef CLI_PRINT_BUDGET_H
#define CLI_PRINT_BUDGET_H

#include <stdbool.h>

#include "base/str.h"
#include "engine/budget.h"
#include "file/json_out.h"

/* b: the booth that o was made of. level: measured, in tenths of a dB(A) (600 to 1400), or
 * EARS_UNTOLD; with one it is told how long ears have. Text is at most 80 columns wide. */
void text_budget(const struct budget *o, const struct booth *b, int level, bool ascii,
                 struct str *out);

/* "buses", "hubs", "clocks", "latency_ms" and more into the open object. */
void json_budget(const struct budget *o, const struct booth *b, int level, struct json_out *w);

#endif
