/* One way's plan. */
#ifndef TESTS_SUPPORT_ONE_WAY_H
#define TESTS_SUPPORT_ONE_WAY_H

#include "engine/plan.h"

/* Makes the plans of a booth in the place of earlier ones (NULL: none), and returns that of a way.
 * Free *plans with plans_free(). */
const struct plan *one_way(struct plan **plans, const struct booth *b, enum way way);

#endif
