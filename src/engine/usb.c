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
    load.ns = usb_packet_ns(load.out_bytes, speed, false) +
              usb_packet_ns(load.in_bytes, speed, true);
    return load;
}
