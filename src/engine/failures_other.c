/* Ways back that no plan makes: all decks through an output built into the laptop, mixed in the
 * host; and when the laptop died, what plays without it. */
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/failures_parts.h"
#include "engine/plan_parts.h"
#include "model/say.h"

/* --- by the laptop's own output --------------------------------------------------------------- */

/* A cable by which an output built into the laptop reaches a strip. */
struct outlet {
    struct out_end out;
    struct in_end in;
    const struct cable *cable;
};

static bool is_outlet(const struct wound *w, const struct booth *b, const struct cable *c,
                      struct outlet *o)
{
    o->cable = c;
    booth_output(b, c->from, &o->out);
    booth_input(b, c->to, &o->in);
    const struct device *d = o->out.device;
    return !w->lost[d - b->devices.v] && strcmp(d->plugged.at, "built-in") == 0 && d->card &&
           !d->in_use && o->in.strip && !o->in.strip->in_use &&
           strcmp(o->in.strip->id, w->f->subject) != 0;
}

/* Whether a jack's level is right for an output, or would be with its switch turned. */
static bool level_fits(const struct output *out, const struct input *in)
{
    bool fits = in->level == out->level;
    for (size_t i = 0; i < in->levels.n; i++)
        fits = fits || in->levels.v[i] == (int)out->level;
    return fits;
}

static struct change switching(const char *input, enum level level)
{
    struct change c = change_of(CHANGE_SWITCH, input, NULL);
    c.number = (int)level;
    return c;
}

/* Behind the mixer: nothing else stands in the input, and the cable is straight. */
static bool clear_input(struct plan *p, const struct prices *prices, const struct booth *b,
                        const struct outlet *o)
{
    struct err e;
    bool made = true;
    for (size_t i = 0; i < b->cables.n && made; i++) {
        const struct cable *c = &b->cables.v[i];
        struct change pull = change_of(CHANGE_UNCABLE, c->from, c->to);
        if (c == o->cable || strcmp(c->to, o->cable->to) != 0)
            continue;
        made = !change_touches_in_use(b, &pull) && plan_act(p, "unplug", prices->unplug, pull, &e);
    }
    if (made && o->cable->sides != SIDES_STRAIGHT)
        made = plan_act(p, "move", prices->move,
                        change_of(CHANGE_CABLE, o->cable->from, o->cable->to), &e);
    if (made && o->in.input->level != o->out.output->level)
        made = plan_act(p, "switch", prices->switch_, switching(o->cable->to, o->out.output->level),
                        &e);
    return made;
}

/* It alone is joined, unless it is joined already. */
static bool join_outlet(struct plan *p, const struct prices *prices, const struct booth *b,
                        const char *id)
{
    struct err e;
    bool made = true;
    struct change join = change_of(CHANGE_JOIN, id, NULL);
    join.number = -1;
    if (booth_joined_at(b, id) >= 0)
        return true;
    for (size_t i = b->joined.n; i-- > 0 && made;)
        made = plan_act(p, "leave", prices->leave, change_of(CHANGE_LEAVE, b->joined.v[i], NULL),
                        &e);
    return made && plan_act(p, "join", prices->join, join, &e);
}

/* The pair of the interface that it plays, once it is joined. */
static struct pair outlet_pair(const struct booth *b, const struct outlet *o)
{
    int first = 0;
    const struct ints *carried = &o->out.output->channels;
    for (size_t i = 0; strcmp(b->joined.v[i], o->out.device->id) != 0; i++)
        first += booth_device(b, b->joined.v[i])->card->out_channels;
    return pair_from(first, (int[]){carried->v[0], carried->n > 1 ? carried->v[1] : 0});
}

static bool set_deck(struct plan *p, int minutes, const struct deck *d, struct pair pair)
{
    struct err e;
    struct change set = change_of(CHANGE_SET, d->id, NULL);
    set.pair = pair;
    return plan_act(p, "set", minutes, set, &e);
}

/* Decks that want a strip play to a pair; those that want nothing do not. */
static bool set_all(struct plan *p, const struct prices *prices, const struct booth *b,
                    struct pair pair)
{
    bool made = true;
    for (size_t i = 0; i < b->decks.n && made; i++) {
        const struct deck *d = &b->decks.v[i];
        bool there = d->set_to.left == pair.left && d->set_to.right == pair.right;
        if (*d->wants && !there)
            made = set_deck(p, prices->set, d, pair);
        else if (!*d->wants && pairs_overlap(d->set_to, pair))
            made = set_deck(p, 0, d, (struct pair){-1, -1});
    }
    return made;
}

