/* Sources of the numbers here: "USB 2.0" is the Universal Serial Bus Specification, revision 2.0.
 * Times follow its section 5.11.3, in the whole-number form of the Linux kernel's
 * usb_calc_bus_time() (drivers/usb/core/hcd.c), so that both agree to the nanosecond. */
#include "engine/usb.h"

#include <assert.h>
#include <string.h>

enum {
    SELF_POWERED_PORT_MA = 500, /* five unit loads: USB 2.0, 7.2.1 */
    BUS_POWERED_PORT_MA = 100,  /* one unit load: USB 2.0, 7.2.1.1 */
    BUS_POWERED_HUB_MA = 500,   /* itself 100, and four ports of 100: USB 2.0, 7.2.1.1 */
    TRANSACTION_BYTES = 1024,   /* at high speed: USB 2.0, 5.6.3 */
    FRAMES_A_SECOND = 1000,     /* USB 2.0, 5.3.3 */
    MICROFRAMES_A_SECOND = 8000,
};

/* --- ports ------------------------------------------------------------------------------------ */

size_t usb_things(const struct booth *b)
{
    return b->devices.n + b->hubs.n;
}

const char *usb_thing(const struct booth *b, size_t i, const struct plug **plug)
{
    assert(i < usb_things(b));
    if (i < b->devices.n) {
        *plug = &b->devices.v[i].plugged;
        return b->devices.v[i].id;
    }
    const struct hub *h = &b->hubs.v[i - b->devices.n];
    *plug = &h->plugged;
    return h->id;
}

const struct plug *usb_plug(const struct booth *b, const char *thing)
{
    const struct device *d = booth_device(b, thing);
    const struct hub *h = booth_hub(b, thing);
    return d ? &d->plugged : h ? &h->plugged : NULL;
}

int usb_things_in(const struct booth *b, const char *at, int port)
{
    const struct plug *plug;
    int n = 0;
    for (size_t i = 0; i < usb_things(b); i++) {
        usb_thing(b, i, &plug);
        n += strcmp(plug->at, at) == 0 && (port == 0 || plug->port == port);
    }
    return n;
}

int usb_ports(const struct booth *b, const char *at)
{
    const struct hub *h = booth_hub(b, at);
    return h ? h->ports : b->host.usb_ports;
}

int usb_hubs_above(const struct booth *b, const char *at)
{
    int n = 0;
    for (; strcmp(at, "host") != 0; n++) {
        const struct hub *h = booth_hub(b, at);
        if (!h)
            return -1;
        at = h->plugged.at;
    }
    return n;
}

bool usb_leads_over(const struct booth *b, const char *at, const char *hub)
{
    const struct hub *h = booth_hub(b, at);
    for (; h && strcmp(h->id, hub) != 0; h = booth_hub(b, h->plugged.at))
        ;
    return h != NULL;
}

bool usb_port_wrong(const struct booth *b, const struct plug *plug)
{
    return *plug->at && plug->port != 0 &&
           (plug->port > usb_ports(b, plug->at) || usb_things_in(b, plug->at, plug->port) > 1);
}

bool usb_too_deep(const struct booth *b, const struct plug *plug)
{
    return *plug->at && usb_hubs_above(b, plug->at) > USB_MOST_HUBS;
}

/* --- power ------------------------------------------------------------------------------------ */

bool usb_bus_powered(const struct booth *b, const char *at)
{
    const struct hub *h = booth_hub(b, at);
    return h && !h->self_powered;
}

int usb_port_ma(const struct booth *b, const char *at)
{
    const struct hub *h = booth_hub(b, at);
    if (!h)
        return b->host.port_ma;
    if (h->port_ma)
        return h->port_ma;
    return h->self_powered ? SELF_POWERED_PORT_MA : BUS_POWERED_PORT_MA;
}

int usb_needs_ma(const struct booth *b, const char *thing)
{
    const struct device *d = booth_device(b, thing);
    if (d)
        return d->usb && !d->usb->self_powered ? d->usb->max_power_ma : 0;
    return usb_bus_powered(b, thing) ? BUS_POWERED_HUB_MA : 0;
}

enum usb_hunger usb_hunger(const struct booth *b, const char *thing, const char *at)
{
    if (usb_bus_powered(b, at) && usb_bus_powered(b, thing))
        return USB_UNSUPPLIED;
    if (usb_needs_ma(b, thing) > usb_port_ma(b, at))
        return USB_STARVED;
    if (usb_bus_powered(b, thing) && usb_things_in(b, thing, 0) > USB_BUS_POWERED_THINGS)
        return USB_CROWDED;
    return USB_FED;
}

bool usb_could_hang(const struct booth *b, const char *thing, const char *at)
{
    int hubs = usb_hubs_above(b, at);
    if (hubs < 0 || hubs + (booth_hub(b, thing) != NULL) > USB_MOST_HUBS ||
        usb_leads_over(b, at, thing) || usb_needs_ma(b, thing) > usb_port_ma(b, at))
        return false;
    return !usb_bus_powered(b, at) ||
           (!usb_bus_powered(b, thing) && usb_things_in(b, at, 0) < USB_BUS_POWERED_THINGS);
}

/* --- traffic ---------------------------------------------------------------------------------- */

