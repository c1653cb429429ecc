#include "support/booth_from.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "model/shape.h"
#include "model/sound.h"
#include "support/records.h"

static void add_output(struct device *d, const char *id, enum level level, int first)
{
    struct output *o = add_record(&shape_device, d, "outputs");
    snprintf(o->id, sizeof o->id, "%s", id);
    o->connector = level == LEVEL_DIGITAL ? CONNECTOR_COAX : CONNECTOR_RCA;
    o->level = level;
    ints_add(&o->channels, first);
    ints_add(&o->channels, first + 1);
}

static void add_input(struct strip *s, const char *id, enum level level)
{
    struct input *in = add_record(&shape_strip, s, "inputs");
    snprintf(in->id, sizeof in->id, "%s", id);
    in->level = level;
    in->connector = level == LEVEL_DIGITAL ? CONNECTOR_COAX : CONNECTOR_RCA;
    int number = atoi(s->id + 1);
    if (level == LEVEL_USB) {
        in->connector = CONNECTOR_UNSAID;
        ints_add(&in->channels, 2 * number - 1);
        ints_add(&in->channels, 2 * number);
    }
}

static void give_card(struct device *d, int channels)
{
    if (!d->card) {
        d->card = mem_new(1, sizeof *d->card);
        record_init(&shape_card, d->card);
    }
    d->card->out_channels = channels;
    for (size_t i = 0; i < d->strips.n; i++)
        add_input(&d->strips.v[i], "usb", LEVEL_USB);
}

static void name_it(char *id_field, char **label, const char *id)
{
    char shown[ID_SIZE];
    snprintf(id_field, ID_SIZE, "%s", id);
    snprintf(shown, sizeof shown, "%c%s", id[0] - 'a' + 'A', id + 1);
    text_set(label, shown);
}

static struct device *device_for(struct booth *b, const char *id)
{
    for (size_t i = 0; i < b->devices.n; i++)
        if (strcmp(b->devices.v[i].id, id) == 0)
            return &b->devices.v[i];
    struct device *d = add_record(&shape_booth, b, "devices");
    name_it(d->id, &d->label, id);
    d->place = atoi(id + 1) > 0 ? atoi(id + 1) : 1;
    switch (id[0]) {
    case 'p':
        d->source = SOURCE_COMPUTER;
        give_card(d, 2);
        add_output(d, "line", LEVEL_LINE, 1);
        add_output(d, "digital", LEVEL_DIGITAL, 1);
        break;
    case 't':
        d->kind = KIND_TURNTABLE;
        add_output(d, "phono", LEVEL_PHONO, 1);
        break;
    case 'x':
        d->kind = KIND_INTERFACE;
        give_card(d, 8);
        add_output(d, "o1", LEVEL_LINE, 1);
        add_output(d, "o2", LEVEL_LINE, 3);
        add_output(d, "o3", LEVEL_LINE, 5);
        add_output(d, "o4", LEVEL_LINE, 7);
        break;
    case 'm':
        d->kind = KIND_MIXER;
        break;
    case 'c':
        d->kind = KIND_CONTROLLER;
        break;
    default:
        ck_abort_msg("booth_from: %s is no device's name", id);
    }
    return d;
}

static struct strip *strip_for(struct booth *b, const char *id)
{
    struct device *m = NULL;
    for (size_t i = 0; i < b->devices.n; i++) {
        struct device *d = &b->devices.v[i];
        for (size_t k = 0; k < d->strips.n; k++)
            if (strcmp(d->strips.v[k].id, id) == 0)
                return &d->strips.v[k];
    }
    m = device_for(b, "m1");
    struct strip *s = add_record(&shape_device, m, "strips");
    name_it(s->id, &s->label, id);
    text_set(&s->label, id + 1);
    s->place = atoi(id + 1);
    add_input(s, "line", LEVEL_LINE);
    add_input(s, "digital", LEVEL_DIGITAL);
    add_input(s, "phono", LEVEL_PHONO);
    if (m->card)
        add_input(s, "usb", LEVEL_USB);
    snprintf(s->selected, sizeof s->selected, "line");
    return s;
}

