/* Ways back. Each that could be is made whole, on a copy of the booth without the thing, and the
 * cheapest stays; of equals the first:
 *
 *   a card, lead, hub, cable died   the least plan with the gap kept, where the host keeps it; and
 *                                   with the gap closed
 *   a strip died                    the least plan for each strip that is free
 *   no deck is heard any more, or   all decks through an output built into the laptop, mixed in the
 *   there is no plan                host, by a cable that is there
 *   the laptop died                 the turntable or player whose own media reaches a strip soonest
 *
 * Losing a joined device while it plays stops everything until the interface is chosen again, where
 * the host's on_drop says so: half a minute (common practice, no source). */
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/failures_parts.h"
#include "engine/plan_parts.h"
#include "engine/route.h"
#include "model/say.h"
#include "model/shape.h"

enum { CHOOSE_AGAIN = 500 };

/* --- one way, and the better of two ----------------------------------------------------------- */

void way_back_clear(struct way_back *w)
{
    plan_clear(&w->plan);
    texts_clear(&w->without);
    mem_free(w->text);
    *w = (struct way_back){.text = NULL};
}

static bool is_better(const struct plan *p, const struct plan *than)
{
    return p->feasible && (!than->feasible || p->minutes < than->minutes);
}

/* Puts another in the place of the best so far if it is better, or if there is none yet; the other
 * is cleared. */
static void offer(struct way_back *best, struct way_back other)
{
    bool none = !best->plan.feasible && !best->plan.why_not;
    struct way_back worse = other;
    if (none || is_better(&other.plan, &best->plan)) {
        worse = *best;
        *best = other;
    }
    way_back_clear(&worse);
}

/* Adds it after the first `at` actions. */
static void choose_again(struct plan *p, size_t at)
{
    struct action action = {change_of(CHANGE_NONE, NULL, NULL), "interface", CHOOSE_AGAIN,
                            mem_text("choose the interface again in the host")};
    p->actions = mem_grow(p->actions, &p->cap, p->n + 1, sizeof *p->actions);
    if (at < p->n)
        memmove(p->actions + at + 1, p->actions + at, (p->n - at) * sizeof *p->actions);
    p->actions[at] = action;
    p->n++;
    p->minutes += CHOOSE_AGAIN;
}

/* When to choose the interface: at once, which brings back whatever is still there; where nothing
 * of it stays, once the others are joined. */
static size_t choosing_time(const struct plan *p, const struct booth *left)
{
    const struct texts *after = &p->after->joined;
    if (left->joined.n && strcmp(left->joined.v[0], after->v[0]) == 0)
        return 0;
    size_t at = p->n;
    while (at > 0 && p->actions[at - 1].change.what != CHANGE_JOIN)
        at--;
    return at;
}

/* --- what is lost ----------------------------------------------------------------------------- */

static bool is_lost(const struct wound *w, const char *device)
{
    return w->lost[booth_device(w->b, device) - w->b->devices.v];
}

static size_t joined_lost(const struct wound *w)
{
    size_t n = 0;
    for (size_t i = 0; i < w->b->joined.n; i++)
        n += is_lost(w, w->b->joined.v[i]);
    return n;
}

bool interface_stops(const struct wound *w)
{
    return joined_lost(w) && w->b->host.on_drop == DROP_STOPS;
}

bool cable_is(const struct cable *c, const char *subject)
{
    char name[2 * REF_SIZE];
    snprintf(name, sizeof name, "%s>%s", c->from, c->to);
    return strcmp(name, subject) == 0;
}

static void cut(struct booth *b, const char *subject)
{
    size_t i = 0;
    while (!cable_is(&b->cables.v[i], subject))
        i++;
    records_splice(shape_field(&shape_booth, "cables"), &b->cables, i, 1, NULL, 0);
}

/* What hands find. A lost card stays in the joined list where its gap is kept. Plugs stand where
 * they stand; a lead that failed is no lead. */
static struct booth *without(const struct wound *w, bool gap_kept)
{
    struct booth *b = booth_copy(w->b);
    for (size_t i = 0; i < w->b->devices.n; i++) {
        struct device *d = &b->devices.v[i];
        int at = booth_joined_at(b, d->id);
        if (w->lost[i] && at >= 0 && !gap_kept)
            texts_remove(&b->joined, (size_t)at);
        if (w->lost[i] && w->f->kind == FAILING_LEAD)
            d->plugged = (struct plug){.port = 0};
    }
    if (w->f->kind == FAILING_CABLE)
        cut(b, w->f->subject);
    return b;
}

/* --- by a plan -------------------------------------------------------------------------------- */

