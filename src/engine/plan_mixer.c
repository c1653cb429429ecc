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

struct choice {
    const struct asked *a;
    const struct device *mixer;
    const struct input *now[MAX_STRIPS], *best[MAX_STRIPS];
    int least;                /* INT_MAX: none yet */
    int rest[MAX_STRIPS + 1]; /* what the strips from here on cost at least, by themselves */
    int steps, most_steps;
};

static struct pair pair_of(const struct input *in)
{
    int carries[2] = {in->channels.v[0], in->channels.n > 1 ? in->channels.v[1] : 0};
    return pair_from(0, carries);
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
        if (channels_shared(&c->now[i]->channels, &in->channels))
            return false;
    return true;
}

/* Tries the inputs of the wished strips from the left, in the file's order; only what is cheaper
 * than the best so far replaces it, so that the first of equals stays. */
static void choose(struct choice *c, int wish, int sum)
{
    if (c->steps >= c->most_steps || (c->least < INT_MAX && sum + c->rest[wish] >= c->least))
        return;
    if (wish == c->a->n) {
        c->least = sum;
        memcpy(c->best, c->now, sizeof c->best);
        return;
    }
    const struct strip *s = circuit_strip(c->a->c, c->a->wishes[wish].strip);
    for (size_t i = 0; i < s->inputs.n; i++) {
        const struct input *in = &s->inputs.v[i];
        c->steps += 1 + wish;
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

/* --- many that share -------------------------------------------------------------------------- */

/* Channels that usb inputs carry together, directly or through others, are one company. */
struct companies {
    int of[CHANNELS + 1];     /* by channel: the company, by one of its channels */
    int column[CHANNELS + 1]; /* by that channel: its number, from 1; 0: no input belongs to it */
    int n;
    bool whole; /* inputs of one company always share a channel */
};

static void merge(struct companies *all, int a, int b)
{
    int from = all->of[a], to = all->of[b];
    for (int i = 0; i <= CHANNELS; i++)
        if (all->of[i] == from)
            all->of[i] = to;
}

/* Calls for every usable input of every wished strip. */
static void each_input(const struct choice *c, void (*see)(void *, int wish, const struct input *),
                       void *self)
{
    for (int wish = 0; wish < c->a->n; wish++) {
        const struct strip *s = circuit_strip(c->a->c, c->a->wishes[wish].strip);
        for (size_t i = 0; i < s->inputs.n; i++)
            if (usable(c, 0, &s->inputs.v[i]))
                see(self, wish, &s->inputs.v[i]);
    }
}

static void join_channels(void *self, int wish, const struct input *in)
{
    (void)wish;
    for (size_t i = 1; i < in->channels.n; i++)
        merge(self, in->channels.v[0], in->channels.v[i]);
}

static void number_company(void *self, int wish, const struct input *in)
{
    struct companies *all = self;
    int *column = &all->column[all->of[in->channels.v[0]]];
    (void)wish;
    if (!*column)
        *column = ++all->n;
}

struct against {
    struct companies *all;
    const struct input *in;
};

static void check_pair(void *self, int wish, const struct input *in)
{
    struct against *a = self;
    bool same = a->all->of[in->channels.v[0]] == a->all->of[a->in->channels.v[0]];
    (void)wish;
    if (same && !channels_shared(&in->channels, &a->in->channels))
        a->all->whole = false;
}

struct pairing {
    const struct choice *c;
    struct companies *all;
};

static void check_input(void *self, int wish, const struct input *in)
{
    struct pairing *p = self;
    struct against a = {p->all, in};
    (void)wish;
    each_input(p->c, check_pair, &a);
}

struct matrix {
    const struct choice *c;
    const struct companies *all;
    int64_t *costs;
    int fixed; /* wishes before it have their input */
};

static void price_input(void *self, int wish, const struct input *in)
{
    struct matrix *m = self;
    const struct strip *s = circuit_strip(m->c->a->c, m->c->a->wishes[wish].strip);
    int column = m->all->column[m->all->of[in->channels.v[0]]] - 1;
    int64_t *cost = &m->costs[wish * m->all->n + column];
    int64_t now = input_cost(m->c, wish, s, in);
    if ((wish >= m->fixed || m->c->now[wish] == in) && now < *cost)
        *cost = now;
}

/* The least that all wishes cost with the first `fixed` as they are chosen now; -1: none. */
static int64_t least_with(const struct choice *c, const struct companies *all, int fixed)
{
    int columns = all->n, column_of[MAX_STRIPS];
    struct matrix m = {c, all, mem_new((size_t)(c->a->n * columns), sizeof *m.costs), fixed};
    int64_t sum = 0;
    for (int i = 0; i < c->a->n * columns; i++)
        m.costs[i] = ASSIGN_NEVER;
    each_input(c, price_input, &m);
    bool solved = assign_solve(m.costs, c->a->n, columns, column_of);
    for (int i = 0; i < c->a->n && solved; i++)
        sum += m.costs[i * columns + column_of[i]];
    mem_free(m.costs);
    return solved ? sum : -1;
}

/* Takes for each wish the first input with which the least can still be reached. */
static void choose_by_companies(struct choice *c, const struct companies *all)
{
    int64_t least = least_with(c, all, 0);
    c->least = INT_MAX;
    if (least < 0)
        return;
    for (int wish = 0; wish < c->a->n; wish++) {
        const struct strip *s = circuit_strip(c->a->c, c->a->wishes[wish].strip);
        for (size_t i = 0; i < s->inputs.n; i++) {
            c->now[wish] = &s->inputs.v[i];
            if (usable(c, wish, c->now[wish]) && least_with(c, all, wish + 1) == least)
                break;
        }
    }
    memcpy(c->best, c->now, sizeof c->best);
    c->least = (int)least;
}

/* False when there are too many ways to try them. */
static bool choose_well(struct choice *c)
{
    struct companies all = {.whole = true};
    struct pairing pairing = {c, &all};
    c->most_steps = FEW;
    choose(c, 0, 0);
    if (c->steps < c->most_steps)
        return true;
    for (int i = 0; i <= CHANNELS; i++)
        all.of[i] = i;
    each_input(c, join_channels, &all);
    each_input(c, number_company, &all);
    each_input(c, check_input, &pairing);
    if (all.whole) {
        choose_by_companies(c, &all);
        return true;
    }
    c->steps = 0;
    c->most_steps = MANY;
    choose(c, 0, 0);
    return c->steps < c->most_steps;
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
    o.kept = joined_alone(c->a->b, c->mixer);
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
    if (!choose_well(&c))
        plan_refuse(p, "the usb inputs of the wanted strips overlap in too many ways to try");
    else if (c.least == INT_MAX)
        refuse(a, mixer, p);
    else
        tell_choice(&c, p);
}
