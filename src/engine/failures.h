/* What if it fails in the night: for each single thing, which decks fall silent, and the quickest
 * way back without it. */
#ifndef ENGINE_FAILURES_H
#define ENGINE_FAILURES_H

#include <stdbool.h>

#include "engine/plan.h"

enum failing {
    FAILING_HOST,   /* the laptop */
    FAILING_DEVICE, /* a player, an interface, a controller; of a mixer: its card */
    FAILING_HUB,
    FAILING_STRIP,
    FAILING_CABLE,
    FAILING_LEAD, /* a data lead */
};

/* A way back: what hands do, and what they then have. */
struct way_back {
    struct plan plan; /* feasible, its minutes, actions, after and bag; why_not: there is none */
    char *text;       /* of a feasible one: what it comes to, in a few words */
    struct texts without; /* ids of decks that are given up for it */
};

struct failure {
    enum failing kind;
    char subject[2 * REF_SIZE]; /* "host", "p1", "hub1", "s1", "p1.line>s1.line", "lead-p1" */
    char *what;                 /* for people: "P1", "the data lead of P1" */
    struct texts silent;        /* ids of decks that were heard, and want a strip */
    struct texts moved;         /* ids of decks that are then heard somewhere else */
    struct texts uncontrolled;  /* ids of decks that what is lost controlled */
    bool loses;                 /* silent or moved: only then has it a way back, or none */
    struct way_back back;       /* all decks that want a strip are heard again */
    struct way_back meanwhile;  /* where there is none: going on without the decks that used it */
};

struct failures {
    struct failure *v; /* what silences most first, then as things stand in the file */
    size_t n, cap;
};

/* b must be sound. Free with failures_clear(). */
struct failures failures_make(const struct booth *b);
void failures_clear(struct failures *f);

/* Those of a thing, of its data lead and of the cables at it; of a host deck, those of all that it
 * plays through, from its card to its strip; of a jack, those of the cables in it. Then the host's.
 * It is what a person who points at a box or a jack asks. Free with failures_clear(). */
struct failures failures_around(const struct booth *b, const char *id);

/* The failure of a thing alone, by its subject; false when there is no such thing. Free with
 * failure_clear(). */
bool failure_make(const struct booth *b, const char *subject, struct failure *out);
void failure_clear(struct failure *f);

/* Appends how long it takes, for people: "in 2.50 min"; "at once" where hands do nothing. */
void way_back_say_when(const struct way_back *way, struct str *out);

/* The booth with the way back taken, or else as it goes on meanwhile; NULL for neither. Borrowed.
 */
const struct booth *failure_after(const struct failure *f);

#endif
