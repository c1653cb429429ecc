/* Lines of a given width. A table is laid out when all its rows are known: every column gets what
 * its widest cell needs, and while that is too much, the widest column gives way. Nothing is ever
 * cut: a row that does not fit then is written out as a sentence. */
#include "engine/sheet_page.h"

#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "base/utf8.h"

enum { GAP = 2, INDENT = 2 };

/* Takes the text, and leaves it empty. */
static void add_line(struct sheet_page *p, struct str *text, bool head)
{
    while (text->len && text->text[text->len - 1] == ' ')
        str_cut(text, text->len - 1);
    p->v = mem_grow(p->v, &p->cap, p->n + 1, sizeof *p->v);
    p->v[p->n++] = (struct sheet_line){str_take(text), head};
}

void page_head(struct sheet_page *p, const char *head)
{
    struct str line = {0};
    if (p->n)
        add_line(p, &line, false);
    str_add(&line, head);
    add_line(p, &line, true);
}

void page_line(struct sheet_page *p, const char *text)
{
    struct str line = {0};
    utf8_safe(&line, text, -1, false);
    add_line(p, &line, false);
}

/* --- words ------------------------------------------------------------------------------------ */

/* A text on its way into lines. */
struct flow {
    struct sheet_page *page;
    int indent, more;
    struct str line; /* without its indent */
    bool first;
};

static int room(const struct flow *f)
{
    return f->page->columns - f->indent - (f->first ? 0 : f->more);
}

static void end_line(struct flow *f)
{
    struct str line = {0};
    str_addf(&line, "%*s%s", f->indent + (f->first ? 0 : f->more), "", str_text(&f->line));
    add_line(f->page, &line, false);
    str_clear(&f->line);
    f->first = false;
}

/* A word that is longer than a line, character by character. */
static void add_broken(struct flow *f, const char *word)
{
    uint32_t point;
    for (size_t at = 0, n = strlen(word); at < n;) {
        size_t before = f->line.len, len = utf8_next(word + at, n - at, &point);
        str_addn(&f->line, word + at, len ? len : 1);
        if (before && utf8_columns(f->line.text, false) > room(f)) {
            str_cut(&f->line, before);
            end_line(f);
            continue;
        }
        at += len ? len : 1;
    }
}

static void add_word(struct flow *f, const char *word)
{
    struct str safe = {0};
    int columns = utf8_safe(&safe, word, -1, false);
    if (f->line.len && utf8_columns(f->line.text, false) + 1 + columns > room(f))
        end_line(f);
    if (f->line.len)
        str_addc(&f->line, ' ');
    if (columns > room(f))
        add_broken(f, str_text(&safe));
    else
        str_add(&f->line, str_text(&safe));
    str_clear(&safe);
}

static void add_paragraph(struct sheet_page *p, int indent, int more, const char *text)
{
    struct flow f = {.page = p, .indent = indent, .more = more, .first = true};
    struct str safe = {0};
    char *state = NULL;
    utf8_safe(&safe, text, -1, false);
    if (safe.text)
        for (char *w = strtok_r(safe.text, " ", &state); w; w = strtok_r(NULL, " ", &state))
            add_word(&f, w);
    if (f.line.len)
        end_line(&f);
    str_clear(&safe);
    str_clear(&f.line);
}

void page_words(struct sheet_page *p, int indent, int more, const char *text)
{
    char *copy = mem_text(text), *state = NULL;
    for (char *l = strtok_r(copy, "\r\n", &state); l; l = strtok_r(NULL, "\r\n", &state))
        add_paragraph(p, indent, more, l);
    mem_free(copy);
}

/* --- tables ----------------------------------------------------------------------------------- */

void page_row(struct sheet_page *p, const char *const cells[SHEET_CELLS])
{
    p->rows = mem_grow(p->rows, &p->rows_cap, p->n_rows + 1, sizeof *p->rows);
    struct sheet_row *r = &p->rows[p->n_rows++];
    for (int i = 0; i < SHEET_CELLS; i++)
        r->cells[i] = mem_text(cells[i] ? cells[i] : "");
}

static void choose_widths(const struct sheet_page *p, int width[SHEET_CELLS])
{
    int all = INDENT - GAP;
    for (int i = 0; i < SHEET_CELLS; i++) {
        width[i] = 0;
        for (size_t k = 0; k < p->n_rows; k++) {
            int columns = utf8_columns(p->rows[k].cells[i], false);
            width[i] = columns > width[i] ? columns : width[i];
        }
        all += width[i] ? width[i] + GAP : 0;
    }
    for (; all > p->columns; all--) {
        int widest = 0;
        for (int i = 1; i < SHEET_CELLS; i++)
            widest = width[i] > width[widest] ? i : widest;
        width[widest]--;
    }
}

static bool row_fits(const struct sheet_row *r, const int width[SHEET_CELLS])
{
    for (int i = 0; i < SHEET_CELLS; i++)
        if (utf8_columns(r->cells[i], false) > width[i])
            return false;
    return true;
}

static void lay_columns(struct sheet_page *p, const struct sheet_row *r,
                        const int width[SHEET_CELLS])
{
    struct str line = {0};
    str_addf(&line, "%*s", INDENT, "");
    for (int i = 0; i < SHEET_CELLS; i++) {
        int used = utf8_safe(&line, r->cells[i], -1, false);
        str_addf(&line, "%*s", width[i] ? width[i] - used + GAP : 0, "");
    }
    add_line(p, &line, false);
}

static void lay_sentence(struct sheet_page *p, const struct sheet_row *r)
{
    struct str text = {0};
    for (int i = 0; i < SHEET_CELLS; i++)
        if (*r->cells[i])
            str_addf(&text, "%s%s", text.len ? ", " : "", r->cells[i]);
    add_paragraph(p, INDENT, INDENT, str_text(&text));
    str_clear(&text);
}

void page_end_rows(struct sheet_page *p)
{
    int width[SHEET_CELLS];
    choose_widths(p, width);
    for (size_t k = 0; k < p->n_rows; k++) {
        if (row_fits(&p->rows[k], width))
            lay_columns(p, &p->rows[k], width);
        else
            lay_sentence(p, &p->rows[k]);
        for (int i = 0; i < SHEET_CELLS; i++)
            mem_free(p->rows[k].cells[i]);
    }
    p->n_rows = 0;
}

void page_clear(struct sheet_page *p)
{
    for (size_t i = 0; i < p->n; i++)
        mem_free(p->v[i].text);
    mem_free(p->v);
    mem_free(p->rows);
    *p = (struct sheet_page){0};
}
