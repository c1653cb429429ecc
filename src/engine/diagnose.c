/* The search: the first deck whose mark does not fit must be touched by some cause; each such cause
 * is made true in a copy, and so on. An order of joining is not guessed but built, device by
 * device, and left as soon as a deck whose channels are then known does not fit its mark.
 *
 * A set found is kept when no cause of it can be dropped. */
#include "engine/diagnose.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "engine/heard.h"
#include "engine/route.h"
#include "model/say.h"

enum { MOST_FOUND = 400, MOST_ORDERS = 40, MOST_NODES = 20000 };

/* What a strip's two sides hear of one deck: bits 0 and 1 its left and right on the strip's left,
 * bits 2 and 3 on the strip's right. */
typedef unsigned char ears[MAX_STRIPS];

struct expected {
    int deck;
    bool impossible;                   /* marked at a strip that is gone */
    const struct mark *at[MAX_STRIPS]; /* NULL: nothing is heard there */
};

struct search {
    struct diagnosis *d;
    const struct circuit *c; /* believed */
    struct causes causes;
    struct expected *marks;
    size_t n_marks;
    struct circuit *level[CAUSES_AT_MOST + 1], *trial;
    struct cause set[CAUSES_AT_MOST];
    int most; /* causes in a set */
    int orders, nodes;
};

/* --- what a deck is heard as ------------------------------------------------------------------ */

static void hear(const struct circuit *c, int deck, ears out)
{
    struct heard h = heard_deck(c, deck, c->decks[deck].set_to);
    memset(out, 0, MAX_STRIPS);
    for (size_t i = 0; i < h.n; i++)
        out[h.v[i].strip] |= (unsigned char)(1u << (h.v[i].side * 2 + h.v[i].deck_side));
    heard_clear(&h);
}

static bool side_fits(enum ear marked, unsigned bits)
{
    static const unsigned wanted[] = {
        [EAR_LEFT] = 1, [EAR_RIGHT] = 2, [EAR_BOTH] = 3, [EAR_NONE] = 0};
    return marked == EAR_UNTOLD || bits == wanted[marked];
}

static bool silent_mark(const struct mark *m)
{
    return m->left == EAR_NONE && m->right == EAR_NONE;
}

static bool mark_fits(const struct circuit *c, const struct expected *e)
{
    ears found;
    hear(c, e->deck, found);
    for (size_t i = 0; i < c->n_strips; i++) {
        const struct mark *m = e->at[i];
        bool wanted = m && !silent_mark(m);
        if (wanted != (found[i] != 0))
            return false;
        if (wanted && (!side_fits(m->left, found[i] & 3u) || !side_fits(m->right, found[i] >> 2)))
            return false;
    }
    return !e->impossible;
}

/* The first mark that a circuit does not give; the number of marks when it gives all. */
static size_t first_wrong(const struct search *s, const struct circuit *c)
{
    size_t i = 0;
    while (i < s->n_marks && mark_fits(c, &s->marks[i]))
        i++;
    return i;
}

/* --- keeping what was found ------------------------------------------------------------------- */

static bool same_cause(const struct cause *a, const struct cause *b)
{
    return a->kind == b->kind && a->a == b->a && a->b == b->b && a->pair.left == b->pair.left &&
           a->pair.right == b->pair.right && memcmp(a->order, b->order, sizeof a->order) == 0;
}

static bool contains(const struct explanation *e, const struct cause *k)
{
    for (int i = 0; i < e->n; i++)
        if (same_cause(&e->causes[i], k))
            return true;
    return false;
}

static bool known(const struct search *s, int n)
{
    for (size_t i = 0; i < s->d->n; i++) {
        const struct explanation *e = &s->d->v[i];
        int same = 0;
        for (int k = 0; k < n; k++)
            same += contains(e, &s->set[k]);
        if (e->n == n && same == n)
            return true;
    }
    return false;
}

/* Whether the set explains everything also without one of its causes. An order comes last: it was
 * built on the others. */
static bool minimal(struct search *s, int n)
{
    for (int without = 0; without < n; without++) {
        circuit_assign(s->trial, s->c);
        for (int i = 0; i < n; i++)
            if (i != without)
                cause_apply(s->trial, &s->set[i]);
        if (first_wrong(s, s->trial) == s->n_marks)
            return false;
    }
    return true;
}

