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
        w += canvas_name_least(in->v[i].id) + 1;
    return w;
}

static int jacks_least(const struct device *d)
{
    int w = inputs_least(&d->inputs);
    for (size_t i = 0; i < d->outputs.n; i++)
        w += canvas_name_least(d->outputs.v[i].id) + 1;
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

int canvas_stand_width(const struct canvas *c, const struct stand *s, int player)
{
    bool roomy = player > PLAYER_LEAST + 3;
    return s->device >= 0 ? device_width(circuit_device(c->c, s->device), player)
           : s->hub >= 0  ? HUB_LEAST + (roomy ? 6 : 0)
                          : 1;
}

bool canvas_deck_passes(const struct canvas *c, size_t deck)
{
    return c->d->routes[deck].there && c->d->routes[deck].output < 0;
}

static int passes_count(const struct canvas *c)
{
    int n = 0;
    for (size_t i = 0; i < c->b->decks.n; i++)
        n += canvas_deck_passes(c, i);
    return n;
}

/* The columns that the devices' row takes. A wire that passes stands in a gap, a column from the
 * boxes on both sides; where columns are tight, right beside them. */
int canvas_row_width(const struct canvas *c, const struct row *r, int player, int gap)
{
    int w = 0, passable = c->tight ? 1 : 3;
    for (size_t i = 0; i < r->n; i++)
        w += canvas_stand_width(c, &r->stands[i], player) + (i + 1 < r->n ? gap : 0);
    return r->n && gap < passable ? w + passes_count(c) * (passable - gap) : w;
}

int canvas_mixer_width(const struct device *d, int strip_w)
{
    int w = (int)d->strips.n * (strip_w + 1) + 1;
    return d->strips.n ? w : MIXER_LEAST;
}

int canvas_strips_width(const struct canvas *c, int strip_w)
{
    int w = 0;
    for (size_t i = 0; i < c->b->devices.n; i++)
        if (c->b->devices.v[i].kind == KIND_MIXER)
            w += canvas_mixer_width(&c->b->devices.v[i], strip_w) + (w ? MIXERS_APART : 0);
    return w;
}

static int decks_width(const struct canvas *c, int deck_w)
{
    return most(0, (int)c->b->decks.n * (deck_w + 1) - 1);
}

static int strip_least(const struct canvas *c)
{
    int w = STRIP_LEAST;
    for (size_t i = 0; i < c->b->devices.n; i++)
        for (size_t k = 0; k < c->b->devices.v[i].strips.n; k++)
            w = most(w, inputs_least(&c->b->devices.v[i].strips.v[k].inputs) + 1);
    return w;
}

/* Sets the widths that go with strips of a width, players in the strips' rhythm and narrow enough
 * for wires to pass, and returns what all that takes. */
static int try_width(struct canvas *c, const struct row *r, int strip_w)
{
    c->strip_w = strip_w;
    c->player_w = within(PLAYER_LEAST, strip_w - (passes_count(c) ? 5 : 1), PLAYER_MOST);
    c->gap = most(1, strip_w + 1 - c->player_w);
    int w = most(canvas_strips_width(c, strip_w), canvas_row_width(c, r, c->player_w, c->gap));
    return most(w, decks_width(c, DECK_LEAST));
}

/* The widest strips from high down to low with which everything fits into room columns. */
static bool fit_width(struct canvas *c, const struct row *r, int high, int low, int room)
{
    for (int w = high; w >= low; w--)
        if (try_width(c, r, w) <= room)
            return true;
    return false;
}

/* Without any room beside the wires that pass: so a way through the mixer's own card seldom needs
 * more columns, and another layout, than one through the players. */
static bool fit_tightly(struct canvas *c, const struct row *r, int high, int low)
{
    c->tight = passes_count(c) > 0 && passes_count(c) < (int)r->n;
    c->tight = c->tight && fit_width(c, r, high, low, c->want_w);
    return c->tight;
}

/* With the names of the bands beside them if that leaves the boxes roomy, else without; and if
 * nothing fits, as wide as is pleasant to scroll. */
void canvas_choose_widths(struct canvas *c, const struct row *r)
{
    int low = strip_least(c), roomy = most(low, STRIP_ROOMY);
    bool margin = fit_width(c, r, most(low, STRIP_MOST), roomy, c->want_w - MARGIN);
    if (!margin && !fit_width(c, r, roomy, low, c->want_w) && !fit_tightly(c, r, roomy, low))
        try_width(c, r, most(low, STRIP_SCROLLS));
    int whole = try_width(c, r, c->strip_w);
    c->margin = margin ? MARGIN : 0;
    c->deck_w = least(DECK_MOST, c->player_w);
    while (c->deck_w > DECK_LEAST && decks_width(c, c->deck_w) > most(whole, c->want_w - c->margin))
        c->deck_w--;
    whole = most(whole, decks_width(c, c->deck_w));
    c->left = most(0, (c->want_w - c->margin - whole) / 2);
    c->right = c->left + whole;
    c->width = most(c->want_w, c->right + c->margin);
}
