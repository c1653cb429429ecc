/* By the mixer's own card: one mixer owns every wanted strip, each by a usb input of our socket,
 * no two sharing a channel. */
#include <limits.h>
#include <stdio.h>
#include <string.h>

#include "engine/plan_parts.h"
#include "model/shape.h"

struct choice {
    const struct asked *a;
    const struct device *mixer;
    const struct input *now[MAX_STRIPS], *best[MAX_STRIPS];
    int least;                /* INT_MAX: none yet */
    int rest[MAX_STRIPS + 1]; /* what the strips from here on cost at least, by themselves */
};

static struct pair pair_of(const struct input *in)
{
    int carries[2] = {in->channels.v[0], in->channels.n > 1 ? in->channels.v[1] : 0};
    return pair_from(0, carries);
}

static bool share(const struct input *a, const struct input *b)
{
    for (size_t i = 0; i < a->channels.n; i++)
        for (size_t k = 0; k < b->channels.n; k++)
            if (a->channels.v[i] == b->channels.v[k])
                return true;
    return false;
}

static int input_cost(const struct choice *c, int wish, const struct strip *s,
                      const struct input *in)
{
    int cost = set_cost(c->a, c->a->wishes[wish].deck, pair_of(in));
    return cost + (strcmp(s->selected, in->id) == 0 ? 0 : c->a->prices.selector);
}

static bool usable(const struct choice *c, int wish, const struct input *in)
{
    if (in->level != LEVEL_USB || !input_is_ours(c->mixer, in))
        return false;
    for (int i = 0; i < wish; i++)
        if (share(c->now[i], in))
            return false;
    return true;
}

/* Tries the inputs of the wished strips from the left, in the file's order; only what is cheaper
 * than the best so far replaces it, so that the first of equals stays. */
static void choose(struct choice *c, int wish, int sum)
{
    if (c->least < INT_MAX && sum + c->rest[wish] >= c->least)
        return;
    if (wish == c->a->n) {
        c->least = sum;
        memcpy(c->best, c->now, sizeof c->best);
        return;
    }
    const struct strip *s = circuit_strip(c->a->c, c->a->wishes[wish].strip);
    for (size_t i = 0; i < s->inputs.n; i++) {
        const struct input *in = &s->inputs.v[i];
        if (!usable(c, wish, in))
            continue;
        c->now[wish] = in;
        choose(c, wish + 1, sum + input_cost(c, wish, s, in));
    }
}

static void bound(struct choice *c)
{
    for (int wish = c->a->n - 1; wish >= 0; wish--) {
        const struct strip *s = circuit_strip(c->a->c, c->a->wishes[wish].strip);
        int least = INT_MAX;
        for (size_t i = 0; i < s->inputs.n; i++) {
            const struct input *in = &s->inputs.v[i];
            if (usable(c, 0, in) && input_cost(c, wish, s, in) < least)
                least = input_cost(c, wish, s, in);
        }
        c->rest[wish] = c->rest[wish + 1] + (least < INT_MAX ? least : 0);
    }
}

static bool owns_all(const struct asked *a, const struct device *mixer)
{
    for (int i = 0; i < a->n; i++)
        if (circuit_device(a->c, a->c->strips[a->wishes[i].strip].mixer) != mixer)
            return false;
    return true;
}

static void tell_choice(const struct choice *c, struct plan *p)
{
    struct outcome o = {.kept = 0};
    for (int i = 0; i < c->a->n; i++) {
        const struct strip *s = circuit_strip(c->a->c, c->a->wishes[i].strip);
        snprintf(o.feeds[i].input, REF_SIZE, "%.32s.%.32s", s->id, c->best[i]->id);
        o.pairs[i] = pair_of(c->best[i]);
    }
    texts_add(&o.joined, c->mixer->id);
    o.kept = c->a->b->joined.n == 1 && strcmp(c->a->b->joined.v[0], c->mixer->id) == 0;
    plan_tell(c->a, &o, p);
    outcome_clear(&o);
}

/* The first wished strip without a usb input of our socket, as a reason. */
static void refuse(const struct asked *a, const struct device *mixer, struct plan *p)
{
    if (!mixer) {
        plan_refuse(p, "no mixer with a sound card owns every wanted strip");
        return;
    }
    for (int i = 0; i < a->n; i++) {
        const struct strip *s = circuit_strip(a->c, a->wishes[i].strip);
        bool any = false;
        for (size_t k = 0; k < s->inputs.n; k++)
            any = any ||
                  (s->inputs.v[k].level == LEVEL_USB && input_is_ours(mixer, &s->inputs.v[k]));
        if (!any) {
            plan_refuse(p, "strip %s has no usb input%s", s->label,
                        mixer->socket ? " of our socket" : "");
            return;
        }
    }
    plan_refuse(p, "the usb inputs of the wanted strips share channels");
}

/* The only mixer with a card, or NULL when there are more or none. */
static const struct device *only_mixer(const struct booth *b)
{
    const struct device *only = NULL;
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        if (d->kind != KIND_MIXER || !d->card)
            continue;
        if (only)
            return NULL;
        only = d;
    }
    return only;
}

void plan_by_mixer(const struct asked *a, struct plan *p)
{
    /* every wish hangs on one strip of one mixer: at most one can own them all */
    const struct device *mixer = circuit_device(a->c, a->c->strips[a->wishes[0].strip].mixer);
    const struct device *only = only_mixer(a->b);
    struct choice c = {.a = a, .mixer = mixer, .least = INT_MAX};
    if (only && only->in_use) {
        plan_refuse(p, "%s is in use by %s", only->label, only->in_use);
        return;
    }
    if (!mixer->card || !owns_all(a, mixer)) {
        refuse(a, NULL, p);
        return;
    }
    if (mixer->in_use) {
        plan_refuse(p, "%s is in use by %s", mixer->label, mixer->in_use);
        return;
    }
    bound(&c);
    choose(&c, 0, 0);
    if (c.least == INT_MAX)
        refuse(a, mixer, p);
    else
        tell_choice(&c, p);
}
