/* The assignment against a general-purpose solver of linear programs (GLPK), where that is there.
 * The assignment polytope has only whole corners (Birkhoff, von Neumann), so the simplex method's
 * optimum is an assignment's. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/mem.h"
#include "engine/assign.h"
#include "support/booth_from.h"

#ifdef HAVE_glpk
#include <glpk.h>

/* The least sum of giving each row a column of its own; -1 when there is none. */
static double reference(const int64_t *costs, int rows, int columns)
{
    glp_prob *p = glp_create_prob();
    int n = 0, most = rows * columns, *ia, *ja;
    double *ar;
    ia = mem_new((size_t)(2 * most + 1), sizeof *ia);
    ja = mem_new((size_t)(2 * most + 1), sizeof *ja);
    ar = mem_new((size_t)(2 * most + 1), sizeof *ar);
    glp_term_out(GLP_OFF);
    glp_add_rows(p, rows + columns);
    glp_add_cols(p, most);
    for (int i = 1; i <= rows + columns; i++)
        glp_set_row_bnds(p, i, i <= rows ? GLP_FX : GLP_UP, 1, 1);
    for (int k = 0; k < most; k++) {
        bool never = costs[k] == ASSIGN_NEVER;
        glp_set_col_bnds(p, k + 1, never ? GLP_FX : GLP_LO, 0, 0);
        glp_set_obj_coef(p, k + 1, never ? 0 : (double)costs[k]);
        ia[++n] = k / columns + 1;
        ja[n] = k + 1;
        ar[n] = 1;
        ia[++n] = rows + k % columns + 1;
        ja[n] = k + 1;
        ar[n] = 1;
    }
    glp_load_matrix(p, n, ia, ja, ar);
    glp_smcp how;
    glp_init_smcp(&how);
    how.presolve = GLP_OFF;
    ck_assert_int_eq(glp_simplex(p, &how), 0);
    double sum = glp_get_status(p) == GLP_OPT ? glp_get_obj_val(p) : -1;
    glp_delete_prob(p);
    mem_free(ia);
    mem_free(ja);
    mem_free(ar);
    return sum;
}

static void compare(unsigned long long seed, int rows, int columns, unsigned never)
{
    unsigned long long state = seed;
    int64_t *costs = mem_new((size_t)(rows * columns), sizeof *costs), sum = 0;
    int column_of[64];
    for (int i = 0; i < rows * columns; i++)
        costs[i] = random_below(&state, 100) < never ? ASSIGN_NEVER
                                                     : (int64_t)random_below(&state, 8000);
    bool solved = assign_solve(costs, rows, columns, column_of);
    double expected = reference(costs, rows, columns);
    for (int i = 0; i < rows && solved; i++)
        sum += costs[i * columns + column_of[i]];
    if (solved)
        ck_assert_msg((double)sum > expected - 0.5 && (double)sum < expected + 0.5,
                      "seed %llu, %d x %d: %lld, not %.1f", seed, rows, columns, (long long)sum,
                      expected);
    else
        ck_assert_msg(expected < 0, "seed %llu: %.1f was found", seed, expected);
    mem_free(costs);
}
#endif

START_TEST(the_least_sum_is_that_of_a_general_solver)
{
#ifdef HAVE_glpk
    for (unsigned long long seed = 1; seed <= 300; seed++) {
        unsigned long long state = seed * 77;
        int rows = 1 + (int)random_below(&state, 12);
        int columns = rows + (int)random_below(&state, 6);
        compare(seed, rows, columns, random_below(&state, 70));
    }
    compare(64, 64, 64, 0);
    compare(65, 40, 64, 50);
#else
    printf("glpk: not there, the general solver's opinion is skipped\n");
#endif
}
END_TEST

Suite *test_glpk(void)
{
    Suite *s = suite_create("glpk");
    TCase *t = tcase_create("assignment");
    tcase_add_test(t, the_least_sum_is_that_of_a_general_solver);
    suite_add_tcase(s, t);
    return s;
}
