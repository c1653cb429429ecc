/* Laws of the ways back, in random booths. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/derived.h"
#include "engine/failures.h"
#include "model/shape.h"
#include "model/sound.h"
#include "support/booth_from.h"
#include "support/leads.h"

/* --- the least, tried in another way ---------------------------------------------------------- */

/* The least plan of a booth, which is freed, in place of what was the least so far; -1: none. */
static int lesser(int least, struct booth *b)
{
    struct plan *plans = plans_make(b);
    bool less = plans[0].feasible && (least < 0 || plans[0].minutes < least);
    least = less ? plans[0].minutes : least;
    plans_free(plans);
    booth_free(b);
    return least;
}

static struct device *own(struct booth *b, const char *id)
{
    return &b->devices.v[booth_device(b, id) - b->devices.v];
}

static void take_out(struct booth *b, const char *id)
{
    if (booth_joined_at(b, id) >= 0)
        texts_remove(&b->joined, (size_t)booth_joined_at(b, id));
}

/* A device as good as dead: its card is gone, its plugs still stand; a mixer's nobody may have. */
static struct booth *cardless(const struct booth *b, const char *id)
{
    struct booth *copy = booth_copy(b);
    struct device *d = own(copy, id);
    take_out(copy, id);
    if (d->kind == KIND_MIXER) {
        text_set(&d->in_use, "nobody");
        return copy;
    }
    field_clear(shape_field(&shape_device, "card"), &d->card);
    for (size_t i = 0; i < d->outputs.n; i++)
        for (size_t k = 0; k < d->outputs.v[i].channels.n; k++)
            d->outputs.v[i].channels.v[k] = (int)k + 1;
    return copy;
}

/* The same with its channels still there: its outputs fit no strip, and it needs no lead. */
static struct booth *ghost(const struct booth *b, const char *id)
{
    struct booth *copy = booth_copy(b);
    struct device *d = own(copy, id);
    for (size_t i = 0; i < d->outputs.n; i++)
        d->outputs.v[i].level = LEVEL_PHONO;
    d->plugged = (struct plug){"built-in", 0};
    return copy;
}

static struct booth *leadless(const struct booth *b, const char *id, bool leaves)
{
    struct booth *copy = booth_copy(b);
    own(copy, id)->plugged = (struct plug){.port = 0};
    if (leaves)
        take_out(copy, id);
    return copy;
}

static bool hangs_on(const struct booth *b, const struct plug *p, const char *hub)
{
    const struct hub *h = booth_hub(b, p->at);
    return h && (strcmp(h->id, hub) == 0 || hangs_on(b, &h->plugged, hub));
}

static struct booth *hubless(const struct booth *b, const char *id, bool leaves)
{
    struct booth *copy = booth_copy(b);
    struct change remove = change_of(CHANGE_REMOVE, id, NULL);
    struct err e;
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        if (!hangs_on(b, &d->plugged, id))
            continue;
        if (strcmp(d->plugged.at, id) == 0) /* else its lead stays in the other hub */
            own(copy, d->id)->plugged = (struct plug){.port = 0};
        if (leaves)
            take_out(copy, d->id);
    }
    ck_assert_msg(change_make(copy, &remove, &e), "%s", e.says);
    return copy;
}

static struct booth *cut_through(const struct booth *b, const char *subject)
{
    struct booth *copy = booth_copy(b);
    char from[REF_SIZE];
    struct err e;
    const char *to = strchr(subject, '>') + 1;
    snprintf(from, sizeof from, "%.*s", (int)(to - subject - 1), subject);
    struct change pull = change_of(CHANGE_UNCABLE, from, to);
    ck_assert_msg(change_make(copy, &pull, &e), "%s", e.says);
    return copy;
}

static int wanting(const struct booth *b, const char *strip)
{
    int n = 0;
    for (size_t i = 0; i < b->decks.n; i++)
        n += strcmp(b->decks.v[i].wants, strip) == 0;
    return n;
}

