/* What the explanations have in common and what tells them apart: over everything that each deck
 * would be heard as. While nothing is wrong yet, the same is asked of what could be: of every
 * single cause that the marks so far do not rule out. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/hash.h"
#include "base/mem.h"
#include "engine/diagnose_parts.h"
#include "engine/route.h"
#include "engine/usb.h"

enum { SMALL_INTERFACE = 8 }; /* devices: of larger ones only neighbours are thought exchanged */

/* What may be true, how likely (in any unit), and what each deck is then heard as: a hash. */
struct thoughts {
    double *share;
    uint64_t *heard; /* thoughts x decks */
    size_t n, cap, heard_cap, decks;
};

static uint64_t heard_as(const struct circuit *c, int deck)
{
    ears found;
    hear(c, deck, found);
    return hash_bytes(HASH_OF_NOTHING, found, c->n_strips);
}

static uint64_t *add_thought(struct thoughts *t, double share)
{
    t->share = mem_grow(t->share, &t->cap, t->n + 1, sizeof *t->share);
    t->heard = mem_grow(t->heard, &t->heard_cap, (t->n + 1) * t->decks, sizeof *t->heard);
    t->share[t->n] = share;
    return &t->heard[t->n++ * t->decks];
}

static void clear_thoughts(struct thoughts *t)
{
    mem_free(t->share);
    mem_free(t->heard);
}

/* --- how much a deck tells -------------------------------------------------------------------- */

struct outcome_share {
    uint64_t heard;
    double share;
};

static int by_heard(const void *a, const void *b)
{
    const struct outcome_share *x = a, *y = b;
    return x->heard < y->heard ? -1 : x->heard > y->heard;
}

/* How much checking a deck would tell, in bits: the entropy of what it would be heard as. */
static double tells(const struct thoughts *t, size_t deck, struct outcome_share *scratch)
{
    double bits = 0, all = 0;
    for (size_t i = 0; i < t->n; i++) {
        scratch[i] = (struct outcome_share){t->heard[i * t->decks + deck], t->share[i]};
        all += t->share[i];
    }
    qsort(scratch, t->n, sizeof *scratch, by_heard);
    for (size_t i = 0; i < t->n;) {
        double together = 0;
        uint64_t heard = scratch[i].heard;
        for (; i < t->n && scratch[i].heard == heard; i++)
            together += scratch[i].share / all;
        if (together > 0)
            bits -= together * log2(together);
    }
    return bits;
}

static bool is_marked(const struct search *s, size_t deck)
{
    for (size_t i = 0; i < s->n_marks; i++)
        if (s->marks[i].deck == (int)deck)
            return true;
    return false;
}

/* Whether more could be marked of a deck that is marked: on which sides it is heard. */
static bool lacks_sides(const struct search *s, size_t deck)
{
    for (size_t i = 0; i < s->n_marks; i++)
        for (size_t k = 0; k < s->c->n_strips && s->marks[i].deck == (int)deck; k++) {
            const struct mark *m = s->marks[i].at[k];
            if (m && m->left == EAR_UNTOLD && m->right == EAR_UNTOLD)
                return true;
        }
    return false;
}

/* Whether a deck would play into a strip, or through a device, that somebody uses. */
static bool plays_into_use(const struct circuit *c, int deck)
{
    struct route r = route_of(c, deck);
    return (c->decks[deck].wants >= 0 && circuit_strip(c, c->decks[deck].wants)->in_use) ||
           (r.there && circuit_device(c, r.device)->in_use);
}

/* The deck that tells most, the first of equals; -1 where none tells anything. anew: also of those
 * that are marked, if more could be marked of them. */
static int most_telling(const struct search *s, const struct thoughts *t, bool anew)
{
    struct outcome_share *scratch = mem_new(t->n, sizeof *scratch);
    double best = 1e-9;
    int deck = -1;
    for (size_t i = 0; i < t->decks; i++) {
        bool told = is_marked(s, i) && !(anew && lacks_sides(s, i));
        double bits = told || plays_into_use(s->c, (int)i) ? 0 : tells(t, i, scratch);
        if (bits <= best * (1 + 1e-9))
            continue;
        best = bits;
        deck = (int)i;
    }
    mem_free(scratch);
    return deck;
}

/* --- while nothing is wrong ------------------------------------------------------------------- */

struct foresight {
    struct search *s;
    struct thoughts t;
    struct reach *reach; /* by deck */
    uint64_t *believed;  /* what each deck should be heard as */
};

/* Whether a cause, true in the search's trial, agrees with every mark. */
static bool agrees(const struct foresight *f, const struct cause *k)
{
    const struct search *s = f->s;
    for (size_t i = 0; i < s->n_marks; i++)
        if (reach_touched(s->c, &f->reach[s->marks[i].deck], k) &&
            !mark_fits(s->trial, &s->marks[i]))
            return false;
    return true;
}

static void think_of(struct foresight *f, const struct cause *k)
{
    struct search *s = f->s;
    circuit_assign(s->trial, s->c);
    cause_apply(s->trial, k);
    if (!agrees(f, k))
        return;
    uint64_t *heard = add_thought(&f->t, cause_likelihood(s->c, k) / 1000);
    for (size_t i = 0; i < f->t.decks; i++)
        heard[i] = reach_touched(s->c, &f->reach[i], k) ? heard_as(s->trial, (int)i)
                                                        : f->believed[i];
}

