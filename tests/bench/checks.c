/* How many decks are played until a line check has said all that it can, after each single cause on
 * each venue: taking the deck that is advised, beside taking them in order and beside the fewest
 * that any choice could do with.
 *
 * checks VENUE... */
#include <stdio.h>

#include "base/mem.h"
#include "bench/figures.h"
#include "engine/diagnose.h"
#include "file/disk.h"
#include "file/venue.h"
#include "support/listening.h"

struct sums {
    double advised, in_order, fewest;
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

static int count_bits(unsigned set)
{
    int n = 0;
    for (; set; set &= set - 1)
        n++;
    return n;
}

/* Decks in order until one is wrong; from there as advised, or further in order. */
static int checks(struct booth *b, const struct circuit *truth, bool advised)
{
    unsigned played = 0;
    struct answer a = {.next = -1};
    for (size_t n = 0; n < b->decks.n && !a.done; n++) {
        size_t next = 0;
        while (played >> next & 1)
            next++;
        if (advised && a.next >= 0)
            next = (size_t)a.next;
        played |= 1u << next;
        a = ask(b, truth, played);
    }
    return count_bits(played);
}

static int fewest(struct booth *b, const struct circuit *truth, int most)
{
    for (unsigned set = 1; set < 1u << b->decks.n; set++)
        if (count_bits(set) < most && ask(b, truth, set).done)
            most = count_bits(set);
    return most;
}

static void spoil(struct booth *b, const struct circuit *c, const struct cause *k,
                  struct sums *sums)
{
    struct circuit *truth = circuit_copy(c);
    cause_apply(truth, k);
    if (ask(b, truth, ~0u).wrong) { /* it can be heard at all */
        int advised = checks(b, truth, true);
        sums->advised += advised;
        sums->in_order += checks(b, truth, false);
        sums->fewest += fewest(b, truth, advised);
        sums->cases++;
    }
    circuit_free(truth);
}

static void spoil_all(const char *path, struct sums *sums)
{
    struct err e;
    struct str bytes = {0};
    struct stamp seen;
    struct booth *b = disk_read(path, &bytes, &seen, &e) ? venue_read(bytes.text, bytes.len, &e)
                                                         : NULL;
    str_clear(&bytes);
    if (!b || b->decks.n > 8) {
        booth_free(b);
        return;
    }
    struct circuit *c = believed(b);
    struct causes causes = causes_of(c);
    for (size_t i = 0; i < causes.n; i++)
        spoil(b, c, &causes.v[i], sums);
    mem_free(causes.v);
    circuit_free(c);
    booth_free(b);
}

int main(int argc, char **argv)
{
    struct sums sums = {0};
    for (int i = 1; i < argc; i++)
        spoil_all(argv[i], &sums);
    if (sums.cases == 0)
        return 0;
    double fewest = sums.fewest / sums.cases;
    printf("decks played until a line check has said all, over %d single causes (x: beside the "
           "fewest)\n",
           sums.cases);
    figure("each time the deck that is advised", sums.advised / sums.cases, "", fewest);
    figure("the decks in order", sums.in_order / sums.cases, "", fewest);
    figure("the fewest that any choice could do with", fewest, "", 0);
    return 0;
}
