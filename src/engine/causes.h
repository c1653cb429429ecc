/* Small differences between the booth as it is believed to be and as it truly is: what can have
 * gone wrong at a soundcheck.
 *
 * The table of causes stands in causes.c, with how likely each is: common practice, no source. */
#ifndef ENGINE_CAUSES_H
#define ENGINE_CAUSES_H

#include "base/str.h"
#include "engine/circuit.h"

enum cause_kind {
    CAUSE_JOIN_ORDER,       /* order: the joined devices as they truly joined */
    CAUSE_JOIN_MISSING,     /* device a never joined */
    CAUSE_OTHER_PAIR,       /* deck a plays to pair */
    CAUSE_OFF_BY_ONE,       /* every deck is set a (+1, -1) too high */
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

/* Makes it true in a circuit: a copy of the one that it was found in. */
void cause_apply(struct circuit *c, const struct cause *k);

/* Makes it true in a copy of the booth that the circuit was compiled from. */
void cause_tell_booth(const struct circuit *c, const struct cause *k, struct booth *b);

/* Whether two are the same cause. */
bool cause_same(const struct cause *a, const struct cause *b);

/* How likely it is, in thousandths: common practice, no source. */
double cause_likelihood(const struct circuit *c, const struct cause *k);

/* The least number of exchanges of two that make the believed order of the true one: n less the
 * number of cycles. */
int cause_exchanges(const struct circuit *c, const struct cause *k);

/* "join-order", for scripts; what it is about, by id and jack; its detail ("" for none); one
 * sentence. Each appends. */
const char *cause_word(enum cause_kind kind);
void cause_subjects(const struct circuit *c, const struct cause *k, struct texts *out);
void cause_detail(const struct circuit *c, const struct cause *k, struct str *out);
void cause_say(const struct circuit *c, const struct cause *k, struct str *out);

#endif
