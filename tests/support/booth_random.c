/* Random booths: every die is thrown from one state, so that a seed tells the whole booth.
 *
 * Things are made first (devices in a shuffled order, hubs), then what names them (plugs, cables,
 * joined, decks, found). No expression throws two dice: their order would be the compiler's. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "model/sound.h"
#include "support/booth_from.h"
#include "support/records.h"

struct dice {
    unsigned long long state;
    struct booth *b;
    int made[8]; /* devices of each kind so far */
    int strips, channels;
};

unsigned random_below(unsigned long long *state, unsigned n)
{
    /* the mixing steps of a counter-based generator: neighbouring seeds share nothing */
    *state += 0x9e3779b97f4a7c15ull;
    unsigned long long z = *state;
    z = (z ^ z >> 30) * 0xbf58476d1ce4e5b9ull;
    z = (z ^ z >> 27) * 0x94d049bb133111ebull;
    return (unsigned)((z ^ z >> 31) >> 32) % n;
}

static int below(struct dice *d, int n)
{
    return (int)random_below(&d->state, (unsigned)n);
}

static int between(struct dice *d, int low, int high)
{
    return low + below(d, high - low + 1);
}

/* True once in n throws. */
static bool once_in(struct dice *d, int n)
{
    return below(d, n) == 0;
}

static const char *text_of(struct dice *d)
{
    static const char *const texts[] = {
        "dunlin 2",
        "plover 3",
        "gritstone 4",
        "shale 8",
        "Robin",
        "the DJ before",
        "microphone",
        "M\xc3\xb8rk r\xc3\xb8kelse",
        "\xe5\xb7\xa6\xe3\x81\xae\xe5\x8d\x93",
        "say \"left\" \\ right / both",
        "two\nlines\tand a bell\x07",
        "\x7f \xc2\x9b \xe2\x80\xae turned",
        "3",
        "-",
    };
    return texts[below(d, sizeof texts / sizeof *texts)];
}

static void maybe_text(struct dice *d, char **field, int once)
{
    if (once_in(d, once))
        text_set(field, text_of(d));
}

static void set_ref(char *ref, const char *id)
{
    snprintf(ref, REF_SIZE, "%s", id);
}

static void name_device(struct dice *d, struct device *v)
{
    static const char letters[] = "ptmxc";
    snprintf(v->id, sizeof v->id, "%c%d", letters[v->kind], ++d->made[v->kind]);
}

/* --- cards and jacks -------------------------------------------------------------------------- */

static void give_card(struct dice *d, struct device *v, int most)
{
    struct card *c = v->card = mem_new(1, sizeof *c);
    record_init(&shape_card, c);
    c->out_channels = once_in(d, 2) ? 2 : between(d, 1, most);
    c->in_channels = once_in(d, 3) ? below(d, 13) : 0;
    if (once_in(d, 4))
        c->bits = once_in(d, 2) ? 16 : 32;
    if (once_in(d, 8))
        c->slot_bytes = between(d, 1, 8);
    if (once_in(d, 6))
        c->clock_ppm = below(d, 200);
    static const int rates[] = {44100, 48000, 88200, 96000};
    for (int i = 0; i < 4 && once_in(d, 2); i++)
        ints_add(&c->rates_hz, rates[i]);
    if (once_in(d, 3)) {
        v->usb = mem_new(1, sizeof *v->usb);
        record_init(&shape_usb, v->usb);
        v->usb->speed = (enum speed)below(d, 3);
        v->usb->self_powered = !once_in(d, 3);
        v->usb->max_power_ma = once_in(d, 2) ? below(d, 901) : 0;
    }
}

/* One channel, or two that differ, of so many; mostly a neighbouring pair. */
static void choose_channels(struct dice *d, struct ints *channels, int most)
{
    int first = between(d, 1, most), other = between(d, 1, most);
    if (most > 1 && !once_in(d, 6)) {
        first -= first == most;
        other = first + 1;
    }
    ints_add(channels, first);
    if (other != first && !once_in(d, 8))
        ints_add(channels, other);
}

