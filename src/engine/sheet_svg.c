/* The sheet as a picture: decks above devices above strips, from the left as the DJ sees them, with
 * the wires between; below it the routes and the order of connecting. Black on white: wires are
 * told apart by dashes. A layout of its own, in points of an A4 page; the screen's is in cells. */
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "base/utf8.h"
#include "engine/sheet.h"
#include "model/say.h"

enum {
    PAGE_W = 1123,
    PAGE_H = 794,
    LEFT = 40,
    RIGHT = PAGE_W - 40,
    DECKS_Y = 90,
    DEVICES_Y = 200,
    STRIPS_Y = 390,
    TABLES_Y = 480,
    BOX_H = 50,
    ROUTES_X = 300,
    MIDDLE = 480,
    LAST = 790,
    ROW_H = 15,
    ROWS = 15,
};

struct drawing {
    const struct derived *d;
    const struct booth *b;
    struct str *out;
    int *device_x; /* centre of each device; 0: it is not drawn */
    int *strip_x;
    int pitch; /* of the boxes in a row */
};

/* --- text ------------------------------------------------------------------------------------- */

static void escape(struct str *out, const char *text, int columns)
{
    struct str safe = {0};
    utf8_safe(&safe, text, columns, false);
    for (size_t i = 0; i < safe.len; i++)
        switch (safe.text[i]) {
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
            str_addc(out, safe.text[i]);
        }
    str_clear(&safe);
}

struct text_at {
    int x, y, size;
    const char *anchor; /* "start", "middle" */
    int columns;        /* at most; -1: no limit */
};

static void add_text(struct str *out, struct text_at at, const char *text)
{
    str_addf(out, "<text x=\"%d\" y=\"%d\" font-size=\"%d\" text-anchor=\"%s\">", at.x, at.y,
             at.size, at.anchor);
    escape(out, text, at.columns);
    str_add(out, "</text>\n");
}

/* --- boxes ------------------------------------------------------------------------------------ */

/* How many columns of the small type fit into a box. */
static int room(const struct drawing *w)
{
    int columns = (w->pitch - 12) / 7;
    return columns < 1 ? 1 : columns;
}

static void add_box(const struct drawing *w, int x, int y, const char *title, const char *line)
{
    int width = w->pitch - 8 > 120 ? 120 : w->pitch - 8;
    str_addf(
        w->out,
        "<rect x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\" fill=\"white\" stroke=\"black\"/>\n",
        x - width / 2, y, width, BOX_H);
    add_text(w->out, (struct text_at){x, y + 20, 13, "middle", room(w)}, title);
    add_text(w->out, (struct text_at){x, y + 38, 11, "middle", room(w)}, line);
}

static void add_line(const struct drawing *w, int x1, int y1, int x2, int y2, int style)
{
    static const char *const dashes[] = {"", " stroke-dasharray=\"8 4\"",
                                         " stroke-dasharray=\"2 3\"",
                                         " stroke-dasharray=\"10 3 2 3\""};
    str_addf(w->out, "<line x1=\"%d\" y1=\"%d\" x2=\"%d\" y2=\"%d\" stroke=\"black\"%s/>\n", x1, y1,
             x2, y2, dashes[style % 4]);
}

static int count_drawn(const struct booth *b)
{
    int n = 0;
    for (size_t i = 0; i < b->devices.n; i++)
        n += b->devices.v[i].outputs.n > 0 || (b->devices.v[i].card != NULL);
    return n;
}

static void place_row(int *x, int n, int i)
{
    *x = LEFT + (RIGHT - LEFT) * (2 * i + 1) / (2 * (n ? n : 1));
}

/* Players from the left by place, then the other kinds; equal places keep the file's order. */
static void place_devices(struct drawing *w, int n)
{
    int at = 0;
    for (int key = 0; key < 2 * 1000; key++)
        for (size_t i = 0; i < w->b->devices.n; i++) {
            const struct device *d = &w->b->devices.v[i];
            bool player = d->kind == KIND_PLAYER;
            if (d->place + (player ? 0 : 1000) == key && (d->outputs.n || d->card))
                place_row(&w->device_x[i], n, at++);
        }
}

