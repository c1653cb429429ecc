/* Laws that hold in every booth, tried on random ones; a failure prints the seed that brings it
 * back. */
#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "engine/derived.h"
#include "engine/fault_cases.h"
#include "model/change.h"
#include "model/shape.h"
#include "model/sound.h"
#include "oracle/second_opinion.h"
#include "support/booth_from.h"

enum { BOOTHS = 2000, FIXED_BOOTHS = 400 };

/* --- heard and routes ------------------------------------------------------------------------- */

/* What the engine hears, in the second opinion's words. */
static void engine_heard(const struct circuit *c, struct texts *out)
{
    struct heard h = heard_make(c);
    for (size_t i = 0; i < h.n; i++) {
        struct str line = {0};
        str_addf(&line, "%s.%s %s.%s", circuit_strip(c, h.v[i].strip)->id,
                 h.v[i].side ? "right" : "left", c->booth->decks.v[h.v[i].deck].id,
                 h.v[i].deck_side ? "right" : "left");
        texts_add(out, str_text(&line));
        str_clear(&line);
    }
    heard_clear(&h);
}

static bool texts_agree(const struct texts *a, const struct texts *b)
{
    bool agree = a->n == b->n;
    for (size_t i = 0; i < a->n && agree; i++)
        agree = texts_find(b, a->v[i]) >= 0;
    return agree;
}

START_TEST(what_is_heard_is_what_a_plain_search_finds)
{
    int heard = 0;
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        struct circuit *c = circuit_new(b);
        struct texts ours = {0}, plain = {0};
        engine_heard(c, &ours);
        opinion_heard(b, &plain);
        ck_assert_msg(texts_agree(&ours, &plain), "seed %u", seed);
        heard += ours.n > 0;
        texts_clear(&ours);
        texts_clear(&plain);
        circuit_free(c);
        booth_free(b);
    }
    ck_assert_int_gt(heard, BOOTHS / 8);
}
END_TEST

START_TEST(every_route_is_what_a_plain_search_finds)
{
    int routes = 0;
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        struct circuit *c = circuit_new(b);
        for (size_t i = 0; i < b->decks.n; i++) {
            struct pair pair = {-1, -1};
            struct route r = route_of(c, (int)i);
            ck_assert_msg(r.there == opinion_route(b, &b->decks.v[i], &pair), "seed %u", seed);
            ck_assert_msg(!r.there || (r.pair.left == pair.left && r.pair.right == pair.right),
                          "seed %u", seed);
            routes += r.there;
        }
        circuit_free(c);
        booth_free(b);
    }
    ck_assert_int_gt(routes, BOOTHS / 2);
}
END_TEST

/* Whether nothing on the way of a route spoils it: a player on the computer, two channels, a
 * straight cable, levels that pass. */
static bool way_is_clean(const struct circuit *c, const struct route *r)
{
    if (r->pair.left == r->pair.right || !c->devices[r->device].plays)
        return false;
    for (size_t i = 0; i < c->n_cables && r->output >= 0; i++)
        if (c->cables[i].output == r->output && c->cables[i].input == r->input)
            return c->cables[i].sides == SIDES_STRAIGHT &&
                   c->outputs[r->output].digital == c->inputs[r->input].digital;
    return r->output < 0;
}

static bool hears(const struct heard *h, int strip, int deck, int side)
{
    for (size_t i = 0; i < h->n; i++)
        if (h->v[i].strip == strip && h->v[i].deck == deck && h->v[i].side == side &&
            h->v[i].deck_side == side)
            return true;
    return false;
}

START_TEST(a_deck_set_to_its_route_is_heard_where_it_wants_left_on_left_and_right_on_right)
{
    int clean = 0;
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        struct circuit *c = circuit_new(b);
        for (size_t i = 0; i < b->decks.n; i++) {
            struct route r = route_of(c, (int)i);
            if (!r.there || !way_is_clean(c, &r))
                continue;
            struct heard h = heard_deck(c, (int)i, r.pair);
            ck_assert_msg(hears(&h, c->decks[i].wants, (int)i, 0) &&
                              hears(&h, c->decks[i].wants, (int)i, 1),
                          "seed %u, deck %s", seed, b->decks.v[i].id);
            heard_clear(&h);
            clean++;
        }
        circuit_free(c);
        booth_free(b);
    }
    ck_assert_int_gt(clean, BOOTHS / 8);
}
END_TEST

