/* What is used of what there is: the buses' time, the ports and their current, the depth of hubs,
 * the clocks, the buffer, the levels at the inputs.
 *
 * The sums are those that the faults ask (usb.h, timing.h, levels.h): something is over here
 * exactly where check finds the fault whose slug stands beside it. Within each kind the worst comes
 * first: what is over, then the largest share used, then as it stands in the file. */
#ifndef ENGINE_BUDGET_H
#define ENGINE_BUDGET_H

#include "base/str.h"
#include "engine/levels.h"
#include "engine/usb.h"

/* So much of so much; most may be 0. What ears, eyes and bars see. */
struct budget_use {
    long used, most;
};

/* The first member of each row. */
struct budget_row {
    bool over;       /* more is used than there is, or it cannot be at all */
    long long share; /* in millionths of what there is; has no meaning beyond its kind */
    size_t nth;      /* in the file's order */
};

/* What shares its time with each other: a bus, or what lies behind one translator. usb-bandwidth */
struct budget_bus {
    struct budget_row row;
    struct usb_lane lane;
    size_t cards;
    struct budget_use ns;    /* of each frame (full speed) or microframe (high speed) */
    struct budget_use bytes; /* the largest packet, of what the speed allows */
};

/* A joined card. over: no-common-rate, it cannot run at the host's rate. */
struct budget_card {
    struct budget_row row;
    const struct device *device;
    struct usb_load load;
    int most_bytes;        /* that its speed allows in a packet; 0 at super speed */
    int out_sent, in_sent; /* transactions in each frame or microframe */
    bool counted;          /* on a bus: plugged in, and not at super speed */
};

/* The laptop or a hub. Its row is over when any of the three below is. */
struct budget_hub {
    struct budget_row row;
    const char *at;          /* "host" or the hub's id */
    struct budget_use ports; /* things plugged in, of ports */
    struct budget_use hubs;  /* between the laptop and what is plugged in here, of 5; used is -1
                                when it does not lead to the laptop */
    struct budget_use ma;    /* what all things here draw, of what all the ports give: of a hub
                                without a supply at most four */
    int port_ma;
    bool ports_over; /* usb-ports: two things in one port, or a port that is not there */
    bool hubs_over;  /* usb-depth: a device here is too deep */
    bool power_over; /* usb-power: a port here does not feed what is in it */
};

/* What is plugged into a port. over: usb-power. */
struct budget_lead {
    struct budget_row row;
    const char *thing;
    const struct plug *plug;
    struct budget_use ma; /* what it draws, of what its port gives */
    enum usb_hunger hunger;
};

/* Two joined cards. over: free-running-clocks. */
struct budget_clocks {
    struct budget_row row;
    const struct device *a, *b; /* in joining order */
    int ppm;                    /* how far their clocks may part: the tolerances added */
    double per_second;          /* samples that slip in the worst case, without correction */
    double seconds;             /* from one to the next; 0 when none slips */
};

/* A cable. over: level-mismatch. */
struct budget_level {
    struct budget_row row;
    const struct cable *cable;
    enum level out, in;
    enum levels_fit fit;
    bool has_figure;
    int cdbu;   /* what the output gives, in hundredths of a dBu: line at full scale */
    int margin; /* hundredths of a dB above what the input is made for */
};

struct budget {
    struct budget_bus *buses;
    size_t n_buses;
    struct budget_card *cards;
    size_t n_cards;
    struct budget_hub *hubs; /* the laptop and every hub */
    size_t n_hubs;
    struct budget_lead *leads;
    size_t n_leads;
    struct budget_clocks *clocks;
    size_t n_clocks;
    struct budget_level *levels;
    size_t n_levels;
    struct ints rates_hz; /* that all joined cards can run at, ascending */
    double latency_ms;    /* of two buffers */
    bool latency_over;    /* long-latency */
};

/* The budget of a sound booth, which it borrows from: b must outlive it unchanged. Free with
 * budget_free(). */
struct budget *budget_make(const struct booth *b);
void budget_free(struct budget *budget);

/* Appends a bar of so many columns within brackets, for a share in millionths: something used is
 * never an empty bar, and over is a full one that ends in "!". */
void budget_say_bar(bool over, long long share, int columns, struct str *out);

/* Appends nanoseconds as microseconds, rounded up to tenths: "236.8"; hundredths of a dB with their
 * sign: "+8.24". */
void budget_say_us(long ns, struct str *out);
void budget_say_db(int hundredths, struct str *out);

#endif
