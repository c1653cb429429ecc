/* What things are called in a sentence, always in the words that a person in the booth would use.
 *
 * All of them append to out, take any text for a name (what is not there is called by its raw
 * name) and leave labels as they are: they pass utf8_safe() on their way to a screen. */
#ifndef MODEL_SAY_H
#define MODEL_SAY_H

#include "base/str.h"
#include "model/booth.h"
#include "model/shape.h"

/* "P1", "strip 4", "the laptop"; "strip 4 of House mixer" where another mixer has a strip with the
 * same label. */
void say_thing(const struct booth *b, const char *id, struct str *out);

/* The labels of several things: "H1, H2". */
void say_labels(const struct booth *b, const struct texts *ids, struct str *out);

/* A jack by its name ("p1.line", "s4.line"): "P1's line output", "strip 4's line input". */
void say_jack(const struct booth *b, const char *name, struct str *out);

/* A jack or a thing, whichever the name is of. */
void say_name(const struct booth *b, const char *name, struct str *out);

/* "port 2 of Hub", "port 1 of the laptop", "the laptop's inside" (built in), "no port". */
void say_plug(const struct booth *b, const struct plug *p, struct str *out);

/* A pair as the host counts it: "2/3", "3/4", "P2 L/R", "P1 R/P2 L", "3/3"; "?" for a channel
 * that the interface does not have when it names by device, "-" for no pair (left -1). */
void say_pair(const struct booth *b, struct pair p, struct str *out);

/* The same, of a pair whose channels are known to belong to those channels of those cards: for an
 * interface that is not (yet) the booth's own. device NULL: the interface has no such channel. */
struct card_channel {
    const struct device *device;
    int number; /* in its card, from 1 */
};
void say_pair_of(enum channel_names names, struct pair p, const struct card_channel of[2],
                 struct str *out);

/* A step of the checklist by its id: "join P1", "levels down"; what the id names may be gone. */
void say_step(const struct booth *b, const char *id, struct str *out);

/* A rate as people write it: "44.1 kHz". */
void say_rate(int rate_hz, struct str *out);

/* Thousandths of a minute as people write minutes: "2.25", "0.125". */
void say_minutes(int milli, struct str *out);

/* A field's value as people type it: "line", "yes", "44100 48000", "hub1.3", "2.5"; nothing for an
 * empty one, a map or a record. Pairs count from 0, or from 1 with `from` 1. */
void say_value(const struct field *f, const void *value, int from, struct str *out);

#endif
