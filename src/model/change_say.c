/* How changes are told to a person, and which of them touch what somebody else is using.
 *
 * A sentence is a template: $a, $b and $c stand for what the change names, $t for its text as it
 * is, $n for its number, $p for its pair, $P for its port. A change with two faces (a deck wants a
 * strip, or none) has a function that picks the template. */
#include "model/change.h"

#include <assert.h>
#include <string.h>

#include "model/say.h"

/* --- sentences -------------------------------------------------------------------------------- */

static const char *say_want(const struct booth *b, const struct change *c)
{
    (void)b;
    return *c->b ? "let $a be heard on $b" : "leave $a undecided";
}

static const char *say_set(const struct booth *b, const struct change *c)
{
    (void)b;
    return c->pair.left < 0 ? "take back the setting of $a" : "set $a to pair $p";
}

static const char *say_control(const struct booth *b, const struct change *c)
{
    (void)b;
    return *c->b ? "let $b control $a" : "let nothing control $a";
}

static const char *say_switch(const struct booth *b, const struct change *c)
{
    (void)b;
    return c->number == LEVEL_PHONO ? "turn the switch of $a to phono"
                                    : "turn the switch of $a to line";
}

static const char *say_cable(const struct booth *b, const struct change *c)
{
    static const char *const fresh[] = {
        [SIDES_STRAIGHT] = "run a cable from $a to $b",
        [SIDES_SWAPPED] = "run a cable from $a to $b with its sides exchanged",
        [SIDES_LEFT_ONLY] = "run a cable from $a to $b, left side only",
        [SIDES_RIGHT_ONLY] = "run a cable from $a to $b, right side only",
    };
    static const char *const there[] = {
        [SIDES_STRAIGHT] = "put the cable from $a to $b right: left to left, right to right",
        [SIDES_SWAPPED] = "exchange the sides of the cable from $a to $b",
        [SIDES_LEFT_ONLY] = "leave only the left side of the cable from $a to $b",
        [SIDES_RIGHT_ONLY] = "leave only the right side of the cable from $a to $b",
    };
    bool sides = c->number >= 0 && (size_t)c->number < words_sides.n;
    int at = sides ? c->number : SIDES_STRAIGHT;
    return booth_cable(b, c->a, c->b) ? there[at] : fresh[at];
}

static const char *say_source(const struct booth *b, const struct change *c)
{
    (void)b;
    return c->number == SOURCE_COMPUTER ? "switch $a to the computer"
                                        : "switch $a to its own media";
}

static const char *say_join(const struct booth *b, const struct change *c)
{
    bool last = c->number < 0 || (size_t)c->number >= b->joined.n;
    if (b->joined.n == 0)
        return "join $a";
    return last ? "join $a, after the others" : c->number ? "join $a in place $n" : "join $a first";
}

static const char *say_plugged(const struct booth *b, const struct change *c)
{
    (void)b;
    return !*c->b                          ? "pull the data lead of $a"
           : strcmp(c->b, "built-in") == 0 ? "take $a for built in"
                                           : "plug $a into $P";
}

static const char *say_in_use(const struct booth *b, const struct change *c)
{
    (void)b;
    return *c->b ? "mark $a as in use by $t" : "mark $a as free";
}

static const char *say_added(const struct booth *b, const struct change *c)
{
    (void)b;
    return c->number == THING_INTERFACE        ? "add an $k"
           : c->number == THING_STRIP && *c->a ? "add a strip to $a"
                                               : "add a $k";
}

static const char *say_drift(const struct booth *b, const struct change *c)
{
    (void)b;
    return c->number ? "switch drift correction on" : "switch drift correction off";
}

static const char *say_tick(const struct booth *b, const struct change *c)
{
    (void)b;
    return c->number ? "tick off: $s" : "take the tick off: $s";
}

static const char *say_note(const struct booth *b, const struct change *c)
{
    (void)b;
    return *c->b ? "note ($s): $t" : "remove the note ($s)";
}

struct saying {
    const char *text;
    const char *(*pick)(const struct booth *b, const struct change *c); /* instead of text */
};

