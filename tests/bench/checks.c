/* How many decks are played until a line check has said all that it can, after each single cause on
 * each venue: taking the deck that is advised, beside taking them in order and beside the best
 * decision tree over these causes.
 *
 * checks VENUE... */
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "base/hash.h"
#include "base/mem.h"
#include "bench/figures.h"
#include "engine/diagnose.h"
#include "engine/heard.h"
#include "file/disk.h"
#include "file/venue.h"
#include "model/layout.h"
#include "support/booth_from.h"
#include "support/listening.h"

enum { MOST_DECKS = 8, SETS = 1 << MOST_DECKS };

struct sums {
    double advised, in_order, tree;
    int cases;
};

/* What a line check of these decks says: whether it knows that something is wrong, whether playing
 * another deck can tell more, and which. */
struct answer {
    bool wrong, done;
    int next;
};

static struct answer ask(struct booth *b, const struct circuit *truth, unsigned decks)
{
    listen_to(b, truth, decks);
    struct diagnosis d = diagnosis_make(b);
    struct answer a = {.wrong = d.n == 0 || d.v[0].n > 0, .next = d.next_deck};
    a.done = a.wrong && a.next < 0;
    diagnosis_clear(&d);
    return a;
}

/* Decks as advised, or in order, until all is said. */
static int checks(struct booth *b, const struct circuit *truth, bool advised)
{
    unsigned played = 0;
    int n = 0;
    for (struct answer a = ask(b, truth, 0); (size_t)n < b->decks.n && !a.done; n++) {
        int next = 0;
        while (played >> next & 1)
            next++;
        if (advised && a.next >= 0)
            next = a.next;
        played |= 1u << next;
        a = ask(b, truth, played);
    }
    return n;
}

/* --- the best decision tree ------------------------------------------------------------------- */

struct cases {
    struct booth *b;
    struct circuit **truth;
    uint64_t (*heard)[MOST_DECKS];
    int (
        *cost)[SETS]; /* of all that sound like this case with a set of decks played; -1: unknown */
    int n, decks;
};

static uint64_t heard_as(const struct circuit *c, int deck)
{
    uint64_t h = HASH_OF_NOTHING;
    struct heard found = heard_deck(c, deck, c->decks[deck].set_to);
    for (size_t i = 0; i < found.n; i++) {
        const struct sound *v = &found.v[i];
        int code = ((v->strip * 2 + v->side) * 2 + v->deck_side) + 1;
        h = hash_bytes(h, &code, sizeof code);
    }
    heard_clear(&found);
    return h;
}

static bool alike(const struct cases *c, int a, int b, unsigned played)
{
    for (int i = 0; i < c->decks; i++)
        if (played >> i & 1 && c->heard[a][i] != c->heard[b][i])
            return false;
    return true;
}

/* Decks still to play, summed over the cases that sound like this one so far. */
static int tree(struct cases *c, int like, unsigned played)
{
    int first = 0, best = -1;
    while (!alike(c, first, like, played))
        first++;
    int *known = &c->cost[first][played];
    if (*known >= 0)
        return *known;
    if (ask(c->b, c->truth[first], played).done)
        return *known = 0;
    for (int deck = 0; deck < c->decks; deck++) {
        unsigned then = played | 1u << deck;
        int sum = 0;
        for (int i = first; i < c->n && then != played; i++) {
            if (!alike(c, i, first, played))
                continue;
            bool told = false;
            for (int k = first; k < i && !told; k++)
                told = alike(c, k, first, played) && alike(c, k, i, then);
            sum += 1 + (told ? 0 : tree(c, i, then));
        }
        if (then != played && (best < 0 || sum < best))
            best = sum;
    }
    return *known = best < 0 ? 0 : best;
}

/* --- all single causes of a venue ------------------------------------------------------------- */

static void add_case(struct cases *c, const struct circuit *believed, const struct cause *k)
{
    struct circuit *truth = circuit_copy(believed);
    cause_apply(truth, k);
    if (!ask(c->b, truth, ~0u).wrong) { /* it cannot be heard at all */
        circuit_free(truth);
        return;
    }
    for (int i = 0; i < c->decks; i++)
        c->heard[c->n][i] = heard_as(truth, i);
    memset(c->cost[c->n], -1, sizeof *c->cost);
    c->truth[c->n++] = truth;
}

