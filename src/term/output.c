/* A grid onto the screen.
 *
 * Every cell is handed to curses every time, and curses sends what differs: measured, nothing is
 * gained by telling it less. Looks become attributes by the table in looks.c. */
#include "term/terminal.h"

#include <curses.h>
#include <stdlib.h>
#include <string.h>

#include "base/utf8.h"
#include "term/inside.h"
#include "term/looks.h"

enum { MARKS_MAX = 4 }; /* combining marks in one cell; the grid keeps at most two */

static bool coloured;

static bool wants_colour(bool mono)
{
    const char *no = getenv("NO_COLOR");
    return !mono && !(no && *no) && has_colors();
}

void output_start(bool mono)
{
    coloured = wants_colour(mono) && start_color() == OK;
    if (!coloured)
        return;
    short back = use_default_colors() == OK ? -1 : COLOR_BLACK;
    for (int look = 0; look < LOOK_COUNT; look++) {
        enum hue hue = look_style((enum look)look)->hue;
        if (hue != HUE_OWN)
            init_pair((short)hue, (short)hue, back);
    }
}

static attr_t attributes(unsigned show)
{
    attr_t a = A_NORMAL;
    if (show & SHOW_BOLD)
        a |= A_BOLD;
    if (show & SHOW_DIM)
        a |= A_DIM;
    if (show & SHOW_UNDERLINE)
        a |= A_UNDERLINE;
    if (show & SHOW_REVERSE)
        a |= A_REVERSE;
#ifdef A_ITALIC
    if (show & SHOW_ITALIC)
        a |= A_ITALIC;
#endif
    return a;
}

/* The character and its marks as wide characters, ended by 0; "?" for what is no UTF-8. */
static void widen(const char *glyph, wchar_t out[MARKS_MAX + 2])
{
    size_t left = strlen(glyph), n = 0;
    while (left && n <= MARKS_MAX) {
        uint32_t point = 0;
        size_t used = utf8_next(glyph, left, &point);
        out[n++] = used ? (wchar_t)point : L'?';
        glyph += used ? used : 1;
        left -= used ? used : 1;
    }
    out[n] = 0;
}

/* Pieces of lines are never reversed or underlined: a frame stands out by its weight, not as a bar
 * of light. */
static void show_cell(int x, int y, const char *glyph, enum look look, bool line)
{
    const struct look_style *style = look_style(look);
    attr_t attr = attributes(coloured ? style->show : style->mono);
    if (line)
        attr = (attr & ~(A_REVERSE | A_UNDERLINE)) | (attr & A_REVERSE ? A_BOLD : 0);
    short pair = coloured && style->hue != HUE_OWN ? (short)style->hue : 0;
    wchar_t text[MARKS_MAX + 2];
    widen(glyph, text);
    cchar_t c;
    if (setcchar(&c, text, attr, pair, NULL) != OK)
        setcchar(&c, L"?", attr, pair, NULL);
    mvadd_wch(y, x, &c); /* fails in the last corner, after it has written it */
}

static void show_row(const struct grid *g, int y)
{
    for (int x = 0; x < COLS; x++) {
        const struct cell *c = grid_at(g, x, y);
        if (!c)
            show_cell(x, y, " ", LOOK_PLAIN, false);
        else if (c->width == 2 && x + 1 == COLS) /* no room for it: the grid is wider than we */
            show_cell(x, y, " ", (enum look)c->look, false);
        else if (c->width > 0) /* a wide one covers the cell to its right as well */
            show_cell(x, y, grid_glyph(g, c), (enum look)c->look, c->arms != 0);
    }
}

void terminal_show(const struct grid *g)
{
    for (int y = 0; y < LINES; y++)
        show_row(g, y);
    bool cursor = g->cursor_x >= 0 && g->cursor_x < COLS && g->cursor_y >= 0 && g->cursor_y < LINES;
    curs_set(cursor);
    leaveok(stdscr, !cursor);
    if (cursor)
        move(g->cursor_y, g->cursor_x);
    wnoutrefresh(stdscr);
    doupdate();
}

void terminal_repaint(void)
{
    clearok(curscr, TRUE);
}

void terminal_bell(void)
{
    beep();
}
