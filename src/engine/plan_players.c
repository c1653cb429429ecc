/* By the players' cards, combined: the run at the front of the joined list stays, others join after
 * it in the order of their places; a player serves at most one strip.
 *
 * A player that joins anew has a pair that depends on who else joins: so its deck's setting always
 * counts, and the costs are again a sum over pairs. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "engine/assign.h"
#include "engine/plan_parts.h"
#include "model/shape.h"

struct player {
    const struct device *device;
    int rank;  /* among all players with a card */
    int run;   /* position in the run that stays joined, or -1 */
    int first; /* its first channel there */
};

struct team {
    const struct asked *a;
    struct player v[MAX_PLAYERS];
    int n;
    size_t run;         /* how many of the joined list stay */
    struct feed *feeds; /* wishes x players */
    int *costs;
    int column_of[MAX_STRIPS];
    int minutes; /* of the best assignment, with joining */
    int64_t distance;
};

static bool has_card(const struct device *d)
{
    return d->kind == KIND_PLAYER && d->card;
}

static bool would_do(const struct asked *a, const struct device *d)
{
    return has_card(d) && d->outputs.n && !is_dead(a, d);
}

static bool suitable(const struct asked *a, const struct device *d)
{
    return would_do(a, d) && !d->in_use;
}

static int by_place(const void *a, const void *b)
{
    const struct device *x = *(const struct device *const *)a;
    const struct device *y = *(const struct device *const *)b;
    if (x->place != y->place)
        return x->place < y->place ? -1 : 1;
    return x < y ? -1 : x > y;
}

/* All players with a card, from the left. */
static int rank_players(const struct booth *b, const struct device *ranked[MAX_DEVICES])
{
    int n = 0;
    for (size_t i = 0; i < b->devices.n; i++)
        if (has_card(&b->devices.v[i]))
            ranked[n++] = &b->devices.v[i];
    qsort(ranked, (size_t)n, sizeof *ranked, by_place);
    return n;
}

/* Who may play together: everybody, one family, or one alone. */
struct side {
    enum combining combining;
    const struct device *like; /* of its family, or itself; NULL: everybody */
};

static bool on_side(const struct side *side, const struct device *d)
{
    if (!side->like || d == side->like)
        return true;
    return side->combining == COMBINING_BY_DRIVER && d->family && side->like->family &&
           strcmp(d->family, side->like->family) == 0;
}

static bool may_play(const struct asked *a, const struct side *side, const struct device *d)
{
    return suitable(a, d) && on_side(side, d);
}

/* How many at the front of the joined list stay, holes among them; one alone only if nothing else
 * is joined. */
static size_t run_of(const struct asked *a, const struct side *side)
{
    const struct booth *b = a->b;
    size_t run = 0;
    while (run < b->joined.n) {
        const struct device *d = booth_device(b, b->joined.v[run]);
        bool hole = has_card(d) && is_dead(a, d) && on_side(side, d);
        if (!hole && !may_play(a, side, d))
            break;
        run++;
    }
    return side->combining == COMBINING_NONE && b->joined.n != 1 ? 0 : run;
}

static void gather(struct team *t, const struct side *side)
{
    const struct booth *b = t->a->b;
    const struct device *ranked[MAX_DEVICES];
    int n = rank_players(b, ranked), first[MAX_DEVICES] = {0};
    t->run = run_of(t->a, side);
    for (size_t i = 0; i + 1 < t->run; i++)
        first[i + 1] = first[i] + booth_device(b, b->joined.v[i])->card->out_channels;
    for (int i = 0; i < n; i++) {
        if (!may_play(t->a, side, ranked[i]))
            continue;
        int at = booth_joined_at(b, ranked[i]->id);
        bool stays = at >= 0 && (size_t)at < t->run;
        t->v[t->n++] = (struct player){ranked[i], i, stays ? at : -1, stays ? first[at] : 0};
    }
}

static int pair_cost(const struct team *t, const struct player *p, const struct feed *f)
{
    const struct prices *prices = &t->a->prices;
    int cost = f->cost + (p->device->source == SOURCE_COMPUTER ? 0 : prices->source);
    if (p->run >= 0)
        return cost;
    return cost + prices->join + (is_loose(t->a, &p->device->plugged) ? prices->plug : 0);
}

/* Fills the matrix of composite costs: minutes first, then distance. */
static int64_t *price(struct team *t)
{
    int64_t *costs = mem_new((size_t)(t->a->n * t->n), sizeof *costs);
    t->feeds = mem_new((size_t)(t->a->n * t->n), sizeof *t->feeds);
    t->costs = mem_new((size_t)(t->a->n * t->n), sizeof *t->costs);
    for (int i = 0; i < t->a->n; i++)
        for (int j = 0; j < t->n; j++) {
            int at = i * t->n + j;
            struct feeder by = {t->v[j].device, NULL, t->v[j].run < 0 ? -1 : t->v[j].first};
            t->feeds[at] = feed_of(t->a, &t->a->wishes[i], &by);
            costs[at] = ASSIGN_NEVER;
            if (!t->feeds[at].fits)
                continue;
            t->costs[at] = pair_cost(t, &t->v[j], &t->feeds[at]);
            costs[at] = (int64_t)t->costs[at] * DISTANCE_ROOM +
                        abs(t->v[j].rank - t->a->wishes[i].rank);
        }
    return costs;
}

