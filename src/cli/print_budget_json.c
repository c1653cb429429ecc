/* The budget as JSON: ids and plain numbers; each row has the slugs of the faults that check finds
 * there. */
#include <string.h>

#include "cli/print_budget.h"

#include "engine/ears.h"
#include <math.h>

struct said {
    bool there;
    const char *slug; /* NULL: the end of a list */
};

/* "faults": the slugs of those that are there. */
static void faults_out(struct json_out *w, const struct said *said)
{
    json_array(w, "faults");
    for (; said->slug; said++)
        if (said->there)
            json_text(w, NULL, said->slug);
    json_end(w);
}

static void fault_out(struct json_out *w, bool there, const char *slug)
{
    faults_out(w, (const struct said[]){{there, slug}, {false, NULL}});
}

/* Hundredths as a decimal. */
static void hundredths_out(struct json_out *w, const char *key, bool there, int n)
{
    if (there)
        json_milli(w, key, 10LL * n);
    else
        json_null(w, key);
}

/* A whole number as one. */
static void real_out(struct json_out *w, const char *key, double n)
{
    if (n < 1e15 && n == (double)(long long)n)
        json_number(w, key, (long long)n);
    else
        json_real(w, key, n);
}

static void buses_out(const struct budget *o, const struct booth *b, struct json_out *w)
{
    json_array(w, "buses");
    for (size_t i = 0; i < o->n_buses; i++) {
        const struct budget_bus *bus = &o->buses[i];
        bool host = strcmp(bus->lane.at, "host") == 0;
        json_object(w, NULL);
        json_text(w, "at", bus->lane.at);
        if (host)
            json_number(w, "bus", bus->lane.part + 1);
        else if (bus->lane.part)
            json_number(w, "port", bus->lane.part);
        json_text(w, "speed", word_file(&words_speed, (int)bus->lane.speed));
        json_array(w, "cards");
        for (size_t k = 0; k < b->devices.n; k++)
            if (usb_lane_same(bus->lane, usb_lane_of(b, &b->devices.v[k])))
                json_text(w, NULL, b->devices.v[k].id);
        json_end(w);
        json_number(w, "ns", bus->ns.used);
        json_number(w, "most_ns", bus->ns.most);
        json_number(w, "bytes", bus->bytes.used);
        json_number(w, "most_bytes", bus->bytes.most);
        fault_out(w, bus->row.over, "usb-bandwidth");
        json_end(w);
    }
    json_end(w);
}

static void cards_out(const struct budget *o, struct json_out *w)
{
    json_array(w, "cards");
    for (size_t i = 0; i < o->n_cards; i++) {
        const struct budget_card *c = &o->cards[i];
        json_object(w, NULL);
        json_text(w, "id", c->device->id);
        json_text(w, "speed", word_file(&words_speed, (int)usb_speed(c->device)));
        json_bool(w, "counted", c->counted);
        json_number(w, "out_bytes", c->load.out_bytes);
        json_number(w, "in_bytes", c->load.in_bytes);
        json_number(w, "out_ns", c->load.out_ns);
        json_number(w, "in_ns", c->load.in_ns);
        json_number(w, "out_transactions", c->out_sent);
        json_number(w, "in_transactions", c->in_sent);
        fault_out(w, c->row.over, "no-common-rate");
        json_end(w);
    }
    json_end(w);
}

static void hubs_out(const struct budget *o, const struct booth *b, struct json_out *w)
{
    json_array(w, "hubs");
    for (size_t i = 0; i < o->n_hubs; i++) {
        const struct budget_hub *h = &o->hubs[i];
        json_object(w, NULL);
        json_text(w, "id", h->at);
        json_number(w, "things", h->ports.used);
        json_number(w, "ports", h->ports.most);
        if (h->hubs.used < 0)
            json_null(w, "depth");
        else
            json_number(w, "depth", h->hubs.used);
        json_number(w, "most_depth", h->hubs.most);
        json_bool(w, "supply", !usb_bus_powered(b, h->at));
        json_number(w, "port_ma", h->port_ma);
        json_number(w, "ma", h->ma.used);
        json_number(w, "most_ma", h->ma.most);
        faults_out(w, (const struct said[]){{h->ports_over, "usb-ports"},
                                            {h->hubs_over, "usb-depth"},
                                            {h->power_over, "usb-power"},
                                            {false, NULL}});
        json_end(w);
    }
    json_end(w);
}

