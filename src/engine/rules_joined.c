/* The interface as a whole: whether its cards can be one, in which order they joined, at what rate
 * and by whose clock they run.
 *
 * Where a fix moves cards in the interface, the decks that were set to their routes follow. */
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "engine/rules.h"
#include "engine/timing.h"
#include "model/say.h"
#include "model/shape.h"

static const struct device *joined_device(const struct report *r, size_t i)
{
    return circuit_device(r->c, r->c->joined[i]);
}

/* --- one interface out of many cards ---------------------------------------------------------- */

/* Whether a by-driver host can combine two devices: families told, and the same. */
static bool same_family(const struct device *a, const struct device *b)
{
    return a == b || (a->family && b->family && strcmp(a->family, b->family) == 0);
}

/* Whether two devices can be in the interface together. */
static bool can_combine(const struct report *r, const struct device *a, const struct device *b)
{
    switch (r->b->host.combining) {
    case COMBINING_BY_HAND:
        return true;
    case COMBINING_BY_DRIVER:
        return same_family(a, b);
    default:
        return a == b;
    }
}

/* How many decks' routes lead through what can be combined with this device. */
static size_t routes_through(const struct report *r, const struct device *d)
{
    size_t n = 0;
    for (size_t i = 0; i < r->c->n_decks; i++) {
        struct route route = route_of(r->c, (int)i);
        n += route.there && can_combine(r, circuit_device(r->c, route.device), d);
    }
    return n;
}

/* The device whose kin stay: the one that most routes lead through, the first of equals. */
static const struct device *staying(const struct report *r)
{
    const struct device *best = joined_device(r, 0);
    for (size_t i = 1; i < r->c->n_joined; i++)
        if (routes_through(r, joined_device(r, i)) > routes_through(r, best))
            best = joined_device(r, i);
    return best;
}

/* Those that do not fit leave. */
static void fix_by_parting(const struct report *r, struct fault *f)
{
    const struct device *stays = staying(r);
    int joined[MAX_DEVICES];
    size_t n = 0;
    for (size_t i = 0; i < r->c->n_joined; i++)
        if (can_combine(r, joined_device(r, i), stays))
            joined[n++] = r->c->joined[i];
        else
            fault_fix(f, change_of(CHANGE_LEAVE, joined_device(r, i)->id, ""));
    struct circuit *after = circuit_rejoined(r->c, joined, n);
    fix_settings(f, r->c, after);
    circuit_free(after);
}

static void say_families(const struct report *r, struct str *out)
{
    for (size_t i = 0; i < r->c->n_joined; i++) {
        const struct device *d = joined_device(r, i);
        say_next(i, r->c->n_joined, out);
        str_addf(out, "%s is %s", d->label, d->family ? d->family : "of no family told");
    }
}

void find_cannot_combine(struct report *r)
{
    bool fits = true;
    for (size_t i = 1; i < r->c->n_joined; i++)
        fits = fits && can_combine(r, joined_device(r, 0), joined_device(r, i));
    if (fits)
        return;
    struct str text = {0};
    if (r->b->host.combining == COMBINING_BY_DRIVER) {
        str_add(&text, "the driver combines cards of one family only, but ");
        say_families(r, &text);
    } else {
        str_add(&text, "the laptop cannot combine ");
        say_joined(r, &text);
        str_add(&text, " into one interface");
    }
    struct fault *f = report_fault(r, &text);
    fault_on_joined(r, f);
    fix_by_parting(r, f);
}

void find_device_in_use(struct report *r)
{
    for (size_t i = 0; i < r->c->n_devices; i++) {
        const struct device *d = circuit_device(r->c, (int)i);
        if (r->c->devices[i].joined < 0 || !d->in_use)
            continue;
        struct str text = {0};
        str_addf(&text, "%s is in the interface, but in use by %s", d->label, d->in_use);
        struct fault *f = report_fault(r, &text);
        fault_on(f, d->id);
        fix_by_leaving(f, r->c, (int)i);
    }
}

/* --- order ------------------------------------------------------------------------------------ */

/* The joined players in joining order. */
static size_t list_players(const struct report *r, const struct device *players[MAX_DEVICES])
{
    size_t n = 0;
    for (size_t i = 0; i < r->c->n_joined; i++)
        if (joined_device(r, i)->kind == KIND_PLAYER)
            players[n++] = joined_device(r, i);
    return n;
}

static bool places_ascend(const struct device **players, size_t n)
{
    for (size_t i = 1; i < n; i++)
        if (players[i]->place <= players[i - 1]->place)
            return false;
    return true;
}

