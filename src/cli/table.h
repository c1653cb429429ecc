/* Text in columns, each as wide as its widest cell. */
#ifndef CLI_TABLE_H
#define CLI_TABLE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/str.h"

/* Set columns (at least 1) and ascii, the rest zero. */
struct table {
    size_t columns;
    bool ascii; /* what is outside ASCII is shown as "?" */
    char **cells;
    size_t n, cap;
};

/* Adds the next cell, from left to right and row by row; the text is made safe to show. */
void table_add(struct table *t, const char *text);

/* Appends the rows (all of them full), two blanks between columns and none at the end of a line. */
void table_write(const struct table *t, struct str *out);

/* Frees the cells. */
void table_clear(struct table *t);

#endif
