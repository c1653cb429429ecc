/* Everything happens in quarters of a second: a burst, a pause, a gap. 250 ms are 250 whole cycles
 * of the tone, so that every edge lies at a zero of the sine and nothing clicks. */
#include "engine/ident.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

static const double pi = 3.14159265358979323846;

enum {
    UNIT_QUARTERS = 2, /* a burst and a pause */
    TEN_QUARTERS = 4,  /* three quarters of tone and a pause */
    REST_QUARTERS = 3, /* after the number */
};

static int64_t number_quarters(int number)
{
    return number / 10 * TEN_QUARTERS + number % 10 * UNIT_QUARTERS + REST_QUARTERS;
}

static int cycle_quarters(enum ident kind)
{
    return kind == IDENT_GLITS ? 16 : 12;
}

int64_t ident_frames(enum ident kind, int number, int rate_hz)
{
    assert(number >= 1 && number <= 99 && rate_hz >= 8000 && rate_hz % 4 == 0);
    int64_t quarters = number_quarters(number) + (int64_t)IDENT_CYCLES * cycle_quarters(kind);
    return quarters * rate_hz / 4;
}

/* Whether the number's part sounds in a quarter from its start. */
static bool number_sounds(int number, int64_t quarter)
{
    int64_t tens = number / 10 * TEN_QUARTERS, units = number % 10 * UNIT_QUARTERS;
    if (quarter < tens)
        return quarter % TEN_QUARTERS < TEN_QUARTERS - 1;
    return quarter < tens + units && (quarter - tens) % UNIT_QUARTERS == 0;
}

/* Whether a side (0 left, 1 right) sounds in a quarter of the line ident: GLITS from the end of
 * one set of gaps (left off; 250 ms later right off twice, 250 ms apart), EBU with the gap last. */
static bool ident_sounds(enum ident kind, int side, int64_t quarter)
{
    int64_t q = quarter % cycle_quarters(kind);
    if (kind == IDENT_EBU)
        return side == 1 || q != 11;
    return side == 0 ? q != 11 : q != 13 && q != 15;
}

void ident_frame(enum ident kind, int number, int rate_hz, int64_t at, int32_t out[2])
{
    assert(at >= 0 && at < ident_frames(kind, number, rate_hz));
    int64_t quarter = at * 4 / rate_hz, before = number_quarters(number);
    int64_t phase = at * IDENT_HZ % rate_hz;
    double peak = pow(10.0, -18.0 / 20.0) * 8388607.0;
    int32_t tone = (int32_t)lrint(peak * sin(2.0 * pi * (double)phase / rate_hz));
    for (int side = 0; side < 2; side++) {
        bool sounds = quarter < before ? number_sounds(number, quarter)
                                       : ident_sounds(kind, side, quarter - before);
        out[side] = sounds ? tone : 0;
    }
}
