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

#endif
