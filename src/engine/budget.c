/* Each kind of row is filled in the file's order and then sorted; no sum is made here that a rule
 * makes as well. */
#include "engine/budget.h"

#include <assert.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "engine/timing.h"

static long long share_of(struct budget_use u)
{
    if (u.used <= 0)
        return 0;
    return u.most > 0 ? 1000000LL * u.used / u.most : LLONG_MAX;
}

static long long larger(long long a, long long b)
{
    return a > b ? a : b;
}

static int compare_rows(const void *a, const void *b)
{
    const struct budget_row *x = a, *y = b;
    if (x->over != y->over)
        return x->over ? -1 : 1;
    if (x->share != y->share)
        return x->share > y->share ? -1 : 1;
    return (x->nth > y->nth) - (x->nth < y->nth);
}

static void sort(void *rows, size_t n, size_t size)
{
    qsort(rows, n, size, compare_rows);
}

/* --- traffic ---------------------------------------------------------------------------------- */

static void add_bus(struct budget *o, const struct booth *b, struct usb_lane lane)
{
    struct usb_traffic t = usb_traffic_of(b, lane);
    struct budget_bus *bus = &o->buses[o->n_buses];
    *bus = (struct budget_bus){.lane = lane,
                               .cards = t.cards,
                               .ns = {t.ns, usb_limit_ns(lane.speed)},
                               .bytes = {t.bytes, usb_most_bytes(lane.speed)}};
    bus->row = (struct budget_row){.over = usb_traffic_over(lane, t),
                                   .share = larger(share_of(bus->ns), share_of(bus->bytes)),
                                   .nth = o->n_buses++};
}

static void list_buses(struct budget *o, const struct booth *b)
{
    o->buses = mem_new(b->devices.n, sizeof *o->buses);
    for (size_t i = 0; i < b->devices.n; i++)
        if (usb_lane_first(b, i))
            add_bus(o, b, usb_lane_of(b, &b->devices.v[i]));
    sort(o->buses, o->n_buses, sizeof *o->buses);
}

static void list_cards(struct budget *o, const struct booth *b)
{
    o->cards = mem_new(b->joined.n, sizeof *o->cards);
    for (size_t i = 0; i < b->joined.n; i++) {
        struct budget_card *c = &o->cards[i];
        c->device = booth_device(b, b->joined.v[i]);
        c->load = usb_load_of(c->device, b->host.rate_hz);
        enum speed speed = usb_speed(c->device);
        c->most_bytes = usb_most_bytes(speed);
        c->out_sent = usb_transactions(c->load.out_bytes, speed);
        c->in_sent = usb_transactions(c->load.in_bytes, speed);
        c->counted = usb_lane_of(b, c->device).at != NULL;
        struct budget_use time = {c->load.out_ns + c->load.in_ns, usb_limit_ns(speed)};
        c->row = (struct budget_row){!card_runs_at(c->device->card, b->host.rate_hz),
                                     share_of(time), i};
    }
    o->n_cards = b->joined.n;
    sort(o->cards, o->n_cards, sizeof *o->cards);
}

/* --- ports, current, depth -------------------------------------------------------------------- */

/* In how many ports of a place something can be fed: of a hub without a supply in four. */
static long fed_ports(const struct booth *b, const char *at)
{
    int ports = usb_ports(b, at);
    return usb_bus_powered(b, at) && ports > USB_BUS_POWERED_THINGS ? USB_BUS_POWERED_THINGS
                                                                    : ports;
}

/* What is plugged in at a hub, added up. */
static void count_things(struct budget_hub *h, const struct booth *b)
{
    const struct plug *plug;
    for (size_t i = 0; i < usb_things(b); i++) {
        const char *thing = usb_thing(b, i, &plug);
        if (strcmp(plug->at, h->at) != 0)
            continue;
        h->ports.used++;
        h->ma.used += usb_needs_ma(b, thing);
        h->ports_over |= usb_port_wrong(b, plug);
        h->hubs_over |= i < b->devices.n && usb_too_deep(b, plug);
        h->power_over |= usb_hunger(b, thing, h->at) != USB_FED;
    }
}

static void add_hub(struct budget *o, const struct booth *b, const char *at)
{
    struct budget_hub *h = &o->hubs[o->n_hubs];
    h->at = at;
    h->port_ma = usb_port_ma(b, at);
    h->ports.most = usb_ports(b, at);
    h->hubs = (struct budget_use){usb_hubs_above(b, at), USB_MOST_HUBS};
    h->ma.most = h->port_ma * fed_ports(b, at);
    count_things(h, b);
    h->row = (struct budget_row){
        .over = h->ports_over || h->hubs_over || h->power_over,
        .share = larger(larger(share_of(h->ports), share_of(h->ma)), share_of(h->hubs)),
        .nth = o->n_hubs++};
}

