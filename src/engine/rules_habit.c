/* What is heard today and bites later: what others use, what controls what, old firmware, decks
 * without a strip. */
#include <string.h>

#include "base/mem.h"
#include "engine/rules.h"

static struct fault *deck_fault(struct report *r, int deck, struct str *text)
{
    struct fault *f = report_fault(r, text);
    fault_on(f, r->b->decks.v[deck].id);
    return f;
}

/* Lets a deck want the first strip that is free and has a route, if there is one. */
static void fix_by_free_strip(const struct report *r, struct fault *f, int deck)
{
    int strip = free_strip_for(r->c, deck);
    if (strip < 0)
        return;
    struct circuit *h = circuit_copy(r->c);
    fix_by_moving(f, h, deck, strip);
    circuit_free(h);
}

void find_strip_in_use(struct report *r)
{
    for (size_t i = 0; i < r->c->n_decks; i++) {
        int strip = r->c->decks[i].wants;
        const struct strip *s = strip < 0 ? NULL : circuit_strip(r->c, strip);
        if (!s || !s->in_use)
            continue;
        struct str text = {0}, advice = {0};
        str_addf(&text, "%s wants ", deck_label(r, (int)i));
        say_strip(r, strip, &text);
        str_addf(&text, ", but it is in use by %s", s->in_use);
        str_add(&advice, "ask when ");
        say_strip(r, strip, &advice);
        str_addf(&advice, " will be free: it is in use by %s", s->in_use);
        struct fault *f = deck_fault(r, (int)i, &text);
        fault_on(f, s->id);
        fault_advise(f, str_text(&advice));
        fix_by_free_strip(r, f, (int)i);
        str_clear(&advice);
    }
}

/* --- control ---------------------------------------------------------------------------------- */

/* Whether data can come from a device: not a player or controller without a lead, nor a player on
 * its own media. */
static bool has_lead(const struct device *d)
{
    return (d->kind != KIND_PLAYER && d->kind != KIND_CONTROLLER) || *d->plugged.at;
}

static bool listens(const struct device *d)
{
    return d->kind != KIND_PLAYER || d->source == SOURCE_COMPUTER;
}

static void fix_control(const struct report *r, struct fault *f, const struct device *d)
{
    if (!has_lead(d) && !fix_by_plugging(r->b, f, d->id)) {
        fault_advise(f, "free a port for its data lead, or add a hub");
        return;
    }
    if (listens(d))
        return;
    struct change source = change_of(CHANGE_SOURCE, d->id, "");
    source.number = SOURCE_COMPUTER;
    fault_fix(f, source);
}

void find_no_control(struct report *r)
{
    for (size_t i = 0; i < r->c->n_decks; i++) {
        const struct device *d = booth_device(r->b, r->b->decks.v[i].controlled_by);
        if (!d || (has_lead(d) && listens(d)))
            continue;
        struct str text = {0};
        str_addf(&text, "%s controls %s, but it is %s%s%s", d->label, deck_label(r, (int)i),
                 has_lead(d) ? "" : "plugged in nowhere", has_lead(d) || listens(d) ? "" : " and ",
                 listens(d) ? "" : "on its own media");
        struct fault *f = deck_fault(r, (int)i, &text);
        fault_on(f, d->id);
        fix_control(r, f, d);
    }
}

/* The player that a deck's route leads through, or NULL. */
static const struct device *route_player(const struct report *r, int deck)
{
    struct route route = route_of(r->c, deck);
    const struct device *d = route.there ? circuit_device(r->c, route.device) : NULL;
    return d && d->kind == KIND_PLAYER ? d : NULL;
}

/* The player that controls a deck, or NULL. */
static const struct device *control_player(const struct report *r, int deck)
{
    const struct device *d = booth_device(r->b, r->b->decks.v[deck].controlled_by);
    return d && d->kind == KIND_PLAYER ? d : NULL;
}

void find_crossed_control(struct report *r)
{
    for (size_t i = 0; i < r->c->n_decks; i++) {
        const struct device *by = control_player(r, (int)i), *through = route_player(r, (int)i);
        if (!by || !through || by == through)
            continue;
        struct str text = {0};
        str_addf(&text, "%s controls %s, but %s comes out through %s", by->label,
                 deck_label(r, (int)i), deck_label(r, (int)i), through->label);
        struct fault *f = deck_fault(r, (int)i, &text);
        fault_on(f, by->id);
        fault_on(f, through->id);
        fault_fix(f, change_of(CHANGE_CONTROL, r->b->decks.v[i].id, through->id));
    }
}

