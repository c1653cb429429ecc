/* A world in one line: booth_from("p1.line > s1.line; joined p1; h1 wants s1").
 *
 * Statements, parted by ";":
 *   p1.line > s1.line        a cable; "x" exchanges the sides, "l>" and "r>" pass one side only
 *   joined p2 p1             the joined list, in order
 *   h1 wants s1              h1 set 2 3              h1 by p1
 *   s1 selects phono         s1 in-use Robin         p1 in-use Robin
 *   p1 own-media             p1 card 4               p1 plugged hub1.2     p1 place 3
 *   p1 model dunlin-2        p1 family dunlin        p1 firmware 1.9 1.10
 *   p1 in_channels 2         p1 max_power_ma 500     p1 speed full         p1 rates 44100 96000
 *   s1.line switch line phono                        s1.usb socket B       p1.line carries 1
 *   hub hub1 4               hub hub2 4 hub1.3 self_powered 1              hub hub3 4 none
 *   host combining by-hand   host names from-1       host gap keeps        host rate_hz 44100
 *   combination dunlin-2 dunlin-2
 * A device, a hub and the host take any number, word or text of theirs by its key in files.
 * What is named and not there yet is made: pN a player on the computer with a two-channel card and
 * the outputs line and digital; tN a turntable with a phono output; xN an interface with an
 * eight-channel card and the outputs o1 to o4; cN a controller; m1 a mixer; sN a strip of m1 with
 * the inputs line, digital and phono, switched to line (and usb, channels 2N-1 and 2N, once m1 has
 * a card); hN a deck. Places follow the numbers. */
#ifndef TESTS_SUPPORT_BOOTH_FROM_H
#define TESTS_SUPPORT_BOOTH_FROM_H

#include "model/booth.h"

/* Fails the test when a statement cannot be understood or the booth is not sound. */
struct booth *booth_from(const char *text);

/* A sound random booth, the same for the same seed: up to eight players, decks and strips in one
 * or two mixers with and without cards, turntables, interfaces, hubs, cables of every kind, every
 * selector, switch, source, setting and joined list that a file may hold. */
struct booth *booth_random(unsigned seed);

/* A random number from 0 to n - 1 (n > 0), from a state that starts at any seed. */
unsigned random_below(unsigned long long *state, unsigned n);

#endif
