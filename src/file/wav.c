/* RIFF, little-endian: one "fmt " chunk of 16 bytes and the data. */
#include "file/wav.h"

#include <assert.h>
#include <string.h>

enum { CHANNELS = 2, BYTES = 3 };

static char *put(char *at, uint32_t value, int bytes)
{
    for (int i = 0; i < bytes; i++)
        *at++ = (char)(unsigned char)(value >> (8 * i) & 0xff);
    return at;
}

static char *put_text(char *at, const char *text)
{
    size_t n = strlen(text);
    memcpy(at, text, n);
    return at + n;
}

void wav_header(char out[WAV_HEADER], int rate_hz, int64_t frames)
{
    assert(rate_hz > 0 && frames >= 0 && frames * WAV_FRAME < 0xffffffffLL - 36);
    uint32_t data = (uint32_t)(frames * WAV_FRAME), rate = (uint32_t)rate_hz;
    char *at = put_text(out, "RIFF");
    at = put_text(put(at, 36 + data, 4), "WAVEfmt ");
    at = put(at, 16, 4);
    at = put(at, 1, 2); /* plain samples */
    at = put(at, CHANNELS, 2);
    at = put(at, rate, 4);
    at = put(at, rate * WAV_FRAME, 4);
    at = put(at, WAV_FRAME, 2);
    at = put_text(put(at, 8 * BYTES, 2), "data");
    at = put(at, data, 4);
    assert(at == out + WAV_HEADER);
}

void wav_frame(char out[WAV_FRAME], const int32_t sample[2])
{
    for (int i = 0; i < CHANNELS; i++)
        out = put(out, (uint32_t)sample[i], BYTES);
}
