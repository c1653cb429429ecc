/* From two spots to changes. Everything is looked up by name: a spot may be of another moment. */
#include "ui/drag.h"

#include <stdio.h>
#include <string.h>

#include "model/shape.h"
#include "model/thing.h"

/* Whether there is anything that a device can be put down on: another of its kind, or what its data
 * lead goes into. */
static bool device_can_go(const struct booth *b, const char *id)
{
    const struct device *d = booth_device(b, id);
    for (size_t i = 0; d && i < b->devices.n; i++)
        if (&b->devices.v[i] != d && b->devices.v[i].kind == d->kind)
            return true;
    return d && (d->card || *d->plugged.at);
}

bool drag_can_start(const struct booth *b, const struct spot *s)
{
    switch (s->kind) {
    case SPOT_DECK:
        return booth_deck(b, s->name) != NULL;
    case SPOT_DEVICE:
        return device_can_go(b, s->name);
    case SPOT_STRIP:
    case SPOT_HUB:
    case SPOT_OUTPUT:
        return true;
    case SPOT_INPUT: /* a plug that is in it */
        for (size_t i = 0; i < b->cables.n; i++)
            if (strcmp(b->cables.v[i].to, s->name) == 0)
                return true;
        return false;
    default:
        return false;
    }
}

bool drag_wants_jacks(const struct spot *from)
{
    return from->kind == SPOT_OUTPUT || from->kind == SPOT_INPUT;
}

/* The strip that a spot is or belongs to; "" for none. */
static void strip_under(const struct booth *b, const struct spot *s, char id[REF_SIZE])
{
    char owner[ID_SIZE], jack[ID_SIZE];
    id[0] = '\0';
    if (s->kind == SPOT_STRIP)
        snprintf(id, REF_SIZE, "%s", s->name);
    else if ((s->kind == SPOT_INPUT || s->kind == SPOT_SELECTOR) &&
             ref_split(s->name, owner, jack) && booth_strip(b, owner, NULL))
        snprintf(id, REF_SIZE, "%s", owner);
}

/* The input that a cable put down on a spot goes into; "" for none. */
static void input_under(const struct booth *b, const struct spot *s, char name[REF_SIZE])
{
    const struct strip *strip = s->kind == SPOT_STRIP ? booth_strip(b, s->name, NULL) : NULL;
    name[0] = '\0';
    if (s->kind == SPOT_INPUT || s->kind == SPOT_SELECTOR)
        snprintf(name, REF_SIZE, "%s", s->name);
    else if (strip)
        snprintf(name, REF_SIZE, "%.32s.%.32s", strip->id, strip->selected);
}

static const struct cable *cable_at(const struct booth *b, const struct spot *jack)
{
    for (size_t i = 0; i < b->cables.n; i++) {
        const struct cable *c = &b->cables.v[i];
        if (strcmp(jack->kind == SPOT_OUTPUT ? c->from : c->to, jack->name) == 0)
            return c;
    }
    return NULL;
}

static bool add(struct changes *out, struct change c)
{
    changes_add(out, c);
    return true;
}

static bool drop_deck(const struct booth *b, const struct drag *d, struct changes *out)
{
    const struct deck *deck = booth_deck(b, d->from.name);
    const struct deck *other = d->over.kind == SPOT_DECK ? booth_deck(b, d->over.name) : NULL;
    char strip[REF_SIZE];
    strip_under(b, &d->over, strip);
    if (!deck || other == deck)
        return false;
    if (other && *other->wants)
        snprintf(strip, sizeof strip, "%s", other->wants);
    if (*strip)
        return strcmp(strip, deck->wants) != 0 && add(out, change_of(CHANGE_WANT, deck->id, strip));
    const struct device *by = d->over.kind == SPOT_DEVICE ? booth_device(b, d->over.name) : NULL;
    bool controls = by && by->kind != KIND_MIXER && by->kind != KIND_INTERFACE;
    return controls && strcmp(deck->controlled_by, by->id) != 0 &&
           add(out, change_of(CHANGE_CONTROL, deck->id, by->id));
}

