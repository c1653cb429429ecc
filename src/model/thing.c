/* Making and removing things.
 *
 * A new thing is complete: it can be cabled, joined and wanted at once. It never takes the id of
 * something that the venue still remembers, or an old tick would speak for the new thing. */
#include "model/thing.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "model/shape.h"

/* A kind of thing: how it is called, and how its ids and labels begin. */
struct kind {
    const char *word, *prefix, *label;
};

static const struct kind kinds[] = {
    [THING_PLAYER] = {"player", "p", "P"},
    [THING_TURNTABLE] = {"turntable", "t", "T"},
    [THING_MIXER] = {"mixer", "m", "M"},
    [THING_INTERFACE] = {"interface", "x", "X"},
    [THING_CONTROLLER] = {"controller", "c", "C"},
    [THING_STRIP] = {"strip", "s", ""},
    [THING_DECK] = {"deck", "h", "H"},
    [THING_HUB] = {"hub", "hub", "Hub "},
};

const char *thing_word(int kind)
{
    return kind >= 0 && kind <= THING_HUB ? kinds[kind].word : "thing";
}

static void *add(const struct shape *owner, void *record, const char *key)
{
    const struct field *f = shape_field(owner, key);
    return records_add(f, field_in(f, record));
}

static void drop(struct booth *b, const char *key, size_t at)
{
    const struct field *f = shape_field(&shape_booth, key);
    records_splice(f, field_in(f, b), at, 1, NULL, 0);
}

static void *new_record(const struct shape *s)
{
    void *record = mem_new(1, s->size);
    record_init(s, record);
    return record;
}

/* --- ids and places --------------------------------------------------------------------------- */

static bool is_there(const struct booth *b, const char *id)
{
    return booth_device(b, id) || booth_strip(b, id, NULL) || booth_deck(b, id) || booth_hub(b, id);
}

/* Whether a tick, a note, a line check or the booth as found still speaks of it. */
static bool is_remembered(const struct booth *b, const char *id)
{
    const struct map *steps[] = {&b->checklist, &b->step_notes};
    size_t n = strlen(id);
    for (size_t m = 0; m < 2; m++)
        for (size_t i = 0; i < steps[m]->n; i++) {
            const char *key = steps[m]->v[i].key;
            size_t length = strlen(key);
            if (length > n && key[length - n - 1] == '-' && strcmp(key + length - n, id) == 0)
                return true;
        }
    for (size_t i = 0; i < b->line_check.n; i++)
        if (strcmp(b->line_check.v[i].deck, id) == 0)
            return true;
    return b->found && (map_find(&b->found->source, id) || map_find(&b->found->selected, id) ||
                        map_find(&b->found->plugged, id));
}

/* How many things of a kind there are. */
static size_t count_of(const struct booth *b, enum thing kind)
{
    size_t n = 0;
    if (kind == THING_DECK)
        return b->decks.n;
    if (kind == THING_HUB)
        return b->hubs.n;
    for (size_t i = 0; i < b->devices.n; i++)
        n += kind == THING_STRIP ? b->devices.v[i].strips.n
                                 : (enum thing)b->devices.v[i].kind == kind;
    return n;
}

/* The next free number: the first after as many as there are that no id has or had. */
static int name_it(const struct booth *b, enum thing kind, char id[ID_SIZE])
{
    int n = (int)count_of(b, kind);
    do
        snprintf(id, ID_SIZE, "%s%d", kinds[kind].prefix, ++n);
    while (is_there(b, id) || is_remembered(b, id));
    return n;
}

static void label_it(char **label, enum thing kind, int number)
{
    char text[ID_SIZE];
    snprintf(text, sizeof text, "%s%d", kinds[kind].label, number);
    text_set(label, text);
}

static bool port_is_free(const struct booth *b, const char *at, int port)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct plug *p = &b->devices.v[i].plugged;
        if (p->port == port && strcmp(p->at, at) == 0)
            return false;
    }
    for (size_t i = 0; i < b->hubs.n; i++) {
        const struct plug *p = &b->hubs.v[i].plugged;
        if (p->port == port && strcmp(p->at, at) == 0)
            return false;
    }
    return true;
}

int thing_free_port(const struct booth *b, const char *at)
{
    const struct hub *hub = booth_hub(b, at);
    int ports = hub ? hub->ports : strcmp(at, "host") == 0 ? b->host.usb_ports : 0;
    for (int port = 1; port <= ports; port++)
        if (port_is_free(b, at, port))
            return port;
    return 0;
}

static struct plug free_plug(const struct booth *b, const char *at)
{
    struct plug p = {.port = thing_free_port(b, at)};
    if (p.port)
        snprintf(p.at, sizeof p.at, "%s", at);
    return p;
}

