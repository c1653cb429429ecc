/* The channel router.
 *
 * A wire that is not straight is one run: a level piece with a leg at each end, up or down to a
 * jack. Which of two runs lies higher decides how often they cross, nothing else does; and where
 * one's jack above stands in the column of the other's jack below, the first must lie higher. So:
 *
 *   1. cut a wire in two where the musts go in a ring (the cut is its jog),
 *   2. order the runs from top to bottom so that the crossings sum to little,
 *   3. let each run fall upwards to the highest row that its order allows. */
#include "ui/wires.h"

#include <assert.h>
#include <stdlib.h>

#include "base/mem.h"

struct run {
    size_t wire;
    int left, right; /* its level piece, both ends included */
    int end[2];      /* columns of its legs */
    bool down[2];    /* whether a leg goes down */
    int part;        /* 0: the whole wire; 1: above its jog; 2: below its jog */
    int row;
    int waits; /* runs that must still be placed above it */
    int score; /* crossings lost by placing it now, against those still unplaced */
    bool placed;
};

struct channel {
    struct wire *wires;
    size_t n_wires;
    struct run *runs;
    size_t n, cap;
    size_t *order; /* runs from top to bottom */
};

static void span(struct run *r)
{
    r->left = r->end[0] < r->end[1] ? r->end[0] : r->end[1];
    r->right = r->end[0] < r->end[1] ? r->end[1] : r->end[0];
}

/* Whether a must lie above b: a leg of a goes up where one of b goes down, or a jog joins them. */
static bool must(const struct run *a, const struct run *b)
{
    if (a->wire == b->wire)
        return a->part == 1 && b->part == 2;
    for (int i = 0; i < 2; i++)
        for (int k = 0; k < 2; k++)
            if (!a->down[i] && b->down[k] && a->end[i] == b->end[k])
                return true;
    return false;
}

/* Whether a leg of one run at a column meets the level piece of another, other than where both
 * come from the same jack. */
static bool meets(const struct run *r, int column, bool down)
{
    if (column < r->left || column > r->right)
        return false;
    for (int i = 0; i < 2; i++)
        if (r->end[i] == column && r->down[i] == down)
            return false;
    return true;
}

/* Crossings of two runs when a lies above b. */
static int crossings(const struct run *a, const struct run *b)
{
    int n = 0;
    if (a->wire == b->wire)
        return 0;
    for (int i = 0; i < 2; i++) {
        n += a->down[i] && meets(b, a->end[i], true);
        n += !b->down[i] && meets(a, b->end[i], false);
    }
    return n;
}

static void add_run(struct channel *c, struct run r)
{
    span(&r);
    c->runs = mem_grow(c->runs, &c->cap, c->n + 1, sizeof *c->runs);
    c->runs[c->n++] = r;
}

static void make_runs(struct channel *c)
{
    for (size_t i = 0; i < c->n_wires; i++) {
        struct wire *w = &c->wires[i];
        w->row = w->jog_row = -1;
        w->jog_col = 0;
        if (w->from == w->to && !w->returns)
            continue;
        add_run(c, (struct run){.wire = i, .end = {w->from, w->to}, .down = {false, !w->returns}});
    }
}

static void count_waits(struct channel *c)
{
    for (size_t i = 0; i < c->n; i++) {
        c->runs[i].waits = 0;
        c->runs[i].placed = false;
        for (size_t k = 0; k < c->n; k++)
            c->runs[i].waits += k != i && must(&c->runs[k], &c->runs[i]);
    }
}

static void release(struct channel *c, size_t placed)
{
    c->runs[placed].placed = true;
    for (size_t k = 0; k < c->n; k++)
        if (!c->runs[k].placed && must(&c->runs[placed], &c->runs[k]))
            c->runs[k].waits--;
}

/* The widest run of a ring of musts: from any that waits, back along what it waits for, until the
 * ring closes; then once around. */
