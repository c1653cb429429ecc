/* The linear assignment problem, exactly: each row gets a column of its own, at the least sum.
 *
 * After H. W. Kuhn (1955) and J. Munkres (1957), in the form with potentials and shortest
 * augmenting paths: O(n^3). */
#ifndef ENGINE_ASSIGN_H
#define ENGINE_ASSIGN_H

#include <stdbool.h>
#include <stdint.h>

/* The cost of a pair that must not be. Others lie between 0 and ASSIGN_MOST. */
#define ASSIGN_NEVER INT64_MAX
#define ASSIGN_MOST  ((int64_t)1 << 42)

/* costs is rows x columns, row by row; column_of (rows entries) is filled. Of all assignments with
 * the least sum it is the one whose first row has the lowest column, then the second, and so on.
 * False when none avoids the pairs that must not be; always true for no rows. At most 1000 of
 * either. */
bool assign_solve(const int64_t *costs, int rows, int columns, int *column_of);

#endif
