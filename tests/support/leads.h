/* What must hold of the data leads of a booth after a plan. */
#ifndef TESTS_SUPPORT_LEADS_H
#define TESTS_SUPPORT_LEADS_H

#include "model/booth.h"

/* The first joined device that does not lead to the laptop, over hubs that are plugged in and not
 * over the dead one; or that stands in a port which is not there or taken, and did not before. The
 * dead device and what others use are left aside. NULL: there is none. dead: an id, or NULL. */
const char *lead_astray(const struct booth *before, const struct booth *after, const char *dead);

#endif
