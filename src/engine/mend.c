/* Each cause has its undoing: the change that makes the truth what was believed. */
#include "engine/mend.h"

#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/plan_parts.h"
#include "model/say.h"

struct mending {
    const struct circuit *c; /* as believed */
    struct prices prices;
    struct plan *p;
};

/* --- undoing ---------------------------------------------------------------------------------- */

static bool refuse(struct plan *p, const char *why, const char *what)
{
    p->feasible = false;
    plan_refuse(p, "%s%s", why, what);
    return false;
}

/* Makes a change on what the actions before it leave; false, with the reason, when it must not be.
 */
static bool act(struct mending *m, const char *word, int minutes, struct change c)
{
    struct err e;
    struct str text = {0};
    if (!change_touches_in_use(m->p->after, &c))
        return plan_act(m->p, word, minutes, c, &e) || refuse(m->p, e.says, "");
    change_say(m->p->after, &c, &text);
    refuse(m->p, "somebody uses it: ask before you ", str_text(&text));
    str_clear(&text);
    return false;
}

static bool join_at(struct mending *m, const char *id, int position)
{
    struct change c = change_of(CHANGE_JOIN, id, NULL);
    c.number = position;
    return act(m, "join", m->prices.join, c);
}

/* Where the host keeps the gap of what never joined, and nothing else is wrong, it comes back to
 * its place. False when others are out of their places. */
static bool fills_gaps(const struct mending *m)
{
    const struct texts *believed = &m->c->booth->joined, *now = &m->p->after->joined;
    size_t at = 0;
    for (size_t i = 0; i < believed->n; i++)
        at += at < now->n && strcmp(now->v[at], believed->v[i]) == 0;
    return m->c->booth->host.gap == GAP_KEEPS && at == now->n;
}

static bool fill_gaps(struct mending *m)
{
    const struct texts *believed = &m->c->booth->joined;
    bool done = true;
    for (size_t i = 0; i < believed->n && done; i++)
        if (booth_joined_at(m->p->after, believed->v[i]) < 0)
            done = join_at(m, believed->v[i], (int)i);
    return done;
}

static bool restore_order(struct mending *m)
{
    bool done = true;
    if (fills_gaps(m))
        return fill_gaps(m);
    struct changes c = rejoining(&m->p->after->joined, &m->c->booth->joined);
    for (size_t i = 0; i < c.n && done; i++) {
        bool leaves = c.v[i].what == CHANGE_LEAVE;
        done = act(m, leaves ? "leave" : "join", leaves ? m->prices.leave : m->prices.join, c.v[i]);
    }
    changes_clear(&c);
    return done;
}

static bool set_back(struct mending *m, size_t deck)
{
    struct pair now = m->p->after->decks.v[deck].set_to;
    struct change c = change_of(CHANGE_SET, m->c->booth->decks.v[deck].id, NULL);
    c.pair = m->c->decks[deck].set_to;
    if (now.left == c.pair.left && now.right == c.pair.right)
        return true;
    return act(m, "set", m->prices.set, c);
}

static bool set_all_back(struct mending *m)
{
    bool done = true;
    for (size_t i = 0; i < m->c->n_decks && done; i++)
        done = set_back(m, i);
    return done;
}

/* Whether a cable fits the input that the booth has it in. */
static bool belongs(const struct mending *m, const struct cable *c)
{
    struct out_end out;
    struct in_end in;
    booth_output(m->c->booth, c->from, &out);
    booth_input(m->c->booth, c->to, &in);
    return out.output->level == in.input->level;
}

/* The plug of a cable goes from where it truly is to where it was believed to be. Whatever moved
 * it, once is enough. */
static bool plug_back(struct mending *m, int cable)
{
    const struct cable *believed = &m->c->booth->cables.v[cable];
    const struct cable *now = &m->p->after->cables.v[cable];
    struct change c = change_of(CHANGE_CABLE_MOVE, believed->from, now->to);
    snprintf(c.c, sizeof c.c, "%s", believed->to);
    if (!belongs(m, believed))
        return refuse(m->p,
                      "that cable would stand in an input that does not fit it: check tells "
                      "where it belongs",
                      "");
    return strcmp(now->to, believed->to) == 0 || act(m, "move", m->prices.move, c);
}

static bool sides_back(struct mending *m, int cable)
{
    const struct cable *believed = &m->c->booth->cables.v[cable];
    struct change c = change_of(CHANGE_CABLE, believed->from, m->p->after->cables.v[cable].to);
    c.number = (int)believed->sides;
    return act(m, "move", m->prices.move, c);
}

static bool look_at_strip(struct mending *m, int strip)
{
    struct str name = {0};
    say_thing(m->c->booth, circuit_strip(m->c, strip)->id, &name);
    refuse(m->p, "look at the fader, the mute and the meter of ", str_text(&name));
    str_clear(&name);
    return false;
}

static bool source_back(struct mending *m, int device)
{
    struct change c = change_of(CHANGE_SOURCE, circuit_device(m->c, device)->id, NULL);
    c.number = SOURCE_COMPUTER;
    return act(m, "source", m->prices.source, c);
}