static size_t widest_in_ring(const struct channel *c)
{
    size_t at = 0;
    while (c->runs[at].placed)
        at++;
    size_t widest = at;
    for (size_t steps = 0; steps < 2 * c->n; steps++) {
        if (steps == c->n)
            widest = at; /* by now in the ring */
        size_t k = 0;
        while (c->runs[k].placed || k == at || !must(&c->runs[k], &c->runs[at]))
            k++;
        at = k;
        if (c->runs[at].right - c->runs[at].left > c->runs[widest].right - c->runs[widest].left)
            widest = at;
    }
    return widest;
}

/* How near the next leg (or jog) of any wire is to a column: 0 on it. */
static int room_at(const struct channel *c, int column)
{
    int room = 1000;
    for (size_t i = 0; i < c->n_wires; i++) {
        int a = abs(c->wires[i].from - column), b = abs(c->wires[i].to - column);
        room = a < room ? a : room;
        room = b < room ? b : room;
    }
    for (size_t i = 0; i < c->n; i++)
        if (c->runs[i].part == 1 && abs(c->runs[i].end[1] - column) < room)
            room = abs(c->runs[i].end[1] - column);
    return room;
}

/* A column for a jog: off every leg, inside the run and away from all legs if it can, near the
 * middle. */
static int jog_column(const struct channel *c, const struct run *r)
{
    enum { AIRY = 4 };
    int middle = (r->left + r->right) / 2, best = -1, best_room = 0;
    for (int away = 0; best < 0 || away <= r->right - r->left; away++) {
        int column = middle + (away % 2 ? -(away + 1) / 2 : away / 2);
        int room = column < 0 ? 0 : room_at(c, column);
        bool inside = column > r->left && column < r->right;
        room = room > AIRY ? AIRY : room;
        if (room > 0 && (best < 0 || (inside && room > best_room))) {
            best = column;
            best_room = inside ? room : 0;
        }
    }
    return best;
}

/* Cuts a run at its jog. What it waited for concerns the part below; nothing holds the part above.
 */
static void cut(struct channel *c, size_t which)
{
    struct run *above = &c->runs[which];
    struct run below = *above;
    int column = jog_column(c, above);
    above->end[1] = below.end[0] = column;
    above->part = 1;
    below.part = 2;
    above->waits = 0;
    below.waits++;
    span(above);
    add_run(c, below);
}

static void cut_rings(struct channel *c)
{
    count_waits(c);
    for (size_t placed = 0; placed < c->n;) {
        size_t before = placed;
        for (size_t i = 0; i < c->n; i++) {
            if (c->runs[i].placed || c->runs[i].waits)
                continue;
            release(c, i);
            placed++;
        }
        if (placed == before)
            cut(c, widest_in_ring(c));
    }
}

/* Always the run that costs the fewest crossings on top of all those that are left. */
static void order_greedily(struct channel *c)
{
    count_waits(c);
    for (size_t i = 0; i < c->n; i++) {
        struct run *r = &c->runs[i];
        r->score = 0;
        for (size_t k = 0; k < c->n; k++)
            r->score += crossings(r, &c->runs[k]) - crossings(&c->runs[k], r);
    }
    for (size_t at = 0; at < c->n; at++) {
        size_t best = c->n;
        for (size_t i = 0; i < c->n; i++)
            if (!c->runs[i].placed && !c->runs[i].waits &&
                (best == c->n || c->runs[i].score < c->runs[best].score))
                best = i;
        assert(best < c->n);
        c->order[at] = best;
        release(c, best);
        for (size_t i = 0; i < c->n; i++)
            c->runs[i].score += crossings(&c->runs[best], &c->runs[i]) -
                                crossings(&c->runs[i], &c->runs[best]);
    }
}

