#include "oracle/second_opinion.h"

#include <stdio.h>
#include <string.h>

#include "model/shape.h"

static bool same(const char *a, const char *b)
{
    return strcmp(a ? a : "", b ? b : "") == 0;
}

/* --- routes ----------------------------------------------------------------------------------- */

static int first_channel(const struct booth *b, const char *id)
{
    int n = 0;
    for (size_t i = 0; i < b->joined.n; i++) {
        if (same(b->joined.v[i], id))
            return n;
        n += booth_device(b, b->joined.v[i])->card->out_channels;
    }
    return -1;
}

static struct pair pair_of(int first, const struct ints *channels)
{
    return (struct pair){first + channels->v[0] - 1, first + channels->v[channels->n - 1] - 1};
}

/* Tries every joined device in turn, and of each every cable in the file's order. */
static bool cable_route(const struct booth *b, const char *input, struct pair *pair)
{
    for (size_t i = 0; i < b->joined.n; i++)
        for (size_t k = 0; k < b->cables.n; k++) {
            struct out_end end;
            if (!same(b->cables.v[k].to, input) || !booth_output(b, b->cables.v[k].from, &end) ||
                !same(end.device->id, b->joined.v[i]))
                continue;
            *pair = pair_of(first_channel(b, end.device->id), &end.output->channels);
            return true;
        }
    return false;
}

bool opinion_route(const struct booth *b, const struct deck *d, struct pair *pair)
{
    char input[2 * REF_SIZE];
    const struct device *mixer = NULL;
    const struct strip *s = booth_strip(b, d->wants, &mixer);
    if (!s)
        return false;
    const struct input *in = strip_selected(s);
    snprintf(input, sizeof input, "%s.%s", s->id, in->id);
    if (in->level != LEVEL_USB)
        return cable_route(b, input, pair);
    int first = first_channel(b, mixer->id);
    if (first < 0 || !same(in->socket, mixer->socket))
        return false;
    *pair = pair_of(first, &in->channels);
    return true;
}

struct pair opinion_plays(const struct booth *b, const struct deck *d)
{
    struct pair pair = {-1, -1};
    if (d->set_to.left >= 0)
        return d->set_to;
    opinion_route(b, d, &pair);
    return pair;
}

/* --- heard ------------------------------------------------------------------------------------ */

static const char *const side_words[] = {"left", "right"};

struct told {
    const struct booth *b;
    const struct deck *deck;
    int deck_side;
    struct texts *out;
};

static void tell(const struct told *t, const char *strip, int side)
{
    char line[4 * ID_SIZE];
    snprintf(line, sizeof line, "%s.%s %s.%s", strip, side_words[side], t->deck->id,
             side_words[t->deck_side]);
    if (texts_find(t->out, line) < 0)
        texts_add(t->out, line);
}

/* One side of an output, along one cable. */
static void follow(const struct told *t, const struct cable *c, const struct output *o, int side)
{
    static const bool passes[4][2] = {{true, true}, {true, true}, {true, false}, {false, true}};
    struct in_end end;
    if (!passes[c->sides][side] || !booth_input(t->b, c->to, &end) || !end.strip ||
        !same(end.strip->selected, end.input->id) ||
        (o->level == LEVEL_DIGITAL) != (end.input->level == LEVEL_DIGITAL))
        return;
    tell(t, end.strip->id, c->sides == SIDES_SWAPPED ? 1 - side : side);
}

static void leave(const struct told *t, const struct device *d, int channel)
{
    char name[2 * REF_SIZE];
    for (size_t i = 0; i < d->outputs.n; i++)
        for (size_t side = 0; side < d->outputs.v[i].channels.n; side++) {
            if (d->outputs.v[i].channels.v[side] != channel)
                continue;
            snprintf(name, sizeof name, "%s.%s", d->id, d->outputs.v[i].id);
            for (size_t k = 0; k < t->b->cables.n; k++)
                if (same(t->b->cables.v[k].from, name))
                    follow(t, &t->b->cables.v[k], &d->outputs.v[i], (int)side);
        }
}

