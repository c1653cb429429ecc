/* Wrapping is by columns, after the text was made safe. */
#include "ui/lines.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "base/utf8.h"

void lines_clear(struct lines *l)
{
    for (size_t i = 0; i < l->n; i++)
        mem_free(l->v[i].text);
    mem_free(l->v);
    *l = (struct lines){.width = l->width, .ascii = l->ascii};
}

static void add_row(struct lines *l, int item, enum look look, char *text)
{
    l->v = mem_grow(l->v, &l->cap, l->n + 1, sizeof *l->v);
    l->v[l->n++] = (struct line_of_text){text, look, item, l->reading};
    if (item >= l->items)
        l->items = item + 1;
}

/* How many bytes of a safe text fit into so many columns, cutting at a blank where there is one. */
static size_t fitting(const char *text, int columns, bool ascii)
{
    size_t n = strlen(text), at = 0, blank = 0;
    int used = 0;
    while (at < n) {
        uint32_t point;
        size_t len = utf8_next(text + at, n - at, &point);
        char one[8] = {0};
        memcpy(one, text + at, len);
        int w = point < 0x80 ? 1 : utf8_columns(one, ascii);
        if (used + w > columns)
            return blank ? blank : at ? at : len;
        if (point == ' ')
            blank = at;
        used += w;
        at += len;
    }
    return n;
}

void lines_add(struct lines *l, int item, enum look look, int indent, const char *text)
{
    struct str safe = {0};
    utf8_safe(&safe, text, -1, l->ascii);
    const char *rest = str_text(&safe);
    int room = l->width - 2 < 6 ? 6 : l->width - 2, pad = 0;
    do {
        size_t n = fitting(rest, room - pad, l->ascii);
        struct str row = {0};
        str_addf(&row, "%*s", pad, "");
        str_addn(&row, rest, n);
        add_row(l, item, look, str_take(&row));
        rest += n;
        while (*rest == ' ')
            rest++;
        pad = indent;
    } while (*rest);
    str_clear(&safe);
}

void lines_addf(struct lines *l, int item, enum look look, int indent, const char *fmt, ...)
{
    va_list args, again;
    va_start(args, fmt);
    va_copy(again, args);
    int n = vsnprintf(NULL, 0, fmt, args);
    va_end(args);
    char *text = mem_new((size_t)n + 1, 1);
    vsnprintf(text, (size_t)n + 1, fmt, again);
    va_end(again);
    lines_add(l, item, look, indent, text);
    mem_free(text);
}

/* Whether no item stands above a line. */
static bool is_topmost(const struct lines *l, int line)
{
    for (int i = 0; i < line; i++)
        if (l->v[i].item >= 0)
            return false;
    return true;
}

int lines_scroll(const struct lines *l, int item, int scroll, int rows)
{
    int first = -1, last = -1, n = (int)l->n;
    for (int i = 0; i < n && item >= 0; i++)
        if (l->v[i].item == item) {
            first = first < 0 ? i : first;
            last = i;
        }
    if (last >= scroll + rows)
        scroll = last - rows + 1;
    if (first >= 0 && first < scroll)
        scroll = first;
    if (first >= 0 && first < rows / 2 && is_topmost(l, first))
        scroll = 0; /* with what stands over all */
    if (scroll > n - rows)
        scroll = n - rows;
    return scroll < 0 ? 0 : scroll;
}

int lines_item_at(const struct lines *l, int scroll, int row)
{
    int i = scroll + row;
    return row < 0 || i < 0 || i >= (int)l->n ? -1 : l->v[i].item;
}

bool lines_read_at(const struct lines *l, int scroll, int row)
{
    return lines_item_at(l, scroll, row) >= 0 && l->v[scroll + row].read;
}

void lines_draw(const struct lines *l, struct grid *g, struct rect r, int scroll, int item,
                bool has_keys)
{
    for (int row = 0; row < r.h && scroll + row < (int)l->n; row++) {
        const struct line_of_text *line = &l->v[scroll + row];
        bool here = item >= 0 && line->item == item;
        bool first = here && (scroll + row == 0 || l->v[scroll + row - 1].item != item);
        if (first)
            grid_put(g, r.x, r.y + row, 1, has_keys ? LOOK_SELECTED : LOOK_STRONG, ">");
        grid_put(g, r.x + 2, r.y + row, r.w - 2, line->look, line->text);
        if (here && has_keys)
            grid_paint(g, r.x, r.y + row, r.w, LOOK_SELECTED);
    }
    if (scroll > 0)
        grid_put(g, r.x + r.w - 1, r.y, 1, LOOK_STRONG, "^");
    if (scroll + r.h < (int)l->n)
        grid_put(g, r.x + r.w - 1, r.y + r.h - 1, 1, LOOK_STRONG, "v");
}
