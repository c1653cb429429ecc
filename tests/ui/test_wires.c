/* The router: small pictures, and laws on random wirings. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "support/booth_from.h"
#include "ui/wires.h"

enum { UP = 1, DOWN = 2, LEFT = 4, RIGHT = 8, COLUMNS = 64, ROWS = 48, MOST_WIRES = 16 };

/* Which arms every wire has in every cell; row 0 holds the jacks above. */
struct sheet {
    unsigned char arms[MOST_WIRES][ROWS][COLUMNS];
    int rows; /* jacks included */
};
static struct sheet sheet;

static int sign(int n)
{
    return (n > 0) - (n < 0);
}

static void trace_wire(const struct wire *w, size_t n, int rows)
{
    struct point p[WIRE_POINTS];
    int points = wire_path(w, 1, 0, rows + 1, p);
    for (int i = 0; i + 1 < points; i++) {
        int dx = sign(p[i + 1].x - p[i].x), dy = sign(p[i + 1].y - p[i].y);
        ck_assert_msg((dx == 0) != (dy == 0), "wire %zu does not go level or upright", n);
        unsigned char out = dx ? (dx > 0 ? RIGHT : LEFT) : (dy > 0 ? DOWN : UP);
        unsigned char in = dx ? (dx > 0 ? LEFT : RIGHT) : (dy > 0 ? UP : DOWN);
        for (struct point at = p[i]; at.x != p[i + 1].x || at.y != p[i + 1].y;) {
            sheet.arms[n][at.y][at.x] |= out;
            at.x += dx;
            at.y += dy;
            sheet.arms[n][at.y][at.x] |= in;
        }
    }
    ck_assert_int_eq(p[0].x, w->from);
    ck_assert_int_eq(p[0].y, 0);
    ck_assert_int_eq(p[points - 1].x, w->to);
    ck_assert_int_eq(p[points - 1].y, w->returns ? 0 : rows + 1);
    for (int i = 1; i + 1 < points; i++)
        ck_assert_msg(p[i].y >= 1 && p[i].y <= rows, "wire %zu leaves the channel", n);
}

static void trace(struct wire *w, size_t n)
{
    int rows = wires_route(w, n);
    ck_assert_uint_le(n, MOST_WIRES);
    ck_assert_int_lt(rows + 2, ROWS);
    memset(&sheet, 0, sizeof sheet);
    sheet.rows = rows + 2;
    for (size_t i = 0; i < n; i++)
        trace_wire(&w[i], i, rows);
}

/* The wiring as text, crossings as in the editor: the level wire is interrupted. */
static const char *drawn(struct wire *w, size_t n, int columns)
{
    static char text[4000];
    static const char glyphs[] = " |||-++|-++|-++|";
    size_t len = 0;
    trace(w, n);
    for (int y = 0; y < sheet.rows; y++) {
        size_t end = len;
        for (int x = 0; x < columns; x++) {
            unsigned all = 0;
            bool upright = false;
            for (size_t i = 0; i < n; i++) {
                all |= sheet.arms[i][y][x];
                upright |= sheet.arms[i][y][x] == (UP | DOWN);
            }
            text[len++] = y == 0 || y == sheet.rows - 1 ? (all ? 'o' : ' ')
                          : upright                     ? '|'
                                                        : glyphs[all];
            end = all ? len : end;
        }
        len = end;
        text[len++] = '\n';
    }
    text[len] = '\0';
    return text;
}

START_TEST(straight_wires_take_no_rows)
{
    struct wire w[] = {{.from = 1, .to = 1}, {.from = 4, .to = 4}};
    ck_assert_int_eq(wires_route(w, 2), 0);
}
END_TEST

START_TEST(two_wires_to_the_right_do_not_cross)
{
    struct wire w[] = {{.from = 0, .to = 6}, {.from = 3, .to = 9}};
    ck_assert_str_eq(drawn(w, 2, 10), "o  o\n"
                                      "|  +-----+\n"
                                      "+-----+  |\n"
                                      "      o  o\n");
}
END_TEST

START_TEST(two_that_change_places_cross_once_by_a_jog)
{
    struct wire w[] = {{.from = 1, .to = 9}, {.from = 9, .to = 1}};
    ck_assert_str_eq(drawn(w, 2, 10), " o       o\n"
                                      " +---+   |\n"
                                      " +---|---+\n"
                                      " |   +---+\n"
                                      " o       o\n");
    ck_assert_int_eq(wires_cross(&w[0], &w[1]), 1);
}
END_TEST

START_TEST(wires_from_one_jack_part_where_they_must)
{
    struct wire w[] = {{.from = 4, .to = 0}, {.from = 4, .to = 8}, {.from = 4, .to = 4}};
    ck_assert_str_eq(drawn(w, 3, 9), "    o\n"
                                     "+---|\n"
                                     "|   |---+\n"
                                     "o   o   o\n");
}
END_TEST

