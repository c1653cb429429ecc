#include <check.h>

#include "model/shape.h"
#include "support/booth_from.h"

START_TEST(random_booths_are_sound_repeat_and_reach_what_a_file_may_hold)
{
    struct {
        int hubs, sockets, one_sided, straddles, switches, in_use, kept, found, built_in, twice;
    } met = {0};
    for (unsigned seed = 0; seed < 500; seed++) {
        struct booth *b = booth_random(seed), *again = booth_random(seed);
        ck_assert_msg(booth_equal(b, again), "seed %u", seed);
        met.hubs += b->hubs.n > 1;
        met.in_use += booth_live(b);
        met.kept += b->kept.json || b->kept.seen;
        met.found += b->found != NULL;
        for (size_t i = 0; i < b->devices.n; i++) {
            const struct device *d = &b->devices.v[i];
            met.sockets += d->socket != NULL;
            met.built_in += d->plugged.port == 0 && *d->plugged.at;
            met.straddles += d->card && d->card->out_channels % 2;
            met.twice += i && d->place == b->devices.v[i - 1].place;
            met.one_sided += d->outputs.n && d->outputs.v[0].channels.n == 1;
            met.switches += d->strips.n && d->strips.v[0].inputs.v[0].levels.n;
        }
        booth_free(b);
        booth_free(again);
    }
    ck_assert(met.hubs && met.sockets && met.one_sided && met.straddles && met.switches);
    ck_assert(met.in_use && met.kept && met.found && met.built_in && met.twice);
}
END_TEST

Suite *test_random(void)
{
    Suite *s = suite_create("model/random");
    TCase *t = tcase_create("random");
    tcase_add_test(t, random_booths_are_sound_repeat_and_reach_what_a_file_may_hold);
    suite_add_tcase(s, t);
    return s;
}
