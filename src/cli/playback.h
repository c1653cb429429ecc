/* A sound device, opened to be played to. Which library is behind it is chosen when the program is
 * built: playback_alsa.c where alsa-lib is found, else playback_none.c, which can open nothing. */
#ifndef CLI_PLAYBACK_H
#define CLI_PLAYBACK_H

#include <stddef.h>

#include "base/err.h"
#include "cli/playing.h"

struct playback;

/* Opens the device that p names: with the channels of the interface (more only where it has no
 * mode with fewer), at just p's rate, in the first of 32, 24 and 16 bits that it takes. Nothing
 * sounds yet. NULL, with ERR_WRITE, when the device cannot; with ERR_USAGE in a build that cannot
 * play. End with playback_close(). */
struct playback *playback_open(const struct playing *p, struct err *e);

/* How its frames are laid out, and how many it likes at a time: about 20 ms. */
struct sample_layout playback_layout(const struct playback *out);
size_t playback_period(const struct playback *out);

/* Hands over n frames, waiting a moment for room, and returns how many were taken, maybe 0; the
 * sound starts with the first period. -1, with ERR_WRITE, when the device fails. */
long playback_write(struct playback *out, const char *frames, size_t n, struct err *e);

/* Waits until all has sounded. */
bool playback_finish(struct playback *out, struct err *e);

/* Closes it; what has not sounded yet never will. */
void playback_close(struct playback *out);

#endif
