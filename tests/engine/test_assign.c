/* Published instances: SciPy's documentation of linear_sum_assignment (3x3, optimum 5); two 4x4 of
 * textbooks in wide use (140 and 13); the "matrix sum" puzzle's 5x5 (maximum 3315; its number in
 * Project Euler, 345, is from memory). */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "engine/assign.h"
#include "support/booth_from.h"

static int64_t sum_of(const int64_t *costs, int rows, int columns, const int *column_of)
{
    int64_t sum = 0;
    for (int i = 0; i < rows; i++)
        sum += costs[i * columns + column_of[i]];
    return sum;
}

static void solves(const int64_t *costs, int n, int64_t optimum, const int *expected)
{
    int got[8];
    ck_assert(assign_solve(costs, n, n, got));
    ck_assert_int_eq(sum_of(costs, n, n, got), optimum);
    for (int i = 0; i < n; i++)
        ck_assert_int_eq(got[i], expected[i]);
}

START_TEST(published_instances_have_their_published_optima)
{
    solves((const int64_t[]){4, 1, 3, 2, 0, 5, 3, 2, 2}, 3, 5, (const int[]){1, 0, 2});
    solves((const int64_t[]){82, 83, 69, 92, 77, 37, 49, 92, 11, 69, 5, 86, 8, 9, 98, 23}, 4, 140,
           (const int[]){2, 1, 0, 3});
    solves((const int64_t[]){9, 2, 7, 8, 6, 4, 3, 7, 5, 8, 1, 8, 7, 6, 9, 4}, 4, 13,
           (const int[]){1, 0, 2, 3});
    static const int64_t sums[] = {7,   53,  183, 439, 863, 497, 383, 563, 79,  973, 287, 63, 343,
                                   169, 583, 627, 343, 773, 959, 943, 767, 473, 103, 699, 303};
    int64_t costs[25];
    for (int i = 0; i < 25; i++)
        costs[i] = 1000 - sums[i]; /* a maximum */
    solves(costs, 5, 5000 - 3315, (const int[]){4, 1, 2, 3, 0});
}
END_TEST

/* The best of all assignments by trying them in the order of preference: the first that is as
 * cheap as any. */
struct brute {
    const int64_t *costs;
    int rows, columns, now[8], best[8];
    int64_t least;
};

static void try_all(struct brute *b, int row, int64_t sum)
{
    if (row == b->rows) {
        if (sum < b->least) {
            b->least = sum;
            memcpy(b->best, b->now, sizeof b->best);
        }
        return;
    }
    for (int j = 0; j < b->columns; j++) {
        int64_t c = b->costs[row * b->columns + j];
        bool taken = c == ASSIGN_NEVER;
        for (int i = 0; i < row; i++)
            taken = taken || b->now[i] == j;
        if (taken)
            continue;
        b->now[row] = j;
        try_all(b, row + 1, sum + c);
    }
}

START_TEST(it_is_what_trying_all_assignments_finds_ties_and_all)
{
    for (unsigned long long seed = 1; seed <= 6000; seed++) {
        unsigned long long state = seed;
        int64_t costs[36];
        struct brute b = {.costs = costs, .least = INT64_MAX};
        b.rows = (int)random_below(&state, 6);
        b.columns = 1 + (int)random_below(&state, 6);
        unsigned spread = 1 + random_below(&state, 9), never = random_below(&state, 4);
        for (int i = 0; i < b.rows * b.columns; i++)
            costs[i] = random_below(&state, 10) < never ? ASSIGN_NEVER
                                                        : (int64_t)random_below(&state, spread);
        int got[8];
        bool solved = assign_solve(costs, b.rows, b.columns, got);
        try_all(&b, 0, 0);
        ck_assert_msg(solved == (b.least != INT64_MAX), "seed %llu", seed);
        for (int i = 0; i < b.rows && solved; i++)
            ck_assert_msg(got[i] == b.best[i], "seed %llu row %d: %d, not %d", seed, i, got[i],
                          b.best[i]);
    }
}
END_TEST

START_TEST(the_largest_booth_is_solved_and_no_exchange_makes_it_cheaper)
{
    enum { N = 64 };
    static int64_t costs[N * N];
    int got[N];
    unsigned long long state = 64;
    for (int i = 0; i < N * N; i++)
        costs[i] = random_below(&state, 7000);
    ck_assert(assign_solve(costs, N, N, got));
    for (int a = 0; a < N; a++)
        for (int b = 0; b < a; b++)
            ck_assert(costs[a * N + got[a]] + costs[b * N + got[b]] <=
                      costs[a * N + got[b]] + costs[b * N + got[a]]);
}
END_TEST

Suite *test_assign(void)
{
    Suite *s = suite_create("engine/assign");
    TCase *t = tcase_create("assign");
    tcase_add_test(t, published_instances_have_their_published_optima);
    tcase_add_test(t, it_is_what_trying_all_assignments_finds_ties_and_all);
    tcase_add_test(t, the_largest_booth_is_solved_and_no_exchange_makes_it_cheaper);
    suite_add_tcase(s, t);
    return s;
}
