/* Two figures, in hundredths of a dB over 0.7746 V (0 dBu: 1 mW in 600 ohm).
 *
 * Line's full scale of 2 V rms (IEC 61938: nominal 0.5 V, maximum 12 dB above) is +8.24 dBu.
 * Phono's nominal 5 mV (moving magnet at 1 kHz, 5 cm/s: cartridge makers' usual figure) is
 * -43.80 dBu. 20 log10(2 V / 5 mV) = 52.04 dB lie between them. */
#include "engine/levels.h"

#include <math.h>

enum { LINE_CDBU = 824, PHONO_CDBU = -4380 };

enum levels_fit levels_fit(enum level out, enum level in)
{
    if (out == in)
        return LEVELS_FIT;
    if (out == LEVEL_LINE && in == LEVEL_PHONO)
        return LEVELS_TOO_LOUD;
    return out == LEVEL_PHONO && in == LEVEL_LINE ? LEVELS_TOO_QUIET : LEVELS_NOTHING;
}

bool levels_dbu(enum level level, int *hundredths)
{
    *hundredths = level == LEVEL_LINE ? LINE_CDBU : PHONO_CDBU;
    return level == LEVEL_LINE || level == LEVEL_PHONO;
}

bool levels_margin(enum level out, enum level in, int *hundredths)
{
    int gives, made_for;
    if (!levels_dbu(out, &gives) || !levels_dbu(in, &made_for))
        return false;
    *hundredths = gives - made_for;
    return true;
}

/* 1 + (w t)^2 in dB, of a time constant in us. */
static double corner_db(double hz, double us)
{
    double wt = 2 * acos(-1) * hz * us * 1e-6;
    return 10 * log10(1 + wt * wt);
}

static double curve_db(double hz)
{
    return corner_db(hz, 318) - corner_db(hz, 3180) - corner_db(hz, 75);
}

double levels_replay_db(double hz)
{
    return curve_db(hz) - curve_db(1000);
}

double levels_tilt_db(enum levels_fit fit, double hz)
{
    return fit == LEVELS_TOO_LOUD    ? levels_replay_db(hz)
           : fit == LEVELS_TOO_QUIET ? -levels_replay_db(hz)
                                     : 0;
}