START_TEST(a_wire_may_come_back_up)
{
    struct wire w[] = {{.from = 1, .to = 7, .returns = true}, {.from = 4, .to = 4}};
    ck_assert_str_eq(drawn(w, 2, 8), " o  o  o\n"
                                     " +--|--+\n"
                                     "    o\n");
}
END_TEST

/* --- laws ------------------------------------------------------------------------------------- */

/* Distinct columns, at least step apart. */
static void throw_columns(unsigned long long *dice, int *columns, int n, int step)
{
    int x = 0;
    for (int i = 0; i < n; i++) {
        columns[i] = x;
        x += step + (int)random_below(dice, 3);
    }
}

static bool there_already(const struct wire *w, size_t n, const struct wire *one)
{
    for (size_t i = 0; i < n; i++)
        if (w[i].from == one->from && w[i].to == one->to && w[i].returns == one->returns)
            return true;
    return false;
}

static size_t throw_wiring(unsigned long long *dice, struct wire *w, size_t most, bool shared)
{
    int above[10], below[10], jacks = 2 + (int)random_below(dice, 9);
    int step = 1 + (int)random_below(dice, 4);
    throw_columns(dice, above, jacks, step);
    throw_columns(dice, below, jacks, step);
    size_t want = 1 + random_below(dice, (unsigned)most), n = 0;
    for (size_t i = 0; i < want; i++) {
        int a = (int)random_below(dice, (unsigned)jacks),
            b = (int)random_below(dice, (unsigned)jacks);
        struct wire one = {.from = above[a], .to = below[b]};
        bool taken = there_already(w, n, &one);
        for (size_t k = 0; k < n; k++)
            taken |= !shared && (w[k].from == one.from || w[k].to == one.to);
        if (!taken)
            w[n++] = one;
    }
    if (shared && random_below(dice, 4) == 0 && n < most)
        w[n++] = (struct wire){.from = above[0], .to = above[jacks - 1], .returns = true};
    return n;
}

/* Whether a wire has an end above, or below, the channel at a column. */
static bool ends_at(const struct wire *w, int x, bool above)
{
    return above ? w->from == x || (w->returns && w->to == x) : !w->returns && w->to == x;
}

/* Whether a cell lies on the way that wires a and b share from a jack that both have. */
static bool on_shared_leg(const struct wire *w, size_t a, size_t b, int x, int y)
{
    bool up = ends_at(&w[a], x, true) && ends_at(&w[b], x, true);
    bool down = ends_at(&w[a], x, false) && ends_at(&w[b], x, false);
    for (int k = 0; k < y; k++)
        up = up && (sheet.arms[a][k][x] & sheet.arms[b][k][x] & DOWN);
    for (int k = sheet.rows - 1; k > y; k--)
        down = down && (sheet.arms[a][k][x] & sheet.arms[b][k][x] & UP);
    return up || down;
}

/* Asserts that two wires share only crossings and the leg of a common jack; counts crossings. */
static int count_shared(const struct wire *w, size_t a, size_t b, unsigned seed)
{
    int count = 0;
    for (int y = 0; y < sheet.rows; y++)
        for (int x = 0; x < COLUMNS; x++) {
            unsigned p = sheet.arms[a][y][x], q = sheet.arms[b][y][x];
            if (!p || !q || on_shared_leg(w, a, b, x, y))
                continue;
            bool bridge = (p == (UP | DOWN) && q == (LEFT | RIGHT)) ||
                          (q == (UP | DOWN) && p == (LEFT | RIGHT));
            ck_assert_msg(bridge, "seed %u: wires %zu and %zu share %d, %d", seed, a, b, x, y);
            count++;
        }
    return count;
}

static int count_crossings(const struct wire *w, size_t n, unsigned seed)
{
    int all = 0;
    for (size_t a = 0; a < n; a++)
        for (size_t b = a + 1; b < n; b++) {
            int count = count_shared(w, a, b, seed);
            ck_assert_msg(count == wires_cross(&w[a], &w[b]), "seed %u: wires_cross", seed);
            all += count;
        }
    return all;
}

START_TEST(wires_share_no_cell_but_where_they_cross)
{
    for (unsigned seed = 1; seed <= 2000; seed++) {
        unsigned long long dice = seed;
        struct wire w[MOST_WIRES];
        size_t n = throw_wiring(&dice, w, 14, true);
        trace(w, n);
        count_crossings(w, n, seed);
    }
}
END_TEST

/* A router as simple as can be: every wire that is not straight has a row of its own, in the order
 * of a permutation. False when two would lie on each other. */
