/* The sheet for spreadsheets: the same columns in every row, what a row has not is empty. All that
 * the other sheets tell is there; what is a sentence stands in the last column. */
#include <stdio.h>
#include <string.h>

#include "base/utf8.h"
#include "engine/sheet.h"
#include "engine/sheet_page.h"
#include "model/say.h"

enum column {
    SECTION,
    NUMBER,
    FROM,
    OUTPUT,
    TO,
    INPUT,
    PAIR,
    CONNECTOR,
    SIDES,
    CONTROL,  /* what controls a deck */
    CHANNELS, /* of the interface after a step */
    TEXT,
    COLUMNS
};

static const char *const heads[COLUMNS] = {"section", "number",  "from",     "output",
                                           "to",      "input",   "pair",     "connector",
                                           "sides",   "control", "channels", "text"};

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

static void add_sentence(struct str *out, const char *section, const char *from, const char *text)
{
    add_row(out, (const char *[COLUMNS]){[SECTION] = section, [FROM] = from, [TEXT] = text});
}

static const char *jack_of(const char *name)
{
    return strchr(name, '.') + 1;
}

/* Whose jack it is: "P1", "strip 4". */
static const char *owner_of(const struct booth *b, const char *name, struct str *out)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    if (ref_split(name, owner, jack))
        say_thing(b, owner, out);
    return str_text(out);
}

static void add_routes(const struct derived *d, struct str *out)
{
    const struct booth *b = d->circuit->booth;
    for (size_t i = 0; i < b->decks.n; i++) {
        struct str pair = {0}, through = {0}, strip = {0};
        if (*b->decks.v[i].wants)
            say_thing(b, b->decks.v[i].wants, &strip);
        if (d->routes[i].there)
            route_show(d->circuit, d->routes[i].pair, &pair);
        sheet_through(d, (int)i, &through);
        const char *cells[COLUMNS] = {[SECTION] = "route",
                                      [FROM] = b->decks.v[i].label,
                                      [OUTPUT] = str_text(&through),
                                      [TO] = str_text(&strip),
                                      [PAIR] = str_text(&pair),
                                      [CONTROL] = *b->decks.v[i].controlled_by
                                                      ? booth_label(b, b->decks.v[i].controlled_by)
                                                      : ""};
        add_row(out, cells);
        str_clear(&pair);
        str_clear(&through);
        str_clear(&strip);
    }
}

/* A row about a data lead; plugged may be NULL. */
static void add_lead(struct str *out, const struct booth *b, const struct plug *plugged,
                     const char *cells[COLUMNS])
{
    char port[24] = "";
    if (plugged && plugged->port)
        snprintf(port, sizeof port, "%d", plugged->port);
    cells[TO] = plugged && *plugged->at ? booth_label(b, plugged->at) : "";
    cells[INPUT] = port;
    add_row(out, cells);
}

/* "hub", "join", "plug": the kind of a step, by its id. */
static void add_steps(const struct derived *d, struct str *out)
{
    size_t n = 0;
    for (size_t i = 0; i < d->steps.n; i++) {
        const struct step *s = &d->steps.v[i];
        const struct plug *lead;
        const char *label;
        char kind[16], number[24], channels[24] = "";
        if (!sheet_connects(d->circuit->booth, s, &lead, &label))
            continue;
        snprintf(kind, sizeof kind, "%.*s", (int)strcspn(s->id, "-"), s->id);
        snprintf(number, sizeof number, "%zu", ++n);
        if (s->expect_channels >= 0)
            snprintf(channels, sizeof channels, "%d", s->expect_channels);
        add_lead(out, d->circuit->booth, lead,
                 (const char *[COLUMNS]){[SECTION] = kind,
                                         [NUMBER] = number,
                                         [FROM] = label,
                                         [CHANNELS] = channels,
                                         [TEXT] = s->text});
    }
}

static void add_other_leads(const struct derived *d, struct str *out)
{
    struct sheet_lead lead;
    for (size_t i = 0; sheet_other_lead(d, i, &lead); i++)
        add_lead(out, d->circuit->booth, lead.plugged,
                 (const char *[COLUMNS]){[SECTION] = "lead", [FROM] = lead.label});
}

