/* Causes in words. */
#include "engine/causes.h"

#include <string.h>

#include "model/say.h"
#include "model/shape.h"

static void add_output(const struct circuit *c, int cable, struct texts *out)
{
    char name[REF_SIZE];
    circuit_output_name(c, c->cables[cable].output, name);
    texts_add(out, name);
}

static void add_input(const struct circuit *c, int input, struct texts *out)
{
    char name[REF_SIZE];
    circuit_input_name(c, input, name);
    texts_add(out, name);
}

void cause_subjects(const struct circuit *c, const struct cause *k, struct texts *out)
{
    switch (k->kind) {
    case CAUSE_JOIN_ORDER:
        for (size_t i = 0; i < c->n_joined; i++)
            texts_add(out, circuit_device(c, k->order[i])->id);
        break;
    case CAUSE_JOIN_MISSING:
    case CAUSE_OWN_MEDIA:
        texts_add(out, circuit_device(c, k->a)->id);
        break;
    case CAUSE_OTHER_PAIR:
        texts_add(out, c->booth->decks.v[k->a].id);
        break;
    case CAUSE_OFF_BY_ONE:
        break;
    case CAUSE_CABLES_EXCHANGED:
        add_input(c, c->cables[k->a].input, out);
        add_input(c, c->cables[k->b].input, out);
        break;
    case CAUSE_CABLE_ELSEWHERE:
        add_output(c, k->a, out);
        add_input(c, k->b, out);
        break;
    case CAUSE_SIDES_SWAPPED:
    case CAUSE_SIDE_DEAD:
        add_output(c, k->a, out);
        add_input(c, c->cables[k->a].input, out);
        break;
    case CAUSE_SELECTOR:
    case CAUSE_STRIP_DEAD:
        texts_add(out, circuit_strip(c, k->a)->id);
        break;
    }
}

void cause_detail(const struct circuit *c, const struct cause *k, struct str *out)
{
    char name[REF_SIZE];
    if (k->kind == CAUSE_OTHER_PAIR)
        str_addf(out, "%d/%d", k->pair.left, k->pair.right);
    else if (k->kind == CAUSE_OFF_BY_ONE)
        str_add(out, k->a > 0 ? "+1" : "-1");
    else if (k->kind == CAUSE_SIDE_DEAD)
        str_add(out, word_file(&words_sides, k->b));
    else if (k->kind == CAUSE_SELECTOR) {
        circuit_input_name(c, k->b, name);
        str_add(out, name);
    }
}

static void say_end(const struct circuit *c, int input, struct str *out)
{
    char name[REF_SIZE];
    circuit_input_name(c, input, name);
    say_jack(c->booth, name, out);
}

static void say_cable(const struct circuit *c, int cable, struct str *out)
{
    char name[REF_SIZE];
    circuit_output_name(c, c->cables[cable].output, name);
    str_add(out, "the cable from ");
    say_jack(c->booth, name, out);
}

static bool is_missing(const struct cause *set, int n, int device)
{
    for (int i = 0; i < n; i++)
        if (set[i].kind == CAUSE_JOIN_MISSING && set[i].a == device)
            return true;
    return false;
}

static void say_order(const struct circuit *c, const struct cause *set, int n, int at,
                      struct str *out)
{
    const char *before = "the devices joined in the order ";
    for (size_t i = 0; i < c->n_joined; i++) {
        int device = set[at].order[i];
        bool missing = is_missing(set, n, device);
        if (missing && c->booth->host.gap == GAP_CLOSES)
            continue;
        str_addf(out, "%s%s%s", before, missing ? "the gap of " : "",
                 circuit_device(c, device)->label);
        before = ", ";
    }
}

void cause_say(const struct circuit *c, const struct cause *k, struct str *out)
{
    cause_say_among(c, k, 1, 0, out);
}