static bool route_simply(struct wire *w, size_t n, const size_t *order)
{
    for (size_t i = 0; i < n; i++) {
        w[order[i]].row = w[order[i]].from == w[order[i]].to ? -1 : (int)i;
        w[order[i]].jog_row = -1;
    }
    for (size_t a = 0; a < n; a++)
        for (size_t b = 0; b < n; b++)
            if (a != b && w[a].from == w[b].to && w[a].row >= w[b].row)
                return false;
    return true;
}

static int sum_crossings(const struct wire *w, size_t n)
{
    int all = 0;
    for (size_t a = 0; a < n; a++)
        for (size_t b = a + 1; b < n; b++)
            all += wires_cross(&w[a], &w[b]);
    return all;
}

/* The fewest crossings of the simple router over all orders; -1: no order works. */
static int fewest(struct wire *w, size_t n, size_t *order, size_t at)
{
    if (at == n)
        return route_simply(w, n, order) ? sum_crossings(w, n) : -1;
    int best = -1;
    for (size_t i = at; i < n; i++) {
        size_t swap = order[at];
        order[at] = order[i];
        order[i] = swap;
        int one = fewest(w, n, order, at + 1);
        best = one >= 0 && (best < 0 || one < best) ? one : best;
        order[i] = order[at];
        order[at] = swap;
    }
    return best;
}

START_TEST(no_order_of_rows_crosses_less)
{
    int compared = 0;
    for (unsigned seed = 1; seed <= 600; seed++) {
        unsigned long long dice = seed;
        struct wire w[MOST_WIRES], simple[MOST_WIRES];
        size_t n = throw_wiring(&dice, w, 6, false), order[MOST_WIRES];
        for (size_t i = 0; i < n; i++)
            order[i] = i;
        memcpy(simple, w, sizeof w);
        int best = fewest(simple, n, order, 0);
        trace(w, n);
        int ours = count_crossings(w, n, seed);
        if (best < 0)
            continue;
        compared++;
        ck_assert_msg(ours <= best, "seed %u: %d crossings, %d would do", seed, ours, best);
    }
    ck_assert_int_gt(compared, 300);
}
END_TEST

/* The wires from top to bottom, as they were routed. */
static void order_by_row(const struct wire *w, size_t n, size_t *order)
{
    for (size_t i = 0; i < n; i++) {
        size_t at = i;
        for (; at > 0 && w[order[at - 1]].row > w[i].row; at--)
            order[at] = order[at - 1];
        order[at] = i;
    }
}

static void move(size_t *order, size_t from, size_t to)
{
    size_t moved = order[from];
    for (; from < to; from++)
        order[from] = order[from + 1];
    for (; from > to; from--)
        order[from] = order[from - 1];
    order[to] = moved;
}

/* The fewest crossings after one wire has gone to another row. */
static int fewest_by_one_move(struct wire *w, size_t n, size_t *order)
{
    int best = sum_crossings(w, n);
    for (size_t from = 0; from < n; from++)
        for (size_t to = 0; to < n; to++) {
            move(order, from, to);
            if (route_simply(w, n, order) && sum_crossings(w, n) < best)
                best = sum_crossings(w, n);
            move(order, to, from);
        }
    return best;
}

START_TEST(no_wire_moved_alone_crosses_less)
{
    int compared = 0;
    for (unsigned seed = 1; seed <= 1500; seed++) {
        unsigned long long dice = seed;
        struct wire w[MOST_WIRES];
        size_t n = throw_wiring(&dice, w, 30, false), order[MOST_WIRES];
        bool jogs = false;
        wires_route(w, n);
        for (size_t i = 0; i < n; i++)
            jogs |= w[i].jog_row >= 0;
        if (jogs)
            continue;
        compared++;
        int ours = sum_crossings(w, n);
        order_by_row(w, n, order);
        int best = fewest_by_one_move(w, n, order);
        ck_assert_msg(ours == best, "seed %u: %d crossings, %d by one move", seed, ours, best);
    }
    ck_assert_int_gt(compared, 500);
}
END_TEST

Suite *test_wires(void)
{
    Suite *s = suite_create("ui/wires");
    TCase *t = tcase_create("pictures");
    tcase_add_test(t, straight_wires_take_no_rows);
    tcase_add_test(t, two_wires_to_the_right_do_not_cross);
    tcase_add_test(t, two_that_change_places_cross_once_by_a_jog);
    tcase_add_test(t, wires_from_one_jack_part_where_they_must);
    tcase_add_test(t, a_wire_may_come_back_up);
    suite_add_tcase(s, t);
    t = tcase_create("laws");
    tcase_add_test(t, wires_share_no_cell_but_where_they_cross);
    tcase_add_test(t, no_order_of_rows_crosses_less);
    tcase_add_test(t, no_wire_moved_alone_crosses_less);
    suite_add_tcase(s, t);
    return s;
}
