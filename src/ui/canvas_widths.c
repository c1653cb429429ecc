/* How wide everything is: as wide as the window allows, never less than it must be.
 *
 * Strips decide: a player is as wide as a strip less the gap, so that the players' row and the
 * strips' row have one rhythm and straight wiring is straight lines. */
#include "ui/canvas_parts.h"

enum {
    MARGIN = 12,     /* for the names of the bands */
    STRIP_LEAST = 9, /* a strip's inside, and how wide it may be */
    STRIP_SCROLLS = 11,
    STRIP_ROOMY = 14, /* from here on there may be a margin */
    STRIP_MOST = 20,
    PLAYER_LEAST = 10, /* whole boxes */
    PLAYER_MOST = 18,
    TURNTABLE_LEAST = 7,
    INTERFACE_LEAST = 11,
    HUB_LEAST = 7,
    DECK_LEAST = 8,
    DECK_MOST = 12,
    MIXER_LEAST = 16,
};

static int most(int a, int b)
{
    return a > b ? a : b;
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

static int within(int low, int n, int high)
{
    return most(low, least(n, high));
}

static int inputs_least(const struct inputs *in)
{
    int w = 0;
    for (size_t i = 0; i < in->n; i++)
        w += name_least(in->v[i].id) + 1;
    return w;
}

static int jacks_least(const struct device *d)
{
    int w = inputs_least(&d->inputs);
    for (size_t i = 0; i < d->outputs.n; i++)
        w += name_least(d->outputs.v[i].id) + 1;
    return w + 1;
}

static int device_width(const struct device *d, int player)
{
    bool roomy = player > PLAYER_LEAST + 3;
    int w = d->kind == KIND_TURNTABLE   ? TURNTABLE_LEAST + (roomy ? 4 : 0)
            : d->kind == KIND_INTERFACE ? most(INTERFACE_LEAST, player)
                                        : player;
    return most(w, jacks_least(d));
}

int stand_width(const struct canvas *c, const struct stand *s, int player)
{
    bool roomy = player > PLAYER_LEAST + 3;
    return s->device >= 0 ? device_width(circuit_device(c->c, s->device), player)
           : s->hub >= 0  ? HUB_LEAST + (roomy ? 6 : 0)
                          : 1;
}

static int player_width(int strip_w)
{
    return within(PLAYER_LEAST, strip_w - 1, PLAYER_MOST);
}

bool deck_passes(const struct canvas *c, size_t deck)
{
    return c->d->routes[deck].there && c->d->routes[deck].output < 0;
}

/* The columns that the devices' row takes, wires that pass included. */
int row_width(const struct canvas *c, const struct row *r, int player, int gap)
{
    int w = 0;
    for (size_t i = 0; i < r->n; i++)
        w += stand_width(c, &r->stands[i], player) + (i + 1 < r->n ? gap : 0);
    for (size_t i = 0; i < c->b->decks.n && r->n; i++)
        w += deck_passes(c, i) ? 2 : 0;
    return w;
}

int mixer_width(const struct device *d, int strip_w)
{
    int w = (int)d->strips.n * (strip_w + 1) + 1;
    return d->strips.n ? w : MIXER_LEAST;
}

int strips_width(const struct canvas *c, int strip_w)
{
    int w = 0;
    for (size_t i = 0; i < c->b->devices.n; i++)
        if (c->b->devices.v[i].kind == KIND_MIXER)
            w += mixer_width(&c->b->devices.v[i], strip_w) + (w ? MIXERS_APART : 0);
    return w;
}

static int decks_width(const struct canvas *c, int deck_w)
{
    return most(0, (int)c->b->decks.n * (deck_w + 1) - 1);
}

static int whole_width(const struct canvas *c, const struct row *r, int strip_w)
{
    int w = most(strips_width(c, strip_w), row_width(c, r, player_width(strip_w), 1));
    return most(w, decks_width(c, DECK_LEAST));
}

static int strip_least(const struct canvas *c)
{
    int w = STRIP_LEAST;
    for (size_t i = 0; i < c->b->devices.n; i++)
        for (size_t k = 0; k < c->b->devices.v[i].strips.n; k++)
            w = most(w, inputs_least(&c->b->devices.v[i].strips.v[k].inputs) + 1);
    return w;
}

/* The widest strips with which everything fits: with the names of the bands if that leaves them
 * roomy, else without; and if nothing fits, as wide as is pleasant to scroll. */
void choose_widths(struct canvas *c, const struct row *r)
{
    int low = strip_least(c), w = most(low, STRIP_MOST);
    while (w > low && whole_width(c, r, w) > c->want_w - MARGIN)
        w--;
    bool margin = whole_width(c, r, w) <= c->want_w - MARGIN && w >= most(low, STRIP_ROOMY);
    for (w = margin ? w : most(low, STRIP_ROOMY); w > low && whole_width(c, r, w) > c->want_w; w--)
        ;
    if (whole_width(c, r, w) > c->want_w)
        w = most(low, STRIP_SCROLLS);
    c->margin = margin ? MARGIN : 0;
    c->strip_w = w;
    c->player_w = player_width(w);
    int room = most(c->want_w - c->margin, whole_width(c, r, w));
    c->gap = w + 1 - c->player_w;
    while (c->gap > 1 && row_width(c, r, c->player_w, c->gap) > room)
        c->gap--;
    c->deck_w = least(DECK_MOST, c->player_w);
    while (c->deck_w > DECK_LEAST && decks_width(c, c->deck_w) > room)
        c->deck_w--;
    int whole = most(whole_width(c, r, w), row_width(c, r, c->player_w, c->gap));
    c->left = most(0, (c->want_w - c->margin - whole) / 2);
    c->right = c->left + whole;
    c->width = most(c->want_w, c->right + c->margin);
}