/* Of a mixer whose card failed the plan only knows that there is no other. */
static void say_why_not(const struct wound *w, struct plan *p)
{
    const struct device *d = w->f->kind == FAILING_DEVICE ? booth_device(w->b, w->f->subject)
                                                          : NULL;
    if (d && d->kind == KIND_MIXER)
        plan_refuse(p, "%s's sound card failed, and there is no other way in", d->label);
}

/* The least plan on what is left, which is freed; of infeasible ones that of the way taken now. */
static struct way_back by_plan(const struct wound *w, struct booth *left)
{
    enum failing kind = w->f->kind;
    const char *subject = w->f->subject;
    struct dead dead = {.cards = kind == FAILING_DEVICE ? w->lost : NULL,
                        .hub = kind == FAILING_HUB ? subject : NULL,
                        .lead = kind == FAILING_LEAD ? booth_device(w->b, subject + strlen("lead-"))
                                                     : NULL};
    struct plan *plans = plans_without(left, &dead);
    struct plan *least = plans[0].feasible ? plans
                                           : &plans[plans_of(plans, plan_way_now(w->b)) - plans];
    struct way_back way = {.plan = *least};
    *least = (struct plan){.way = least->way};
    plans_free(plans);
    if (!way.plan.feasible)
        say_why_not(w, &way.plan);
    else
        way.text = mem_text(word_people(&words_way, (int)way.plan.way));
    if (way.plan.feasible && interface_stops(w))
        choose_again(&way.plan, choosing_time(&way.plan, left));
    booth_free(left);
    return way;
}

static struct way_back by_any_plan(const struct wound *w)
{
    struct way_back best = {.text = NULL};
    if (w->b->host.gap == GAP_KEEPS && joined_lost(w))
        offer(&best, by_plan(w, without(w, true)));
    offer(&best, by_plan(w, without(w, false)));
    return best;
}

/* --- by another strip ------------------------------------------------------------------------- */

static bool is_free(const struct booth *b, const struct strip *s, const char *dead)
{
    bool taken = s->in_use || strcmp(s->id, dead) == 0;
    for (size_t i = 0; i < b->decks.n; i++)
        taken = taken || strcmp(b->decks.v[i].wants, s->id) == 0;
    return !taken;
}

static void want(struct deck *d, const char *strip)
{
    snprintf(d->wants, sizeof d->wants, "%s", strip);
}

/* Sends a deck that wants nothing now to the free strip with the least plan, else to the first from
 * the left. False when none is free. */
static bool choose_strip(const struct wound *w, const struct circuit *c, struct booth *b,
                         struct deck *deck)
{
    const char *best = "";
    int least = -1;
    for (size_t i = 0; i < c->n_strips; i++) {
        const struct strip *s = circuit_strip(c, c->by_rank[i]);
        if (!is_free(b, s, w->f->subject))
            continue;
        want(deck, s->id);
        struct plan *plans = plans_make(b);
        bool better = plans[0].feasible && (least < 0 || plans[0].minutes < least);
        if (better)
            least = plans[0].minutes;
        if (better || !*best)
            best = s->id;
        plans_free(plans);
        want(deck, "");
    }
    want(deck, best);
    return *best;
}

/* Each deck that wanted the dead strip goes to another, one after the other. */
static struct way_back by_other_strip(const struct wound *w)
{
    struct booth *b = booth_copy(w->b);
    struct circuit *c = circuit_new(w->b);
    struct str where = {0};
    bool found = true;
    for (size_t i = 0; i < b->decks.n; i++)
        if (strcmp(w->b->decks.v[i].wants, w->f->subject) == 0)
            want(&b->decks.v[i], "");
    for (size_t i = 0; i < b->decks.n && found; i++) {
        struct deck *d = &b->decks.v[i];
        if (strcmp(w->b->decks.v[i].wants, w->f->subject) != 0)
            continue;
        found = choose_strip(w, c, b, d);
        str_addf(&where, "%s%s on ", where.len ? ", " : "", d->label);
        say_thing(b, d->wants, &where);
    }
    circuit_free(c);
    struct way_back way = {.text = NULL};
    if (found) {
        way = by_plan(w, b);
    } else {
        plan_refuse(&way.plan, "no other strip is free");
        booth_free(b);
    }
    if (way.plan.feasible) {
        str_addf(&where, "; %s", way.text);
        text_set(&way.text, str_text(&where));
    }
    str_clear(&where);
    return way;
}

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

/* It alone is joined. */
static bool join_alone(struct plan *p, const struct prices *prices, const struct booth *b,
                       const char *id)
{
    struct err e;
    bool made = true;
    struct change join = change_of(CHANGE_JOIN, id, NULL);
    join.number = -1;
    for (size_t i = b->joined.n; i-- > 0 && made;)
        if (strcmp(b->joined.v[i], id) != 0)
            made = plan_act(p, "leave", prices->leave,
                            change_of(CHANGE_LEAVE, b->joined.v[i], NULL), &e);
    if (made && (b->joined.n != 1 || strcmp(b->joined.v[0], id) != 0))
        made = plan_act(p, "join", prices->join, join, &e);
    return made;
}

