/* What is used of what there is, worst first within each kind; what is over is told in words too.
 * The cursor walks the rows, and the box of each is selected. */
#include <string.h>

#include "base/mem.h"
#include "engine/budget.h"
#include "engine/ears.h"
#include "engine/timing.h"
#include "model/say.h"
#include "ui/pane.h"

/* Rows as they are said: the subject of each is kept for the cursor. */
struct telling {
    const struct app *a;
    const struct booth *b;
    const struct budget *o;
    struct lines *out;
    struct texts subjects; /* by item: what its row is about */
};

/* The item of the next row, about something with an id. */
static int next_item(struct telling *t, const char *subject)
{
    texts_add(&t->subjects, subject);
    return (int)t->subjects.n - 1;
}

static enum look look_of(bool over)
{
    return over ? LOOK_ERROR : LOOK_PLAIN;
}

static void add_bar(struct telling *t, int item, enum look look, long long share)
{
    int room = t->out->width - 8 > 24 ? 24 : t->out->width - 8;
    struct str bar = {0};
    str_add(&bar, "  ");
    budget_say_bar(look != LOOK_PLAIN, share, room, &bar);
    lines_add(t->out, item, look, 0, str_text(&bar));
    str_clear(&bar);
}

static void head(struct telling *t, const char *text)
{
    lines_add(t->out, -1, LOOK_STRONG, 0, text);
}

/* --- the host --------------------------------------------------------------------------------- */

static void tell_rate(struct telling *t)
{
    struct str line = {0};
    const struct ints *rates = &t->o->rates_hz;
    str_add(&line, "rate ");
    say_rate(t->b->host.rate_hz, &line);
    for (size_t i = 0; i < rates->n; i++) {
        str_add(&line, i ? ", " : "; all can run at ");
        say_rate(rates->v[i], &line);
    }
    bool none = t->o->n_cards > 0 && rates->n == 0;
    str_add(&line, none ? "; no rate suits all" : "");
    lines_add(t->out, next_item(t, "host"), look_of(none), 2, str_text(&line));
    str_clear(&line);
}

static void tell_latency(struct telling *t)
{
    long long hundredths = timing_latency_hundredths(&t->b->host);
    int item = next_item(t, "host"), limit = t->b->host.latency_limit_ms;
    enum look look = t->o->latency_over ? LOOK_WARNING : LOOK_PLAIN;
    lines_addf(t->out, item, look, 2, "buffers %lld.%02lld of %d ms%s", hundredths / 100,
               hundredths % 100, limit, t->o->latency_over ? ", long" : "");
    add_bar(t, item, look, (long long)(1e6 * t->o->latency_ms / limit));
}

/* --- usb -------------------------------------------------------------------------------------- */

static void add_time(struct budget_use ns, struct str *out)
{
    budget_say_us(ns.used, out);
    str_addf(out, " of %ld us", ns.most / 1000);
}

static void tell_buses(struct telling *t)
{
    for (size_t i = 0; i < t->o->n_buses; i++) {
        const struct budget_bus *bus = &t->o->buses[i];
        struct str line = {0};
        int item = next_item(t, bus->lane.at);
        if (i == 0)
            head(t, "time of the buses");
        str_add(&line, booth_label(t->b, bus->lane.at));
        if (bus->lane.part || (strcmp(bus->lane.at, "host") == 0 && t->b->host.usb_buses > 1))
            str_addf(&line, strcmp(bus->lane.at, "host") == 0 ? " bus %d" : " port %d",
                     bus->lane.part + (strcmp(bus->lane.at, "host") == 0));
        str_addf(&line, " %s: ", word_people(&words_speed, (int)bus->lane.speed));
        if (bus->bytes.used > bus->bytes.most)
            str_addf(&line, "%ld of %ld bytes", bus->bytes.used, bus->bytes.most);
        else
            add_time(bus->ns, &line);
        lines_add(t->out, item, look_of(bus->row.over), 2, str_text(&line));
        add_bar(t, item, look_of(bus->row.over), bus->row.share);
        str_clear(&line);
    }
}

static void tell_cards(struct telling *t)
{
    for (size_t i = 0; i < t->o->n_cards; i++) {
        const struct budget_card *c = &t->o->cards[i];
        if (i == 0)
            head(t, "packets, out and in");
        struct str line = {0};
        str_addf(&line, "%s: %d and %d bytes, ", c->device->label, c->load.out_bytes,
                 c->load.in_bytes);
        budget_say_us(c->load.out_ns, &line);
        str_add(&line, " and ");
        budget_say_us(c->load.in_ns, &line);
        str_addf(&line, " us%s",
                 c->row.over  ? "; not at this rate"
                 : c->counted ? ""
                              : "; not counted");
        lines_add(t->out, next_item(t, c->device->id), look_of(c->row.over), 4, str_text(&line));
        str_clear(&line);
    }
}

