/* Each failure makes a wounded circuit, so that the forward model hears what is left at once: a
 * lost card leaves a hole or closes up, as the host's gap says. What hands then do is in
 * failures_back.c. */
#include "engine/failures.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "engine/failures_parts.h"
#include "engine/heard.h"
#include "engine/route.h"
#include "engine/usb.h"
#include "model/say.h"

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

static void lose_cards(struct wound *w)
{
    for (size_t i = 0; i < w->b->devices.n; i++) {
        const struct device *d = &w->b->devices.v[i];
        const char *s = w->f->subject;
        w->lost[i] = w->f->kind == FAILING_HUB ? usb_leads_over(w->b, d->plugged.at, s)
                     : w->f->kind == FAILING_LEAD
                         ? strcmp(d->id, s + strlen("lead-")) == 0
                         : w->f->kind == FAILING_DEVICE && strcmp(d->id, s) == 0;
    }
}

/* The lost cards leave a hole in the interface, or the later ones move down. */
static void close_up(const struct wound *w, struct circuit *c)
{
    size_t joined = 0;
    for (size_t i = 0; i < c->n_joined; i++)
        if (w->b->host.gap == GAP_KEEPS || !w->lost[c->joined[i]])
            c->joined[joined++] = c->joined[i];
    c->n_joined = joined;
    circuit_number_channels(c);
}

/* Nothing passes what failed: a cable, any cable of a lost card, its usb inputs, a strip. */
static void silence_it(const struct wound *w, struct circuit *c)
{
    size_t cables = 0;
    for (size_t i = 0; i < c->n_cables; i++) /* they stand as in the booth */
        if (!cable_is(&w->b->cables.v[i], w->f->subject) &&
            !w->lost[c->outputs[c->cables[i].output].device])
            c->cables[cables++] = c->cables[i];
    c->n_cables = cables;
    for (size_t i = 0; i < c->n_inputs; i++)
        if (c->inputs[i].usb && w->lost[c->inputs[i].device])
            c->inputs[i].carries[0] = c->inputs[i].carries[1] = 0;
    for (size_t i = 0; i < c->n_strips; i++)
        if (strcmp(circuit_strip(c, (int)i)->id, w->f->subject) == 0)
            c->strips[i].dead = true;
}

/* What is heard at once after the failure, with the decks as they play now. */
static struct ears listen_after(const struct wound *w)
{
    struct circuit *c = circuit_new(w->b);
    for (size_t i = 0; i < c->n_decks; i++)
        c->decks[i].set_to = route_effective(c, (int)i);
    close_up(w, c);
    silence_it(w, c);
    struct ears e = listen(c);
    circuit_free(c);
    return e;
}

static void tell_silence(struct wound *w)
{
    struct circuit *c = circuit_new(w->b);
    struct ears before = listen(c), after = listen_after(w);
    bool all = w->f->kind == FAILING_HOST || interface_stops(w);
    w->hushed = true;
    for (size_t i = 0; i < w->b->decks.n; i++) {
        bool home = before.at_home[i];
        bool astray = !home && before.away[i] && c->decks[i].wants >= 0;
        bool lost = all || !(after.at_home[i] || (astray && after.away[i]));
        w->unheard[i] = !home;
        if ((home || astray) && lost)
            texts_add(&w->f->silent, w->b->decks.v[i].id);
        else if (home)
            w->hushed = false;
        if (!all && after.away[i] && !before.away[i])
            texts_add(&w->f->moved, w->b->decks.v[i].id);
    }
    w->f->loses = w->f->silent.n || w->f->moved.n;
    circuit_free(c);
}

static void tell_control(const struct wound *w)
{
    for (size_t i = 0; i < w->b->decks.n; i++) {
        const struct device *d = booth_device(w->b, w->b->decks.v[i].controlled_by);
        if (d && w->lost[d - w->b->devices.v])
            texts_add(&w->f->uncontrolled, w->b->decks.v[i].id);
    }
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
    tell_control(&w);
    if (f.loses)
        find_way_back(&w);
    return f;
}

const struct booth *failure_after(const struct failure *f)
{
    return f->back.plan.feasible ? f->back.plan.after : f->meanwhile.plan.after;
}

void way_back_say_when(const struct way_back *way, struct str *out)
{
    if (!way->plan.n) {
        str_add(out, "at once");
        return;
    }
    str_add(out, "in ");
    say_minutes(way->plan.minutes, out);
    str_add(out, " min");
}

void failure_clear(struct failure *f)
{
    texts_clear(&f->silent);
    texts_clear(&f->moved);
    texts_clear(&f->uncontrolled);
    way_back_clear(&f->back);
    way_back_clear(&f->meanwhile);
    mem_free(f->what);
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
    return strcmp(from, id) == 0 || strcmp(arrow + 1, id) == 0 ||
           (ref_split(from, owner, jack) && strcmp(owner, id) == 0) ||
           (ref_split(arrow + 1, owner, jack) && strcmp(owner, id) == 0);
}

static void gather_near(void *self, enum failing kind, const char *subject)
{
    struct around *a = self;
    if (belongs(a->id, kind, subject))
        add_last(&a->g.all, fail(a->g.b, kind, subject));
}

static void gather_deck(struct around *a, int deck)
{
    struct texts through = {0};
    struct failure f;
    deck_plays_through(a->g.b, deck, &through);
    for (size_t i = 0; i < through.n; i++)
        if (failure_make(a->g.b, through.v[i], &f)) /* a lead that is built in cannot */
            add_last(&a->g.all, f);
    texts_clear(&through);
}

struct failures failures_around(const struct booth *b, const char *id)
{
    struct around a = {.id = id, .g = {.b = b}};
    const struct deck *deck = booth_deck(b, id);
    if (deck)
        gather_deck(&a, (int)(deck - b->decks.v));
    else
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
