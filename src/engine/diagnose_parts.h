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
    struct expected *marks;
    size_t n_marks;
    struct circuit *level[CAUSES_AT_MOST + 1], *trial;
    struct cause set[CAUSES_AT_MOST];
    int most;         /* causes in a set */
    bool orders_last; /* the last of them is an order of joining */
    long work;        /* that may still be spent */
    int orders;
};

/* Whether the search may go on; spends units of its work. */
bool search_goes_on(const struct search *s);
void search_spends(struct search *s, size_t units);

/* What a deck of a circuit is heard as. */
void hear(const struct circuit *c, int deck, ears out);

/* Whether a circuit gives a mark. */
bool mark_fits(const struct circuit *c, const struct expected *e);

/* The first mark that a circuit does not give; the number of marks when it gives all. */
size_t first_wrong(const struct search *s, const struct circuit *c);

/* Keeps the first n causes of the set as an explanation, unless it is known or not minimal. */
void keep(struct search *s, int n);

/* Explains what is left by an order of joining, after the first `depth` causes of the set, which
 * are made true in c. */
void try_orders(struct search *s, const struct circuit *c, int depth);

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

/* After the search: shares that sum to one, likeliest first, groups, and the next check. */
void weigh(struct search *s);

#endif
