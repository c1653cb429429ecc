/* Cells of text with a look. Lines are kept as arms and become glyphs only when they are shown,
 * so frames and wires join by themselves and ASCII is a matter of a table. */
#include "ui/grid.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <wchar.h>

#include "base/mem.h"
#include "base/utf8.h"

static int clamp(int n, int low, int high)
{
    return n < low ? low : n > high ? high : n;
}

struct grid *grid_new(int columns, int rows, bool ascii)
{
    struct grid *g = mem_new(1, sizeof *g);
    g->columns = clamp(columns, 1, 1000);
    g->rows = clamp(rows, 1, 500);
    g->ascii = ascii;
    g->cells = mem_new((size_t)g->columns * (size_t)g->rows, sizeof *g->cells);
    grid_blank(g);
    return g;
}

void grid_free(struct grid *g)
{
    if (!g)
        return;
    mem_free(g->cells);
    mem_free(g);
}

struct cell *grid_at(const struct grid *g, int x, int y)
{
    if (x < 0 || y < 0 || x >= g->columns || y >= g->rows)
        return NULL;
    return &g->cells[(size_t)y * (size_t)g->columns + (size_t)x];
}

/* Whatever shares a wide character with the cell at x, y becomes a blank. */
static void part_wide(struct grid *g, int x, int y)
{
    struct cell *c = grid_at(g, x, y);
    struct cell *half = !c              ? NULL
                        : c->width == 0 ? grid_at(g, x - 1, y)
                        : c->width == 2 ? grid_at(g, x + 1, y)
                                        : NULL;
    if (half)
        *half = (struct cell){.text = " ", .width = 1, .look = half->look};
}

static void put_cell(struct grid *g, int x, int y, const char *bytes, int width, enum look look)
{
    struct cell *c = grid_at(g, x, y);
    if (!c)
        return;
    part_wide(g, x, y);
    *c = (struct cell){.width = (unsigned char)width, .look = (unsigned char)look};
    snprintf(c->text, sizeof c->text, "%s", bytes);
    if (width == 2) {
        part_wide(g, x + 1, y);
        struct cell *right = grid_at(g, x + 1, y);
        if (right)
            *right = (struct cell){.look = (unsigned char)look};
    }
}

void grid_fill(struct grid *g, int x, int y, int w, int h, enum look look)
{
    for (int row = y; row < y + h; row++)
        for (int col = x; col < x + w; col++)
            put_cell(g, col, row, " ", 1, look);
}

void grid_blank(struct grid *g)
{
    struct cell blank = {.text = " ", .width = 1};
    g->cursor_x = g->cursor_y = -1;
    for (size_t i = 0; i < (size_t)g->columns * (size_t)g->rows; i++)
        g->cells[i] = blank;
}

int grid_put(struct grid *g, int x, int y, int max, enum look look, const char *text)
{
    struct str safe = {0};
    int room = g->columns - x;
    if (max >= 0 && max < room)
        room = max;
    int used = room > 0 ? utf8_safe(&safe, text, room, g->ascii) : 0;
    int next = x, last = x;
    for (size_t i = 0; i < safe.len;) {
        uint32_t point = 0;
        size_t len = utf8_next(safe.text + i, safe.len - i, &point);
        assert(len);
        char bytes[8] = {0};
        memcpy(bytes, safe.text + i, len);
        i += len;
        int width = point < 0x80 ? 1 : wcwidth((wchar_t)point);
        struct cell *c = grid_at(g, last, y);
        if (width == 0 && c && strlen(c->text) + len < sizeof c->text) {
            strcat(c->text, bytes); /* a mark joins its base */
        } else if (width > 0) {
            put_cell(g, next, y, bytes, width, look);
            last = next;
            next += width;
        }
    }
    str_clear(&safe);
    return used;
}

int grid_putf(struct grid *g, int x, int y, int max, enum look look, const char *fmt, ...)
{
    char text[1024];
    va_list args;
    va_start(args, fmt);
    vsnprintf(text, sizeof text, fmt, args);
    va_end(args);
    return grid_put(g, x, y, max, look, text);
}

void grid_arms(struct grid *g, int x, int y, unsigned arms, enum line line, enum look look)
{
    struct cell *c = grid_at(g, x, y);
    if (!c)
        return;
    unsigned before = c->line == line ? c->arms : 0;
    part_wide(g, x, y);
    *c = (struct cell){.width = 1,
                       .look = (unsigned char)look,
                       .arms = (unsigned char)(before | arms),
                       .line = (unsigned char)line};
}

void grid_frame(struct grid *g, int x, int y, int w, int h, enum line line, enum look look)
{
    assert(w >= 2 && h >= 2);
    int right = x + w - 1, bottom = y + h - 1;
    for (int col = x; col <= right; col++) {
        unsigned arms = (col > x ? ARM_LEFT : 0u) | (col < right ? ARM_RIGHT : 0u);
        grid_arms(g, col, y, arms, line, look);
        grid_arms(g, col, bottom, arms, line, look);
    }
    for (int row = y; row <= bottom; row++) {
        unsigned arms = (row > y ? ARM_UP : 0u) | (row < bottom ? ARM_DOWN : 0u);
        grid_arms(g, x, row, arms, line, look);
        grid_arms(g, right, row, arms, line, look);
    }
}

void grid_paint(struct grid *g, int x, int y, int w, enum look look)
{
    for (int col = x; col < x + w; col++) {
        struct cell *c = grid_at(g, col, y);
        if (c)
            c->look = (unsigned char)look;
    }
}

/* Indexed by the set of arms. */
static const char *const light[16] = {" ", "│", "│", "│", "─", "┘", "┐", "┤",
                                      "─", "└", "┌", "├", "─", "┴", "┬", "┼"};
static const char *const heavy[16] = {" ", "┃", "┃", "┃", "━", "┛", "┓", "┫",
                                      "━", "┗", "┏", "┣", "━", "┻", "┳", "╋"};
static const char *const dashed[16] = {" ", "╎", "╎", "╎", "╌", "┘", "┐", "┤",
                                       "╌", "└", "┌", "├", "╌", "┴", "┬", "┼"};
static const char *const plain[16] = {" ", "|", "|", "|", "-", "+", "+", "+",
                                      "-", "+", "+", "+", "-", "+", "+", "+"};
static const char *const thick[16] = {" ", "#", "#", "#", "=", "#", "#", "#",
                                      "=", "#", "#", "#", "=", "#", "#", "#"};
static const char *const broken[16] = {" ", ":", ":", ":", "~", "+", "+", "+",
                                       "~", "+", "+", "+", "~", "+", "+", "+"};

const char *grid_glyph(const struct grid *g, const struct cell *c)
{
    if (!c->arms)
        return c->text;
    switch (c->line) {
    case LINE_HEAVY:
        return (g->ascii ? thick : heavy)[c->arms & 15];
    case LINE_DASHED:
        return (g->ascii ? broken : dashed)[c->arms & 15];
    default:
        return (g->ascii ? plain : light)[c->arms & 15];
    }
}

void grid_text(const struct grid *g, struct str *out)
{
    for (int y = 0; y < g->rows; y++) {
        size_t end = out->len;
        for (int x = 0; x < g->columns; x++) {
            const char *glyph = grid_glyph(g, grid_at(g, x, y));
            str_add(out, glyph);
            if (strcmp(glyph, " ") != 0)
                end = out->len;
        }
        str_cut(out, end);
        str_addc(out, '\n');
    }
}
