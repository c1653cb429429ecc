/* Another order of joining, also beside a device that never joined: where the gap closes and where
 * the host keeps it. */
#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "engine/diagnose.h"
#include "support/booth_from.h"
#include "support/injected.h"
#include "support/listening.h"

#define FOUR                                                                                       \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; p3.line > s3.line; "            \
    "p4.line > s4.line; joined p1 p2 p3 p4; h1 wants s2; h2 wants s3; h3 wants s1; h4 wants s4; "
#define EIGHT                                                                                      \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; p3.line > s3.line; "            \
    "p4.line > s4.line; p5.line > s5.line; p6.line > s6.line; p7.line > s7.line; "                 \
    "p8.line > s8.line; p3 card 4; joined p1 p2 p3 p4 p5 p6 p7 p8; h1 wants s1; h2 wants s2; "     \
    "h3 wants s3; h4 wants s4; h5 wants s5; h6 wants s6; h7 wants s7; h8 wants s8; "

static const char *const gaps[] = {"host gap closes", "host gap keeps"};

/* A world with one of the two gaps. */
static struct booth *booth_with(const char *world, int gap)
{
    struct str text = {0};
    str_addf(&text, "%s%s", world, gaps[gap]);
    struct booth *b = booth_from(str_text(&text));
    str_clear(&text);
    return b;
}

/* Marks what is heard when these hold: then all explanations, told, a line each. */
static const char *told(struct booth *b, const struct cause *set, int n)
{
    static struct str said;
    struct circuit *truth = believed(b);
    for (int i = 0; i < n; i++)
        cause_apply(truth, &set[i]);
    listen_to(b, truth, ~0u);
    circuit_free(truth);
    struct diagnosis d = diagnosis_make(b);
    str_clear(&said);
    for (size_t i = 0; i < d.n_lines; i++) {
        explanation_say(&d, d.lines[i], &said);
        str_add(&said, "\n");
    }
    diagnosis_clear(&d);
    return str_text(&said);
}

START_TEST(every_order_of_four_players_with_any_other_cause_is_found)
{
    struct booth *b = booth_with(FOUR, _i);
    find_orders(b, gaps[_i], 1);
    booth_free(b);
}
END_TEST

START_TEST(orders_of_eight_players_with_any_other_cause_are_found)
{
    struct booth *b = booth_with(EIGHT, _i);
    find_orders(b, gaps[_i], 23);
    booth_free(b);
}
END_TEST

/* An order of all the joined, thrown with a die. */
static struct cause shuffled(const struct circuit *c, unsigned long long *state)
{
    struct cause k = {.kind = CAUSE_JOIN_ORDER};
    for (unsigned i = 0; i < c->n_joined; i++) {
        unsigned at = random_below(state, i + 1);
        k.order[i] = k.order[at];
        k.order[at] = (unsigned char)c->joined[i];
    }
    return k;
}

START_TEST(any_order_of_eight_players_of_which_one_never_joined_is_found)
{
    struct booth *b = booth_with(EIGHT, _i);
    struct circuit *c = believed(b);
    unsigned long long state = 20261125;
    for (int i = 0; i < 100; i++) {
        int missing = c->joined[random_below(&state, (unsigned)c->n_joined)];
        struct cause two[2] = {{.kind = CAUSE_JOIN_MISSING, .a = missing}, shuffled(c, &state)};
        struct str what = {0};
        str_addf(&what, "%s, throw %d: ", gaps[_i], i);
        cause_say_among(c, two, 2, 1, &what);
        ck_assert_msg(found_in(b, two, 2, what.text) >= 0, "not found: %s", what.text);
        str_clear(&what);
    }
    circuit_free(c);
    booth_free(b);
}
END_TEST

