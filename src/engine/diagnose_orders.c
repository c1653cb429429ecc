/* An order of joining is built device by device. A deck whose channels are then known and that does
 * not fit its mark must be touched by another cause of the set: each that could is made true, or
 * the order is left. So order and causes are found together, and few of them are tried.
 *
 * What numbers all channels anew (devices that never joined, decks that are all set one too high)
 * goes first. The order is one of those that joined, and of gaps that the host keeps. Where the gap
 * closes nobody can hear where one that never joined would stand: so it is put where the order
 * differs least from the believed one, and orders that differ in nothing else are found once. */
#include <string.h>

#include "base/mem.h"
#include "engine/diagnose_parts.h"

/* Orders beside the same causes that are kept; one more tells that there are others. */
enum { MOST_ORDERS = 40 };

struct ordering {
    struct search *s;
    struct circuit *at[CAUSES_AT_MOST]; /* by causes made true; joined is filled from the front */
    int devices[MAX_DEVICES];           /* that join, in the believed order */
    bool used[MAX_DEVICES];
    size_t n;
    int found; /* since the last cause was made true */
};

static void go_on(struct ordering *o, int depth, int from);

/* Whether a deck does not fit its mark whatever joins next: its channels are all known, one of them
 * from this one on. */
static bool is_wrong(const struct ordering *o, const struct circuit *c, size_t mark, int from)
{
    const struct expected *e = &o->s->marks[mark];
    struct pair p = c->decks[e->deck].set_to;
    int high = p.left > p.right ? p.left : p.right;
    bool known = c->n_joined == o->n || (high >= from && high < c->channels);
    return known && !mark_fits(c, e);
}

static void order_found(struct ordering *o, int depth)
{
    const struct circuit *c = o->at[depth];
    struct cause *k = &o->s->set[depth];
    bool believed = true;
    *k = (struct cause){.kind = CAUSE_JOIN_ORDER};
    for (size_t i = 0; i < o->n; i++) {
        k->order[i] = (unsigned char)c->joined[i];
        believed = believed && c->joined[i] == o->devices[i];
    }
    if (believed)
        return;
    cause_complete_order(o->s->c, k, o->n);
    if (o->found++ < MOST_ORDERS)
        keep(o->s, depth + 1);
    else
        o->s->d->more = o->s->d->more || is_new(o->s, depth + 1);
}

static bool numbers_anew(const struct cause *k)
{
    return k->kind == CAUSE_JOIN_MISSING || k->kind == CAUSE_OFF_BY_ONE;
}

/* Makes true, one after the other, what touches a deck that is wrong. */
static void mend_deck(struct ordering *o, int depth, size_t wrong)
{
    struct search *s = o->s;
    struct circuit *next = o->at[depth + 1];
    struct reach reach = reach_of(o->at[depth], s->marks[wrong].deck);
    bool last = depth + 2 == s->most;
    for (size_t i = 0; i < s->causes.n && search_goes_on(s); i++) {
        const struct cause *k = &s->causes.v[i];
        if (numbers_anew(k) || !reach_touched(o->at[depth], &reach, k) || !able(s, depth, k))
            continue;
        search_spends(s, 1 + s->c->n_cables / 8);
        circuit_assign(next, o->at[depth]);
        cause_apply(next, k);
        if (last && is_wrong(o, next, wrong, 0))
            continue;
        s->set[depth] = *k;
        o->found = 0;
        go_on(o, depth + 1, 0);
    }
    o->found = 0;
    reach_clear(&reach);
}

/* Lets each of those that are left join next, the believed one first. */
static void join_next(struct ordering *o, int depth)
{
    struct circuit *c = o->at[depth];
    size_t position = c->n_joined;
    int from = c->channels;
    for (size_t i = 0; i < o->n; i++) {
        size_t next = (position + i) % o->n;
        if (o->used[next])
            continue;
        search_spends(o->s, 1 + o->n / 8);
        o->used[next] = true;
        c->joined[position] = o->devices[next];
        c->n_joined = position + 1;
        circuit_number_channels(c);
        go_on(o, depth, from);
        o->used[next] = false;
    }
    c->n_joined = position;
    circuit_number_channels(c);
}

static void go_on(struct ordering *o, int depth, int from)
{
    struct search *s = o->s;
    bool last = depth + 1 == s->most; /* but for the order */
    if (o->found > MOST_ORDERS || !search_goes_on(s))
        return;
    size_t wrong = 0;
    while (wrong < s->n_marks && !is_wrong(o, o->at[depth], wrong, from))
        wrong++;
    if (wrong < s->n_marks && !last)
        mend_deck(o, depth, wrong);
    if (wrong < s->n_marks)
        return;
    if (o->at[depth]->n_joined < o->n)
        join_next(o, depth);
    else if (last) /* else it takes fewer causes */
        order_found(o, depth);
}

/* Orders beside the first causes of the set, which number the channels anew, and beside more of
 * them. */
static void order_beside(struct ordering *o, int depth, size_t more)
{
    struct search *s = o->s;
    struct circuit *c = o->at[depth];
    circuit_assign(c, s->c);
    for (int i = 0; i < depth; i++)
        cause_apply(c, &s->set[i]);
    if (first_wrong(s, c) == s->n_marks)
        return; /* the order could be dropped */
    o->n = c->n_joined;
    memcpy(o->devices, c->joined, c->n_joined * sizeof *c->joined);
    c->n_joined = 0;
    circuit_number_channels(c);
    o->found = 0;
    go_on(o, depth, 0);
    for (size_t i = more; i < s->causes.n && depth + 1 < s->most && search_goes_on(s); i++)
        if (numbers_anew(&s->causes.v[i]) && able(s, depth, &s->causes.v[i])) {
            s->set[depth] = s->causes.v[i];
            order_beside(o, depth + 1, i + 1);
        }
}

void try_orders(struct search *s)
{
    struct ordering o = {.s = s};
    for (int i = 0; i < CAUSES_AT_MOST; i++)
        o.at[i] = circuit_copy(s->c);
    order_beside(&o, 0, 0);
    for (int i = 0; i < CAUSES_AT_MOST; i++)
        circuit_free(o.at[i]);
}
