/* Isotonic regression by pooling neighbours.
 *
 * Taking from each wish what the boxes before it take up anyway, the answers must only not
 * descend. So boxes join a block while their wishes descend, and a block stands at the weighted
 * mean of its wishes: the least sum of squares (a textbook result; from memory). */
#include "ui/spread.h"

#include <assert.h>

#include "base/mem.h"

struct block {
    long long sum, weight; /* of want * weight */
    size_t count;
};

static long long mean(const struct block *b)
{
    long long twice = 2 * b->sum + b->weight, over = 2 * b->weight;
    return twice >= 0 ? twice / over : -((-twice + over - 1) / over);
}

int spread_width(const struct spread *v, size_t n)
{
    int width = 0;
    for (size_t i = 0; i < n; i++)
        width += v[i].width + (i + 1 < n ? v[i].gap : 0);
    return width;
}

/* Joins the wishes into blocks that do not descend; returns how many. */
static size_t pool(const struct spread *v, size_t n, struct block *blocks)
{
    size_t used = 0;
    int before = 0;
    for (size_t i = 0; i < n; i++) {
        assert(v[i].weight >= 1);
        blocks[used++] = (struct block){.sum = (long long)(v[i].want - before) * v[i].weight,
                                        .weight = v[i].weight,
                                        .count = 1};
        before += v[i].width + v[i].gap;
        while (used > 1 && mean(&blocks[used - 2]) >= mean(&blocks[used - 1])) {
            blocks[used - 2].sum += blocks[used - 1].sum;
            blocks[used - 2].weight += blocks[used - 1].weight;
            blocks[used - 2].count += blocks[used - 1].count;
            used--;
        }
    }
    return used;
}

void spread_out(struct spread *v, size_t n, int low, int high)
{
    struct block *blocks = mem_new(n, sizeof *blocks);
    size_t used = pool(v, n, blocks), i = 0;
    int most = high - spread_width(v, n), before = 0;
    for (size_t k = 0; k < used; k++) {
        long long at = mean(&blocks[k]);
        at = at > most ? most : at;
        at = at < low ? low : at;
        for (size_t c = 0; c < blocks[k].count; c++, i++) {
            v[i].x = (int)at + before;
            before += v[i].width + v[i].gap;
        }
    }
    mem_free(blocks);
}
