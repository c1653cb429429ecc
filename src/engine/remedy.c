/* Searching for what would put a fault right: a free strip, a free port, settings that follow.
 *
 * What several changes of one fix do to each other is tried on a hypothesis, a copy of the circuit
 * in which the earlier ones are already made. */
#include <assert.h>
#include <string.h>

#include "base/mem.h"
#include "engine/rules.h"
#include "engine/usb.h"

bool pairs_share(struct pair a, struct pair b)
{
    if (a.left < 0 || b.left < 0)
        return false;
    return a.left == b.left || a.left == b.right || a.right == b.left || a.right == b.right;
}

bool pairs_equal(struct pair a, struct pair b)
{
    return a.left == b.left && (a.left < 0 || a.right == b.right);
}

bool strip_wanted(const struct circuit *c, int strip)
{
    for (size_t i = 0; i < c->n_decks; i++)
        if (c->decks[i].wants == strip)
            return true;
    return false;
}

int input_cables(const struct circuit *c, int input)
{
    int n = 0;
    for (size_t i = 0; i < c->n_cables; i++)
        n += c->cables[i].input == input;
    return n;
}

int output_cables(const struct circuit *c, int output)
{
    int n = 0;
    for (size_t i = 0; i < c->n_cables; i++)
        n += c->cables[i].output == output;
    return n;
}

const struct output *output_record(const struct circuit *c, int output)
{
    assert(output >= 0 && (size_t)output < c->n_outputs);
    int device = c->outputs[output].device, at = output;
    while (at > 0 && c->outputs[at - 1].device == device)
        at--;
    return &circuit_device(c, device)->outputs.v[output - at];
}

const struct input *input_record(const struct circuit *c, int input)
{
    assert(input >= 0 && (size_t)input < c->n_inputs);
    const struct circuit_input *in = &c->inputs[input];
    int at = input; /* the first input of the same owner */
    while (at > 0 && c->inputs[at - 1].device == in->device && c->inputs[at - 1].strip == in->strip)
        at--;
    const struct inputs *of = in->strip < 0 ? &circuit_device(c, in->device)->inputs
                                            : &circuit_strip(c, in->strip)->inputs;
    return &of->v[input - at];
}

bool input_could_take(const struct input *in, enum level level)
{
    for (size_t i = 0; i < in->levels.n; i++)
        if (in->levels.v[i] == (int)level)
            return true;
    return in->level == level;
}

/* --- other strips ----------------------------------------------------------------------------- */

/* Whether any deck but this one plays to a channel of the pair. */
static bool others_play(const struct circuit *c, int deck, struct pair pair)
{
    for (size_t i = 0; i < c->n_decks; i++)
        if ((int)i != deck && pairs_share(route_effective(c, (int)i), pair))
            return true;
    return false;
}

int free_strip_for(const struct circuit *c, int deck)
{
    for (size_t i = 0; i < c->n_strips; i++) {
        int strip = c->by_rank[i];
        if (circuit_strip(c, strip)->in_use || strip_wanted(c, strip))
            continue;
        struct route route = route_to(c, strip);
        if (route.there && !others_play(c, deck, route.pair))
            return strip;
    }
    return -1;
}

void fix_by_moving(struct fault *f, struct circuit *h, int deck, int strip)
{
    const char *id = h->booth->decks.v[deck].id;
    fault_fix(f, change_of(CHANGE_WANT, id, strip < 0 ? "" : circuit_strip(h, strip)->id));
    h->decks[deck].wants = strip;
    if (h->decks[deck].set_to.left < 0)
        return;
    struct route route = route_of(h, deck);
    struct change set = change_of(CHANGE_SET, id, "");
    set.pair = route.there ? route.pair : (struct pair){-1, -1};
    h->decks[deck].set_to = set.pair;
    fault_fix(f, set);
}

/* --- another order in the interface ----------------------------------------------------------- */

struct circuit *circuit_rejoined(const struct circuit *c, const int *joined, size_t n)
{
    struct circuit *h = circuit_copy(c);
    size_t cap = h->n_joined;
    h->joined = mem_grow(h->joined, &cap, n, sizeof *h->joined);
    for (size_t i = 0; i < h->n_devices; i++)
        h->devices[i].joined = -1;
    memcpy(h->joined, joined, n * sizeof *joined);
    h->n_joined = n;
    circuit_number_channels(h);
    return h;
}

void fix_settings(struct fault *f, const struct circuit *before, const struct circuit *after)
{
    for (size_t i = 0; i < before->n_decks; i++) {
        struct pair set = before->decks[i].set_to;
        struct route was = route_of(before, (int)i), is = route_of(after, (int)i);
        if (set.left < 0 || !was.there || !pairs_equal(set, was.pair))
            continue;
        struct change follow = change_of(CHANGE_SET, before->booth->decks.v[i].id, "");
        follow.pair = is.there ? is.pair : (struct pair){-1, -1};
        if (!pairs_equal(follow.pair, set))
            fault_fix(f, follow);
    }
}

void fix_by_leaving(struct fault *f, const struct circuit *c, int device)
{
    int joined[MAX_DEVICES];
    size_t n = 0;
    for (size_t i = 0; i < c->n_joined; i++)
        if (c->joined[i] != device)
            joined[n++] = c->joined[i];
    struct circuit *after = circuit_rejoined(c, joined, n);
    fault_fix(f, change_of(CHANGE_LEAVE, circuit_device(c, device)->id, ""));
    fix_settings(f, c, after);
    circuit_free(after);
}

/* --- free ports ------------------------------------------------------------------------------- */

static bool given_away(const struct changes *fix, const char *at, int port)
{
    for (size_t i = 0; i < fix->n; i++)
        if (fix->v[i].what == CHANGE_PLUG && strcmp(fix->v[i].b, at) == 0 &&
            fix->v[i].number == port)
            return true;
    return false;
}

/* Whether an earlier change of the same fix moves a hub that the way from at leads over. */
static bool moves_away(const struct booth *b, const struct changes *fix, const char *at)
{
    for (size_t i = 0; i < fix->n; i++)
        if (fix->v[i].what == CHANGE_PLUG && usb_leads_over(b, at, fix->v[i].a))
            return true;
    return false;
}

/* Plugs a thing into the first free port of at, if it can be fed there. */
static bool plug_into(const struct booth *b, struct fault *f, const char *thing, const char *at)
{
    const struct hub *hub = booth_hub(b, at);
    int ports = hub ? hub->ports : b->host.usb_ports;
    if (!usb_could_hang(b, thing, at) || moves_away(b, &f->fix, at))
        return false;
    for (int port = 1; port <= ports; port++) {
        if (usb_things_in(b, at, port) || given_away(&f->fix, at, port))
            continue;
        struct change plug = change_of(CHANGE_PLUG, thing, at);
        plug.number = port;
        fault_fix(f, plug);
        return true;
    }
    return false;
}

bool fix_by_plugging(const struct booth *b, struct fault *f, const char *thing)
{
    bool plugged = plug_into(b, f, thing, "host");
    for (size_t i = 0; i < b->hubs.n && !plugged; i++)
        plugged = plug_into(b, f, thing, b->hubs.v[i].id);
    return plugged;
}