static void leads_out(const struct budget *o, struct json_out *w)
{
    json_array(w, "leads");
    for (size_t i = 0; i < o->n_leads; i++) {
        const struct budget_lead *l = &o->leads[i];
        json_object(w, NULL);
        json_text(w, "id", l->thing);
        json_text(w, "at", l->plug->at);
        json_number(w, "port", l->plug->port);
        json_number(w, "ma", l->ma.used);
        json_number(w, "most_ma", l->ma.most);
        fault_out(w, l->row.over, "usb-power");
        json_end(w);
    }
    json_end(w);
}

static void clocks_out(const struct budget *o, const struct booth *b, struct json_out *w)
{
    json_array(w, "clocks");
    for (size_t i = 0; i < o->n_clocks; i++) {
        const struct budget_clocks *c = &o->clocks[i];
        json_object(w, NULL);
        json_array(w, "cards");
        json_text(w, NULL, c->a->id);
        json_text(w, NULL, c->b->id);
        json_end(w);
        json_number(w, "ppm", c->ppm);
        real_out(w, "samples_per_second", c->per_second);
        if (c->seconds > 0)
            real_out(w, "seconds_per_sample", c->seconds);
        else
            json_null(w, "seconds_per_sample");
        json_bool(w, "corrected", b->host.drift_correction);
        fault_out(w, c->row.over, "free-running-clocks");
        json_end(w);
    }
    json_end(w);
}

/* How the replay curve tilts a mismatch, against 1 kHz. */
static void tilt_out(const struct budget_level *l, struct json_out *w)
{
    bool tilts = levels_tilt_db(l->fit, 50) != 0;
    hundredths_out(w, "at_50_hz_db", tilts, (int)lround(100 * levels_tilt_db(l->fit, 50)));
    hundredths_out(w, "at_10_khz_db", tilts, (int)lround(100 * levels_tilt_db(l->fit, 10000)));
}

static void levels_out(const struct budget *o, struct json_out *w)
{
    json_array(w, "levels");
    for (size_t i = 0; i < o->n_levels; i++) {
        const struct budget_level *l = &o->levels[i];
        json_object(w, NULL);
        json_text(w, "from", l->cable->from);
        json_text(w, "to", l->cable->to);
        hundredths_out(w, "dbu", l->has_figure, l->cdbu);
        hundredths_out(w, "margin_db", l->has_figure, l->margin);
        tilt_out(l, w);
        fault_out(w, l->row.over, "level-mismatch");
        json_end(w);
    }
    json_end(w);
}

static void hearing_out(int level, struct json_out *w)
{
    if (level == EARS_UNTOLD) {
        json_null(w, "hearing");
        return;
    }
    json_object(w, "hearing");
    json_milli(w, "level_dba", 100LL * level);
    real_out(w, "niosh_minutes", ears_minutes(EARS_NIOSH, level / 10.0));
    real_out(w, "osha_minutes", ears_minutes(EARS_OSHA, level / 10.0));
    json_end(w);
}

void json_budget(const struct budget *o, const struct booth *b, int level, struct json_out *w)
{
    buses_out(o, b, w);
    hubs_out(o, b, w);
    clocks_out(o, b, w);
    real_out(w, "latency_ms", o->latency_ms);
    json_number(w, "latency_limit_ms", b->host.latency_limit_ms);
    json_bool(w, "latency_over", o->latency_over);
    cards_out(o, w);
    leads_out(o, w);
    json_number(w, "rate_hz", b->host.rate_hz);
    json_array(w, "rates_hz");
    for (size_t i = 0; i < o->rates_hz.n; i++)
        json_number(w, NULL, o->rates_hz.v[i]);
    json_end(w);
    levels_out(o, w);
    hearing_out(level, w);
}
