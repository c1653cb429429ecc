/* Playing through alsa-lib with a configuration of our own: nothing of the machine's sound set-up
 * is read, and no sound card is needed.
 *
 * Each tone makes a whole number of turns in what is played, so that one bin of a Fourier
 * transform tells it from every other, and the power of a channel is the sum of its tones'. */
#include "alsa/interface.h"

#ifdef HAVE_alsa
#include <alsa/asoundlib.h>
#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "support/scratch_file.h"

enum { FRAMES = 256, PERIOD = 128, BUFFER = 256, RATE = 48000, AMPLITUDE = 1000 };

/* How often a tone turns while it is played. */
static int turns(size_t tone)
{
    return 3 + 3 * (int)tone;
}

static double angle(size_t tone, int frame)
{
    static const double full = 6.283185307179586;
    return full * turns(tone) * frame / FRAMES;
}

static void must(int result, const char *what)
{
    ck_assert_msg(result >= 0, "alsa-lib: %s: %s", what, snd_strerror(result));
}

static const char *file_of(size_t card)
{
    char name[32];
    snprintf(name, sizeof name, "card%zu.raw", card);
    return scratch(name);
}

/* --- the configuration ------------------------------------------------------------------------ */

/* The cards one after the other: every channel of each, in the order of joining. */
static int combine(struct str *out, const int *cards, size_t n_cards)
{
    int channels = 0;
    for (size_t i = 0; i < n_cards; i++)
        str_addf(out, "pcm.card%zu { type file file \"%s\" format raw slave.pcm { type null } }\n",
                 i, file_of(i));
    str_add(out, "pcm.interface { type multi master 0\n");
    for (size_t i = 0; i < n_cards; i++)
        str_addf(out, "slaves.s%zu { pcm card%zu channels %d }\n", i, i, cards[i]);
    for (size_t i = 0; i < n_cards; i++)
        for (int k = 0; k < cards[i]; k++)
            str_addf(out, "bindings.%d { slave s%zu channel %d }\n", channels++, i, k);
    str_add(out, "}\n");
    return channels;
}

static void put_on_channels(struct str *out, int channels, const int *to, size_t n_tones)
{
    str_addf(out, "pcm.host { type route slave { pcm interface channels %d } ttable {", channels);
    for (size_t i = 0; i < n_tones; i++)
        if (to[i] >= 0 && to[i] < channels)
            str_addf(out, " %zu.%d 1", i, to[i]);
    str_add(out, " } }\n");
}

static snd_pcm_t *open_configured(const struct str *text)
{
    snd_config_t *top = NULL;
    snd_input_t *in = NULL;
    snd_pcm_t *pcm = NULL;
    must(snd_config_top(&top), "an empty configuration");
    must(snd_input_buffer_open(&in, str_text(text), (ssize_t)text->len), "its text");
    must(snd_config_load(top, in), "reading the configuration");
    snd_input_close(in);
    must(snd_pcm_open_lconf(&pcm, "host", SND_PCM_STREAM_PLAYBACK, 0, top), "opening");
    snd_config_delete(top);
    return pcm;
}

/* --- playing ---------------------------------------------------------------------------------- */

static void set_up(snd_pcm_t *pcm, unsigned tones)
{
    snd_pcm_hw_params_t *hw;
    snd_pcm_sw_params_t *sw;
    snd_pcm_hw_params_alloca(&hw);
    snd_pcm_sw_params_alloca(&sw);
    must(snd_pcm_hw_params_any(pcm, hw), "what the cards have in common");
    must(snd_pcm_hw_params_set_access(pcm, hw, SND_PCM_ACCESS_RW_INTERLEAVED), "interleaving");
    must(snd_pcm_hw_params_set_format(pcm, hw, SND_PCM_FORMAT_S16), "16 bits");
    must(snd_pcm_hw_params_set_channels(pcm, hw, tones), "the number of tones");
    must(snd_pcm_hw_params_set_rate(pcm, hw, RATE, 0), "the rate");
    must(snd_pcm_hw_params_set_period_size(pcm, hw, PERIOD, 0), "the period");
    must(snd_pcm_hw_params_set_buffer_size(pcm, hw, BUFFER), "the buffer");
    must(snd_pcm_hw_params(pcm, hw), "the hardware's settings");
    must(snd_pcm_sw_params_current(pcm, sw), "the software's settings");
    must(snd_pcm_sw_params_set_start_threshold(pcm, sw, PERIOD), "when to start");
    must(snd_pcm_sw_params(pcm, sw), "the software's settings");
}