START_TEST(any_order_with_any_two_other_causes_is_found_or_sounds_like_fewer)
{
    struct booth *b = booth_with(_i < 2 ? FOUR : EIGHT, _i % 2);
    struct circuit *c = believed(b);
    struct causes all = causes_of(c);
    unsigned long long state = (unsigned)_i;
    for (int i = 0; i < (_i < 2 ? 150 : 25); i++) {
        struct cause three[3];
        struct str what = {0};
        for (int k = 0; k < 2; k++)
            three[k] = all.v[random_below(&state, (unsigned)all.n)];
        three[2] = shuffled(c, &state);
        if (three[0].kind == three[1].kind && three[0].a == three[1].a)
            continue;
        for (int k = 0; k < 3; k++) {
            str_add(&what, k ? "; " : "");
            cause_say_among(c, three, 3, k, &what);
        }
        ck_assert_msg(found_in(b, three, 3, what.text) >= 0, "%s, throw %d: not found: %s",
                      gaps[_i % 2], i, what.text);
        str_clear(&what);
    }
    mem_free(all.v);
    circuit_free(c);
    booth_free(b);
}
END_TEST

START_TEST(any_order_alone_or_with_another_cause_in_hundreds_of_random_booths_is_found)
{
    for (unsigned seed = 1; seed <= 300; seed++) {
        struct booth *b = booth_random(seed);
        struct circuit *c = believed(b);
        struct causes all = causes_of(c);
        unsigned long long state = seed;
        for (int i = 0; i < 4 && c->n_joined > 1; i++) {
            struct cause two[2] = {shuffled(c, &state)};
            struct str what = {0};
            int n = i == 0 ? 1 : 2;
            two[1] = all.v[random_below(&state, (unsigned)all.n)];
            str_addf(&what, "seed %u: ", seed);
            causes_name(c, two, n, &what);
            ck_assert_msg(found_in(b, two, n, what.text) >= 0, "not found: %s", what.text);
            str_clear(&what);
        }
        mem_free(all.v);
        circuit_free(c);
        booth_free(b);
    }
}
END_TEST

/* An order without one device, in out; how many stay. */
static size_t without(const struct circuit *c, const struct cause *k, int device,
                      unsigned char *out)
{
    size_t n = 0;
    for (size_t i = 0; i < c->n_joined; i++)
        if (k->order[i] != device)
            out[n++] = k->order[i];
    return n;
}

/* The fewest exchanges of any order that differs in nothing but where a device stands. */
static int fewest(const struct circuit *c, const struct cause *k, int device)
{
    unsigned char rest[MAX_DEVICES];
    size_t n = without(c, k, device, rest);
    int least = (int)n + 1;
    for (size_t at = 0; at <= n; at++) {
        struct cause there = *k;
        memcpy(there.order, rest, at);
        there.order[at] = (unsigned char)device;
        memcpy(there.order + at + 1, rest + at, n - at);
        int exchanges = cause_exchanges(c, &there);
        least = exchanges < least ? exchanges : least;
    }
    return least;
}

/* Fails unless the orders beside a missing device are all told apart by those that joined, and each
 * takes the fewest exchanges. Returns how many there are. */
static int check_places(const struct diagnosis *d)
{
    const struct circuit *c = d->believed;
    int n = 0;
    for (size_t i = 0; i < d->n; i++) {
        const struct cause *x = d->v[i].causes, *order = &x[1];
        unsigned char rest[MAX_DEVICES], other[MAX_DEVICES];
        if (d->v[i].n != 2 || x->kind != CAUSE_JOIN_MISSING || order->kind != CAUSE_JOIN_ORDER)
            continue;
        n++;
        ck_assert_int_eq(cause_exchanges(c, order), fewest(c, order, x->a));
        size_t joined = without(c, order, x->a, rest);
        for (size_t k = 0; k < i; k++) {
            const struct cause *y = d->v[k].causes;
            if (d->v[k].n == 2 && cause_same(x, y) && y[1].kind == CAUSE_JOIN_ORDER) {
                without(c, &y[1], y->a, other);
                ck_assert_int_ne(memcmp(rest, other, joined), 0);
            }
        }
    }
    return n;
}

