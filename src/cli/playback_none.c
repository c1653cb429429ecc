/* Built without a sound library: nothing can be played, and what cannot be opened is never asked
 * for more. */
#include "cli/playback.h"

#include <assert.h>
#include <stddef.h>

struct playback *playback_open(const struct playing *p, struct err *e)
{
    (void)p;
    err_set(e, ERR_USAGE, NULL,
            "this build cannot play, for alsa-lib was not there when it was made; write the ident "
            "to a file instead, without --play");
    return NULL;
}

struct sample_layout playback_layout(const struct playback *out)
{
    (void)out;
    assert(!out); /* for nothing is ever open */
    return (struct sample_layout){0};
}

size_t playback_period(const struct playback *out)
{
    (void)out;
    assert(!out);
    return 0;
}

long playback_write(struct playback *out, const char *frames, size_t n, struct err *e)
{
    (void)frames, (void)n, (void)e;
    (void)out;
    assert(!out);
    return -1;
}

bool playback_finish(struct playback *out, struct err *e)
{
    (void)e;
    (void)out;
    assert(!out);
    return false;
}

void playback_close(struct playback *out)
{
    (void)out;
    assert(!out);
}
