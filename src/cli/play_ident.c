/* The order is the caution: the keys are taken first, so that any of them counts whatever happens;
 * then the device is opened, for what cannot play is not announced; then it is announced; and only
 * when that was heard it sounds. */
#include "cli/play_ident.h"

#include "cli/load.h"
#include "cli/say.h"
#include "cli/sounding.h"
#include "term/anykey.h"

static int announce(const struct playing *p, const struct booth *b, int device_channels)
{
    struct str text = {0};
    playing_say(p, b, device_channels, anykey_there(), &text);
    int status = say_now(&text);
    str_clear(&text);
    return status;
}

/* Announces and lets it sound to its end, or until something stops it. */
static int sound(const struct playing *p, const struct booth *b, struct sounding *s, struct err *e)
{
    struct sample_layout layout;
    if (anykey_wait(sounding_news(s)) || !sounding_opened(s, &layout, e))
        return 0;
    int status = announce(p, b, layout.channels);
    if (status)
        return status;
    sounding_go(s);
    if (!anykey_wait(sounding_news(s)))
        sounding_done(s, e);
    return 0;
}

static int play_watched(const struct playing *p, const struct booth *b, struct str *out)
{
    struct sounding s;
    struct err e = {0};
    int status = 0;
    if (!anykey_open(&e))
        return say_error(NULL, &e);
    if (sounding_start(&s, p, &e)) {
        status = sound(p, b, &s, &e);
        sounding_end(&s); /* silent first, then the keys are given back */
    }
    bool stopped = anykey_pressed() && !e.code && !status;
    int ended = anykey_close();
    if (ended)
        return 128 + ended;
    if (stopped)
        str_add(out, "stopped\n");
    return e.code ? say_error(NULL, &e) : status;
}

int play_ident(const struct arguments *a, struct str *out)
{
    struct err e;
    struct playing p;
    struct booth *b = load_venue(a->operands[0], &e);
    if (!b)
        return say_error(a->operands[0], &e);
    int status = playing_read(a, b, &p, &e) ? play_watched(&p, b, out)
                                            : say_error(a->operands[0], &e);
    booth_free(b);
    return status;
}
