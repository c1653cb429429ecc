/* Decks against each other, and against what the host is set to.
 *
 * A deck plays to what it is set to, or else to its route: its effective channels. Suggestions
 * begin in the host, where a wrong setting costs nothing to put right. */
#include "base/mem.h"
#include "engine/rules.h"

static void on_deck(const struct report *r, struct fault *f, int deck)
{
    fault_on(f, r->b->decks.v[deck].id);
}

/* Sets a deck to its route, or to nothing where there is none. */
static void fix_by_setting(const struct circuit *c, struct fault *f, int deck)
{
    struct route route = route_of(c, deck);
    struct change set = change_of(CHANGE_SET, c->booth->decks.v[deck].id, "");
    set.pair = route.there ? route.pair : (struct pair){-1, -1};
    fault_fix(f, set);
}

/* --- two decks, one strip --------------------------------------------------------------------- */

static size_t count_wanting(const struct circuit *c, int strip)
{
    size_t n = 0;
    for (size_t i = 0; i < c->n_decks; i++)
        n += c->decks[i].wants == strip;
    return n;
}

static void say_wanting(const struct report *r, int strip, struct str *out)
{
    size_t said = 0, n = count_wanting(r->c, strip);
    for (size_t i = 0; i < r->c->n_decks; i++) {
        if (r->c->decks[i].wants != strip)
            continue;
        say_next(said++, n, out);
        str_add(out, deck_label(r, (int)i));
    }
    str_addf(out, " %s want ", n == 2 ? "both" : "all");
    say_strip(r, strip, out);
}

/* The first deck stays; each later one takes a free strip, or becomes undecided. */
static void doubled_strip(struct report *r, int strip)
{
    struct circuit *h = circuit_copy(r->c);
    struct str text = {0};
    bool later = false;
    say_wanting(r, strip, &text);
    struct fault *f = report_fault(r, &text);
    for (size_t i = 0; i < r->c->n_decks; i++) {
        if (r->c->decks[i].wants != strip)
            continue;
        on_deck(r, f, (int)i);
        if (later)
            fix_by_moving(f, h, (int)i, free_strip_for(h, (int)i));
        later = true;
    }
    fault_on(f, circuit_strip(r->c, strip)->id);
    circuit_free(h);
}

void find_doubled_strip(struct report *r)
{
    for (size_t i = 0; i < r->c->n_strips; i++)
        if (count_wanting(r->c, (int)i) > 1)
            doubled_strip(r, (int)i);
}

/* --- two decks, one pair ---------------------------------------------------------------------- */

/* Whether setting a deck to its route (or to nothing) takes it off the other's channels. */
static bool setting_parts(const struct circuit *c, int deck, struct pair other)
{
    struct route route = route_of(c, deck);
    return c->decks[deck].set_to.left >= 0 && !(route.there && pairs_share(route.pair, other));
}

static void fix_doubled_pair(const struct circuit *c, struct fault *f, int first, int second)
{
    if (setting_parts(c, second, route_effective(c, first))) {
        fix_by_setting(c, f, second);
    } else if (setting_parts(c, first, route_effective(c, second))) {
        fix_by_setting(c, f, first);
    } else {
        struct circuit *h = circuit_copy(c);
        fix_by_moving(f, h, second, free_strip_for(c, second));
        circuit_free(h);
    }
}

static void doubled_pair(struct report *r, const struct pair *plays, int first, int second)
{
    struct str text = {0};
    bool same = pairs_equal(plays[first], plays[second]);
    str_addf(&text, same ? "%s and %s both play to pair " : "%s and %s overlap: they play to pair ",
             deck_label(r, first), deck_label(r, second));
    route_show(r->c, plays[first], &text);
    if (!same) {
        str_add(&text, " and pair ");
        route_show(r->c, plays[second], &text);
    }
    struct fault *f = report_fault(r, &text);
    on_deck(r, f, first);
    on_deck(r, f, second);
    fix_doubled_pair(r->c, f, first, second);
}

void find_doubled_pair(struct report *r)
{
    size_t n = r->c->n_decks;
    struct pair *plays = mem_new(n, sizeof *plays);
    for (size_t i = 0; i < n; i++)
        plays[i] = route_effective(r->c, (int)i);
    for (size_t i = 0; i < n; i++)
        for (size_t k = i + 1; k < n; k++)
            if (pairs_share(plays[i], plays[k]))
                doubled_pair(r, plays, (int)i, (int)k);
    mem_free(plays);
}

/* --- one deck and its setting ----------------------------------------------------------------- */

/* A finding about what a deck is set to: "H1 is set to pair 2/3, " and the rest. */
static void wrong_setting(struct report *r, int deck, const char *rest)
{
    struct str text = {0};
    str_addf(&text, "%s is set to pair ", deck_label(r, deck));
    route_show(r->c, r->c->decks[deck].set_to, &text);
    str_add(&text, rest);
    struct fault *f = report_fault(r, &text);
    on_deck(r, f, deck);
    fix_by_setting(r->c, f, deck);
}

void find_stale_setting(struct report *r)
{
    for (size_t i = 0; i < r->c->n_decks; i++) {
        const struct circuit_deck *deck = &r->c->decks[i];
        struct route route = route_of(r->c, (int)i);
        if (!route.there || deck->set_to.left < 0 || pairs_equal(deck->set_to, route.pair))
            continue;
        struct str rest = {0};
        str_add(&rest, ", but ");
        say_strip(r, deck->wants, &rest);
        str_add(&rest, " is pair ");
        route_show(r->c, route.pair, &rest);
        wrong_setting(r, (int)i, str_text(&rest));
        str_clear(&rest);
    }
}

/* Whether a set pair lies within the interface. */
static bool pair_is_there(const struct circuit *c, struct pair p)
{
    return p.left < c->channels && p.right < c->channels;
}

void find_no_such_channel(struct report *r)
{
    for (size_t i = 0; i < r->c->n_decks; i++) {
        struct pair set = r->c->decks[i].set_to;
        if (set.left >= 0 && !pair_is_there(r->c, set))
            wrong_setting(r, (int)i, ", which the interface does not have");
    }
}

static bool carries_both(const struct ints *channels, int a, int b)
{
    bool has_a = false, has_b = false;
    for (size_t i = 0; i < channels->n; i++) {
        has_a |= channels->v[i] == a;
        has_b |= channels->v[i] == b;
    }
    return has_a && has_b;
}

/* Whether any output, or any usb input of any socket, carries both channels. */
static bool carried_together(const struct circuit *c, struct pair p)
{
    int left = 0, right = 0, device = circuit_owner(c, p.left, &left);
    if (circuit_owner(c, p.right, &right) != device)
        return false;
    const struct device *d = circuit_device(c, device);
    for (size_t i = 0; i < d->outputs.n; i++)
        if (carries_both(&d->outputs.v[i].channels, left, right))
            return true;
    for (size_t i = 0; i < d->strips.n; i++)
        for (size_t k = 0; k < d->strips.v[i].inputs.n; k++)
            if (carries_both(&d->strips.v[i].inputs.v[k].channels, left, right))
                return true;
    return false;
}

void find_straddled_pair(struct report *r)
{
    for (size_t i = 0; i < r->c->n_decks; i++) {
        struct pair set = r->c->decks[i].set_to;
        if (set.left >= 0 && set.left != set.right && pair_is_there(r->c, set) &&
            !carried_together(r->c, set))
            wrong_setting(r, (int)i, ", whose two sides leave by no one output together");
    }
}
