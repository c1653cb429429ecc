/* Rates, clocks and buffers of the interface: what its cards have in common, how soon their
 * samples slip, and how long the sound is on its way. Values carry their source in timing.c. */
#ifndef ENGINE_TIMING_H
#define ENGINE_TIMING_H

#include <stdbool.h>

#include "base/str.h"
#include "model/booth.h"

/* The rates in Hz at which every joined card can run, ascending, each once; none when nothing is
 * joined. Free the v of it with mem_free(). */
struct ints timing_common_rates(const struct booth *b);

/* Whether several joined cards run on clocks of their own that nothing corrects. */
bool timing_runs_free(const struct booth *b);

/* How far the clocks of the worst two joined cards may part, in ppm: their tolerances added. */
int timing_worst_ppm(const struct booth *b);

/* How many samples slip in 1e6 seconds, in the worst case, between two clocks that part by so many
 * ppm at a rate in Hz: rate * ppm. 0: none, as long as both are as exact as told. */
long long timing_slips(int rate_hz, int ppm);

/* Appends how often that is: "a sample may slip every 0.2 seconds". */
void timing_say_slips(long long slips, struct str *out);

/* How long the sound is in the host's buffers, in ms: two of them, frames over rate each. */
double timing_latency_ms(const struct host *h);
/* The same in hundredths of a ms, rounded up; whether it is more than the host's limit (exact);
 * the largest buffer, in frames, that is not. */
long long timing_latency_hundredths(const struct host *h);
bool timing_latency_over(const struct host *h);
long long timing_most_frames(const struct host *h);

#endif
