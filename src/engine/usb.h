/* The universal serial bus in whole numbers: which ports there are, what current they give, and
 * how much of a bus the joined cards' sound takes.
 *
 * Things are the booth's devices, then its hubs, in the file's order: whatever has a data lead. A
 * place to plug into is "host" or a hub's id. Values carry their source in usb.c. */
#ifndef ENGINE_USB_H
#define ENGINE_USB_H

#include <stdbool.h>
#include <stddef.h>

#include "model/booth.h"

enum {
    USB_MOST_HUBS = 5,                /* between the host and a device */
    USB_BUS_POWERED_THINGS = 4,       /* that a bus-powered hub can feed */
    USB_FULL_SPEED_BYTES = 1023,      /* the largest packet at full speed */
    USB_HIGH_SPEED_BYTES = 3072,      /* the largest at high speed, in three transactions */
    USB_FULL_SPEED_LIMIT_NS = 900000, /* of a frame, for periodic traffic */
    USB_HIGH_SPEED_LIMIT_NS = 100000, /* of a microframe, for periodic traffic */
};

/* --- ports --- */

size_t usb_things(const struct booth *b);
/* The id of the i-th thing (i < usb_things()) and where it is plugged in. */
const char *usb_thing(const struct booth *b, size_t i, const struct plug **plug);

/* Where a device or hub is plugged in; NULL: there is no such thing. Borrowed. */
const struct plug *usb_plug(const struct booth *b, const char *thing);
/* How many things are in a port; at a place altogether for port 0. */
int usb_things_in(const struct booth *b, const char *at, int port);
/* The number of ports of a place. */
int usb_ports(const struct booth *b, const char *at);
/* How many hubs stand between the host and whatever is plugged into a place (0 for "host"); -1
 * when that place does not lead to the host. */
int usb_hubs_above(const struct booth *b, const char *at);
/* Whether the way from a place to the host leads over a hub, or is it. */
bool usb_leads_over(const struct booth *b, const char *at, const char *hub);
/* Whether a plug stands in a port that its place does not have, or that holds something else as
 * well; false for what is in no port. */
bool usb_port_wrong(const struct booth *b, const struct plug *plug);
/* Whether more hubs lie between the host and what stands in this plug than USB 2.0 (4.1.1) allows.
 */
bool usb_too_deep(const struct booth *b, const struct plug *plug);

/* --- power --- */

/* The current that one port of a place gives, in mA. */
int usb_port_ma(const struct booth *b, const char *at);
/* The current that a thing draws from its port, in mA; 0 with a supply of its own. */
int usb_needs_ma(const struct booth *b, const char *thing);
/* Whether a place is a hub without a supply of its own. */
bool usb_bus_powered(const struct booth *b, const char *at);
/* Whether, and why not, a port of a place feeds a thing: that hangs without a supply on what has
 * none; that needs more than the port gives; that has no supply and more things on it than it can
 * feed (USB 2.0, 7.2.1). The first that holds. */
enum usb_hunger { USB_FED, USB_UNSUPPLIED, USB_STARVED, USB_CROWDED };
enum usb_hunger usb_hunger(const struct booth *b, const char *thing, const char *at);
/* Whether a thing could be plugged into some port of a place: that leads to the host, not over
 * the thing itself nor over too many hubs, and can feed it. */
bool usb_could_hang(const struct booth *b, const char *thing, const char *at);

/* --- traffic --- */

/* The largest packet, in bytes, of sound at a rate: one frame more than the rate needs on average,
 * rounded up, times channels, times the bytes of a sample. 0 without channels. */
int usb_packet_bytes(int rate_hz, int channels, int sample_bytes, enum speed speed);
/* The time on the bus, in ns, of one isochronous packet of so many bytes; more than 1024 at high
 * speed go as two or three transactions. 0 for none, and at super speed, which has a bus of its
 * own. */
long usb_packet_ns(int bytes, enum speed speed, bool in);

/* In how many transactions a packet goes: 0 for none, 1; at high speed one for each 1024 bytes. */
int usb_transactions(int bytes, enum speed speed);
/* The largest packet, in bytes, that a speed allows in a frame or microframe; 0 at super speed:
 * not counted here. */
int usb_most_bytes(enum speed speed);
/* The time, in ns, that periodic traffic may take of a frame or microframe; 0 at super speed. */
long usb_limit_ns(enum speed speed);

/* What a joined card's sound asks of its bus. */
struct usb_load {
    int out_bytes, in_bytes; /* the largest packets, to and from the device */
    long out_ns, in_ns;      /* their times, in each frame (full speed) or microframe */
};
struct usb_load usb_load_of(const struct device *d, int rate_hz);
enum speed usb_speed(const struct device *d);

/* What shares its time: the high-speed cards of a bus, the full-speed ones plugged straight into a
 * bus, or those behind one translator (a hub, or one port of it). */
struct usb_lane {
    const char *at; /* "host" or the hub, borrowed from the booth; NULL: no traffic */
    int part;       /* of the host: the bus, from 0; of a hub: the port that has its own translator,
                       or 0 */
    enum speed speed;
};
/* The lane of a device of b: at is NULL when it is not joined, leads to no host, or is super speed.
 */
struct usb_lane usb_lane_of(const struct booth *b, const struct device *d);
/* Whether both are lanes, and the same. */
bool usb_lane_same(struct usb_lane a, struct usb_lane b);
/* Whether the i-th device (i < b->devices.n) is the first of its lane, and there is one. */
bool usb_lane_first(const struct booth *b, size_t i);

/* All the traffic of a lane. */
struct usb_traffic {
    size_t cards;
    long ns;   /* in each frame or microframe */
    int bytes; /* the largest packet */
};
struct usb_traffic usb_traffic_of(const struct booth *b, struct usb_lane lane);
/* Whether that is more than the lane carries: a packet too large, or too much time. */
bool usb_traffic_over(struct usb_lane lane, struct usb_traffic t);

#endif
