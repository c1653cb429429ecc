/* Compiling: the booth's lists become arrays of the same order, names become numbers.
 *
 * An odd card shifts every pair after it: so channels are counted by channels, not by cards. */
#include "engine/circuit.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"

static void count_things(struct circuit *c, const struct booth *b)
{
    c->n_devices = b->devices.n;
    c->n_cables = b->cables.n;
    c->n_decks = b->decks.n;
    c->n_joined = b->joined.n;
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        c->n_outputs += d->outputs.n;
        c->n_inputs += d->inputs.n;
        c->n_strips += d->strips.n;
        for (size_t k = 0; k < d->strips.n; k++)
            c->n_inputs += d->strips.v[k].inputs.n;
    }
}

static void make_room(struct circuit *c)
{
    c->devices = mem_new(c->n_devices, sizeof *c->devices);
    c->outputs = mem_new(c->n_outputs, sizeof *c->outputs);
    c->inputs = mem_new(c->n_inputs, sizeof *c->inputs);
    c->strips = mem_new(c->n_strips, sizeof *c->strips);
    c->cables = mem_new(c->n_cables, sizeof *c->cables);
    c->decks = mem_new(c->n_decks, sizeof *c->decks);
    c->joined = mem_new(c->n_joined, sizeof *c->joined);
    c->by_rank = mem_new(c->n_strips, sizeof *c->by_rank);
}

static void carry(int carries[2], const struct ints *channels)
{
    for (size_t i = 0; i < 2; i++)
        carries[i] = i < channels->n ? channels->v[i] : 0;
}

static void compile_inputs(struct circuit *c, size_t *at, int device, int strip)
{
    const struct device *d = circuit_device(c, device);
    const struct strip *s = strip < 0 ? NULL : circuit_strip(c, strip);
    const struct inputs *inputs = s ? &s->inputs : &d->inputs;
    for (size_t i = 0; i < inputs->n; i++, (*at)++) {
        const struct input *in = &inputs->v[i];
        struct circuit_input *out = &c->inputs[*at];
        *out = (struct circuit_input){.device = device,
                                      .strip = strip,
                                      .usb = in->level == LEVEL_USB,
                                      .ours = in->level == LEVEL_USB && input_is_ours(d, in),
                                      .digital = in->level == LEVEL_DIGITAL};
        if (out->ours)
            carry(out->carries, &in->channels);
        if (s && strcmp(in->id, s->selected) == 0)
            c->strips[strip].selected = (int)*at;
    }
}

static void compile_devices(struct circuit *c)
{
    size_t outputs = 0, inputs = 0;
    int strips = 0;
    for (size_t i = 0; i < c->n_devices; i++) {
        const struct device *d = &c->booth->devices.v[i];
        c->devices[i] = (struct circuit_device){.joined = booth_joined_at(c->booth, d->id),
                                                .channels = d->card ? d->card->out_channels : 0,
                                                .mixer = d->kind == KIND_MIXER,
                                                .plays = d->kind != KIND_PLAYER ||
                                                         d->source == SOURCE_COMPUTER};
        for (size_t k = 0; k < d->outputs.n; k++, outputs++) {
            c->outputs[outputs] = (struct circuit_output){
                .device = (int)i, .digital = d->outputs.v[k].level == LEVEL_DIGITAL};
            if (d->card)
                carry(c->outputs[outputs].carries, &d->outputs.v[k].channels);
        }
        compile_inputs(c, &inputs, (int)i, -1);
        for (size_t k = 0; k < d->strips.n; k++, strips++) {
            c->strips[strips].mixer = (int)i;
            compile_inputs(c, &inputs, (int)i, strips);
        }
    }
}

static int output_number(const struct circuit *c, const char *name)
{
    struct out_end end;
    int n = 0;
    if (!booth_output(c->booth, name, &end))
        return -1;
    for (const struct device *d = c->booth->devices.v; d < end.device; d++)
        n += (int)d->outputs.n;
    return n + (int)(end.output - end.device->outputs.v);
}

static int input_number(const struct circuit *c, const char *name)
{
    struct in_end end;
    if (!booth_input(c->booth, name, &end))
        return -1;
    int n = 0;
    for (const struct device *d = c->booth->devices.v;; d++) {
        if (d == end.device && !end.strip)
            return n + (int)(end.input - d->inputs.v);
        n += (int)d->inputs.n;
        for (size_t k = 0; k < d->strips.n; k++) {
            if (&d->strips.v[k] == end.strip)
                return n + (int)(end.input - end.strip->inputs.v);
            n += (int)d->strips.v[k].inputs.n;
        }
    }
}

/* Whether strip a stands left of strip b; equal places keep the file's order. */
static bool stands_left(const struct circuit *c, int a, int b)
{
    int pa = circuit_device(c, c->strips[a].mixer)->place;
    int pb = circuit_device(c, c->strips[b].mixer)->place;
    if (pa != pb)
        return pa < pb;
    if (c->strips[a].mixer != c->strips[b].mixer)
        return a < b;
    pa = circuit_strip(c, a)->place;
    pb = circuit_strip(c, b)->place;
    return pa != pb ? pa < pb : a < b;
}

static void rank_strips(struct circuit *c)
{
    for (size_t i = 0; i < c->n_strips; i++) {
        size_t at = i;
        for (; at > 0 && stands_left(c, (int)i, c->by_rank[at - 1]); at--)
            c->by_rank[at] = c->by_rank[at - 1];
        c->by_rank[at] = (int)i;
    }
    for (size_t i = 0; i < c->n_strips; i++)
        c->strips[c->by_rank[i]].rank = (int)i;
}