START_TEST(where_the_missing_device_would_stand_makes_one_explanation_of_fewest_exchanges)
{
    struct booth *b = booth_with(FOUR, GAP_CLOSES);
    struct circuit *c = believed(b);
    int n = 0;
    struct cause two[2] = {{.kind = CAUSE_JOIN_MISSING}, {.kind = CAUSE_JOIN_ORDER}};
    for (size_t i = 0; i < c->n_joined; i++)
        two[1].order[i] = (unsigned char)c->joined[i];
    for (int i = 0; i < 24 * 4; i++) {
        struct circuit *truth = circuit_copy(c);
        two[0].a = c->joined[i % 4];
        if (i % 4 == 0)
            next_order(two[1].order, 4);
        cause_apply(truth, &two[i & 1]);
        cause_apply(truth, &two[!(i & 1)]);
        listen_to(b, truth, i % 3 ? ~0u : 3u);
        struct diagnosis d = diagnosis_make(b);
        n += check_places(&d);
        diagnosis_clear(&d);
        circuit_free(truth);
    }
    ck_assert_int_gt(n, 24);
    circuit_free(c);
    booth_free(b);
}
END_TEST

START_TEST(the_order_is_told_of_those_that_joined_and_with_the_gap_that_is_kept)
{
    struct booth *b = booth_with(FOUR, _i);
    struct circuit *c = believed(b);
    struct cause two[2] = {{.kind = CAUSE_JOIN_MISSING, .a = c->joined[1]},
                           {.kind = CAUSE_JOIN_ORDER}};
    static const int order[] = {2, 0, 1, 3};
    for (int i = 0; i < 4; i++)
        two[1].order[i] = (unsigned char)c->joined[order[i]];
    circuit_free(c);
    static const char *const wanted[] = {
        ": P2 is not in the interface; and the devices joined in the order P3, P1, P4\n",
        ": P2 is not in the interface; and the devices joined in the order P3, P1, the gap of P2, "
        "P4\n"};
    const char *said = told(b, two, 2);
    ck_assert_msg(strstr(said, wanted[_i]) != NULL, "%s", said);
    booth_free(b);
}
END_TEST

/* What a line check of the first decks of a world, heard in another order of joining, is told to
 * leave out. */
static const char *cut_told(const char *world, unsigned decks)
{
    static struct str said;
    struct booth *b = booth_from(world);
    struct circuit *truth = believed(b);
    int first = truth->joined[0];
    truth->joined[0] = truth->joined[1];
    truth->joined[1] = first;
    circuit_number_channels(truth);
    listen_to(b, truth, decks);
    circuit_free(truth);
    struct diagnosis d = diagnosis_make(b);
    str_clear(&said);
    diagnosis_say_cut(&d, &said);
    diagnosis_clear(&d);
    booth_free(b);
    return str_text(&said);
}

START_TEST(more_orders_than_are_kept_are_said_to_be_left_out)
{
    ck_assert_str_eq(cut_told(FOUR "host gap closes", 1), "");
    ck_assert_str_eq(cut_told(EIGHT "host gap closes", 1),
                     "more explains it than is kept; check another deck to tell them apart");
    ck_assert_str_eq(cut_told(EIGHT "host gap closes", 0x7f), "");
}
END_TEST

Suite *test_diagnose_orders(void);
Suite *test_diagnose_orders(void)
{
    Suite *s = suite_create("engine/diagnose, orders");
    TCase *t = tcase_create("orders");
    tcase_set_timeout(t, 300);
    tcase_add_loop_test(t, every_order_of_four_players_with_any_other_cause_is_found, 0, 2);
    tcase_add_loop_test(t, orders_of_eight_players_with_any_other_cause_are_found, 0, 2);
    tcase_add_loop_test(t, any_order_of_eight_players_of_which_one_never_joined_is_found, 0, 2);
    tcase_add_test(t, any_order_alone_or_with_another_cause_in_hundreds_of_random_booths_is_found);
    tcase_add_loop_test(t, any_order_with_any_two_other_causes_is_found_or_sounds_like_fewer, 0, 4);
    tcase_add_test(t,
                   where_the_missing_device_would_stand_makes_one_explanation_of_fewest_exchanges);
    tcase_add_loop_test(t, the_order_is_told_of_those_that_joined_and_with_the_gap_that_is_kept, 0,
                        2);
    tcase_add_test(t, more_orders_than_are_kept_are_said_to_be_left_out);
    suite_add_tcase(s, t);
    return s;
}
