/* Boxes in a row: each near where it wants to be, none on another. */
#include <check.h>

#include "support/booth_from.h"
#include "ui/spread.h"

START_TEST(a_box_stands_where_it_wants_to)
{
    struct spread v[] = {{.width = 4, .gap = 1, .want = 2, .weight = 1},
                         {.width = 4, .gap = 1, .want = 20, .weight = 1}};
    spread_out(v, 2, 0, 40);
    ck_assert_int_eq(v[0].x, 2);
    ck_assert_int_eq(v[1].x, 20);
}
END_TEST

START_TEST(two_that_want_each_others_place_meet_in_the_middle)
{
    struct spread v[] = {{.width = 10, .gap = 2, .want = 12, .weight = 1},
                         {.width = 10, .gap = 2, .want = 0, .weight = 1}};
    spread_out(v, 2, 0, 40);
    ck_assert_int_eq(v[0].x, 0);
    ck_assert_int_eq(v[1].x, 12);
}
END_TEST

START_TEST(the_heavier_wish_moves_less)
{
    struct spread v[] = {{.width = 10, .gap = 1, .want = 10, .weight = 1},
                         {.width = 10, .gap = 1, .want = 10, .weight = 99}};
    spread_out(v, 2, -20, 40);
    ck_assert_int_eq(v[1].x, 10);
    ck_assert_int_eq(v[0].x, -1);
}
END_TEST

/* How far everything is from its wishes, squared; -1: something is where it may not be. */
static long long cost(const struct spread *v, size_t n, const int *x, const int bounds[2])
{
    long long sum = 0;
    for (size_t i = 0; i < n; i++) {
        long long off = x[i] - v[i].want;
        sum += off * off * v[i].weight;
        if (x[i] < bounds[0] || x[i] + v[i].width > bounds[1] ||
            (i > 0 && x[i] < x[i - 1] + v[i - 1].width + v[i - 1].gap))
            return -1;
    }
    return sum;
}

/* The least cost of all ways to place n boxes. */
static long long least_cost(const struct spread *v, size_t n, int *x, size_t at,
                            const int bounds[2])
{
    long long best = -1;
    if (at == n)
        return cost(v, n, x, bounds);
    for (x[at] = bounds[0]; x[at] + v[at].width <= bounds[1]; x[at]++) {
        long long one = least_cost(v, n, x, at + 1, bounds);
        best = one >= 0 && (best < 0 || one < best) ? one : best;
    }
    return best;
}

START_TEST(nothing_moves_less)
{
    for (unsigned seed = 1; seed <= 300; seed++) {
        unsigned long long dice = seed;
        struct spread v[3];
        int x[3], low = (int)random_below(&dice, 3), bounds[2];
        for (size_t i = 0; i < 3; i++)
            v[i] = (struct spread){.width = 1 + (int)random_below(&dice, 4),
                                   .gap = (int)random_below(&dice, 3),
                                   .want = (int)random_below(&dice, 20) - 2,
                                   .weight = 1};
        bounds[0] = low;
        bounds[1] = low + spread_width(v, 3) + (int)random_below(&dice, 8);
        spread_out(v, 3, bounds[0], bounds[1]);
        for (size_t i = 0; i < 3; i++)
            x[i] = v[i].x;
        long long ours = cost(v, 3, x, bounds), best = least_cost(v, 3, x, 0, bounds);
        ck_assert_msg(ours >= 0, "seed %u: too near, or outside", seed);
        ck_assert_msg(ours == best, "seed %u: %lld, %lld would do", seed, ours, best);
    }
}
END_TEST

START_TEST(what_does_not_fit_starts_at_the_left)
{
    struct spread v[] = {{.width = 10, .gap = 1, .want = 9, .weight = 1},
                         {.width = 10, .gap = 1, .want = 9, .weight = 1}};
    spread_out(v, 2, 3, 12);
    ck_assert_int_eq(v[0].x, 3);
    ck_assert_int_eq(v[1].x, 14);
}
END_TEST

Suite *test_spread(void)
{
    Suite *s = suite_create("ui/spread");
    TCase *t = tcase_create("spread");
    tcase_add_test(t, a_box_stands_where_it_wants_to);
    tcase_add_test(t, two_that_want_each_others_place_meet_in_the_middle);
    tcase_add_test(t, the_heavier_wish_moves_less);
    tcase_add_test(t, nothing_moves_less);
    tcase_add_test(t, what_does_not_fit_starts_at_the_left);
    suite_add_tcase(s, t);
    return s;
}