/* All decks by one such cable. */
static struct way_back by_outlet(const struct wound *w, const struct booth *b,
                                 const struct outlet *o)
{
    struct prices prices = plan_prices(b);
    struct way_back way = {.plan = {.way = WAY_PATCHED, .after = booth_copy(b)}};
    struct plan *p = &way.plan;
    struct str text = {0};
    struct err e;
    bool made = level_fits(o->out.output, o->in.input) && clear_input(p, &prices, b, o) &&
                join_outlet(p, &prices, b, o->out.device->id);
    if (made && interface_stops(w))
        choose_again(p, p->n);
    if (made && strcmp(o->in.strip->selected, o->in.input->id) != 0)
        made = plan_act(p, "selector", prices.selector,
                        change_of(CHANGE_SELECT, o->in.strip->id, o->in.input->id), &e);
    p->feasible = made && set_all(p, &prices, b, outlet_pair(p->after, o));
    str_add(&text, "all decks through the laptop's own output on ");
    say_thing(b, o->in.strip->id, &text);
    str_add(&text, ", mixed in the host");
    way.text = str_take(&text);
    return way;
}

void offer_outlets(const struct wound *w, struct way_back *best)
{
    for (int gap_kept = keeps_gap(w); gap_kept >= 0; gap_kept--) {
        struct booth *left = without(w, gap_kept);
        struct outlet o;
        for (size_t i = 0; i < left->cables.n; i++) {
            if (!is_outlet(w, left, &left->cables.v[i], &o))
                continue;
            struct way_back way = by_outlet(w, left, &o);
            if (!gap_kept)
                close_gap(w, &way.plan);
            offer(best, way);
        }
        booth_free(left);
    }
}

/* --- without the laptop ----------------------------------------------------------------------- */

/* A cable that brings own media, or a record, to a strip: what has to be turned for it, or -1. */
static int own_media_cost(const struct booth *b, const struct cable *c, const struct prices *p)
{
    struct out_end out;
    struct in_end in;
    booth_output(b, c->from, &out);
    booth_input(b, c->to, &in);
    bool player = out.device->kind == KIND_PLAYER;
    if (!in.strip || (!player && out.device->kind != KIND_TURNTABLE) || out.device->in_use ||
        in.strip->in_use || !level_fits(out.output, in.input))
        return -1;
    return (in.input->level == out.output->level ? 0 : p->switch_) +
           (strcmp(in.strip->selected, in.input->id) == 0 ? 0 : p->selector) +
           (player && out.device->source == SOURCE_COMPUTER ? p->source : 0);
}

static struct way_back by_own_media(const struct wound *w, const struct cable *c)
{
    struct prices prices = plan_prices(w->b);
    struct way_back way = {.plan = {.feasible = true, .after = booth_copy(w->b)}};
    struct plan *p = &way.plan;
    struct out_end out;
    struct in_end in;
    struct str text = {0};
    struct err e;
    booth_output(w->b, c->from, &out);
    booth_input(w->b, c->to, &in);
    if (in.input->level != out.output->level)
        plan_act(p, "switch", prices.switch_, switching(c->to, out.output->level), &e);
    if (strcmp(in.strip->selected, in.input->id) != 0)
        plan_act(p, "selector", prices.selector,
                 change_of(CHANGE_SELECT, in.strip->id, in.input->id), &e);
    if (out.device->kind == KIND_PLAYER && out.device->source == SOURCE_COMPUTER)
        plan_act(p, "source", prices.source, change_of(CHANGE_SOURCE, out.device->id, NULL), &e);
    str_addf(&text, "play from %s itself on ", out.device->label);
    say_thing(w->b, in.strip->id, &text);
    way.text = str_take(&text);
    return way;
}

struct way_back by_soonest_media(const struct wound *w)
{
    struct prices prices = plan_prices(w->b);
    const struct cable *best = NULL;
    int least = 0;
    for (size_t i = 0; i < w->b->cables.n; i++) {
        const struct cable *c = &w->b->cables.v[i];
        int cost = own_media_cost(w->b, c, &prices);
        int order = 2 * cost + (c->sides != SIDES_STRAIGHT); /* of equals a whole cable first */
        if (cost >= 0 && (!best || order < least)) {
            best = c;
            least = order;
        }
    }
    if (best)
        return by_own_media(w, best);
    struct way_back none = {.text = NULL};
    plan_refuse(&none.plan, "nothing here plays without the laptop");
    return none;
}
