/* Why a wanted strip has no sound: the way from the interface to the ear, taken apart.
 *
 *   interface --(joined?)--> player --(source?)--> cable --> input --(selector?)--> strip
 *
 * For each deck that wants a strip, the first break in a fixed order is told, or none. */
#include <string.h>

#include "engine/rules.h"

enum break_kind { WHOLE, OWN_MEDIA, SELECTOR_ELSEWHERE, NOT_JOINED, UNWIRED };

struct passage {
    enum break_kind breaks;
    int device; /* that is on its own media, or not joined */
    int input;  /* that is reached instead of the selected one */
};

static bool reached(const struct circuit *c, int input)
{
    for (size_t i = 0; i < c->n_joined; i++)
        if (circuit_reaches(c, c->joined[i], input))
            return true;
    return false;
}

/* The first other input of a strip that is reached, or -1. */
static int reached_instead(const struct circuit *c, int strip)
{
    for (size_t i = 0; i < c->n_inputs; i++)
        if (c->inputs[i].strip == strip && c->strips[strip].selected != (int)i &&
            reached(c, (int)i))
            return (int)i;
    return -1;
}

/* The first device with a card that feeds an input, or -1. */
static int feeder(const struct circuit *c, int input)
{
    if (c->inputs[input].ours)
        return c->inputs[input].device;
    for (size_t i = 0; i < c->n_cables; i++) {
        int device = c->outputs[c->cables[i].output].device;
        if (c->cables[i].input == input && c->devices[device].channels > 0)
            return device;
    }
    return -1;
}

static struct passage way_to(const struct circuit *c, int strip)
{
    struct route route = route_to(c, strip);
    if (route.there)
        return (struct passage){c->devices[route.device].plays ? WHOLE : OWN_MEDIA, route.device,
                                -1};
    int instead = reached_instead(c, strip);
    if (instead >= 0)
        return (struct passage){SELECTOR_ELSEWHERE, -1, instead};
    int device = feeder(c, c->strips[strip].selected);
    return (struct passage){device >= 0 ? NOT_JOINED : UNWIRED, device, -1};
}

/* The next deck from *deck on whose way has this break; false past the last. */
static bool next_broken(const struct circuit *c, enum break_kind kind, int *deck,
                        struct passage *way)
{
    for (; (size_t)*deck < c->n_decks; ++*deck) {
        int strip = c->decks[*deck].wants;
        if (strip < 0)
            continue;
        *way = way_to(c, strip);
        if (way->breaks == kind)
            return true;
    }
    return false;
}

/* Appends "H4 wants strip 4". */
static void say_wish(const struct report *r, int deck, struct str *out)
{
    str_addf(out, "%s wants ", deck_label(r, deck));
    say_strip(r, r->c->decks[deck].wants, out);
}

/* A finding about a deck and its strip's way; the deck stands first. */
static struct fault *break_found(struct report *r, int deck, struct str *text)
{
    struct fault *f = report_fault(r, text);
    fault_on(f, r->b->decks.v[deck].id);
    return f;
}

void find_own_media(struct report *r)
{
    struct passage way;
    for (int deck = 0; next_broken(r->c, OWN_MEDIA, &deck, &way); deck++) {
        const char *player = circuit_device(r->c, way.device)->id;
        struct str text = {0};
        say_wish(r, deck, &text);
        str_addf(&text, " through %s, but %s is on its own media", device_label(r, way.device),
                 device_label(r, way.device));
        struct fault *f = break_found(r, deck, &text);
        fault_on(f, player);
        struct change source = change_of(CHANGE_SOURCE, player, "");
        source.number = SOURCE_COMPUTER;
        fault_fix(f, source);
    }
}

void find_selector_elsewhere(struct report *r)
{
    struct passage way;
    for (int deck = 0; next_broken(r->c, SELECTOR_ELSEWHERE, &deck, &way); deck++) {
        const struct strip *s = circuit_strip(r->c, r->c->decks[deck].wants);
        const char *input = input_record(r->c, way.input)->id;
        char jack[REF_SIZE];
        struct str text = {0};
        say_wish(r, deck, &text);
        str_addf(&text, ", but its selector stands on %s, not on %s", s->selected, input);
        struct fault *f = break_found(r, deck, &text);
        circuit_input_name(r->c, way.input, jack);
        fault_on(f, s->id);
        fault_on(f, jack);
        fault_fix(f, change_of(CHANGE_SELECT, s->id, input));
    }
}

/* Where a device joins: last once any deck is set (then nothing that is set moves), and else, if
 * it is a player, before the first player that stands further right. */
static int joining_position(const struct circuit *c, int device)
{
    const struct device *d = circuit_device(c, device);
    for (size_t i = 0; i < c->n_decks; i++)
        if (c->decks[i].set_to.left >= 0)
            return -1;
    for (size_t i = 0; i < c->n_joined && d->kind == KIND_PLAYER; i++) {
        const struct device *other = circuit_device(c, c->joined[i]);
        if (other->kind == KIND_PLAYER && other->place > d->place)
            return (int)i;
    }
    return -1;
}