static void keep(struct search *s, int n)
{
    struct diagnosis *d = s->d;
    if (d->n >= MOST_FOUND || known(s, n) || !minimal(s, n))
        return;
    d->v = mem_grow(d->v, &d->cap, d->n + 1, sizeof *d->v);
    struct explanation *e = &d->v[d->n++];
    *e = (struct explanation){.n = n, .share = 1};
    for (int i = 0; i < n; i++) {
        e->causes[i] = s->set[i];
        e->share *= cause_likelihood(s->c, &s->set[i]) / 1000;
    }
}

/* --- orders of joining ------------------------------------------------------------------------ */

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
        o->s->orders++;
        keep(o->s, o->depth + 1);
    }
}

static void order_from(struct ordering *o, int position)
{
    if (o->s->orders >= MOST_ORDERS || o->s->nodes++ >= MOST_NODES)
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
        o->used[next] = true;
        o->c->joined[position] = o->devices[next];
        o->c->n_joined = (size_t)position + 1;
        circuit_number_channels(o->c);
        if (order_fits(o, from))
            order_from(o, position + 1);
        o->used[next] = false;
    }
}

/* Explains what is left by an order of joining, after the causes of the set so far. */
static void try_orders(struct search *s, const struct circuit *c, int depth)
{
    struct ordering o = {.s = s, .n = (int)c->n_joined, .depth = depth};
    for (int i = 0; i < depth; i++) /* which joined is another question then */
        if (s->set[i].kind == CAUSE_JOIN_MISSING && c->n_joined != s->c->n_joined)
            return;
    if (o.n < 2)
        return;
    o.c = circuit_copy(c);
    memcpy(o.devices, c->joined, c->n_joined * sizeof *c->joined);
    s->orders = s->nodes = 0;
    order_from(&o, 0);
    o.c->n_joined = (size_t)o.n;
    circuit_free(o.c);
}

/* --- sets of causes --------------------------------------------------------------------------- */

static bool touches(const struct circuit *before, const struct circuit *after, int deck)
{
    ears a, b;
    hear(before, deck, a);
    hear(after, deck, b);
    return memcmp(a, b, sizeof a) != 0;
}

/* Whether two causes speak of one thing in ways that cannot both be. */
static bool clash(const struct cause *a, const struct cause *b)
{
    return a->kind == b->kind && a->a == b->a && a->kind != CAUSE_CABLES_EXCHANGED;
}

/* Two causes may change together what neither changes alone (a pair that leads to another strip,
 * and that strip's selector), so every pair is tried. Of three, each but the last must change what
 * the first wrong deck is heard as: all would be too many to try in time. */
static void explain(struct search *s, int depth)
{
    const struct circuit *c = s->level[depth];
    size_t wrong = first_wrong(s, c);
    if (wrong == s->n_marks) {
        keep(s, depth);
        return;
    }
    if (depth == s->most || s->d->n >= MOST_FOUND)
        return;
    try_orders(s, c, depth);
    struct circuit *next = s->level[depth + 1];
    for (size_t i = 0; i < s->causes.n; i++) {
        bool able = true;
        for (int k = 0; k < depth; k++)
            able = able && !clash(&s->set[k], &s->causes.v[i]);
        if (!able)
            continue;
        circuit_assign(next, c);
        cause_apply(next, &s->causes.v[i]);
        int deck = s->marks[wrong].deck;
        bool last = depth + 1 == s->most, all_tried = s->most <= 2;
        if (last ? !mark_fits(next, &s->marks[wrong]) : !all_tried && !touches(c, next, deck))
            continue;
        s->set[depth] = s->causes.v[i];
        explain(s, depth + 1);
    }
}

static void search_upto(struct search *s, int most)
{
    s->most = most;
    circuit_assign(s->level[0], s->c);
    explain(s, 0);
}

/* --- what marks rest on ----------------------------------------------------------------------- */

/* FNV-1a, 64 bit: only equality counts. */
static uint64_t hash_text(uint64_t h, const char *text)
{
    for (; *text; text++)
        h = (h ^ (unsigned char)*text) * 1099511628211ULL;
    return (h ^ '\n') * 1099511628211ULL;
}

static uint64_t hash_number(uint64_t h, int n)
{
    char text[16];
    snprintf(text, sizeof text, "%d", n);
    return hash_text(h, text);
}

