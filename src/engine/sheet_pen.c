/* SVG, stroke by stroke: black on white, no scripts, nothing from elsewhere. */
#include "engine/sheet_pen.h"

#include <string.h>

#include "base/utf8.h"

/* A column of the common monospaced fonts is 0.60 of the size; a wide character takes two columns
 * and is as wide as the size at most. */
enum { COLUMN_PERCENT = 61 };

int pen_columns(int size, int points)
{
    return points > 0 ? points * 100 / (size * COLUMN_PERCENT) : 0;
}

static void escape(struct str *out, const char *text)
{
    for (; *text; text++)
        switch (*text) {
        case '&':
            str_add(out, "&amp;");
            break;
        case '<':
            str_add(out, "&lt;");
            break;
        case '>':
            str_add(out, "&gt;");
            break;
        case '"':
            str_add(out, "&quot;");
            break;
        default:
            str_addc(out, *text);
        }
}

void pen_text(struct str *out, struct pen_text at, const char *text)
{
    struct str safe = {0};
    int columns = pen_columns(at.size, at.room);
    if (columns > 0)
        utf8_safe(&safe, text, columns, false);
    if (safe.len && strcmp(safe.text, "~") != 0) {
        str_addf(out, "<text x=\"%d\" y=\"%d\" font-size=\"%d\"%s%s xml:space=\"preserve\">", at.x,
                 at.y, at.size, at.middle ? " text-anchor=\"middle\"" : "",
                 at.bold ? " font-weight=\"bold\"" : "");
        escape(out, safe.text);
        str_add(out, "</text>\n");
    }
    str_clear(&safe);
}

void pen_box(struct str *out, int x, int y, int w, int h)
{
    str_addf(
        out,
        "<rect x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\" fill=\"white\" stroke=\"black\"/>\n", x,
        y, w, h);
}

void pen_lines(struct str *out, const struct pen_point *p, size_t n, int style, bool thick)
{
    static const char *const dashes[] = {
        "", " stroke-dasharray=\"8 4\"", " stroke-dasharray=\"10 3 2 3\"",
        " stroke-dasharray=\"16 4\"", [PEN_DOTTED] = " stroke-dasharray=\"1 3\""};
    str_add(out, "<polyline points=\"");
    for (size_t i = 0; i < n; i++)
        str_addf(out, "%s%d,%d", i ? " " : "", p[i].x, p[i].y);
    str_addf(out, "\" fill=\"none\" stroke=\"black\" stroke-width=\"%s\"%s/>\n",
             thick ? "1.8" : "0.8", dashes[style]);
}

void pen_arrow_up(struct str *out, struct pen_point p)
{
    str_addf(out, "<polygon points=\"%d,%d %d,%d %d,%d\" fill=\"black\"/>\n", p.x, p.y, p.x - 3,
             p.y + 7, p.x + 3, p.y + 7);
}
