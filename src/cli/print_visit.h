/* Coming back and handing over: two visits compared, and what to put back. */
#ifndef CLI_PRINT_VISIT_H
#define CLI_PRINT_VISIT_H

#include <stdbool.h>

#include "base/str.h"
#include "engine/compare.h"
#include "engine/derived.h"
#include "file/json_out.h"

/* What differs, which routes change, the least work and which saved combination fits. */
void text_compare(const struct comparison *c, const struct booth *before, const struct booth *now,
                  bool ascii, struct str *out);
/* "differences", "matched", "routes_changed", "actions", "minutes", "combination", into the open
 * object. */
void json_compare(const struct comparison *c, const struct booth *before, const struct booth *now,
                  struct json_out *w);

/* What to put back: a numbered list; "actions". */
void text_restore(const struct derived *d, bool ascii, struct str *out);
void json_restore(const struct derived *d, struct json_out *w);

#endif
