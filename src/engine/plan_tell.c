/* From an outcome to actions, in the order of hands: behind the mixer first (plugs out, plugs in,
 * switches), then data leads and joins from the left, selectors, sources, and last the host.
 *
 * Each is made on a copy as it is told, so that it is told of the booth that hands will find. A
 * plug that another strip's clearing pulled out is put in from the hand: at the price of moving
 * it, as the model counts. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "engine/plan_parts.h"
#include "model/say.h"
#include "model/shape.h"
#include "model/sound.h"
#include "model/thing.h"

void outcome_clear(struct outcome *o)
{
    texts_clear(&o->joined);
}

static bool act_by(bool (*make)(struct booth *, const struct change *, struct err *),
                   struct plan *p, struct action action, struct err *e)
{
    struct str text = {0};
    change_say(p->after, &action.change, &text);
    if (!make(p->after, &action.change, e)) {
        str_clear(&text);
        return false;
    }
    action.text = str_take(&text);
    p->actions = mem_grow(p->actions, &p->cap, p->n + 1, sizeof *p->actions);
    p->actions[p->n++] = action;
    p->minutes += action.minutes;
    return true;
}

bool plan_act(struct plan *p, const char *word, int minutes, struct change c, struct err *e)
{
    return act_by(change_make, p, (struct action){c, word, minutes, NULL}, e);
}

/* Whether the booth is sound is asked after the last. */
void tell_act(struct telling *t, const char *word, int minutes, struct change c)
{
    struct action action = {c, word, minutes, NULL};
    t->stuck = t->stuck || !act_by(change_try, t->p, action, &t->says);
}

/* --- behind the mixer ------------------------------------------------------------------------- */

static void pull_plugs(struct telling *t, const struct feed *f)
{
    const struct cables *cables = &t->a->b->cables;
    for (size_t i = 0; i < cables->n; i++)
        if (strcmp(cables->v[i].to, f->input) == 0 && strcmp(cables->v[i].from, f->output) != 0)
            tell_act(t, "unplug", t->a->prices.unplug,
                     change_of(CHANGE_UNCABLE, cables->v[i].from, cables->v[i].to));
}

void plan_pack(struct plan *p, const char *what)
{
    for (size_t i = 0; i < p->bag.n; i++) {
        char *count = p->bag.v[i];
        size_t digits = strspn(count, "0123456789");
        if (strcmp(count + digits + 1, what) != 0)
            continue;
        struct str more = {0};
        str_addf(&more, "%d %s", atoi(count) + 1, what);
        texts_remove(&p->bag, i);
        texts_insert(&p->bag, i, str_text(&more));
        str_clear(&more);
        return;
    }
    struct str one = {0};
    str_addf(&one, "1 %s", what);
    texts_add(&p->bag, str_text(&one));
    str_clear(&one);
}

/* A cable to bring, by what is at its ends; a connector that nobody noted is to be looked at. */
static void pack_cable(struct telling *t, const struct feed *f)
{
    struct out_end out;
    struct in_end in;
    struct str text = {0};
    booth_output(t->a->b, f->output, &out);
    booth_input(t->a->b, f->input, &in);
    enum connector from = out.output->connector, to = in.input->connector;
    enum connector known = from == CONNECTOR_UNSAID ? to : from;
    if (known == CONNECTOR_UNSAID)
        str_addf(&text, "%s cable (look at the sockets)",
                 word_people(&words_level, (int)out.output->level));
    else if (from == to)
        str_addf(&text, "%s cable", word_people(&words_connector, (int)known));
    else if (from == CONNECTOR_UNSAID || to == CONNECTOR_UNSAID)
        str_addf(&text, "%s cable (look at its other end)",
                 word_people(&words_connector, (int)known));
    else
        str_addf(&text, "%s to %s cable", word_people(&words_connector, (int)from),
                 word_people(&words_connector, (int)to));
    plan_pack(t->p, str_text(&text));
    str_clear(&text);
}

/* A plug that moves to another kind of socket: an adapter, as far as both are noted; from coaxial
 * to optical only a converter does. */
static void pack_adapter(struct telling *t, const char *plug, const char *input)
{
    struct in_end was, will;
    struct str text = {0};
    booth_input(t->a->b, plug, &was);
    booth_input(t->a->b, input, &will);
    enum connector from = was.input->connector, to = will.input->connector;
    bool optical = (from == CONNECTOR_OPTICAL) != (to == CONNECTOR_OPTICAL);
    if (from == to || from == CONNECTOR_UNSAID || to == CONNECTOR_UNSAID)
        return;
    str_addf(&text, "%s to %s %s", word_people(&words_connector, (int)from),
             word_people(&words_connector, (int)to), optical ? "converter" : "adapter");
    plan_pack(t->p, str_text(&text));
    str_clear(&text);
}

static void run_cable(struct telling *t, const struct feed *f)
{
    const struct prices *prices = &t->a->prices;
    const struct cable *here = booth_cable(t->p->after, f->output, f->input);
    const struct cable *spare = here || f->spare < 0 ? NULL : &t->a->b->cables.v[f->spare];
    if (here && here->sides == SIDES_STRAIGHT)
        return;
    if (spare && booth_cable(t->p->after, spare->from, spare->to)) {
        struct change move = change_of(CHANGE_CABLE_MOVE, spare->from, spare->to);
        snprintf(move.c, sizeof move.c, "%s", f->input);
        pack_adapter(t, spare->to, f->input);
        tell_act(t, "move", prices->move, move);
        if (spare->sides != SIDES_STRAIGHT) /* while it is in the hand anyway */
            tell_act(t, "move", 0, change_of(CHANGE_CABLE, f->output, f->input));
        return;
    }
    if (!here && !spare)
        pack_cable(t, f);
    tell_act(t, here || spare ? "move" : "add", here || spare ? prices->move : prices->add,
             change_of(CHANGE_CABLE, f->output, f->input));
}

