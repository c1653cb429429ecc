/* Each failure makes two copies of the booth. One is wounded so that the forward model hears what
 * is left at once: a lost card leaves a hole or closes up, as the host's gap says. The other is
 * what hands then work on: the thing is out of the interface and cannot be planned with.
 *
 * Losing a joined device while it plays stops everything until the interface is chosen again, where
 * the host's on_drop says so: half a minute (common practice, no source). */
#include "engine/failures.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "engine/heard.h"
#include "engine/route.h"
#include "model/say.h"
#include "model/shape.h"

enum { CHOOSE_AGAIN = 500 };

/* --- what is heard where it is wanted --------------------------------------------------------- */

/* For each deck: heard on its wanted strip; heard on any other. */
struct ears {
    bool at_home[MAX_DECKS], away[MAX_DECKS];
};

static struct ears listen(const struct circuit *c)
{
    struct ears e = {{false}, {false}};
    struct heard h = heard_make(c);
    for (size_t i = 0; i < h.n; i++) {
        bool home = c->decks[h.v[i].deck].wants == h.v[i].strip;
        (home ? e.at_home : e.away)[h.v[i].deck] = true;
    }
    heard_clear(&h);
    return e;
}

/* --- taking things out ------------------------------------------------------------------------ */

struct wound {
    const struct booth *b;
    struct failure *f;
    bool lost[MAX_DEVICES]; /* cards that drop out of the interface, by their number */
};

static int device_number(const struct booth *b, const char *id)
{
    const struct device *d = booth_device(b, id);
    return d ? (int)(d - b->devices.v) : -1;
}

static bool hangs_on(const struct booth *b, const struct plug *p, const char *hub)
{
    for (const struct hub *h = booth_hub(b, p->at); h; h = booth_hub(b, h->plugged.at))
        if (strcmp(h->id, hub) == 0)
            return true;
    return false;
}

static void lose_cards(struct wound *w)
{
    for (size_t i = 0; i < w->b->devices.n; i++) {
        const struct device *d = &w->b->devices.v[i];
        const char *s = w->f->subject;
        w->lost[i] = w->f->kind == FAILING_HUB ? hangs_on(w->b, &d->plugged, s)
                     : w->f->kind == FAILING_LEAD
                         ? strcmp(d->id, s + strlen("lead-")) == 0
                         : w->f->kind == FAILING_DEVICE && strcmp(d->id, s) == 0;
    }
}

/* Whether a card that was in the interface is lost. */
static bool drops_out(const struct wound *w)
{
    for (size_t i = 0; i < w->b->joined.n; i++)
        if (w->lost[device_number(w->b, w->b->joined.v[i])])
            return true;
    return false;
}

static void cut(struct booth *b, const char *subject)
{
    for (size_t i = 0; i < b->cables.n; i++) {
        char name[2 * REF_SIZE];
        snprintf(name, sizeof name, "%s>%s", b->cables.v[i].from, b->cables.v[i].to);
        if (strcmp(name, subject) != 0)
            continue;
        records_splice(shape_field(&shape_booth, "cables"), &b->cables, i, 1, NULL, 0);
        return;
    }
}

/* What is heard at once after the failure, with the decks as they play now. */
static struct ears listen_after(const struct wound *w)
{
    struct circuit *c = circuit_new(w->b);
    bool keeps = w->b->host.gap == GAP_KEEPS;
    size_t joined = 0;
    for (size_t i = 0; i < c->n_decks; i++) /* they go on playing where they play now */
        c->decks[i].set_to = route_effective(c, (int)i);
    for (size_t i = 0; i < c->n_joined; i++)
        if (keeps || !w->lost[c->joined[i]])
            c->joined[joined++] = c->joined[i];
    c->n_joined = joined;
    circuit_number_channels(c);
    for (size_t i = 0; i < c->n_cables; i++) {
        char from[REF_SIZE], to[REF_SIZE], name[2 * REF_SIZE];
        circuit_output_name(c, c->cables[i].output, from);
        circuit_input_name(c, c->cables[i].input, to);
        snprintf(name, sizeof name, "%s>%s", from, to);
        if (strcmp(name, w->f->subject) == 0 || w->lost[c->outputs[c->cables[i].output].device])
            c->cables[i].output = c->cables[i].input = -1;
    }
    size_t cables = 0;
    for (size_t i = 0; i < c->n_cables; i++)
        if (c->cables[i].output >= 0)
            c->cables[cables++] = c->cables[i];
    c->n_cables = cables;
    for (size_t i = 0; i < c->n_inputs; i++)
        if (c->inputs[i].usb && w->lost[c->inputs[i].device])
            c->inputs[i].carries[0] = c->inputs[i].carries[1] = 0;
    for (size_t i = 0; i < c->n_strips; i++)
        if (strcmp(circuit_strip(c, (int)i)->id, w->f->subject) == 0)
            c->strips[i].dead = true;
    struct ears e = listen(c);
    circuit_free(c);
    return e;
}

