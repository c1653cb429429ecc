/* The price of a strip fed by an output. Every pair is priced against the booth as it stands in
 * the file, also where another pair moves the cable that stands in the way: the model is a sum, so
 * that its optimum can be exact. */
#include <limits.h>
#include <stdio.h>
#include <string.h>

#include "engine/plan_parts.h"

static bool holds_used(const struct booth *b, const struct cable *c)
{
    struct in_end in;
    if (!booth_input(b, c->to, &in))
        return false;
    return in.strip ? in.strip->in_use != NULL : in.device->in_use != NULL;
}

const struct cable *feed_spare(const struct booth *b, const char *output, bool *held)
{
    *held = false;
    for (size_t i = 0; i < b->cables.n; i++) {
        if (strcmp(b->cables.v[i].from, output) != 0)
            continue;
        if (!holds_used(b, &b->cables.v[i]))
            return &b->cables.v[i];
        *held = true;
    }
    return NULL;
}

/* -1 when the output's cables must all stay where they are. */
static int cable_cost(const struct asked *a, const char *output, const char *input)
{
    const struct cable *here = booth_cable(a->b, output, input);
    bool held;
    if (here)
        return here->sides == SIDES_STRAIGHT ? 0 : a->prices.move;
    if (feed_spare(a->b, output, &held))
        return a->prices.move;
    return held ? -1 : a->prices.add;
}

/* What pulling the other cables out of an input costs; -1 when one must stay. */
static int clearing_cost(const struct asked *a, const char *output, const char *input)
{
    int cost = 0;
    for (size_t i = 0; i < a->b->cables.n; i++) {
        const struct cable *c = &a->b->cables.v[i];
        struct out_end out;
        if (strcmp(c->to, input) != 0 || strcmp(c->from, output) == 0)
            continue;
        if (booth_output(a->b, c->from, &out) && out.device->in_use)
            return -1;
        cost += a->prices.unplug;
    }
    return cost;
}

/* Whether an output fits an input; *level is what a switch must be turned to for it. */
static bool fits(const struct output *out, const struct input *in, enum level *level)
{
    *level = LEVEL_UNSAID;
    if (out->level != LEVEL_LINE && out->level != LEVEL_DIGITAL)
        return false;
    if (in->level == out->level)
        return true;
    for (size_t i = 0; i < in->levels.n; i++)
        if (in->levels.v[i] == (int)out->level)
            *level = out->level;
    return *level != LEVEL_UNSAID;
}

static int setting_cost(const struct asked *a, int deck, const struct feeder *by,
                        const int carries[2])
{
    return by->first < 0 ? a->prices.set : set_cost(a, deck, pair_from(by->first, carries));
}

/* Fills f with how an output feeds an input of a wished strip; false when it cannot. */
static bool try_feed(const struct asked *a, const struct wish *wish, const struct input *in,
                     const struct output *out, struct feed *f)
{
    const struct strip *s = circuit_strip(a->c, wish->strip);
    if (!fits(out, in, &f->level))
        return false;
    snprintf(f->input, sizeof f->input, "%.32s.%.32s", s->id, in->id);
    int clearing = clearing_cost(a, f->output, f->input);
    int cable = cable_cost(a, f->output, f->input);
    f->fits = clearing >= 0 && cable >= 0;
    f->cost = cable + clearing;
    if (f->level != LEVEL_UNSAID)
        f->cost += a->prices.switch_;
    if (strcmp(s->selected, in->id) != 0)
        f->cost += a->prices.selector;
    for (size_t i = 0; i < 2; i++)
        f->carries[i] = i < out->channels.n ? out->channels.v[i] : 0;
    return f->fits;
}

struct feed feed_of(const struct asked *a, const struct wish *wish, const struct feeder *by)
{
    const struct inputs *inputs = &circuit_strip(a->c, wish->strip)->inputs;
    const struct outputs *outputs = &by->device->outputs;
    struct feed best = {.fits = false};
    for (size_t i = 0; i < inputs->n; i++)
        for (size_t k = 0; k < outputs->n; k++) {
            const struct output *out = &outputs->v[k];
            struct feed f = {.fits = false};
            snprintf(f.output, sizeof f.output, "%.32s.%.32s", by->device->id, out->id);
            if ((by->outputs && !by->outputs[k]) || !try_feed(a, wish, &inputs->v[i], out, &f))
                continue;
            f.cost += setting_cost(a, wish->deck, by, f.carries);
            if (!best.fits || f.cost < best.cost)
                best = f;
        }
    return best;
}

bool is_set(const struct asked *a, int deck, struct pair pair)
{
    struct pair now = a->b->decks.v[deck].set_to;
    return now.left == pair.left && now.right == pair.right;
}

int set_cost(const struct asked *a, int deck, struct pair pair)
{
    return is_set(a, deck, pair) ? 0 : a->prices.set;
}

struct pair pair_from(int first, const int carries[2])
{
    int left = first + carries[0] - 1;
    return (struct pair){left, carries[1] ? first + carries[1] - 1 : left};
}

int joining_cost(const struct asked *a, const struct texts *joined, size_t kept)
{
    int cost = (int)(a->b->joined.n - kept) * a->prices.leave;
    for (size_t i = 0; i < joined->n; i++) {
        const struct device *d = booth_device(a->b, joined->v[i]);
        cost += (i >= kept ? a->prices.join : 0) + (*d->plugged.at ? 0 : a->prices.plug);
    }
    return cost;
}
