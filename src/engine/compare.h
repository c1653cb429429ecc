/* Two visits to one booth: what differs, and what that means for the routes. */
#ifndef ENGINE_COMPARE_H
#define ENGINE_COMPARE_H

#include <stdbool.h>

#include "model/change.h"

/* What a difference is about: its word in --json stands in compare.c. */
enum difference_kind {
    DIFFERENCE_GONE,  /* a thing that was there before */
    DIFFERENCE_NEW,   /* a thing that was not */
    DIFFERENCE_MODEL, /* another model, family or card stands there */
    DIFFERENCE_FIRMWARE,
    DIFFERENCE_MOVED, /* it stands in another place */
    DIFFERENCE_LABEL,
    DIFFERENCE_UNWIRED, /* a cable that is gone */
    DIFFERENCE_WIRED,   /* a cable that is new */
    DIFFERENCE_SIDES,   /* a cable with other sides */
    DIFFERENCE_SELECTOR,
    DIFFERENCE_SWITCH,
    DIFFERENCE_SOURCE,
    DIFFERENCE_LEAD, /* a data lead in another port */
    DIFFERENCE_IN_USE,
    DIFFERENCE_JOINED, /* the joined list */
};

struct difference {
    enum difference_kind kind;
    char subject[REF_SIZE]; /* by its name in the new booth; of what is gone, in the old one */
    char other[REF_SIZE];   /* of a cable: its other end; "" otherwise */
    char *text;             /* one sentence, without a final stop */
};

/* A deck whose route is not what it was. left -1: no route. */
struct rerouted {
    int deck; /* in the new booth */
    struct pair before, now;
    bool type_it; /* the host is set (or was routed) to something else than now */
};

struct comparison {
    struct difference *v;
    size_t n, cap;
    struct rerouted *routes; /* in the new booth's order of decks */
    size_t n_routes, routes_cap;
    const struct combination *fits; /* a saved one (of either) for what is joined now; borrowed
                                       from now or before; NULL: none */
};

/* Devices are matched by id, then by kind, place and model; strips by id, then by place in a
 * matched mixer; decks by id. Both booths must be sound and outlive the comparison. Free with
 * comparison_clear(). */
struct comparison compare_make(const struct booth *before, const struct booth *now);
void comparison_clear(struct comparison *c);

/* "gone", "unwired" and so on, as --json has them. */
const char *difference_word(enum difference_kind kind);

/* A copy of before with every difference made good: its wiring, selectors, switches, sources and
 * joined list are now's. Free with booth_free(). */
struct booth *compare_applied(const struct booth *before, const struct booth *now);

#endif
