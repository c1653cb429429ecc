/* A second opinion on the least work by the players' cards: every way of giving players to the
 * wanted strips is tried, and each is priced anew from the records, sentence by sentence of the
 * contract. Written without a look at plan*.c. */
#include <check.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "engine/plan.h"
#include "support/booth_from.h"

struct trial {
    const struct booth *b;
    const struct deck *decks[MAX_STRIPS]; /* by strip, from the left */
    const struct strip *strips[MAX_STRIPS];
    int strip_rank[MAX_STRIPS];
    int n;
    const struct device
        *players[MAX_DEVICES]; /* with a card, from the left: the place is the rank */
    int n_players;
    const char *run[MAX_DEVICES]; /* what stays joined */
    int n_run;
    bool allowed[MAX_DEVICES]; /* may be chosen */
    int chosen[MAX_STRIPS], best[MAX_STRIPS];
    long best_minutes, best_distance;
};

static long own(const struct booth *b, int minutes, long usual)
{
    return b->host.minutes && minutes >= 0 ? minutes : usual;
}

#define PRICE(name, usual) own(t->b, t->b->host.minutes ? t->b->host.minutes->name : -1, usual)

/* --- the booth seen from the left ------------------------------------------------------------- */

struct seat {
    const struct strip *strip;
    long key;
};

static int by_key(const void *a, const void *b)
{
    const struct seat *x = a, *y = b;
    return x->key < y->key ? -1 : x->key > y->key;
}

static void see_strips(struct trial *t)
{
    struct seat seats[MAX_STRIPS];
    int n = 0;
    for (size_t i = 0; i < t->b->devices.n; i++)
        for (size_t k = 0; k < t->b->devices.v[i].strips.n; k++, n++) {
            const struct strip *s = &t->b->devices.v[i].strips.v[k];
            seats[n] = (struct seat){
                s, ((t->b->devices.v[i].place * 1000L + (long)i) * 1000L + s->place) * 1000L +
                       (long)k};
        }
    qsort(seats, (size_t)n, sizeof *seats, by_key);
    for (int i = 0; i < n; i++)
        for (size_t k = 0; k < t->b->decks.n; k++)
            if (strcmp(t->b->decks.v[k].wants, seats[i].strip->id) == 0) {
                t->strips[t->n] = seats[i].strip;
                t->decks[t->n] = &t->b->decks.v[k];
                t->strip_rank[t->n++] = i;
            }
}

static void see_players(struct trial *t)
{
    for (int place = 1; place <= 999; place++)
        for (size_t i = 0; i < t->b->devices.n; i++) {
            const struct device *d = &t->b->devices.v[i];
            if (d->kind == KIND_PLAYER && d->card && d->place == place)
                t->players[t->n_players++] = d;
        }
}

static bool could_play(const struct device *d)
{
    return d->kind == KIND_PLAYER && d->card && d->outputs.n > 0 && !d->in_use;
}

/* --- one strip by one player ------------------------------------------------------------------ */

static bool used_end(const struct booth *b, const char *to)
{
    struct in_end in;
    ck_assert(booth_input(b, to, &in));
    return in.strip ? in.strip->in_use : in.device->in_use;
}

/* Cable and what stands in its way, for one output and one input; -1: does not fit. */
static long wiring(const struct trial *t, const char *out, const char *in)
{
    bool here = false, straight = false, movable = false;
    long cost = 0;
    for (size_t i = 0; i < t->b->cables.n; i++) {
        const struct cable *c = &t->b->cables.v[i];
        bool ours = strcmp(c->from, out) == 0, into = strcmp(c->to, in) == 0;
        if (ours && into) {
            here = true;
            straight = c->sides == SIDES_STRAIGHT;
        } else if (ours && !used_end(t->b, c->to)) {
            movable = true;
        } else if (into && !ours) {
            struct out_end end;
            ck_assert(booth_output(t->b, c->from, &end));
            if (end.device->in_use)
                return -1;
            cost += PRICE(unplug, 500);
        }
    }
    if (here && straight)
        return cost;
    return cost + (here || movable ? PRICE(move, 2000) : PRICE(add, 3000));
}

static long pair_price(const struct trial *t, int row, int player, int *channel)
{
    const struct device *d = t->players[player];
    const struct strip *s = t->strips[row];
    long best = -1;
    for (size_t i = 0; i < s->inputs.n; i++)
        for (size_t k = 0; k < d->outputs.n; k++) {
            const struct input *in = &s->inputs.v[i];
            const struct output *o = &d->outputs.v[k];
            char from[REF_SIZE], to[REF_SIZE];
            bool turn = in->level != o->level, able = !turn;
            for (size_t m = 0; m < in->levels.n; m++)
                able = able || in->levels.v[m] == (int)o->level;
            if (!able || (o->level != LEVEL_LINE && o->level != LEVEL_DIGITAL))
                continue;
            snprintf(from, sizeof from, "%.32s.%.32s", d->id, o->id);
            snprintf(to, sizeof to, "%.32s.%.32s", s->id, in->id);
            long cost = wiring(t, from, to);
            if (cost < 0)
                continue;
            cost += turn ? PRICE(switch_, 250) : 0;
            cost += strcmp(s->selected, in->id) != 0 ? PRICE(selector, 250) : 0;
            if (best < 0 || cost < best) {
                best = cost;
                channel[0] = o->channels.v[0] - 1;
                channel[1] = o->channels.n > 1 ? o->channels.v[1] - 1 : channel[0];
            }
        }
    return best;
}

