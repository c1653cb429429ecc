/* Whole numbers wherever something is compared with a limit, so that no rounding decides.
 *
 * Clocks: two free-running cards slip rate * (ppmA + ppmB) samples in 1e6 seconds in the worst
 * case: plain arithmetic on tolerances as IEC 60958-3 and AES11 give them. Buffers: two periods,
 * the sound system's least (ALSA's own documentation, on period and buffer). */
#include "engine/timing.h"

#include <stdlib.h>

#include "base/mem.h"
#include "model/shape.h"

static const struct card *joined_card(const struct booth *b, size_t i)
{
    return booth_device(b, b->joined.v[i])->card;
}

/* --- rates ------------------------------------------------------------------------------------ */

static int compare_ints(const void *a, const void *b)
{
    int x = *(const int *)a, y = *(const int *)b;
    return (x > y) - (x < y);
}

static bool all_run_at(const struct booth *b, int rate_hz)
{
    for (size_t i = 0; i < b->joined.n; i++)
        if (!card_runs_at(joined_card(b, i), rate_hz))
            return false;
    return true;
}

struct ints timing_common_rates(const struct booth *b)
{
    static const int usual[] = {44100, 48000};
    struct ints all = {0}, common = {0};
    if (b->joined.n == 0)
        return common;
    const struct ints *of = &joined_card(b, 0)->rates_hz;
    for (size_t i = 0; i < (of->n ? of->n : 2); i++)
        ints_add(&all, of->n ? of->v[i] : usual[i]);
    qsort(all.v, all.n, sizeof *all.v, compare_ints);
    for (size_t i = 0; i < all.n; i++)
        if ((i == 0 || all.v[i] != all.v[i - 1]) && all_run_at(b, all.v[i]))
            ints_add(&common, all.v[i]);
    mem_free(all.v);
    return common;
}

/* --- clocks ----------------------------------------------------------------------------------- */

bool timing_runs_free(const struct booth *b)
{
    return b->joined.n > 1 && !b->host.drift_correction;
}

int timing_worst_ppm(const struct booth *b)
{
    int most = 0, next = 0;
    for (size_t i = 0; i < b->joined.n; i++) {
        int ppm = joined_card(b, i)->clock_ppm;
        if (ppm > most) {
            next = most;
            most = ppm;
        } else if (ppm > next) {
            next = ppm;
        }
    }
    return most + next;
}

long long timing_slips(int rate_hz, int ppm)
{
    return (long long)rate_hz * ppm;
}

void timing_say_slips(long long slips, struct str *out)
{
    if (slips == 0) {
        str_add(out, "samples slip as soon as one is less exact than told");
    } else if (slips >= 1000000) {
        long long tenths = (slips + 50000) / 100000;
        str_addf(out, "up to %lld.%lld samples slip every second", tenths / 10, tenths % 10);
    } else {
        long long tenths = (10000000 + slips / 2) / slips;
        str_addf(out, "a sample may slip every %lld.%lld seconds", tenths / 10, tenths % 10);
    }
}

/* --- buffers ---------------------------------------------------------------------------------- */

double timing_latency_ms(const struct host *h)
{
    return 2000.0 * h->buffer_frames / h->rate_hz;
}

long long timing_latency_hundredths(const struct host *h)
{
    return (200000LL * h->buffer_frames + h->rate_hz - 1) / h->rate_hz;
}

bool timing_latency_over(const struct host *h)
{
    return 2000LL * h->buffer_frames > (long long)h->latency_limit_ms * h->rate_hz;
}

long long timing_most_frames(const struct host *h)
{
    return (long long)h->latency_limit_ms * h->rate_hz / 2000;
}
