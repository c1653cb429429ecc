/* What the files of the failures share. Only for failures*.c. */
#ifndef ENGINE_FAILURES_PARTS_H
#define ENGINE_FAILURES_PARTS_H

#include "engine/failures.h"

struct wound {
    const struct booth *b;
    struct failure *f;
    bool lost[MAX_DEVICES];  /* cards that drop out of the interface, by the device's number */
    bool hushed;             /* no deck is heard where it wants to be any more */
    bool unheard[MAX_DECKS]; /* decks that were not heard where they want to be before, either */
};

/* Appends the subjects of what the route of a deck, by its number, leads through: the card, its
 * lead and hubs, the cable; last the strip that it wants, also where there is no route. */
void deck_plays_through(const struct booth *b, int deck, struct texts *out);

/* Whether everything stops until the interface is chosen again: a joined card drops out, and the
 * host's on_drop says so. */
bool interface_stops(const struct wound *w);

/* Whether it is the cable of a subject, "p1.line>s1.line". */
bool cable_is(const struct cable *c, const char *subject);

/* Fills the failure's back, or else its meanwhile. The failure loses something. */
void find_way_back(struct wound *w);

void way_back_clear(struct way_back *w);

/* --- making ways back --- */

/* Puts another in the place of the best so far if it is better, or if there is none yet; the other
 * is cleared. */
void offer(struct way_back *best, struct way_back other);

/* Whether the host keeps the gap of what is lost: as long as hands let it. */
bool keeps_gap(const struct wound *w);

/* What hands find. A thing that died stays in the booth: the file is for next time, when it is
 * mended or its like stands there, and the survey knows where its leads belong. A cable or lead
 * that died is taken away. A lost card stays in the joined list where its gap is kept. Free with
 * booth_free(). */
struct booth *without(const struct wound *w, bool gap_kept);

/* A gap that the host keeps closes only when hands take the lost cards out of the interface: they
 * do so first. */
void close_gap(const struct wound *w, struct plan *p);

/* Adds, after the first `at` actions, that the interface is chosen again. */
void choose_again(struct plan *p, size_t at);

/* --- those that no plan makes --- */

/* All decks through each output built into the laptop that a cable brings to a strip. */
void offer_outlets(const struct wound *w, struct way_back *best);

/* The turntable or player whose own media reaches a strip soonest, without the laptop. */
struct way_back by_soonest_media(const struct wound *w);

#endif
