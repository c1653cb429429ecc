/* Laws of the budget, tried on random booths; a failure prints the seed that brings it back. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/budget.h"
#include "engine/faults.h"
#include "model/shape.h"
#include "model/sound.h"
#include "model/thing.h"
#include "support/booth_from.h"
#include "support/records.h"

enum { BOOTHS = 1500 };

/* Puts so many new hubs, each with a supply, between a plug and where it stood. */
static void deepen(struct booth *b, struct plug *plug, int hubs)
{
    struct plug at = *plug;
    for (int i = 0; i < hubs && b->hubs.n < MAX_HUBS; i++) {
        struct hub *h = add_record(&shape_booth, b, "hubs");
        snprintf(h->id, sizeof h->id, "between%zu", b->hubs.n);
        h->ports = 2;
        h->self_powered = true;
        h->plugged = at;
        snprintf(at.at, sizeof at.at, "%s", h->id);
        at.port = 1;
    }
    *plug = at;
}

/* The device that the seed chooses, among those in a port or of those that are joined; or NULL. */
static struct device *choose(struct booth *b, unsigned seed, bool joined)
{
    struct device *fits[MAX_DEVICES];
    size_t n = 0;
    for (size_t i = 0; i < b->devices.n; i++) {
        struct device *d = &b->devices.v[i];
        if (joined ? booth_joined_at(b, d->id) >= 0 : *d->plugged.at && d->plugged.port)
            fits[n++] = d;
    }
    return n ? fits[seed % n] : NULL;
}

/* A random booth; every fourth one with a device far down. */
static struct booth *some_booth(unsigned seed)
{
    struct booth *b = booth_random(seed);
    struct device *d = choose(b, seed, false);
    if (d && seed % 4 == 0)
        deepen(b, &d->plugged, 6);
    return b;
}

/* --- the budget is over exactly where the fault is found -------------------------------------- */

static void add(struct texts *out, const char *slug, const char *a, const char *b)
{
    struct str line = {0};
    str_addf(&line, "%s %s %s", slug, a, b);
    if (texts_find(out, str_text(&line)) < 0)
        texts_add(out, str_text(&line));
    str_clear(&line);
}

/* The faults of these kinds, each as its slug and what it is about. */
static void say_faults(const struct booth *b, struct texts *out)
{
    struct circuit *c = circuit_new(b);
    struct faults all = faults_find(c);
    for (size_t i = 0; i < all.n; i++) {
        const struct fault *f = &all.v[i];
        const char *first = f->subjects.v[0], *next = f->subjects.n > 1 ? f->subjects.v[1] : "";
        if (strcmp(f->slug, "usb-bandwidth") == 0) /* its cards follow: one lane, one finding */
            add(out, f->slug, first, next);
        else if (strcmp(f->slug, "usb-power") == 0 || strcmp(f->slug, "level-mismatch") == 0)
            add(out, f->slug, first, next);
        else if (strcmp(f->slug, "usb-ports") == 0 || strcmp(f->slug, "no-common-rate") == 0 ||
                 strcmp(f->slug, "long-latency") == 0)
            add(out, f->slug, first, "");
        else if (strcmp(f->slug, "usb-depth") == 0)
            add(out, f->slug, booth_device(b, first)->plugged.at, "");
        else if (strcmp(f->slug, "free-running-clocks") == 0)
            add(out, f->slug, "", "");
    }
    faults_clear(&all);
    circuit_free(c);
}

static const char *first_card(const struct booth *b, struct usb_lane lane)
{
    for (size_t i = 0; i < b->devices.n; i++)
        if (usb_lane_same(lane, usb_lane_of(b, &b->devices.v[i])))
            return b->devices.v[i].id;
    return "nobody";
}

static void say_over(const struct booth *b, struct texts *out)
{
    struct budget *o = budget_make(b);
    for (size_t i = 0; i < o->n_buses; i++)
        if (o->buses[i].row.over)
            add(out, "usb-bandwidth", o->buses[i].lane.at, first_card(b, o->buses[i].lane));
    for (size_t i = 0; i < o->n_leads; i++)
        if (o->leads[i].row.over)
            add(out, "usb-power", o->leads[i].plug->at, o->leads[i].thing);
    for (size_t i = 0; i < o->n_hubs; i++) {
        if (o->hubs[i].ports_over)
            add(out, "usb-ports", o->hubs[i].at, "");
        if (o->hubs[i].hubs_over)
            add(out, "usb-depth", o->hubs[i].at, "");
    }
    for (size_t i = 0; i < o->n_cards; i++)
        if (o->cards[i].row.over)
            add(out, "no-common-rate", o->cards[i].device->id, "");
    for (size_t i = 0; i < o->n_levels; i++)
        if (o->levels[i].row.over)
            add(out, "level-mismatch", o->levels[i].cable->from, o->levels[i].cable->to);
    for (size_t i = 0; i < o->n_clocks; i++)
        if (o->clocks[i].row.over)
            add(out, "free-running-clocks", "", "");
    if (o->latency_over)
        add(out, "long-latency", "host", "");
    budget_free(o);
}

