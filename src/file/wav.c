/* RIFF, little-endian: one "fmt " chunk of 16 bytes and the data. */
#include "file/wav.h"

#include <assert.h>

enum { CHANNELS = 2, BYTES = 3, FRAME = CHANNELS * BYTES };

static void put(struct str *out, uint32_t value, int bytes)
{
    for (int i = 0; i < bytes; i++)
        str_addc(out, (char)(unsigned char)(value >> (8 * i) & 0xff));
}

void wav_header(struct str *out, int rate_hz, int64_t frames)
{
    assert(rate_hz > 0 && frames >= 0 && frames * FRAME < 0xffffffffLL - 36);
    uint32_t data = (uint32_t)(frames * FRAME), rate = (uint32_t)rate_hz;
    str_add(out, "RIFF");
    put(out, 36 + data, 4);
    str_add(out, "WAVEfmt ");
    put(out, 16, 4);
    put(out, 1, 2); /* plain samples */
    put(out, CHANNELS, 2);
    put(out, rate, 4);
    put(out, rate * FRAME, 4);
    put(out, FRAME, 2);
    put(out, 8 * BYTES, 2);
    str_add(out, "data");
    put(out, data, 4);
}

void wav_frame(struct str *out, const int32_t sample[2])
{
    for (int i = 0; i < CHANNELS; i++)
        put(out, (uint32_t)sample[i], BYTES);
}
