/* What must hold of the data leads of a booth after a plan. */
#ifndef TESTS_SUPPORT_LEADS_H
#define TESTS_SUPPORT_LEADS_H

#include "engine/plan.h"

/* The first device, joined after a feasible plan, that does not lead to the laptop, over hubs that
 * are plugged in and not over the dead one; or that now stands in a port which is taken or not
 * there. The dead device and what others use are left aside. NULL: there is none, or a hub is to be
 * brought. dead: an id, or NULL. */
const char *lead_astray(const struct booth *before, const struct plan *p, const char *dead);

#endif
