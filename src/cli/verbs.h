/* The verbs: one row each, one question to the engine each.
 *
 * A new verb is one row in verbs.c and its two printers, in print_text.c and print_json.c. */
#ifndef CLI_VERBS_H
#define CLI_VERBS_H

#include <stdbool.h>
#include <stddef.h>

#include "base/str.h"
#include "cli/arguments.h"
#include "cli/print_json.h"
#include "cli/print_text.h"

struct verb {
    const char *name;     /* "route" */
    const char *operands; /* "FILE" */
    const char *line;     /* what it prints, in a few words */
    const char *help;     /* more about it: whole sentences */
    size_t least, most;   /* how many operands */
    unsigned options;     /* which it takes: set of enum option */

    /* Does it: appends to out what goes to standard output, says errors itself, and returns the
     * exit status. */
    int (*run)(const struct arguments *a, struct str *out);

    /* How a verb of one file prints its answer. */
    text_printer text;
    json_printer json;
};

/* The i-th verb, in the order of the table; NULL past the end. */
const struct verb *verb_at(size_t i);

/* The verb of that name, or NULL. */
const struct verb *verb_find(const char *name);

#endif
