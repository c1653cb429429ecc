/* Why a way is not open: the first reason that holds, in domain.md's order, as one sentence. */
#include <stdarg.h>
#include <stdio.h>

#include "base/mem.h"
#include "engine/plan_parts.h"
#include "model/say.h"

void plan_refuse(struct plan *p, const char *fmt, ...)
{
    va_list args, again;
    va_start(args, fmt);
    va_copy(again, args);
    size_t size = (size_t)vsnprintf(NULL, 0, fmt, args) + 1;
    char *text = mem_new(size, 1);
    vsnprintf(text, size, fmt, again);
    va_end(args);
    va_end(again);
    text_set(&p->why_not, text);
    mem_free(text);
}

/* How many would serve, and are in use or not. */
static int count(const struct asked *a, would_serve *would, bool in_use)
{
    int n = 0;
    for (size_t i = 0; i < a->b->devices.n; i++) {
        const struct device *d = &a->b->devices.v[i];
        n += would(a, d) && (d->in_use != NULL) == in_use;
    }
    return n;
}

/* Appends "P1 is in use by Robin, P2 by Kim and 3 more", told from the left of the file. */
static void say_used(const struct asked *a, would_serve *would, struct str *out)
{
    enum { NAMED = 2 };
    int n = 0;
    for (size_t i = 0; i < a->b->devices.n; i++) {
        const struct device *d = &a->b->devices.v[i];
        if (!would(a, d) || !d->in_use || n++ >= NAMED)
            continue;
        str_addf(out, "%s%s%s by %s", n > 1 ? ", " : "", d->label, n > 1 ? "" : " is in use",
                 d->in_use);
    }
    if (n > NAMED)
        str_addf(out, " and %d more", n - NAMED);
}

void plan_refuse_few(const struct asked *a, struct plan *p, would_serve *would, const char *there)
{
    struct str text = {0};
    int free = count(a, would, false), used = count(a, would, true);
    if (free)
        str_addf(&text, "%s for %d wanted strip%s%s", there, a->n, a->n == 1 ? "" : "s",
                 used ? "; " : "");
    say_used(a, would, &text);
    plan_refuse(p, "%s", str_text(&text));
    str_clear(&text);
}

/* The first wish that nobody who is free fits; -1: each is fitted by somebody. */
static int unfitted(const struct asked *a, would_serve *would)
{
    for (int i = 0; i < a->n; i++) {
        bool fitted = false;
        for (size_t k = 0; k < a->b->devices.n && !fitted; k++) {
            struct feeder by = {&a->b->devices.v[k], NULL, -1};
            fitted = would(a, by.device) && !by.device->in_use &&
                     feed_of(a, &a->wishes[i], &by).fits;
        }
        if (!fitted)
            return i;
    }
    return -1;
}

/* Whether use keeps a wish, or any (-1), from one more way of being fitted: of a device, or of a
 * cable. */
static bool use_keeps(const struct asked *a, would_serve *would, int wish)
{
    for (int i = 0; i < a->n; i++)
        for (size_t k = 0; k < a->b->devices.n && (wish < 0 || wish == i); k++) {
            struct feeder by = {&a->b->devices.v[k], NULL, -1};
            if (!would(a, by.device))
                continue;
            struct feed f = feed_of(a, &a->wishes[i], &by);
            if (f.held || (f.fits && by.device->in_use))
                return true;
        }
    return false;
}

void plan_refuse_fit(const struct asked *a, struct plan *p, would_serve *would,
                     const char *const of[2])
{
    int wish = unfitted(a, would);
    const char *unless = use_keeps(a, would, wish) ? " without touching what is in use" : "";
    struct str strip = {0};
    if (wish >= 0) {
        say_thing(a->b, circuit_strip(a->c, a->wishes[wish].strip)->id, &strip);
        plan_refuse(p, "no output of %s fits %s%s", of[0], str_text(&strip), unless);
        str_clear(&strip);
    } else {
        plan_refuse(p, "no choice of %s fits every wanted strip at once%s", of[1], unless);
    }
}
