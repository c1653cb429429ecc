/* The least work in the host: from what it was set to, to the new routes.
 *
 * It starts from the booth as it is now with the old settings in it, and makes one action after
 * the other. Devices can only be joined after the others, and any can leave; so what may stay is
 * the longest beginning of the new joined list whose devices stood in this order. */
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

/* How many of the new joined list, from its front, can stay. */
static size_t staying(const struct texts *was, const struct texts *is)
{
    size_t n = 0;
    for (size_t i = 0; i < was->n && n < is->n; i++)
        n += strcmp(was->v[i], is->v[n]) == 0;
    return n;
}

static void join(struct retyping *r)
{
    const struct texts *is = &r->now->joined;
    size_t stay = staying(&r->p->after->joined, is);
    struct texts was = {0};
    for (size_t i = 0; i < r->p->after->joined.n; i++)
        texts_add(&was, r->p->after->joined.v[i]);
    for (size_t i = 0, kept = 0; i < was.n; i++) {
        if (kept < stay && strcmp(was.v[i], is->v[kept]) == 0)
            kept++;
        else
            act(r, "leave", r->prices.leave, change_of(CHANGE_LEAVE, was.v[i], NULL));
    }
    for (size_t i = stay; i < is->n; i++) {
        struct change c = change_of(CHANGE_JOIN, is->v[i], NULL);
        c.number = -1;
        act(r, "join", r->prices.join, c);
    }
    texts_clear(&was);
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