static void turn_switch(struct telling *t, const struct feed *f)
{
    struct change c = change_of(CHANGE_SWITCH, f->input, NULL);
    c.number = (int)f->level;
    if (f->level != LEVEL_UNSAID)
        tell_act(t, "switch", t->a->prices.switch_, c);
}

static void go_behind(struct telling *t)
{
    for (int i = 0; i < t->a->n; i++)
        if (*t->o->feeds[i].output)
            pull_plugs(t, &t->o->feeds[i]);
    for (int i = 0; i < t->a->n; i++)
        if (*t->o->feeds[i].output)
            run_cable(t, &t->o->feeds[i]);
    for (int i = 0; i < t->a->n; i++)
        turn_switch(t, &t->o->feeds[i]);
}

/* --- the interface ---------------------------------------------------------------------------- */

static void join_devices(struct telling *t)
{
    const struct booth *b = t->a->b;
    for (size_t i = b->joined.n; i-- > t->o->kept;)
        tell_act(t, "leave", t->a->prices.leave, change_of(CHANGE_LEAVE, b->joined.v[i], NULL));
    make_ports(t);
    for (size_t i = 0; i < t->o->joined.n; i++) {
        struct change c = change_of(CHANGE_JOIN, t->o->joined.v[i], NULL);
        c.number = -1;
        if (!is_dead(t->a, booth_device(b, t->o->joined.v[i])))
            plug_lead(t, t->o->joined.v[i]);
        if (i >= t->o->kept)
            tell_act(t, "join", t->a->prices.join, c);
    }
}

/* --- in front, and in the host ---------------------------------------------------------------- */

static void turn_selectors(struct telling *t)
{
    for (int i = 0; i < t->a->n; i++) {
        char strip[ID_SIZE], input[ID_SIZE];
        ref_split(t->o->feeds[i].input, strip, input);
        if (strcmp(booth_strip(t->p->after, strip, NULL)->selected, input) != 0)
            tell_act(t, "selector", t->a->prices.selector, change_of(CHANGE_SELECT, strip, input));
    }
}

static void turn_sources(struct telling *t)
{
    for (int i = 0; i < t->a->n; i++) {
        const struct device *d = t->o->players[i];
        if (!d || d->source == SOURCE_COMPUTER)
            continue;
        struct change c = change_of(CHANGE_SOURCE, d->id, NULL);
        c.number = SOURCE_COMPUTER;
        tell_act(t, "source", t->a->prices.source, c);
    }
}

static struct change setting(const struct deck *d, struct pair pair)
{
    struct change c = change_of(CHANGE_SET, d->id, NULL);
    c.pair = pair;
    return c;
}

static void set_decks(struct telling *t)
{
    for (int i = 0; i < t->a->n; i++) {
        int deck = t->a->wishes[i].deck;
        if (t->o->always_set[i] || !is_set(t->a, deck, t->o->pairs[i]))
            tell_act(t, "set", t->a->prices.set, setting(&t->a->b->decks.v[deck], t->o->pairs[i]));
    }
}

/* --- what follows without being counted ------------------------------------------------------- */

/* Who plays the deck's strip controls it: handed over in the host, at no minutes. */
static void take_control(struct telling *t)
{
    for (int i = 0; i < t->a->n; i++) {
        const struct device *d = t->o->players[i];
        const struct deck *deck = &t->a->b->decks.v[t->a->wishes[i].deck];
        if (d && strcmp(deck->controlled_by, d->id) != 0)
            tell_act(t, "control", 0, change_of(CHANGE_CONTROL, deck->id, d->id));
    }
}

bool pairs_overlap(struct pair a, struct pair b)
{
    return a.left >= 0 && b.left >= 0 &&
           (a.left == b.left || a.left == b.right || a.right == b.left || a.right == b.right);
}

/* Decks that want nothing but are set to something would sound over the others, or play to what is
 * not there any more: their setting is taken back. */
static void silence_undecided(struct telling *t)
{
    struct booth *b = t->p->after;
    int channels = 0;
    for (size_t i = 0; i < b->joined.n; i++)
        channels += booth_device(b, b->joined.v[i])->card->out_channels;
    for (size_t i = 0; i < b->decks.n; i++) {
        const struct deck *d = &b->decks.v[i];
        bool wrong = d->set_to.left >= channels || d->set_to.right >= channels;
        for (size_t k = 0; k < b->decks.n; k++)
            wrong = wrong || ((k < i || *b->decks.v[k].wants) && k != i &&
                              pairs_overlap(d->set_to, b->decks.v[k].set_to));
        if (!*d->wants && d->set_to.left >= 0 && wrong)
            tell_act(t, "set", 0, setting(d, (struct pair){-1, -1}));
    }
}

void plan_tell(const struct asked *a, const struct outcome *o, struct plan *p)
{
    struct telling t = {.a = a, .o = o, .p = p};
    p->feasible = true;
    p->after = booth_copy(a->b);
    go_behind(&t);
    join_devices(&t);
    turn_selectors(&t);
    turn_sources(&t);
    set_decks(&t);
    silence_undecided(&t);
    take_control(&t);
    advise_for_control(&t);
    tend_power(&t);
    advise_for_traffic(&t);
    if (!t.stuck && booth_sound(p->after, &t.says))
        return;
    plan_clear(p);
    plan_refuse(p, "the booth is full: %s", t.says.says);
}
