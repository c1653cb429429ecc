/* Who wants what, the three ways, and their ranking. */
#include "engine/plan.h"

#include "base/mem.h"
#include "engine/plan_parts.h"
#include "engine/route.h"
#include "model/say.h"
#include "model/shape.h"

/* --- prices ----------------------------------------------------------------------------------- */

static int told(int own, int usual)
{
    return own >= 0 ? own : usual;
}

struct prices plan_prices(const struct booth *b)
{
    struct prices p = {.set = 500,
                       .selector = 250,
                       .switch_ = 250,
                       .source = 250,
                       .move = 2000,
                       .add = 3000,
                       .unplug = 500,
                       .join = 1000};
    const struct minutes *m = b->host.minutes;
    if (!m)
        return p;
    return (struct prices){.set = told(m->set, p.set),
                           .selector = told(m->selector, p.selector),
                           .switch_ = told(m->switch_, p.switch_),
                           .source = told(m->source, p.source),
                           .move = told(m->move, p.move),
                           .add = told(m->add, p.add),
                           .unplug = told(m->unplug, p.unplug),
                           .join = told(m->join, p.join),
                           .leave = told(m->leave, p.leave),
                           .plug = told(m->plug, p.plug)};
}

enum way plan_way_now(const struct booth *b)
{
    const struct device *d = b->joined.n ? booth_device(b, b->joined.v[0]) : NULL;
    return d && d->kind == KIND_MIXER       ? WAY_MIXER_CARD
           : d && d->kind == KIND_INTERFACE ? WAY_PATCHED
                                            : WAY_PLAYER_CARDS;
}

/* --- wishes ----------------------------------------------------------------------------------- */

/* Collects the wanted strips from the left. False, with the reason, when two decks want one. */
static bool ask(struct asked *a, struct str *why_not)
{
    for (size_t k = 0; k < a->c->n_strips; k++) {
        int strip = a->c->by_rank[k], deck = -1;
        for (size_t i = 0; i < a->c->n_decks; i++) {
            if (a->c->decks[i].wants != strip)
                continue;
            if (deck >= 0) {
                str_addf(why_not, "%s and %s both want ", a->b->decks.v[deck].label,
                         a->b->decks.v[i].label);
                say_thing(a->b, circuit_strip(a->c, strip)->id, why_not);
                return false;
            }
            deck = (int)i;
        }
        if (deck >= 0)
            a->wishes[a->n++] = (struct wish){deck, strip, (int)k};
    }
    for (int i = 0; i < a->n; i++) {
        const struct strip *s = circuit_strip(a->c, a->wishes[i].strip);
        if (!s->in_use)
            continue;
        say_thing(a->b, s->id, why_not);
        str_addf(why_not, " is in use by %s", s->in_use);
        return false;
    }
    return true;
}

/* --- the three ways --------------------------------------------------------------------------- */

static bool goes_before(const struct plan *a, const struct plan *b)
{
    if (a->feasible != b->feasible)
        return a->feasible;
    return a->feasible && a->minutes != b->minutes ? a->minutes < b->minutes : a->way < b->way;
}

static void rank(struct plan *plans)
{
    for (int i = 1; i < WAYS; i++)
        for (int k = i; k > 0 && goes_before(&plans[k], &plans[k - 1]); k--) {
            struct plan p = plans[k];
            plans[k] = plans[k - 1];
            plans[k - 1] = p;
        }
}

struct plan *plans_without(const struct booth *b, const struct dead *dead)
{
    static void (*const ways[WAYS])(const struct asked *, struct plan *) = {
        [WAY_MIXER_CARD] = plan_by_mixer,
        [WAY_PLAYER_CARDS] = plan_by_players,
        [WAY_PATCHED] = plan_by_interface,
    };
    struct plan *plans = mem_new(WAYS, sizeof *plans);
    struct circuit *c = circuit_new(b);
    struct asked a = {
        .b = b, .c = c, .cabling = cabling_of(c), .prices = plan_prices(b), .dead = *dead};
    struct str why_not = {0};
    bool fine = ask(&a, &why_not);
    for (int i = 0; i < WAYS; i++) {
        plans[i].way = (enum way)i;
        if (!fine) {
            plan_refuse(&plans[i], "%s", str_text(&why_not));
        } else if (a.n == 0) {
            plans[i].feasible = true;
            plans[i].after = booth_copy(b);
        } else {
            ways[i](&a, &plans[i]);
        }
    }
    rank(plans);
    str_clear(&why_not);
    cabling_clear(&a.cabling);
    circuit_free(c);
    return plans;
}

struct plan *plans_make(const struct booth *b)
{
    return plans_without(b, &(struct dead){.cards = NULL});
}

void action_say(const struct action *a, struct str *out)
{
    str_add(out, a->text);
    if (!a->minutes)
        return;
    str_add(out, " (");
    say_minutes(a->minutes, out);
    str_add(out, " min)");
}

void plan_clear(struct plan *p)
{
    for (size_t k = 0; k < p->n; k++)
        mem_free(p->actions[k].text);
    texts_clear(&p->bag);
    texts_clear(&p->advice);
    mem_free(p->actions);
    mem_free(p->why_not);
    booth_free(p->after);
    *p = (struct plan){.way = p->way};
}

void plans_free(struct plan *plans)
{
    for (int i = 0; plans && i < WAYS; i++)
        plan_clear(&plans[i]);
    mem_free(plans);
}

const char *plan_caution(const struct plan *p)
{
    bool moves = false;
    for (size_t i = 0; i < p->n; i++) {
        enum change_do what = p->actions[i].change.what;
        moves = moves || what == CHANGE_CABLE || what == CHANGE_CABLE_MOVE ||
                what == CHANGE_UNCABLE;
    }
    return !moves                 ? NULL
           : booth_live(p->after) ? "only the faders of free strips down before plugs move"
                                  : "faders and monitors down before plugs move";
}

const struct plan *plans_of(const struct plan *plans, enum way way)
{
    int i = 0;
    while (plans[i].way != way)
        i++;
    return &plans[i];
}

void plan_say_pairs(const struct plan *p, bool strips, struct str *out)
{
    struct circuit *c = circuit_new(p->after);
    const char *before = "";
    for (size_t i = 0; i < c->n_decks; i++) {
        struct route r = route_of(c, (int)i);
        if (!r.there)
            continue;
        str_addf(out, "%s%s ", before, p->after->decks.v[i].label);
        route_show(c, r.pair, out);
        if (strips) {
            str_add(out, " on ");
            say_thing(p->after, p->after->decks.v[i].wants, out);
        }
        before = ", ";
    }
    circuit_free(c);
}