/* --- devices ---------------------------------------------------------------------------------- */

static void give_card(struct device *d, int channels)
{
    d->card = new_record(&shape_card);
    d->card->out_channels = channels;
}

static void give_output(struct device *d, const char *id, enum connector connector,
                        enum level level, int first)
{
    struct output *o = add(&shape_device, d, "outputs");
    snprintf(o->id, sizeof o->id, "%s", id);
    o->connector = connector;
    o->level = level;
    ints_add(&o->channels, first);
    ints_add(&o->channels, first + 1);
}

/* The last device of a kind, or NULL. */
static const struct device *last_of(const struct booth *b, enum device_kind kind)
{
    for (size_t i = b->devices.n; i > 0; i--)
        if (b->devices.v[i - 1].kind == kind)
            return &b->devices.v[i - 1];
    return NULL;
}

/* Copies one field from a device of the same kind. */
static void take_after(struct device *d, const struct device *like, const char *key)
{
    const struct field *f = shape_field(&shape_device, key);
    field_clear(f, field_in(f, d));
    field_copy(f, field_in(f, d), field_of(f, like));
}

static void make_player(const struct booth *b, struct device *d, const struct device *like)
{
    if (like) {
        static const char *const same[] = {"model", "family", "firmware_min", "control", "usb"};
        for (size_t i = 0; i < sizeof same / sizeof *same; i++)
            take_after(d, like, same[i]);
        d->plugged = free_plug(b, like->plugged.at);
    }
    if (like && like->card && like->outputs.n) {
        take_after(d, like, "card");
        take_after(d, like, "outputs");
        return;
    }
    give_card(d, 2);
    give_output(d, "line", CONNECTOR_RCA, LEVEL_LINE, 1);
    give_output(d, "digital", CONNECTOR_COAX, LEVEL_DIGITAL, 1);
}

static void make_interface(const struct booth *b, struct device *d)
{
    give_card(d, 8);
    for (int i = 1; i <= 4; i++) {
        char id[ID_SIZE];
        snprintf(id, sizeof id, "o%d", i);
        give_output(d, id, CONNECTOR_TRS, LEVEL_LINE, 2 * i - 1);
    }
    d->plugged = free_plug(b, "host");
}

static void make_controller(const struct booth *b, struct device *d)
{
    d->control = CONTROL_MIDI;
    give_card(d, 2);
    give_output(d, "line", CONNECTOR_RCA, LEVEL_LINE, 1);
    d->plugged = free_plug(b, "host");
}

static struct strip *make_strip(const struct booth *b, struct device *mixer);

static void make_device(struct booth *b, enum thing kind)
{
    enum device_kind device_kind = (enum device_kind)kind;
    struct device fresh;
    record_init(&shape_device, &fresh);
    fresh.kind = device_kind;
    label_it(&fresh.label, kind, name_it(b, kind, fresh.id));
    for (size_t i = 0; i < b->devices.n; i++)
        if (b->devices.v[i].kind == device_kind && b->devices.v[i].place > fresh.place)
            fresh.place = b->devices.v[i].place;
    fresh.place += fresh.place < 999;
    switch (device_kind) {
    case KIND_PLAYER:
        make_player(b, &fresh, last_of(b, KIND_PLAYER));
        break;
    case KIND_TURNTABLE:
        give_output(&fresh, "phono", CONNECTOR_RCA, LEVEL_PHONO, 1);
        break;
    case KIND_MIXER:
        make_strip(b, &fresh);
        break;
    case KIND_INTERFACE:
        make_interface(b, &fresh);
        break;
    case KIND_CONTROLLER:
        make_controller(b, &fresh);
        break;
    }
    const struct field *f = shape_field(&shape_booth, "devices");
    records_splice(f, &b->devices, b->devices.n, 0, &fresh, 1);
    record_clear(&shape_device, &fresh);
}

/* --- strips ----------------------------------------------------------------------------------- */

static struct input *give_input(struct strip *s, const char *id, enum level level)
{
    struct input *in = add(&shape_strip, s, "inputs");
    snprintf(in->id, sizeof in->id, "%s", id);
    in->level = level;
    in->connector = level == LEVEL_USB ? CONNECTOR_UNSAID : CONNECTOR_RCA;
    return in;
}

static bool same_socket(const char *a, const char *b)
{
    return strcmp(a ? a : "", b ? b : "") == 0;
}

