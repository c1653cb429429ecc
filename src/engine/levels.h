/* How loud what an output gives is for the input that it is led into. */
#ifndef ENGINE_LEVELS_H
#define ENGINE_LEVELS_H

#include <stdbool.h>

#include "model/words.h"

/* From the best to the worst. */
enum levels_fit {
    LEVELS_FIT,
    LEVELS_TOO_QUIET, /* phono into line */
    LEVELS_NOTHING,   /* digital into analogue, or the reverse: nothing passes */
    LEVELS_TOO_LOUD,  /* line into phono */
};

/* How an output of one level fits an input of another. */
enum levels_fit levels_fit(enum level out, enum level in);

/* The level that an output of this kind gives, and that an input of this kind is made for, in
 * hundredths of a dBu: line at full scale, phono at its nominal. False where there is no figure
 * (digital, usb). */
bool levels_dbu(enum level level, int *hundredths);

/* By how many hundredths of a dB an output is above (negative: below) what the input is made for;
 * false where nothing passes or there is no figure. */
bool levels_margin(enum level out, enum level in, int *hundredths);

/* The gain of the replay curve for records at a frequency in Hz (above 0), in dB over that at 1
 * kHz: time constants of 3180, 318 and 75 us (RIAA; IEC 60098, without its 1976 amendment). */
double levels_replay_db(double hz);

/* How much more (negative: less) than at 1 kHz a mismatched pair is off at a frequency, in dB: what
 * was never meant for the curve goes through it, what was meant for it does not. 0 for every other
 * pair. */
double levels_tilt_db(enum levels_fit fit, double hz);

#endif
