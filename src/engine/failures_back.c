/* Ways back. Each that could be is made whole, on a copy of the booth without the thing, and the
 * cheapest stays; of equals the first (the last two of these are made in failures_other.c):
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

void offer(struct way_back *best, struct way_back other)
{
    bool none = !best->plan.feasible && !best->plan.why_not;
    struct way_back worse = other;
    if (none || is_better(&other.plan, &best->plan)) {
        worse = *best;
        *best = other;
    }
    way_back_clear(&worse);
}

/* Puts an action after the first `at`; takes its text. */
static void insert(struct plan *p, size_t at, struct action action)
{
    p->actions = mem_grow(p->actions, &p->cap, p->n + 1, sizeof *p->actions);
    if (at < p->n)
        memmove(p->actions + at + 1, p->actions + at, (p->n - at) * sizeof *p->actions);
    p->actions[at] = action;
    p->n++;
    p->minutes += action.minutes;
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

bool keeps_gap(const struct wound *w)
{
    return w->b->host.gap == GAP_KEEPS && joined_lost(w);
}

bool cable_is(const struct cable *c, const char *subject)
{
    char name[2 * REF_SIZE];
    snprintf(name, sizeof name, "%s>%s", c->from, c->to);
    return strcmp(name, subject) == 0;
}

/* When to choose the interface: once it is whole, or at once where nothing joins or leaves. */
static size_t choosing_time(const struct plan *p)
{
    for (size_t at = p->n; at > 0; at--) {
        const struct change *c = &p->actions[at - 1].change;
        if (c->what == CHANGE_JOIN || c->what == CHANGE_LEAVE || (c->what == CHANGE_PLUG && *c->b))
            return at;
    }
    return 0;
}

void choose_again(struct plan *p, size_t at)
{
    insert(p, at,
           (struct action){change_of(CHANGE_NONE, NULL, NULL), "interface", CHOOSE_AGAIN,
                           mem_text("choose the interface again in the host")});
}

void close_gap(const struct wound *w, struct plan *p)
{
    size_t at = 0;
    for (size_t i = 0; i < w->b->joined.n && w->b->host.gap == GAP_KEEPS; i++) {
        struct change leave = change_of(CHANGE_LEAVE, w->b->joined.v[i], NULL);
        struct str text = {0};
        if (!is_lost(w, w->b->joined.v[i]))
            continue;
        change_say(w->b, &leave, &text);
        insert(p, at++, (struct action){leave, "leave", plan_prices(w->b).leave, str_take(&text)});
    }
}

static void cut(struct booth *b, const char *subject)
{
    size_t i = 0;
    while (!cable_is(&b->cables.v[i], subject))
        i++;
    records_splice(shape_field(&shape_booth, "cables"), &b->cables, i, 1, NULL, 0);
}

struct booth *without(const struct wound *w, bool gap_kept)
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

/* The least plan on what is left; of infeasible ones that of the way taken now. */
static struct way_back by_plan(const struct wound *w, const struct booth *left)
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
        choose_again(&way.plan, choosing_time(&way.plan));
    return way;
}

static struct way_back by_any_plan(const struct wound *w)
{
    struct way_back best = {.text = NULL};
    for (int gap_kept = keeps_gap(w); gap_kept >= 0; gap_kept--) {
        struct booth *left = without(w, gap_kept);
        struct way_back way = by_plan(w, left);
        if (way.plan.feasible && !gap_kept)
            close_gap(w, &way.plan);
        offer(&best, way);
        booth_free(left);
    }
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
    if (found)
        way = by_plan(w, b);
    else
        plan_refuse(&way.plan, "no other strip is free");
    booth_free(b);
    if (way.plan.feasible) {
        str_addf(&where, "%s%s", where.len ? "; " : "", way.text);
        text_set(&way.text, str_text(&where));
    }
    str_clear(&where);
    return way;
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

/* Which decks are given up: those that need what failed; those that were not heard before. */
enum { NEEDING = 1, UNHEARD = 2 };

/* A deck wants nothing for now. One that was not set goes on playing to where its route was. */
static void give_up(struct deck *d, struct pair plays_to)
{
    want(d, "");
    d->set_to = plays_to;
}

/* It wants again what it wanted; its setting is what it was unless it was taken back. */
static void wish_again(struct deck *d, const struct deck *as_before)
{
    want(d, as_before->wants);
    if (d->set_to.left >= 0 && as_before->set_to.left < 0)
        d->set_to = as_before->set_to;
}

/* The least plan without some decks, which keep their wish. Not feasible where these are none of
 * those that want a strip, or all. */
static struct way_back by_the_rest(const struct wound *w, int without)
{
    struct circuit *c = circuit_new(w->b);
    struct wound rest = *w;
    struct booth *b = booth_copy(w->b);
    struct texts given_up = {0};
    size_t wanting = 0;
    for (size_t i = 0; i < b->decks.n; i++) {
        bool goes = ((without & UNHEARD) && w->unheard[i]) ||
                    ((without & NEEDING) && needs_it(w, c, (int)i));
        wanting += *b->decks.v[i].wants != '\0';
        if (!*b->decks.v[i].wants || !goes)
            continue;
        texts_add(&given_up, b->decks.v[i].id);
        give_up(&b->decks.v[i], route_effective(c, (int)i));
    }
    rest.b = b;
    struct way_back way = {.text = NULL};
    if (given_up.n && given_up.n < wanting)
        way = by_any_plan(&rest);
    for (size_t i = 0; i < given_up.n && way.plan.feasible; i++) {
        const struct deck *before = booth_deck(w->b, given_up.v[i]);
        wish_again(&way.plan.after->decks.v[before - w->b->decks.v], before);
    }
    way.without = given_up;
    booth_free(b);
    circuit_free(c);
    return way;
}

/* Whether there is more to do than to tidy up: to hand over control, to pull dead leads, to take
 * back settings. */
static bool changes_sound(const struct plan *p)
{
    bool changes = false;
    for (size_t i = 0; p->feasible && i < p->n; i++) {
        const struct change *c = &p->actions[i].change;
        changes = changes || !(c->what == CHANGE_CONTROL || (c->what == CHANGE_PLUG && !*c->b) ||
                               (c->what == CHANGE_SET && c->pair.left < 0));
    }
    return changes;
}

/* Where a device or a strip died, first without those that need it; where a lead, a hub or a cable
 * did, which can be replaced, first without those that were silent anyway. */
static void go_on(struct wound *w)
{
    static const int dead[] = {NEEDING, NEEDING | UNHEARD, UNHEARD},
                     replaced[] = {UNHEARD, NEEDING, NEEDING | UNHEARD};
    struct failure *f = w->f;
    bool dies = f->kind == FAILING_DEVICE || f->kind == FAILING_STRIP;
    for (size_t i = 0; i < 3 && !f->meanwhile.plan.feasible; i++) {
        way_back_clear(&f->meanwhile);
        f->meanwhile = by_the_rest(w, (dies ? dead : replaced)[i]);
    }
    if (!changes_sound(&f->meanwhile.plan))
        way_back_clear(&f->meanwhile);
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
    go_on(w);
}