/* The highest channel of the card that a usb input of that socket carries. */
static int highest_channel(const struct device *mixer, const char *socket)
{
    int highest = 0;
    for (size_t i = 0; i < mixer->strips.n; i++)
        for (size_t k = 0; k < mixer->strips.v[i].inputs.n; k++) {
            const struct input *in = &mixer->strips.v[i].inputs.v[k];
            for (size_t c = 0; c < in->channels.n; c++)
                if (in->level == LEVEL_USB && same_socket(in->socket, socket) &&
                    in->channels.v[c] > highest)
                    highest = in->channels.v[c];
        }
    return highest;
}

/* A usb input with the next two channels of the card, if it has them. */
static void give_usb(const struct device *mixer, struct strip *s, const char *id,
                     const char *socket)
{
    int first = highest_channel(mixer, socket) + 1;
    if (!mixer->card || first + 1 > mixer->card->out_channels || strip_input(s, id))
        return;
    struct input *in = give_input(s, id, LEVEL_USB);
    ints_add(&in->channels, first);
    ints_add(&in->channels, first + 1);
    text_set(&in->socket, socket);
}

/* Inputs as the neighbour's; a usb input gets channels of its own. */
static void wire_like(const struct device *mixer, struct strip *s, const struct strip *neighbour)
{
    const struct field *f = shape_field(&shape_strip, "inputs");
    bool usb = false;
    for (size_t i = 0; i < neighbour->inputs.n; i++) {
        const struct input *in = &neighbour->inputs.v[i];
        usb = usb || in->level == LEVEL_USB;
        if (in->level == LEVEL_USB)
            give_usb(mixer, s, in->id, in->socket);
        else
            records_splice(f, &s->inputs, s->inputs.n, 0, in, 1);
    }
    if (!usb)
        give_usb(mixer, s, "usb", mixer->socket);
    if (s->inputs.n == 0)
        give_input(s, "line", LEVEL_LINE);
}

/* The printed numbers go on where they stopped; the name is made of the id where there are none. */
static void label_strip(const struct device *mixer, struct strip *s, int number)
{
    int highest = 0;
    for (size_t i = 0; i < mixer->strips.n; i++) {
        const char *label = mixer->strips.v[i].label;
        if (label[strspn(label, "0123456789")] == '\0' && strlen(label) < 4 &&
            atoi(label) > highest)
            highest = atoi(label);
    }
    label_it(&s->label, THING_STRIP, highest ? highest + 1 : mixer->strips.n ? number : 1);
}

/* Adds a strip to a mixer, which need not be in the booth yet. */
static struct strip *make_strip(const struct booth *b, struct device *mixer)
{
    struct strip s;
    const struct strip *neighbour = NULL;
    record_init(&shape_strip, &s);
    int number = name_it(b, THING_STRIP, s.id);
    label_strip(mixer, &s, number);
    for (size_t i = 0; i < mixer->strips.n; i++)
        if (!neighbour || mixer->strips.v[i].place >= neighbour->place)
            neighbour = &mixer->strips.v[i];
    s.place = !neighbour ? 1 : neighbour->place + (neighbour->place < 999);
    if (neighbour) {
        wire_like(mixer, &s, neighbour);
    } else {
        give_input(&s, "line", LEVEL_LINE);
        give_input(&s, "phono", LEVEL_PHONO);
        give_usb(mixer, &s, "usb", mixer->socket);
    }
    bool same = neighbour && strip_input(&s, neighbour->selected);
    snprintf(s.selected, sizeof s.selected, "%s", same ? neighbour->selected : s.inputs.v[0].id);
    const struct field *f = shape_field(&shape_device, "strips");
    records_splice(f, &mixer->strips, mixer->strips.n, 0, &s, 1);
    record_clear(&shape_strip, &s);
    return &mixer->strips.v[mixer->strips.n - 1];
}

static bool add_strip(struct booth *b, const char *mixer, struct err *e)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        struct device *d = &b->devices.v[i];
        bool named = mixer && *mixer ? strcmp(d->id, mixer) == 0 : d->kind == KIND_MIXER;
        if (!named || d->kind != KIND_MIXER)
            continue;
        make_strip(b, d);
        return true;
    }
    if (mixer && *mixer)
        return err_set(e, ERR_USAGE, "", "there is no mixer \"%s\" for a strip", mixer);
    return err_set(e, ERR_USAGE, "", "there is no mixer for a strip; add one first");
}

/* --- adding ----------------------------------------------------------------------------------- */

static void add_deck(struct booth *b)
{
    char id[ID_SIZE];
    int number = name_it(b, THING_DECK, id);
    struct deck *d = add(&shape_booth, b, "decks");
    strcpy(d->id, id);
    label_it(&d->label, THING_DECK, number);
}