static void add_outputs(struct dice *d, struct device *v, int n)
{
    static const enum level levels[] = {LEVEL_LINE, LEVEL_LINE, LEVEL_DIGITAL, LEVEL_PHONO};
    for (int i = 1; i <= n; i++) {
        struct output *o = add_record(&shape_device, v, "outputs");
        snprintf(o->id, sizeof o->id, "o%d", i);
        o->level = v->kind == KIND_TURNTABLE && i == 1 ? LEVEL_PHONO : levels[below(d, 4)];
        o->connector = (enum connector)below(d, (int)words_connector.n);
        choose_channels(d, &o->channels, v->card ? v->card->out_channels : 2);
    }
}

static void wire_input(struct dice *d, struct input *in, const struct device *v, bool usb)
{
    in->connector = (enum connector)below(d, (int)words_connector.n);
    if (usb) {
        in->level = LEVEL_USB;
        choose_channels(d, &in->channels, v->card->out_channels);
        if (v->socket || once_in(d, 8))
            text_set(&in->socket, once_in(d, 4) ? "B" : "A");
        return;
    }
    in->level = (enum level)between(d, LEVEL_LINE, LEVEL_DIGITAL);
    if (in->level != LEVEL_DIGITAL && once_in(d, 3)) {
        bool phono_first = once_in(d, 3);
        ints_add(&in->levels, phono_first ? LEVEL_PHONO : LEVEL_LINE);
        ints_add(&in->levels, phono_first ? LEVEL_LINE : LEVEL_PHONO);
    }
}

static void add_strips(struct dice *d, struct device *v, int n)
{
    for (int i = 1; i <= n; i++) {
        struct strip *s = add_record(&shape_device, v, "strips");
        int number = ++d->strips, inputs = between(d, 1, 4);
        snprintf(s->id, sizeof s->id, "s%d", number);
        text_set(&s->label, once_in(d, 6) ? text_of(d) : s->id + 1);
        s->place = once_in(d, 5) ? between(d, 1, n) : i;
        s->crossfader = (enum crossfader)(once_in(d, 3) ? below(d, 3) : 0);
        maybe_text(d, &s->in_use, 8);
        for (int k = 1; k <= inputs; k++) {
            struct input *in = add_record(&shape_strip, s, "inputs");
            snprintf(in->id, sizeof in->id, "i%d", k);
            wire_input(d, in, v, v->card && once_in(d, 3));
        }
        snprintf(s->selected, sizeof s->selected, "i%d", between(d, 1, inputs));
    }
}

/* --- devices and hubs ------------------------------------------------------------------------- */

static void describe(struct dice *d, struct device *v, int among)
{
    static const char *const families[] = {"dunlin", "plover", "gritstone"};
    static const char *const models[] = {"dunlin 2", "plover 3", "gritstone 4"};
    static const char *const versions[] = {"1.9", "1.10", "2", "2.0.1", "0.7"};
    int family = below(d, 3);
    text_set(&v->label, once_in(d, 6) ? text_of(d) : v->id);
    v->place = once_in(d, 5) ? between(d, 1, 3) : between(d, 1, among);
    if (!once_in(d, 4))
        text_set(&v->family, families[family]);
    if (!once_in(d, 4))
        text_set(&v->model, models[family]);
    if (once_in(d, 3))
        text_set(&v->firmware, versions[below(d, 5)]);
    if (once_in(d, 3))
        text_set(&v->firmware_min, versions[below(d, 5)]);
    maybe_text(d, &v->in_use, 12);
    v->source = once_in(d, 4) ? SOURCE_OWN_MEDIA : SOURCE_COMPUTER;
    v->control = (enum control)below(d, 4);
}

static void add_device(struct dice *d, enum device_kind kind, int among)
{
    struct device *v = add_record(&shape_booth, d->b, "devices");
    v->kind = kind;
    name_device(d, v);
    describe(d, v, among);
    if (kind == KIND_MIXER && once_in(d, 3))
        text_set(&v->socket, once_in(d, 3) ? "B" : "A");
    bool card = kind == KIND_TURNTABLE ? once_in(d, 6) : !once_in(d, kind == KIND_PLAYER ? 8 : 3);
    if (card)
        give_card(d, v, kind == KIND_PLAYER ? 4 : 10);
    if (kind == KIND_MIXER)
        add_strips(d, v, between(d, 0, 8 - d->strips));
    else
        add_outputs(d, v, between(d, kind == KIND_CONTROLLER ? 0 : 1, 3));
    for (int i = 0; kind == KIND_INTERFACE && i < below(d, 3); i++) {
        struct input *in = add_record(&shape_device, v, "inputs");
        snprintf(in->id, sizeof in->id, "in%d", i + 1);
        wire_input(d, in, v, false);
    }
    if (v->card)
        d->channels += v->card->out_channels;
}