static long row_price(const struct trial *t, int row, int player)
{
    int channel[2] = {0, 0}, first = 0;
    const struct device *d = t->players[player];
    long cost = pair_price(t, row, player, channel);
    if (cost < 0)
        return -1;
    cost += d->source == SOURCE_COMPUTER ? 0 : PRICE(source, 250);
    for (int i = 0; i < t->n_run; i++) {
        const struct device *joined = booth_device(t->b, t->run[i]);
        if (joined == d) {
            struct pair now = t->decks[row]->set_to;
            bool set = now.left == first + channel[0] && now.right == first + channel[1];
            return cost + (set ? 0 : PRICE(set, 500));
        }
        first += joined->card->out_channels;
    }
    return cost + PRICE(set, 500) + PRICE(join, 1000) + (*d->plugged.at ? 0 : PRICE(plug, 0));
}

/* --- all of them ------------------------------------------------------------------------------ */

static void try_rows(struct trial *t, int row, long minutes, long distance)
{
    if (row == t->n) {
        if (t->best_minutes < 0 || minutes < t->best_minutes ||
            (minutes == t->best_minutes && distance < t->best_distance)) {
            t->best_minutes = minutes;
            t->best_distance = distance;
            memcpy(t->best, t->chosen, sizeof t->best);
        }
        return;
    }
    for (int p = 0; p < t->n_players; p++) {
        bool taken = !t->allowed[p];
        for (int i = 0; i < row; i++)
            taken = taken || t->chosen[i] == p;
        long cost = taken ? -1 : row_price(t, row, p);
        if (cost < 0)
            continue;
        t->chosen[row] = p;
        try_rows(t, row + 1, minutes + cost, distance + labs((long)p - t->strip_rank[row]));
    }
}

static bool friends(const struct device *a, const struct device *b)
{
    return a == b || (a->family && b->family && strcmp(a->family, b->family) == 0);
}

/* The best with one side of players: all of them, those like one, or one alone. */
static void try_side(struct trial *t, const struct device *like)
{
    bool alone = t->b->host.combining == COMBINING_NONE;
    for (int p = 0; p < t->n_players; p++)
        t->allowed[p] = could_play(t->players[p]) &&
                        (!like || (alone ? like == t->players[p] : friends(like, t->players[p])));
    t->n_run = 0;
    for (size_t i = 0; i < t->b->joined.n; i++) {
        const struct device *d = booth_device(t->b, t->b->joined.v[i]);
        bool in = could_play(d) && (!like || (alone ? like == d : friends(like, d)));
        if (!in || (alone && t->b->joined.n != 1))
            break;
        t->run[t->n_run++] = d->id;
    }
    long fixed = (long)(t->b->joined.n - (size_t)t->n_run) * PRICE(leave, 0);
    for (int i = 0; i < t->n_run; i++)
        fixed += *booth_device(t->b, t->run[i])->plugged.at ? 0 : PRICE(plug, 0);
    try_rows(t, 0, fixed, 0);
}

static bool worth_trying(const struct booth *b)
{
    int wanted = 0;
    for (size_t i = 0; i < b->decks.n; i++) {
        const struct strip *s = booth_strip(b, b->decks.v[i].wants, NULL);
        wanted += s != NULL;
        if (s && s->in_use)
            return false;
        for (size_t k = 0; k < i && s; k++)
            if (strcmp(b->decks.v[k].wants, s->id) == 0)
                return false;
    }
    return wanted > 0 && wanted <= 5;
}

START_TEST(by_the_players_cards_it_is_what_trying_everything_finds)
{
    int tried = 0, feasible = 0;
    for (unsigned seed = 1; seed <= 4000; seed++) {
        struct booth *b = booth_random(seed);
        struct trial t = {.b = b, .best_minutes = -1};
        b->host.combining = (enum combining)(seed % 3);
        if (!worth_trying(b)) {
            booth_free(b);
            continue;
        }
        see_strips(&t);
        see_players(&t);
        if (b->host.combining == COMBINING_BY_HAND) {
            try_side(&t, NULL);
        } else {
            for (int p = 0; p < t.n_players; p++)
                if (could_play(t.players[p]))
                    try_side(&t, t.players[p]);
        }
        struct plan *plans = plans_make(b);
        const struct plan *p = plans_of(plans, WAY_PLAYER_CARDS);
        ck_assert_msg(p->feasible == (t.best_minutes >= 0), "seed %u: %s", seed,
                      p->feasible ? "feasible" : p->why_not);
        tried++;
        if (p->feasible) {
            feasible++;
            ck_assert_msg(p->minutes == t.best_minutes, "seed %u: %d, not %ld", seed, p->minutes,
                          t.best_minutes);
            for (int i = 0; i < t.n && b->host.combining == COMBINING_BY_HAND; i++)
                ck_assert_msg(strcmp(booth_deck(p->after, t.decks[i]->id)->controlled_by,
                                     t.players[t.best[i]]->id) == 0,
                              "seed %u: another player for strip %s", seed, t.strips[i]->id);
        }
        plans_free(plans);
        booth_free(b);
    }
    ck_assert_int_gt(tried, 500);
    ck_assert_int_gt(feasible, 100);
}
END_TEST

Suite *test_plan_brute(void)
{
    Suite *s = suite_create("oracle/plan");
    TCase *t = tcase_create("brute force");
    tcase_add_test(t, by_the_players_cards_it_is_what_trying_everything_finds);
    suite_add_tcase(s, t);
    return s;
}
