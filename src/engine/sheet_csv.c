/* The sheet for spreadsheets: the same columns in every row, what a row has not is empty. */
#include <stdio.h>
#include <string.h>

#include "base/utf8.h"
#include "engine/sheet.h"

enum column { SECTION, NUMBER, FROM, OUTPUT, TO, INPUT, PAIR, CONNECTOR, SIDES, COLUMNS };

static const char *const heads[COLUMNS] = {"section", "number", "from",      "output", "to",
                                           "input",   "pair",   "connector", "sides"};

static void add_cell(struct str *out, const char *text)
{
    struct str safe = {0};
    utf8_safe(&safe, text ? text : "", -1, false);
    str_addc(out, '"');
    if (safe.len && strchr("=+-@", safe.text[0]))
        str_addc(out, '\'');
    for (size_t i = 0; i < safe.len; i++) {
        if (safe.text[i] == '"')
            str_addc(out, '"');
        str_addc(out, safe.text[i]);
    }
    str_addc(out, '"');
    str_clear(&safe);
}

static void add_row(struct str *out, const char *const cells[COLUMNS])
{
    for (int i = 0; i < COLUMNS; i++) {
        if (i)
            str_addc(out, ',');
        add_cell(out, cells[i]);
    }
    str_add(out, "\r\n");
}

static const char *jack_of(const char *name)
{
    return strchr(name, '.') + 1;
}

static const char *owner_label(const struct booth *b, const char *name)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    return ref_split(name, owner, jack) && booth_label(b, owner) != owner ? booth_label(b, owner)
                                                                          : "";
}

static void add_routes(const struct derived *d, struct str *out)
{
    const struct booth *b = d->circuit->booth;
    for (size_t i = 0; i < b->decks.n; i++) {
        struct str pair = {0}, through = {0};
        if (d->routes[i].there)
            route_show(d->circuit, d->routes[i].pair, &pair);
        sheet_through(d, (int)i, &through);
        const char *cells[COLUMNS] = {
            [SECTION] = "route",
            [FROM] = b->decks.v[i].label,
            [OUTPUT] = str_text(&through),
            [TO] = *b->decks.v[i].wants ? booth_label(b, b->decks.v[i].wants) : "",
            [PAIR] = str_text(&pair)};
        add_row(out, cells);
        str_clear(&pair);
        str_clear(&through);
    }
}

static void add_joins(const struct booth *b, struct str *out)
{
    for (size_t i = 0; i < b->joined.n; i++) {
        const struct device *dev = booth_device(b, b->joined.v[i]);
        char number[24], port[24] = "";
        snprintf(number, sizeof number, "%zu", i + 1);
        if (dev->plugged.port)
            snprintf(port, sizeof port, "%d", dev->plugged.port);
        const char *cells[COLUMNS] = {[SECTION] = "join",
                                      [NUMBER] = number,
                                      [FROM] = dev->label,
                                      [TO] = *dev->plugged.at ? booth_label(b, dev->plugged.at)
                                                              : "",
                                      [INPUT] = port};
        add_row(out, cells);
    }
}

static void add_cables(const struct booth *b, struct str *out)
{
    for (size_t i = 0; i < b->cables.n; i++) {
        const struct cable *c = &b->cables.v[i];
        struct out_end end;
        booth_output(b, c->from, &end);
        const char *cells[COLUMNS] = {
            [SECTION] = "cable",
            [FROM] = owner_label(b, c->from),
            [OUTPUT] = jack_of(c->from),
            [TO] = owner_label(b, c->to),
            [INPUT] = jack_of(c->to),
            [CONNECTOR] = word_file(&words_connector, (int)end.output->connector),
            [SIDES] = word_file(&words_sides, (int)c->sides)};
        add_row(out, cells);
    }
}

void sheet_csv(const struct derived *d, const char *date, struct str *out)
{
    const struct booth *b = d->circuit->booth;
    const char *venue[COLUMNS] = {
        [SECTION] = "venue", [FROM] = b->venue.name, [TO] = b->venue.room, [INPUT] = date};
    add_row(out, heads);
    add_row(out, venue);
    add_routes(d, out);
    add_joins(b, out);
    add_cables(b, out);
}
