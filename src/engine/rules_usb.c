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

/* Whether no thing before the i-th is in its port. */
static bool first_in_port(const struct booth *b, size_t i)
{
    const struct plug *mine, *other;
    usb_thing(b, i, &mine);
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
        if (usb_port_wrong(r->b, port) && first_in_port(r->b, i))
            wrong_port(r, port, i);
    }
}

void find_usb_depth(struct report *r)
{
    for (size_t i = 0; i < r->b->devices.n; i++) {
        const struct device *d = &r->b->devices.v[i];
        if (!usb_too_deep(r->b, &d->plugged))
            continue;
        struct str text = {0};
        str_addf(&text, "%s hangs behind %d hubs, and a laptop reaches through %d at most",
                 d->label, usb_hubs_above(r->b, d->plugged.at), USB_MOST_HUBS);
        struct fault *f = report_fault(r, &text);
        fault_on(f, d->id);
        fault_advise(f, "plug it in nearer to the laptop");
        fix_by_plugging(r->b, f, d->id);
    }
}

/* --- power ------------------------------------------------------------------------------------ */

/* Why the port of a place cannot feed a thing: " needs ..." */
static void say_hunger(const struct booth *b, const char *thing, const char *at, struct str *out)
{
    switch (usb_hunger(b, thing, at)) {
    case USB_UNSUPPLIED:
        str_add(out, " has no supply of its own and hangs on ");
        say_thing(b, at, out);
        str_add(out, ", which has none either");
        break;
    case USB_STARVED:
        str_addf(out, " needs %d mA, and a port of ", usb_needs_ma(b, thing));
        say_thing(b, at, out);
        str_addf(out, " gives %d mA", usb_port_ma(b, at));
        break;
    case USB_CROWDED:
        str_addf(out, " has no supply of its own, and can feed %d things, not %d",
                 USB_BUS_POWERED_THINGS, usb_things_in(b, thing, 0));
        break;
    case USB_FED:
        break;
    }
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
    bool crowd = usb_hunger(b, thing, at) == USB_CROWDED;
    bool done = crowd ? fix_crowd(b, f, thing) : fix_by_plugging(b, f, thing);
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
        if (!*plug->at || plug->port == 0 || usb_hunger(r->b, thing, plug->at) == USB_FED)
            continue;
        say_thing(r->b, thing, &text);
        say_hunger(r->b, thing, plug->at, &text);
        struct fault *f = report_fault(r, &text);
        fault_on(f, plug->at);
        fault_on(f, thing);
        fix_hunger(r->b, f, thing, plug->at);
    }
}

/* --- traffic ---------------------------------------------------------------------------------- */

static void too_much(struct report *r, struct usb_lane lane, struct usb_traffic t)
{
    bool full = lane.speed == SPEED_FULL;
    int most = usb_most_bytes(lane.speed);
    struct str text = {0};
    size_t said = 0;
    for (size_t i = 0; i < r->b->devices.n; i++)
        if (usb_lane_same(lane, usb_lane_of(r->b, &r->b->devices.v[i]))) {
            say_next(said++, t.cards, &text);
            str_add(&text, r->b->devices.v[i].label);
        }
    str_add(&text, t.cards == 1 ? " asks more of " : " ask more of ");
    say_thing(r->b, lane.at, &text);
    str_addf(&text, " than %s USB carries: ", full ? "full-speed" : "high-speed");
    if (t.bytes > most)
        str_addf(&text, "packets of %d bytes, not %d", t.bytes, most);
    else
        str_addf(&text, "%ld of %ld microseconds in each %s", (t.ns + 999) / 1000,
                 usb_limit_ns(lane.speed) / 1000, full ? "frame" : "microframe");
    struct fault *f = report_fault(r, &text);
    fault_on(f, lane.at);
    for (size_t i = 0; i < r->b->devices.n; i++)
        if (usb_lane_same(lane, usb_lane_of(r->b, &r->b->devices.v[i])))
            fault_on(f, r->b->devices.v[i].id);
    fault_advise(f, "run at a lower rate, or plug some of them in elsewhere");
}

void find_usb_bandwidth(struct report *r)
{
    for (size_t i = 0; i < r->b->devices.n; i++) {
        if (!usb_lane_first(r->b, i))
            continue;
        struct usb_lane lane = usb_lane_of(r->b, &r->b->devices.v[i]);
        struct usb_traffic t = usb_traffic_of(r->b, lane);
        if (usb_traffic_over(lane, t))
            too_much(r, lane, t);
    }
}
