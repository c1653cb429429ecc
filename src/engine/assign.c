/* Two steps. First a least assignment of the square problem (rows that are not there cost nothing)
 * with its potentials: no reduced cost cost - u - v is below zero, and every assignment with the
 * least sum uses only pairs where it is zero. Then, row by row, the lowest such column that still
 * leaves the others one: found by walking alternating paths, without solving anything again. */
#include "engine/assign.h"

#include <assert.h>
#include <string.h>

#include "base/mem.h"

/* More than any sum of real costs: rows * ASSIGN_MOST stays below. */
#define FORBIDDEN ((int64_t)1 << 52)

struct square {
    const int64_t *costs;
    int rows, columns, n;
    int64_t *u, *v; /* potentials, from 1 */
    int *row_of;    /* of each column, from 1; 0: none yet */
};

/* The cost of row i and column j, both from 1. */
static int64_t cost_at(const struct square *s, int i, int j)
{
    if (i > s->rows)
        return 0;
    if (j > s->columns)
        return FORBIDDEN;
    int64_t c = s->costs[(size_t)(i - 1) * (size_t)s->columns + (size_t)(j - 1)];
    assert(c >= 0 && (c == ASSIGN_NEVER || c <= ASSIGN_MOST));
    return c == ASSIGN_NEVER ? FORBIDDEN : c;
}

struct search {
    int64_t *least; /* the smallest reduced cost seen on the way to each column */
    int *from;      /* the column before it on that way */
    bool *done;
};

/* Spreads from a column; returns the next column to go to, the nearest that is not done. */
static int spread(struct square *s, struct search *w, int column)
{
    int row = s->row_of[column], next = 0;
    int64_t delta = INT64_MAX;
    w->done[column] = true;
    for (int j = 1; j <= s->n; j++) {
        if (w->done[j])
            continue;
        int64_t reduced = cost_at(s, row, j) - s->u[row] - s->v[j];
        if (reduced < w->least[j]) {
            w->least[j] = reduced;
            w->from[j] = column;
        }
        if (w->least[j] < delta) {
            delta = w->least[j];
            next = j;
        }
    }
    for (int j = 0; j <= s->n; j++) {
        if (w->done[j]) {
            s->u[s->row_of[j]] += delta;
            s->v[j] -= delta;
        } else {
            w->least[j] -= delta;
        }
    }
    return next;
}

/* Gives a row a column, moving others along the cheapest alternating path. */
static void place_row(struct square *s, struct search *w, int row)
{
    int column = 0;
    s->row_of[0] = row;
    for (int j = 0; j <= s->n; j++) {
        w->least[j] = INT64_MAX;
        w->done[j] = false;
    }
    do
        column = spread(s, w, column);
    while (s->row_of[column] != 0);
    while (column) {
        int before = w->from[column];
        s->row_of[column] = s->row_of[before];
        column = before;
    }
}

static bool tight(const struct square *s, int row, int column)
{
    return cost_at(s, row, column) == s->u[row] + s->v[column];
}

/* Tries to find another column for the row that sits on a column, ending at `free`; rows below
 * `fixed` keep theirs. */
static bool reseat(struct square *s, bool *seen, int row, int free, int fixed)
{
    for (int j = 1; j <= s->n; j++) {
        if (seen[j] || !tight(s, row, j))
            continue;
        seen[j] = true;
        int other = s->row_of[j];
        if (j != free && (other < fixed || !reseat(s, seen, other, free, fixed)))
            continue;
        s->row_of[j] = row;
        return true;
    }
    return false;
}

static int column_of_row(const struct square *s, int row)
{
    int j = 1;
    while (s->row_of[j] != row)
        j++;
    return j;
}

/* Moves every row, in turn, to its lowest column among the least assignments. */
static void prefer_low(struct square *s, bool *seen)
{
    for (int row = 1; row <= s->rows; row++) {
        int now = column_of_row(s, row);
        for (int j = 1; j < now; j++) {
            int other = s->row_of[j];
            if (!tight(s, row, j) || other < row)
                continue;
            memset(seen, 0, ((size_t)s->n + 1) * sizeof *seen);
            seen[j] = true; /* it is to be ours */
            if (!reseat(s, seen, other, now, row + 1))
                continue;
            s->row_of[j] = row;
            break;
        }
    }
}

static bool read_out(const struct square *s, int *column_of)
{
    for (int j = 1; j <= s->n; j++) {
        int row = s->row_of[j];
        if (row > s->rows)
            continue;
        if (cost_at(s, row, j) == FORBIDDEN)
            return false;
        column_of[row - 1] = j - 1;
    }
    return true;
}

bool assign_solve(const int64_t *costs, int rows, int columns, int *column_of)
{
    assert(rows >= 0 && columns >= 0 && rows <= 1000 && columns <= 1000);
    if (rows > columns)
        return false;
    size_t room = (size_t)columns + 1;
    struct square s = {.costs = costs, .rows = rows, .columns = columns, .n = columns};
    struct search w = {mem_new(room, sizeof *w.least), mem_new(room, sizeof *w.from),
                       mem_new(room, sizeof *w.done)};
    s.u = mem_new(room, sizeof *s.u);
    s.v = mem_new(room, sizeof *s.v);
    s.row_of = mem_new(room, sizeof *s.row_of);
    for (int row = 1; row <= s.n; row++)
        place_row(&s, &w, row);
    prefer_low(&s, w.done);
    bool solved = read_out(&s, column_of);
    mem_free(s.u);
    mem_free(s.v);
    mem_free(s.row_of);
    mem_free(w.least);
    mem_free(w.from);
    mem_free(w.done);
    return solved;
}