static void tell_silence(struct wound *w)
{
    struct circuit *c = circuit_new(w->b);
    struct ears before = listen(c), after = listen_after(w);
    bool all = w->f->kind == FAILING_HOST || (drops_out(w) && w->b->host.on_drop == DROP_STOPS);
    for (size_t i = 0; i < w->b->decks.n; i++) {
        if (before.at_home[i] && (all || !after.at_home[i]))
            texts_add(&w->f->silent, w->b->decks.v[i].id);
        if (!all && after.away[i] && !before.away[i])
            texts_add(&w->f->moved, w->b->decks.v[i].id);
    }
    circuit_free(c);
}

/* --- the booth that hands work on ------------------------------------------------------------- */

static void leave(struct booth *b, const char *id)
{
    int at = booth_joined_at(b, id);
    if (at >= 0)
        texts_remove(&b->joined, (size_t)at);
}

/* Decks that want a strip that died take the first free one that nobody wants, or none. */
static void find_strip(const struct wound *w, struct booth *b)
{
    struct circuit *c = circuit_new(b);
    for (size_t i = 0; i < b->decks.n; i++) {
        struct deck *d = &b->decks.v[i];
        if (strcmp(d->wants, w->f->subject) != 0)
            continue;
        d->wants[0] = '\0';
        for (size_t k = 0; k < c->n_strips && !*d->wants; k++) {
            const struct strip *s = circuit_strip(c, c->by_rank[k]);
            bool taken = s->in_use || strcmp(s->id, w->f->subject) == 0;
            for (size_t m = 0; m < b->decks.n; m++)
                taken = taken || strcmp(b->decks.v[m].wants, s->id) == 0;
            if (!taken)
                snprintf(d->wants, sizeof d->wants, "%s", s->id);
        }
    }
    circuit_free(c);
}

/* The booth without the thing. */
static struct booth *without(const struct wound *w)
{
    struct booth *b = booth_copy(w->b);
    for (size_t i = 0; i < w->b->devices.n; i++) {
        struct device *d = &b->devices.v[i];
        if (!w->lost[i])
            continue;
        leave(b, d->id);
        if (w->f->kind != FAILING_DEVICE)
            d->plugged = (struct plug){.port = 0};
    }
    struct err e;
    struct change remove = change_of(CHANGE_REMOVE, w->f->subject, NULL);
    if (w->f->kind == FAILING_HUB)
        change_make(b, &remove, &e);
    else if (w->f->kind == FAILING_CABLE)
        cut(b, w->f->subject);
    else if (w->f->kind == FAILING_STRIP)
        find_strip(w, b);
    return b;
}

/* The same, so that no plan uses what has failed: a mixer's card is as good as in use, a dead
 * device has no card to join (its plugs still stand where they stand), a strip nobody wants any
 * more. */
static struct booth *to_plan_with(const struct wound *w, const struct booth *left)
{
    struct booth *b = booth_copy(left);
    for (size_t i = 0; i < b->devices.n; i++) {
        struct device *d = &b->devices.v[i];
        if (w->f->kind != FAILING_DEVICE || strcmp(d->id, w->f->subject) != 0)
            continue;
        if (d->kind == KIND_MIXER) {
            text_set(&d->in_use, "a card that failed");
            continue;
        }
        const struct field *card = shape_field(&shape_device, "card");
        field_clear(card, &d->card);
        for (size_t k = 0; k < d->outputs.n; k++)
            for (size_t m = 0; m < d->outputs.v[k].channels.n; m++)
                d->outputs.v[k].channels.v[m] = (int)m + 1;
    }
    return b;
}

/* --- ways back -------------------------------------------------------------------------------- */