static bool set_all(struct plan *p, const struct prices *prices, const struct booth *b,
                    const struct output *out)
{
    struct err e;
    bool made = true;
    int left = out->channels.v[0] - 1;
    struct pair pair = {left, out->channels.n > 1 ? out->channels.v[1] - 1 : left};
    for (size_t i = 0; i < b->decks.n && made; i++) {
        const struct deck *d = &b->decks.v[i];
        struct change set = change_of(CHANGE_SET, d->id, NULL);
        set.pair = pair;
        if (*d->wants && (d->set_to.left != pair.left || d->set_to.right != pair.right))
            made = plan_act(p, "set", prices->set, set, &e);
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
                join_alone(p, &prices, b, o->out.device->id);
    if (made && interface_stops(w))
        choose_again(p, p->n);
    if (made && strcmp(o->in.strip->selected, o->in.input->id) != 0)
        made = plan_act(p, "selector", prices.selector,
                        change_of(CHANGE_SELECT, o->in.strip->id, o->in.input->id), &e);
    p->feasible = made && set_all(p, &prices, b, o->out.output);
    str_add(&text, "all decks through the laptop's own output on ");
    say_thing(b, o->in.strip->id, &text);
    str_add(&text, ", mixed in the host");
    way.text = str_take(&text);
    return way;
}

static void offer_outlets(const struct wound *w, struct way_back *best)
{
    struct booth *b = without(w, false);
    struct outlet o;
    for (size_t i = 0; i < b->cables.n; i++)
        if (is_outlet(w, b, &b->cables.v[i], &o))
            offer(best, by_outlet(w, b, &o));
    booth_free(b);
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

static struct way_back by_soonest_media(const struct wound *w)
{
    struct prices prices = plan_prices(w->b);
    const struct cable *best = NULL;
    int least = 0;
    for (size_t i = 0; i < w->b->cables.n; i++) {
        int cost = own_media_cost(w->b, &w->b->cables.v[i], &prices);
        if (cost >= 0 && (!best || cost < least)) {
            best = &w->b->cables.v[i];
            least = cost;
        }
    }
    if (best)
        return by_own_media(w, best);
    struct way_back none = {.text = NULL};
    plan_refuse(&none.plan, "nothing here plays without the laptop");
    return none;
}

/* --- going on without some -------------------------------------------------------------------- */

/* Whether a deck is played by what failed. */
static bool needs_it(const struct wound *w, const struct circuit *c, int deck)
{
    struct route r = route_of(c, deck);
    struct cable cable = {.sides = SIDES_STRAIGHT};
    if (strcmp(w->b->decks.v[deck].wants, w->f->subject) == 0)
        return true;
    if (!r.there || r.output < 0)
        return r.there && w->lost[r.device];
    circuit_output_name(c, r.output, cable.from);
    circuit_input_name(c, r.input, cable.to);
    return w->lost[r.device] || cable_is(&cable, w->f->subject);
}

/* The least plan for the decks that did not need what failed; the others keep their wish. */
static struct way_back by_the_rest(const struct wound *w)
{
    struct circuit *c = circuit_new(w->b);
    struct wound rest = *w;
    struct booth *b = booth_copy(w->b);
    struct texts given_up = {0};
    size_t wanting = 0;
    for (size_t i = 0; i < b->decks.n; i++) {
        wanting += *b->decks.v[i].wants != '\0';
        if (!*b->decks.v[i].wants || !needs_it(w, c, (int)i))
            continue;
        texts_add(&given_up, b->decks.v[i].id);
        want(&b->decks.v[i], "");
    }
    rest.b = b;
    struct way_back way = {.text = NULL};
    if (given_up.n && given_up.n < wanting)
        way = by_any_plan(&rest);
    for (size_t i = 0; i < b->decks.n && way.plan.feasible; i++)
        want(&way.plan.after->decks.v[i], w->b->decks.v[i].wants);
    way.without = given_up;
    booth_free(b);
    circuit_free(c);
    return way;
}

/* --- the quickest ----------------------------------------------------------------------------- */

void find_way_back(struct wound *w)
{
    struct failure *f = w->f;
    if (f->kind == FAILING_HOST) {
        f->back = by_soonest_media(w);
        return;
    }
    f->back = f->kind == FAILING_STRIP ? by_other_strip(w) : by_any_plan(w);
    if (!f->back.plan.feasible || w->hushed)
        offer_outlets(w, &f->back);
    if (f->back.plan.feasible)
        return;
    f->meanwhile = by_the_rest(w);
    if (!f->meanwhile.plan.feasible || f->meanwhile.plan.minutes == 0)
        way_back_clear(&f->meanwhile);
}