/* Frame by frame, each tone in a channel of its own. */
static void play_tones(snd_pcm_t *pcm, size_t n_tones)
{
    int16_t frames[FRAMES * TONES_MAX];
    for (int i = 0; i < FRAMES; i++)
        for (size_t k = 0; k < n_tones; k++)
            frames[(size_t)i * n_tones + k] = (int16_t)lround(AMPLITUDE * sin(angle(k, i)));
    for (size_t done = 0; done < FRAMES;) {
        snd_pcm_sframes_t n = snd_pcm_writei(pcm, frames + done * n_tones, FRAMES - done);
        must((int)n, "playing");
        done += (size_t)n;
    }
    must(snd_pcm_drain(pcm), "playing to the end");
}

void interface_play(const int *cards, size_t n_cards, const int *to, size_t n_tones)
{
    ck_assert(n_cards >= 1 && n_cards <= CARDS_MAX && n_tones >= 1 && n_tones <= TONES_MAX);
    struct str text = {0};
    put_on_channels(&text, combine(&text, cards, n_cards), to, n_tones);
    snd_pcm_t *pcm = open_configured(&text);
    set_up(pcm, (unsigned)n_tones);
    play_tones(pcm, n_tones);
    must(snd_pcm_close(pcm), "closing");
    snd_config_update_free_global();
    str_clear(&text);
}

/* --- listening -------------------------------------------------------------------------------- */

/* The amplitude of a tone: one bin of a Fourier transform, by Goertzel's recurrence. */
static double amplitude(const double *samples, size_t tone)
{
    double turn = 2 * cos(angle(tone, 1)), last = 0, before = 0;
    for (int i = 0; i < FRAMES; i++) {
        double next = samples[i] + turn * last - before;
        before = last;
        last = next;
    }
    double power = last * last + before * before - turn * last * before;
    return 2 * sqrt(fabs(power)) / FRAMES;
}

static uint32_t tones_in(const double *samples)
{
    uint32_t tones = 0;
    double power = 0, explained = 0;
    for (size_t i = 0; i < TONES_MAX; i++) {
        double a = amplitude(samples, i) / AMPLITUDE;
        ck_assert_msg(a < 0.01 || fabs(a - 1) < 0.01, "tone %zu arrived %g times as loud", i, a);
        if (a < 0.01)
            continue;
        tones |= UINT32_C(1) << i;
        explained += AMPLITUDE * AMPLITUDE / 2.0;
    }
    for (int i = 0; i < FRAMES; i++)
        power += samples[i] * samples[i] / FRAMES;
    ck_assert_msg(fabs(power - explained) <= 0.01 * AMPLITUDE * AMPLITUDE,
                  "there is more than tones: power %g, of which tones %g", power, explained);
    return tones;
}

void interface_listen(size_t card, int channels, uint32_t tones[CARD_CHANNELS_MAX])
{
    static int16_t got[FRAMES * CARD_CHANNELS_MAX + 1];
    FILE *f = fopen(file_of(card), "rb");
    ck_assert_msg(f != NULL, "card %zu has no file", card);
    ck_assert_int_le(channels, CARD_CHANNELS_MAX);
    size_t n = fread(got, sizeof *got, sizeof got / sizeof *got, f);
    fclose(f);
    ck_assert_uint_eq(n, (size_t)(FRAMES * channels));
    for (int k = 0; k < channels; k++) {
        double samples[FRAMES];
        for (int i = 0; i < FRAMES; i++)
            samples[i] = got[i * channels + k];
        tones[k] = tones_in(samples);
    }
}
#endif
