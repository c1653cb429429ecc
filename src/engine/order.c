/* Which steps a booth needs, kind by kind; what they say stands in order_says.c.
 *
 * The later steps may count on the earlier ones: so the pairs that decks are set to are those of
 * the booth as it will be, a copy of the circuit with the sources and selectors turned. */
#include "engine/order.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/heard.h"
#include "engine/order_says.h"
#include "engine/restore.h"
#include "engine/route.h"
#include "model/shape.h"

struct order {
    const struct circuit *now;
    struct circuit *then; /* with every source and selector turned that the steps turn */
    const struct booth *b;
    bool live;
    bool feeds[MAX_DEVICES];    /* the device is on the route of a deck */
    int concerned[MAX_DEVICES]; /* devices to connect: the joined in order, then what controls */
    size_t n_concerned;
    int channels; /* of the interface, as far as it has grown */
    struct steps steps;
};

/* A step of that id (which is taken), with its tick and note, still without words. */
static struct step *new_step(struct order *o, char *id, int channels)
{
    struct steps *s = &o->steps;
    s->v = mem_grow(s->v, &s->cap, s->n + 1, sizeof *s->v);
    struct step *step = &s->v[s->n++];
    step->id = id;
    step->expect_channels = channels;
    const struct entry *tick = map_find(&o->b->checklist, step->id);
    const struct entry *note = map_find(&o->b->step_notes, step->id);
    step->done = tick && tick->value && strcmp(tick->value, "done") == 0;
    step->note = note ? note->value : NULL;
    return step;
}

static void add_step(struct order *o, const char *kind, const char *id, enum telling what,
                     const struct about *about, int channels)
{
    struct str name = {0};
    str_addf(&name, "%s%s%s", kind, *id ? "-" : "", id);
    order_tell(o->then, what, about, new_step(o, str_take(&name), channels));
}

/* --- what must not be touched -------------------------------------------------------------------
 */

static bool has_used_strip(const struct device *d)
{
    for (size_t i = 0; i < d->strips.n; i++)
        if (d->strips.v[i].in_use)
            return true;
    return false;
}

/* Whether the way from a plug to the laptop leads over a hub. */
static bool leads_over(const struct booth *b, const struct plug *p, const char *hub)
{
    const struct hub *h = booth_hub(b, p->at);
    for (; h; h = booth_hub(b, h->plugged.at))
        if (strcmp(h->id, hub) == 0)
            return true;
    return false;
}

static bool carries_used(const struct booth *b, const char *hub)
{
    for (size_t i = 0; i < b->devices.n; i++)
        if (b->devices.v[i].in_use && leads_over(b, &b->devices.v[i].plugged, hub))
            return true;
    return false;
}

/* The strip in use that hears a device now, by a cable into its selected input; or NULL. */
static const struct strip *used_listener(const struct circuit *c, int device)
{
    for (size_t i = 0; i < c->n_cables; i++) {
        const struct circuit_cable *cable = &c->cables[i];
        int strip = c->inputs[cable->input].strip;
        if (c->outputs[cable->output].device != device || strip < 0 ||
            c->strips[strip].selected != cable->input)
            continue;
        if (circuit_strip(c, strip)->in_use)
            return circuit_strip(c, strip);
    }
    return NULL;
}

/* --- the booth as it will be -------------------------------------------------------------------
 */

/* The input that a strip will be switched to: the selected one if a joined device reaches it, else
 * the first that one does; -1 when none does. */
static int reached_input(const struct circuit *c, int strip)
{
    int first = -1;
    for (size_t i = 0; i < c->n_inputs; i++) {
        if (c->inputs[i].strip != strip)
            continue;
        for (size_t k = 0; k < c->n_joined; k++) {
            if (!circuit_reaches(c, c->joined[k], (int)i))
                continue;
            if ((int)i == c->strips[strip].selected)
                return (int)i;
            first = first < 0 ? (int)i : first;
        }
    }
    return first;
}

static bool is_wanted(const struct circuit *c, int strip)
{
    for (size_t i = 0; i < c->n_decks; i++)
        if (c->decks[i].wants == strip)
            return true;
    return false;
}

static void look_ahead(struct order *o)
{
    o->then = circuit_copy(o->now);
    for (size_t s = 0; s < o->now->n_strips; s++) {
        int input = is_wanted(o->now, (int)s) ? reached_input(o->now, (int)s) : -1;
        if (input >= 0 && !circuit_strip(o->now, (int)s)->in_use)
            o->then->strips[s].selected = input;
    }
    for (size_t i = 0; i < o->now->n_decks; i++) {
        struct route r = route_of(o->then, (int)i);
        if (r.there)
            o->feeds[r.device] = o->then->devices[r.device].plays = true;
    }
}

