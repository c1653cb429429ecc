/* A combined interface that is not ours: alsa-lib's "multi" PCM joins cards, its "route" PCM puts
 * host decks on their channels, and every card is a file in the test's scratch folder.
 *
 *   tones --route--> channels of the interface --multi--> cards --> card0.raw, card1.raw ... */
#ifndef ALSA_INTERFACE_H
#define ALSA_INTERFACE_H

#include <stddef.h>
#include <stdint.h>

enum { TONES_MAX = 32, CARDS_MAX = 32, CARD_CHANNELS_MAX = 256 };

/* Combines cards with so many channels each, in the order given, and plays n_tones (1 to
 * TONES_MAX) at once for a moment, tone i to channel to[i] of the interface, from 0. At least one
 * of them must be a channel that the interface has; the others are played to nowhere. */
void interface_play(const int *cards, size_t n_cards, const int *to, size_t n_tones);

/* What the card at that place in the order got: for each of its channels the tones in it, one bit
 * a tone. Fails the test when there is anything in it that is not a whole tone. */
void interface_listen(size_t card, int channels, uint32_t tones[CARD_CHANNELS_MAX]);

#endif