static void add_devices(struct dice *d)
{
    enum device_kind kinds[16];
    static const int most[] = {8, 2, 2, 2, 1}; /* of each kind, in the order of the enum */
    int n = 0;
    for (int kind = 0; kind < 5; kind++)
        for (int count = below(d, most[kind] + 1); count > 0; count--)
            kinds[n++] = (enum device_kind)kind;
    for (int i = n - 1; i > 0; i--) {
        int k = below(d, i + 1);
        enum device_kind kept = kinds[i];
        kinds[i] = kinds[k];
        kinds[k] = kept;
    }
    for (int i = 0; i < n; i++)
        add_device(d, kinds[i], n);
}

/* Hubs lead to the host, or to a hub before them: never in a ring. */
static void plug_in(struct dice *d, struct plug *plug, size_t hubs)
{
    if (once_in(d, 6))
        return;
    int where = below(d, (int)hubs + 1);
    if (where < (int)hubs)
        snprintf(plug->at, sizeof plug->at, "%s", d->b->hubs.v[where].id);
    else
        snprintf(plug->at, sizeof plug->at, "host");
    plug->port = between(d, 1, 5);
}

static void add_hubs(struct dice *d)
{
    int n = once_in(d, 2) ? below(d, 4) : 0;
    for (int i = 1; i <= n; i++) {
        struct hub *h = add_record(&shape_booth, d->b, "hubs");
        snprintf(h->id, sizeof h->id, "hub%d", i);
        maybe_text(d, &h->label, 2);
        h->ports = between(d, 1, 7);
        h->self_powered = once_in(d, 2);
        h->multi_tt = once_in(d, 3);
        h->port_ma = once_in(d, 4) ? between(d, 1, 1500) : 0;
        plug_in(d, &h->plugged, (size_t)i - 1);
    }
    for (size_t i = 0; i < d->b->devices.n; i++) {
        struct device *v = &d->b->devices.v[i];
        plug_in(d, &v->plugged, d->b->hubs.n);
        if (v->kind == KIND_INTERFACE && once_in(d, 4))
            v->plugged = (struct plug){"built-in", 0};
    }
}

/* --- cables and what is joined ---------------------------------------------------------------- */

static void list_jacks(const struct booth *b, struct texts *outputs, struct texts *inputs)
{
    char name[REF_SIZE];
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *v = &b->devices.v[i];
        for (size_t k = 0; k < v->outputs.n; k++) {
            snprintf(name, sizeof name, "%s.%s", v->id, v->outputs.v[k].id);
            texts_add(outputs, name);
        }
        for (size_t k = 0; k < v->inputs.n; k++) {
            snprintf(name, sizeof name, "%s.%s", v->id, v->inputs.v[k].id);
            texts_add(inputs, name);
        }
        for (size_t s = 0; s < v->strips.n; s++)
            for (size_t k = 0; k < v->strips.v[s].inputs.n; k++) {
                const struct input *in = &v->strips.v[s].inputs.v[k];
                snprintf(name, sizeof name, "%s.%s", v->strips.v[s].id, in->id);
                if (in->level != LEVEL_USB)
                    texts_add(inputs, name);
            }
    }
}

static void add_cables(struct dice *d)
{
    struct texts outputs = {0}, inputs = {0};
    list_jacks(d->b, &outputs, &inputs);
    int n = outputs.n && inputs.n ? below(d, (int)inputs.n + 3) : 0;
    for (int i = 0; i < n; i++) {
        const char *from = outputs.v[below(d, (int)outputs.n)];
        const char *to = inputs.v[below(d, (int)inputs.n)];
        if (booth_cable(d->b, from, to))
            continue;
        struct cable *c = add_record(&shape_booth, d->b, "cables");
        set_ref(c->from, from);
        set_ref(c->to, to);
        c->sides = once_in(d, 3) ? (enum sides)below(d, 4) : SIDES_STRAIGHT;
    }
    texts_clear(&outputs);
    texts_clear(&inputs);
}

