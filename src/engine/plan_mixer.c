/* By the mixer's own card: one mixer owns every wanted strip, each by a usb input of our socket,
 * no two sharing a channel.
 *
 * The choice is searched from the left, with what the rest costs at least as the bound. Where that
 * leads far, and inputs either share all their channels' company or none, it is an assignment of
 * strips to such companies: that tells for each input whether the least can still be reached. */
#include <limits.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/assign.h"
#include "engine/plan_parts.h"
#include "model/shape.h"

enum { FEW = 100000, MANY = 100000000 }; /* inputs compared in the search */
enum { CHANNELS = 256 };                 /* of a card, at most */

/* A wish served by a usb input of our socket. */
struct option {
    int wish;
    const struct input *in;
    int cost;
    int company; /* see below; from 0 */
};

struct choice {
    const struct asked *a;
    const struct device *mixer;
    struct option *options; /* by wish, then in the file's order */
    size_t n, cap;
    size_t first[MAX_STRIPS + 1]; /* option of each wish; and past the last */
    const struct option *now[MAX_STRIPS], *best[MAX_STRIPS];
    int least;                /* INT_MAX: none yet */
    int rest[MAX_STRIPS + 1]; /* what the strips from here on cost at least, by themselves */
    int steps, most_steps;
};

static struct pair pair_of(const struct input *in)
{
    int carries[2] = {in->channels.v[0], in->channels.n > 1 ? in->channels.v[1] : 0};
    return pair_from(0, carries);
}

static void gather(struct choice *c)
{
    for (int wish = 0; wish < c->a->n; wish++) {
        const struct strip *s = circuit_strip(c->a->c, c->a->wishes[wish].strip);
        c->first[wish] = c->n;
        for (size_t i = 0; i < s->inputs.n; i++) {
            const struct input *in = &s->inputs.v[i];
            if (in->level != LEVEL_USB || !input_is_ours(c->mixer, in))
                continue;
            int cost = set_cost(c->a, c->a->wishes[wish].deck, pair_of(in));
            cost += strcmp(s->selected, in->id) == 0 ? 0 : c->a->prices.selector;
            c->options = mem_grow(c->options, &c->cap, c->n + 1, sizeof *c->options);
            c->options[c->n++] = (struct option){wish, in, cost, 0};
        }
    }
    c->first[c->a->n] = c->n;
}

static void bound(struct choice *c)
{
    for (int wish = c->a->n - 1; wish >= 0; wish--) {
        int least = INT_MAX;
        for (size_t i = c->first[wish]; i < c->first[wish + 1]; i++)
            if (c->options[i].cost < least)
                least = c->options[i].cost;
        c->rest[wish] = c->rest[wish + 1] + (least < INT_MAX ? least : 0);
    }
}

/* Whether an option shares no channel with those that the wishes before it have now. */
static bool is_free(const struct choice *c, const struct option *o)
{
    for (int i = 0; i < o->wish; i++)
        if (channels_shared(&c->now[i]->in->channels, &o->in->channels))
            return false;
    return true;
}

/* Tries the options of the wished strips from the left; only what is cheaper than the best so far
 * replaces it, so that the first of equals stays. */
static void choose(struct choice *c, int wish, int sum)
{
    if (c->steps >= c->most_steps || (c->least < INT_MAX && sum + c->rest[wish] >= c->least))
        return;
    if (wish == c->a->n) {
        c->least = sum;
        memcpy(c->best, c->now, sizeof c->best);
        return;
    }
    for (size_t i = c->first[wish]; i < c->first[wish + 1]; i++) {
        c->steps += 1 + wish;
        if (!is_free(c, &c->options[i]))
            continue;
        c->now[wish] = &c->options[i];
        choose(c, wish + 1, sum + c->options[i].cost);
    }
}

/* --- many that share -------------------------------------------------------------------------- */

static void merge(int of[CHANNELS + 1], int a, int b)
{
    int from = of[a], to = of[b];
    for (int i = 0; i <= CHANNELS; i++)
        if (of[i] == from)
            of[i] = to;
}

/* Channels that usb inputs carry together, directly or through others, are one company: numbers
 * each option's. Returns how many there are. */
static int find_companies(struct choice *c)
{
    int of[CHANNELS + 1], number[CHANNELS + 1] = {0}, n = 0;
    for (int i = 0; i <= CHANNELS; i++)
        of[i] = i;
    for (size_t i = 0; i < c->n; i++)
        for (size_t k = 1; k < c->options[i].in->channels.n; k++)
            merge(of, c->options[i].in->channels.v[0], c->options[i].in->channels.v[k]);
    for (size_t i = 0; i < c->n; i++) {
        int *mine = &number[of[c->options[i].in->channels.v[0]]];
        if (!*mine)
            *mine = ++n;
        c->options[i].company = *mine - 1;
    }
    return n;
}