/* Two players of one place, or NULL. */
static const struct device *place_shared(const struct device **players, size_t n,
                                         const struct device **with)
{
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++)
            if (players[i]->place == players[k]->place) {
                *with = players[k];
                return players[i];
            }
    return NULL;
}

/* The players by their places; whatever else is joined keeps its position. */
static void fix_by_ordering(const struct report *r, struct fault *f)
{
    int joined[MAX_DEVICES];
    for (size_t i = 0; i < r->c->n_joined; i++)
        joined[i] = r->c->joined[i];
    for (size_t i = 0; i < r->c->n_joined; i++)
        for (size_t k = i + 1; k < r->c->n_joined; k++) {
            const struct device *x = circuit_device(r->c, joined[i]);
            const struct device *y = circuit_device(r->c, joined[k]);
            if (x->kind != KIND_PLAYER || y->kind != KIND_PLAYER || x->place <= y->place)
                continue;
            int later = joined[i];
            joined[i] = joined[k];
            joined[k] = later;
        }
    struct circuit *after = circuit_rejoined(r->c, joined, r->c->n_joined);
    fault_fix(f, change_of(CHANGE_ORDER, "", ""));
    fix_settings(f, r->c, after);
    circuit_free(after);
}

void find_order_against_place(struct report *r)
{
    const struct device *players[MAX_DEVICES], *with = NULL;
    size_t n = list_players(r, players);
    if (places_ascend(players, n))
        return;
    const struct device *shares = place_shared(players, n, &with);
    struct str text = {0};
    if (shares) {
        str_addf(&text,
                 "%s and %s are told to stand in the same place, so nobody can join them "
                 "from the left",
                 shares->label, with->label);
    } else {
        str_add(&text, "the players joined in the order ");
        for (size_t i = 0; i < n; i++)
            str_addf(&text, "%s%s", i ? ", " : "", players[i]->label);
        str_add(&text, ", which is not how they stand from the left");
    }
    struct fault *f = report_fault(r, &text);
    fault_on_joined(r, f);
    fault_advise(f, "look where the players stand, and give each a place of its own");
    if (!shares)
        fix_by_ordering(r, f);
}

/* It leaves and joins again as the last. */
static void fix_by_joining_last(const struct report *r, struct fault *f, int device)
{
    int joined[MAX_DEVICES];
    size_t n = 0;
    for (size_t i = 0; i < r->c->n_joined; i++)
        if (r->c->joined[i] != device)
            joined[n++] = r->c->joined[i];
    joined[n++] = device;
    struct circuit *after = circuit_rejoined(r->c, joined, n);
    struct change join = change_of(CHANGE_JOIN, circuit_device(r->c, device)->id, "");
    join.number = -1;
    fault_fix(f, join);
    fix_settings(f, r->c, after);
    circuit_free(after);
}

void find_odd_card(struct report *r)
{
    for (size_t i = 0; i < r->c->n_devices; i++) {
        const struct circuit_device *d = &r->c->devices[i];
        if (d->joined < 0 || d->channels % 2 == 0 || (size_t)d->joined + 1 == r->c->n_joined)
            continue;
        struct str text = {0};
        str_addf(&text,
                 "%s brings an odd number (%d) into the interface, so every pair after it "
                 "is shifted by one",
                 device_label(r, (int)i), d->channels);
        struct fault *f = report_fault(r, &text);
        fault_on(f, circuit_device(r->c, (int)i)->id);
        fix_by_joining_last(r, f, (int)i);
    }
}

/* --- rates, clocks, buffers ------------------------------------------------------------------- */

/* The host takes the nearest of the common rates; the lower of two equally near. */
static void fix_by_rate(const struct report *r, struct fault *f, const struct ints *common)
{
    int wanted = r->b->host.rate_hz;
    struct change rate = change_of(CHANGE_RATE, "", "");
    for (size_t i = 0; i < common->n; i++)
        if (i == 0 || abs(common->v[i] - wanted) < abs(rate.number - wanted))
            rate.number = common->v[i];
    if (common->n)
        fault_fix(f, rate);
    else
        fault_advise(f, "leave one of them out of the interface, or take another way into the "
                        "mixer");
}

static void no_common_rate(struct report *r, int device, const struct ints *common)
{
    struct str text = {0};
    str_addf(&text, "%s cannot run at ", device_label(r, device));
    say_rate(r->b->host.rate_hz, &text);
    str_add(&text, common->n ? "; all in the interface can run at "
                             : ", and no one rate suits all in the interface");
    for (size_t i = 0; i < common->n; i++) {
        say_next(i, common->n, &text);
        say_rate(common->v[i], &text);
    }
    struct fault *f = report_fault(r, &text);
    fault_on(f, circuit_device(r->c, device)->id);
    fix_by_rate(r, f, common);
}