static void shuffle_devices(struct booth *b, unsigned seed)
{
    unsigned long long dice = seed;
    for (size_t i = b->devices.n; i > 1; i--) {
        size_t k = random_below(&dice, (unsigned)i);
        struct device kept = b->devices.v[i - 1];
        b->devices.v[i - 1] = b->devices.v[k];
        b->devices.v[k] = kept;
    }
}

/* All routes, by names and as the host counts them. */
static char *say_routes(const struct booth *b)
{
    struct str out = {0};
    struct circuit *c = circuit_new(b);
    for (size_t i = 0; i < b->decks.n; i++) {
        struct route r = route_of(c, (int)i);
        struct texts path = {0};
        route_path(c, (int)i, &r, &path);
        for (size_t k = 0; k < path.n; k++)
            str_addf(&out, "%s ", path.v[k]);
        route_show(c, r.there ? r.pair : (struct pair){-1, -1}, &out);
        str_addf(&out, " = %d %d\n", r.pair.left, r.pair.right);
        texts_clear(&path);
    }
    circuit_free(c);
    return str_take(&out);
}

START_TEST(the_order_of_devices_in_the_file_changes_no_route)
{
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        char *before = say_routes(b);
        shuffle_devices(b, seed);
        char *after = say_routes(b);
        ck_assert_msg(strcmp(before, after) == 0, "seed %u:\n%s\nis not\n%s", seed, after, before);
        mem_free(before);
        mem_free(after);
        booth_free(b);
    }
}
END_TEST

/* --- faults ----------------------------------------------------------------------------------- */

static bool is_path_fault(const struct fault *f)
{
    return strcmp(f->slug, "own-media") == 0 || strcmp(f->slug, "selector-elsewhere") == 0 ||
           strcmp(f->slug, "not-joined") == 0 || strcmp(f->slug, "unwired-strip") == 0;
}

/* Whether the way of a deck is broken, by the records alone: no route, or through a player on its
 * own media. */
static bool way_is_broken(const struct circuit *c, size_t deck)
{
    struct pair pair;
    const struct deck *d = &c->booth->decks.v[deck];
    if (!*d->wants)
        return false;
    if (!opinion_route(c->booth, d, &pair))
        return true;
    const struct device *through = circuit_device(c, route_of(c, (int)deck).device);
    return through->kind == KIND_PLAYER && through->source == SOURCE_OWN_MEDIA;
}

START_TEST(a_deck_has_one_of_the_four_path_faults_or_none)
{
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        struct circuit *c = circuit_new(b);
        struct faults all = faults_find(c);
        for (size_t i = 0; i < b->decks.n; i++) {
            int n = 0;
            for (size_t k = 0; k < all.n; k++)
                n += is_path_fault(&all.v[k]) &&
                     strcmp(all.v[k].subjects.v[0], b->decks.v[i].id) == 0;
            ck_assert_msg(n == way_is_broken(c, i), "seed %u, deck %s: %d", seed, b->decks.v[i].id,
                          n);
        }
        faults_clear(&all);
        circuit_free(c);
        booth_free(b);
    }
}
END_TEST

static bool is_there(const struct booth *b, const char *name)
{
    return strcmp(name, "host") == 0 || booth_device(b, name) || booth_hub(b, name) ||
           booth_strip(b, name, NULL) || booth_deck(b, name) || booth_output(b, name, NULL) ||
           booth_input(b, name, NULL);
}

START_TEST(faults_are_told_once_in_order_and_of_what_is_there)
{
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        struct circuit *c = circuit_new(b);
        struct faults all = faults_find(c);
        size_t count[3] = {0};
        for (size_t i = 0; i < all.n; i++) {
            const struct fault *f = &all.v[i];
            count[f->severity]++;
            ck_assert_msg(f->subjects.n > 0 && *f->text, "seed %u: %s", seed, f->slug);
            ck_assert_msg(i == 0 || f->severity >= all.v[i - 1].severity, "seed %u", seed);
            for (size_t k = 0; k < f->subjects.n; k++)
                ck_assert_msg(is_there(b, f->subjects.v[k]), "seed %u: %s of %s", seed, f->slug,
                              f->subjects.v[k]);
        }
        ck_assert_msg(memcmp(count, all.count, sizeof count) == 0, "seed %u", seed);
        faults_clear(&all);
        circuit_free(c);
        booth_free(b);
    }
}
END_TEST

