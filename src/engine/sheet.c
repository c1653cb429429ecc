/* The sheet as text. What somebody reads in another light, weeks later, must stand by itself: so
 * every line names its things in full. */
#include "engine/sheet.h"

#include <stdio.h>
#include <string.h>

#include "base/utf8.h"
#include "model/say.h"

enum { WIDTH = 80 };

static const char *const cautions[] = {
    "Levels down before anything is plugged, and up slowly, one deck at a time.",
    "Never lift a protective earth; damage and mains are for the house and licensed people.",
    "Lift heavy cases in twos; no leads where people walk.",
    "Loudness and its limits: local rules and the person responsible for safety come first.",
};

const char *sheet_caution(size_t i)
{
    return i < sizeof cautions / sizeof *cautions ? cautions[i] : NULL;
}

const char *sheet_way(const struct booth *b)
{
    const struct device *d = b->joined.n ? booth_device(b, b->joined.v[0]) : NULL;
    return !d                       ? "nothing is in the interface yet"
           : d->kind == KIND_MIXER  ? word_people(&words_way, WAY_MIXER_CARD)
           : d->kind == KIND_PLAYER ? word_people(&words_way, WAY_PLAYER_CARDS)
                                    : word_people(&words_way, WAY_PATCHED);
}

void sheet_through(const struct derived *d, int deck, struct str *out)
{
    const struct route *r = &d->routes[deck];
    char name[REF_SIZE];
    if (!r->there)
        return;
    str_add(out, circuit_device(d->circuit, r->device)->label);
    if (r->output >= 0)
        circuit_output_name(d->circuit, r->output, name);
    else
        circuit_input_name(d->circuit, r->input, name);
    str_addf(out, " %s", strchr(name, '.') + 1);
}

/* --- lines ------------------------------------------------------------------------------------ */

/* Adds a text safely, wrapped at 80 columns; every line is indented. */
static void add_wrapped(struct str *out, int indent, const char *text)
{
    struct str safe = {0}, line = {0};
    utf8_safe(&safe, text, -1, false);
    char *state = NULL;
    for (char *w = strtok_r(safe.text, " ", &state); w; w = strtok_r(NULL, " ", &state)) {
        int used = utf8_columns(str_text(&line), false), more = utf8_columns(w, false);
        if (line.len && indent + used + 1 + more > WIDTH) {
            str_addf(out, "%*s%s\n", indent, "", line.text);
            str_clear(&line);
        }
        if (line.len)
            str_addc(&line, ' ');
        utf8_safe(&line, w, WIDTH - indent, false); /* a word longer than a line is cut */
    }
    if (line.len)
        str_addf(out, "%*s%s\n", indent, "", line.text);
    str_clear(&safe);
    str_clear(&line);
}

/* Adds a cell of so many columns and a gap; the last one of a line (columns < 0) as it comes. */
static void add_cell(struct str *out, int columns, const char *text)
{
    int used = utf8_safe(out, text, columns < 0 ? -columns : columns, false);
    if (columns > 0)
        str_addf(out, "%*s", columns - used + 2, "");
}

static void end_line(struct str *out)
{
    while (out->len && out->text[out->len - 1] == ' ')
        str_cut(out, out->len - 1);
    str_addc(out, '\n');
}

static void add_head(struct str *out, const char *head)
{
    str_addf(out, "\n%s\n", head);
}

/* --- parts ------------------------------------------------------------------------------------ */

static void add_title(const struct booth *b, const char *date, struct str *out)
{
    struct str title = {0}, way = {0};
    str_addf(&title, "PATCH SHEET  %s%s%s", b->venue.name, b->venue.room ? ", " : "",
             b->venue.room ? b->venue.room : "");
    int used = utf8_safe(out, str_text(&title), WIDTH - 12, false);
    str_addf(out, "%*s\n", WIDTH - used, date);
    str_addf(&way, "Way in: %s; ", sheet_way(b));
    say_rate(b->host.rate_hz, &way);
    str_addf(&way, ", %d frames; the host %s. Strips are counted as the DJ sees them.",
             b->host.buffer_frames, word_people(&words_channel_names, (int)b->host.channel_names));
    add_wrapped(out, 0, str_text(&way));
    str_clear(&title);
    str_clear(&way);
}

static void add_used(const struct booth *b, struct str *out)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        struct str line = {0};
        if (d->in_use) {
            str_addf(&line, "HANDS OFF %s: in use by %s", d->label, d->in_use);
            add_wrapped(out, 0, line.text);
        }
        for (size_t k = 0; k < d->strips.n; k++) {
            str_clear(&line);
            if (!d->strips.v[k].in_use)
                continue;
            str_addf(&line, "HANDS OFF strip %s: in use by %s", d->strips.v[k].label,
                     d->strips.v[k].in_use);
            add_wrapped(out, 0, line.text);
        }
        str_clear(&line);
    }
}