static void add_devices(const struct drawing *w)
{
    for (size_t i = 0; i < w->b->devices.n; i++) {
        const struct device *d = &w->b->devices.v[i];
        int at = booth_joined_at(w->b, d->id);
        char line[64] = "not in the interface";
        if (d->in_use)
            snprintf(line, sizeof line, "USED: %.50s", d->in_use);
        else if (at >= 0)
            snprintf(line, sizeof line, "joins as number %d", at + 1);
        else if (!d->card)
            snprintf(line, sizeof line, "%s", word_people(&words_device_kind, (int)d->kind));
        if (w->device_x[i])
            add_box(w, w->device_x[i], DEVICES_Y, d->label, line);
    }
}

static void add_strips(const struct drawing *w)
{
    for (size_t k = 0; k < w->d->circuit->n_strips; k++) {
        int strip = w->d->circuit->by_rank[k];
        const struct strip *s = circuit_strip(w->d->circuit, strip);
        struct str title = {0}, line = {0};
        str_addf(&title, "strip %s", s->label);
        if (s->in_use)
            str_addf(&line, "USED: %s", s->in_use);
        else
            str_add(&line, s->selected);
        for (size_t i = 0; i < w->b->decks.n; i++)
            if (strcmp(w->b->decks.v[i].wants, s->id) == 0)
                str_addf(&line, ": %s", w->b->decks.v[i].label);
        add_box(w, w->strip_x[strip], STRIPS_Y, title.text, line.text);
        str_clear(&title);
        str_clear(&line);
    }
}

static void add_decks(const struct drawing *w)
{
    int n = (int)w->b->decks.n;
    for (int i = 0; i < n; i++) {
        const struct route *r = &w->d->routes[i];
        struct str pair = {0};
        int x;
        place_row(&x, n, i);
        route_show(w->d->circuit, r->there ? r->pair : (struct pair){-1, -1}, &pair);
        if (r->there && w->device_x[r->device])
            add_line(w, x, DECKS_Y + BOX_H, w->device_x[r->device], DEVICES_Y, 2);
        add_box(w, x, DECKS_Y, w->b->decks.v[i].label, str_text(&pair));
        str_clear(&pair);
    }
}

static void add_wires(const struct drawing *w)
{
    for (size_t i = 0; i < w->d->circuit->n_cables; i++) {
        const struct circuit_cable *c = &w->d->circuit->cables[i];
        int device = w->d->circuit->outputs[c->output].device;
        int strip = w->d->circuit->inputs[c->input].strip;
        if (strip >= 0)
            add_line(w, w->device_x[device], DEVICES_Y + BOX_H, w->strip_x[strip], STRIPS_Y,
                     (int)i);
    }
}

/* --- tables ----------------------------------------------------------------------------------- */

/* The lines of a table: a head, then as many as there is room for, and how many were left out. */
struct table_at {
    int x, lines, columns;
};

static void add_row(const struct drawing *w, struct table_at *t, int size, const char *text)
{
    if (t->lines <= ROWS)
        add_text(w->out,
                 (struct text_at){t->x, TABLES_Y + ROW_H * t->lines, size, "start", t->columns},
                 t->lines < ROWS ? text : "...");
    t->lines++;
}

/* The same in as many rows as its words need. */
static void add_words(const struct drawing *w, struct table_at *t, int size, const char *text)
{
    struct str row = {0};
    while (*text) {
        size_t word = strcspn(text, " ");
        int columns = (int)word + (row.len ? utf8_columns(row.text, false) + 1 : 0);
        if (row.len && columns > t->columns) {
            add_row(w, t, size, row.text);
            str_clear(&row);
        }
        str_add(&row, row.len ? " " : "");
        str_addn(&row, text, word);
        text += word + strspn(text + word, " ");
    }
    add_row(w, t, size, str_text(&row));
    str_clear(&row);
}

static void add_order(const struct drawing *w)
{
    struct table_at t = {LEFT, 0, 40};
    int channels = 0;
    add_row(w, &t, 13, "Connect in this order, one at a time:");
    for (size_t i = 0; i < w->b->joined.n; i++) {
        const struct device *d = booth_device(w->b, w->b->joined.v[i]);
        struct str line = {0};
        channels += d->card->out_channels;
        str_addf(&line, "%zu. %s, then %d channels", i + 1, d->label, channels);
        add_row(w, &t, 12, line.text);
        str_clear(&line);
    }
}