static void list_hubs(struct budget *o, const struct booth *b)
{
    o->hubs = mem_new(b->hubs.n + 1, sizeof *o->hubs);
    add_hub(o, b, "host");
    for (size_t i = 0; i < b->hubs.n; i++)
        add_hub(o, b, b->hubs.v[i].id);
    sort(o->hubs, o->n_hubs, sizeof *o->hubs);
}

static void list_leads(struct budget *o, const struct booth *b)
{
    const struct plug *plug;
    o->leads = mem_new(usb_things(b), sizeof *o->leads);
    for (size_t i = 0; i < usb_things(b); i++) {
        const char *thing = usb_thing(b, i, &plug);
        if (!*plug->at || plug->port == 0)
            continue;
        struct budget_lead *l = &o->leads[o->n_leads];
        *l = (struct budget_lead){.thing = thing,
                                  .plug = plug,
                                  .ma = {usb_needs_ma(b, thing), usb_port_ma(b, plug->at)},
                                  .hunger = usb_hunger(b, thing, plug->at)};
        l->row = (struct budget_row){l->hunger != USB_FED, share_of(l->ma), o->n_leads++};
    }
    sort(o->leads, o->n_leads, sizeof *o->leads);
}

/* --- clocks and levels ------------------------------------------------------------------------ */

static void add_clocks(struct budget *o, const struct booth *b, size_t i, size_t k)
{
    struct budget_clocks *c = &o->clocks[o->n_clocks];
    c->a = booth_device(b, b->joined.v[i]);
    c->b = booth_device(b, b->joined.v[k]);
    c->ppm = c->a->card->clock_ppm + c->b->card->clock_ppm;
    long long slips = timing_slips(b->host.rate_hz, c->ppm); /* in 1e6 seconds */
    c->per_second = (double)slips / 1e6;
    c->seconds = slips ? 1e6 / (double)slips : 0;
    c->row = (struct budget_row){timing_runs_free(b), slips, o->n_clocks++};
}

static void list_clocks(struct budget *o, const struct booth *b)
{
    size_t n = b->joined.n;
    o->clocks = mem_new(n * n / 2, sizeof *o->clocks);
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++)
            add_clocks(o, b, i, k);
    sort(o->clocks, o->n_clocks, sizeof *o->clocks);
}

static void list_levels(struct budget *o, const struct booth *b)
{
    o->levels = mem_new(b->cables.n, sizeof *o->levels);
    for (size_t i = 0; i < b->cables.n; i++) {
        struct budget_level *l = &o->levels[i];
        struct out_end out;
        struct in_end in;
        l->cable = &b->cables.v[i];
        bool ends = booth_output(b, l->cable->from, &out) && booth_input(b, l->cable->to, &in);
        assert(ends);
        (void)ends;
        l->out = out.output->level;
        l->in = in.input->level;
        l->fit = levels_fit(l->out, l->in);
        l->has_figure = levels_dbu(l->out, &l->cdbu) && levels_margin(l->out, l->in, &l->margin);
        l->row = (struct budget_row){l->fit != LEVELS_FIT, (long long)l->fit, i};
    }
    o->n_levels = b->cables.n;
    sort(o->levels, o->n_levels, sizeof *o->levels);
}

struct budget *budget_make(const struct booth *b)
{
    struct budget *o = mem_new(1, sizeof *o);
    list_buses(o, b);
    list_cards(o, b);
    list_hubs(o, b);
    list_leads(o, b);
    list_clocks(o, b);
    list_levels(o, b);
    o->rates_hz = timing_common_rates(b);
    o->latency_ms = timing_latency_ms(&b->host);
    o->latency_over = timing_latency_over(&b->host);
    return o;
}

void budget_free(struct budget *budget)
{
    if (!budget)
        return;
    mem_free(budget->buses);
    mem_free(budget->cards);
    mem_free(budget->hubs);
    mem_free(budget->leads);
    mem_free(budget->clocks);
    mem_free(budget->levels);
    mem_free(budget->rates_hz.v);
    mem_free(budget);
}

/* --- in words --------------------------------------------------------------------------------- */

void budget_say_bar(bool over, long long share, int columns, struct str *out)
{
    int filled = over || share >= 1000000 ? columns : (int)(share * columns / 1000000);
    filled += filled == 0 && share > 0;
    str_addc(out, '[');
    for (int i = 0; i < columns; i++)
        str_addc(out, over && i + 1 == columns ? '!' : i < filled ? '#' : '.');
    str_addc(out, ']');
}

void budget_say_us(long ns, struct str *out)
{
    long tenths = (ns + 99) / 100;
    str_addf(out, "%ld.%ld", tenths / 10, tenths % 10);
}

void budget_say_db(int hundredths, struct str *out)
{
    int size = abs(hundredths);
    str_addf(out, "%c%d.%02d", hundredths < 0 ? '-' : '+', size / 100, size % 100);
}