static void add_concerned(struct order *o, int device)
{
    for (size_t i = 0; i < o->n_concerned; i++)
        if (o->concerned[i] == device)
            return;
    if (!circuit_device(o->now, device)->in_use)
        o->concerned[o->n_concerned++] = device;
}

static void collect_concerned(struct order *o)
{
    for (size_t i = 0; i < o->now->n_joined; i++)
        add_concerned(o, o->now->joined[i]);
    for (size_t i = 0; i < o->b->decks.n; i++)
        if (*o->b->decks.v[i].controlled_by)
            add_concerned(o, circuit_find_device(o->now, o->b->decks.v[i].controlled_by));
}

static bool is_built_in(const struct device *d)
{
    return strcmp(d->plugged.at, "built-in") == 0;
}

static bool has_own_power(const struct device *d)
{
    return !d->usb || d->usb->self_powered;
}

/* --- before any data lead -----------------------------------------------------------------------
 */

/* Sources first, then mixers. */
static void add_power(struct order *o)
{
    for (int mixers = 0; mixers <= 1; mixers++)
        for (size_t i = 0; i < o->n_concerned; i++) {
            const struct device *d = circuit_device(o->now, o->concerned[i]);
            if ((d->kind == KIND_MIXER) != mixers || is_built_in(d) || has_used_strip(d))
                continue;
            add_step(o, "power", d->id, has_own_power(d) ? TELL_POWER : TELL_POWER_BY_LEAD,
                     &(struct about){.device = d}, -1);
        }
}

static void add_firmware(struct order *o)
{
    for (size_t i = 0; i < o->n_concerned; i++) {
        const struct device *d = circuit_device(o->now, o->concerned[i]);
        if (d->firmware_min)
            add_step(o, "firmware", d->id, TELL_FIRMWARE, &(struct about){.device = d}, -1);
    }
}

static void add_combining(struct order *o)
{
    const struct combination *saved = booth_combination(o->b);
    struct about about = {.combination = saved};
    if (o->b->host.combining == COMBINING_BY_DRIVER && o->b->joined.n > 0)
        add_step(o, "driver", "", TELL_DRIVER, &about, -1);
    if (o->b->host.combining == COMBINING_BY_HAND && o->b->joined.n > 1)
        add_step(o, "combination", "", saved ? TELL_COMBINATION_SAVED : TELL_COMBINATION_NEW,
                 &about, -1);
}

/* --- data leads ---------------------------------------------------------------------------------
 */

/* A device whose data lead goes into a port: turntables mostly have none. */
static bool has_lead(const struct device *d)
{
    return !is_built_in(d) && (d->kind != KIND_TURNTABLE || d->card || *d->plugged.at);
}

/* A hub after the one that it hangs on; none twice. */
static void add_hub(struct order *o, const char *id, bool added[MAX_HUBS])
{
    const struct hub *h = booth_hub(o->b, id);
    if (!h || added[h - o->b->hubs.v])
        return;
    added[h - o->b->hubs.v] = true;
    add_hub(o, h->plugged.at, added);
    if (!carries_used(o->b, h->id))
        add_step(o, "hub", h->id, h->self_powered ? TELL_HUB_SUPPLY : TELL_HUB,
                 &(struct about){.hub = h}, -1);
}

static void add_hubs(struct order *o)
{
    bool added[MAX_HUBS] = {false};
    for (size_t i = 0; i < o->n_concerned; i++) {
        const struct device *d = circuit_device(o->now, o->concerned[i]);
        if (has_lead(d))
            add_hub(o, d->plugged.at, added);
    }
}

static void add_join(struct order *o, int device)
{
    const struct device *d = circuit_device(o->now, device);
    bool by_hand = o->b->host.combining == COMBINING_BY_HAND && o->b->joined.n > 1;
    enum telling what = is_built_in(d) ? TELL_JOIN_BUILT_IN : by_hand ? TELL_JOIN_TICK : TELL_JOIN;
    o->channels += o->now->devices[device].channels;
    add_step(o, "join", d->id, what,
             &(struct about){
                 .device = d, .strip = used_listener(o->now, device), .channels = o->channels},
             o->channels);
}