int usb_packet_bytes(int rate_hz, int channels, int sample_bytes, enum speed speed)
{
    int packets = speed == SPEED_FULL ? FRAMES_A_SECOND : MICROFRAMES_A_SECOND;
    int frames = (rate_hz + packets - 1) / packets + 1;
    return channels * frames * sample_bytes;
}

/* Bits on the wire with the worst bit stuffing, one in six: USB 2.0, 5.11.3 (BitStuffTime). */
static long stuffed_bits(int bytes)
{
    return 7L * 8 * bytes / 6;
}

/* Full speed, isochronous: 7268 ns (in) or 6265 ns (out) + 83.54 ns a bit, and 1000 ns for the
 * host: USB 2.0, 5.11.3; the kernel's BW_HOST_DELAY. */
static long full_speed_ns(int bytes, bool in)
{
    return (in ? 7268 : 6265) + 1000 + 8354 * (31 + 10 * stuffed_bits(bytes)) / 1000;
}

/* High speed, isochronous: 38 bytes of overhead, 2.083 ns a bit, and 5 ns for the host: USB 2.0,
 * 5.11.3; the kernel's HS_NSECS_ISO. */
static long high_speed_ns(int bytes)
{
    return (38 * 8 * 2083 + 2083 * (3 + stuffed_bits(bytes))) / 1000 + 5;
}

long usb_packet_ns(int bytes, enum speed speed, bool in)
{
    long ns = 0;
    if (speed == SPEED_SUPER || bytes == 0)
        return 0;
    if (speed == SPEED_FULL)
        return full_speed_ns(bytes, in);
    for (; bytes > TRANSACTION_BYTES; bytes -= TRANSACTION_BYTES)
        ns += high_speed_ns(TRANSACTION_BYTES);
    return ns + high_speed_ns(bytes);
}

enum speed usb_speed(const struct device *d)
{
    return d->usb ? d->usb->speed : SPEED_HIGH;
}

struct usb_load usb_load_of(const struct device *d, int rate_hz)
{
    assert(d->card);
    const struct card *c = d->card;
    enum speed speed = usb_speed(d);
    int sample_bytes = c->slot_bytes ? c->slot_bytes : (c->bits + 7) / 8;
    struct usb_load load = {
        .out_bytes = usb_packet_bytes(rate_hz, c->out_channels, sample_bytes, speed),
        .in_bytes = usb_packet_bytes(rate_hz, c->in_channels, sample_bytes, speed)};
    load.out_ns = usb_packet_ns(load.out_bytes, speed, false);
    load.in_ns = usb_packet_ns(load.in_bytes, speed, true);
    return load;
}

int usb_transactions(int bytes, enum speed speed)
{
    if (bytes == 0 || speed != SPEED_HIGH)
        return bytes != 0;
    return (bytes + TRANSACTION_BYTES - 1) / TRANSACTION_BYTES;
}

int usb_most_bytes(enum speed speed)
{
    static const int most[] = {[SPEED_HIGH] = USB_HIGH_SPEED_BYTES,
                               [SPEED_FULL] = USB_FULL_SPEED_BYTES,
                               [SPEED_SUPER] = 0};
    return most[speed];
}

long usb_limit_ns(enum speed speed)
{
    static const long most[] = {[SPEED_HIGH] = USB_HIGH_SPEED_LIMIT_NS,
                                [SPEED_FULL] = USB_FULL_SPEED_LIMIT_NS,
                                [SPEED_SUPER] = 0};
    return most[speed];
}

/* --- what shares its time --------------------------------------------------------------------- */

/* The host's bus that a place's traffic ends on; port: of that place. */
static int bus_of(const struct booth *b, const char *at, int port)
{
    for (const struct hub *h = booth_hub(b, at); h; h = booth_hub(b, h->plugged.at))
        port = h->plugged.port;
    return (port - 1) % b->host.usb_buses;
}

struct usb_lane usb_lane_of(const struct booth *b, const struct device *d)
{
    struct usb_lane lane = {NULL, 0, usb_speed(d)};
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

bool usb_lane_same(struct usb_lane a, struct usb_lane b)
{
    return a.at && b.at && strcmp(a.at, b.at) == 0 && a.part == b.part && a.speed == b.speed;
}

bool usb_lane_first(const struct booth *b, size_t i)
{
    struct usb_lane mine = usb_lane_of(b, &b->devices.v[i]);
    for (size_t k = 0; k < i; k++)
        if (usb_lane_same(mine, usb_lane_of(b, &b->devices.v[k])))
            return false;
    return mine.at != NULL;
}

struct usb_traffic usb_traffic_of(const struct booth *b, struct usb_lane lane)
{
    struct usb_traffic t = {0};
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        if (!usb_lane_same(lane, usb_lane_of(b, d)))
            continue;
        struct usb_load load = usb_load_of(d, b->host.rate_hz);
        t.cards++;
        t.ns += load.out_ns + load.in_ns;
        t.bytes = load.out_bytes > t.bytes ? load.out_bytes : t.bytes;
        t.bytes = load.in_bytes > t.bytes ? load.in_bytes : t.bytes;
    }
    return t;
}

bool usb_traffic_over(struct usb_lane lane, struct usb_traffic t)
{
    return t.bytes > usb_most_bytes(lane.speed) || t.ns > usb_limit_ns(lane.speed);
}
