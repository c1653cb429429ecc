/* Columns are measured as a terminal shows them, not in bytes: labels may be in any script. */
#include "cli/table.h"

#include <assert.h>

#include "base/mem.h"
#include "base/utf8.h"

enum { GAP = 2 };

void table_add(struct table *t, const char *text)
{
    assert(t->columns > 0 && text);
    struct str safe = {0};
    utf8_safe(&safe, text, -1, t->ascii);
    t->cells = mem_grow(t->cells, &t->cap, t->n + 1, sizeof *t->cells);
    t->cells[t->n++] = str_take(&safe);
}

static int width_of(const struct table *t, size_t column)
{
    int width = 0;
    for (size_t i = column; i < t->n; i += t->columns) {
        int columns = utf8_columns(t->cells[i], t->ascii);
        width = columns > width ? columns : width;
    }
    return width;
}

static void write_row(const struct table *t, size_t row, const int *widths, struct str *out)
{
    int owed = 0; /* blanks, written only when something follows them */
    for (size_t i = 0; i < t->columns; i++) {
        const char *cell = t->cells[row * t->columns + i];
        if (*cell) {
            str_addf(out, "%*s%s", owed, "", cell);
            owed = 0;
        }
        owed += widths[i] - utf8_columns(cell, t->ascii) + GAP;
    }
    str_addc(out, '\n');
}

void table_write(const struct table *t, struct str *out)
{
    assert(t->n % t->columns == 0);
    int *widths = mem_new(t->columns, sizeof *widths);
    for (size_t i = 0; i < t->columns; i++)
        widths[i] = width_of(t, i);
    for (size_t row = 0; row < t->n / t->columns; row++)
        write_row(t, row, widths, out);
    mem_free(widths);
}

void table_clear(struct table *t)
{
    for (size_t i = 0; i < t->n; i++)
        mem_free(t->cells[i]);
    mem_free(t->cells);
    *t = (struct table){.columns = t->columns, .ascii = t->ascii};
}