/* The least over every strip that nobody wants or uses for the one deck that wants a dead one. */
static int least_elsewhere(const struct booth *b, const char *dead)
{
    int least = -1;
    for (size_t i = 0; i < b->devices.n; i++)
        for (size_t k = 0; k < b->devices.v[i].strips.n; k++) {
            const char *id = b->devices.v[i].strips.v[k].id;
            bool free = strcmp(id, dead) != 0;
            struct booth *copy = booth_copy(b);
            for (size_t m = 0; m < b->decks.n; m++) {
                free = free && strcmp(b->decks.v[m].wants, id) != 0;
                if (strcmp(b->decks.v[m].wants, dead) == 0)
                    snprintf(copy->decks.v[m].wants, ID_SIZE, "%s", id);
            }
            if (free)
                least = lesser(least, copy);
            else
                booth_free(copy);
        }
    return least;
}

/* The booth without what failed, its gap closed or kept. */
static struct booth *wounded(const struct booth *b, const struct failure *f, bool closed)
{
    const char *lead = f->subject + strlen("lead-");
    switch (f->kind) {
    case FAILING_CABLE:
        return cut_through(b, f->subject);
    case FAILING_LEAD:
        return leadless(b, lead, closed);
    case FAILING_HUB:
        return hubless(b, f->subject, closed);
    default:
        return closed ? cardless(b, f->subject) : ghost(b, f->subject);
    }
}

/* Whether a device's card is lost. */
static bool is_lost(const struct booth *b, const struct failure *f, const char *id)
{
    return (f->kind == FAILING_HUB && hangs_on(b, &booth_device(b, id)->plugged, f->subject)) ||
           (f->kind == FAILING_LEAD && strcmp(f->subject + strlen("lead-"), id) == 0) ||
           strcmp(f->subject, id) == 0;
}

/* How many joined cards are lost. */
static int drop_outs(const struct booth *b, const struct failure *f)
{
    int n = 0;
    for (size_t i = 0; i < b->joined.n; i++)
        n += is_lost(b, f, b->joined.v[i]);
    return n;
}

static int least_without(const struct booth *b, const struct failure *f, bool *stops)
{
    bool joined = drop_outs(b, f) > 0;
    *stops = joined && b->host.on_drop == DROP_STOPS;
    if (f->kind == FAILING_STRIP && wanting(b, f->subject) == 0) /* what is heard there is astray */
        return lesser(-1, booth_copy(b));
    if (f->kind == FAILING_STRIP)
        return least_elsewhere(b, f->subject);
    int least = lesser(-1, wounded(b, f, true));
    if (least >= 0 && b->host.gap == GAP_KEEPS)
        least += plan_prices(b).leave * drop_outs(b, f);
    const struct device *d = booth_device(b, f->subject);
    bool keeps = joined && b->host.gap == GAP_KEEPS && !(d && d->kind == KIND_MIXER);
    return keeps ? lesser(least, wounded(b, f, false)) : least;
}

/* What was tried. */
struct tried {
    int all, kept, hubs;
};

static void try_all(const struct booth *b, unsigned seed, struct tried *tried)
{
    struct failures all = failures_make(b);
    for (size_t i = 0; i < all.n; i++) {
        const struct failure *f = &all.v[i];
        bool stops;
        if (!f->loses || f->kind == FAILING_HOST || wanting(b, f->subject) > 1)
            continue;
        int least = least_without(b, f, &stops);
        bool mixed = f->back.text && strstr(f->back.text, "mixed in the host");
        tried->all++;
        tried->hubs += f->kind == FAILING_HUB;
        tried->kept += stops && b->host.gap == GAP_KEEPS && least >= 0;
        if (least >= 0 && stops)
            least += 500;
        int said = f->back.plan.feasible ? f->back.plan.minutes : -1;
        ck_assert_msg(mixed ? least < 0 || said < least : said == least,
                      "seed %u %s: %d, but %d was found", seed, f->subject, said, least);
    }
    failures_clear(&all);
}

/* Law: a way back by a plan is the least of all that is tried here in another way, and a way back
 * by the built-in output is less; where nothing is found here, only that output is left. */
START_TEST(no_cheaper_way_back_is_passed_over)
{
    struct tried tried = {0};
    for (unsigned seed = 1; seed <= 1500; seed++) {
        struct booth *b = booth_random(seed);
        try_all(b, seed, &tried);
        booth_free(b);
    }
    ck_assert_int_gt(tried.all, 200);
    ck_assert_int_gt(tried.kept, 10);
}
END_TEST