static struct deck *deck_for(struct booth *b, const char *id)
{
    for (size_t i = 0; i < b->decks.n; i++)
        if (strcmp(b->decks.v[i].id, id) == 0)
            return &b->decks.v[i];
    struct deck *d = add_record(&shape_booth, b, "decks");
    name_it(d->id, &d->label, id);
    return d;
}

static void touch(struct booth *b, const char *jack)
{
    char owner[ID_SIZE], name[ID_SIZE];
    ck_assert_msg(ref_split(jack, owner, name), "booth_from: %s is no jack", jack);
    if (owner[0] == 's')
        strip_for(b, owner);
    else
        device_for(b, owner);
}

static void add_cable(struct booth *b, const char *from, const char *how, const char *to)
{
    touch(b, from);
    touch(b, to);
    struct cable *c = add_record(&shape_booth, b, "cables");
    snprintf(c->from, sizeof c->from, "%s", from);
    snprintf(c->to, sizeof c->to, "%s", to);
    c->sides = *how == 'x'   ? SIDES_SWAPPED
               : *how == 'l' ? SIDES_LEFT_ONLY
               : *how == 'r' ? SIDES_RIGHT_ONLY
                             : SIDES_STRAIGHT;
}

static void say_deck(struct booth *b, char *w[], int n)
{
    struct deck *d = deck_for(b, w[0]);
    if (strcmp(w[1], "wants") == 0) {
        strip_for(b, w[2]);
        snprintf(d->wants, sizeof d->wants, "%s", w[2]);
    } else if (strcmp(w[1], "set") == 0 && n == 4) {
        d->set_to = (struct pair){atoi(w[2]), atoi(w[3])};
    } else if (strcmp(w[1], "by") == 0) {
        device_for(b, w[2]);
        snprintf(d->controlled_by, sizeof d->controlled_by, "%s", w[2]);
    } else {
        ck_abort_msg("booth_from: %s %s", w[0], w[1]);
    }
}

static void say_strip(struct booth *b, char *w[])
{
    struct strip *s = strip_for(b, w[0]);
    if (strcmp(w[1], "selects") == 0)
        snprintf(s->selected, sizeof s->selected, "%s", w[2]);
    else if (strcmp(w[1], "in-use") == 0)
        text_set(&s->in_use, w[2]);
    else if (strcmp(w[1], "place") == 0)
        s->place = atoi(w[2]);
    else
        ck_abort_msg("booth_from: %s %s", w[0], w[1]);
}

/* Takes a file's word for a field: a number, a word of its table, or text. */
static void set_field(const struct shape *shape, void *record, const char *key, const char *word)
{
    const struct field *f = shape_field(shape, key);
    ck_assert_msg(f != NULL, "booth_from: %s %s", shape->what, key);
    void *value = field_in(f, record);
    int number = f->kind == FIELD_WORD ? word_find(f->words, word) : atoi(word);
    if (f->kind == FIELD_TEXT)
        text_set((char **)value, word);
    else if (f->kind == FIELD_BOOL)
        *(bool *)value = number != 0;
    else
        memcpy(value, &number, sizeof number);
}

static struct usb *usb_of(struct device *d)
{
    if (!d->usb) {
        d->usb = mem_new(1, sizeof *d->usb);
        record_init(&shape_usb, d->usb);
    }
    return d->usb;
}

static void plug_in(struct plug *plug, const char *word)
{
    const char *dot = strchr(word, '.');
    plug->port = dot ? atoi(dot + 1) : 0;
    snprintf(plug->at, sizeof plug->at, "%.*s", (int)(dot ? dot - word : (long)strlen(word)), word);
    if (strcmp(word, "none") == 0)
        *plug = (struct plug){"", 0};
}

static void say_device(struct booth *b, char *w[], int n)
{
    struct device *d = device_for(b, w[0]);
    const char *what = w[1], *word = n > 2 ? w[2] : "";
    if (strcmp(what, "own-media") == 0)
        d->source = SOURCE_OWN_MEDIA;
    else if (strcmp(what, "card") == 0)
        give_card(d, atoi(word));
    else if (strcmp(what, "in-use") == 0)
        text_set(&d->in_use, word);
    else if (strcmp(what, "firmware") == 0) {
        text_set(&d->firmware, word);
        text_set(&d->firmware_min, n > 3 ? w[3] : NULL);
    } else if (strcmp(what, "rates") == 0) {
        for (int i = 2; i < n; i++)
            ints_add(&d->card->rates_hz, atoi(w[i]));
    } else if (strcmp(what, "plugged") == 0)
        plug_in(&d->plugged, word);
    else if (shape_field(&shape_device, what))
        set_field(&shape_device, d, what, word);
    else if (shape_field(&shape_usb, what))
        set_field(&shape_usb, usb_of(d), what, word);
    else if (d->card)
        set_field(&shape_card, d->card, what, word);
    else
        ck_abort_msg("booth_from: %s %s", w[0], what);
}