static void add_plug(struct order *o, const struct device *d)
{
    bool alone = o->channels == 0;
    if (has_lead(d))
        add_step(o, "plug", d->id, alone ? TELL_PLUG_ALONE : TELL_PLUG,
                 &(struct about){.device = d, .channels = o->channels}, alone ? -1 : o->channels);
}

/* All that join, then what only controls. */
static void add_leads(struct order *o)
{
    for (int joined = 1; joined >= 0; joined--)
        for (size_t i = 0; i < o->n_concerned; i++) {
            int device = o->concerned[i];
            bool joins = o->now->devices[device].joined >= 0;
            if (joins && joined)
                add_join(o, device);
            else if (!joins && !joined)
                add_plug(o, circuit_device(o->now, device));
        }
}

static void add_interface(struct order *o)
{
    struct about about = {.channels = o->channels};
    if (o->channels == 0)
        return;
    if (o->b->joined.n == 1)
        about.device = circuit_device(o->now, o->now->joined[0]);
    add_step(o, "interface", "", TELL_INTERFACE, &about, o->channels);
}

/* --- sources, selectors, switches ---------------------------------------------------------------
 */

/* Whether the survey found it so. */
static bool was_found(const struct map *found, const char *key, const char *value)
{
    const struct entry *e = found ? map_find(found, key) : NULL;
    return e && e->value && strcmp(e->value, value) == 0;
}

static void add_sources(struct order *o)
{
    const char *computer = word_file(&words_source, SOURCE_COMPUTER);
    for (size_t i = 0; i < o->n_concerned; i++) {
        int device = o->concerned[i];
        const struct device *d = circuit_device(o->now, device);
        bool stands = d->source == SOURCE_COMPUTER &&
                      was_found(o->b->found ? &o->b->found->source : NULL, d->id, computer);
        if (d->kind != KIND_PLAYER || !o->feeds[device] || stands)
            continue;
        struct about about = {.device = d, .strip = used_listener(o->now, device)};
        add_step(o, "source", d->id, about.strip ? TELL_SOURCE_WAIT : TELL_SOURCE, &about, -1);
    }
}

static const struct input *input_at(const struct circuit *c, int input)
{
    char name[REF_SIZE];
    struct in_end end;
    circuit_input_name(c, input, name);
    bool there = booth_input(c->booth, name, &end);
    assert(there);
    return there ? end.input : NULL;
}

static void add_selector(struct order *o, int strip)
{
    const struct strip *s = circuit_strip(o->now, strip);
    const struct input *in = input_at(o->then, o->then->strips[strip].selected);
    bool stands = o->now->strips[strip].selected == o->then->strips[strip].selected &&
                  was_found(o->b->found ? &o->b->found->selected : NULL, s->id, in->id);
    if (!stands)
        add_step(o, "selector", s->id, TELL_SELECTOR, &(struct about){.strip = s, .input = in}, -1);
}

/* The switch of the input follows the output that feeds it. */
static void add_switch(struct order *o, int strip)
{
    const struct strip *s = circuit_strip(o->now, strip);
    struct route r = route_to(o->then, strip);
    char name[REF_SIZE];
    struct out_end out;
    if (!r.there || r.output < 0)
        return;
    circuit_output_name(o->then, r.output, name);
    const struct input *in = input_at(o->then, r.input);
    bool output = booth_output(o->b, name, &out), has = false;
    for (size_t i = 0; output && i < in->levels.n; i++)
        has = has || in->levels.v[i] == (int)out.output->level;
    if (!has)
        return;
    circuit_input_name(o->then, r.input, name);
    bool stands = in->level == out.output->level &&
                  was_found(o->b->found ? &o->b->found->level : NULL, name,
                            word_file(&words_level, (int)in->level));
    struct about about = {.strip = s, .input = in, .level = out.output->level};
    if (!stands)
        add_step(o, "switch", s->id, TELL_SWITCH, &about, -1);
}

/* From the left: the wanted strips that something reaches and nobody uses. */
static void add_for_strips(struct order *o, void (*add)(struct order *o, int strip))
{
    for (size_t i = 0; i < o->now->n_strips; i++) {
        int strip = o->now->by_rank[i];
        if (is_wanted(o->now, strip) && !circuit_strip(o->now, strip)->in_use &&
            reached_input(o->now, strip) >= 0)
            add(o, strip);
    }
}

/* --- decks --------------------------------------------------------------------------------------
 */

