/* From the wanted strip back to the channels of the interface. */
#include "engine/route.h"

#include "model/say.h"
#include "model/shape.h"

static struct pair pair_at(int first, const int carries[2])
{
    int left = first + carries[0] - 1;
    return (struct pair){left, carries[1] ? first + carries[1] - 1 : left};
}

static struct route by_usb(const struct circuit *c, int input)
{
    const struct circuit_input *in = &c->inputs[input];
    const struct circuit_device *mixer = &c->devices[in->device];
    if (!in->ours || mixer->joined < 0)
        return (struct route){.there = false};
    return (struct route){.there = true,
                          .pair = pair_at(mixer->first, in->carries),
                          .device = in->device,
                          .output = -1,
                          .input = input};
}

static struct route by_cable(const struct circuit *c, int input)
{
    const struct circuit_cable *best = NULL;
    int earliest = 0;
    for (size_t i = 0; i < c->n_cables; i++) {
        const struct circuit_cable *cable = &c->cables[i];
        int joined = c->devices[c->outputs[cable->output].device].joined;
        if (cable->input != input || joined < 0 || (best && joined >= earliest))
            continue;
        best = cable;
        earliest = joined;
    }
    if (!best)
        return (struct route){.there = false};
    const struct circuit_output *out = &c->outputs[best->output];
    return (struct route){.there = true,
                          .pair = pair_at(c->devices[out->device].first, out->carries),
                          .device = out->device,
                          .output = best->output,
                          .input = input};
}

struct route route_to(const struct circuit *c, int strip)
{
    int input = c->strips[strip].selected;
    return c->inputs[input].usb ? by_usb(c, input) : by_cable(c, input);
}

struct route route_of(const struct circuit *c, int deck)
{
    int strip = c->decks[deck].wants;
    return strip < 0 ? (struct route){.there = false} : route_to(c, strip);
}

struct pair route_effective(const struct circuit *c, int deck)
{
    if (c->decks[deck].set_to.left >= 0)
        return c->decks[deck].set_to;
    struct route r = route_of(c, deck);
    return r.there ? r.pair : (struct pair){-1, -1};
}

void route_path(const struct circuit *c, int deck, const struct route *r, struct texts *path)
{
    char name[REF_SIZE];
    if (!r->there)
        return;
    texts_add(path, c->booth->decks.v[deck].id);
    if (r->output < 0) {
        texts_add(path, circuit_device(c, r->device)->id);
    } else {
        circuit_output_name(c, r->output, name);
        texts_add(path, name);
    }
    circuit_input_name(c, r->input, name);
    texts_add(path, name);
    texts_add(path, circuit_strip(c, c->decks[deck].wants)->id);
}

static struct card_channel owner_of(const struct circuit *c, int channel)
{
    int number = 0, device = circuit_owner(c, channel, &number);
    return (struct card_channel){device < 0 ? NULL : circuit_device(c, device), number};
}

void route_show(const struct circuit *c, struct pair p, struct str *out)
{
    struct card_channel of[2] = {owner_of(c, p.left), owner_of(c, p.right)};
    say_pair_of(c->booth->host.channel_names, p, of, out);
}
