/* Small differences between the booth as it is believed to be and as it truly is: what can have
 * gone wrong at a soundcheck.
 *
 * The table of causes stands in causes.c, with how likely each is: common practice, no source. */
#ifndef ENGINE_CAUSES_H
#define ENGINE_CAUSES_H

#include "base/str.h"
#include "engine/circuit.h"

enum cause_kind {
    CAUSE_JOIN_ORDER,   /* order: the joined devices as they truly joined; one that never joined
                         * (another cause) stands in it too: a host that keeps its gap remembers
                         * its place, where the gap closes it is anywhere */
    CAUSE_JOIN_MISSING, /* device a never joined */
    CAUSE_OTHER_PAIR,   /* deck a plays to pair; b: 1 where that is one channel beside a pair that
                         * belongs together: less likely */
    CAUSE_OFF_BY_ONE,   /* every deck is set a (+1, -1) too high */
    CAUSE_CABLES_EXCHANGED, /* the plugs of cables a and b stand in each other's inputs */
    CAUSE_CABLE_ELSEWHERE,  /* cable a truly ends in input b */
    CAUSE_SIDES_SWAPPED,    /* cable a exchanges its sides */
    CAUSE_SIDE_DEAD,        /* cable a passes one side only: b is an enum sides */
    CAUSE_SELECTOR,         /* the selector of strip a stands on input b */
    CAUSE_OWN_MEDIA,        /* player a is not switched to the computer */
    CAUSE_STRIP_DEAD,       /* strip a passes nothing */
};

struct cause {
    enum cause_kind kind;
    int a, b; /* numbers of the circuit */
    struct pair pair;
    unsigned char order[MAX_DEVICES];
};

struct causes {
    struct cause *v;
    size_t n, cap;
};

/* Every cause that a booth allows, but for orders of joining. The decks of the circuit must be set
 * (see diagnose.c). Free with mem_free() of v. */
struct causes causes_of(const struct circuit *c);

/* Makes it true in a circuit: a copy of the one that it was found in. Several may follow in any
 * sequence, but that decks are set one too high comes before another pair, which is where a deck
 * truly plays. */
void cause_apply(struct circuit *c, const struct cause *k);

/* Makes it true in a copy of the booth that the circuit was compiled from, as far as a booth can
 * hold it. */
void cause_tell_booth(const struct circuit *c, const struct cause *k, struct booth *b);

/* Whether a booth can hold it whole: that a strip passes nothing it cannot, nor the gap that a host
 * keeps. */
bool cause_fits_booth(const struct circuit *c, const struct cause *k);

/* Below, above or 0, as one stands before the other: by kind, then by what they name; 0 only of the
 * same cause. */
int cause_compare(const struct cause *a, const struct cause *b);
bool cause_same(const struct cause *a, const struct cause *b);

/* Whether two are the same but for where: the input that a selector stands on or a plug is in, the
 * pair that a deck is played to. */
bool cause_alike(const struct cause *a, const struct cause *b);

/* How likely it is, in thousandths: common practice, no source. */
double cause_likelihood(const struct circuit *c, const struct cause *k);

/* The least number of exchanges of two that make the believed order of the true one: n less the
 * number of cycles. c is the circuit as believed. */
int cause_exchanges(const struct circuit *c, const struct cause *k);

/* Completes an order of joining of which the first n devices are known: each of the other joined
 * ones of the believed circuit is put where that makes the fewest exchanges, of equals the first
 * such place. Returns how many those are. */
int cause_complete_order(const struct circuit *c, struct cause *k, size_t n);

/* "join-order", for scripts; what it is about, by id and jack; its detail ("" for none); one
 * sentence. Each appends. */
const char *cause_word(enum cause_kind kind);
void cause_subjects(const struct circuit *c, const struct cause *k, struct texts *out);
void cause_detail(const struct circuit *c, const struct cause *k, struct str *out);
void cause_say(const struct circuit *c, const struct cause *k, struct str *out);

/* The sentence of the i-th of n causes that hold together: an order of joining is told of those
 * that joined, and where the host keeps the gap of one that did not, with the gap. */
void cause_say_among(const struct circuit *c, const struct cause *set, int n, int i,
                     struct str *out);

/* One sentence for n > 1 different causes that are alike, of which the first is the likeliest. */
void cause_say_alike(const struct circuit *c, const struct cause *const *v, size_t n,
                     struct str *out);

/* The name of n causes that hold together, for scripts and for keeping: "selector-elsewhere:s2",
 * each its word and its subjects, joined by "+". Appends. */
void causes_name(const struct circuit *c, const struct cause *set, int n, struct str *out);

/* Whether each that is named is in the set. A word without subjects names every cause of the kind;
 * details are not named. */
bool causes_named(const struct circuit *c, const char *names, const struct cause *set, int n);

/* Whether there is a cause for each that is named. The decks of the circuit must be set. */
bool cause_name_known(const struct circuit *c, const char *names);

#endif
