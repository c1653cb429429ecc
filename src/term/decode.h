/* Bytes from a terminal become events: keys, mouse reports, pastes. Knows no terminal and no
 * clock: bytes and times (milliseconds of any steady clock) are handed in. */
#ifndef TERM_DECODE_H
#define TERM_DECODE_H

#include <stdbool.h>
#include <stddef.h>

#include "ui/event.h"

struct decode;

enum {
    DECODE_CHUNK = 4096,  /* bytes that one decode_feed() may bring */
    DECODE_PASTE = 65536, /* bytes of a paste that are kept */
};

/* A decoder that takes an Esc for a key when escape_ms pass without the rest of a sequence. Free
 * with decode_free(). */
struct decode *decode_new(int escape_ms);
void decode_free(struct decode *d);

/* Teaches a sequence that means a key. Ignored: what does not start with Esc, is longer than 16
 * bytes, would shadow a mouse report, or comes after the 48th. NULL is allowed. */
void decode_learn(struct decode *d, const char *sequence, int key);

/* Hands in the n bytes (at most DECODE_CHUNK) that came at a time. Only after decode_next() has
 * returned false. */
void decode_feed(struct decode *d, const char *bytes, size_t n, long long now);

/* The next event; false when more bytes are needed. Positions count from 0, and are not bounded by
 * a window. out->text is borrowed until the next call of anything here. */
bool decode_next(struct decode *d, struct event *out);

/* When decode_expire() should be called if no byte comes before: a time, 0 for at once (events are
 * waiting), or -1 for never. */
long long decode_due(const struct decode *d);

/* Decides about bytes that have waited for the rest of their sequence until now: a lone Esc is a
 * key, a half sequence is nothing. Call it after decode_next() has returned false and there is
 * nothing more to read; true when it gave an event. */
bool decode_expire(struct decode *d, long long now, struct event *out);

#endif