static void add_routes(const struct derived *d, struct str *out)
{
    const struct booth *b = d->circuit->booth;
    add_head(out, "ROUTES: set in the host");
    for (size_t i = 0; i < b->decks.n; i++) {
        struct str pair = {0}, through = {0}, strip = {0};
        route_show(d->circuit, d->routes[i].there ? d->routes[i].pair : (struct pair){-1, -1},
                   &pair);
        sheet_through(d, (int)i, &through);
        if (*b->decks.v[i].wants)
            say_thing(b, b->decks.v[i].wants, &strip);
        str_add(out, "  ");
        add_cell(out, 16, b->decks.v[i].label);
        add_cell(out, 14, str_text(&pair));
        add_cell(out, 18, strip.len ? strip.text : "no strip");
        add_cell(out, -22, through.len ? through.text : "no route");
        end_line(out);
        str_clear(&pair);
        str_clear(&through);
        str_clear(&strip);
    }
}

static void add_order(const struct derived *d, struct str *out)
{
    const struct booth *b = d->circuit->booth;
    int channels = 0;
    add_head(out, "CONNECT IN THIS ORDER, one at a time");
    for (size_t i = 0; i < b->joined.n; i++) {
        const struct device *dev = booth_device(b, b->joined.v[i]);
        struct str port = {0};
        channels += dev->card->out_channels;
        say_plug(b, &dev->plugged, &port);
        str_addf(out, "  %2zu  ", i + 1);
        add_cell(out, 16, dev->label);
        add_cell(out, 26, str_text(&port));
        str_addf(out, "then %d channels", channels);
        end_line(out);
        str_clear(&port);
    }
}

static void add_input(const struct booth *b, const struct strip *s, const struct input *in,
                      struct str *out)
{
    char name[REF_SIZE];
    bool any = false, on = strcmp(s->selected, in->id) == 0;
    snprintf(name, sizeof name, "%s.%s", s->id, in->id);
    for (size_t i = 0; i < b->cables.n; i++) {
        const struct cable *c = &b->cables.v[i];
        struct out_end end;
        if (strcmp(c->to, name) != 0 || !booth_output(b, c->from, &end))
            continue;
        struct str from = {0};
        say_jack(b, c->from, &from);
        str_addf(out, "  %c ", on ? '*' : ' ');
        add_cell(out, 12, in->id);
        add_cell(out, 32, str_text(&from));
        add_cell(out, 9, word_people(&words_connector, (int)end.output->connector));
        add_cell(out, -16, word_people(&words_sides, (int)c->sides));
        end_line(out);
        str_clear(&from);
        any = true;
    }
    if (!any && on) {
        str_add(out, "  * ");
        add_cell(out, 12, in->id);
        str_add(out, in->level == LEVEL_USB ? "the mixer's own card" : "nothing is plugged in");
        end_line(out);
    }
}

static void add_cables(const struct derived *d, struct str *out)
{
    const struct booth *b = d->circuit->booth;
    add_head(out, "CABLES BY STRIP, from the left (* the selector stands there)");
    for (size_t k = 0; k < d->circuit->n_strips; k++) {
        const struct strip *s = circuit_strip(d->circuit, d->circuit->by_rank[k]);
        struct str name = {0};
        say_thing(b, s->id, &name);
        str_add(out, "  ");
        add_cell(out, -70, str_text(&name));
        end_line(out);
        for (size_t i = 0; i < s->inputs.n; i++)
            add_input(b, s, &s->inputs.v[i], out);
        str_clear(&name);
    }
}

static void add_faults(const struct derived *d, struct str *out)
{
    if (d->faults.n == 0)
        return;
    add_head(out, "OPEN FAULTS");
    for (size_t i = 0; i < d->faults.n; i++) {
        struct str line = {0};
        str_addf(&line, "%s: %s", severity_word(d->faults.v[i].severity), d->faults.v[i].text);
        add_wrapped(out, 2, line.text);
        str_clear(&line);
    }
}

void sheet_text(const struct derived *d, const char *date, struct str *out)
{
    const struct booth *b = d->circuit->booth;
    add_title(b, date, out);
    add_used(b, out);
    add_routes(d, out);
    add_order(d, out);
    add_cables(d, out);
    add_faults(d, out);
    if (b->venue.notes) {
        add_head(out, "NOTES");
        add_wrapped(out, 2, b->venue.notes);
    }
    add_head(out, "CAUTIONS");
    for (size_t i = 0; sheet_caution(i); i++)
        add_wrapped(out, 2, sheet_caution(i));
}
