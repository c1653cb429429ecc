/* Everything that can be done to a booth, as a value: what a drag, a key, a form, a fault's fix
 * and a plan's action all come down to.
 *
 * A change is made on a scratch copy, which then goes to history_commit(). */
#ifndef MODEL_CHANGE_H
#define MODEL_CHANGE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"
#include "base/str.h"
#include "model/booth.h"
#include "model/thing.h"

enum change_do {
    CHANGE_NONE,
    /* decks: a is the deck */
    CHANGE_WANT,    /* it wants strip b ("": undecided); a deck that wants b already takes a's (a
                       second one that does becomes undecided) */
    CHANGE_SET,     /* it is set to pair (left -1: not set) */
    CHANGE_CONTROL, /* it is controlled by device b ("": nothing) */
    /* the mixer and what is wired to it */
    CHANGE_SELECT,     /* strip a is switched to its input b */
    CHANGE_SWITCH,     /* input a ("s1.line") is switched to level number */
    CHANGE_CABLE,      /* a cable from output a to input b; number: enum sides; there already: its
                          sides change */
    CHANGE_CABLE_MOVE, /* the cable from output a to input b goes to input c */
    CHANGE_CABLE_FROM, /* the cable from output a to input b comes from output c */
    CHANGE_UNCABLE,    /* the cable from output a to input b goes */
    /* devices */
    CHANGE_SOURCE, /* player a: number is an enum source */
    CHANGE_JOIN,   /* device a joins at position number (from 0; -1: last); joined already: it
                      moves there */
    CHANGE_LEAVE,  /* device a leaves the interface */
    CHANGE_ORDER,  /* the joined players stand in the order of their places; others stay put */
    CHANGE_PLUG,   /* device or hub a goes to port number of b ("host", a hub, "built-in", "");
                      a port that is taken, or too many, is a fault of the booth, not refused */
    CHANGE_PLACE,  /* device or strip a takes the place of b, and b a's: of one kind, one mixer */
    CHANGE_IN_USE, /* device or strip a is in use by b ("": free) */
    CHANGE_LABEL,  /* device, strip, deck or hub a is called b */
    CHANGE_MODEL,  /* a becomes a device like b, of the same kind: what is told of its model,
                      family, firmware, card and USB (jacks, wires and source stay) */
    /* things come and go */
    CHANGE_ADD,    /* a thing of kind number (enum thing); for a strip, in mixer a (or the first) */
    CHANGE_REMOVE, /* device, strip, deck or hub a, with its cables and whatever names it */
    /* the host */
    CHANGE_RATE,    /* number Hz */
    CHANGE_DRIFT,   /* drift correction: number 0 or 1 */
    CHANGE_COMBINE, /* the joined devices' models, in order, become a saved combination */
    /* the checklist */
    CHANGE_TICK, /* step a: number 1 done, 0 not */
    CHANGE_NOTE, /* step a has note b ("": none) */
};

struct change {
    enum change_do what;
    char a[REF_SIZE], b[REF_SIZE], c[REF_SIZE];
    struct pair pair;
    int number;
};

/* Several changes that belong together. All zero is none. */
struct changes {
    struct change *v;
    size_t n, cap;
};
void changes_add(struct changes *c, struct change change);
void changes_clear(struct changes *c);

/* A change with its names filled in ("" for none); texts longer than a name are cut at a
 * character. */
struct change change_of(enum change_do what, const char *a, const char *b);

/* Makes it on b. False, with one sentence in e and b as it was, when it names what is not there or
 * would leave the booth unsound. */
bool change_make(struct booth *b, const struct change *c, struct err *e);
bool changes_make(struct booth *b, const struct changes *c, struct err *e);

/* The same on a scratch copy, without asking whether it is then sound: for many in a row, told one
 * by one. Ask booth_sound() after the last. False, with one sentence in e, leaves b half done. */
bool change_try(struct booth *b, const struct change *c, struct err *e);

/* Appends what it does, as an order to a person: "turn strip 4's selector to line". Names are
 * those of b, before the change. */
void change_say(const struct booth *b, const struct change *c, struct str *out);

/* The same for several that belong together, all of them told of b as it is before the first; two
 * plugs that exchange their inputs are told as that. */
void changes_say(const struct booth *b, const struct changes *c, struct str *out);

/* The word for what a change does, for scripts: "set", "selector", "switch", "source", "move",
 * "add", "unplug", "join", "leave", "plug" and so on; "leave-alone" for CHANGE_NONE. */
const char *change_word(const struct change *c);

/* Whether it would touch a thing that is in use: move an in-use strip's selector, a cable into it,
 * or join, power, replug, re-cable or switch an in-use device. Letting go of it (leave, mark it
 * free) and labels do not touch. */
bool change_touches_in_use(const struct booth *b, const struct change *c);

#endif