void find_no_common_rate(struct report *r)
{
    if (r->c->n_joined == 0)
        return;
    struct ints common = timing_common_rates(r->b);
    for (size_t i = 0; i < r->c->n_devices; i++)
        if (r->c->devices[i].joined >= 0 &&
            !card_runs_at(circuit_device(r->c, (int)i)->card, r->b->host.rate_hz))
            no_common_rate(r, (int)i, &common);
    mem_free(common.v);
}

void find_free_running_clocks(struct report *r)
{
    if (!timing_runs_free(r->b))
        return;
    struct str text = {0};
    say_joined(r, &text);
    str_add(&text, " each run on a clock of their own: ");
    timing_say_slips(timing_slips(r->b->host.rate_hz, timing_worst_ppm(r->b)), &text);
    struct fault *f = report_fault(r, &text);
    fault_on_joined(r, f);
    struct change drift = change_of(CHANGE_DRIFT, "", "");
    drift.number = 1;
    fault_fix(f, drift);
}

void find_long_latency(struct report *r)
{
    const struct host *h = &r->b->host;
    if (!timing_latency_over(h))
        return;
    struct str text = {0}, advice = {0};
    long long hundredths = timing_latency_hundredths(h);
    str_addf(&text, "the laptop's buffer of %d frames takes %lld.%02lld ms, more than %d ms",
             h->buffer_frames, hundredths / 100, hundredths % 100, h->latency_limit_ms);
    struct fault *f = report_fault(r, &text);
    fault_on(f, "host");
    str_addf(&advice, "set a buffer of at most %lld frames", timing_most_frames(h));
    fault_advise(f, str_text(&advice));
    str_clear(&advice);
}

/* --- worth knowing ---------------------------------------------------------------------------- */

static bool all_models_told(const struct report *r)
{
    for (size_t i = 0; i < r->c->n_joined; i++)
        if (!joined_device(r, i)->model)
            return false;
    return true;
}

void find_new_combination(struct report *r)
{
    const struct host *h = &r->b->host;
    if (r->c->n_joined < 2 || h->combining != COMBINING_BY_HAND || booth_combination(r->b))
        return;
    struct str text = {0};
    str_add(&text, "the laptop has no saved combination of exactly ");
    for (size_t i = 0; i < r->c->n_joined; i++) {
        const char *model = joined_device(r, i)->model;
        str_addf(&text, "%s%s", i ? ", " : "", model ? model : joined_device(r, i)->label);
    }
    str_add(&text, " in this order");
    struct fault *f = report_fault(r, &text);
    fault_on_joined(r, f);
    fault_advise(f, "write down each device's model, then make a new combination");
    if (all_models_told(r))
        fault_fix(f, change_of(CHANGE_COMBINE, "", ""));
}

/* Whether any deck plays to a channel of a joined device. */
static bool played_to(const struct report *r, int device)
{
    int first = r->c->devices[device].first, end = first + r->c->devices[device].channels;
    for (size_t i = 0; i < r->c->n_decks; i++) {
        struct pair p = route_effective(r->c, (int)i);
        if ((p.left >= first && p.left < end) || (p.right >= first && p.right < end))
            return true;
    }
    return false;
}

/* Whether a cable leads from a device to any input of a wanted strip: it may be of use once the
 * strip is put right. */
static bool leads_to_wanted(const struct report *r, int device)
{
    for (size_t i = 0; i < r->c->n_cables; i++) {
        int strip = r->c->inputs[r->c->cables[i].input].strip;
        if (r->c->outputs[r->c->cables[i].output].device == device && strip >= 0 &&
            strip_wanted(r->c, strip))
            return true;
    }
    return false;
}

void find_idle_player(struct report *r)
{
    for (size_t i = 0; i < r->c->n_devices; i++) {
        const struct device *d = circuit_device(r->c, (int)i);
        if (d->kind != KIND_PLAYER || r->c->devices[i].joined < 0 || played_to(r, (int)i))
            continue;
        struct str text = {0};
        str_addf(&text, "%s is in the interface, but no host deck plays to it", d->label);
        struct fault *f = report_fault(r, &text);
        fault_on(f, d->id);
        if (!leads_to_wanted(r, (int)i))
            fix_by_leaving(f, r->c, (int)i);
    }
}
