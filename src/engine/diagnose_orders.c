/* An order of joining is built device by device, and left as soon as a deck whose channels are then
 * known does not fit its mark.
 *
 * It is built of those that joined, and of gaps that the host keeps. Where the gap closes nobody
 * can hear where one that never joined would stand: so it is put where the order differs least from
 * the believed one, and orders that differ in nothing else are found once. */
#include <string.h>

#include "base/mem.h"
#include "engine/diagnose_parts.h"

enum { MOST_ORDERS = 40 };

struct ordering {
    struct search *s;
    struct circuit *c; /* joined is filled from the front */
    int devices[MAX_DEVICES];
    bool used[MAX_DEVICES];
    int n, depth; /* of the set, without the order */
};

/* Whether the decks whose channels are all known now fit their marks. */
static bool order_fits(const struct ordering *o, int from)
{
    for (size_t i = 0; i < o->s->n_marks; i++) {
        struct pair p = o->c->decks[o->s->marks[i].deck].set_to;
        int high = p.left > p.right ? p.left : p.right;
        if (high >= from && high < o->c->channels && !mark_fits(o->c, &o->s->marks[i]))
            return false;
    }
    return true;
}

static void order_found(struct ordering *o)
{
    struct cause *k = &o->s->set[o->depth];
    bool believed = true;
    *k = (struct cause){.kind = CAUSE_JOIN_ORDER};
    for (int i = 0; i < o->n; i++) {
        k->order[i] = (unsigned char)o->c->joined[i];
        believed = believed && o->c->joined[i] == o->devices[i];
    }
    if (!believed && first_wrong(o->s, o->c) == o->s->n_marks) {
        cause_complete_order(o->s->c, k, (size_t)o->n);
        o->s->orders++;
        keep(o->s, o->depth + 1);
    }
}

static void order_from(struct ordering *o, int position)
{
    if (o->s->orders >= MOST_ORDERS || !search_goes_on(o->s))
        return;
    o->c->n_joined = (size_t)position;
    circuit_number_channels(o->c);
    int from = o->c->channels;
    if (position == o->n) {
        order_found(o);
        return;
    }
    for (int i = 0; i < o->n; i++) {
        int next = (position + i) % o->n; /* the believed one first */
        if (o->used[next])
            continue;
        search_spends(o->s, 1 + (size_t)o->n / 8);
        o->used[next] = true;
        o->c->joined[position] = o->devices[next];
        o->c->n_joined = (size_t)position + 1;
        circuit_number_channels(o->c);
        if (order_fits(o, from))
            order_from(o, position + 1);
        o->used[next] = false;
    }
}

void try_orders(struct search *s, const struct circuit *c, int depth)
{
    struct ordering o = {.s = s, .n = (int)c->n_joined, .depth = depth};
    if (o.n < 2)
        return;
    o.c = circuit_copy(c);
    memcpy(o.devices, c->joined, c->n_joined * sizeof *c->joined);
    s->orders = 0;
    order_from(&o, 0);
    o.c->n_joined = (size_t)o.n;
    circuit_free(o.c);
}
