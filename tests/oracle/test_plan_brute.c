/* A second opinion on the least work: every way of giving players, groups of outputs or usb inputs
 * to the wanted strips is tried, and each is priced anew from the records, sentence by sentence of
 * the contract. Written without a look at plan*.c. */
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

/* Cable and what stands in its way, for one output and one input; -1: does not fit, as where the
 * output's only cables run into what is in use. */
static long wiring(const struct trial *t, const char *out, const char *in)
{
    bool here = false, straight = false, movable = false, held = false;
    long cost = 0;
    for (size_t i = 0; i < t->b->cables.n; i++) {
        const struct cable *c = &t->b->cables.v[i];
        bool ours = strcmp(c->from, out) == 0, into = strcmp(c->to, in) == 0;
        if (ours && into) {
            here = true;
            straight = c->sides == SIDES_STRAIGHT;
        } else if (ours) {
            movable = movable || !used_end(t->b, c->to);
            held = true;
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
    if (held && !movable && !here)
        return -1;
    return cost + (here || movable ? PRICE(move, 2000) : PRICE(add, 3000));
}

/* Who feeds: a device, some of its outputs (NULL: all), and its first channel in the interface; -1:
 * it joins anew, so that the deck's setting always counts. */
struct feeding {
    const struct device *device;
    const int *group;
    int number, first;
};

static long setting_price(const struct trial *t, int row, const struct feeding *by,
                          const struct output *o)
{
    struct pair now = t->decks[row]->set_to;
    int left = by->first + o->channels.v[0] - 1;
    int right = o->channels.n > 1 ? by->first + o->channels.v[1] - 1 : left;
    return by->first >= 0 && now.left == left && now.right == right ? 0 : PRICE(set, 500);
}

/* One output into one input; -1: does not fit. */
static long link_price(const struct trial *t, int row, const struct feeding *by,
                       const struct output *o, const struct input *in)
{
    const struct strip *s = t->strips[row];
    bool turn = in->level != o->level, able = !turn;
    char from[REF_SIZE], to[REF_SIZE];
    for (size_t m = 0; m < in->levels.n; m++)
        able = able || in->levels.v[m] == (int)o->level;
    if (!able || (o->level != LEVEL_LINE && o->level != LEVEL_DIGITAL))
        return -1;
    snprintf(from, sizeof from, "%.32s.%.32s", by->device->id, o->id);
    snprintf(to, sizeof to, "%.32s.%.32s", s->id, in->id);
    long cost = wiring(t, from, to);
    if (cost < 0)
        return -1;
    cost += turn ? PRICE(switch_, 250) : 0;
    cost += strcmp(s->selected, in->id) != 0 ? PRICE(selector, 250) : 0;
    return cost + setting_price(t, row, by, o);
}

static long pair_price(const struct trial *t, int row, const struct feeding *by)
{
    const struct strip *s = t->strips[row];
    long best = -1;
    for (size_t i = 0; i < s->inputs.n; i++)
        for (size_t k = 0; k < by->device->outputs.n; k++) {
            if (by->group && by->group[k] != by->number)
                continue;
            long cost = link_price(t, row, by, &by->device->outputs.v[k], &s->inputs.v[i]);
            if (cost >= 0 && (best < 0 || cost < best))
                best = cost;
        }
    return best;
}

static long row_price(const struct trial *t, int row, int player)
{
    const struct device *d = t->players[player];
    struct feeding by = {.device = d, .first = -1};
    for (int i = 0, first = 0; i < t->n_run; i++) {
        const struct device *joined = booth_device(t->b, t->run[i]);
        by.first = joined == d ? first : by.first;
        first += joined->card->out_channels;
    }
    long cost = pair_price(t, row, &by);
    if (cost < 0)
        return -1;
    cost += d->source == SOURCE_COMPUTER ? 0 : PRICE(source, 250);
    return by.first >= 0 ? cost : cost + PRICE(join, 1000) + (*d->plugged.at ? 0 : PRICE(plug, 0));
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

/* --- by an interface -------------------------------------------------------------------------- */

static bool overlap(const struct output *a, const struct output *b)
{
    for (size_t i = 0; i < a->channels.n; i++)
        for (size_t k = 0; k < b->channels.n; k++)
            if (a->channels.v[i] == b->channels.v[k])
                return true;
    return false;
}

/* Outputs that share a channel take the lower number, until nothing changes any more. */
static void number_groups(const struct device *d, int *group)
{
    bool moved = true;
    for (size_t i = 0; i < d->outputs.n; i++)
        group[i] = (int)i;
    while (moved) {
        moved = false;
        for (size_t i = 0; i < d->outputs.n; i++)
            for (size_t k = 0; k < d->outputs.n; k++)
                if (overlap(&d->outputs.v[i], &d->outputs.v[k]) && group[i] > group[k]) {
                    group[i] = group[k];
                    moved = true;
                }
    }
}

/* The least for the rows from one on, with these groups taken; -1: none. */
static long try_groups(const struct trial *t, const struct feeding *by, int row, unsigned taken)
{
    long best = -1;
    if (row == t->n)
        return 0;
    for (size_t k = 0; k < by->device->outputs.n; k++) {
        struct feeding one = *by;
        one.number = (int)k;
        long cost = taken >> k & 1 || by->group[k] != (int)k ? -1 : pair_price(t, row, &one);
        long rest = cost < 0 ? -1 : try_groups(t, by, row + 1, taken | 1u << k);
        if (rest >= 0 && (best < 0 || cost + rest < best))
            best = cost + rest;
    }
    return best;
}

static long patched_price(const struct trial *t)
{
    long best = -1;
    for (size_t i = 0; i < t->b->devices.n; i++) {
        const struct device *d = &t->b->devices.v[i];
        int group[32];
        struct feeding by = {d, group, 0, 0};
        if (d->kind != KIND_INTERFACE || !d->card || d->in_use || d->outputs.n > 32)
            continue;
        number_groups(d, group);
        long cost = try_groups(t, &by, 0, 0), others = (long)t->b->joined.n;
        if (cost < 0)
            continue;
        bool alone = others == 1 && strcmp(t->b->joined.v[0], d->id) == 0;
        cost += alone ? 0 : PRICE(join, 1000) + others * PRICE(leave, 0);
        cost += *d->plugged.at ? 0 : PRICE(plug, 0);
        best = best < 0 || cost < best ? cost : best;
    }
    return best;
}

/* --- by the mixer's card ---------------------------------------------------------------------- */

static long try_usb(const struct trial *t, const struct device *mixer, int row,
                    const struct input **chosen)
{
    long best = -1;
    if (row == t->n)
        return 0;
    for (size_t i = 0; i < t->strips[row]->inputs.n; i++) {
        const struct input *in = &t->strips[row]->inputs.v[i];
        const char *socket = in->socket ? in->socket : "", *ours = mixer->socket;
        bool fits = in->level == LEVEL_USB && strcmp(socket, ours ? ours : "") == 0;
        for (int k = 0; k < row && fits; k++)
            for (size_t x = 0; x < in->channels.n; x++)
                for (size_t y = 0; y < chosen[k]->channels.n; y++)
                    fits = fits && in->channels.v[x] != chosen[k]->channels.v[y];
        if (!fits)
            continue;
        int left = in->channels.v[0] - 1, right = in->channels.n > 1 ? in->channels.v[1] - 1 : left;
        struct pair now = t->decks[row]->set_to;
        long cost = now.left == left && now.right == right ? 0 : PRICE(set, 500);
        cost += strcmp(t->strips[row]->selected, in->id) == 0 ? 0 : PRICE(selector, 250);
        chosen[row] = in;
        long rest = try_usb(t, mixer, row + 1, chosen);
        if (rest >= 0 && (best < 0 || cost + rest < best))
            best = cost + rest;
    }
    return best;
}

static long mixer_price(const struct trial *t)
{
    const struct input *chosen[MAX_STRIPS];
    const struct device *mixer = NULL, *of = NULL;
    for (int i = 0; i < t->n; i++) {
        booth_strip(t->b, t->strips[i]->id, &of);
        if (mixer && of != mixer)
            return -1;
        mixer = of;
    }
    if (!mixer->card || mixer->in_use)
        return -1;
    long cost = try_usb(t, mixer, 0, chosen), others = (long)t->b->joined.n;
    if (cost < 0)
        return -1;
    bool alone = others == 1 && strcmp(t->b->joined.v[0], mixer->id) == 0;
    cost += alone ? 0 : PRICE(join, 1000) + others * PRICE(leave, 0);
    return cost + (*mixer->plugged.at ? 0 : PRICE(plug, 0));
}

START_TEST(by_an_interface_or_the_mixers_card_it_is_what_trying_everything_finds)
{
    int tried = 0, feasible[WAYS] = {0};
    for (unsigned seed = 1; seed <= 6000; seed++) {
        struct booth *b = booth_random(seed);
        struct trial t = {.b = b};
        if (worth_trying(b)) {
            see_strips(&t);
            struct plan *plans = plans_make(b);
            for (int i = 0; i < WAYS; i++) {
                const struct plan *p = &plans[i];
                if (p->way == WAY_PLAYER_CARDS)
                    continue;
                long least = p->way == WAY_PATCHED ? patched_price(&t) : mixer_price(&t);
                ck_assert_msg(p->feasible == (least >= 0) && (!p->feasible || p->minutes == least),
                              "seed %u way %d: %d, not %ld", seed, (int)p->way,
                              p->feasible ? p->minutes : -1, least);
                feasible[p->way] += p->feasible;
                tried++;
            }
            plans_free(plans);
        }
        booth_free(b);
    }
    ck_assert_int_gt(tried, 1000);
    ck_assert_int_gt(feasible[WAY_PATCHED], 50);
    ck_assert_int_gt(feasible[WAY_MIXER_CARD], 50);
}
END_TEST

Suite *test_plan_brute(void)
{
    Suite *s = suite_create("oracle/plan");
    TCase *t = tcase_create("brute force");
    tcase_add_test(t, by_the_players_cards_it_is_what_trying_everything_finds);
    tcase_add_test(t, by_an_interface_or_the_mixers_card_it_is_what_trying_everything_finds);
    suite_add_tcase(s, t);
    return s;
}