/* Where the selectors stand, and the switches of inputs that have one. */
static void add_selectors(const struct circuit *c, struct str *out)
{
    for (size_t k = 0; k < c->n_strips; k++) {
        const struct strip *s = circuit_strip(c, c->by_rank[k]);
        struct str name = {0};
        say_thing(c->booth, s->id, &name);
        add_row(out, (const char *[COLUMNS]){
                         [SECTION] = "selector", [TO] = name.text, [INPUT] = s->selected});
        str_clear(&name);
    }
}

static void add_switches(const struct booth *b, const struct inputs *in, const char *owner,
                         struct str *out)
{
    struct str name = {0};
    say_thing(b, owner, &name);
    for (size_t i = 0; i < in->n; i++)
        if (in->v[i].levels.n)
            add_row(out, (const char *[COLUMNS]){
                             [SECTION] = "switch",
                             [TO] = name.text,
                             [INPUT] = in->v[i].id,
                             [TEXT] = word_people(&words_level, (int)in->v[i].level)});
    str_clear(&name);
}

static void add_all_switches(const struct booth *b, struct str *out)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        add_switches(b, &d->inputs, d->id, out);
        for (size_t k = 0; k < d->strips.n; k++)
            add_switches(b, &d->strips.v[k].inputs, d->strips.v[k].id, out);
    }
}

static void add_used(const struct booth *b, struct str *out)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        if (d->in_use)
            add_sentence(out, "in use", d->label, d->in_use);
        for (size_t k = 0; k < d->strips.n; k++) {
            struct str name = {0};
            say_thing(b, d->strips.v[k].id, &name);
            if (d->strips.v[k].in_use)
                add_sentence(out, "in use", name.text, d->strips.v[k].in_use);
            str_clear(&name);
        }
    }
}

static void add_cables(const struct booth *b, struct str *out)
{
    for (size_t i = 0; i < b->cables.n; i++) {
        const struct cable *c = &b->cables.v[i];
        struct out_end end;
        struct str from = {0}, to = {0};
        booth_output(b, c->from, &end);
        const char *cells[COLUMNS] = {
            [SECTION] = "cable",
            [FROM] = owner_of(b, c->from, &from),
            [OUTPUT] = jack_of(c->from),
            [TO] = owner_of(b, c->to, &to),
            [INPUT] = jack_of(c->to),
            [CONNECTOR] = word_file(&words_connector, (int)end.output->connector),
            [SIDES] = word_file(&words_sides, (int)c->sides)};
        add_row(out, cells);
        str_clear(&from);
        str_clear(&to);
    }
}

static void add_head(const struct booth *b, const char *date, struct str *out)
{
    struct str rate = {0};
    char frames[24];
    say_rate(b->host.rate_hz, &rate);
    snprintf(frames, sizeof frames, "%d", b->host.buffer_frames);
    add_row(out, heads);
    add_row(out,
            (const char *[COLUMNS]){
                [SECTION] = "venue", [FROM] = b->venue.name, [TO] = b->venue.room, [INPUT] = date});
    add_sentence(out, "way in", NULL, sheet_way(b));
    add_sentence(out, "rate", NULL, rate.text);
    add_sentence(out, "frames", NULL, frames);
    add_sentence(out, "counting", NULL,
                 word_people(&words_channel_names, (int)b->host.channel_names));
    str_clear(&rate);
}

void sheet_csv(const struct derived *d, const char *date, struct str *out)
{
    const struct booth *b = d->circuit->booth;
    add_head(b, date, out);
    add_used(b, out);
    add_routes(d, out);
    add_steps(d, out);
    add_other_leads(d, out);
    add_selectors(d->circuit, out);
    add_all_switches(b, out);
    add_cables(b, out);
    for (size_t i = 0; i < d->faults.n; i++)
        add_sentence(out, "fault", severity_word(d->faults.v[i].severity), d->faults.v[i].text);
    if (b->venue.notes)
        add_sentence(out, "notes", NULL, b->venue.notes);
    for (size_t i = 0; sheet_caution(i); i++)
        add_sentence(out, "caution", NULL, sheet_caution(i));
}
