/* Writing sound to a file that every host reads: stereo, 24 bit, uncompressed. */
#ifndef FILE_WAV_H
#define FILE_WAV_H

#include <stdint.h>

enum { WAV_HEADER = 44, WAV_FRAME = 6 }; /* bytes */

/* Writes the header of a stereo file of so many frames at a rate (frames * WAV_FRAME must stay
 * below 2^32 - 36; asserted). */
void wav_header(char out[WAV_HEADER], int rate_hz, int64_t frames);

/* Writes one frame of two 24-bit samples; the upper byte of each is not looked at. */
void wav_frame(char out[WAV_FRAME], const int32_t sample[2]);

#endif