START_TEST(something_is_over_exactly_where_its_fault_is_found)
{
    size_t found = 0, deep = 0;
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = some_booth(seed);
        struct texts faults = {0}, over = {0};
        say_faults(b, &faults);
        say_over(b, &over);
        for (size_t i = 0; i < faults.n; i++) {
            ck_assert_msg(texts_find(&over, faults.v[i]) >= 0, "seed %u: only a fault: %s", seed,
                          faults.v[i]);
            deep += strncmp(faults.v[i], "usb-depth", 9) == 0;
        }
        for (size_t i = 0; i < over.n; i++)
            ck_assert_msg(texts_find(&faults, over.v[i]) >= 0, "seed %u: only over: %s", seed,
                          over.v[i]);
        found += faults.n;
        texts_clear(&faults);
        texts_clear(&over);
        booth_free(b);
    }
    ck_assert_uint_gt(found, BOOTHS);
    ck_assert_uint_gt(deep, BOOTHS / 10);
}
END_TEST

/* What is more than there is, is over; what is over by its figures alone is marked. Current: a hub
 * may be over for other reasons, or hold too much in all only where a port or its number is. */
static void check_figures(const struct budget *o, unsigned seed)
{
    for (size_t i = 0; i < o->n_buses; i++) {
        const struct budget_bus *u = &o->buses[i];
        bool more = u->ns.used > u->ns.most || u->bytes.used > u->bytes.most;
        ck_assert_msg(u->row.over == more && more == (u->row.share > 1000000), "seed %u", seed);
    }
    for (size_t i = 0; i < o->n_leads; i++)
        ck_assert_msg(o->leads[i].ma.used <= o->leads[i].ma.most || o->leads[i].row.over, "seed %u",
                      seed);
    for (size_t i = 0; i < o->n_hubs; i++) {
        const struct budget_hub *h = &o->hubs[i];
        ck_assert_msg(h->ports.used <= h->ports.most || h->ports_over, "seed %u", seed);
        ck_assert_msg(h->hubs_over <= (h->hubs.used > h->hubs.most), "seed %u", seed);
    }
    const struct budget_row *before = NULL;
    for (size_t i = 0; i < o->n_hubs; before = &o->hubs[i++].row)
        ck_assert_msg(
            !before || before->over > o->hubs[i].row.over ||
                (before->over == o->hubs[i].row.over && before->share >= o->hubs[i].row.share),
            "seed %u", seed);
}

START_TEST(figures_and_marks_agree_and_the_worst_comes_first)
{
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = some_booth(seed);
        struct budget *o = budget_make(b);
        check_figures(o, seed);
        budget_free(o);
        booth_free(b);
    }
}
END_TEST

/* --- more never uses less --------------------------------------------------------------------- */

static const struct budget_bus *bus_of(const struct budget *o, struct usb_lane lane)
{
    for (size_t i = 0; i < o->n_buses; i++)
        if (usb_lane_same(o->buses[i].lane, lane))
            return &o->buses[i];
    return NULL;
}

/* Every bus carries at least what it did; clocks slip at least as often. Returns how many buses
 * carry more. */
static size_t check_more(const struct booth *less, const struct booth *more, unsigned seed)
{
    struct budget *before = budget_make(less), *after = budget_make(more);
    size_t grown = 0;
    ck_assert_msg(before->n_buses == after->n_buses, "seed %u", seed);
    for (size_t i = 0; i < before->n_buses; i++) {
        const struct budget_bus *was = &before->buses[i], *is = bus_of(after, was->lane);
        ck_assert_msg(is && is->ns.used >= was->ns.used && is->bytes.used >= was->bytes.used &&
                          is->row.share >= was->row.share && is->row.over >= was->row.over,
                      "seed %u, %s", seed, was->lane.at);
        grown += is->ns.used > was->ns.used;
    }
    for (size_t i = 0; i < before->n_clocks; i++)
        ck_assert_msg(after->clocks[i].per_second >= before->clocks[i].per_second, "seed %u", seed);
    budget_free(before);
    budget_free(after);
    return grown;
}

START_TEST(more_channels_never_use_less)
{
    size_t grown = 0;
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        unsigned long long dice = seed;
        struct booth *b = booth_random(seed), *more = booth_copy(b);
        struct device *d = choose(more, seed, true);
        if (d) {
            d->card->out_channels += (int)random_below(&dice, 60);
            d->card->in_channels += (int)random_below(&dice, 60);
            grown += check_more(b, more, seed);
        }
        booth_free(more);
        booth_free(b);
    }
    ck_assert_uint_gt(grown, BOOTHS / 4);
}
END_TEST

