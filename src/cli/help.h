/* What --help and --version print, made from the tables. */
#ifndef CLI_HELP_H
#define CLI_HELP_H

#include <stddef.h>

#include "base/str.h"
#include "cli/verbs.h"

/* Appends what there is: the editor, the verbs, the options, the exit statuses. */
void help_all(struct str *out);

/* Appends more about one verb. */
void help_verb(const struct verb *v, struct str *out);

/* The table of exit statuses: the i-th status and what it means; NULL past the end. */
const char *help_exit(size_t i, int *status);

#endif
