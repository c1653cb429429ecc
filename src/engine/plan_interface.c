/* By an interface that is patched into the strips' inputs: it alone is joined. Outputs that share a
 * channel, directly or through others, are one group, and a group serves at most one strip. */
#include <stdio.h>
#include <stdlib.h>

#include "base/mem.h"
#include "engine/assign.h"
#include "engine/plan_parts.h"
#include "model/shape.h"

struct panel {
    const struct asked *a;
    const struct device *device;
    int *group; /* of each output, by the place of its first */
    int groups;
    struct feed *feeds; /* wishes x groups */
    int column_of[MAX_STRIPS];
    int minutes;
};

/* Gives outputs that hang together the number of their group, in the order of first outputs. */
static void group_outputs(struct panel *p)
{
    size_t n = p->device->outputs.n;
    const struct output *v = p->device->outputs.v;
    p->group = mem_new(n, sizeof *p->group);
    for (size_t i = 0; i < n; i++)
        p->group[i] = (int)i;
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < i; k++) {
            int from = p->group[i], to = p->group[k];
            for (size_t m = 0; m < n && channels_shared(&v[i].channels, &v[k].channels); m++)
                if (p->group[m] == from || p->group[m] == to)
                    p->group[m] = from < to ? from : to;
        }
    for (size_t i = 0; i < n; i++) /* the first of a group numbers it */
        if (p->group[i] == (int)i) {
            for (size_t m = i; m < n; m++)
                if (p->group[m] == (int)i)
                    p->group[m] = p->groups;
            p->groups++;
        }
}

static struct feed feed_by_group(const struct panel *p, int wish, int group)
{
    bool *outputs = mem_new(p->device->outputs.n, sizeof *outputs);
    for (size_t i = 0; i < p->device->outputs.n; i++)
        outputs[i] = p->group[i] == group;
    struct feeder by = {p->device, outputs, 0};
    struct feed f = feed_of(p->a, &p->a->wishes[wish], &by);
    mem_free(outputs);
    return f;
}

static bool solve(struct panel *p)
{
    int rows = p->a->n;
    int64_t *costs = mem_new((size_t)(rows * p->groups), sizeof *costs);
    p->feeds = mem_new((size_t)(rows * p->groups), sizeof *p->feeds);
    for (int i = 0; i < rows; i++)
        for (int j = 0; j < p->groups; j++) {
            struct feed *f = &p->feeds[i * p->groups + j];
            *f = feed_by_group(p, i, j);
            costs[i * p->groups + j] = f->fits ? (int64_t)f->cost * DISTANCE_ROOM +
                                                     abs(j - p->a->wishes[i].rank)
                                               : ASSIGN_NEVER;
        }
    bool solved = assign_solve(costs, rows, p->groups, p->column_of);
    for (int i = 0; i < rows && solved; i++)
        p->minutes += (int)(costs[i * p->groups + p->column_of[i]] / DISTANCE_ROOM);
    mem_free(costs);
    return solved;
}

static void tell_panel(const struct panel *panel, struct plan *p)
{
    struct outcome o = {.kept = joined_alone(panel->a->b, panel->device)};
    texts_add(&o.joined, panel->device->id);
    for (int i = 0; i < panel->a->n; i++) {
        o.feeds[i] = panel->feeds[i * panel->groups + panel->column_of[i]];
        o.pairs[i] = pair_from(0, o.feeds[i].carries);
    }
    plan_tell(panel->a, &o, p);
    outcome_clear(&o);
}

static void panel_clear(struct panel *p)
{
    mem_free(p->group);
    mem_free(p->feeds);
}

static bool is_one(const struct asked *a, const struct device *d)
{
    return d->kind == KIND_INTERFACE && d->card && !is_dead(a, d);
}

/* The next interface from the left after one (NULL: the first); NULL past the last. */
static const struct device *next_one(const struct asked *a, const struct device *after)
{
    const struct device *best = NULL;
    for (size_t i = 0; i < a->b->devices.n; i++) {
        const struct device *d = &a->b->devices.v[i];
        bool later = !after || d->place > after->place || (d->place == after->place && d > after);
        if (is_one(a, d) && later && (!best || d->place < best->place))
            best = d;
    }
    return best;
}

static void refuse(const struct asked *a, int most, struct plan *p)
{
    char there[64];
    if (most)
        snprintf(there, sizeof there, "%d pair%s of outputs at most", most, most == 1 ? "" : "s");
    else
        snprintf(there, sizeof there, "no output with a channel of the host");
    if (!next_one(a, NULL))
        plan_refuse(p, "there is no interface with a sound card");
    else if (most < a->n)
        plan_refuse_few(a, p, is_one, there);
    else
        plan_refuse_fit(a, p, is_one,
                        (const char *const[]){"an interface", "an interface's outputs"});
}

void plan_by_interface(const struct asked *a, struct plan *p)
{
    struct panel best = {.minutes = -1};
    int most = 0;
    for (const struct device *d = next_one(a, NULL); d; d = next_one(a, d)) {
        struct panel panel = {.a = a, .device = d};
        struct texts joined = {0};
        if (d->in_use)
            continue;
        group_outputs(&panel);
        most = panel.groups > most ? panel.groups : most;
        texts_add(&joined, d->id);
        panel.minutes = joining_cost(a, &joined, joined_alone(a->b, d));
        texts_clear(&joined);
        bool better = solve(&panel) && (best.minutes < 0 || panel.minutes < best.minutes);
        panel_clear(better ? &best : &panel);
        if (better)
            best = panel;
    }
    if (best.minutes < 0)
        refuse(a, most, p);
    else
        tell_panel(&best, p);
    panel_clear(&best);
}