void find_not_joined(struct report *r)
{
    struct passage way;
    for (int deck = 0; next_broken(r->c, NOT_JOINED, &deck, &way); deck++) {
        const char *device = circuit_device(r->c, way.device)->id;
        struct str text = {0};
        say_wish(r, deck, &text);
        str_addf(&text, ", but %s, which feeds it, is not in the interface",
                 device_label(r, way.device));
        struct fault *f = break_found(r, deck, &text);
        fault_on(f, circuit_strip(r->c, r->c->decks[deck].wants)->id);
        fault_on(f, device);
        struct change join = change_of(CHANGE_JOIN, device, "");
        join.number = joining_position(r->c, way.device);
        fault_fix(f, join);
    }
}

/* --- a cable for an unwired strip ------------------------------------------------------------- */

/* The channels of the interface that an output of a joined device carries. */
static struct pair output_pair(const struct circuit *c, int output)
{
    const struct circuit_output *o = &c->outputs[output];
    int first = c->devices[o->device].first - 1;
    return (struct pair){first + o->carries[0], first + o->carries[o->carries[1] ? 1 : 0]};
}

/* Where a deck belongs, whatever it is set to; one without a route may be heard where it is set. */
static struct pair deck_belongs(const struct circuit *c, int deck)
{
    struct route route = route_of(c, deck);
    return route.there ? route.pair : c->decks[deck].set_to;
}

/* Whether a joined device's output has no cable, nobody uses the device, and no other deck belongs
 * on its channels. */
static bool output_is_idle(const struct circuit *c, int deck, int output)
{
    if (output_cables(c, output) || circuit_device(c, c->outputs[output].device)->in_use)
        return false;
    for (int i = 0; i < (int)c->n_decks; i++)
        if (i != deck && pairs_share(deck_belongs(c, i), output_pair(c, output)))
            return false;
    return true;
}

static bool input_is_free_for(const struct circuit *c, int input, int output)
{
    return !c->inputs[input].usb && input_cables(c, input) == 0 &&
           input_could_take(input_record(c, input), output_record(c, output)->level);
}

/* The input of a strip for an output: the selected one if it is free and fits, else the first that
 * does, else -1. */
static int input_for(const struct circuit *c, int strip, int output)
{
    int selected = c->strips[strip].selected;
    if (input_is_free_for(c, selected, output))
        return selected;
    for (size_t i = 0; i < c->n_inputs; i++)
        if (c->inputs[i].strip == strip && input_is_free_for(c, (int)i, output))
            return (int)i;
    return -1;
}

static void wire(const struct circuit *c, struct fault *f, int output, int input)
{
    char from[REF_SIZE], to[REF_SIZE];
    int strip = c->inputs[input].strip;
    circuit_output_name(c, output, from);
    circuit_input_name(c, input, to);
    struct change cable = change_of(CHANGE_CABLE, from, to);
    cable.number = SIDES_STRAIGHT;
    fault_fix(f, cable);
    if (input_record(c, input)->level != output_record(c, output)->level) {
        struct change turn = change_of(CHANGE_SWITCH, to, "");
        turn.number = (int)output_record(c, output)->level;
        fault_fix(f, turn);
    }
    if (c->strips[strip].selected != input)
        fault_fix(
            f, change_of(CHANGE_SELECT, circuit_strip(c, strip)->id, input_record(c, input)->id));
}

/* The output to wire to the strip that a deck wants: the one that the deck is set to, as when its
 * plug was pulled, else the first in the order of joining that is idle and fits; or -1. */
static int output_for(const struct circuit *c, int deck)
{
    int first = -1;
    for (size_t i = 0; i < c->n_joined; i++)
        for (int k = 0; k < (int)c->n_outputs; k++) {
            if (c->outputs[k].device != c->joined[i] || !output_is_idle(c, deck, k) ||
                input_for(c, c->decks[deck].wants, k) < 0)
                continue;
            if (pairs_equal(c->decks[deck].set_to, output_pair(c, k)))
                return k;
            first = first < 0 ? k : first;
        }
    return first;
}

void find_unwired_strip(struct report *r)
{
    struct passage way;
    for (int deck = 0; next_broken(r->c, UNWIRED, &deck, &way); deck++) {
        int strip = r->c->decks[deck].wants;
        struct str text = {0};
        say_wish(r, deck, &text);
        str_add(&text, ", but nothing in the interface is wired to it");
        struct fault *f = break_found(r, deck, &text);
        fault_on(f, circuit_strip(r->c, strip)->id);
        fault_advise(f, "lead a device with a sound card into it, or let the deck want another "
                        "strip");
        int output = output_for(r->c, deck);
        if (output >= 0)
            wire(r->c, f, output, input_for(r->c, strip, output));
    }
}
