/* The least work in the host: from what it was set to, to the new routes.
 *
 * It starts from the booth as it is now with the old settings in it, and makes one action after
 * the other. */
#include <assert.h>
#include <string.h>

#include "base/mem.h"
#include "engine/compare_parts.h"
#include "engine/plan_parts.h"
#include "engine/route.h"
#include "model/shape.h"

struct retyping {
    const struct booth *now;
    struct prices prices;
    struct plan *p;
};

static void act(struct retyping *r, const char *word, int minutes, struct change c)
{
    struct err e;
    bool done = plan_act(r->p, word, minutes, c, &e);
    assert(done); /* each leads towards the new booth, and that is sound */
    (void)done;
}

/* --- the interface ---------------------------------------------------------------------------- */

static void join(struct retyping *r)
{
    struct changes c = rejoining(&r->p->after->joined, &r->now->joined);
    for (size_t i = 0; i < c.n; i++) {
        bool leaves = c.v[i].what == CHANGE_LEAVE;
        act(r, leaves ? "leave" : "join", leaves ? r->prices.leave : r->prices.join, c.v[i]);
    }
    changes_clear(&c);
}

/* --- decks ------------------------------------------------------------------------------------ */

static void set_decks(struct retyping *r)
{
    struct circuit *c = circuit_new(r->now);
    for (int i = 0; i < (int)r->now->decks.n; i++) {
        struct route route = route_of(c, i);
        struct pair set = r->p->after->decks.v[i].set_to;
        if (!route.there || (set.left == route.pair.left && set.right == route.pair.right))
            continue;
        struct change change = change_of(CHANGE_SET, r->now->decks.v[i].id, NULL);
        change.pair = route.pair;
        act(r, "set", r->prices.set, change);
    }
    circuit_free(c);
}

/* A deck that had a route and has none now would sound over another: its setting is taken back. */
static void silence_unrouted(struct retyping *r, const struct booth *before)
{
    struct circuit *was = circuit_new(before), *is = circuit_new(r->now);
    for (size_t i = 0; i < r->now->decks.n; i++) {
        const struct deck *old = booth_deck(before, r->now->decks.v[i].id);
        struct change change = change_of(CHANGE_SET, r->now->decks.v[i].id, NULL);
        change.pair = (struct pair){-1, -1};
        if (old && route_of(was, (int)(old - before->decks.v)).there &&
            !route_of(is, (int)i).there && r->p->after->decks.v[i].set_to.left >= 0)
            act(r, "set", 0, change);
    }
    circuit_free(was);
    circuit_free(is);
}

static void hand_over(struct retyping *r)
{
    for (size_t i = 0; i < r->now->decks.n; i++) {
        const struct deck *d = &r->now->decks.v[i];
        if (*d->controlled_by &&
            strcmp(r->p->after->decks.v[i].controlled_by, d->controlled_by) != 0)
            act(r, "control", 0, change_of(CHANGE_CONTROL, d->id, d->controlled_by));
    }
}

/* --- where it starts -------------------------------------------------------------------------- */

static bool can_join(const struct booth *b, const char *id)
{
    const struct device *d = booth_device(b, id);
    return d && d->card;
}

/* The booth of now with the old settings in it, as far as what they name is still there. */
static struct booth *with_old_settings(const struct booth *before, const struct booth *now)
{
    struct booth *b = booth_copy(now);
    struct circuit *c = circuit_new(before);
    texts_clear(&b->joined);
    for (size_t i = 0; i < before->joined.n; i++)
        if (can_join(now, before->joined.v[i]))
            texts_add(&b->joined, before->joined.v[i]);
    for (size_t i = 0; i < b->decks.n; i++) {
        struct deck *d = &b->decks.v[i];
        const struct deck *old = booth_deck(before, d->id);
        bool stays = old && booth_device(now, old->controlled_by);
        d->set_to = old ? route_effective(c, (int)(old - before->decks.v)) : (struct pair){-1, -1};
        strcpy(d->controlled_by, stays ? old->controlled_by : "");
    }
    circuit_free(c);
    return b;
}

struct plan *compare_work(const struct booth *before, const struct booth *now)
{
    struct plan *p = mem_new(1, sizeof *p);
    struct names names = {0};
    struct booth *old = compare_renamed(before, now, &names);
    struct retyping r = {.now = now, .prices = plan_prices(now), .p = p};
    *p = (struct plan){.way = plan_way_now(now), .feasible = true};
    p->after = with_old_settings(old, now);
    join(&r);
    silence_unrouted(&r, old);
    set_decks(&r);
    hand_over(&r);
    booth_free(old);
    mem_free(names.v);
    return p;
}

void compare_work_free(struct plan *p)
{
    plan_clear(p);
    mem_free(p);
}
