/* The price of a strip fed by an output. Every pair is priced against the booth as it stands in
 * the file, also where another pair moves the cable that stands in the way: the model is a sum, so
 * that its optimum can be exact. */
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/plan_parts.h"

struct cabling cabling_of(const struct circuit *c)
{
    struct cabling k = {mem_new(c->n_outputs, sizeof(int)), mem_new(c->n_cables, sizeof(int)),
                        mem_new(c->n_inputs, sizeof(int)), mem_new(c->n_cables, sizeof(int))};
    for (size_t i = 0; i < c->n_outputs; i++)
        k.from[i] = -1;
    for (size_t i = 0; i < c->n_inputs; i++)
        k.into[i] = -1;
    for (int i = (int)c->n_cables - 1; i >= 0; i--) {
        const struct circuit_cable *cable = &c->cables[i];
        k.after_from[i] = k.from[cable->output];
        k.after_into[i] = k.into[cable->input];
        k.from[cable->output] = k.into[cable->input] = i;
    }
    return k;
}

void cabling_clear(struct cabling *k)
{
    mem_free(k->from);
    mem_free(k->after_from);
    mem_free(k->into);
    mem_free(k->after_into);
    *k = (struct cabling){NULL, NULL, NULL, NULL};
}

/* One output and one input, by their numbers in the circuit. */
struct link {
    int output, input;
};

static bool input_used(const struct circuit *c, int input)
{
    int strip = c->inputs[input].strip;
    return strip >= 0 ? circuit_strip(c, strip)->in_use != NULL
                      : circuit_device(c, c->inputs[input].device)->in_use != NULL;
}

/* What the cable of a link costs; -1 when the output's cables must all stay where they are. *spare
 * is the first that need not: none that runs into what is in use. */
static int cable_cost(const struct asked *a, struct link l, int *spare)
{
    const struct circuit *c = a->c;
    bool held = false;
    *spare = -1;
    for (int i = a->cabling.from[l.output]; i >= 0; i = a->cabling.after_from[i]) {
        if (c->cables[i].input == l.input)
            return c->cables[i].sides == SIDES_STRAIGHT ? 0 : a->prices.move;
        if (input_used(c, c->cables[i].input))
            held = true;
        else if (*spare < 0)
            *spare = i;
    }
    return *spare >= 0 ? a->prices.move : held ? -1 : a->prices.add;
}

/* What pulling the other cables out of an input costs; -1 when one must stay. */
static int clearing_cost(const struct asked *a, struct link l)
{
    const struct circuit *c = a->c;
    int cost = 0;
    for (int i = a->cabling.into[l.input]; i >= 0; i = a->cabling.after_into[i]) {
        if (c->cables[i].output == l.output)
            continue;
        if (circuit_device(c, c->outputs[c->cables[i].output].device)->in_use)
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
static bool try_feed(const struct asked *a, bool selected, const struct input *in,
                     const struct output *out, struct feed *f)
{
    if (!fits(out, in, &f->level))
        return false;
    f->cost = f->level != LEVEL_UNSAID ? a->prices.switch_ : 0;
    f->cost += selected ? 0 : a->prices.selector;
    for (size_t i = 0; i < 2; i++)
        f->carries[i] = i < out->channels.n ? out->channels.v[i] : 0;
    return true;
}

/* Adds what the link costs; false when it must not be made. */
static bool add_wiring(const struct asked *a, struct link l, struct feed *f)
{
    int cable = cable_cost(a, l, &f->spare), clearing = clearing_cost(a, l);
    f->fits = cable >= 0 && clearing >= 0;
    f->cost += cable + clearing;
    return f->fits;
}

/* The number of the first output of a device, or of the first input of a strip. */
static struct link first_link(const struct circuit *c, const struct device *d, int strip)
{
    struct link l = {0, 0};
    while (l.output < (int)c->n_outputs && circuit_device(c, c->outputs[l.output].device) != d)
        l.output++;
    while (l.input < (int)c->n_inputs && c->inputs[l.input].strip != strip)
        l.input++;
    return l;
}

struct feed feed_of(const struct asked *a, const struct wish *wish, const struct feeder *by)
{
    const struct strip *s = circuit_strip(a->c, wish->strip);
    const struct outputs *outputs = &by->device->outputs;
    struct link first = first_link(a->c, by->device, wish->strip), taken = {-1, -1};
    int selected = a->c->strips[wish->strip].selected;
    struct feed best = {.fits = false};
    bool held = false;
    for (int i = 0; i < (int)s->inputs.n; i++)
        for (int k = 0; k < (int)outputs->n; k++) {
            struct feed f = {.fits = false};
            struct link l = {first.output + k, first.input + i};
            if ((by->outputs && !by->outputs[k]) ||
                !try_feed(a, l.input == selected, &s->inputs.v[i], &outputs->v[k], &f))
                continue;
            if (!add_wiring(a, l, &f)) {
                held = true;
                continue;
            }
            f.cost += setting_cost(a, wish->deck, by, f.carries);
            if (best.fits && f.cost >= best.cost)
                continue;
            best = f;
            taken = l;
        }
    best.held = held;
    if (!best.fits)
        return best;
    circuit_output_name(a->c, taken.output, best.output);
    circuit_input_name(a->c, taken.input, best.input);
    return best;
}

bool channels_shared(const struct ints *a, const struct ints *b)
{
    for (size_t i = 0; i < a->n; i++)
        for (size_t k = 0; k < b->n; k++)
            if (a->v[i] == b->v[k])
                return true;
    return false;
}

bool is_dead(const struct asked *a, const struct device *d)
{
    return a->dead.cards && a->dead.cards[d - a->b->devices.v];
}

bool is_loose(const struct asked *a, const struct plug *p)
{
    return !*p->at || (a->dead.hub && strcmp(p->at, a->dead.hub) == 0);
}

bool joined_alone(const struct booth *b, const struct device *d)
{
    return b->joined.n == 1 && strcmp(b->joined.v[0], d->id) == 0;
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
        if (!is_dead(a, d))
            cost += (i >= kept ? a->prices.join : 0) +
                    (is_loose(a, &d->plugged) ? a->prices.plug : 0);
    }
    return cost;
}

/* How many of the new joined list, from its front, can stay. */
static size_t staying(const struct texts *was, const struct texts *is)
{
    size_t n = 0;
    for (size_t i = 0; i < was->n && n < is->n; i++)
        n += strcmp(was->v[i], is->v[n]) == 0;
    return n;
}

struct changes rejoining(const struct texts *was, const struct texts *is)
{
    struct changes all = {0};
    size_t stay = staying(was, is), kept = 0;
    for (size_t i = 0; i < was->n; i++)
        if (kept < stay && strcmp(was->v[i], is->v[kept]) == 0)
            kept++;
        else
            changes_add(&all, change_of(CHANGE_LEAVE, was->v[i], NULL));
    for (size_t i = stay; i < is->n; i++) {
        struct change join = change_of(CHANGE_JOIN, is->v[i], NULL);
        join.number = -1;
        changes_add(&all, join);
    }
    return all;
}
