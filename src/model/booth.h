/* The booth: a host, devices, hubs, cables, a joined list and decks, as plain records.
 *
 *   host decks --(channel pairs)--> joined cards --(outputs, cables)--> inputs of strips
 *
 * Records hold names of each other (ids, "p1.line"), never pointers: a record can be copied,
 * compared and kept across changes. Texts are owned by their record; the fields of every record
 * stand in one table in shape.c, and what must hold between records in sound.c.
 *
 * Readers take a const booth. Only model/ (changes, edits, new venues) and the file reader write
 * into one. */
#ifndef MODEL_BOOTH_H
#define MODEL_BOOTH_H

#include <stdbool.h>
#include <stddef.h>

#include "model/words.h"

enum {
    ID_SIZE = 33,  /* an id and its NUL */
    REF_SIZE = 66, /* an id, or "owner.jack", and its NUL */
    LABEL_MAX = 64,
    MAX_PLAYERS = 64,
    MAX_STRIPS = 64,
    MAX_DECKS = 64,
    MAX_HUBS = 32,
    MAX_DEVICES = 128,
    MAX_CABLES = 256,
    MAX_CHANNEL = 16383, /* the highest channel that a deck can be set to */
};

/* What a file said that the model has no use for; opaque to all but file/. First member of every
 * record. */
struct kept {
    unsigned seen; /* which fields were spelled out though they have their default */
    char *json;    /* unknown members as a JSON object, or NULL */
};

struct ints {
    int *v;
    size_t n;
};

struct texts {
    char **v;
    size_t n;
};

/* Names with a text each, in the file's order; no name twice. */
struct entry {
    char *key;
    char *value; /* NULL: null */
};
struct map {
    struct entry *v;
    size_t n;
};

/* Where a data lead goes: a port of the host or a hub (at, port from 1), "built-in" (port 0), or
 * nowhere (at is ""). */
struct plug {
    char at[ID_SIZE];
    int port;
};

struct venue {
    struct kept kept;
    char *name, *room, *notes;
};

struct combination {
    struct kept kept;
    char *name;
    struct texts models;
};
struct combinations {
    struct combination *v;
    size_t n;
};

/* Minutes of a person's own, in thousandths; -1: the default. */
struct minutes {
    struct kept kept;
    int set, selector, switch_, source, move, add, unplug, join, leave, plug;
};

struct host {
    struct kept kept;
    enum channel_names channel_names;
    enum combining combining;
    enum gap gap;
    enum on_drop on_drop;
    bool drift_correction;
    int rate_hz, buffer_frames, usb_ports;
    int usb_buses, port_ma, latency_limit_ms;
    struct combinations combinations;
    struct minutes *minutes; /* NULL: none */
};

struct card {
    struct kept kept;
    int out_channels, in_channels, bits, slot_bytes /* 0: unsaid */, clock_ppm;
    struct ints rates_hz; /* empty: 44100 and 48000, see card_runs_at() */
};

struct usb {
    struct kept kept;
    enum speed speed;
    int max_power_ma;
    bool self_powered;
};

/* One stereo connection out of a device. channels: one or two of the card's, from 1; without a
 * card they only say the sides. */
struct output {
    struct kept kept;
    char id[ID_SIZE];
    enum connector connector;
    enum level level;
    struct ints channels;
};
struct outputs {
    struct output *v;
    size_t n;
};

struct input {
    struct kept kept;
    char id[ID_SIZE];
    enum connector connector;
    enum level level;
    struct ints levels;   /* enum level; not empty: there is a switch between these */
    struct ints channels; /* of a usb input: one or two card channels, from 1 */
    char *socket;         /* of a usb input: which computer socket; NULL: the only one */
};
struct inputs {
    struct input *v;
    size_t n;
};

struct strip {
    struct kept kept;
    char id[ID_SIZE];
    char *label;
    int place;
    char selected[REF_SIZE]; /* an input of this strip */
    enum crossfader crossfader;
    char *in_use; /* by whom; NULL: free */
    struct inputs inputs;
};
struct strips {
    struct strip *v;
    size_t n;
};

struct device {
    struct kept kept;
    char id[ID_SIZE];
    enum device_kind kind;
    char *label;
    int place;
    char *model, *family, *firmware, *firmware_min;
    char *in_use; /* by whom; NULL: free */
    enum source source;
    enum control control;
    struct plug plugged;
    char *socket;      /* of a mixer: which of its computer sockets our lead is in */
    struct card *card; /* NULL: none */
    struct usb *usb;   /* NULL: all defaults */
    struct outputs outputs;
    struct inputs inputs; /* of an interface */
    struct strips strips; /* of a mixer */
};
struct devices {
    struct device *v;
    size_t n;
};

struct hub {
    struct kept kept;
    char id[ID_SIZE];
    char *label; /* NULL: its id */
    int ports;
    bool self_powered;
    struct plug plugged;
    int port_ma; /* 0: what the standard gives */
    bool multi_tt;
};
struct hubs {
    struct hub *v;
    size_t n;
};

