/* Data leads: what is plugged in nowhere, two in one port, too deep, too hungry, too much for the
 * bus. The numbers are usb.c's. */
#include <string.h>

#include "engine/rules.h"
#include "engine/usb.h"
#include "model/say.h"

/* --- plugged in nowhere ----------------------------------------------------------------------- */

static void unplugged(struct report *r, const char *thing, struct str *text)
{
    struct fault *f = report_fault(r, text);
    fault_on(f, thing);
    if (!fix_by_plugging(r->b, f, thing))
        fault_advise(f, "free a port that can feed it, or add a hub with its own supply");
}

static void unplugged_hub(struct report *r, const struct hub *h)
{
    struct str text = {0};
    const struct plug *plug;
    size_t said = 0, n = (size_t)usb_things_in(r->b, h->id, 0);
    for (size_t i = 0; i < usb_things(r->b); i++) {
        const char *id = usb_thing(r->b, i, &plug);
        if (strcmp(plug->at, h->id) != 0)
            continue;
        say_next(said++, n, &text);
        say_thing(r->b, id, &text);
    }
    str_addf(&text, n == 1 ? " hangs on " : " hang on ");
    say_thing(r->b, h->id, &text);
    str_add(&text, ", which is plugged in nowhere");
    unplugged(r, h->id, &text);
}

void find_unplugged(struct report *r)
{
    for (size_t i = 0; i < r->c->n_devices; i++) {
        const struct device *d = circuit_device(r->c, (int)i);
        if (r->c->devices[i].joined < 0 || *d->plugged.at)
            continue;
        struct str text = {0};
        str_addf(&text, "%s is in the interface, but plugged in nowhere", d->label);
        unplugged(r, d->id, &text);
    }
    for (size_t i = 0; i < r->b->hubs.n; i++) {
        const struct hub *h = &r->b->hubs.v[i];
        if (!*h->plugged.at && usb_things_in(r->b, h->id, 0))
            unplugged_hub(r, h);
    }
}

/* --- ports ------------------------------------------------------------------------------------ */

static bool same_port(const struct plug *a, const struct plug *b)
{
    return strcmp(a->at, b->at) == 0 && a->port == b->port;
}

/* Whether no thing before the i-th is in its port; false for what is in no port. */
static bool first_in_port(const struct booth *b, size_t i)
{
    const struct plug *mine, *other;
    usb_thing(b, i, &mine);
    if (mine->port == 0 || !*mine->at)
        return false;
    for (size_t k = 0; k < i; k++) {
        usb_thing(b, k, &other);
        if (same_port(mine, other))
            return false;
    }
    return true;
}

/* The thing that stays in a port: one that is held in use, else the first; none where the port is
 * not there. */
static size_t stays_in(const struct booth *b, const struct plug *port, size_t first)
{
    const struct plug *plug;
    if (port->port > usb_ports(b, port->at))
        return usb_things(b);
    for (size_t i = first; i < usb_things(b); i++) {
        struct change pull = change_of(CHANGE_PLUG, usb_thing(b, i, &plug), "");
        if (same_port(plug, port) && change_touches_in_use(b, &pull))
            return i;
    }
    return first;
}

/* All others go to free ports; all of them or none. */
static void fix_port(const struct booth *b, struct fault *f, const struct plug *port, size_t first)
{
    const struct plug *plug;
    size_t stays = stays_in(b, port, first);
    for (size_t i = first; i < usb_things(b); i++) {
        const char *id = usb_thing(b, i, &plug);
        if (i == stays || !same_port(plug, port) || fix_by_plugging(b, f, id))
            continue;
        changes_clear(&f->fix);
        fault_advise(f, "free a port that can feed it, or add a hub with its own supply");
        return;
    }
}

static void wrong_port(struct report *r, const struct plug *port, size_t first)
{
    const struct plug *plug;
    struct str text = {0};
    size_t said = 0, n = (size_t)usb_things_in(r->b, port->at, port->port);
    for (size_t i = first; i < usb_things(r->b); i++) {
        const char *id = usb_thing(r->b, i, &plug);
        if (!same_port(plug, port))
            continue;
        say_next(said++, n, &text);
        say_thing(r->b, id, &text);
    }
    str_addf(&text, n == 1 ? " is in port %d of " : " share port %d of ", port->port);
    say_thing(r->b, port->at, &text);
    if (port->port > usb_ports(r->b, port->at))
        str_addf(&text, ", which has %d", usb_ports(r->b, port->at));
    struct fault *f = report_fault(r, &text);
    fault_on(f, port->at);
    for (size_t i = first; i < usb_things(r->b); i++) {
        const char *id = usb_thing(r->b, i, &plug);
        if (same_port(plug, port))
            fault_on(f, id);
    }
    fix_port(r->b, f, port, first);
}