static uint64_t hash_device(uint64_t h, const struct device *d)
{
    h = hash_number(hash_text(h, d->id), (int)d->source);
    h = hash_number(h, d->card ? d->card->out_channels : 0);
    for (size_t i = 0; i < d->strips.n; i++) {
        const struct strip *s = &d->strips.v[i];
        h = hash_text(hash_text(h, s->id), s->selected);
        for (size_t k = 0; k < s->inputs.n; k++)
            h = hash_number(h, (int)s->inputs.v[k].level);
    }
    return h;
}

void diagnosis_basis(const struct booth *b, struct str *out)
{
    uint64_t h = 1469598103934665603ULL;
    for (size_t i = 0; i < b->devices.n; i++)
        h = hash_device(h, &b->devices.v[i]);
    for (size_t i = 0; i < b->cables.n; i++) {
        h = hash_text(hash_text(h, b->cables.v[i].from), b->cables.v[i].to);
        h = hash_number(h, (int)b->cables.v[i].sides);
    }
    for (size_t i = 0; i < b->joined.n; i++)
        h = hash_text(h, b->joined.v[i]);
    for (size_t i = 0; i < b->decks.n; i++) {
        h = hash_text(hash_text(h, b->decks.v[i].id), b->decks.v[i].wants);
        h = hash_number(hash_number(h, b->decks.v[i].set_to.left), b->decks.v[i].set_to.right);
    }
    str_addf(out, "%016llx", (unsigned long long)h);
}

bool diagnosis_is_old(const struct booth *b, const struct listen *l)
{
    struct str basis = {0};
    diagnosis_basis(b, &basis);
    bool old = l->basis && strcmp(l->basis, basis.text) != 0;
    str_clear(&basis);
    return old;
}

/* --- marks ------------------------------------------------------------------------------------ */

static void read_marks(struct search *s)
{
    const struct booth *b = s->c->booth;
    s->marks = mem_new(b->line_check.n, sizeof *s->marks);
    for (size_t i = 0; i < b->line_check.n; i++) {
        const struct listen *l = &b->line_check.v[i];
        const struct deck *deck = booth_deck(b, l->deck);
        if (!deck || diagnosis_is_old(b, l))
            continue;
        struct expected *e = &s->marks[s->n_marks++];
        *e = (struct expected){.deck = (int)(deck - b->decks.v)};
        for (size_t k = 0; k < l->heard.n; k++) {
            int strip = circuit_find_strip(s->c, l->heard.v[k].strip);
            if (strip >= 0)
                e->at[strip] = &l->heard.v[k];
            else
                e->impossible = true;
        }
    }
}

/* --- after the search ------------------------------------------------------------------------- */

static int by_share(const void *a, const void *b)
{
    const struct explanation *x = a, *y = b;
    if (x->share != y->share)
        return x->share > y->share ? -1 : 1;
    return x->n - y->n;
}

/* What every deck is heard as under an explanation: what could ever be marked. */
static ears *signature(struct search *s, const struct explanation *e)
{
    ears *all = mem_new(s->c->n_decks, sizeof *all);
    circuit_assign(s->trial, s->c);
    for (int i = 0; i < e->n; i++)
        cause_apply(s->trial, &e->causes[i]);
    for (size_t i = 0; i < s->c->n_decks; i++)
        hear(s->trial, (int)i, all[i]);
    return all;
}

static void group(struct search *s, ears **signatures)
{
    struct diagnosis *d = s->d;
    size_t bytes = s->c->n_decks * sizeof(ears);
    for (size_t i = 0; i < d->n; i++) {
        signatures[i] = signature(s, &d->v[i]);
        d->v[i].group = -1;
        for (size_t k = 0; k < i && d->v[i].group < 0; k++)
            if (memcmp(signatures[i], signatures[k], bytes) == 0)
                d->v[i].group = d->v[k].group;
        if (d->v[i].group < 0)
            d->v[i].group = d->groups++;
    }
}

/* How much checking a deck would tell, in bits: over what it would be heard as. */
static double tells(const struct diagnosis *d, ears *const *signatures, int deck)
{
    double bits = 0;
    for (size_t i = 0; i < d->n; i++) {
        double together = 0;
        bool first = true;
        for (size_t k = 0; k < d->n; k++) {
            if (memcmp(signatures[i][deck], signatures[k][deck], sizeof(ears)) != 0)
                continue;
            first = first && k >= i;
            together += d->v[k].share;
        }
        if (first && together > 0)
            bits -= together * log2(together);
    }
    return bits;
}

