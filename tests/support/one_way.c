#include "support/one_way.h"

const struct plan *one_way(struct plan **plans, const struct booth *b, enum way way)
{
    plans_free(*plans);
    *plans = plans_make(b);
    return plans_of(*plans, way);
}