static struct change move_plug(const struct cable *cable, const char *to)
{
    struct change c = change_of(CHANGE_CABLE_MOVE, cable->from, cable->to);
    snprintf(c.c, sizeof c.c, "%s", to);
    return c;
}

static bool drop_on_output(const struct cable *cable, const char *output, struct changes *out)
{
    if (!cable || strcmp(cable->from, output) == 0)
        return false;
    struct change c = change_of(CHANGE_CABLE_FROM, cable->from, cable->to);
    snprintf(c.c, sizeof c.c, "%s", output);
    return add(out, c);
}

static bool drop_output(const struct booth *b, const struct drag *d, struct changes *out)
{
    char input[REF_SIZE];
    if (d->over.kind == SPOT_OUTPUT)
        return drop_on_output(cable_at(b, &d->from), d->over.name, out);
    input_under(b, &d->over, input);
    const struct cable *same = booth_cable(b, d->from.name, input);
    if (!*input || (same && same->sides == d->sides))
        return false;
    struct change c = change_of(CHANGE_CABLE, d->from.name, input);
    c.number = (int)d->sides;
    return add(out, c);
}

static bool drop_input(const struct booth *b, const struct drag *d, struct changes *out)
{
    const struct cable *cable = cable_at(b, &d->from);
    char input[REF_SIZE];
    if (d->over.kind == SPOT_OUTPUT)
        return drop_on_output(cable, d->over.name, out);
    input_under(b, &d->over, input);
    if (!cable || !*input || strcmp(input, cable->to) == 0)
        return false;
    struct spot there = spot_of(SPOT_INPUT, input);
    const struct cable *other = cable_at(b, &there);
    add(out, move_plug(cable, input));
    if (other && strcmp(other->from, cable->from) != 0)
        add(out, move_plug(other, cable->to));
    return true;
}

/* A data lead goes into the first free port of a hub; of the laptop, for which its decks stand. */
static bool drop_lead(const struct booth *b, const struct drag *d, struct changes *out)
{
    struct change c = change_of(CHANGE_PLUG, d->from.name,
                                d->over.kind == SPOT_HUB ? d->over.name : "host");
    c.number = thing_free_port(b, c.b);
    return c.number > 0 && add(out, c);
}

static bool drop_device(const struct booth *b, const struct drag *d, struct changes *out)
{
    const struct device *device = booth_device(b, d->from.name);
    if (device && (d->over.kind == SPOT_HUB || d->over.kind == SPOT_DECK))
        return drop_lead(b, d, out);
    const struct device *other = d->over.kind == SPOT_DEVICE ? booth_device(b, d->over.name) : NULL;
    return device && other && device != other && device->kind == other->kind &&
           add(out, change_of(CHANGE_PLACE, device->id, other->id));
}

bool drag_changes(const struct booth *b, const struct drag *d, struct changes *out)
{
    if (spot_same(&d->from, &d->over))
        return false;
    switch (d->from.kind) {
    case SPOT_DECK:
        return drop_deck(b, d, out);
    case SPOT_OUTPUT:
        return drop_output(b, d, out);
    case SPOT_INPUT:
        return drop_input(b, d, out);
    case SPOT_DEVICE:
        return drop_device(b, d, out);
    case SPOT_HUB:
        return (d->over.kind == SPOT_HUB || d->over.kind == SPOT_DECK) && drop_lead(b, d, out);
    case SPOT_STRIP:
        return d->over.kind == SPOT_STRIP &&
               add(out, change_of(CHANGE_PLACE, d->from.name, d->over.name));
    default:
        return false;
    }
}

bool drag_unplug(const struct booth *b, const struct spot *jack, struct changes *out)
{
    const struct cable *cable = cable_at(b, jack);
    return cable && add(out, change_of(CHANGE_UNCABLE, cable->from, cable->to));
}
