/* Turntables stand at the outside, on the side where they are wired. */
#include "engine/standing.h"

/* Whether the turntables are wired to strips on the right rather than on the left. */
static bool turntables_lean_right(const struct circuit *c)
{
    int lean = 0, n = (int)c->n_strips;
    for (size_t i = 0; i < c->n_cables; i++) {
        const struct circuit_cable *k = &c->cables[i];
        int strip = c->inputs[k->input].strip;
        if (strip >= 0 && circuit_device(c, c->outputs[k->output].device)->kind == KIND_TURNTABLE)
            lean += 2 * c->strips[strip].rank + 1 - n;
    }
    return lean > 0;
}

int standing_group(const struct circuit *c, int device)
{
    enum device_kind kind = circuit_device(c, device)->kind;
    return kind == KIND_INTERFACE   ? 2
           : kind != KIND_TURNTABLE ? 0
                                    : (turntables_lean_right(c) ? 3 : 1);
}