/* Whether inputs of one company always share a channel. */
static bool companies_are_whole(const struct choice *c)
{
    for (size_t i = 0; i < c->n; i++)
        for (size_t k = 0; k < i; k++)
            if (c->options[i].company == c->options[k].company &&
                !channels_shared(&c->options[i].in->channels, &c->options[k].in->channels))
                return false;
    return true;
}

/* The least that all wishes cost with the first `fixed` as they are chosen now; -1: none. */
static int64_t least_with(const struct choice *c, int companies, int fixed)
{
    int rows = c->a->n, column_of[MAX_STRIPS];
    int64_t *costs = mem_new((size_t)(rows * companies), sizeof *costs), sum = 0;
    for (int i = 0; i < rows * companies; i++)
        costs[i] = ASSIGN_NEVER;
    for (size_t i = 0; i < c->n; i++) {
        const struct option *o = &c->options[i];
        int64_t *cost = &costs[o->wish * companies + o->company];
        if ((o->wish >= fixed || c->now[o->wish] == o) && o->cost < *cost)
            *cost = o->cost;
    }
    bool solved = assign_solve(costs, rows, companies, column_of);
    for (int i = 0; i < rows && solved; i++)
        sum += costs[i * companies + column_of[i]];
    mem_free(costs);
    return solved ? sum : -1;
}

/* Takes for each wish the first option with which the least can still be reached. */
static void choose_by_companies(struct choice *c, int companies)
{
    int64_t least = least_with(c, companies, 0);
    c->least = INT_MAX;
    if (least < 0)
        return;
    for (int wish = 0; wish < c->a->n; wish++)
        for (size_t i = c->first[wish]; i < c->first[wish + 1]; i++) {
            c->now[wish] = &c->options[i];
            if (is_free(c, c->now[wish]) && least_with(c, companies, wish + 1) == least)
                break;
        }
    memcpy(c->best, c->now, sizeof c->best);
    c->least = (int)least;
}

/* False when there are too many ways to try them. */
static bool choose_well(struct choice *c)
{
    c->most_steps = FEW;
    choose(c, 0, 0);
    if (c->steps < c->most_steps)
        return true;
    int companies = find_companies(c);
    if (companies_are_whole(c)) {
        choose_by_companies(c, companies);
        return true;
    }
    c->steps = 0;
    c->most_steps = MANY;
    choose(c, 0, 0);
    return c->steps < c->most_steps;
}

/* --- the way ---------------------------------------------------------------------------------- */

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
        snprintf(o.feeds[i].input, REF_SIZE, "%.32s.%.32s", s->id, c->best[i]->in->id);
        o.pairs[i] = pair_of(c->best[i]->in);
    }
    texts_add(&o.joined, c->mixer->id);
    o.kept = joined_alone(c->a->b, c->mixer);
    plan_tell(c->a, &o, p);
    outcome_clear(&o);
}

static bool has_usb(const struct strip *s)
{
    for (size_t i = 0; i < s->inputs.n; i++)
        if (s->inputs.v[i].level == LEVEL_USB)
            return true;
    return false;
}

/* Why no choice was found: the first wished strip without a usb input of our socket. */
static void refuse(const struct choice *c, struct plan *p)
{
    for (int i = 0; i < c->a->n; i++) {
        const struct strip *s = circuit_strip(c->a->c, c->a->wishes[i].strip);
        if (c->first[i] < c->first[i + 1])
            continue;
        plan_refuse(p, "strip %s has no usb input%s", s->label, has_usb(s) ? " of our socket" : "");
        return;
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
    if (!mixer->card || is_dead(a, mixer) || !owns_all(a, mixer)) {
        plan_refuse(p, "no mixer with a sound card owns every wanted strip");
        return;
    }
    if (mixer->in_use) {
        plan_refuse(p, "the wanted strips are on %s, which is in use by %s", mixer->label,
                    mixer->in_use);
        return;
    }
    gather(&c);
    bound(&c);
    if (!choose_well(&c))
        plan_refuse(p, "the usb inputs of the wanted strips overlap in too many ways to try");
    else if (c.least == INT_MAX)
        refuse(&c, p);
    else
        tell_choice(&c, p);
    mem_free(c.options);
}
