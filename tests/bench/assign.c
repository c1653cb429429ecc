/* The assignment beside a general solver of linear programs (GLPK), where that is there. */
#include <stdio.h>

#ifdef HAVE_glpk
#include <glpk.h>
#endif

#include "base/mem.h"
#include "bench/figures.h"
#include "engine/assign.h"

enum { N = 64 };

struct problem {
    int64_t costs[N * N];
};

static void fill(struct problem *p)
{
    unsigned long long state = 1;
    for (int i = 0; i < N * N; i++) {
        state = state * 6364136223846793005ULL + 1442695040888963407ULL;
        p->costs[i] = (int64_t)(state >> 33) % 8000;
    }
}

static void ours(void *self)
{
    const struct problem *p = self;
    int column_of[N];
    assign_solve(p->costs, N, N, column_of);
}

#ifdef HAVE_glpk
static void theirs(void *self)
{
    const struct problem *p = self;
    static int ia[2 * N * N + 1], ja[2 * N * N + 1];
    static double ar[2 * N * N + 1];
    glp_prob *lp = glp_create_prob();
    int n = 0;
    glp_term_out(GLP_OFF);
    glp_add_rows(lp, 2 * N);
    glp_add_cols(lp, N * N);
    for (int i = 1; i <= 2 * N; i++)
        glp_set_row_bnds(lp, i, GLP_FX, 1, 1);
    for (int k = 0; k < N * N; k++) {
        glp_set_col_bnds(lp, k + 1, GLP_LO, 0, 0);
        glp_set_obj_coef(lp, k + 1, (double)p->costs[k]);
        for (int side = 0; side < 2; side++) {
            ia[++n] = side ? N + k % N + 1 : k / N + 1;
            ja[n] = k + 1;
            ar[n] = 1;
        }
    }
    glp_load_matrix(lp, n, ia, ja, ar);
    glp_simplex(lp, NULL);
    glp_delete_prob(lp);
}
#endif

int main(void)
{
    struct problem *p = mem_new(1, sizeof *p);
    fill(p);
    double us = microseconds(ours, p);
    puts("assigning 64 strips to 64 players (x: the solver beside ours)");
    figure("the assignment", us, "us", 0);
#ifdef HAVE_glpk
    figure("GLPK's simplex method on the same", microseconds(theirs, p), "us", us);
#endif
    mem_free(p);
    return 0;
}