/* "s1.line switch line phono", "s1.usb socket B", "p1.line carries 1" */
static void say_jack(struct booth *b, char *w[], int n)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    touch(b, w[0]);
    ref_split(w[0], owner, jack);
    struct inputs *in = owner[0] == 's' ? &strip_for(b, owner)->inputs : NULL;
    struct outputs *out = in ? NULL : &device_for(b, owner)->outputs;
    for (size_t i = 0; in && i < in->n; i++) {
        if (strcmp(in->v[i].id, jack) != 0)
            continue;
        if (strcmp(w[1], "socket") == 0)
            text_set(&in->v[i].socket, w[2]);
        for (int k = 2; k < n && strcmp(w[1], "switch") == 0; k++)
            ints_add(&in->v[i].levels, word_find(&words_level, w[k]));
    }
    for (size_t i = 0; out && i < out->n; i++) {
        if (strcmp(out->v[i].id, jack) != 0)
            continue;
        out->v[i].channels.n = 0;
        for (int k = 2; k < n; k++)
            ints_add(&out->v[i].channels, atoi(w[k]));
    }
}

static void say_hub(struct booth *b, char *w[], int n)
{
    struct hub *h = add_record(&shape_booth, b, "hubs");
    snprintf(h->id, sizeof h->id, "%s", w[1]);
    h->ports = atoi(w[2]);
    plug_in(&h->plugged, n > 3 ? w[3] : "host.1");
    for (int i = 4; i + 1 < n; i += 2)
        set_field(&shape_hub, h, w[i], w[i + 1]);
}

static void say_combination(struct booth *b, char *w[], int n)
{
    struct combination *c = add_record(&shape_host, &b->host, "combinations");
    for (int i = 1; i < n; i++)
        texts_add(&c->models, w[i]);
}

static void say(struct booth *b, char *statement)
{
    char *w[16] = {0}, *state = NULL;
    int n = 0;
    for (char *t = strtok_r(statement, " ", &state); t && n < 15; t = strtok_r(NULL, " ", &state))
        w[n++] = t;
    if (n == 0)
        return;
    if (strcmp(w[0], "joined") == 0) {
        for (int i = 1; i < n; i++) {
            device_for(b, w[i]);
            texts_add(&b->joined, w[i]);
        }
    } else if (n == 3 && strchr(w[0], '.') && strchr(w[2], '.')) {
        add_cable(b, w[0], w[1], w[2]);
    } else if (n > 2 && strchr(w[0], '.')) {
        say_jack(b, w, n);
    } else if (strcmp(w[0], "combination") == 0) {
        say_combination(b, w, n);
    } else if (strcmp(w[0], "host") == 0) {
        set_field(&shape_host, &b->host, strcmp(w[1], "names") ? w[1] : "channel_names", w[2]);
    } else if (strcmp(w[0], "hub") == 0) {
        say_hub(b, w, n);
    } else if (n < 2) {
        ck_abort_msg("booth_from: %s", w[0]);
    } else if (w[0][0] == 'h') {
        say_deck(b, w, n);
    } else if (w[0][0] == 's') {
        say_strip(b, w);
    } else {
        say_device(b, w, n);
    }
}

struct booth *booth_from(const char *text)
{
    struct booth *b = booth_new("Tideline Hall");
    char *copy = mem_text(text), *state = NULL;
    for (char *s = strtok_r(copy, ";", &state); s; s = strtok_r(NULL, ";", &state))
        say(b, s);
    mem_free(copy);
    struct err e;
    ck_assert_msg(booth_sound(b, &e), "booth_from: %s %s", e.place, e.says);
    return b;
}
