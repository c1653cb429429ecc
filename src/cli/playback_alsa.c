/* Playing through alsa-lib.
 *
 * Nothing is left to the library that could move or change the sound: the rate is asked for
 * exactly, with its converter off, and all channels are filled here. Period and buffer are always
 * asked for, since some devices would take a buffer of minutes; it starts with the first period,
 * for a threshold above that makes the library spin on devices without a clock. What the library
 * would print is kept quiet: one sentence of ours tells. */
#include "cli/playback.h"

#include <alsa/asoundlib.h>
#include <errno.h>

#include "base/mem.h"

enum {
    PERIOD = 1024, /* frames */
    BUFFER = 4 * PERIOD,
    WAIT_MS = 50,
    FAILS = 50, /* in a row, before it is given up */
};

struct playback {
    snd_pcm_t *pcm;
    const char *device;
    struct sample_layout layout;
    snd_pcm_uframes_t period;
    int fails;
};

/* In the order in which they are tried. */
static const struct {
    snd_pcm_format_t format;
    int bytes, bits;
} forms[] = {
    {SND_PCM_FORMAT_S32_LE, 4, 32},
    {SND_PCM_FORMAT_S24_LE, 4, 24},
    {SND_PCM_FORMAT_S24_3LE, 3, 24},
    {SND_PCM_FORMAT_S16_LE, 2, 16},
};
enum { FORMS = sizeof forms / sizeof *forms };

static void say_nothing(const char *file, int line, const char *function, int err, const char *fmt,
                        ...)
{
    (void)file, (void)line, (void)function, (void)err, (void)fmt;
}

/* Fails with what the library said, but for a result that is none. */
static bool went_well(int result, const struct playback *out, const char *what, struct err *e)
{
    return result >= 0 || err_set(e, ERR_WRITE, out->device, "%s: %s", what, snd_strerror(result));
}

static bool choose_channels(struct playback *out, snd_pcm_hw_params_t *hw, int wanted,
                            struct err *e)
{
    unsigned most = 0, n = (unsigned)wanted;
    if (snd_pcm_hw_params_set_channels_min(out->pcm, hw, &n) < 0 ||
        snd_pcm_hw_params_set_channels_first(out->pcm, hw, &n) < 0) {
        snd_pcm_hw_params_get_channels_max(hw, &most);
        return err_set(e, ERR_WRITE, out->device,
                       "has at most %u channels, and the interface of this venue %d", most, wanted);
    }
    out->layout.channels = (int)n;
    return true;
}

static bool choose_form(struct playback *out, snd_pcm_hw_params_t *hw, struct err *e)
{
    for (size_t i = 0; i < FORMS; i++) {
        if (snd_pcm_hw_params_set_format(out->pcm, hw, forms[i].format) < 0)
            continue;
        out->layout.bytes_sample = forms[i].bytes;
        out->layout.bits = forms[i].bits;
        return true;
    }
    return err_set(e, ERR_WRITE, out->device, "takes none of 32, 24 and 16 bits");
}

static bool choose_rate(struct playback *out, snd_pcm_hw_params_t *hw, int rate_hz, struct err *e)
{
    snd_pcm_hw_params_set_rate_resample(out->pcm, hw, 0);
    if (snd_pcm_hw_params_set_rate(out->pcm, hw, (unsigned)rate_hz, 0) < 0)
        return err_set(e, ERR_WRITE, out->device, "does not run at %d Hz", rate_hz);
    return true;
}

static bool choose_hardware(struct playback *out, const struct playing *p, struct err *e)
{
    snd_pcm_hw_params_t *hw;
    snd_pcm_uframes_t buffer = BUFFER;
    snd_pcm_hw_params_alloca(&hw);
    out->period = PERIOD;
    if (!went_well(snd_pcm_hw_params_any(out->pcm, hw), out, "its parts agree on nothing", e) ||
        !went_well(snd_pcm_hw_params_set_access(out->pcm, hw, SND_PCM_ACCESS_RW_INTERLEAVED), out,
                   "does not take whole frames", e) ||
        !choose_rate(out, hw, p->rate_hz, e) || !choose_channels(out, hw, p->channels, e) ||
        !choose_form(out, hw, e))
        return false;
    snd_pcm_hw_params_set_period_size_near(out->pcm, hw, &out->period, NULL);
    snd_pcm_hw_params_set_buffer_size_near(out->pcm, hw, &buffer);
    if (!went_well(snd_pcm_hw_params(out->pcm, hw), out, "cannot be set up", e))
        return false;
    snd_pcm_hw_params_get_period_size(hw, &out->period, NULL);
    return true;
}

static bool choose_start(struct playback *out, struct err *e)
{
    snd_pcm_sw_params_t *sw;
    snd_pcm_sw_params_alloca(&sw);
    snd_pcm_sw_params_current(out->pcm, sw);
    snd_pcm_sw_params_set_start_threshold(out->pcm, sw, out->period);
    return went_well(snd_pcm_sw_params(out->pcm, sw), out, "cannot be set up", e);
}

struct playback *playback_open(const struct playing *p, struct err *e)
{
    struct playback *out = mem_new(1, sizeof *out);
    out->device = p->device;
    snd_lib_error_set_handler(say_nothing);
    int result = snd_pcm_open(&out->pcm, p->device, SND_PCM_STREAM_PLAYBACK, SND_PCM_NONBLOCK);
    if (went_well(result, out, "cannot be opened to play", e) && choose_hardware(out, p, e) &&
        choose_start(out, e))
        return out;
    playback_close(out);
    return NULL;
}

struct sample_layout playback_layout(const struct playback *out)
{
    return out->layout;
}

size_t playback_period(const struct playback *out)
{
    return out->period;
}

/* Goes on after the device ran dry, or slept; waits where there is no room, and where a signal
 * came the caller looks. */
static bool overcome(struct playback *out, int failure, struct err *e)
{
    if (failure == -EINTR)
        return true;
    if (failure == -EAGAIN) {
        snd_pcm_wait(out->pcm, WAIT_MS);
        return true;
    }
    if (out->fails++ < FAILS && snd_pcm_recover(out->pcm, failure, 1) >= 0)
        return true;
    return went_well(failure, out, "fails while it plays", e);
}

long playback_write(struct playback *out, const char *frames, size_t n, struct err *e)
{
    snd_pcm_sframes_t taken = snd_pcm_writei(out->pcm, frames, n);
    if (taken < 0)
        return overcome(out, (int)taken, e) ? 0 : -1;
    out->fails = 0;
    return taken;
}

bool playback_finish(struct playback *out, struct err *e)
{
    snd_pcm_nonblock(out->pcm, 0); /* what is left is less than a tenth of a second */
    return went_well(snd_pcm_drain(out->pcm), out, "fails while it plays", e);
}

void playback_close(struct playback *out)
{
    if (out->pcm) {
        snd_pcm_drop(out->pcm);
        snd_pcm_close(out->pcm);
    }
    snd_config_update_free_global();
    mem_free(out);
}
