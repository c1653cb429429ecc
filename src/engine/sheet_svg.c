/* The sheet as a page of paper: a title, the booth drawn, then all that the text sheet tells in
 * three columns, and the cautions.
 *
 * The type is as large as lets everything stand there, and a part is broken over two columns only
 * where it must be. The largest of booths do not fit: then the page says how much it left out. */
#include "base/utf8.h"
#include "engine/sheet.h"
#include "engine/sheet_page.h"
#include "engine/sheet_pen.h"

enum {
    TABLES_Y = DRAWING_END + 16,
    TABLES_END = 730,
    CAUTIONS_Y = 752,
    COLUMNS = 3,
    APART = 24,
    COLUMN_W = (PAGE_RIGHT - PAGE_LEFT - (COLUMNS - 1) * APART) / COLUMNS,
    SUBTITLE = 10,
    LARGEST = 10, /* sizes of type */
    SMALLEST_WHOLE = 9,
    SMALLEST = 8,
};

static int rows_of(int size)
{
    return (TABLES_END - TABLES_Y) / (size * 5 / 4);
}

/* How many lines a part has that starts with a head, or what is left of it. */
static size_t part_length(const struct sheet_page *p, size_t at)
{
    size_t end = at + 1;
    while (end < p->n && !p->v[end].head)
        end++;
    return end < p->n ? end - at - 1 : end - at; /* without the empty line before the next */
}

/* Where the column ends that starts with a line: whole parts, or (broken) as many lines as there
 * are rows, but no head alone. */
static size_t column_end(const struct sheet_page *p, size_t start, size_t rows, bool broken)
{
    size_t end = start;
    while (end < p->n && end - start < rows) {
        size_t left = rows - (end - start);
        bool starts = p->v[end].head;
        if (starts && end > start && (left < 3 || (!broken && part_length(p, end) > left)))
            break;
        end++;
    }
    return end;
}

static size_t skip_empty(const struct sheet_page *p, size_t at)
{
    while (at < p->n && !*p->v[at].text)
        at++;
    return at;
}

/* Breaks the lines into columns; returns the first that has no room. */
static size_t break_lines(const struct sheet_page *p, size_t rows, bool broken,
                          size_t ends[COLUMNS])
{
    size_t at = 0;
    for (int i = 0; i < COLUMNS; i++)
        ends[i] = at = column_end(p, skip_empty(p, at), rows, broken);
    return skip_empty(p, at);
}

/* Whether some column breaks a part. */
static bool breaks_part(const struct sheet_page *p, const size_t ends[COLUMNS])
{
    for (int i = 0; i < COLUMNS; i++) {
        size_t next = skip_empty(p, ends[i]);
        if (next < p->n && !p->v[next].head)
            return true;
    }
    return false;
}

/* The fewest rows in which all lines stand, so that the columns are about equally long; 0: there is
 * no way. */
static size_t fewest_rows(const struct sheet_page *p, int size, bool broken, size_t ends[COLUMNS])
{
    for (size_t rows = 1; rows <= (size_t)rows_of(size); rows++)
        if (break_lines(p, rows, broken, ends) == p->n && (broken || !breaks_part(p, ends)))
            return rows;
    return 0;
}

static void fill_page(const struct derived *d, int size, struct sheet_page *p)
{
    page_clear(p);
    p->columns = pen_columns(size, COLUMN_W);
    sheet_lines(d, p);
}

/* Fills the page with the lines at the largest size at which they fit; returns the size. */
static int choose_size(const struct derived *d, struct sheet_page *p, size_t ends[COLUMNS])
{
    for (int broken = 0; broken <= 1; broken++)
        for (int size = LARGEST; size >= (broken ? SMALLEST : SMALLEST_WHOLE); size--) {
            fill_page(d, size, p);
            if (fewest_rows(p, size, broken, ends))
                return size;
        }
    break_lines(p, (size_t)rows_of(SMALLEST), true, ends);
    return SMALLEST;
}

static void add_line(struct str *out, struct pen_text at, const struct sheet_line *l)
{
    at.bold = l->head;
    pen_text(out, at, l->text);
}

static void add_tables(const struct derived *d, struct str *out)
{
    struct sheet_page p = {0};
    size_t ends[COLUMNS], at = 0;
    int size = choose_size(d, &p, ends);
    struct pen_text where = {.size = size, .room = COLUMN_W + size};
    for (int i = 0; i < COLUMNS; i++) {
        where.x = PAGE_LEFT + i * (COLUMN_W + APART);
        where.y = TABLES_Y;
        for (at = skip_empty(&p, at); at < ends[i]; at++, where.y += size * 5 / 4)
            add_line(out, where, &p.v[at]);
    }
    at = skip_empty(&p, at);
    if (at < p.n) {
        struct str left = {0};
        str_addf(&left, "AND %zu MORE LINES: they stand on the text sheet", p.n - at);
        where.y = TABLES_END + 4;
        where.bold = true;
        pen_text(out, where, left.text);
        str_clear(&left);
    }
    page_clear(&p);
}

static void add_title(const struct booth *b, const char *date, struct str *out)
{
    enum { LARGE = 20, LONG = 11, ROOM = PAGE_RIGHT - PAGE_LEFT - 140 };
    struct str line = {0};
    str_addf(&line, "%s%s%s", b->venue.name, b->venue.room ? ", " : "",
             b->venue.room ? b->venue.room : "");
    int size = utf8_columns(line.text, false) > pen_columns(LARGE, ROOM) ? LONG : LARGE;
    pen_text(out, (struct pen_text){PAGE_LEFT, 36, size, ROOM, .bold = true}, line.text);
    pen_text(out, (struct pen_text){PAGE_RIGHT - 100, 36, 13, 110, .bold = false}, date);
    str_clear(&line);
    sheet_settings(b, &line);
    pen_text(out, (struct pen_text){PAGE_LEFT, 53, SUBTITLE, PAGE_RIGHT - PAGE_LEFT, .bold = false},
             line.text);
    pen_text(out, (struct pen_text){PAGE_LEFT, 67, SUBTITLE, PAGE_RIGHT - PAGE_LEFT, .bold = false},
             "From the left as the DJ sees it: host decks, devices, strips. Dotted: what a host "
             "deck plays through. Thin: into an input that is not selected.");
    str_clear(&line);
}

static void add_cautions(struct str *out)
{
    int half = (PAGE_RIGHT - PAGE_LEFT) / 2;
    for (size_t i = 0; sheet_caution(i); i++)
        pen_text(out,
                 (struct pen_text){PAGE_LEFT + (int)(i % 2) * half, CAUTIONS_Y + 14 * (int)(i / 2),
                                   9, half, .bold = false},
                 sheet_caution(i));
}

void sheet_svg(const struct derived *d, const char *date, struct str *out)
{
    str_addf(out,
             "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
             "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"297mm\" height=\"210mm\" "
             "viewBox=\"0 0 %d %d\" font-family=\"monospace\">\n"
             "<rect width=\"%d\" height=\"%d\" fill=\"white\"/>\n",
             PAGE_W, PAGE_H, PAGE_W, PAGE_H);
    add_title(d->circuit->booth, date, out);
    sheet_drawing(d, out);
    add_tables(d, out);
    add_cautions(out);
    str_add(out, "</svg>\n");
}