void circuit_number_channels(struct circuit *c)
{
    c->channels = 0;
    for (size_t i = 0; i < c->n_joined; i++) {
        struct circuit_device *d = &c->devices[c->joined[i]];
        d->joined = (int)i;
        d->first = c->channels;
        c->channels += d->channels;
    }
}

struct circuit *circuit_new(const struct booth *b)
{
    struct circuit *c = mem_new(1, sizeof *c);
    c->booth = b;
    count_things(c, b);
    make_room(c);
    compile_devices(c);
    rank_strips(c);
    for (size_t i = 0; i < b->cables.n; i++)
        c->cables[i] = (struct circuit_cable){output_number(c, b->cables.v[i].from),
                                              input_number(c, b->cables.v[i].to),
                                              b->cables.v[i].sides};
    for (size_t i = 0; i < b->decks.n; i++)
        c->decks[i] = (struct circuit_deck){circuit_find_strip(c, b->decks.v[i].wants),
                                            b->decks.v[i].set_to};
    for (size_t i = 0; i < b->joined.n; i++)
        c->joined[i] = circuit_find_device(c, b->joined.v[i]);
    circuit_number_channels(c);
    return c;
}

static void copy_arrays(struct circuit *copy, const struct circuit *c)
{
    memcpy(copy->devices, c->devices, c->n_devices * sizeof *c->devices);
    memcpy(copy->outputs, c->outputs, c->n_outputs * sizeof *c->outputs);
    memcpy(copy->inputs, c->inputs, c->n_inputs * sizeof *c->inputs);
    memcpy(copy->strips, c->strips, c->n_strips * sizeof *c->strips);
    memcpy(copy->cables, c->cables, c->n_cables * sizeof *c->cables);
    memcpy(copy->decks, c->decks, c->n_decks * sizeof *c->decks);
    memcpy(copy->joined, c->joined, c->n_joined * sizeof *c->joined);
    memcpy(copy->by_rank, c->by_rank, c->n_strips * sizeof *c->by_rank);
}

struct circuit *circuit_copy(const struct circuit *c)
{
    struct circuit *copy = mem_new(1, sizeof *copy);
    *copy = *c;
    make_room(copy);
    copy_arrays(copy, c);
    return copy;
}

void circuit_assign(struct circuit *copy, const struct circuit *c)
{
    assert(copy->booth == c->booth);
    copy->channels = c->channels;
    copy->n_joined = c->n_joined;
    copy->n_cables = c->n_cables;
    copy_arrays(copy, c);
}

void circuit_free(struct circuit *c)
{
    if (!c)
        return;
    mem_free(c->devices);
    mem_free(c->outputs);
    mem_free(c->inputs);
    mem_free(c->strips);
    mem_free(c->cables);
    mem_free(c->decks);
    mem_free(c->joined);
    mem_free(c->by_rank);
    mem_free(c);
}

int circuit_owner(const struct circuit *c, int channel, int *card_channel)
{
    for (size_t i = 0; i < c->n_joined; i++) {
        const struct circuit_device *d = &c->devices[c->joined[i]];
        if (channel < d->first || channel >= d->first + d->channels)
            continue;
        *card_channel = channel - d->first + 1;
        return c->joined[i];
    }
    return -1;
}

const struct device *circuit_device(const struct circuit *c, int device)
{
    assert(device >= 0 && (size_t)device < c->n_devices);
    return &c->booth->devices.v[device];
}

const struct strip *circuit_strip(const struct circuit *c, int strip)
{
    assert(strip >= 0 && (size_t)strip < c->n_strips);
    const struct device *d = c->booth->devices.v;
    for (; (size_t)strip >= d->strips.n; d++)
        strip -= (int)d->strips.n;
    return &d->strips.v[strip];
}

void circuit_output_name(const struct circuit *c, int output, char out[REF_SIZE])
{
    assert(output >= 0 && (size_t)output < c->n_outputs);
    const struct device *d = c->booth->devices.v;
    for (; (size_t)output >= d->outputs.n; d++)
        output -= (int)d->outputs.n;
    snprintf(out, REF_SIZE, "%s.%s", d->id, d->outputs.v[output].id);
}

void circuit_input_name(const struct circuit *c, int input, char out[REF_SIZE])
{
    assert(input >= 0 && (size_t)input < c->n_inputs);
    const struct circuit_input *in = &c->inputs[input];
    const struct strip *s = in->strip < 0 ? NULL : circuit_strip(c, in->strip);
    const struct device *d = circuit_device(c, in->device);
    int first = input; /* the first input of the same owner */
    while (first > 0 && c->inputs[first - 1].device == in->device &&
           c->inputs[first - 1].strip == in->strip)
        first--;
    const struct inputs *inputs = s ? &s->inputs : &d->inputs;
    snprintf(out, REF_SIZE, "%s.%s", s ? s->id : d->id, inputs->v[input - first].id);
}

int circuit_find_strip(const struct circuit *c, const char *id)
{
    for (size_t i = 0; i < c->n_strips; i++)
        if (strcmp(circuit_strip(c, (int)i)->id, id) == 0)
            return (int)i;
    return -1;
}

int circuit_find_device(const struct circuit *c, const char *id)
{
    for (size_t i = 0; i < c->n_devices; i++)
        if (strcmp(circuit_device(c, (int)i)->id, id) == 0)
            return (int)i;
    return -1;
}

bool circuit_reaches(const struct circuit *c, int device, int input)
{
    if (c->devices[device].joined < 0)
        return false;
    if (c->inputs[input].ours && c->inputs[input].device == device)
        return true;
    for (size_t i = 0; i < c->n_cables; i++)
        if (c->cables[i].input == input && c->outputs[c->cables[i].output].device == device)
            return true;
    return false;
}