static const struct saying sayings[] = {
    [CHANGE_NONE] = {"leave everything as it is", NULL},
    [CHANGE_WANT] = {NULL, say_want},
    [CHANGE_SET] = {NULL, say_set},
    [CHANGE_CONTROL] = {NULL, say_control},
    [CHANGE_SELECT] = {"turn $a's selector to $t", NULL},
    [CHANGE_SWITCH] = {NULL, say_switch},
    [CHANGE_CABLE] = {NULL, say_cable},
    [CHANGE_CABLE_MOVE] = {"move the plug of $a to $c", NULL},
    [CHANGE_CABLE_FROM] = {"feed $b from $c instead of $a", NULL},
    [CHANGE_UNCABLE] = {"take away the cable from $a to $b", NULL},
    [CHANGE_SOURCE] = {NULL, say_source},
    [CHANGE_JOIN] = {NULL, say_join},
    [CHANGE_LEAVE] = {"take $a out of the interface", NULL},
    [CHANGE_ORDER] = {"join the players in their order from the left", NULL},
    [CHANGE_PLUG] = {NULL, say_plugged},
    [CHANGE_PLACE] = {"exchange the places of $a and $b", NULL},
    [CHANGE_IN_USE] = {NULL, say_in_use},
    [CHANGE_LABEL] = {"call $a \"$t\"", NULL},
    [CHANGE_MODEL] = {"make $a the same model as $b", NULL},
    [CHANGE_ADD] = {NULL, say_added},
    [CHANGE_REMOVE] = {"remove $a", NULL},
    [CHANGE_RATE] = {"set the rate to $r", NULL},
    [CHANGE_DRIFT] = {NULL, say_drift},
    [CHANGE_COMBINE] = {"save the joined models as a combination", NULL},
    [CHANGE_TICK] = {NULL, say_tick},
    [CHANGE_NOTE] = {NULL, say_note},
};

static void fill_in(const struct booth *b, const struct change *c, char what, struct str *out)
{
    switch (what) {
    case 'a':
        say_name(b, c->a, out);
        break;
    case 'b':
        say_name(b, c->b, out);
        break;
    case 'c':
        say_name(b, c->c, out);
        break;
    case 's':
        say_step(b, c->a, out);
        break;
    case 't':
        str_add(out, c->b);
        break;
    case 'n': /* a position, from 1 for people */
        str_addf(out, "%d", c->number + 1);
        break;
    case 'p':
        say_pair(b, c->pair, out);
        break;
    case 'P':
        str_addf(out, "port %d of ", c->number);
        say_thing(b, c->b, out);
        break;
    case 'k':
        str_add(out, thing_word(c->number));
        break;
    case 'r':
        say_rate(c->number, out);
        break;
    default:
        assert(false && "a template has a letter that nothing fills");
    }
}

void change_say(const struct booth *b, const struct change *c, struct str *out)
{
    assert((size_t)c->what < sizeof sayings / sizeof *sayings);
    const struct saying *s = &sayings[c->what];
    for (const char *t = s->pick ? s->pick(b, c) : s->text; *t; t++) {
        if (*t == '$')
            fill_in(b, c, *++t, out);
        else
            str_addc(out, *t);
    }
}

/* Two plugs that each go where the other was: one thing to do, in one breath. */
static bool is_exchange(const struct changes *c)
{
    const struct change *v = c->v;
    return c->n == 2 && v[0].what == CHANGE_CABLE_MOVE && v[1].what == CHANGE_CABLE_MOVE &&
           strcmp(v[0].c, v[1].b) == 0 && strcmp(v[1].c, v[0].b) == 0;
}

void changes_say(const struct booth *b, const struct changes *c, struct str *out)
{
    if (is_exchange(c)) {
        str_add(out, "exchange the plugs in ");
        say_name(b, c->v[0].b, out);
        str_add(out, " and ");
        say_name(b, c->v[1].b, out);
        return;
    }
    for (size_t i = 0; i < c->n; i++) {
        str_add(out, i ? "; " : "");
        change_say(b, &c->v[i], out);
    }
}

/* --- hands off -------------------------------------------------------------------------------- */