static void join(struct dice *d)
{
    int once = between(d, 1, 3); /* how many of them are joined differs from booth to booth */
    bool from_left = once_in(d, 2);
    for (size_t i = 0; i < d->b->devices.n; i++) {
        if (!d->b->devices.v[i].card || !once_in(d, once))
            continue;
        int at = from_left ? (int)d->b->joined.n : below(d, (int)d->b->joined.n + 1);
        texts_insert(&d->b->joined, (size_t)at, d->b->devices.v[i].id);
    }
}

/* --- host and decks --------------------------------------------------------------------------- */

static void set_up_host(struct dice *d)
{
    struct host *h = &d->b->host;
    static const int rates[] = {44100, 48000, 48000, 96000};
    h->channel_names = (enum channel_names)below(d, 3);
    h->combining = once_in(d, 4) ? COMBINING_NONE : (enum combining)between(d, 1, 2);
    h->gap = (enum gap)below(d, 2);
    h->on_drop = (enum on_drop)below(d, 2);
    h->drift_correction = once_in(d, 2);
    h->rate_hz = rates[below(d, 4)];
    h->buffer_frames = 64 << below(d, 6);
    h->usb_ports = between(d, 1, 4);
    h->usb_buses = between(d, 1, 2);
    if (once_in(d, 6))
        h->port_ma = between(d, 0, 900);
    for (int i = below(d, 6) - 3; i > 0; i--) {
        struct combination *c = add_record(&shape_host, h, "combinations");
        maybe_text(d, &c->name, 2);
        for (int k = below(d, 4); k > 0; k--)
            texts_add(&c->models, text_of(d));
    }
    if (!once_in(d, 4))
        return;
    h->minutes = mem_new(1, sizeof *h->minutes);
    record_init(&shape_minutes, h->minutes);
    for (size_t i = 0; i < shape_minutes.n; i++)
        if (once_in(d, 3))
            *(int *)field_in(&shape_minutes.fields[i], h->minutes) = below(d, 6001);
}

static struct pair setting(struct dice *d)
{
    if (once_in(d, 2))
        return (struct pair){-1, -1};
    int most = once_in(d, 12) ? MAX_CHANNEL : d->channels + 2;
    int left = below(d, most + 1), right = below(d, most + 1);
    if (once_in(d, 4))
        return (struct pair){left, right};
    left -= left % 2 && left == most;
    return (struct pair){left, once_in(d, 10) ? left : left + (left < MAX_CHANNEL)};
}

static void add_decks(struct dice *d)
{
    int n = below(d, 9);
    for (int i = 1; i <= n; i++) {
        struct deck *h = add_record(&shape_booth, d->b, "decks");
        snprintf(h->id, sizeof h->id, "h%d", i);
        text_set(&h->label, once_in(d, 6) ? text_of(d) : h->id);
        if (d->strips && !once_in(d, 6)) {
            int wanted = once_in(d, 3) ? between(d, 1, d->strips) : (i - 1) % d->strips + 1;
            snprintf(h->wants, sizeof h->wants, "s%d", wanted);
        }
        if (d->b->devices.n && !once_in(d, 3)) {
            const struct device *by = &d->b->devices.v[below(d, (int)d->b->devices.n)];
            if (by->kind != KIND_MIXER && by->kind != KIND_INTERFACE)
                set_ref(h->controlled_by, by->id);
        }
        h->set_to = setting(d);
    }
}

/* --- what was found, ticked off and heard ----------------------------------------------------- */

static void find_device(struct dice *d, struct found *f, const struct device *v)
{
    char at[REF_SIZE], name[REF_SIZE];
    snprintf(at, sizeof at, *v->plugged.at && v->plugged.port ? "%s.%d" : "%s", v->plugged.at,
             v->plugged.port);
    if (once_in(d, 2))
        map_set(&f->plugged, v->id, *v->plugged.at ? at : NULL);
    if (v->kind == KIND_PLAYER && once_in(d, 2))
        map_set(&f->source, v->id, word_file(&words_source, below(d, 2)));
    for (size_t i = 0; i < v->strips.n; i++) {
        const struct strip *s = &v->strips.v[i];
        const struct input *in = &s->inputs.v[below(d, (int)s->inputs.n)];
        if (!once_in(d, 4))
            map_set(&f->selected, s->id, in->id);
        snprintf(name, sizeof name, "%s.%s", s->id, in->id);
        if (in->levels.n)
            map_set(&f->level, name, word_file(&words_level, in->levels.v[below(d, 2)]));
    }
}