void find_usb_ports(struct report *r)
{
    const struct plug *port;
    for (size_t i = 0; i < usb_things(r->b); i++) {
        usb_thing(r->b, i, &port);
        if (first_in_port(r->b, i) && (port->port > usb_ports(r->b, port->at) ||
                                       usb_things_in(r->b, port->at, port->port) > 1))
            wrong_port(r, port, i);
    }
}

void find_usb_depth(struct report *r)
{
    for (size_t i = 0; i < r->b->devices.n; i++) {
        const struct device *d = &r->b->devices.v[i];
        int hubs = *d->plugged.at ? usb_hubs_above(r->b, d->plugged.at) : -1;
        if (hubs <= USB_MOST_HUBS)
            continue;
        struct str text = {0};
        str_addf(&text, "%s hangs behind %d hubs, and a laptop reaches through %d at most",
                 d->label, hubs, USB_MOST_HUBS);
        struct fault *f = report_fault(r, &text);
        fault_on(f, d->id);
        fault_advise(f, "plug it in nearer to the laptop");
        fix_by_plugging(r->b, f, d->id);
    }
}

/* --- power ------------------------------------------------------------------------------------ */

/* Why the port of a place cannot feed a thing, as "H needs ..."; false when it can. */
static bool say_hunger(const struct booth *b, const char *thing, const char *at, struct str *out)
{
    int needs = usb_needs_ma(b, thing), gives = usb_port_ma(b, at);
    if (usb_bus_powered(b, at) && usb_bus_powered(b, thing)) {
        str_add(out, " has no supply of its own and hangs on ");
        say_thing(b, at, out);
        str_add(out, ", which has none either");
        return true;
    }
    if (needs > gives) {
        str_addf(out, " needs %d mA, and a port of ", needs);
        say_thing(b, at, out);
        str_addf(out, " gives %d mA", gives);
        return true;
    }
    if (usb_bus_powered(b, thing) && usb_things_in(b, thing, 0) > USB_BUS_POWERED_THINGS) {
        str_addf(out, " has no supply of its own, and can feed %d things, not %d",
                 USB_BUS_POWERED_THINGS, usb_things_in(b, thing, 0));
        return true;
    }
    return false;
}

/* What hangs on a bus-powered hub beyond what it can feed goes elsewhere. */
static bool fix_crowd(const struct booth *b, struct fault *f, const char *hub)
{
    const struct plug *plug;
    int fed = 0;
    for (size_t i = 0; i < usb_things(b); i++) {
        const char *id = usb_thing(b, i, &plug);
        if (strcmp(plug->at, hub) == 0 && ++fed > USB_BUS_POWERED_THINGS &&
            !fix_by_plugging(b, f, id))
            return false;
    }
    return true;
}

static void fix_hunger(const struct booth *b, struct fault *f, const char *thing, const char *at)
{
    bool fed = usb_needs_ma(b, thing) <= usb_port_ma(b, at) &&
               !(usb_bus_powered(b, at) && usb_bus_powered(b, thing));
    bool done = fed ? fix_crowd(b, f, thing) : fix_by_plugging(b, f, thing);
    if (done)
        return;
    changes_clear(&f->fix);
    fault_advise(f, "take a hub with its own supply, or a port that gives more");
}

void find_usb_power(struct report *r)
{
    const struct plug *plug;
    for (size_t i = 0; i < usb_things(r->b); i++) {
        const char *thing = usb_thing(r->b, i, &plug);
        struct str text = {0};
        if (!*plug->at || plug->port == 0)
            continue;
        say_thing(r->b, thing, &text);
        if (!say_hunger(r->b, thing, plug->at, &text)) {
            str_clear(&text);
            continue;
        }
        struct fault *f = report_fault(r, &text);
        fault_on(f, plug->at);
        fault_on(f, thing);
        fix_hunger(r->b, f, thing, plug->at);
    }
}

/* --- traffic ---------------------------------------------------------------------------------- */

/* What shares its time: the high-speed cards of a bus, the full-speed ones plugged straight into a
 * bus, or those behind one translator (a hub, or one port of it). */