static void add_sets(struct order *o)
{
    for (size_t i = 0; i < o->b->decks.n; i++) {
        const struct deck *d = &o->b->decks.v[i];
        struct route r = route_of(o->then, (int)i);
        if (!r.there)
            continue;
        struct about about = {.decks = d->label,
                              .strip = circuit_strip(o->then, o->then->decks[i].wants),
                              .pair = r.pair};
        add_step(o, "set", d->id, TELL_SET, &about, -1);
    }
}

/* One step for each device that controls; it may be given several decks. */
static void add_control(struct order *o, const struct device *by)
{
    struct str decks = {0};
    for (size_t i = 0; i < o->b->decks.n; i++) {
        const struct deck *d = &o->b->decks.v[i];
        if (strcmp(d->controlled_by, by->id) == 0)
            str_addf(&decks, "%s%s", decks.len ? " and " : "", d->label);
    }
    bool record = by->kind == KIND_TURNTABLE;
    if (decks.len)
        add_step(o, "control", by->id, record ? TELL_CONTROL_RECORD : TELL_CONTROL,
                 &(struct about){.device = by, .decks = str_text(&decks)}, -1);
    str_clear(&decks);
}

static void add_controls(struct order *o)
{
    for (size_t i = 0; i < o->n_concerned; i++)
        add_control(o, circuit_device(o->now, o->concerned[i]));
}

/* The strip in use on which a deck would be heard, or NULL. */
static const struct strip *used_hearer(const struct order *o, int deck, struct pair pair)
{
    const struct strip *used = NULL;
    struct heard h = heard_deck(o->then, deck, pair);
    for (size_t i = 0; i < h.n && !used; i++)
        if (circuit_strip(o->then, h.v[i].strip)->in_use)
            used = circuit_strip(o->then, h.v[i].strip);
    heard_clear(&h);
    return used;
}

static void add_check(struct order *o, int deck, const struct route *r)
{
    const struct strip *wanted = circuit_strip(o->then, o->then->decks[deck].wants);
    const struct strip *used = wanted->in_use ? wanted : used_hearer(o, deck, r->pair);
    struct about about = {.device = circuit_device(o->then, r->device),
                          .decks = o->b->decks.v[deck].label,
                          .strip = used ? used : wanted,
                          .pair = r->pair};
    enum telling what = about.device->in_use ? TELL_CHECK_WAIT_DEVICE
                        : used               ? TELL_CHECK_WAIT
                        : o->live            ? TELL_CHECK_LIVE
                                             : TELL_CHECK_QUIET;
    add_step(o, "check", o->b->decks.v[deck].id, what, &about, -1);
}

static void add_checks(struct order *o)
{
    for (size_t i = 0; i < o->b->decks.n; i++) {
        struct route r = route_of(o->then, (int)i);
        if (r.there)
            add_check(o, (int)i, &r);
    }
}

/* After the night: what can be put back to how it was found. */
static void add_putting_back(struct order *o)
{
    struct restore r = restore_make(o->b);
    for (size_t i = 0; i < r.n; i++) {
        if (r.v[i].change.what == CHANGE_NONE)
            continue;
        struct step *step = new_step(o, mem_text(r.v[i].id), -1);
        step->text = mem_text(r.v[i].text);
        step->see = mem_text("it stands as it was found");
    }
    restore_clear(&r);
}

/* --- all of it ----------------------------------------------------------------------------------
 */

static void add_all(struct order *o)
{
    const struct about nothing = {0};
    add_step(o, "levels-down", "", o->live ? TELL_LEVELS_LIVE : TELL_LEVELS_QUIET, &nothing, -1);
    add_step(o, "laptop", "", TELL_LAPTOP, &nothing, -1);
    add_power(o);
    add_firmware(o);
    add_combining(o);
    add_hubs(o);
    add_leads(o);
    add_interface(o);
    add_sources(o);
    add_for_strips(o, add_selector);
    add_for_strips(o, add_switch);
    add_sets(o);
    add_controls(o);
    add_checks(o);
    add_step(o, "save", "", TELL_SAVE, &nothing, -1);
    add_putting_back(o);
}

struct steps steps_make(const struct circuit *c)
{
    struct order o = {.now = c, .b = c->booth, .live = booth_live(c->booth)};
    if (c->n_devices == 0 && c->n_decks == 0)
        return o.steps;
    look_ahead(&o);
    collect_concerned(&o);
    add_all(&o);
    circuit_free(o.then);
    return o.steps;
}

void steps_clear(struct steps *s)
{
    for (size_t i = 0; i < s->n; i++) {
        mem_free(s->v[i].id);
        mem_free(s->v[i].text);
        mem_free(s->v[i].see);
        mem_free(s->v[i].why);
    }
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