static void add_action(struct failure *f, const char *word, int minutes, struct change c,
                       const char *text)
{
    size_t cap = f->n;
    f->actions = mem_grow(f->actions, &cap, f->n + 1, sizeof *f->actions);
    f->actions[f->n++] = (struct action){c, word, minutes, mem_text(text)};
    f->minutes += minutes;
}

/* Makes a change on what is left, telling it. False when it cannot be. */
static bool act(struct failure *f, const char *word, int minutes, struct change c)
{
    struct err e;
    struct str text = {0};
    change_say(f->after, &c, &text);
    bool made = change_make(f->after, &c, &e);
    if (made)
        add_action(f, word, minutes, c, str_text(&text));
    str_clear(&text);
    return made;
}

static void choose_again(struct failure *f)
{
    add_action(f, "interface", CHOOSE_AGAIN, change_of(CHANGE_NONE, NULL, NULL),
               "choose the interface again in the host");
}

/* A cable that brings own media, or a record, to a strip: what has to be turned for it, or -1. */
static int own_media_cost(const struct booth *b, const struct cable *c, const struct prices *p)
{
    struct out_end out;
    struct in_end in;
    if (!booth_output(b, c->from, &out) || !booth_input(b, c->to, &in) || !in.strip)
        return -1;
    bool plays = out.device->kind == KIND_PLAYER || out.device->kind == KIND_TURNTABLE;
    if (!plays || out.device->in_use || in.strip->in_use || out.output->level != in.input->level)
        return -1;
    int cost = strcmp(in.strip->selected, in.input->id) == 0 ? 0 : p->selector;
    bool player = out.device->kind == KIND_PLAYER;
    return cost + (player && out.device->source == SOURCE_COMPUTER ? p->source : 0);
}

/* When the laptop is gone: the player or turntable whose own media reaches a strip soonest. */
static void without_host(struct wound *w)
{
    struct prices p = plan_prices(w->b);
    const struct cable *best = NULL;
    int least = 0;
    for (size_t i = 0; i < w->b->cables.n; i++) {
        int cost = own_media_cost(w->b, &w->b->cables.v[i], &p);
        if (cost >= 0 && (!best || cost < least)) {
            best = &w->b->cables.v[i];
            least = cost;
        }
    }
    struct str text = {0};
    if (!best) {
        text_set(&w->f->way_back, "nothing here plays without the laptop");
        return;
    }
    struct out_end out;
    struct in_end in;
    booth_output(w->b, best->from, &out);
    booth_input(w->b, best->to, &in);
    w->f->after = booth_copy(w->b);
    if (strcmp(in.strip->selected, in.input->id) != 0)
        act(w->f, "selector", p.selector, change_of(CHANGE_SELECT, in.strip->id, in.input->id));
    if (out.device->kind == KIND_PLAYER && out.device->source == SOURCE_COMPUTER)
        act(w->f, "source", p.source, change_of(CHANGE_SOURCE, out.device->id, NULL));
    str_addf(&text, "play from %s itself on ", out.device->label);
    say_thing(w->b, in.strip->id, &text);
    w->f->has_way_back = true;
    w->f->way_back = str_take(&text);
}

/* The cable from a built-in output that is left to a strip that is not in use, or NULL. */
static const struct cable *built_in_cable(const struct wound *w)
{
    const struct booth *b = w->f->after;
    for (size_t i = 0; i < b->cables.n; i++) {
        struct out_end out;
        struct in_end in;
        booth_output(b, b->cables.v[i].from, &out);
        booth_input(b, b->cables.v[i].to, &in);
        bool lost = w->lost[out.device - b->devices.v];
        if (!lost && strcmp(out.device->plugged.at, "built-in") == 0 && out.device->card &&
            in.strip && !in.strip->in_use && !out.device->in_use)
            return &b->cables.v[i];
    }
    return NULL;
}