struct cable {
    struct kept kept;
    char from[REF_SIZE], to[REF_SIZE];
    enum sides sides;
};
struct cables {
    struct cable *v;
    size_t n;
};

/* Two channels of the interface, from 0; left -1: none. */
struct pair {
    int left, right;
};

struct deck {
    struct kept kept;
    char id[ID_SIZE];
    char *label;
    char wants[REF_SIZE];         /* a strip; "": undecided */
    char controlled_by[REF_SIZE]; /* a player, controller or turntable; "": nothing */
    struct pair set_to;
};
struct decks {
    struct deck *v;
    size_t n;
};

/* The booth as it was when it was surveyed. Names in here may be gone by now. */
struct found {
    struct kept kept;
    struct cables cables;
    struct map selected, level, source, plugged;
    struct map gone; /* labels of things that it names and that were taken out of the booth since */
};

struct mark {
    struct kept kept;
    char strip[REF_SIZE];
    enum ear left, right;
};
struct marks {
    struct mark *v;
    size_t n;
};
struct listen {
    struct kept kept;
    char deck[REF_SIZE];
    struct marks heard; /* empty: silence */
    char *basis;        /* what it rests on (see engine/basis.h); NULL: not told */
};
struct listens {
    struct listen *v;
    size_t n;
};

struct booth {
    struct kept kept;
    struct venue venue;
    struct host host;
    struct devices devices;
    struct hubs hubs;
    struct cables cables;
    struct texts joined; /* ids of devices, in connection order */
    struct decks decks;
    struct found *found;  /* NULL: not surveyed */
    struct map checklist; /* step id -> "done" */
    struct map step_notes;
    struct listens line_check;
};

/* An empty booth with a venue of that name. Free with booth_free(). */
struct booth *booth_new(const char *name);
struct booth *booth_copy(const struct booth *b);
void booth_free(struct booth *b);
bool booth_equal(const struct booth *a, const struct booth *b);

/* Find by id; NULL when there is none. What they return is borrowed until the booth changes. */
const struct device *booth_device(const struct booth *b, const char *id);
const struct hub *booth_hub(const struct booth *b, const char *id);
const struct deck *booth_deck(const struct booth *b, const char *id);
/* What the line check tells of a deck: the first entry. */
const struct listen *booth_listen(const struct booth *b, const char *deck);
/* mixer may be NULL; else it receives the strip's mixer. */
const struct strip *booth_strip(const struct booth *b, const char *id, const struct device **mixer);

/* The ends of a cable. */
struct out_end {
    const struct device *device;
    const struct output *output;
};
struct in_end {
    const struct device *device; /* the mixer, or the interface */
    const struct strip *strip;   /* NULL: an input of an interface */
    const struct input *input;
};

/* Resolves "p1.line" to an output, "s1.line" (or "x1.line") to an input; false when there is
 * none. end may be NULL where only the answer matters. */
bool booth_output(const struct booth *b, const char *name, struct out_end *end);
bool booth_input(const struct booth *b, const char *name, struct in_end *end);

/* The cable between two ends, or NULL. */
const struct cable *booth_cable(const struct booth *b, const char *from, const char *to);

/* The first device in use that is plugged into a hub, or into one behind it; NULL: none. */
const struct device *booth_used_on(const struct booth *b, const char *hub);

/* The position of a device in the joined list, or -1. */
int booth_joined_at(const struct booth *b, const char *device);

/* The host's saved combination of exactly the joined devices' models, in their order; NULL when
 * there is none. A device whose model is not told fits no saved one. */
const struct combination *booth_combination(const struct booth *b);
bool combination_fits(const struct combination *c, const struct booth *b);

/* The input that a strip is switched to (never NULL in a sound booth); an input by id, or NULL. */
const struct input *strip_selected(const struct strip *s);
const struct input *strip_input(const struct strip *s, const char *id);

/* Whether a usb input is in the socket that our lead is in (both unsaid: yes). */
bool input_is_ours(const struct device *mixer, const struct input *in);

/* Whether a card can run at a rate in Hz. */
bool card_runs_at(const struct card *c, int rate_hz);

/* What people call whatever has this id: its label, "laptop" for "host", the id itself where
 * nothing has it. Borrowed from b or id. */
const char *booth_label(const struct booth *b, const char *id);

/* Whether anything is in use: then the room is live. */
bool booth_live(const struct booth *b);

/* "owner.jack" into its parts; false when it is not of that form. */
bool ref_split(const char *name, char owner[ID_SIZE], char jack[ID_SIZE]);

/* "hub1.2", "host.1" or "built-in" into a plug (ports of at most 9 digits; whether such a hub is
 * there is not asked), false when it is none of them; and back, "" for nowhere. */
bool plug_read(const char *text, struct plug *p);
void plug_text(const struct plug *p, char text[REF_SIZE]);

/* Whether a text is an id: [a-z0-9-]{1,32}. */
bool id_valid(const char *text);

/* The entry of a name, or NULL. */
const struct entry *map_find(const struct map *m, const char *key);

#endif