static void enter(const struct told *t, const struct device *d, int channel)
{
    for (size_t i = 0; i < d->strips.n; i++) {
        const struct input *in = strip_selected(&d->strips.v[i]);
        for (size_t side = 0; side < in->channels.n; side++)
            if (in->level == LEVEL_USB && same(in->socket, d->socket) &&
                in->channels.v[side] == channel)
                tell(t, d->strips.v[i].id, (int)side);
    }
}

static void play(const struct told *t, int channel)
{
    for (size_t i = 0; i < t->b->joined.n; i++) {
        const struct device *d = booth_device(t->b, t->b->joined.v[i]);
        int number = channel - first_channel(t->b, d->id) + 1;
        if (number < 1 || number > d->card->out_channels)
            continue;
        enter(t, d, number);
        if (d->kind != KIND_PLAYER || d->source == SOURCE_COMPUTER)
            leave(t, d, number);
    }
}

void opinion_heard(const struct booth *b, struct texts *out)
{
    for (size_t i = 0; i < b->decks.n; i++) {
        struct pair pair = opinion_plays(b, &b->decks.v[i]);
        if (pair.left < 0)
            continue;
        play(&(struct told){b, &b->decks.v[i], 0, out}, pair.left);
        play(&(struct told){b, &b->decks.v[i], 1, out}, pair.right);
    }
}

/* --- hands off -------------------------------------------------------------------------------- */

static bool belongs(const char *jack, const char *owner)
{
    size_t n = strlen(owner);
    return strncmp(jack, owner, n) == 0 && jack[n] == '.';
}

/* Whether each of a's cables at that owner's jacks is also in b, with the same sides. */
static bool cables_kept(const struct booth *a, const struct booth *b, const char *owner)
{
    for (size_t i = 0; i < a->cables.n; i++) {
        const struct cable *c = &a->cables.v[i];
        if (!belongs(c->from, owner) && !belongs(c->to, owner))
            continue;
        const struct cable *kept = booth_cable(b, c->from, c->to);
        if (!kept || kept->sides != c->sides)
            return false;
    }
    return true;
}

static bool strip_kept(const struct booth *before, const struct booth *after, const struct strip *s)
{
    const struct strip *now = booth_strip(after, s->id, NULL);
    if (!now || !same(now->selected, s->selected) || now->inputs.n != s->inputs.n)
        return false;
    for (size_t i = 0; i < s->inputs.n; i++)
        if (now->inputs.v[i].level != s->inputs.v[i].level)
            return false;
    return cables_kept(before, after, s->id) && cables_kept(after, before, s->id);
}

/* Whether the leads from a thing up to the host are where they were. */
static bool leads_kept(const struct booth *before, const struct booth *after, const char *device)
{
    const struct plug *was = &booth_device(before, device)->plugged;
    const struct plug *is = &booth_device(after, device)->plugged;
    while (same(was->at, is->at) && was->port == is->port) {
        const struct hub *then = booth_hub(before, was->at), *now = booth_hub(after, was->at);
        if (!then || !now)
            return then == now;
        was = &then->plugged;
        is = &now->plugged;
    }
    return false;
}

static bool device_kept(const struct booth *before, const struct booth *after,
                        const struct device *d)
{
    const struct device *now = booth_device(after, d->id);
    return now && now->source == d->source && leads_kept(before, after, d->id) &&
           (booth_joined_at(before, d->id) >= 0 || booth_joined_at(after, d->id) < 0) &&
           cables_kept(before, after, d->id) && cables_kept(after, before, d->id);
}

bool opinion_hands_off(const struct booth *before, const struct booth *after, const char **what)
{
    for (size_t i = 0; i < before->devices.n; i++) {
        const struct device *d = &before->devices.v[i];
        *what = d->id;
        if (d->in_use && !device_kept(before, after, d))
            return false;
        for (size_t k = 0; k < d->strips.n; k++) {
            *what = d->strips.v[k].id;
            if (d->strips.v[k].in_use && !strip_kept(before, after, &d->strips.v[k]))
                return false;
        }
    }
    *what = NULL;
    return true;
}