/* All decks through the laptop's own output, mixed in the host. */
static bool through_built_in(struct wound *w)
{
    const struct cable *c = built_in_cable(w);
    struct prices p = plan_prices(w->b);
    struct out_end out;
    struct in_end in;
    if (!c)
        return false;
    booth_output(w->f->after, c->from, &out);
    booth_input(w->f->after, c->to, &in);
    char device[ID_SIZE], strip[ID_SIZE], input[ID_SIZE];
    int left = out.output->channels.v[0] - 1;
    struct pair pair = {left, out.output->channels.n > 1 ? out.output->channels.v[1] - 1 : left};
    snprintf(device, sizeof device, "%s", out.device->id);
    snprintf(strip, sizeof strip, "%s", in.strip->id);
    snprintf(input, sizeof input, "%s", in.input->id);
    bool turned = strcmp(in.strip->selected, input) == 0;
    texts_clear(&w->f->after->joined);
    struct change join = change_of(CHANGE_JOIN, device, NULL);
    join.number = -1;
    act(w->f, "join", p.join, join);
    if (!turned)
        act(w->f, "selector", p.selector, change_of(CHANGE_SELECT, strip, input));
    for (size_t i = 0; i < w->b->decks.n; i++) {
        const struct deck *d = &w->b->decks.v[i];
        struct change set = change_of(CHANGE_SET, d->id, NULL);
        set.pair = pair;
        if (d->set_to.left != pair.left || d->set_to.right != pair.right)
            act(w->f, "set", p.set, set);
    }
    struct str text = {0};
    str_add(&text, "all decks through the laptop's own output on ");
    say_thing(w->b, strip, &text);
    str_add(&text, ", mixed in the host");
    w->f->has_way_back = true;
    w->f->way_back = str_take(&text);
    return true;
}

/* Why there is no way back: of a mixer whose card failed not that it is in use, as the plan saw it.
 */
static void say_no_way(struct wound *w, const char *why_not)
{
    const struct device *dead = w->f->kind == FAILING_DEVICE ? booth_device(w->b, w->f->subject)
                                                             : NULL;
    struct str text = {0};
    if (dead && dead->kind == KIND_MIXER)
        str_addf(&text, "%s's sound card failed, and there is no other way in", dead->label);
    else
        str_add(&text, why_not);
    text_set(&w->f->way_back, text.text);
    str_clear(&text);
}

/* The least work on what is left. */
static void by_plan(struct wound *w)
{
    struct booth *base = to_plan_with(w, w->f->after);
    struct plan *plans = plans_make(base);
    const struct plan *p = &plans[0];
    if (!p->feasible) {
        say_no_way(w, plans_of(plans, plan_way_now(w->b))->why_not);
    } else {
        struct err e;
        for (size_t i = 0; i < p->n; i++) {
            add_action(w->f, p->actions[i].word, p->actions[i].minutes, p->actions[i].change,
                       p->actions[i].text);
            change_make(w->f->after, &p->actions[i].change, &e);
        }
        text_set(&w->f->way_back, word_people(&words_way, (int)p->way));
        w->f->has_way_back = true;
    }
    plans_free(plans);
    booth_free(base);
}

static void drop_after(struct failure *f)
{
    booth_free(f->after);
    f->after = NULL;
}

static void find_way_back(struct wound *w)
{
    struct failure *f = w->f;
    const struct device *d = booth_device(w->b, f->subject);
    if (f->silent.n == 0 && f->moved.n == 0)
        return;
    if (f->kind == FAILING_HOST) {
        without_host(w);
        return;
    }
    f->after = without(w);
    if (drops_out(w) && w->b->host.on_drop == DROP_STOPS)
        choose_again(f);
    if (!(d && d->kind == KIND_INTERFACE && through_built_in(w)))
        by_plan(w);
    if (!f->has_way_back)
        drop_after(f);
}

/* --- everything that can fail ----------------------------------------------------------------- */

static void name_it(const struct booth *b, struct failure *f)
{
    struct str what = {0};
    char *arrow = strchr(f->subject, '>');
    if (f->kind == FAILING_CABLE && arrow) {
        char from[REF_SIZE];
        snprintf(from, sizeof from, "%.*s", (int)(arrow - f->subject), f->subject);
        str_add(&what, "the cable from ");
        say_jack(b, from, &what);
        str_add(&what, " to ");
        say_jack(b, arrow + 1, &what);
    } else if (f->kind == FAILING_LEAD) {
        str_addf(&what, "the data lead of %s", booth_label(b, f->subject + strlen("lead-")));
    } else {
        const struct device *d = booth_device(b, f->subject);
        if (d && d->kind == KIND_MIXER)
            str_addf(&what, "%s's sound card", d->label);
        else
            say_thing(b, f->subject, &what);
    }
    f->what = str_take(&what);
}

