/* Ident signals: what a host deck plays so that it can be told by ear, and its left from its
 * right.
 *
 * First the deck's number: a long burst for each ten, a short one for each unit (our own scheme).
 * Then a line ident of the broadcasters, a 1 kHz tone with gaps, for some cycles:
 *   GLITS      both sides on, the left off once, the right off twice, every 4 s
 *   EBU        the left off once, every 3 s (EBU R 49; restated in EBU Tech 3304)
 * Level: alignment level, 18 dB below full scale by peak (EBU R 68: a sine 18 dB below the largest
 * that can be coded). The sources are quoted after an encyclopedia and a trade article; the EBU's
 * own texts were not read. */
#ifndef ENGINE_IDENT_H
#define ENGINE_IDENT_H

#include <stdint.h>

enum ident { IDENT_GLITS, IDENT_EBU };

enum {
    IDENT_HZ = 1000,
    IDENT_GAP_MS = 250,
    IDENT_BURST_MS = 250,
    IDENT_TEN_MS = 750,
    IDENT_CYCLES = 3,
};

/* How long the signal of a deck is, in frames. number: the deck's, from 1 to 99; rate: a multiple
 * of 4 Hz from 8000 on, so that a quarter of a second is a whole number of frames. */
int64_t ident_frames(enum ident kind, int number, int rate_hz);

/* The frame at a position from 0 on: left and right as 24-bit samples (peak 2^23 - 1 at full
 * scale). */
void ident_frame(enum ident kind, int number, int rate_hz, int64_t at, int32_t out[2]);

#endif
