/* Putting right what the line check found, without touching more than that.
 *
 * Two ways are weighed: undoing the causes themselves, and the least work on the booth as it truly
 * is, by the way that it is connected by already. So where two players are exchanged, exchanging
 * two settings is enough; but no house source is unplugged for it, and no other way in is taken. */
#ifndef ENGINE_MEND_H
#define ENGINE_MEND_H

#include "engine/diagnose.h"
#include "engine/plan.h"

/* The cheapest mend of an explanation: its actions, their minutes, and the booth after them; or
 * infeasible, with what to do instead in why_not. Of no cause: what puts decks right that are amiss
 * (there must be one): the least work, or else the fixes of the faults that are known to make them
 * so. d, with its booth, must outlive the call only. Never NULL; free with mend_free(). */
struct plan *mend_make(const struct diagnosis *d, const struct explanation *e);
void mend_free(struct plan *p);

#endif