static bool strip_used(const struct booth *b, const char *id)
{
    const struct strip *s = booth_strip(b, id, NULL);
    return s && s->in_use;
}

static bool device_used(const struct booth *b, const char *id)
{
    const struct device *d = booth_device(b, id);
    return d && d->in_use;
}

/* Whether a jack belongs to something in use: an output to its device, an input to its strip, or
 * to its interface. The other strips of a mixer that is in use stay free. */
static bool jack_used(const struct booth *b, const char *name)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    return ref_split(name, owner, jack) && (strip_used(b, owner) || device_used(b, owner));
}

static bool mixer_used(const struct booth *b, const char *id)
{
    const struct device *d = booth_device(b, id);
    for (size_t i = 0; d && i < d->strips.n; i++)
        if (d->strips.v[i].in_use)
            return true;
    return false;
}

static bool owned_by(const struct booth *b, const char *jack, const char *id)
{
    char owner[ID_SIZE], name[ID_SIZE];
    const struct device *mixer = NULL;
    if (!ref_split(jack, owner, name))
        return false;
    booth_strip(b, owner, &mixer);
    return strcmp(owner, id) == 0 || (mixer && strcmp(mixer->id, id) == 0);
}

/* A thing that goes takes its cables along, also those into strips in use. */
static bool removal_touches(const struct booth *b, const char *id)
{
    for (size_t i = 0; i < b->cables.n; i++) {
        const struct cable *c = &b->cables.v[i];
        bool goes = owned_by(b, c->from, id) || owned_by(b, c->to, id);
        if (goes && (jack_used(b, c->from) || jack_used(b, c->to)))
            return true;
    }
    return device_used(b, id) || strip_used(b, id) || mixer_used(b, id) || booth_used_on(b, id);
}

const char *change_word(const struct change *c)
{
    static const char *const words[] = {
        [CHANGE_NONE] = "leave-alone", [CHANGE_WANT] = "want",       [CHANGE_SET] = "set",
        [CHANGE_CONTROL] = "control",  [CHANGE_SELECT] = "selector", [CHANGE_SWITCH] = "switch",
        [CHANGE_CABLE] = "add",        [CHANGE_CABLE_MOVE] = "move", [CHANGE_CABLE_FROM] = "move",
        [CHANGE_UNCABLE] = "unplug",   [CHANGE_SOURCE] = "source",   [CHANGE_JOIN] = "join",
        [CHANGE_LEAVE] = "leave",      [CHANGE_ORDER] = "order",     [CHANGE_PLUG] = "plug",
        [CHANGE_PLACE] = "place",      [CHANGE_IN_USE] = "in-use",   [CHANGE_LABEL] = "label",
        [CHANGE_MODEL] = "model",      [CHANGE_ADD] = "bring",       [CHANGE_REMOVE] = "remove",
        [CHANGE_RATE] = "rate",        [CHANGE_DRIFT] = "drift",     [CHANGE_COMBINE] = "combine",
        [CHANGE_TICK] = "tick",        [CHANGE_NOTE] = "note",
    };
    return words[c->what];
}

bool change_touches_in_use(const struct booth *b, const struct change *c)
{
    switch (c->what) {
    case CHANGE_SELECT:
        return strip_used(b, c->a);
    case CHANGE_SWITCH:
        return jack_used(b, c->a);
    case CHANGE_CABLE:
    case CHANGE_UNCABLE:
        return jack_used(b, c->a) || jack_used(b, c->b);
    case CHANGE_CABLE_MOVE:
    case CHANGE_CABLE_FROM:
        return jack_used(b, c->a) || jack_used(b, c->b) || jack_used(b, c->c);
    case CHANGE_SOURCE:
    case CHANGE_JOIN:
        return device_used(b, c->a);
    case CHANGE_ORDER:
        for (size_t i = 0; i < b->joined.n; i++)
            if (device_used(b, b->joined.v[i]))
                return true;
        return false;
    case CHANGE_PLUG:
        return device_used(b, c->a) || booth_used_on(b, c->a);
    case CHANGE_REMOVE:
        return removal_touches(b, c->a);
    default:
        return false;
    }
}
