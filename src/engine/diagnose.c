/* The search: the first deck whose mark does not fit must be touched by one of the causes that are
 * still to come; each that could is made true in a copy, and so on. So every set is found in some
 * sequence, and few are tried. Orders of joining are built, not guessed (diagnose_orders.c).
 *
 * A set found is kept when no cause of it can be dropped. */
#include "engine/diagnose.h"

#include <string.h>

#include "base/mem.h"
#include "engine/basis.h"
#include "engine/diagnose_parts.h"
#include "engine/heard.h"
#include "engine/route.h"

/* Explanations; and units of work, of about a tenth of a microsecond, for each step of the search:
 * all sets of three causes of eight players fit, also those with an order of joining. */
enum { MOST_FOUND = 400, MOST_WORK = 1000000, FEW = 8, MOST_WORK_OF_FEW = 3 * MOST_WORK };

/* --- what a deck is heard as ------------------------------------------------------------------ */

void hear(const struct circuit *c, int deck, ears out)
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

bool silent_mark(const struct mark *m)
{
    return m->left == EAR_NONE && m->right == EAR_NONE;
}

bool mark_fits(const struct circuit *c, const struct expected *e)
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

size_t first_wrong(const struct search *s, const struct circuit *c)
{
    size_t i = 0;
    while (i < s->n_marks && mark_fits(c, &s->marks[i]))
        i++;
    return i;
}

/* --- keeping what was found ------------------------------------------------------------------- */

bool is_out(const struct search *s, const struct cause *set, int n)
{
    for (size_t i = 0; s->out && i < s->out->n; i++)
        if (causes_named(s->c, s->out->v[i], set, n))
            return true;
    return false;
}

static bool contains(const struct explanation *e, const struct cause *k)
{
    for (int i = 0; i < e->n; i++)
        if (cause_same(&e->causes[i], k))
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

bool is_new(struct search *s, int n)
{
    search_spends(s, 4 + s->c->n_cables / 2);
    return !known(s, n) && !is_out(s, s->set, n) && minimal(s, n);
}

void keep(struct search *s, int n)
{
    struct diagnosis *d = s->d;
    if (s->full || !is_new(s, n))
        return;
    s->full = d->n == MOST_FOUND;
    d->more = d->more || s->full;
    if (s->full)
        return;
    d->v = mem_grow(d->v, &d->cap, d->n + 1, sizeof *d->v);
    struct explanation *e = &d->v[d->n++];
    *e = (struct explanation){.n = n, .share = 1};
    for (int i = 0; i < n; i++) {
        e->causes[i] = s->set[i];
        e->share *= cause_likelihood(s->c, &s->set[i]) / 1000;
    }
}

/* --- sets of causes --------------------------------------------------------------------------- */

/* Whether two causes speak of one thing in ways that cannot both be; or only the other way round:
 * every deck's shift can always go first, and then a deck's pair is where it truly plays. */
static bool clash(const struct cause *a, const struct cause *b)
{
    if (a->kind == CAUSE_OTHER_PAIR && b->kind == CAUSE_OFF_BY_ONE)
        return true;
    return a->kind == b->kind && a->a == b->a && a->kind != CAUSE_CABLES_EXCHANGED;
}

bool able(const struct search *s, int depth, const struct cause *k)
{
    for (int i = 0; i < depth; i++)
        if (clash(&s->set[i], k))
            return false;
    return true;
}

/* A cause that does not touch the first wrong deck leaves it as wrong as it is, so one that does
 * can always go before it. */
static void explain(struct search *s, int depth)
{
    const struct circuit *c = s->level[depth];
    size_t wrong = first_wrong(s, c);
    if (wrong == s->n_marks)
        keep(s, depth);
    if (wrong == s->n_marks || depth == s->most)
        return;
    bool last = depth + 1 == s->most;
    struct circuit *next = s->level[depth + 1];
    struct reach reach = reach_of(c, s->marks[wrong].deck);
    for (size_t i = 0; i < s->causes.n && search_goes_on(s); i++) {
        const struct cause *k = &s->causes.v[i];
        if (!reach_touched(c, &reach, k) || !able(s, depth, k))
            continue;
        search_spends(s, 1 + s->c->n_cables / 8);
        circuit_assign(next, c);
        cause_apply(next, k);
        if (last && !mark_fits(next, &s->marks[wrong]))
            continue;
        s->set[depth] = *k;
        explain(s, depth + 1);
    }
    reach_clear(&reach);
}

bool search_goes_on(const struct search *s)
{
    return s->work > 0 && !s->full;
}

void search_spends(struct search *s, size_t units)
{
    s->work -= (long)units;
    s->d->cut = s->d->cut || s->work <= 0;
}

/* Sets of so many causes at most: those without an order of joining, then those with one. */
static void search_upto(struct search *s, int most)
{
    s->most = most;
    s->work = MOST_WORK;
    explain(s, 0);
    s->work = s->c->n_joined <= FEW ? MOST_WORK_OF_FEW : MOST_WORK;
    try_orders(s);
}

/* --- marks ------------------------------------------------------------------------------------ */

static void read_marks(struct search *s)
{
    const struct booth *b = s->c->booth;
    s->marks = mem_new(b->line_check.n, sizeof *s->marks);
    for (size_t i = 0; i < b->line_check.n; i++) {
        const struct listen *l = &b->line_check.v[i];
        const struct deck *deck = booth_deck(b, l->deck);
        if (!deck || basis_is_old(b, l))
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

/* A cause that is ruled out alone need not be tried. */
static struct causes possible(const struct search *s)
{
    struct causes all = causes_of(s->c);
    size_t n = 0;
    for (size_t i = 0; i < all.n; i++)
        if (!is_out(s, &all.v[i], 1))
            all.v[n++] = all.v[i];
    all.n = n;
    return all;
}

static void start(struct search *s, struct diagnosis *d, struct circuit *believed,
                  const struct texts *out)
{
    for (size_t i = 0; i < believed->n_decks; i++) /* they play where they were believed to */
        believed->decks[i].set_to = route_effective(believed, (int)i);
    *s = (struct search){.d = d, .c = believed, .out = out};
    s->causes = possible(s);
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
    return diagnosis_without(b, NULL);
}

struct diagnosis diagnosis_without(const struct booth *b, const struct texts *ruled_out)
{
    struct diagnosis d = {.odd = -1, .next_deck = -1, .others = ruled_out && ruled_out->n};
    struct search s;
    d.believed = circuit_new(b);
    start(&s, &d, d.believed, ruled_out);
    d.marks = s.n_marks;
    note_amiss(&s);
    for (int most = 1; most <= CAUSES_AT_MOST && (most < 3 || d.n == 0); most++)
        search_upto(&s, most);
    if (d.n)
        weigh(&s);
    else
        find_odd(&s);
    if (d.n == 0)
        look_at_what_is_shared(&s);
    finish(&s);
    return d;
}

void diagnosis_clear(struct diagnosis *d)
{
    circuit_free(d->believed);
    mem_free(d->v);
    mem_free(d->lines);
    mem_free(d->amiss);
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