/* Up to four players on two hubs, and more of them than are needed. */
static struct booth *booth_on_hubs(unsigned seed)
{
    static const char *const places[] = {"host", "hub1", "hub1", "hub2"};
    unsigned long long state = seed;
    struct str world = {0};
    str_add(&world, "host combining by-hand; hub hub1 7; hub hub2 7 ");
    str_add(&world, random_below(&state, 2) ? "hub1.7" : "host.3");
    str_add(&world, random_below(&state, 2) ? "; host gap keeps" : "; host on_drop plays-on");
    for (unsigned i = 1; i <= 4; i++) {
        str_addf(&world, "; p%u.line > s%u.line; p%u plugged ", i, i, i);
        unsigned place = random_below(&state, 5);
        if (place < 4)
            str_addf(&world, "%s.%u", places[place], i);
        else
            str_add(&world, "none");
    }
    str_add(&world, "; joined");
    for (unsigned i = 1, n = 1 + random_below(&state, 3); i <= n; i++)
        str_addf(&world, " p%u", i);
    for (unsigned i = 1, n = 1 + random_below(&state, 2); i <= n; i++)
        str_addf(&world, "; h%u wants s%u", i, 1 + (i + seed) % 4);
    struct booth *b = booth_from(str_text(&world));
    str_clear(&world);
    b->host.minutes = mem_new(1, sizeof *b->host.minutes);
    record_init(&shape_minutes, b->host.minutes);
    b->host.minutes->plug = (int)random_below(&state, 6000);
    b->host.minutes->leave = (int)random_below(&state, 3000);
    return b;
}

/* The same where leads hang on hubs, and plugging one takes time. */
START_TEST(no_cheaper_way_back_around_a_hub_is_passed_over)
{
    struct tried tried = {0};
    for (unsigned seed = 1; seed <= 600; seed++) {
        struct booth *b = booth_on_hubs(seed);
        try_all(b, seed, &tried);
        booth_free(b);
    }
    ck_assert_int_gt(tried.hubs, 100);
}
END_TEST

/* --- made by hand ----------------------------------------------------------------------------- */

/* The booth as hands find it: what is lost leaves the interface unless the host keeps its gap; a
 * lead, a cable that died is not there. */
static struct booth *found_after(const struct booth *b, const struct failure *f)
{
    struct booth *left = booth_copy(b);
    for (size_t i = 0; i < b->joined.n; i++)
        if (b->host.gap == GAP_CLOSES && is_lost(b, f, b->joined.v[i]))
            take_out(left, b->joined.v[i]);
    if (f->kind == FAILING_LEAD)
        own(left, f->subject + strlen("lead-"))->plugged = (struct plug){.port = 0};
    if (f->kind != FAILING_CABLE)
        return left;
    struct booth *cut = cut_through(left, f->subject);
    booth_free(left);
    return cut;
}

/* Its actions made one after the other on what hands find must give the booth that is promised. */
static void make_by_hand(const struct booth *b, const struct failure *f, const struct way_back *w,
                         unsigned seed)
{
    struct booth *left = found_after(b, f);
    struct err e;
    int sum = 0;
    for (size_t i = 0; i < b->decks.n; i++) /* another strip is told in words */
        memcpy(left->decks.v[i].wants, w->plan.after->decks.v[i].wants, ID_SIZE);
    for (size_t i = 0; i < w->plan.n; i++) {
        const struct action *a = &w->plan.actions[i];
        sum += a->minutes;
        if (a->change.what != CHANGE_NONE)
            ck_assert_msg(change_make(left, &a->change, &e), "seed %u %s: %s: %s", seed, f->subject,
                          a->text, e.says);
    }
    ck_assert_msg(sum == w->plan.minutes, "seed %u %s", seed, f->subject);
    ck_assert_msg(booth_equal(left, w->plan.after), "seed %u %s: not all is told", seed,
                  f->subject);
    booth_free(left);
}

static bool is_heard(const struct derived *d, size_t deck)
{
    int strip = d->circuit->decks[deck].wants;
    for (size_t i = 0; i < d->heard.n; i++)
        if (d->heard.v[i].strip == strip && d->heard.v[i].deck == (int)deck)
            return true;
    return strip < 0;
}

/* Each deck that it does not give up is heard where it wants to be, though the dead device passes
 * nothing, over leads that lead somewhere. */
