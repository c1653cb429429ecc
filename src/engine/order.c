/* The checklist. */
#include "engine/order.h"

#include "base/mem.h"

struct steps steps_make(const struct circuit *c)
{
    (void)c;
    return (struct steps){0};
}

void steps_clear(struct steps *s)
{
    mem_free(s->v);
    *s = (struct steps){0};
}

int steps_current(const struct steps *s)
{
    for (size_t i = 0; i < s->n; i++)
        if (!s->v[i].done)
            return (int)i;
    return -1;
}