static bool undo(struct mending *m, const struct cause *k)
{
    const struct circuit *c = m->c;
    const struct strip *strip;
    switch (k->kind) {
    case CAUSE_JOIN_ORDER:
    case CAUSE_JOIN_MISSING:
        return restore_order(m);
    case CAUSE_OTHER_PAIR:
        return set_back(m, (size_t)k->a);
    case CAUSE_OFF_BY_ONE:
        return set_all_back(m);
    case CAUSE_CABLES_EXCHANGED:
        return plug_back(m, k->a) && plug_back(m, k->b);
    case CAUSE_CABLE_ELSEWHERE:
        return plug_back(m, k->a);
    case CAUSE_SIDES_SWAPPED:
    case CAUSE_SIDE_DEAD:
        return sides_back(m, k->a);
    case CAUSE_SELECTOR:
        strip = circuit_strip(c, k->a);
        return act(m, "selector", m->prices.selector,
                   change_of(CHANGE_SELECT, strip->id, strip->selected));
    case CAUSE_OWN_MEDIA:
        return source_back(m, k->a);
    default:
        return look_at_strip(m, k->a);
    }
}

static struct plan *undo_all(const struct diagnosis *d, const struct explanation *e,
                             struct booth *truth)
{
    struct plan *p = mem_new(1, sizeof *p);
    struct mending m = {d->believed, plan_prices(truth), p};
    p->way = plan_way_now(truth);
    p->after = truth;
    p->feasible = true;
    for (int i = e->n - 1; i >= 0 && p->feasible; i--)
        undo(&m, &e->causes[i]);
    return p;
}

/* --- or the least work ------------------------------------------------------------------------ */

/* A plan of the way that is taken already, moved out of the three. */
static struct plan *least_work(const struct booth *truth, enum way way)
{
    struct plan *plans = plans_make(truth), *p = mem_new(1, sizeof *p);
    struct plan *taken = &plans[plans_of(plans, way) - plans];
    *p = *taken;
    *taken = (struct plan){.way = way};
    plans_free(plans);
    return p;
}

static bool pulls_plugs(const struct plan *p)
{
    for (size_t i = 0; i < p->n; i++)
        if (p->actions[i].change.what == CHANGE_UNCABLE)
            return true;
    return false;
}

/* Whether the least work is reckoned on the whole truth. */
static bool truth_fits_booth(const struct diagnosis *d, const struct explanation *e)
{
    for (int i = 0; i < e->n; i++)
        if (!cause_fits_booth(d->believed, &e->causes[i]))
            return false;
    return true;
}

/* --- or what is known to be wrong ------------------------------------------------------------- */

static int price_of(const struct mending *m, const struct change *c)
{
    switch (c->what) {
    case CHANGE_SET:
        return m->prices.set;
    case CHANGE_SELECT:
        return m->prices.selector;
    case CHANGE_SWITCH:
        return m->prices.switch_;
    case CHANGE_SOURCE:
        return m->prices.source;
    case CHANGE_CABLE:
        return booth_cable(m->p->after, c->a, c->b) ? m->prices.move : m->prices.add;
    case CHANGE_CABLE_MOVE:
    case CHANGE_CABLE_FROM:
        return m->prices.move;
    case CHANGE_UNCABLE:
        return m->prices.unplug;
    case CHANGE_JOIN:
        return m->prices.join;
    default:
        return 0;
    }
}

/* Makes the fix of the first fault that is known, as the booth is by then; false when there is none
 * that may be made. */
static bool fix_next(struct mending *m, const struct diagnosis *d)
{
    struct circuit *now = circuit_new(m->p->after);
    struct faults all = faults_find(now);
    size_t i = 0;
    while (i < all.n && !(all.v[i].fix.n && diagnosis_knows(d, &all.v[i])))
        i++;
    bool done = i < all.n;
    for (size_t k = 0; done && k < all.v[i].fix.n; k++) {
        struct change c = all.v[i].fix.v[k];
        done = act(m, change_word(&c), price_of(m, &c), c);
    }
    faults_clear(&all);
    circuit_free(now);
    return done;
}

/* A fix may bring up another fault, never that many. Half a mend is none. */
static struct plan *fix_all(const struct diagnosis *d)
{
    enum { FIXES_AT_MOST = 16 };
    struct plan *p = mem_new(1, sizeof *p);
    struct mending m = {d->believed, plan_prices(d->believed->booth), p};
    p->way = plan_way_now(d->believed->booth);
    p->after = booth_copy(d->believed->booth);
    p->feasible = true;
    for (int i = 0; i < FIXES_AT_MOST && fix_next(&m, d); i++)
        continue;
    p->feasible = p->feasible && diagnosis_righted(d, p->after);
    return p;
}

static struct plan *mend_known(const struct diagnosis *d)
{
    struct plan *least = least_work(d->believed->booth, plan_way_now(d->believed->booth));
    if (least->feasible && least->n)
        return least;
    struct plan *fixed = fix_all(d);
    bool better = fixed->feasible;
    mend_free(better ? least : fixed);
    if (!better && least->feasible)
        refuse(least, "only hands can put right what is known to be wrong", "");
    return better ? fixed : least;
}

struct plan *mend_make(const struct diagnosis *d, const struct explanation *e)
{
    if (e->n == 0)
        return mend_known(d);
    struct booth *truth = diagnosis_truth(d, e);
    struct plan *least = least_work(truth, plan_way_now(d->believed->booth));
    struct plan *undone = undo_all(d, e, truth);
    bool better = least->feasible && least->n && !pulls_plugs(least) && truth_fits_booth(d, e) &&
                  (!undone->feasible || least->minutes <= undone->minutes);
    mend_free(better ? undone : least);
    return better ? least : undone;
}

void mend_free(struct plan *p)
{
    if (p)
        plan_clear(p);
    mem_free(p);
}