static size_t count_controlled(const struct report *r, const struct device *by)
{
    size_t n = 0;
    for (size_t i = 0; i < r->c->n_decks; i++)
        n += strcmp(r->b->decks.v[i].controlled_by, by->id) == 0;
    return n;
}

/* The deck that keeps its player: the first whose route leads through it, else the first. */
static size_t keeps_control(const struct report *r, const struct device *by)
{
    size_t first = r->c->n_decks;
    for (size_t i = 0; i < r->c->n_decks; i++) {
        if (control_player(r, (int)i) != by)
            continue;
        if (route_player(r, (int)i) == by)
            return i;
        first = first == r->c->n_decks ? i : first;
    }
    return first;
}

/* Each other deck goes to the player of its own route, if that has nothing to control yet. */
static void fix_doubled_control(const struct report *r, struct fault *f, const struct device *by)
{
    size_t keeps = keeps_control(r, by);
    bool *given = mem_new(r->c->n_devices, sizeof *given);
    for (size_t i = 0; i < r->c->n_decks; i++) {
        if (i == keeps || control_player(r, (int)i) != by)
            continue;
        const struct device *own = route_player(r, (int)i);
        bool *taken = own ? &given[own - r->b->devices.v] : NULL;
        bool free = own && own != by && count_controlled(r, own) == 0 && !*taken;
        if (free)
            *taken = true;
        fault_fix(f, change_of(CHANGE_CONTROL, r->b->decks.v[i].id, free ? own->id : ""));
    }
    mem_free(given);
}

static void doubled_control(struct report *r, const struct device *by, size_t n)
{
    struct str text = {0};
    size_t said = 0;
    str_addf(&text, "%s controls ", by->label);
    for (size_t i = 0; i < r->c->n_decks; i++)
        if (control_player(r, (int)i) == by) {
            say_next(said++, n, &text);
            str_add(&text, deck_label(r, (int)i));
        }
    str_add(&text, n == 2 ? " both" : " all at once");
    struct fault *f = report_fault(r, &text);
    fault_on(f, by->id);
    for (size_t i = 0; i < r->c->n_decks; i++)
        if (control_player(r, (int)i) == by)
            fault_on(f, r->b->decks.v[i].id);
    fix_doubled_control(r, f, by);
}

void find_doubled_control(struct report *r)
{
    for (size_t i = 0; i < r->c->n_devices; i++) {
        const struct device *d = circuit_device(r->c, (int)i);
        size_t n = d->kind == KIND_PLAYER ? count_controlled(r, d) : 0;
        if (n > 1)
            doubled_control(r, d, n);
    }
}

/* --- firmware --------------------------------------------------------------------------------- */

/* The next part of a dotted number as its digits without leading zeros; none is "". */
static const char *next_part(const char **at, size_t *length)
{
    *at += strspn(*at, ".");
    *at += strspn(*at, "0");
    const char *part = *at;
    *length = strspn(part, "0123456789");
    *at += *length;
    return part;
}

/* Whether version a is older than b, part by part, of whatever length; missing parts are 0. */
static bool version_older(const char *a, const char *b)
{
    while (*a || *b) {
        size_t long_a, long_b;
        const char *x = next_part(&a, &long_a), *y = next_part(&b, &long_b);
        if (long_a != long_b)
            return long_a < long_b;
        int order = strncmp(x, y, long_a);
        if (order)
            return order < 0;
    }
    return false;
}

void find_old_firmware(struct report *r)
{
    for (size_t i = 0; i < r->c->n_devices; i++) {
        const struct device *d = circuit_device(r->c, (int)i);
        if (!d->firmware || !d->firmware_min || !version_older(d->firmware, d->firmware_min))
            continue;
        struct str text = {0};
        str_addf(&text, "%s has firmware %s, older than the %s that it needs", d->label,
                 d->firmware, d->firmware_min);
        struct fault *f = report_fault(r, &text);
        fault_on(f, d->id);
        fault_advise(f, "accept it, or take another way into the mixer: whether to update is for "
                        "the house to decide, and never in a live room");
    }
}

/* --- decks without a strip -------------------------------------------------------------------- */

void find_undecided_deck(struct report *r)
{
    for (size_t i = 0; i < r->c->n_decks; i++) {
        if (r->c->decks[i].wants >= 0)
            continue;
        struct str text = {0};
        str_addf(&text, "%s wants no strip yet", deck_label(r, (int)i));
        struct fault *f = deck_fault(r, (int)i, &text);
        fault_advise(f, "choose a strip for it, or leave it silent");
        fix_by_free_strip(r, f, (int)i);
    }
}
