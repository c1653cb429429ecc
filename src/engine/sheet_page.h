/* The lines of a sheet at any width: heads, wrapped sentences, and tables whose columns are as wide
 * as what stands in them. For the sheet's files alone. */
#ifndef ENGINE_SHEET_PAGE_H
#define ENGINE_SHEET_PAGE_H

#include <stdbool.h>

#include "engine/derived.h"

enum { SHEET_CELLS = 5 };

struct sheet_line {
    char *text; /* safe to show, "" for an empty line */
    bool head;  /* stands out */
};

struct sheet_row {
    char *cells[SHEET_CELLS];
};

struct sheet_page {
    int columns; /* no line is wider */
    struct sheet_line *v;
    size_t n, cap;
    struct sheet_row *rows; /* of the table that is not laid out yet */
    size_t n_rows, rows_cap;
};

/* An empty line (but at the top) and a head. */
void page_head(struct sheet_page *p, const char *head);

/* A text as one line, spaces and all; the caller sees to its width. */
void page_line(struct sheet_page *p, const char *text);

/* A text in as many lines as its words need, indented, all but the first by more; a line feed in it
 * begins another one. A word longer than a line is broken. */
void page_words(struct sheet_page *p, int indent, int more, const char *text);

/* A row of a table; a cell may be NULL or empty. The table ends with page_end_rows(): the rows that
 * fit stand in columns, what is too long for its column becomes a sentence of its own. */
void page_row(struct sheet_page *p, const char *const cells[SHEET_CELLS]);
void page_end_rows(struct sheet_page *p);

void page_clear(struct sheet_page *p);

/* sheet_lines.c: all that a sheet tells below its title and above the cautions, added to an empty
 * page: what is in use, routes, connecting, cables, faults, notes. */
void sheet_lines(const struct derived *d, struct sheet_page *p);

/* Whether a step of the checklist belongs to the connecting that a sheet lists: from the driver to
 * the choice of the interface. *lead: where a data lead goes in it, or NULL; *label: whose. */
bool sheet_connects(const struct booth *b, const struct step *s, const struct plug **lead,
                    const char **label);

/* Data leads that no such step speaks of: the i-th; false past the end. */
struct sheet_lead {
    const char *label;
    const struct plug *plugged;
    const struct hub *hub; /* NULL: of a device */
};
bool sheet_other_lead(const struct derived *d, size_t i, struct sheet_lead *lead);

#endif