static void think_of_orders(struct foresight *f)
{
    const struct circuit *c = f->s->c;
    size_t n = c->n_joined, far = n <= SMALL_INTERFACE ? n : 1;
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n && k <= i + far; k++) {
            struct cause order = {.kind = CAUSE_JOIN_ORDER};
            for (size_t m = 0; m < n; m++)
                order.order[m] = (unsigned char)c->joined[m == i ? k : m == k ? i : m];
            if (!is_out(f->s, &order, 1))
                think_of(f, &order);
        }
}

/* Every single cause that agrees with the marks, and that there is none. */
static int foresee(struct search *s)
{
    if (s->c->n_decks == 0)
        return -1; /* nothing that could be played */
    struct foresight f = {.s = s, .t = {.decks = s->c->n_decks}};
    f.reach = mem_new(f.t.decks, sizeof *f.reach);
    f.believed = mem_new(f.t.decks, sizeof *f.believed);
    for (size_t i = 0; i < f.t.decks; i++) {
        f.reach[i] = reach_of(s->c, (int)i);
        f.believed[i] = heard_as(s->c, (int)i);
    }
    memcpy(add_thought(&f.t, 1), f.believed, f.t.decks * sizeof *f.believed);
    for (size_t i = 0; i < s->causes.n; i++)
        think_of(&f, &s->causes.v[i]);
    think_of_orders(&f);
    int deck = most_telling(s, &f.t, false);
    for (size_t i = 0; i < f.t.decks; i++)
        reach_clear(&f.reach[i]);
    mem_free(f.reach);
    mem_free(f.believed);
    clear_thoughts(&f.t);
    return deck;
}

/* --- explanations ----------------------------------------------------------------------------- */

/* Likeliest first; equals as their causes stand in the table. */
static int by_share(const void *a, const void *b)
{
    const struct explanation *x = a, *y = b;
    if (x->share != y->share)
        return x->share > y->share ? -1 : 1;
    if (x->n != y->n)
        return x->n - y->n;
    int by = 0;
    for (int i = 0; i < x->n && by == 0; i++)
        by = cause_compare(&x->causes[i], &y->causes[i]);
    return by;
}

/* Explanations under which all decks are heard the same are one group. */
static struct thoughts group(struct search *s)
{
    struct diagnosis *d = s->d;
    struct thoughts t = {.decks = s->c->n_decks};
    for (size_t i = 0; i < d->n; i++) {
        uint64_t *heard = add_thought(&t, d->v[i].share);
        circuit_assign(s->trial, s->c);
        for (int k = 0; k < d->v[i].n; k++)
            cause_apply(s->trial, &d->v[i].causes[k]);
        for (size_t k = 0; k < t.decks; k++)
            heard[k] = heard_as(s->trial, (int)k);
        d->v[i].group = -1;
        for (size_t k = 0; k < i && d->v[i].group < 0; k++)
            if (memcmp(heard, &t.heard[k * t.decks], t.decks * sizeof *heard) == 0)
                d->v[i].group = d->v[k].group;
        if (d->v[i].group < 0)
            d->v[i].group = d->groups++;
    }
    return t;
}

static void say_next(const struct search *s)
{
    struct diagnosis *d = s->d;
    struct str text = {0};
    if (d->next_deck >= 0) {
        bool again = is_marked(s, (size_t)d->next_deck);
        str_addf(&text, "play %s%s, and listen %son which side it comes out",
                 d->believed->booth->decks.v[d->next_deck].label, again ? " again" : "",
                 again ? "" : "where and ");
    } else if (d->n > 1) {
        str_add(&text,
                d->groups > 1 ? "look whether " : "no ear can tell these apart; look whether ");
        say_cause(d, d->lines[0], 0, &text);
    }
    d->next = text.len ? str_take(&text) : NULL;
}

/* The hub nearest to the laptop that all joined devices hang on; NULL: there is none. */
static const struct hub *shared_hub(const struct booth *b)
{
    for (size_t i = 0; i < b->hubs.n; i++) {
        size_t n = 0;
        for (size_t k = 0; k < b->joined.n; k++)
            n += usb_leads_over(b, booth_device(b, b->joined.v[k])->plugged.at, b->hubs.v[i].id);
        if (n && n == b->joined.n)
            return &b->hubs.v[i];
    }
    return NULL;
}

/* Several decks were checked and all are silent. */
static bool all_is_silent(const struct search *s)
{
    bool any = false;
    for (size_t i = 0; i < s->n_marks; i++)
        for (size_t k = 0; k < s->c->n_strips; k++)
            any = any || (s->marks[i].at[k] && !silent_mark(s->marks[i].at[k]));
    return s->n_marks > 1 && !any;
}

void look_at_what_is_shared(struct search *s)
{
    const struct hub *hub = shared_hub(s->c->booth);
    struct str text = {0};
    if (!all_is_silent(s))
        return;
    str_add(&text, "all is silent: look at what all share: the interface chosen in the host, ");
    if (hub)
        str_addf(&text, "%s and its lead, ", booth_label(s->c->booth, hub->id));
    str_add(&text, "the mixer's power and master");
    s->d->next = str_take(&text);
}

void weigh(struct search *s)
{
    struct diagnosis *d = s->d;
    double sum = 0;
    for (size_t i = 0; i < d->n; i++)
        sum += d->v[i].share;
    for (size_t i = 0; i < d->n; i++)
        d->v[i].share /= sum;
    qsort(d->v, d->n, sizeof *d->v, by_share);
    gather(d);
    struct thoughts t = group(s);
    if (d->v[0].n == 0)
        d->next_deck = foresee(s);
    else if (d->groups > 1)
        d->next_deck = most_telling(s, &t, true);
    clear_thoughts(&t);
    say_next(s);
}