/* Moves the run at a place up or down to where it crosses least; false when it is there. */
static bool improve_at(struct channel *c, size_t at, int step)
{
    const struct run *moved = &c->runs[c->order[at]];
    size_t to = at;
    int gain = 0, best = 0;
    for (size_t k = at; step < 0 ? k > 0 : k + 1 < c->n;) {
        k = step < 0 ? k - 1 : k + 1;
        const struct run *other = &c->runs[c->order[k]];
        const struct run *upper = step < 0 ? other : moved, *lower = step < 0 ? moved : other;
        if (must(upper, lower))
            break;
        gain += crossings(upper, lower) - crossings(lower, upper);
        if (gain > best) {
            best = gain;
            to = k;
        }
    }
    size_t run = c->order[at];
    for (size_t k = at; k != to; k = step < 0 ? k - 1 : k + 1)
        c->order[k] = c->order[step < 0 ? k - 1 : k + 1];
    c->order[to] = run;
    return best > 0;
}

static void improve(struct channel *c)
{
    enum { SWEEPS = 8 };
    bool better = true;
    for (int sweep = 0; better && sweep < SWEEPS; sweep++) {
        better = false;
        for (size_t at = 0; at < c->n; at++)
            if (improve_at(c, at, -1) || improve_at(c, at, 1))
                better = true;
    }
}

/* Runs that share a column, or touch, may not share a row. */
static bool apart(const struct run *a, const struct run *b)
{
    return a->right + 1 < b->left || b->right + 1 < a->left;
}

static int fall_upwards(struct channel *c)
{
    int rows = 0;
    for (size_t at = 0; at < c->n; at++) {
        struct run *r = &c->runs[c->order[at]];
        r->row = 0;
        for (size_t k = 0; k < at; k++) {
            const struct run *above = &c->runs[c->order[k]];
            if (r->row <= above->row && !apart(r, above))
                r->row = above->row + 1;
        }
        rows = r->row >= rows ? r->row + 1 : rows;
    }
    return rows;
}

static void tell(struct channel *c)
{
    for (size_t i = 0; i < c->n; i++) {
        const struct run *r = &c->runs[i];
        struct wire *w = &c->wires[r->wire];
        if (r->part == 2) {
            w->jog_row = r->row;
            w->jog_col = r->end[0];
        } else {
            w->row = r->row;
        }
    }
}

int wires_route(struct wire *w, size_t n)
{
    struct channel c = {.wires = w, .n_wires = n};
    make_runs(&c);
    cut_rings(&c);
    c.order = mem_new(c.n, sizeof *c.order);
    order_greedily(&c);
    improve(&c);
    int rows = fall_upwards(&c);
    tell(&c);
    mem_free(c.runs);
    mem_free(c.order);
    return rows;
}

int wire_path(const struct wire *w, int first, int above, int below, struct point p[WIRE_POINTS])
{
    int n = 0, end = w->returns ? above : below;
    p[n++] = (struct point){w->from, above};
    if (w->row >= 0)
        p[n++] = (struct point){w->from, first + w->row};
    if (w->jog_row >= 0) {
        p[n++] = (struct point){w->jog_col, first + w->row};
        p[n++] = (struct point){w->jog_col, first + w->jog_row};
        p[n++] = (struct point){w->to, first + w->jog_row};
    } else if (w->row >= 0) {
        p[n++] = (struct point){w->to, first + w->row};
    }
    p[n++] = (struct point){w->to, end};
    return n;
}

static bool between(int a, int x, int b)
{
    return a < b ? a < x && x < b : b < x && x < a;
}

int wires_cross(const struct wire *a, const struct wire *b)
{
    enum { FAR = 100000 };
    struct point p[2][WIRE_POINTS];
    int n[2] = {wire_path(a, 0, -1, FAR, p[0]), wire_path(b, 0, -1, FAR, p[1])};
    int count = 0;
    for (int i = 0; i + 1 < n[0]; i++)
        for (int k = 0; k + 1 < n[1]; k++) {
            const struct point *s = &p[0][i], *t = &p[1][k];
            bool level = s[0].y == s[1].y;
            if (level == (t[0].y == t[1].y))
                continue;
            const struct point *h = level ? s : t, *v = level ? t : s;
            count += between(h[0].x, v[0].x, h[1].x) && between(v[0].y, h[0].y, v[1].y);
        }
    return count;
}
