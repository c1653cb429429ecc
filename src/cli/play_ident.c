/* The order is the caution: the device is opened first, for what cannot play is not announced; then
 * the keys are taken, so that they count from the announcement on; then it is announced; and only
 * when that was heard it sounds. Between two periods, of some 20 ms, it looks whether to stop. */
#include "cli/play_ident.h"

#include "base/mem.h"
#include "cli/load.h"
#include "cli/playback.h"
#include "cli/say.h"
#include "term/anykey.h"

/* Hands over all frames, and waits for the last, unless something stops it. */
static bool play_frames(const struct playing *p, struct playback *to, char *buffer, struct err *e)
{
    struct sample_layout layout = playback_layout(to);
    int64_t period = (int64_t)playback_period(to);
    for (int64_t at = 0; at < p->frames && !anykey_pressed();) {
        size_t n = (size_t)(p->frames - at < period ? p->frames - at : period);
        playing_fill(p, &layout, at, n, buffer);
        long taken = playback_write(to, buffer, n, e);
        if (taken < 0)
            return false;
        at += taken;
    }
    return anykey_pressed() || playback_finish(to, e);
}

static int announce(const struct playing *p, const struct booth *b, int device_channels)
{
    struct str text = {0};
    playing_say(p, b, device_channels, anykey_there(), &text);
    int status = say_now(&text);
    str_clear(&text);
    return status;
}

/* Announces, plays and closes; the keys are ours meanwhile, and until it is silent. */
static int play_watched(const struct playing *p, const struct booth *b, struct playback *to,
                        struct str *out)
{
    struct sample_layout layout = playback_layout(to);
    char *buffer = mem_new(playback_period(to),
                           (size_t)layout.channels * (size_t)layout.bytes_sample);
    struct err e = {0};
    int status = 0, ended = 0;
    bool watched = anykey_open(&e);
    if (watched)
        status = announce(p, b, layout.channels);
    if (watched && !status && play_frames(p, to, buffer, &e) && anykey_pressed())
        str_add(out, "stopped\n");
    playback_close(to); /* silent first, then the keys are given back */
    if (watched)
        ended = anykey_close();
    mem_free(buffer);
    if (ended)
        return 128 + ended;
    return e.code ? say_error(NULL, &e) : status;
}

static int play_booth(const struct arguments *a, const struct booth *b, struct str *out)
{
    struct playing p;
    struct err e;
    if (!playing_read(a, b, &p, &e))
        return say_error(a->operands[0], &e);
    struct playback *to = playback_open(&p, &e);
    if (!to)
        return say_error(NULL, &e);
    return play_watched(&p, b, to, out);
}

int play_ident(const struct arguments *a, struct str *out)
{
    struct err e;
    struct booth *b = load_venue(a->operands[0], &e);
    if (!b)
        return say_error(a->operands[0], &e);
    int status = play_booth(a, b, out);
    booth_free(b);
    return status;
}