static void add_routes(const struct drawing *w)
{
    struct table_at t = {ROUTES_X, 0, 30};
    add_row(w, &t, 13, "Routes, set in the host:");
    for (size_t i = 0; i < w->b->decks.n; i++) {
        struct str line = {0};
        const struct route *r = &w->d->routes[i];
        str_addf(&line, "%s: ", w->b->decks.v[i].label);
        route_show(w->d->circuit, r->there ? r->pair : (struct pair){-1, -1}, &line);
        if (*w->b->decks.v[i].wants) {
            str_add(&line, ", ");
            say_thing(w->b, w->b->decks.v[i].wants, &line);
        }
        add_row(w, &t, 12, line.text);
        str_clear(&line);
    }
}

static void add_cables(const struct drawing *w)
{
    struct table_at t = {MIDDLE, 0, 58};
    const struct circuit *c = w->d->circuit;
    add_row(w, &t, 13, "Cables by strip:");
    for (size_t k = 0; k < c->n_strips; k++)
        for (size_t i = 0; i < c->n_cables; i++) {
            const struct cable *cable = &w->b->cables.v[i];
            struct str line = {0};
            if (c->inputs[c->cables[i].input].strip != c->by_rank[k])
                continue;
            say_jack(w->b, cable->to, &line);
            str_add(&line, " from ");
            say_jack(w->b, cable->from, &line);
            if (cable->sides != SIDES_STRAIGHT)
                str_addf(&line, ", %s", word_people(&words_sides, (int)cable->sides));
            add_row(w, &t, 11, line.text);
            str_clear(&line);
        }
}

static void add_notes(const struct drawing *w)
{
    struct table_at t = {LAST, 0, 54};
    struct str line = {0};
    str_addf(&line, "Way in: %s", sheet_way(w->b));
    add_row(w, &t, 13, line.text);
    for (size_t i = 0; i < w->d->faults.n; i++) {
        str_clear(&line);
        if (t.lines + 3 > ROWS) { /* room for one of two rows, and for how many are left */
            str_addf(&line, "and %zu more open faults", w->d->faults.n - i);
            add_row(w, &t, 11, line.text);
            break;
        }
        str_addf(&line, "%s: %s", severity_word(w->d->faults.v[i].severity),
                 w->d->faults.v[i].text);
        add_words(w, &t, 11, line.text);
    }
    str_clear(&line);
    str_addf(&line, "Notes: %s", w->b->venue.notes ? w->b->venue.notes : "");
    if (w->b->venue.notes)
        add_words(w, &t, 11, line.text);
    str_clear(&line);
    for (size_t i = 0; sheet_caution(i); i++)
        add_text(w->out, (struct text_at){LEFT, PAGE_H - 68 + 16 * (int)i, 11, "start", -1},
                 sheet_caution(i));
}

void sheet_svg(const struct derived *d, const char *date, struct str *out)
{
    struct drawing w = {.d = d, .b = d->circuit->booth, .out = out};
    int devices = count_drawn(w.b), strips = (int)d->circuit->n_strips, most = devices;
    most = strips > most ? strips : most;
    most = (int)w.b->decks.n > most ? (int)w.b->decks.n : most;
    w.pitch = (RIGHT - LEFT) / (most ? most : 1);
    w.device_x = mem_new(w.b->devices.n, sizeof *w.device_x);
    w.strip_x = mem_new(d->circuit->n_strips, sizeof *w.strip_x);
    place_devices(&w, devices);
    for (int k = 0; k < strips; k++)
        place_row(&w.strip_x[d->circuit->by_rank[k]], strips, k);
    struct str title = {0};
    str_addf(&title, "%s%s%s", w.b->venue.name, w.b->venue.room ? ", " : "",
             w.b->venue.room ? w.b->venue.room : "");
    str_addf(out,
             "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
             "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"297mm\" height=\"210mm\" "
             "viewBox=\"0 0 %d %d\" font-family=\"sans-serif\">\n"
             "<rect width=\"%d\" height=\"%d\" fill=\"white\"/>\n",
             PAGE_W, PAGE_H, PAGE_W, PAGE_H);
    add_text(out, (struct text_at){LEFT, 45, 22, "start", 60}, title.text);
    add_text(out, (struct text_at){RIGHT - 110, 45, 13, "start", -1}, date);
    add_text(out, (struct text_at){LEFT, 68, 11, "start", -1},
             "host decks, devices and strips, from the left as the DJ sees them");
    add_wires(&w);
    add_decks(&w);
    add_devices(&w);
    add_strips(&w);
    add_order(&w);
    add_routes(&w);
    add_cables(&w);
    add_notes(&w);
    str_add(out, "</svg>\n");
    str_clear(&title);
    mem_free(w.device_x);
    mem_free(w.strip_x);
}