static bool solve(struct team *t)
{
    int64_t *costs = price(t);
    bool solved = assign_solve(costs, t->a->n, t->n, t->column_of);
    struct texts run = {0};
    for (size_t i = 0; i < t->run; i++)
        texts_add(&run, t->a->b->joined.v[i]);
    t->minutes = joining_cost(t->a, &run, t->run);
    for (int i = 0; i < t->a->n && solved; i++) {
        int at = i * t->n + t->column_of[i];
        t->minutes += t->costs[at];
        t->distance += costs[at] % DISTANCE_ROOM;
    }
    texts_clear(&run);
    mem_free(costs);
    return solved;
}

static void team_clear(struct team *t)
{
    mem_free(t->feeds);
    mem_free(t->costs);
}

/* --- telling ---------------------------------------------------------------------------------- */

/* The joined list: the run, then those that are chosen and not in it, from the left. */
static void join_chosen(const struct team *t, struct outcome *o)
{
    for (size_t i = 0; i < t->run; i++)
        texts_add(&o->joined, t->a->b->joined.v[i]);
    o->kept = t->run;
    for (int j = 0; j < t->n; j++) /* players stand in the order of their places */
        for (int i = 0; i < t->a->n; i++)
            if (t->column_of[i] == j && t->v[j].run < 0)
                texts_add(&o->joined, t->v[j].device->id);
}

static int first_channel(const struct booth *b, const struct texts *joined, const char *id)
{
    int first = 0;
    for (size_t i = 0; i < joined->n && strcmp(joined->v[i], id) != 0; i++)
        first += booth_device(b, joined->v[i])->card->out_channels;
    return first;
}

static void tell_team(const struct team *t, struct plan *p)
{
    struct outcome o = {.kept = 0};
    join_chosen(t, &o);
    for (int i = 0; i < t->a->n; i++) {
        const struct player *player = &t->v[t->column_of[i]];
        o.feeds[i] = t->feeds[i * t->n + t->column_of[i]];
        o.players[i] = player->device;
        o.always_set[i] = player->run < 0;
        o.pairs[i] = pair_from(first_channel(t->a->b, &o.joined, player->device->id),
                               o.feeds[i].carries);
    }
    plan_tell(t->a, &o, p);
    outcome_clear(&o);
}

/* --- which side ------------------------------------------------------------------------------- */

/* The most players of one family that are free. */
static int most_of_a_family(const struct asked *a)
{
    const struct device *ranked[MAX_DEVICES];
    int n = rank_players(a->b, ranked), most = 0;
    for (int i = 0; i < n; i++) {
        struct side side = {COMBINING_BY_DRIVER, ranked[i]};
        int together = 0;
        for (int k = 0; k < n; k++)
            together += may_play(a, &side, ranked[k]);
        most = together > most ? together : most;
    }
    return most;
}

/* How many there are in the booth that would do, and how many of them are free. */
static int count_players(const struct asked *a, would_serve *would)
{
    int n = 0;
    for (size_t i = 0; i < a->b->devices.n; i++)
        n += would(a, &a->b->devices.v[i]);
    return n;
}

static void refuse(const struct asked *a, struct plan *p)
{
    int free = count_players(a, suitable), most = most_of_a_family(a);
    bool by_driver = a->b->host.combining == COMBINING_BY_DRIVER;
    char there[64], by_family[96];
    snprintf(by_family, sizeof by_family,
             "the driver combines players of one family only: %d at most", most);
    snprintf(there, sizeof there, "%d player%s with a sound card and outputs", free,
             free == 1 ? "" : "s");
    if (!count_players(a, would_do))
        plan_refuse(p, "there is no player with a sound card and outputs");
    else if (free < a->n)
        plan_refuse_few(a, p, would_do, there);
    else if (a->b->host.combining == COMBINING_NONE && a->n > 1)
        plan_refuse(p, "the laptop cannot combine sound cards");
    else if (by_driver && most < a->n)
        plan_refuse_few(a, p, would_do, by_family);
    else
        plan_refuse_fit(
            a, p, would_do,
            (const char *const[]){"a player", by_driver ? "players of one family" : "players"});
}

/* Whether a side has not been tried under the name of one further left. */
static bool leads_its_side(const struct asked *a, const struct device *const *ranked, int i)
{
    struct side side = {a->b->host.combining, ranked[i]};
    for (int k = 0; k < i; k++)
        if (side.combining == COMBINING_BY_DRIVER && may_play(a, &side, ranked[k]))
            return false;
    return suitable(a, ranked[i]);
}

void plan_by_players(const struct asked *a, struct plan *p)
{
    enum combining combining = a->b->host.combining;
    const struct device *ranked[MAX_DEVICES];
    int sides = combining == COMBINING_BY_HAND ? 1 : rank_players(a->b, ranked);
    struct team best = {.minutes = -1};
    for (int i = 0; i < sides; i++) {
        struct side side = {combining, combining == COMBINING_BY_HAND ? NULL : ranked[i]};
        struct team t = {.a = a};
        if (side.like && !leads_its_side(a, ranked, i))
            continue;
        gather(&t, &side);
        bool better = solve(&t) && (best.minutes < 0 || t.minutes < best.minutes ||
                                    (combining == COMBINING_NONE && t.minutes == best.minutes &&
                                     t.distance < best.distance));
        team_clear(better ? &best : &t);
        if (better)
            best = t;
    }
    if (best.minutes < 0)
        refuse(a, p);
    else
        tell_team(&best, p);
    team_clear(&best);
}
