/* The budget as text: one section for each kind, a line for each row, worst first: what it is, a
 * bar, the figures, and the fault's slug where there is one. Figures of what is used are rounded
 * up, so that a hair over the limit reads as over. */
#include "cli/print_budget.h"

#include <stdio.h>
#include <string.h>

#include "base/utf8.h"
#include "cli/print_text.h"
#include "cli/table.h"
#include "engine/ears.h"
#include "engine/timing.h"
#include "model/say.h"

/* So wide that no row passes 80 columns, whatever is in it. */
enum {
    BAR = 16,
    BUS_COLUMNS = 16,
    CARD_COLUMNS = 12,
    HUB_COLUMNS = 16,
    LEAD_COLUMNS = 14,
    CLOCKS_COLUMNS = 44,
    JACK_COLUMNS = 19,
    MOST_CLOCKS = 12, /* rows of two cards that the text tells */
};

/* --- cells ------------------------------------------------------------------------------------ */

/* Adds a name, cut to so many columns; it is taken. */
static void add_name(struct table *t, struct str *name, int columns)
{
    struct str cut = {0};
    utf8_safe(&cut, str_text(name), columns, t->ascii);
    table_add(t, str_text(&cut));
    str_clear(&cut);
    str_clear(name);
}

static void add_label(struct table *t, const char *label, int columns)
{
    struct str name = {0};
    str_add(&name, label);
    add_name(t, &name, columns);
}

/* Adds what was formatted; it is taken. */
static void add_cell(struct table *t, struct str *text)
{
    table_add(t, str_text(text));
    str_clear(text);
}

static void add_number(struct table *t, long n)
{
    struct str cell = {0};
    str_addf(&cell, "%ld", n);
    add_cell(t, &cell);
}

static void add_bar(struct table *t, bool over, long long share)
{
    struct str bar = {0};
    budget_say_bar(over, share, BAR, &bar);
    add_cell(t, &bar);
}

/* "12.34 of 100 us" of nanoseconds, rounded up. */
static void add_time(struct table *t, struct budget_use ns)
{
    struct str cell = {0};
    long hundredths = (ns.used + 9) / 10;
    str_addf(&cell, "%ld.%02ld of %ld us", hundredths / 100, hundredths % 100, ns.most / 1000);
    add_cell(t, &cell);
}

static void add_micros(struct table *t, long ns)
{
    struct str cell = {0};
    budget_say_us(ns, &cell);
    add_cell(t, &cell);
}

static void add_use(struct table *t, struct budget_use u, const char *unit)
{
    struct str cell = {0};
    str_addf(&cell, "%ld of %ld%s", u.used, u.most, unit);
    add_cell(t, &cell);
}

static void write_section(struct table *t, const char *heading, struct str *out)
{
    str_addf(out, "\n%s\n", heading);
    table_write(t, out);
    table_clear(t);
}

/* --- the host --------------------------------------------------------------------------------- */

static void rates_text(const struct budget *o, const struct booth *b, bool ascii, struct str *out)
{
    struct str line = {0};
    say_rate(b->host.rate_hz, &line);
    for (size_t i = 0; i < o->rates_hz.n; i++) {
        str_add(&line, i == 0                  ? "; all in the interface can run at "
                       : i + 1 < o->rates_hz.n ? ", "
                                               : " and ");
        say_rate(o->rates_hz.v[i], &line);
    }
    if (o->n_cards == 0)
        str_add(&line, "; nothing is in the interface");
    else if (o->rates_hz.n == 0)
        str_add(&line, "; no one rate suits all in the interface");
    text_wrap(out, "rate: ", str_text(&line), ascii);
    str_clear(&line);
}

static void latency_text(const struct budget *o, const struct booth *b, struct str *out)
{
    struct table t = {.columns = 4};
    struct str cell = {0};
    long long hundredths = timing_latency_hundredths(&b->host);
    str_addf(&cell, "two of %d frames", b->host.buffer_frames);
    add_cell(&t, &cell);
    add_bar(&t, o->latency_over, (long long)(1e6 * o->latency_ms / b->host.latency_limit_ms));
    str_addf(&cell, "%lld.%02lld of %d ms", hundredths / 100, hundredths % 100,
             b->host.latency_limit_ms);
    add_cell(&t, &cell);
    table_add(&t, o->latency_over ? "long-latency" : "");
    write_section(&t, "buffers", out);
}

/* --- usb -------------------------------------------------------------------------------------- */

/* "laptop", "bus 2 of laptop", "Hub", "port 3 of Hub". */
static void name_lane(const struct booth *b, struct usb_lane lane, struct str *out)
{
    bool host = strcmp(lane.at, "host") == 0;
    if (host && b->host.usb_buses > 1)
        str_addf(out, "bus %d of ", lane.part + 1);
    if (!host && lane.part)
        str_addf(out, "port %d of ", lane.part);
    str_add(out, booth_label(b, lane.at));
}