static void add_hub(struct booth *b)
{
    char id[ID_SIZE];
    int number = name_it(b, THING_HUB, id);
    struct plug plugged = free_plug(b, "host");
    struct hub *h = add(&shape_booth, b, "hubs");
    strcpy(h->id, id);
    label_it(&h->label, THING_HUB, number);
    h->ports = 4;
    h->plugged = plugged;
}

static bool room_for(size_t n, size_t most, const char *what, struct err *e)
{
    return n < most || err_set(e, ERR_USAGE, "", "a booth has at most %zu %s", most, what);
}

static bool has_room(const struct booth *b, enum thing kind, struct err *e)
{
    bool strip = kind == THING_STRIP || kind == THING_MIXER;
    if (kind == THING_DECK)
        return room_for(b->decks.n, MAX_DECKS, "host decks", e);
    if (kind == THING_HUB)
        return room_for(b->hubs.n, MAX_HUBS, "hubs", e);
    return (kind != THING_PLAYER ||
            room_for(count_of(b, THING_PLAYER), MAX_PLAYERS, "players", e)) &&
           (!strip || room_for(count_of(b, THING_STRIP), MAX_STRIPS, "strips", e)) &&
           (kind == THING_STRIP || room_for(b->devices.n, MAX_DEVICES, "devices", e));
}

bool thing_add(struct booth *b, enum thing kind, const char *mixer, struct err *e)
{
    if (!has_room(b, kind, e))
        return false;
    if (kind == THING_STRIP)
        return add_strip(b, mixer, e);
    if (kind == THING_DECK)
        add_deck(b);
    else if (kind == THING_HUB)
        add_hub(b);
    else
        make_device(b, kind);
    return true;
}

/* --- removing --------------------------------------------------------------------------------- */

static bool owned_by(const char *jack, const char *id)
{
    size_t n = strlen(id);
    return strncmp(jack, id, n) == 0 && jack[n] == '.';
}

static void drop_cables(struct booth *b, const char *id)
{
    for (size_t i = b->cables.n; i > 0; i--)
        if (owned_by(b->cables.v[i - 1].from, id) || owned_by(b->cables.v[i - 1].to, id))
            drop(b, "cables", i - 1);
}

/* Cables, wants and controlled_by that name a device or strip. */
static void let_go_of(struct booth *b, const char *id)
{
    drop_cables(b, id);
    for (size_t i = 0; i < b->decks.n; i++) {
        struct deck *d = &b->decks.v[i];
        if (strcmp(d->wants, id) == 0)
            d->wants[0] = '\0';
        if (strcmp(d->controlled_by, id) == 0)
            d->controlled_by[0] = '\0';
    }
}

static void remove_device(struct booth *b, size_t at)
{
    const struct device *d = &b->devices.v[at];
    int joined = booth_joined_at(b, d->id);
    let_go_of(b, d->id);
    for (size_t i = 0; i < d->strips.n; i++)
        let_go_of(b, d->strips.v[i].id);
    if (joined >= 0)
        texts_remove(&b->joined, (size_t)joined);
    drop(b, "devices", at);
}

static bool remove_strip(struct booth *b, const char *id)
{
    const struct field *f = shape_field(&shape_device, "strips");
    for (size_t i = 0; i < b->devices.n; i++)
        for (size_t k = 0; k < b->devices.v[i].strips.n; k++) {
            if (strcmp(b->devices.v[i].strips.v[k].id, id) != 0)
                continue;
            let_go_of(b, id);
            records_splice(f, &b->devices.v[i].strips, k, 1, NULL, 0);
            return true;
        }
    return false;
}

static void pull_from(struct plug *p, const char *hub)
{
    if (strcmp(p->at, hub) == 0)
        *p = (struct plug){"", 0};
}

static void remove_hub(struct booth *b, size_t at)
{
    const char *id = b->hubs.v[at].id;
    for (size_t i = 0; i < b->devices.n; i++)
        pull_from(&b->devices.v[i].plugged, id);
    for (size_t i = 0; i < b->hubs.n; i++)
        pull_from(&b->hubs.v[i].plugged, id);
    drop(b, "hubs", at);
}

bool thing_remove(struct booth *b, const char *id, struct err *e)
{
    const struct device *d = booth_device(b, id);
    const struct deck *deck = booth_deck(b, id);
    const struct hub *hub = booth_hub(b, id);
    if (d)
        remove_device(b, (size_t)(d - b->devices.v));
    else if (deck)
        drop(b, "decks", (size_t)(deck - b->decks.v));
    else if (hub)
        remove_hub(b, (size_t)(hub - b->hubs.v));
    else if (!remove_strip(b, id))
        return err_set(e, ERR_USAGE, "", "there is nothing called \"%s\" here", id);
    return true;
}