START_TEST(a_higher_rate_never_uses_less)
{
    size_t grown = 0;
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        unsigned long long dice = seed;
        struct booth *b = booth_random(seed), *more = booth_copy(b);
        more->host.rate_hz += 1 + (int)random_below(&dice, 100000);
        grown += check_more(b, more, seed);
        booth_free(more);
        booth_free(b);
    }
    ck_assert_uint_gt(grown, BOOTHS / 4);
}
END_TEST

/* All the buses' and translators' time, the hubs in a row, the ports that are taken. */
struct totals {
    long ns, hubs, things;
};

static struct totals totals_of(const struct booth *b)
{
    struct budget *o = budget_make(b);
    struct totals t = {0};
    for (size_t i = 0; i < o->n_buses; i++)
        t.ns += o->buses[i].ns.used;
    for (size_t i = 0; i < o->n_hubs; i++) {
        t.things += o->hubs[i].ports.used;
        t.hubs += o->hubs[i].hubs.used > 0 ? o->hubs[i].hubs.used : 0;
    }
    budget_free(o);
    return t;
}

START_TEST(a_deeper_tree_never_uses_less)
{
    int tried = 0;
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed), *more = booth_copy(b);
        struct device *d = choose(more, seed, false);
        if (d) {
            deepen(more, &d->plugged, 1);
            struct err e;
            ck_assert_msg(booth_sound(more, &e), "seed %u: %s", seed, e.says);
            struct totals was = totals_of(b), is = totals_of(more);
            ck_assert_msg(is.ns == was.ns && is.hubs >= was.hubs && is.things == was.things + 1,
                          "seed %u", seed);
            ck_assert_int_eq(usb_hubs_above(more, d->plugged.at),
                             usb_hubs_above(b, booth_device(b, d->id)->plugged.at) < 0
                                 ? -1
                                 : usb_hubs_above(b, booth_device(b, d->id)->plugged.at) + 1);
            tried++;
        }
        booth_free(more);
        booth_free(b);
    }
    ck_assert_int_gt(tried, BOOTHS / 2);
}
END_TEST

/* --- less never asks for more ----------------------------------------------------------------- */

static const char *const slugs[] = {"usb-ports",      "usb-depth",           "usb-power",
                                    "usb-bandwidth",  "free-running-clocks", "long-latency",
                                    "no-common-rate", "level-mismatch"};
enum { SLUGS = sizeof slugs / sizeof *slugs };

static void count_faults(const struct booth *b, int counts[SLUGS])
{
    struct circuit *c = circuit_new(b);
    struct faults all = faults_find(c);
    memset(counts, 0, SLUGS * sizeof *counts);
    for (size_t i = 0; i < all.n; i++)
        for (size_t k = 0; k < SLUGS; k++)
            counts[k] += strcmp(all.v[i].slug, slugs[k]) == 0;
    faults_clear(&all);
    circuit_free(c);
}

START_TEST(removing_a_device_never_adds_a_fault_of_these_kinds)
{
    int fewer = 0;
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = some_booth(seed);
        int was[SLUGS], is[SLUGS];
        count_faults(b, was);
        for (size_t i = 0; i < b->devices.n; i++) {
            struct booth *less = booth_copy(b);
            struct err e;
            ck_assert(thing_remove(less, b->devices.v[i].id, &e));
            count_faults(less, is);
            for (size_t k = 0; k < SLUGS; k++) {
                ck_assert_msg(is[k] <= was[k], "seed %u: without %s more of %s", seed,
                              b->devices.v[i].id, slugs[k]);
                fewer += is[k] < was[k];
            }
            booth_free(less);
        }
        booth_free(b);
    }
    ck_assert_int_gt(fewer, BOOTHS);
}
END_TEST

Suite *test_budget_laws(void);
Suite *test_budget_laws(void)
{
    Suite *s = suite_create("oracle/budget");
    TCase *t = tcase_create("laws");
    tcase_set_timeout(t, 300);
    tcase_add_test(t, something_is_over_exactly_where_its_fault_is_found);
    tcase_add_test(t, figures_and_marks_agree_and_the_worst_comes_first);
    tcase_add_test(t, more_channels_never_use_less);
    tcase_add_test(t, a_higher_rate_never_uses_less);
    tcase_add_test(t, a_deeper_tree_never_uses_less);
    tcase_add_test(t, removing_a_device_never_adds_a_fault_of_these_kinds);
    suite_add_tcase(s, t);
    return s;
}