static void survey(struct dice *d)
{
    if (!once_in(d, 2))
        return;
    struct found *f = d->b->found = mem_new(1, sizeof *f);
    record_init(&shape_found, f);
    for (size_t i = 0; i < d->b->cables.n; i++) {
        if (once_in(d, 4))
            continue;
        struct cable *c = add_record(&shape_found, f, "cables");
        record_copy(&shape_cable, c, &d->b->cables.v[i]);
    }
    for (size_t i = 0; i < d->b->devices.n; i++)
        find_device(d, f, &d->b->devices.v[i]);
    if (once_in(d, 4)) { /* things that are gone by now */
        map_set(&f->source, "p99", "computer");
        map_set(&f->selected, "s99", "line");
        struct cable *c = add_record(&shape_found, f, "cables");
        set_ref(c->from, "p99.line");
        set_ref(c->to, "s99.line");
    }
}

static void mark_deck(struct dice *d, const struct deck *h)
{
    struct listen *l = add_record(&shape_booth, d->b, "line_check");
    set_ref(l->deck, h->id);
    for (int i = d->strips ? below(d, 3) : 0; i > 0; i--) {
        struct mark *m = add_record(&shape_listen, l, "heard");
        snprintf(m->strip, sizeof m->strip, "s%d", between(d, 1, d->strips));
        m->left = (enum ear)below(d, 5);
        m->right = (enum ear)below(d, 5);
    }
}

static void remember(struct dice *d)
{
    survey(d);
    for (int i = below(d, 4); i > 0; i--) {
        char step[REF_SIZE];
        snprintf(step, sizeof step, "join-p%d", i);
        map_set(&d->b->checklist, step, "done");
        if (once_in(d, 3))
            map_set(&d->b->step_notes, step, text_of(d));
    }
    for (size_t i = 0; i < d->b->decks.n; i++)
        if (once_in(d, 4))
            mark_deck(d, &d->b->decks.v[i]);
    maybe_text(d, &d->b->venue.room, 2);
    maybe_text(d, &d->b->venue.notes, 3);
}

/* --- what is kept for the file ---------------------------------------------------------------- */

static void keep_in(struct dice *d, const struct shape *s, void *record);

static void keep_inside(struct dice *d, const struct field *f, void *value)
{
    void *inner = value;
    if (f->kind == FIELD_RECORDS)
        for (size_t i = 0; i < records_count(value); i++)
            keep_in(d, f->shape, records_at(f, value, i));
    if (f->kind == FIELD_OPTION)
        memcpy(&inner, value, sizeof inner);
    if ((f->kind == FIELD_OPTION || f->kind == FIELD_RECORD) && inner)
        keep_in(d, f->shape, inner);
}

/* Defaults that were spelled out, and members that the model does not know. */
static void keep_in(struct dice *d, const struct shape *s, void *record)
{
    static const char *const unknown[] = {
        "{\"shelf\":3}",
        "{\"paint\":\"gr\303\274n\",\"list\":[],\"map\":{}}",
        "{\"y\":[1,-2.5,null,true,false,{\"x\":\"\\n\\u001b\"}],\"a\":0}",
        "{\"\":\"\",\"tall\":120.125}",
    };
    struct kept *kept = record;
    if (once_in(d, 8))
        kept->json = mem_text(unknown[below(d, 4)]);
    for (size_t i = 0; i < s->n; i++) {
        const struct field *f = &s->fields[i];
        if (once_in(d, 8) && !field_required(s, f, record) &&
            field_is_default(f, field_of(f, record)))
            kept->seen |= 1u << i;
        keep_inside(d, f, field_in(f, record));
    }
}

struct booth *booth_random(unsigned seed)
{
    struct dice d = {.state = seed, .b = booth_new("Tideline Hall")};
    set_up_host(&d);
    add_devices(&d);
    add_hubs(&d);
    add_cables(&d);
    join(&d);
    add_decks(&d);
    remember(&d);
    if (once_in(&d, 2))
        keep_in(&d, &shape_booth, d.b);
    struct err e = {0};
    if (!booth_sound(d.b, &e)) { /* for a bench as well, where no test is running */
        fprintf(stderr, "booth_random(%u): %s %s\n", seed, e.place, e.says);
        abort();
    }
    return d.b;
}