void cause_say_among(const struct circuit *c, const struct cause *set, int n, int i,
                     struct str *out)
{
    const struct cause *k = &set[i];
    char name[REF_SIZE];
    switch (k->kind) {
    case CAUSE_JOIN_ORDER:
        say_order(c, set, n, i, out);
        break;
    case CAUSE_JOIN_MISSING:
        str_addf(out, "%s is not in the interface", circuit_device(c, k->a)->label);
        break;
    case CAUSE_OTHER_PAIR:
        str_addf(out, "the host plays %s to pair ", c->booth->decks.v[k->a].label);
        say_pair(c->booth, k->pair, out);
        break;
    case CAUSE_OFF_BY_ONE:
        str_addf(out, "every deck is set one too %s", k->a > 0 ? "high" : "low");
        break;
    case CAUSE_CABLES_EXCHANGED:
        str_add(out, "the plugs in ");
        say_end(c, c->cables[k->a].input, out);
        str_add(out, " and ");
        say_end(c, c->cables[k->b].input, out);
        str_add(out, " are exchanged");
        break;
    case CAUSE_CABLE_ELSEWHERE:
        say_cable(c, k->a, out);
        str_add(out, " is plugged into ");
        say_end(c, k->b, out);
        break;
    case CAUSE_SIDES_SWAPPED:
        say_cable(c, k->a, out);
        str_add(out, " exchanges left and right");
        break;
    case CAUSE_SIDE_DEAD:
        say_cable(c, k->a, out);
        str_addf(out, " passes its %s side only", k->b == SIDES_LEFT_ONLY ? "left" : "right");
        break;
    case CAUSE_SELECTOR:
        circuit_input_name(c, k->b, name);
        say_thing(c->booth, circuit_strip(c, k->a)->id, out);
        str_addf(out, "'s selector stands on %s", strchr(name, '.') + 1);
        break;
    case CAUSE_OWN_MEDIA:
        str_addf(out, "%s plays its own media", circuit_device(c, k->a)->label);
        break;
    case CAUSE_STRIP_DEAD:
        say_thing(c->booth, circuit_strip(c, k->a)->id, out);
        str_add(out, " passes nothing: fader, mute, trim or a fault");
        break;
    }
}

/* --- said as one ------------------------------------------------------------------------------ */

bool cause_alike(const struct cause *a, const struct cause *b)
{
    bool somewhere = a->kind == CAUSE_SELECTOR || a->kind == CAUSE_CABLE_ELSEWHERE ||
                     a->kind == CAUSE_OTHER_PAIR;
    return (somewhere && a->kind == b->kind && a->a == b->a) || cause_same(a, b);
}

static void say_place(const struct circuit *c, const struct cause *k, struct str *out)
{
    if (k->kind == CAUSE_OTHER_PAIR)
        say_pair(c->booth, k->pair, out);
    else
        say_end(c, k->b, out);
}

/* "7/8, 8/9 or 2 more": the likeliest of many, and how many more. */
static void say_places(const struct circuit *c, const struct cause *const *v, size_t n,
                       struct str *out)
{
    enum { NAMED = 4 };
    size_t named = n > NAMED ? NAMED - 1 : n;
    for (size_t i = 0; i < named; i++) {
        str_add(out, i == 0 ? "" : i + 1 == n ? " or " : ", ");
        say_place(c, v[i], out);
    }
    if (named < n)
        str_addf(out, " or %zu more", n - named);
}

void cause_say_alike(const struct circuit *c, const struct cause *const *v, size_t n,
                     struct str *out)
{
    if (v[0]->kind == CAUSE_SELECTOR) {
        cause_say(c, v[0], out);
        str_add(out, ", or another input");
        return;
    }
    if (v[0]->kind == CAUSE_OTHER_PAIR) {
        str_addf(out, "the host plays %s to pair ", c->booth->decks.v[v[0]->a].label);
    } else {
        say_cable(c, v[0]->a, out);
        str_add(out, " is plugged into another input: ");
    }
    say_places(c, v, n, out);
}