static void tell_hubs(struct telling *t)
{
    head(t, "ports, hubs in a row, current");
    for (size_t i = 0; i < t->o->n_hubs; i++) {
        const struct budget_hub *h = &t->o->hubs[i];
        struct str line = {0};
        str_addf(&line, "%s: %ld of %ld ports%s", booth_label(t->b, h->at), h->ports.used,
                 h->ports.most, h->ports_over ? " !" : "");
        if (h->hubs.used > 0 || h->hubs_over)
            str_addf(&line, ", %ld of %ld in a row%s", h->hubs.used, h->hubs.most,
                     h->hubs_over ? " !" : "");
        str_addf(&line, ", %ld of %ld mA%s", h->ma.used, h->ma.most, h->power_over ? " !" : "");
        str_add(&line, usb_bus_powered(t->b, h->at) ? ", no supply" : "");
        lines_add(t->out, next_item(t, h->at), look_of(h->row.over), 4, str_text(&line));
        str_clear(&line);
    }
}

static void tell_leads(struct telling *t)
{
    for (size_t i = 0; i < t->o->n_leads; i++) {
        const struct budget_lead *l = &t->o->leads[i];
        struct str at = {0};
        if (!l->row.over && l->ma.used == 0)
            continue;
        int item = next_item(t, l->thing);
        say_plug(t->b, l->plug, &at);
        lines_addf(t->out, item, look_of(l->row.over), 2, "%s, %s: %ld of %ld mA",
                   booth_label(t->b, l->thing), str_text(&at), l->ma.used, l->ma.most);
        add_bar(t, item, look_of(l->row.over), l->row.share);
        str_clear(&at);
    }
}

/* --- clocks, levels, ears --------------------------------------------------------------------- */

/* Pairs of cards that slip as often are told as one, by the first of them. */
static void tell_clocks(struct telling *t)
{
    const struct budget_clocks *v = t->o->clocks;
    size_t n = t->o->n_clocks;
    for (size_t i = 0, alike; i < n; i += alike) {
        struct str more = {0};
        for (alike = 1; i + alike < n && v[i + alike].ppm == v[i].ppm; alike++)
            ;
        if (i == 0)
            head(t, t->b->host.drift_correction ? "clocks, if nothing corrected them"
                                                : "clocks that nothing corrects");
        if (alike > 1)
            str_addf(&more, " (and %zu more)", alike - 1);
        lines_addf(t->out, next_item(t, v[i].b->id), v[i].row.over ? LOOK_WARNING : LOOK_PLAIN, 4,
                   v[i].seconds > 0 ? "%s and %s%s: %d ppm, a sample slips in %.2f s"
                                    : "%s and %s%s: %d ppm, none slips",
                   v[i].a->label, v[i].b->label, str_text(&more), v[i].ppm, v[i].seconds);
        str_clear(&more);
    }
}

static void tell_levels(struct telling *t)
{
    for (size_t i = 0; i < t->o->n_levels; i++) {
        const struct budget_level *l = &t->o->levels[i];
        struct str line = {0};
        int item = next_item(t, l->cable->to);
        if (i == 0)
            head(t, "levels at the inputs");
        say_jack(t->b, l->cable->to, &line);
        if (l->has_figure) {
            str_add(&line, ": ");
            budget_say_db(l->cdbu, &line);
            str_add(&line, " dBu, ");
            budget_say_db(l->margin, &line);
            str_add(&line, " dB");
        } else {
            str_add(&line, l->fit == LEVELS_FIT ? ": digital" : ": nothing passes");
        }
        if (levels_tilt_db(l->fit, 50) != 0)
            str_addf(&line, "; %+.1f dB more at 50 Hz, %+.1f at 10 kHz", levels_tilt_db(l->fit, 50),
                     levels_tilt_db(l->fit, 10000));
        lines_add(t->out, item, look_of(l->row.over), 4, str_text(&line));
        str_clear(&line);
    }
}

void pane_ears_lines(const struct app *a, struct lines *out)
{
    struct str line = {0};
    ears_advise(a->level, &line);
    if (line.len)
        lines_add(out, -1, LOOK_NOTE, 2, str_text(&line));
    else
        lines_add(out, -1, LOOK_DIM, 2, "L: how long ears have");
    str_clear(&line);
}

/* --- the whole -------------------------------------------------------------------------------- */

/* Says everything, once it is made; the subjects are the caller's to free. */
static struct texts tell(const struct app *a, struct lines *out)
{
    struct telling t = {a, app_shown(a)->circuit->booth, a->budget, out, {0}};
    if (!a->budget)
        return t.subjects;
    pane_ears_lines(a, out);
    tell_rate(&t);
    tell_latency(&t);
    tell_buses(&t);
    tell_hubs(&t);
    tell_leads(&t);
    tell_clocks(&t);
    tell_levels(&t);
    tell_cards(&t);
    return t.subjects;
}

void pane_budget_lines(const struct app *a, struct lines *out)
{
    struct texts subjects = tell(a, out);
    texts_clear(&subjects);
}

void pane_budget_look_at(struct app *a, int item)
{
    struct lines unseen = {.width = pane_columns(a), .ascii = a->ascii};
    app_follow(a); /* a click may just have ended a gesture, and with it what it showed */
    struct texts subjects = tell(a, &unseen);
    if (item >= 0 && item < (int)subjects.n)
        pane_select(a, subjects.v[item]);
    texts_clear(&subjects);
    lines_clear(&unseen);
}