static void bus_row(const struct budget_bus *bus, const struct booth *b, struct table *t)
{
    struct str name = {0};
    name_lane(b, bus->lane, &name);
    add_name(t, &name, BUS_COLUMNS);
    table_add(t, word_file(&words_speed, (int)bus->lane.speed));
    add_bar(t, bus->row.over, bus->row.share);
    if (bus->bytes.used > bus->bytes.most)
        add_use(t, bus->bytes, " bytes");
    else
        add_time(t, bus->ns);
    table_add(t, bus->row.over ? "usb-bandwidth" : "");
}

static void buses_text(const struct budget *o, const struct booth *b, bool ascii, struct str *out)
{
    struct table t = {.columns = 5, .ascii = ascii};
    for (size_t i = 0; i < o->n_buses; i++)
        bus_row(&o->buses[i], b, &t);
    if (o->n_buses)
        write_section(&t, "time of the buses, in each microframe (high) or frame (full speed)",
                      out);
}

static void card_row(const struct budget_card *c, struct table *t)
{
    struct str sent = {0};
    add_label(t, c->device->label, CARD_COLUMNS);
    add_number(t, c->load.out_bytes);
    add_number(t, c->load.in_bytes);
    if (c->most_bytes) {
        add_number(t, c->most_bytes);
        add_micros(t, c->load.out_ns);
        add_micros(t, c->load.in_ns);
    } else {
        for (int i = 0; i < 3; i++)
            table_add(t, "-");
    }
    if (c->load.out_bytes > c->most_bytes || c->load.in_bytes > c->most_bytes)
        str_add(&sent, "-"); /* more than can be sent, or not known here */
    else
        str_addf(&sent, "%d+%d", c->out_sent, c->in_sent);
    add_cell(t, &sent);
    table_add(t, c->row.over ? "no-common-rate" : c->counted ? "" : "not counted");
}

static void cards_text(const struct budget *o, bool ascii, struct str *out)
{
    static const char *const heads[] = {"", "B out", "B in", "of", "us out", "us in", "sent", ""};
    struct table t = {.columns = 8, .ascii = ascii};
    for (size_t i = 0; i < t.columns; i++)
        table_add(&t, heads[i]);
    for (size_t i = 0; i < o->n_cards; i++)
        card_row(&o->cards[i], &t);
    if (o->n_cards == 0)
        table_clear(&t);
    else
        write_section(&t, "largest packets of the cards, with their time and transactions", out);
}

static void add_marked(struct table *t, struct budget_use u, const char *unit, bool over)
{
    struct str cell = {0};
    if (u.used < 0)
        str_add(&cell, "-");
    else
        str_addf(&cell, "%ld of %ld%s%s", u.used, u.most, unit, over ? " !" : "");
    add_cell(t, &cell);
}

/* The columns are headed by the faults that they show. */
static void hubs_text(const struct budget *o, const struct booth *b, bool ascii, struct str *out)
{
    static const char *const heads[] = {"", "usb-ports", "usb-depth", "usb-power", ""};
    struct table t = {.columns = 5, .ascii = ascii};
    for (size_t i = 0; i < t.columns; i++)
        table_add(&t, heads[i]);
    for (size_t i = 0; i < o->n_hubs; i++) {
        const struct budget_hub *h = &o->hubs[i];
        add_label(&t, booth_label(b, h->at), HUB_COLUMNS);
        add_marked(&t, h->ports, "", h->ports_over);
        add_marked(&t, h->hubs, "", h->hubs_over);
        add_marked(&t, h->ma, " mA", h->power_over);
        table_add(&t, usb_bus_powered(b, h->at) ? "no supply" : "");
    }
    write_section(&t, "ports in use, hubs in a row, current of all ports", out);
}

static void leads_text(const struct budget *o, const struct booth *b, bool ascii, struct str *out)
{
    struct table t = {.columns = 5, .ascii = ascii};
    for (size_t i = 0; i < o->n_leads; i++) {
        const struct budget_lead *l = &o->leads[i];
        if (!l->row.over && l->ma.used == 0)
            continue;
        struct str at = {0};
        add_label(&t, booth_label(b, l->thing), LEAD_COLUMNS);
        str_addf(&at, "%s %d", booth_label(b, l->plug->at), l->plug->port);
        add_name(&t, &at, LEAD_COLUMNS);
        add_bar(&t, l->row.over, l->row.share);
        add_use(&t, l->ma, " mA");
        table_add(&t, l->row.over ? "usb-power" : "");
    }
    if (t.n)
        write_section(&t, "current from a port", out);
}

/* --- clocks, levels, ears --------------------------------------------------------------------- */

/* A time in seconds with about three digits. */
static void add_seconds(struct table *t, double seconds)
{
    struct str cell = {0};
    if (seconds > 0)
        str_addf(&cell, "%.*f s", seconds >= 1 ? 2 : seconds >= 0.01 ? 4 : 6, seconds);
    else
        str_add(&cell, "-");
    add_cell(t, &cell);
}