static void find_next(struct search *s, ears *const *signatures)
{
    struct diagnosis *d = s->d;
    double best = 1e-9;
    struct str text = {0};
    for (size_t i = 0; i < s->c->n_decks && d->groups > 1; i++) {
        double bits = tells(d, signatures, (int)i);
        if (bits <= best)
            continue;
        best = bits;
        d->next_deck = (int)i;
    }
    if (d->next_deck >= 0) {
        str_addf(&text, "play %s, and listen where and on which side it comes out",
                 s->c->booth->decks.v[d->next_deck].label);
    } else if (d->n > 1) {
        str_add(&text, "no ear can tell these apart; look whether ");
        cause_say(s->c, &d->v[0].causes[0], &text);
    }
    d->next = text.len ? str_take(&text) : NULL;
}

static void weigh(struct search *s)
{
    struct diagnosis *d = s->d;
    double sum = 0;
    for (size_t i = 0; i < d->n; i++)
        sum += d->v[i].share;
    for (size_t i = 0; i < d->n; i++)
        d->v[i].share /= sum;
    if (d->n)
        qsort(d->v, d->n, sizeof *d->v, by_share);
    ears **signatures = mem_new(d->n, sizeof *signatures);
    group(s, signatures);
    find_next(s, signatures);
    for (size_t i = 0; i < d->n; i++)
        mem_free(signatures[i]);
    mem_free(signatures);
}

/* Nothing explains all: the first mark without which something small would. */
static void find_odd(struct search *s)
{
    for (size_t i = 0; i < s->n_marks && s->d->odd < 0; i++) {
        struct expected out = s->marks[i];
        s->marks[i] = s->marks[--s->n_marks];
        search_upto(s, 1);
        s->marks[s->n_marks++] = s->marks[i];
        s->marks[i] = out;
        if (s->d->n)
            s->d->odd = out.deck;
        s->d->n = 0;
    }
}

/* --- the whole -------------------------------------------------------------------------------- */

static void start(struct search *s, struct diagnosis *d, struct circuit *believed)
{
    for (size_t i = 0; i < believed->n_decks; i++) /* they play where they were believed to */
        believed->decks[i].set_to = route_effective(believed, (int)i);
    *s = (struct search){.d = d, .c = believed, .causes = causes_of(believed)};
    for (int i = 0; i <= CAUSES_AT_MOST; i++)
        s->level[i] = circuit_copy(believed);
    s->trial = circuit_copy(believed);
    read_marks(s);
}

static void finish(struct search *s)
{
    for (int i = 0; i <= CAUSES_AT_MOST; i++)
        circuit_free(s->level[i]);
    circuit_free(s->trial);
    mem_free(s->causes.v);
    mem_free(s->marks);
}

struct diagnosis diagnosis_make(const struct booth *b)
{
    struct diagnosis d = {.odd = -1, .next_deck = -1};
    struct search s;
    d.believed = circuit_new(b);
    start(&s, &d, d.believed);
    d.marks = s.n_marks;
    search_upto(&s, 2);
    if (d.n == 0)
        search_upto(&s, CAUSES_AT_MOST);
    if (d.n)
        weigh(&s);
    else
        find_odd(&s);
    finish(&s);
    return d;
}

void diagnosis_clear(struct diagnosis *d)
{
    circuit_free(d->believed);
    mem_free(d->v);
    mem_free(d->next);
    *d = (struct diagnosis){.odd = -1};
}

struct booth *diagnosis_truth(const struct diagnosis *d, const struct explanation *e)
{
    struct booth *b = booth_copy(d->believed->booth);
    for (size_t i = 0; i < b->decks.n; i++)
        b->decks.v[i].set_to = d->believed->decks[i].set_to;
    for (int i = 0; i < e->n; i++)
        cause_tell_booth(d->believed, &e->causes[i], b);
    return b;
}

struct plan *diagnosis_mend(const struct diagnosis *d, const struct explanation *e)
{
    struct booth *truth = diagnosis_truth(d, e);
    struct plan *plans = plans_make(truth);
    booth_free(truth);
    return plans;
}

int explanation_percent(const struct explanation *e)
{
    return (int)(e->share * 100 + 0.5);
}

bool diagnosis_replays(const struct diagnosis *d, const struct explanation *e)
{
    struct search s = {.c = d->believed};
    struct circuit *c = circuit_copy(d->believed);
    for (int i = 0; i < e->n; i++)
        cause_apply(c, &e->causes[i]);
    read_marks(&s);
    bool replays = first_wrong(&s, c) == s.n_marks;
    mem_free(s.marks);
    circuit_free(c);
    return replays;
}