static bool told_of(const struct faults *all, const char *slug, const char *a, const char *b)
{
    for (size_t i = 0; i < all->n; i++) {
        const struct fault *f = &all->v[i];
        if (strcmp(f->slug, slug) == 0 && f->subjects.n == 2 && strcmp(f->subjects.v[0], a) == 0 &&
            strcmp(f->subjects.v[1], b) == 0)
            return true;
    }
    return false;
}

/* Whether any channel that exists or could is played by both. */
static bool clash(struct pair a, struct pair b)
{
    for (int channel = 0; channel <= MAX_CHANNEL; channel++)
        if ((a.left == channel || a.right == channel) && (b.left == channel || b.right == channel))
            return true;
    return false;
}

START_TEST(decks_are_told_to_share_a_pair_exactly_when_some_channel_is_played_by_both)
{
    int clashes = 0;
    for (unsigned seed = 0; seed < BOOTHS / 8; seed++) {
        struct booth *b = booth_random(seed);
        struct circuit *c = circuit_new(b);
        struct faults all = faults_find(c);
        for (size_t i = 0; i < b->decks.n; i++)
            for (size_t k = i + 1; k < b->decks.n; k++) {
                const struct deck *x = &b->decks.v[i], *y = &b->decks.v[k];
                bool both = clash(opinion_plays(b, x), opinion_plays(b, y));
                ck_assert_msg(both == told_of(&all, "doubled-pair", x->id, y->id),
                              "seed %u: %s and %s", seed, x->id, y->id);
                clashes += both;
            }
        faults_clear(&all);
        circuit_free(c);
        booth_free(b);
    }
    ck_assert_int_gt(clashes, BOOTHS / 80);
}
END_TEST

/* --- fixes ------------------------------------------------------------------------------------ */

static bool same_fault(const struct fault *a, const struct fault *b)
{
    bool same = strcmp(a->slug, b->slug) == 0 && a->subjects.n == b->subjects.n;
    for (size_t i = 0; i < a->subjects.n && same; i++)
        same = strcmp(a->subjects.v[i], b->subjects.v[i]) == 0;
    return same;
}

/* Makes the fix on a copy and looks at what has become of the booth. */
static void check_fix(const struct booth *b, const struct fault *f, unsigned seed)
{
    struct booth *after = booth_copy(b);
    struct err e = {0};
    const char *what;
    for (size_t i = 0; i < f->fix.n; i++)
        ck_assert_msg(!change_touches_in_use(b, &f->fix.v[i]), "seed %u: %s", seed, f->text);
    ck_assert_msg(f->fix_text && *f->fix_text, "seed %u: %s", seed, f->text);
    ck_assert_msg(changes_make(after, &f->fix, &e), "seed %u: %s -> %s: %s", seed, f->text,
                  f->fix_text, e.says);
    ck_assert_msg(booth_sound(after, &e), "seed %u: %s: %s", seed, f->fix_text, e.says);
    ck_assert_msg(opinion_hands_off(b, after, &what), "seed %u: %s -> %s touches %s", seed, f->text,
                  f->fix_text, what);
    struct circuit *c = circuit_new(after);
    struct faults left = faults_find(c);
    for (size_t i = 0; i < left.n; i++)
        ck_assert_msg(!same_fault(f, &left.v[i]), "seed %u: %s: %s -> %s leaves it", seed, f->slug,
                      f->text, f->fix_text);
    faults_clear(&left);
    circuit_free(c);
    booth_free(after);
}

/* Whether a deck is set to its route. */
static bool is_right(const struct booth *b, const struct deck *d)
{
    struct pair pair;
    return opinion_route(b, d, &pair) && d->set_to.left == pair.left &&
           d->set_to.right == pair.right;
}

/* Every deck that was set to its route is so after the fix, or has none any more, and no setting.
 */