static void clocks_text(const struct budget *o, const struct booth *b, bool ascii, struct str *out)
{
    static const char *const heads[] = {"", "ppm", "a sample in", "samples/s"};
    struct table t = {.columns = 4, .ascii = ascii};
    for (size_t i = 0; i < t.columns; i++)
        table_add(&t, heads[i]);
    size_t n = o->n_clocks > MOST_CLOCKS ? MOST_CLOCKS : o->n_clocks;
    for (size_t i = 0; i < n; i++) {
        const struct budget_clocks *c = &o->clocks[i];
        struct str cell = {0};
        str_addf(&cell, "%s and %s", c->a->label, c->b->label);
        add_name(&t, &cell, CLOCKS_COLUMNS);
        add_number(&t, c->ppm);
        add_seconds(&t, c->seconds);
        str_addf(&cell, "%.3f", c->per_second);
        add_cell(&t, &cell);
    }
    if (n == 0) {
        table_clear(&t);
        return;
    }
    write_section(&t,
                  b->host.drift_correction ? "clocks, if the laptop did not correct their drift"
                                           : "clocks that nothing corrects (free-running-clocks)",
                  out);
    if (o->n_clocks > n)
        str_addf(out, "and %zu more, none of them worse\n", o->n_clocks - n);
}

/* "P1 line", "strip 4 phono". */
static void add_jack(struct table *t, const struct booth *b, const char *name)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    struct str cell = {0};
    if (ref_split(name, owner, jack)) {
        say_thing(b, owner, &cell);
        str_addf(&cell, " %s", jack);
    }
    add_name(t, &cell, JACK_COLUMNS);
}

static void level_row(const struct budget_level *l, const struct booth *b, struct table *t)
{
    struct str cell = {0};
    add_jack(t, b, l->cable->from);
    add_jack(t, b, l->cable->to);
    if (l->has_figure) {
        budget_say_db(l->cdbu, &cell);
        str_add(&cell, " dBu");
    } else {
        str_add(&cell, l->fit == LEVELS_FIT ? "digital" : "nothing");
    }
    add_cell(t, &cell);
    if (l->has_figure) {
        budget_say_db(l->margin, &cell);
        str_add(&cell, " dB");
    }
    add_cell(t, &cell);
    table_add(t, l->row.over ? "level-mismatch" : "");
}

/* What the replay curve for records adds to a mismatch, once for each kind of it. */
static void tilt_text(const struct budget *o, enum levels_fit fit, struct str *out)
{
    bool any = false;
    for (size_t i = 0; i < o->n_levels; i++)
        any = any || o->levels[i].fit == fit;
    if (!any || levels_tilt_db(fit, 50) == 0)
        return;
    str_addf(out, "%s: %+.1f dB at 50 Hz, %+.1f at 10 kHz\n",
             fit == LEVELS_TOO_LOUD ? "line into phono passes the replay curve"
                                    : "phono into line lacks the replay curve",
             levels_tilt_db(fit, 50), levels_tilt_db(fit, 10000));
}

static void levels_text(const struct budget *o, const struct booth *b, bool ascii, struct str *out)
{
    struct table t = {.columns = 5, .ascii = ascii};
    for (size_t i = 0; i < o->n_levels; i++)
        level_row(&o->levels[i], b, &t);
    if (o->n_levels)
        write_section(
            &t, "levels at the inputs (line: full scale), and how far above what is meant", out);
    for (int fit = LEVELS_TOO_QUIET; fit <= LEVELS_TOO_LOUD; fit++)
        tilt_text(o, (enum levels_fit)fit, out);
}

static void ears_text(int level, bool ascii, struct str *out)
{
    struct str line = {0};
    str_addf(&line, "at %d.%d dB(A), ", level / 10, level % 10);
    ears_say(ears_minutes(EARS_NIOSH, level / 10.0), &line);
    str_add(&line, " in a day, all that is as loud counted together (NIOSH 98-126: 85 dB(A) for 8 "
                   "hours, half as long for each 3 dB). This is information and no licence: local "
                   "rules and whoever is responsible for safety at the venue come first.");
    str_addc(out, '\n');
    text_wrap(out, "ears: ", str_text(&line), ascii);
    str_clear(&line);
}

void text_budget(const struct budget *o, const struct booth *b, int level, bool ascii,
                 struct str *out)
{
    rates_text(o, b, ascii, out);
    latency_text(o, b, out);
    buses_text(o, b, ascii, out);
    cards_text(o, ascii, out);
    hubs_text(o, b, ascii, out);
    leads_text(o, b, ascii, out);
    clocks_text(o, b, ascii, out);
    levels_text(o, b, ascii, out);
    if (level != EARS_UNTOLD)
        ears_text(level, ascii, out);
}