struct lane {
    const char *at; /* "host" or the hub; NULL: no traffic */
    int part;       /* of the host: the bus; of a hub: the port that has its own translator, or 0 */
    enum speed speed;
};

/* The host's bus that a place's traffic ends on; port: of that place. */
static int bus_of(const struct booth *b, const char *at, int port)
{
    for (const struct hub *h = booth_hub(b, at); h; h = booth_hub(b, h->plugged.at))
        port = h->plugged.port;
    return (port - 1) % b->host.usb_buses;
}

static struct lane lane_of(const struct booth *b, const struct device *d)
{
    struct lane lane = {NULL, 0, usb_speed(d)};
    const struct hub *h = booth_hub(b, d->plugged.at);
    if (booth_joined_at(b, d->id) < 0 || lane.speed == SPEED_SUPER ||
        usb_hubs_above(b, d->plugged.at) < 0)
        return lane;
    bool translated = h && lane.speed == SPEED_FULL;
    lane.at = translated ? h->id : "host";
    lane.part = !translated   ? bus_of(b, d->plugged.at, d->plugged.port)
                : h->multi_tt ? d->plugged.port
                              : 0;
    return lane;
}

static bool same_lane(struct lane a, struct lane b)
{
    return a.at && b.at && strcmp(a.at, b.at) == 0 && a.part == b.part && a.speed == b.speed;
}

/* The first card of a lane is the one that tells about it. */
static bool first_in_lane(const struct booth *b, size_t device)
{
    struct lane mine = lane_of(b, &b->devices.v[device]);
    for (size_t i = 0; i < device; i++)
        if (same_lane(mine, lane_of(b, &b->devices.v[i])))
            return false;
    return mine.at != NULL;
}

struct traffic {
    size_t cards;
    long ns;
    int bytes; /* the largest packet */
};

static struct traffic traffic_in(const struct booth *b, struct lane lane)
{
    struct traffic t = {0};
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        if (!same_lane(lane, lane_of(b, d)))
            continue;
        struct usb_load load = usb_load_of(d, b->host.rate_hz);
        t.cards++;
        t.ns += load.ns;
        t.bytes = load.out_bytes > t.bytes ? load.out_bytes : t.bytes;
        t.bytes = load.in_bytes > t.bytes ? load.in_bytes : t.bytes;
    }
    return t;
}

static void too_much(struct report *r, struct lane lane, struct traffic t)
{
    bool full = lane.speed == SPEED_FULL;
    int most = full ? USB_FULL_SPEED_BYTES : USB_HIGH_SPEED_BYTES;
    struct str text = {0};
    size_t said = 0;
    for (size_t i = 0; i < r->b->devices.n; i++)
        if (same_lane(lane, lane_of(r->b, &r->b->devices.v[i]))) {
            say_next(said++, t.cards, &text);
            str_add(&text, r->b->devices.v[i].label);
        }
    str_add(&text, t.cards == 1 ? " asks more of " : " ask more of ");
    say_thing(r->b, lane.at, &text);
    str_addf(&text, " than %s USB carries: ", full ? "full-speed" : "high-speed");
    if (t.bytes > most)
        str_addf(&text, "packets of %d bytes, not %d", t.bytes, most);
    else
        str_addf(&text, "%ld of %d microseconds in each %s", (t.ns + 999) / 1000,
                 (full ? USB_FULL_SPEED_LIMIT_NS : USB_HIGH_SPEED_LIMIT_NS) / 1000,
                 full ? "frame" : "microframe");
    struct fault *f = report_fault(r, &text);
    fault_on(f, lane.at);
    for (size_t i = 0; i < r->b->devices.n; i++)
        if (same_lane(lane, lane_of(r->b, &r->b->devices.v[i])))
            fault_on(f, r->b->devices.v[i].id);
    fault_advise(f, "run at a lower rate, or plug some of them in elsewhere");
}

void find_usb_bandwidth(struct report *r)
{
    for (size_t i = 0; i < r->b->devices.n; i++) {
        if (!first_in_lane(r->b, i))
            continue;
        struct lane lane = lane_of(r->b, &r->b->devices.v[i]);
        struct traffic t = traffic_in(r->b, lane);
        bool full = lane.speed == SPEED_FULL;
        if (t.bytes > (full ? USB_FULL_SPEED_BYTES : USB_HIGH_SPEED_BYTES) ||
            t.ns > (full ? USB_FULL_SPEED_LIMIT_NS : USB_HIGH_SPEED_LIMIT_NS))
            too_much(r, lane, t);
    }
}
