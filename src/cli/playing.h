/* What is to be played: the ident of one deck, on the channels of the interface that the deck
 * plays to, with silence on all others. */
#ifndef CLI_PLAYING_H
#define CLI_PLAYING_H

#include "base/str.h"
#include "cli/arguments.h"
#include "engine/ident.h"
#include "model/booth.h"

enum {
    PLAYING_LOUDEST = -18, /* dB full scale by peak: the ident's own alignment level, the cap */
    PLAYING_SOFTEST = -60,
};

struct playing {
    const char *device; /* its name in the sound library: the argument */
    enum ident kind;
    int deck;         /* its place in the booth's list */
    int rate_hz;      /* 44100 or 48000 */
    int channels;     /* of the interface */
    struct pair pair; /* of those, from 0; both the same for a single one */
    int level_db;     /* from PLAYING_SOFTEST to PLAYING_LOUDEST */
    int64_t frames;
};

/* Reads what is to be played from the arguments of "ident FILE DECK --play DEVICE". False, with
 * ERR_USAGE, when the options do not go together, or the booth gives the deck no channels of the
 * interface or the host a rate without an ident. */
bool playing_read(const struct arguments *a, const struct booth *b, struct playing *p,
                  struct err *e);

/* Appends what is to be said before it sounds: where it plays to, and the caution. device_channels:
 * how many the device was opened with; keys: whether a key can stop it. */
void playing_say(const struct playing *p, const struct booth *b, int device_channels, bool keys,
                 struct str *out);

/* Where frames go: how a device was opened. */
struct sample_layout {
    int channels;     /* of the device: at least those of the interface */
    int bytes_sample; /* that a sample takes up: 2 to 4 */
    int bits;         /* of those used, the lowest: 16, 24 or 32; little-endian, signed */
};

/* Writes n frames from the frame at on (at + n is at most p->frames): n * channels * bytes_sample
 * bytes. A single channel gets the mean of both sides, so that it is no louder than a pair. */
void playing_fill(const struct playing *p, const struct sample_layout *to, int64_t at, size_t n,
                  char *out);

#endif
