/* How long it takes to compute everything that follows from a booth, and to draw it: for a small
 * booth and for the largest one, tidy and in a muddle. */
#include <stdio.h>

#include "base/str.h"
#include "bench/figures.h"
#include "engine/derived.h"
#include "model/layout.h"
#include "ui/canvas.h"

enum { COLUMNS = 120, ROWS = 40 };

struct subject {
    const struct booth *b;
    const struct derived *d;
    const struct canvas *c;
};

static void compute(void *self)
{
    const struct subject *s = self;
    derived_free(derived_make(s->b));
}

static void lay_out(void *self)
{
    const struct subject *s = self;
    canvas_free(canvas_make(s->d, COLUMNS, ROWS));
}

static void draw(void *self)
{
    const struct subject *s = self;
    struct grid *g = grid_new(COLUMNS, ROWS, false);
    canvas_draw(s->c, g, (struct rect){0, 0, COLUMNS, ROWS}, 0, 0, &(struct canvas_marks){0});
    grid_free(g);
}

static struct booth *booth_of(int size)
{
    struct str labels = {0};
    for (int i = 1; i <= size; i++)
        str_addf(&labels, "%d ", i);
    struct layout l = {
        .players = size, .decks = size, .strips = str_text(&labels), .way = WAY_PLAYER_CARDS};
    struct err e;
    struct booth *b = booth_laid_out(&l, &e);
    str_clear(&labels);
    return b;
}

/* Every cable exchanges its sides, every deck is set one channel too high: faults everywhere. */
static struct booth *muddle_of(int size)
{
    struct booth *b = booth_of(size);
    for (size_t i = 0; i < b->cables.n; i++)
        b->cables.v[i].sides = SIDES_SWAPPED;
    for (size_t i = 0; i < b->decks.n; i++) {
        b->decks.v[i].set_to.left++;
        b->decks.v[i].set_to.right++;
    }
    return b;
}

struct times {
    double compute, lay_out, draw;
};

/* Measures a booth, and frees it. */
static struct times measure(struct booth *b)
{
    struct derived *d = derived_make(b);
    struct canvas *c = canvas_make(d, COLUMNS, ROWS);
    struct subject s = {b, d, c};
    struct times t = {microseconds(compute, &s), microseconds(lay_out, &s), microseconds(draw, &s)};
    canvas_free(c);
    derived_free(d);
    booth_free(b);
    return t;
}

int main(void)
{
    struct times small = measure(booth_of(4)), large = measure(booth_of(64)),
                 muddle = measure(muddle_of(64));
    puts("recomputing everything after a change (x: beside 4 players)");
    figure("4 players, 4 strips, 4 decks", small.compute, "us", 0);
    figure("64 players, 64 strips, 64 decks", large.compute, "us", small.compute);
    figure("the same in a muddle, faults everywhere", muddle.compute, "us", small.compute);
    puts("laying out the picture");
    figure("4 players, 4 strips, 4 decks", small.lay_out, "us", 0);
    figure("64 players, 64 strips, 64 decks", large.lay_out, "us", small.lay_out);
    figure("the same in a muddle, faults everywhere", muddle.lay_out, "us", small.lay_out);
    puts("drawing a window of 120 by 40 of it");
    figure("4 players, 4 strips, 4 decks", small.draw, "us", 0);
    figure("64 players, 64 strips, 64 decks", large.draw, "us", small.draw);
    figure("the same in a muddle, faults everywhere", muddle.draw, "us", small.draw);
    return 0;
}
