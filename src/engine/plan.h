/* Least work: for each way into the mixer, what gets every deck heard at the strip that it wants
 * in the fewest minutes of domain.md's model. The optimum is exact. */
#ifndef ENGINE_PLAN_H
#define ENGINE_PLAN_H

#include <stdbool.h>

#include "model/change.h"

/* What a host's actions take unless its `minutes` say otherwise, in thousandths of a minute:
 * common practice, no source. */
struct prices {
    int set, selector, switch_, source, move, add, unplug, join, leave, plug;
};
struct prices plan_prices(const struct booth *b);

struct action {
    struct change change;
    const char *word; /* "move": for scripts, by what it costs */
    int minutes;      /* thousandths */
    char *text;       /* an order, told of the booth as the actions before it leave it */
};

/* Appends an action with its minutes, if it takes any: "set H1 to pair 1/2 (0.50 min)". */
void action_say(const struct action *a, struct str *out);

struct plan {
    enum way way;
    bool feasible;
    int minutes;            /* thousandths: the sum of the actions'; meaningless unless feasible */
    char *why_not;          /* NULL when feasible */
    struct action *actions; /* in the order of hands */
    size_t n, cap;
    struct booth *after; /* the booth with the plan made; NULL unless feasible */
    struct texts bag;    /* what to bring, a kind a line: "2 RCA cable" */
    struct texts advice; /* what else to do, which no minutes count, an order a line */
};

enum { WAYS = 3 };

/* The way that a booth is connected by: that of its first joined device; by the players' cards
 * where nothing is joined. */
enum way plan_way_now(const struct booth *b);

/* All three, feasible ones by minutes (equal: in the order of enum way), then the others. Free
 * with plans_free(). b must be sound. */
struct plan *plans_make(const struct booth *b);

/* What has died and serves nothing. */
struct dead {
    const bool *cards; /* by the device's number: cannot be joined. One that is in the joined list
                        * has left a hole there: the list's channels are counted with it, and it
                        * may stay. NULL: none */
    const char *hub;   /* what hangs on it is plugged in elsewhere. NULL: none */
    const struct device *lead; /* of which the data lead died, as it was plugged in: another lead
                                * goes there. NULL: none */
};

/* The same without what has died. */
struct plan *plans_without(const struct booth *b, const struct dead *dead);
void plans_free(struct plan *plans);

/* Leaves nothing of it but its way. */
void plan_clear(struct plan *p);

/* What to see to before the plugs of a feasible plan are moved; NULL where none is. A live room
 * goes on playing meanwhile. */
const char *plan_caution(const struct plan *p);

/* Appends what the decks are set to once a feasible plan is made, "H1 3/4, H2 5/6", with the strip
 * that each is then heard on if asked for; nothing when no deck has a route. */
void plan_say_pairs(const struct plan *p, bool strips, struct str *out);

/* The plan of one way in what plans_make() gave. */
const struct plan *plans_of(const struct plan *plans, enum way way);

#endif
