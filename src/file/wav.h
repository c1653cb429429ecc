/* Writing sound to a file that every host reads: stereo, 24 bit, uncompressed. */
#ifndef FILE_WAV_H
#define FILE_WAV_H

#include <stdint.h>

#include "base/str.h"

/* Appends the 44-byte header of a stereo file of so many frames at a rate (frames * 6 must stay
 * below 2^32 - 36; asserted). */
void wav_header(struct str *out, int rate_hz, int64_t frames);

/* Appends one frame of two 24-bit samples; the upper byte of each is not looked at. */
void wav_frame(struct str *out, const int32_t sample[2]);

#endif
