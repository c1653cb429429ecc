/* The answers of the verbs as text for people. */
#ifndef CLI_PRINT_TEXT_H
#define CLI_PRINT_TEXT_H

#include <stdbool.h>

#include "base/str.h"
#include "cli/table.h"
#include "engine/derived.h"

/* Appends one answer; with ascii, what is outside ASCII is shown as "?". */
typedef void (*text_printer)(const struct derived *d, bool ascii, struct str *out);

/* What to type into the host; what is heard, strip by strip; the steps, numbered and wrapped. */
void text_routes(const struct derived *d, bool ascii, struct str *out);
void text_heard(const struct derived *d, bool ascii, struct str *out);
void text_steps(const struct derived *d, bool ascii, struct str *out);

/* Adds a row for each fault: the file (left out if NULL: then the table has three columns, else
 * four), how bad, which, and what is wrong with what would put it right. */
void text_faults(const struct faults *f, const char *file, struct table *t);

/* Appends, after head, how many errors a sound booth has; nothing for none. */
void text_errors_count(const char *head, const struct booth *b, bool ascii, struct str *out);

/* Appends head and then text, made safe to show and wrapped between words at 80 columns; further
 * lines are indented as wide as head. Ends the line. */
void text_wrap(struct str *out, const char *head, const char *text, bool ascii);

#endif