static void spoil_all(struct booth *b, struct sums *sums)
{
    struct circuit *c = believed(b);
    struct causes causes = causes_of(c);
    struct cases all = {.b = b, .decks = (int)b->decks.n};
    all.truth = mem_new(causes.n, sizeof(struct circuit *));
    all.heard = mem_new(causes.n, sizeof *all.heard);
    all.cost = mem_new(causes.n, sizeof *all.cost);
    for (size_t i = 0; i < causes.n; i++)
        add_case(&all, c, &causes.v[i]);
    sums->tree += all.n ? tree(&all, 0, 0) : 0;
    for (int i = 0; i < all.n; i++) {
        sums->advised += checks(b, all.truth[i], true);
        sums->in_order += checks(b, all.truth[i], false);
        circuit_free(all.truth[i]);
    }
    sums->cases += all.n;
    mem_free(all.truth);
    mem_free(all.heard);
    mem_free(all.cost);
    mem_free(causes.v);
    circuit_free(c);
}

static void spoil_venue(const char *path, struct sums *sums)
{
    struct err e;
    struct str bytes = {0};
    struct stamp seen;
    struct booth *b = disk_read(path, &bytes, &seen, &e) ? venue_read(bytes.text, bytes.len, &e)
                                                         : NULL;
    str_clear(&bytes);
    if (b && b->decks.n <= MOST_DECKS)
        spoil_all(b, sums);
    booth_free(b);
}

static void spoil_random(unsigned seeds, struct sums *sums)
{
    for (unsigned seed = 1; seed <= seeds; seed++) {
        struct booth *b = booth_random(seed);
        int wanted = 0;
        for (size_t i = 0; i < b->decks.n; i++)
            wanted += *b->decks.v[i].wants != '\0';
        if (wanted >= 3 && b->decks.n <= 6 && b->cables.n <= 12)
            spoil_all(b, sums);
        booth_free(b);
    }
}

/* The joined devices join in an order thrown with a die. */
static void apply_any_order(struct circuit *truth, const struct circuit *c,
                            unsigned long long *state)
{
    struct cause k = {.kind = CAUSE_JOIN_ORDER};
    for (unsigned i = 0; i < c->n_joined; i++) {
        unsigned at = random_below(state, i + 1);
        k.order[i] = k.order[at];
        k.order[at] = (unsigned char)c->joined[i];
    }
    cause_apply(truth, &k);
}

/* Makes any two causes true: the first in the table first. */
static void spoil(struct circuit *truth, const struct causes *all, unsigned long long *state)
{
    unsigned a = random_below(state, (unsigned)all->n), b = random_below(state, (unsigned)all->n);
    cause_apply(truth, &all->v[a < b ? a : b]);
    cause_apply(truth, &all->v[a < b ? b : a]);
}

/* Eight players, eight decks, any two causes, and any order of joining or the believed one: how
 * long an answer takes. */
static void time_pairs(int pairs, bool order)
{
    struct err e;
    struct layout eight = {.venue = "eight players",
                           .players = 8,
                           .decks = 8,
                           .strips = "1 2 3 4 5 6 7 8",
                           .way = WAY_PLAYER_CARDS};
    struct booth *b = booth_laid_out(&eight, &e);
    struct circuit *c = believed(b);
    struct causes all = causes_of(c);
    unsigned long long state = 8;
    double sum = 0, worst = 0;
    for (int i = 0; i < pairs; i++) {
        struct circuit *truth = circuit_copy(c);
        spoil(truth, &all, &state);
        if (order)
            apply_any_order(truth, c, &state);
        listen_to(b, truth, ~0u);
        double from = seconds_now();
        struct diagnosis d = diagnosis_make(b);
        double ms = 1000 * (seconds_now() - from);
        sum += ms;
        worst = ms > worst ? ms : worst;
        diagnosis_clear(&d);
        circuit_free(truth);
    }
    printf(
        "an answer to a line check, eight players, random pairs of %zu causes%s (x: of a frame at "
        "60 Hz)\n",
        all.n, order ? " and any order of joining" : "");
    figure("mean", sum / pairs, " ms", 1000 / 60.0);
    figure("worst", worst, " ms", 1000 / 60.0);
    mem_free(all.v);
    circuit_free(c);
    booth_free(b);
}

static void print(const char *where, const struct sums *sums)
{
    double least = sums->tree / sums->cases;
    printf("decks played until a line check has said all, over %d single causes %s (x: beside the "
           "best decision tree)\n",
           sums->cases, where);
    figure("each time the deck that is advised", sums->advised / sums->cases, "", least);
    figure("the decks in order", sums->in_order / sums->cases, "", least);
    figure("the best decision tree over these causes", least, "", 0);
}

int main(int argc, char **argv)
{
    struct sums demo = {0}, chance = {0};
    for (int i = 1; i < argc; i++)
        spoil_venue(argv[i], &demo);
    spoil_random(60, &chance);
    if (demo.cases)
        print("on the demo venues", &demo);
    if (chance.cases)
        print("in random booths (seeds 1 to 60)", &chance);
    time_pairs(400, false);
    time_pairs(100, true);
    return 0;
}
