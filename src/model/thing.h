/* Things that come into a booth and go out of it again: devices, strips, decks, hubs. */
#ifndef MODEL_THING_H
#define MODEL_THING_H

#include <stdbool.h>

#include "base/err.h"
#include "model/booth.h"

enum thing {
    THING_PLAYER,
    THING_TURNTABLE,
    THING_MIXER,
    THING_INTERFACE,
    THING_CONTROLLER,
    THING_STRIP,
    THING_DECK,
    THING_HUB
};

/* Adds a complete thing, with the next free number in its id and label and the next place of its
 * kind, as the last of its list:
 *   player: a card of two channels, an RCA line and a coaxial digital output, on its own media;
 *     model, control and jacks as the last player's, and the next free port where that is plugged
 *   turntable: a phono output       mixer: its first strip (line and phono)
 *   interface: a card of eight channels, four TRS line outputs, the laptop's next free port
 *   controller: a card of two channels, one RCA line output, MIDI, the laptop's next free port
 *   strip: of mixer (NULL or "": the first), with inputs as its right-most strip's; a usb input
 *     takes the next channels of the card, as far as there are any
 *   deck: undecided                 hub: four ports, no supply, the laptop's next free port
 * False, with one sentence in e and nothing added, when the booth is full or has no such mixer. */
bool thing_add(struct booth *b, enum thing kind, const char *mixer, struct err *e);

/* Removes a device, strip, deck or hub, and of everything else what names it: cables, its place in
 * the interface, wants, controlled_by, data leads. What was found, ticked off and heard stays: it
 * tells of the past. False, with one sentence in e, when there is no such thing. */
bool thing_remove(struct booth *b, const char *id, struct err *e);

/* The lowest port of "host" or of a hub that nothing is plugged into; 0 when all are taken (or
 * there is no such hub). */
int thing_free_port(const struct booth *b, const char *at);

/* The word for people: "player", "strip"; "thing" for a number that is none of enum thing. */
const char *thing_word(int kind);

#endif