static void check_settings(const struct booth *b, const struct fault *f, unsigned seed)
{
    struct booth *after = booth_copy(b);
    struct pair pair;
    struct err e = {0};
    ck_assert(changes_make(after, &f->fix, &e));
    for (size_t i = 0; i < b->decks.n; i++) {
        const struct deck *d = &after->decks.v[i];
        if (is_right(b, &b->decks.v[i]))
            ck_assert_msg(is_right(after, d) ||
                              (!opinion_route(after, d, &pair) && d->set_to.left < 0),
                          "seed %u: %s -> %s leaves %s with another setting than its route", seed,
                          f->text, f->fix_text, d->id);
    }
    booth_free(after);
}

/* All fixes of one booth; the seed is for whoever reads a failure. */
static void check_fixes(const struct booth *b, unsigned seed)
{
    struct circuit *c = circuit_new(b);
    struct faults all = faults_find(c);
    for (size_t i = 0; i < all.n; i++)
        if (all.v[i].fix.n) {
            check_fix(b, &all.v[i], seed);
            check_settings(b, &all.v[i], seed);
        }
    faults_clear(&all);
    circuit_free(c);
}

START_TEST(making_the_fix_removes_the_fault_and_touches_nothing_in_use)
{
    for (unsigned seed = 0; seed < FIXED_BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        check_fixes(b, seed);
        booth_free(b);
    }
}
END_TEST

START_TEST(so_it_is_in_the_worlds_that_are_told_for_each_rule)
{
    for (unsigned i = 0; fault_cases[i].slug; i++) {
        struct booth *b = booth_from(fault_cases[i].world);
        check_fixes(b, i);
        booth_free(b);
    }
}
END_TEST

START_TEST(every_rule_is_met_and_all_that_can_be_fixed_are_fixed_somewhere)
{
    static const char *const advice_only[] = {"old-firmware", "long-latency", "usb-bandwidth"};
    const char *slug;
    enum severity severity;
    int met[64] = {0}, fixed[64] = {0};
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        struct circuit *c = circuit_new(b);
        struct faults all = faults_find(c);
        for (size_t i = 0; i < all.n; i++)
            for (size_t k = 0; faults_rule(k, &slug, &severity); k++) {
                met[k] += all.v[i].slug == slug;
                fixed[k] += all.v[i].slug == slug && all.v[i].fix.n;
            }
        faults_clear(&all);
        circuit_free(c);
        booth_free(b);
    }
    for (size_t k = 0; faults_rule(k, &slug, &severity); k++) {
        bool advice = false;
        for (size_t i = 0; i < sizeof advice_only / sizeof *advice_only; i++)
            advice |= strcmp(slug, advice_only[i]) == 0;
        /* no random booth nests hubs so deep */
        ck_assert_msg(met[k] || strcmp(slug, "usb-depth") == 0, "%s", slug);
        ck_assert_msg(!met[k] || !fixed[k] == advice, "%s", slug);
    }
}
END_TEST

Suite *test_laws(void)
{
    Suite *s = suite_create("oracle/laws");
    TCase *t = tcase_create("laws");
    tcase_set_timeout(t, 300);
    tcase_add_test(t, what_is_heard_is_what_a_plain_search_finds);
    tcase_add_test(t, every_route_is_what_a_plain_search_finds);
    tcase_add_test(t,
                   a_deck_set_to_its_route_is_heard_where_it_wants_left_on_left_and_right_on_right);
    tcase_add_test(t, the_order_of_devices_in_the_file_changes_no_route);
    tcase_add_test(t, a_deck_has_one_of_the_four_path_faults_or_none);
    tcase_add_test(t, faults_are_told_once_in_order_and_of_what_is_there);
    tcase_add_test(t, decks_are_told_to_share_a_pair_exactly_when_some_channel_is_played_by_both);
    tcase_add_test(t, making_the_fix_removes_the_fault_and_touches_nothing_in_use);
    tcase_add_test(t, so_it_is_in_the_worlds_that_are_told_for_each_rule);
    tcase_add_test(t, every_rule_is_met_and_all_that_can_be_fixed_are_fixed_somewhere);
    suite_add_tcase(s, t);
    return s;
}