static struct failure fail(const struct booth *b, enum failing kind, const char *subject)
{
    struct failure f = {.kind = kind};
    struct wound w = {.b = b, .f = &f};
    snprintf(f.subject, sizeof f.subject, "%s", subject);
    name_it(b, &f);
    lose_cards(&w);
    tell_silence(&w);
    find_way_back(&w);
    return f;
}

void failure_clear(struct failure *f)
{
    texts_clear(&f->silent);
    texts_clear(&f->moved);
    for (size_t i = 0; i < f->n; i++)
        mem_free(f->actions[i].text);
    mem_free(f->actions);
    mem_free(f->what);
    mem_free(f->way_back);
    booth_free(f->after);
    *f = (struct failure){.kind = FAILING_HOST};
}

/* Calls for every single thing, in the file's order. */
static void each_thing(const struct booth *b, void (*see)(void *, enum failing, const char *),
                       void *self)
{
    char name[2 * REF_SIZE];
    see(self, FAILING_HOST, "host");
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        if (d->card)
            see(self, FAILING_DEVICE, d->id);
        for (size_t k = 0; k < d->strips.n; k++)
            see(self, FAILING_STRIP, d->strips.v[k].id);
        if (*d->plugged.at && d->plugged.port) {
            snprintf(name, sizeof name, "lead-%s", d->id);
            see(self, FAILING_LEAD, name);
        }
    }
    for (size_t i = 0; i < b->hubs.n; i++)
        see(self, FAILING_HUB, b->hubs.v[i].id);
    for (size_t i = 0; i < b->cables.n; i++) {
        snprintf(name, sizeof name, "%s>%s", b->cables.v[i].from, b->cables.v[i].to);
        see(self, FAILING_CABLE, name);
    }
}

struct gathering {
    const struct booth *b;
    struct failures all;
};

static void add_last(struct failures *all, struct failure f)
{
    all->v = mem_grow(all->v, &all->cap, all->n + 1, sizeof *all->v);
    all->v[all->n++] = f;
}

static void gather(void *self, enum failing kind, const char *subject)
{
    struct gathering *g = self;
    struct failures *all = &g->all;
    struct failure f = fail(g->b, kind, subject);
    add_last(all, f);
    size_t at = all->n - 1;
    for (; at > 0 && all->v[at - 1].silent.n < f.silent.n; at--)
        all->v[at] = all->v[at - 1];
    all->v[at] = f;
}

struct failures failures_make(const struct booth *b)
{
    struct gathering g = {.b = b};
    each_thing(b, gather, &g);
    return g.all;
}

void failures_clear(struct failures *f)
{
    for (size_t i = 0; i < f->n; i++)
        failure_clear(&f->v[i]);
    mem_free(f->v);
    *f = (struct failures){0};
}

struct around {
    const char *id;
    struct gathering g;
};

static bool belongs(const char *id, enum failing kind, const char *subject)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    if (kind == FAILING_LEAD)
        return strcmp(subject + strlen("lead-"), id) == 0;
    if (kind != FAILING_CABLE)
        return strcmp(subject, id) == 0;
    char from[REF_SIZE];
    const char *arrow = strchr(subject, '>');
    snprintf(from, sizeof from, "%.*s", (int)(arrow - subject), subject);
    return (ref_split(from, owner, jack) && strcmp(owner, id) == 0) ||
           (ref_split(arrow + 1, owner, jack) && strcmp(owner, id) == 0);
}

static void gather_near(void *self, enum failing kind, const char *subject)
{
    struct around *a = self;
    if (belongs(a->id, kind, subject))
        add_last(&a->g.all, fail(a->g.b, kind, subject));
}

struct failures failures_around(const struct booth *b, const char *id)
{
    struct around a = {.id = id, .g = {.b = b}};
    each_thing(b, gather_near, &a);
    if (strcmp(id, "host") != 0)
        add_last(&a.g.all, fail(b, FAILING_HOST, "host"));
    return a.g.all;
}

struct looking {
    const char *subject;
    bool found;
    enum failing kind;
};

static void look(void *self, enum failing kind, const char *subject)
{
    struct looking *l = self;
    if (strcmp(l->subject, subject) == 0) {
        l->found = true;
        l->kind = kind;
    }
}

bool failure_make(const struct booth *b, const char *subject, struct failure *out)
{
    struct looking l = {.subject = subject};
    each_thing(b, look, &l);
    if (l.found)
        *out = fail(b, l.kind, subject);
    return l.found;
}