static void must_be_heard(const struct booth *b, const struct failure *f, const struct way_back *w,
                          unsigned seed)
{
    struct booth *after = booth_copy(w->plan.after);
    struct err e;
    for (size_t i = after->cables.n; i-- > 0 && f->kind == FAILING_DEVICE;) {
        struct change pull = change_of(CHANGE_UNCABLE, after->cables.v[i].from,
                                       after->cables.v[i].to);
        size_t id = strlen(f->subject);
        if (strncmp(pull.a, f->subject, id) == 0 && pull.a[id] == '.')
            ck_assert_msg(change_make(after, &pull, &e), "%s", e.says);
    }
    struct derived *d = derived_make(after);
    for (size_t i = 0; i < after->decks.n; i++)
        ck_assert_msg(texts_find(&w->without, after->decks.v[i].id) >= 0 || is_heard(d, i),
                      "seed %u %s: deck %zu is not heard", seed, f->subject, i);
    derived_free(d);
    booth_free(after);
    const char *astray = lead_astray(b, &w->plan, f->subject);
    ck_assert_msg(!astray, "seed %u %s: %s leads nowhere", seed, f->subject, astray);
}

/* Laws of a way back, and of going on without some. */
START_TEST(a_way_back_is_one)
{
    int ways = 0, meanwhile = 0;
    for (unsigned seed = 1; seed <= 900; seed++) {
        struct booth *b = booth_random(seed);
        struct failures all = failures_make(b);
        for (size_t i = 0; i < all.n; i++) {
            const struct failure *f = &all.v[i];
            const struct way_back *w = f->back.plan.feasible ? &f->back : &f->meanwhile;
            struct err e;
            if (!w->plan.feasible)
                continue;
            ck_assert_msg(booth_sound(w->plan.after, &e), "seed %u %s: %s %s", seed, f->subject,
                          e.place, e.says);
            make_by_hand(b, f, w, seed);
            if (f->kind == FAILING_HOST || strstr(w->text, "mixed in the host"))
                continue;
            must_be_heard(b, f, w, seed);
            ways++;
            meanwhile += w == &f->meanwhile;
        }
        failures_clear(&all);
        booth_free(b);
    }
    ck_assert_int_gt(ways, 50);
    ck_assert_int_gt(meanwhile, 10);
}
END_TEST

/* Whether a deck is heard on a strip. */
static bool hears(const struct booth *b, const char *strip)
{
    struct derived *d = derived_make(b);
    bool any = false;
    for (size_t i = 0; i < d->heard.n; i++)
        any = any || d->heard.v[i].strip == circuit_find_strip(d->circuit, strip);
    derived_free(d);
    return any;
}

/* Whether what fails carries none of the host's sound: a card that is not in the interface, its
 * lead, a cable from it, a strip on which no deck is heard. */
static bool is_idle(const struct booth *b, const struct failure *f)
{
    char device[REF_SIZE];
    const char *from = f->kind == FAILING_LEAD ? f->subject + strlen("lead-") : f->subject;
    snprintf(device, sizeof device, "%.*s", (int)strcspn(from, "."), from);
    if (f->kind == FAILING_STRIP)
        return !hears(b, f->subject);
    return f->kind != FAILING_HOST && f->kind != FAILING_HUB && booth_joined_at(b, device) < 0;
}

START_TEST(what_carries_no_sound_silences_nothing)
{
    int idle = 0;
    for (unsigned seed = 1; seed <= 600; seed++) {
        struct booth *b = booth_random(seed);
        struct failures all = failures_make(b);
        for (size_t i = 0; i < all.n; i++) {
            const struct failure *f = &all.v[i];
            idle += is_idle(b, f);
            ck_assert_msg(!is_idle(b, f) ||
                              (f->silent.n == 0 && (f->kind == FAILING_STRIP || f->moved.n == 0)),
                          "seed %u %s: %zu silent, %zu moved", seed, f->subject, f->silent.n,
                          f->moved.n);
        }
        failures_clear(&all);
        booth_free(b);
    }
    ck_assert_int_gt(idle, 1000);
}
END_TEST

Suite *test_failures_back(void)
{
    Suite *s = suite_create("engine/failures_back");
    TCase *t = tcase_create("ways back");
    tcase_add_test(t, a_way_back_is_one);
    tcase_add_test(t, no_cheaper_way_back_is_passed_over);
    tcase_add_test(t, no_cheaper_way_back_around_a_hub_is_passed_over);
    tcase_add_test(t, what_carries_no_sound_silences_nothing);
    suite_add_tcase(s, t);
    return s;
}
