/* Who plays a tone into a booth must hit the right pair and no other, and never louder than was
 * announced: all of that is decided here, where no sound library is needed to test it. */
#include "cli/playing.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/utf8.h"
#include "cli/ident_asked.h"
#include "cli/say.h"
#include "engine/circuit.h"
#include "engine/route.h"

/* --- what is asked for ------------------------------------------------------------------------ */

static bool read_level(const struct arguments *a, struct playing *p, struct err *e)
{
    const char *text = arguments_value(a, OPTION_LEVEL);
    p->level_db = PLAYING_LOUDEST;
    if (!text)
        return true;
    char *end;
    long level = strtol(text, &end, 10);
    if (end == text || *end || level < PLAYING_SOFTEST || level > PLAYING_LOUDEST)
        return err_set(e, ERR_USAGE, NULL,
                       "\"%.40s\" is not a level to play an ident at; expected a whole number of "
                       "dB full scale from %d to %d, for it is never played louder",
                       text, PLAYING_SOFTEST, PLAYING_LOUDEST);
    p->level_db = (int)level;
    return true;
}

static bool read_rate(const struct arguments *a, const struct booth *b, struct playing *p,
                      struct err *e)
{
    if (!ident_asked_rate(a, b, &p->rate_hz, e))
        return false;
    return p->rate_hz || err_set(e, ERR_USAGE, NULL,
                                 "the host runs at %d Hz, and an ident at 44100 or 48000; set the "
                                 "host to one of those, or give --rate",
                                 b->host.rate_hz);
}

static bool read_pair(const struct booth *b, struct playing *p, struct err *e)
{
    struct circuit *c = circuit_new(b);
    const char *label = b->decks.v[p->deck].label;
    p->channels = c->channels;
    p->pair = route_effective(c, p->deck);
    circuit_free(c);
    if (p->pair.left < 0)
        return err_set(e, ERR_USAGE, NULL,
                       "host deck \"%.64s\" plays to no channels: it is set to none, and has no "
                       "route to a strip",
                       label);
    int highest = p->pair.left > p->pair.right ? p->pair.left : p->pair.right;
    if (highest >= p->channels)
        return err_set(e, ERR_USAGE, NULL,
                       "host deck \"%.64s\" is set to channel %d, counted from 1, and the "
                       "interface has %d",
                       label, highest + 1, p->channels);
    return true;
}

bool playing_read(const struct arguments *a, const struct booth *b, struct playing *p,
                  struct err *e)
{
    *p = (struct playing){.device = arguments_value(a, OPTION_PLAY), .kind = ident_asked_kind(a)};
    if (a->options & (OPTION_ALL | OPTION_INTO) || a->n != 2)
        return err_set(e, ERR_USAGE, NULL,
                       "to play, it is: boothwright ident FILE DECK --play DEVICE");
    if (!*p->device)
        return err_set(e, ERR_USAGE, NULL, "--play needs the name of a sound device after it");
    p->deck = ident_asked_deck(b, a->operands[1], e);
    if (p->deck < 0 || !read_level(a, p, e) || !read_rate(a, b, p, e) || !read_pair(b, p, e))
        return false;
    p->frames = ident_frames(p->kind, p->deck + 1, p->rate_hz);
    return true;
}

/* --- what is said ----------------------------------------------------------------------------- */

static void say_channels(const struct playing *p, int device_channels, struct str *out)
{
    if (p->pair.left == p->pair.right)
        str_addf(out, "channel %d", p->pair.left + 1);
    else
        str_addf(out, "channels %d and %d", p->pair.left + 1, p->pair.right + 1);
    str_addf(out, " (from 1) of the %d of ", device_channels);
    utf8_safe(out, p->device, -1, say_ascii());
}

void playing_say(const struct playing *p, const struct booth *b, int device_channels, bool keys,
                 struct str *out)
{
    struct circuit *c = circuit_new(b);
    int64_t tenths = p->frames * 10 / p->rate_hz;
    utf8_safe(out, b->decks.v[p->deck].label, -1, say_ascii());
    str_add(out, " plays to the host's pair ");
    route_show(c, p->pair, out);
    str_add(out, ", which is ");
    say_channels(p, device_channels, out);
    str_addf(out, "; %d.%d s, %d dB full scale\n", (int)(tenths / 10), (int)(tenths % 10),
             p->level_db);
    str_addf(out, "faders and headphones down first, then up slowly; %s\n",
             keys ? "any key stops it" : "it plays to its end");
    circuit_free(c);
}

/* --- what is played --------------------------------------------------------------------------- */

/* How much softer than the ident is made. */
static double gain(const struct playing *p)
{
    return pow(10.0, (p->level_db - PLAYING_LOUDEST) / 20.0);
}

/* A sample, given in units of 24 bits. */
static void put_sample(const struct sample_layout *to, double value, char *at)
{
    long long sample = llrint(ldexp(value, to->bits - 24));
    for (int i = 0; i < to->bytes_sample; i++)
        at[i] = (char)(unsigned char)((unsigned long long)sample >> (8 * i) & 0xff);
}

void playing_fill(const struct playing *p, const struct sample_layout *to, int64_t at, size_t n,
                  char *out)
{
    assert(at >= 0 && at + (int64_t)n <= p->frames && to->channels >= p->channels);
    size_t width = (size_t)to->bytes_sample, frame = width * (size_t)to->channels;
    double softer = gain(p);
    memset(out, 0, n * frame);
    for (size_t i = 0; i < n; i++) {
        int32_t side[2];
        ident_frame(p->kind, p->deck + 1, p->rate_hz, at + (int64_t)i, side);
        double left = softer * side[0], right = softer * side[1];
        if (p->pair.left == p->pair.right)
            left = right = (left + right) / 2;
        put_sample(to, left, out + i * frame + (size_t)p->pair.left * width);
        put_sample(to, right, out + i * frame + (size_t)p->pair.right * width);
    }
}
