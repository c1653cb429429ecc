/* From a deck's channels to the outputs and usb inputs that carry them, and along their cables:
 * selectors, sources, sides and levels are left aside, so that the reach can only be too wide. */
#include "base/mem.h"
#include "engine/diagnose_parts.h"

static bool carries(const struct circuit_device *d, const int carried[2], struct pair p)
{
    for (int i = 0; i < 2; i++) {
        int channel = d->first + carried[i] - 1;
        if (carried[i] && p.left >= 0 && (channel == p.left || channel == p.right))
            return true;
    }
    return false;
}

struct reach reach_of(const struct circuit *c, int deck)
{
    struct reach r = {.deck = deck,
                      .outputs = mem_new(c->n_outputs, sizeof *r.outputs),
                      .inputs = mem_new(c->n_inputs, sizeof *r.inputs)};
    struct pair p = c->decks[deck].set_to;
    for (size_t i = 0; i < c->n_outputs; i++) {
        const struct circuit_device *d = &c->devices[c->outputs[i].device];
        r.outputs[i] = d->joined >= 0 && carries(d, c->outputs[i].carries, p);
    }
    for (size_t i = 0; i < c->n_inputs; i++) {
        const struct circuit_device *d = &c->devices[c->inputs[i].device];
        r.inputs[i] = c->inputs[i].usb && d->joined >= 0 && carries(d, c->inputs[i].carries, p);
    }
    for (size_t i = 0; i < c->n_cables; i++)
        if (r.outputs[c->cables[i].output])
            r.inputs[c->cables[i].input] = true;
    return r;
}

void reach_clear(struct reach *r)
{
    mem_free(r->outputs);
    mem_free(r->inputs);
    *r = (struct reach){.deck = -1};
}

static bool device_reached(const struct circuit *c, const struct reach *r, int device)
{
    for (size_t i = 0; i < c->n_outputs; i++)
        if (r->outputs[i] && c->outputs[i].device == device)
            return true;
    return false;
}

bool reach_touched(const struct circuit *c, const struct reach *r, const struct cause *k)
{
    switch (k->kind) {
    case CAUSE_OTHER_PAIR:
        return k->a == r->deck;
    case CAUSE_CABLES_EXCHANGED:
        return r->outputs[c->cables[k->a].output] || r->outputs[c->cables[k->b].output];
    case CAUSE_CABLE_ELSEWHERE:
    case CAUSE_SIDES_SWAPPED:
    case CAUSE_SIDE_DEAD:
        return r->outputs[c->cables[k->a].output];
    case CAUSE_SELECTOR:
        return r->inputs[c->strips[k->a].selected] || r->inputs[k->b];
    case CAUSE_OWN_MEDIA:
        return device_reached(c, r, k->a);
    case CAUSE_STRIP_DEAD:
        return r->inputs[c->strips[k->a].selected];
    default: /* what numbers the channels anew */
        return true;
    }
}
