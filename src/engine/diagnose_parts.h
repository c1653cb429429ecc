/* What the parts of the diagnosis share. Only for diagnose*.c. */
#ifndef ENGINE_DIAGNOSE_PARTS_H
#define ENGINE_DIAGNOSE_PARTS_H

#include "engine/diagnose.h"

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
    const struct texts *out; /* ruled out; NULL: nothing */
    struct expected *marks;
    size_t n_marks;
    struct circuit *level[CAUSES_AT_MOST + 1], *trial;
    struct cause set[CAUSES_AT_MOST];
    int most;  /* causes in a set */
    bool full; /* as many are found as are kept, and one more */
    long work; /* that may still be spent */
};

/* Whether a set contains what was ruled out. */
bool is_out(const struct search *s, const struct cause *set, int n);

/* Whether the search may go on; spends units of its work. */
bool search_goes_on(const struct search *s);
void search_spends(struct search *s, size_t units);

/* What a deck of a circuit is heard as. */
void hear(const struct circuit *c, int deck, ears out);

/* Whether a mark says that nothing is heard there. */
bool silent_mark(const struct mark *m);

/* Whether a circuit gives a mark. */
bool mark_fits(const struct circuit *c, const struct expected *e);

/* The first mark that a circuit does not give; the number of marks when it gives all. */
size_t first_wrong(const struct search *s, const struct circuit *c);

/* Whether the first n causes of the set are an explanation that is not known yet, and minimal. */
bool is_new(struct search *s, int n);

/* Keeps them when they are. */
void keep(struct search *s, int n);

/* Whether a cause can hold beside the first `depth` causes of the set. */
bool able(const struct search *s, int depth, const struct cause *k);

/* Keeps each set of as many causes as the search wants, one of them an order of joining. */
void try_orders(struct search *s);

/* Where a deck's sound gets to, whatever is switched off on its way: what a cause has to touch to
 * change what the deck is heard as. */
struct reach {
    int deck;
    bool *outputs, *inputs; /* by the circuit's numbers */
};
struct reach reach_of(const struct circuit *c, int deck);
void reach_clear(struct reach *r);

/* Whether a cause could change what the deck is heard as. False is certain: then it changes neither
 * that nor the reach. Orders of joining always could. */
bool reach_touched(const struct circuit *c, const struct reach *r, const struct cause *k);

/* Notes the decks that were heard as the booth gives it, but not as they want it. */
void note_amiss(const struct search *s);

/* After the search: shares that sum to one, likeliest first, groups, and the next check. */
void weigh(struct search *s);

/* Where nothing explains the marks: what to look at if all that were checked are silent. */
void look_at_what_is_shared(struct search *s);

/* Finds which explanations, sorted as they are, are said as one, and the lines. */
void gather(struct diagnosis *d);

/* The sentence of the k-th cause of the i-th explanation and of all that are said as one with it.
 */
void say_cause(const struct diagnosis *d, size_t i, int k, struct str *out);

#endif
