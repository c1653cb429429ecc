/* What a host deck plays through, as what can fail: from its card to its strip. */
#include <stdio.h>
#include <string.h>

#include "engine/failures_parts.h"
#include "engine/route.h"
#include "model/shape.h"

/* The hubs on a lead's way to the laptop. */
static void add_hubs(const struct booth *b, const struct plug *p, struct texts *out)
{
    for (const struct hub *h = booth_hub(b, p->at); h; h = booth_hub(b, h->plugged.at))
        texts_add(out, h->id);
}

static void add_card(const struct booth *b, const struct device *d, struct texts *out)
{
    char lead[2 * REF_SIZE];
    snprintf(lead, sizeof lead, "lead-%s", d->id);
    texts_add(out, d->id);
    texts_add(out, lead);
    add_hubs(b, &d->plugged, out);
}

static void add_cable(const struct circuit *c, const struct route *r, struct texts *out)
{
    char from[REF_SIZE], to[REF_SIZE], cable[2 * REF_SIZE];
    circuit_output_name(c, r->output, from);
    circuit_input_name(c, r->input, to);
    snprintf(cable, sizeof cable, "%s>%s", from, to);
    texts_add(out, cable);
}

void deck_plays_through(const struct booth *b, int deck, struct texts *out)
{
    struct circuit *c = circuit_new(b);
    struct route r = route_of(c, deck);
    if (r.there)
        add_card(b, circuit_device(c, r.device), out);
    if (r.there && r.output >= 0)
        add_cable(c, &r, out);
    if (*b->decks.v[deck].wants)
        texts_add(out, b->decks.v[deck].wants);
    circuit_free(c);
}
