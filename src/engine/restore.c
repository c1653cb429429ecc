/* The survey against the booth: each difference is one thing that hands put back.
 *
 * The actions are made in turn on a copy, so that each is told of the booth as the ones before it
 * leave it. Plugs that go nowhere else come out first; a plug that goes home may push out another
 * one, which then goes home itself. What is in use stays, and with it whatever it stands in the way
 * of: each such thing is said once. */
#include "engine/restore.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "model/found.h"
#include "model/say.h"
#include "model/shape.h"

struct work {
    struct booth *b; /* as the actions so far leave it */
    const struct found *found;
    struct restore *out;
};

/* What an action is about, for the id of its step. */
struct about {
    const char *kind; /* "selector" */
    const char *on;   /* a thing or a jack */
    const char *to;   /* the other end of a cable; NULL otherwise */
};

/* Adds an action; text is taken. What a survey names twice, and what is left for the same reason,
 * stands there once. */
static void add_action(struct work *w, struct about about, struct change c, char *text)
{
    struct restore *r = w->out;
    r->v = mem_grow(r->v, &r->cap, r->n + 1, sizeof *r->v);
    struct putting_back *p = &r->v[r->n];
    *p = (struct putting_back){.change = c, .text = text};
    snprintf(p->id, sizeof p->id, "restore-%s-%s%s%s", about.kind, about.on, about.to ? "-" : "",
             about.to ? about.to : "");
    for (size_t i = 0; i < r->n; i++) {
        bool left = c.what == CHANGE_NONE && r->v[i].change.what == CHANGE_NONE;
        if (strcmp(r->v[i].id, p->id) == 0 || (left && strcmp(r->v[i].text, text) == 0)) {
            mem_free(text);
            return;
        }
    }
    r->n++;
}

static void leave(struct work *w, struct about about, struct str *text)
{
    add_action(w, about, change_of(CHANGE_NONE, NULL, NULL), str_take(text));
}

static void leave_alone(struct work *w, struct about about, const char *why)
{
    struct str text = {0};
    str_add(&text, "leave ");
    say_name(w->b, about.on, &text);
    str_addf(&text, " as it is: %s", why);
    leave(w, about, &text);
}

/* Tells and makes a change that touches nothing in use; after (NULL: none) says what has to be done
 * before. False, with the reason, when the booth does not take it. Names that stand in w->b die. */
static bool put(struct work *w, struct about about, struct change c, const char *after,
                struct err *e)
{
    struct str text = {0};
    change_say(w->b, &c, &text);
    if (after)
        str_addf(&text, ", %s", after);
    bool made = change_make(w->b, &c, e);
    if (made)
        add_action(w, about, c, str_take(&text));
    str_clear(&text);
    return made;
}

/* The same, unless it would touch what is in use; what cannot be done is said. */
static void put_back(struct work *w, struct about about, struct change c)
{
    struct err e;
    if (change_touches_in_use(w->b, &c))
        leave_alone(w, about, "it is in use; ask first");
    else if (!put(w, about, c, NULL, &e))
        leave_alone(w, about, e.says);
}

/* --- cables ----------------------------------------------------------------------------------- */

static const struct cable *found_cable(const struct found *f, const char *from, const char *to)
{
    for (size_t i = 0; i < f->cables.n; i++)
        if (strcmp(f->cables.v[i].from, from) == 0 && strcmp(f->cables.v[i].to, to) == 0)
            return &f->cables.v[i];
    return NULL;
}

static bool is_stray(const struct work *w, const struct cable *c)
{
    return !found_cable(w->found, c->from, c->to);
}

static bool may_pull(const struct work *w, const struct cable *c)
{
    struct change pull = change_of(CHANGE_UNCABLE, c->from, c->to);
    return !change_touches_in_use(w->b, &pull);
}

/* The first stray cable of an output, or into an input, that may be pulled, or that must stay. */
static const struct cable *stray(const struct work *w, const char *from, const char *to, bool stays)
{
    for (size_t i = 0; i < w->b->cables.n; i++) {
        const struct cable *c = &w->b->cables.v[i];
        bool at = (from && strcmp(c->from, from) == 0) || (to && strcmp(c->to, to) == 0);
        if (at && is_stray(w, c) && may_pull(w, c) != stays)
            return c;
    }
    return NULL;
}

static void say_cable(const struct booth *b, const struct cable *c, struct str *out)
{
    str_add(out, "the cable from ");
    say_jack(b, c->from, out);
    str_add(out, " to ");
    say_jack(b, c->to, out);
}

/* Says which end of a cable is in use, by whom, if one is. */
static bool say_user(const struct booth *b, const struct cable *c, struct str *out)
{
    struct out_end o;
    struct in_end i;
    bool output = booth_output(b, c->from, &o), input = booth_input(b, c->to, &i);
    const char *thing = NULL, *user = NULL;
    if (output && o.device->in_use) {
        thing = o.device->id;
        user = o.device->in_use;
    } else if (input && i.strip && i.strip->in_use) {
        thing = i.strip->id;
        user = i.strip->in_use;
    } else if (input && !i.strip && i.device->in_use) {
        thing = i.device->id;
        user = i.device->in_use;
    }
    if (!thing)
        return false;
    say_thing(b, thing, out);
    str_addf(out, " is in use by %s; ask first", user);
    return true;
}

/* Leaves a cable as it is, though it was not found so. */
static void leave_cable(struct work *w, const char *kind, const struct cable *c)
{
    struct str text = {0};
    bool there = booth_cable(w->b, c->from, c->to) != NULL;
    str_add(&text, there ? "leave " : "leave out ");
    say_cable(w->b, c, &text);
    str_add(&text, there ? " as it is: " : ": ");
    if (!say_user(w->b, c, &text))
        str_add(&text, "it is gone from the booth");
    leave(w, (struct about){kind, c->from, c->to}, &text);
}

/* Leaves out a cable that was found, since another, that must stay, holds one of its ends. */
static void leave_for(struct work *w, const struct cable *was, const struct cable *holds)
{
    struct str text = {0};
    str_add(&text, "leave out ");
    say_cable(w->b, was, &text);
    str_add(&text, ": ");
    say_jack(w->b, strcmp(was->to, holds->to) == 0 ? was->to : was->from, &text);
    str_add(&text, " stays taken");
    leave(w, (struct about){"cable", was->from, was->to}, &text);
}

/* The stray cable that keeps a found one from going back, or NULL: in its input, or the only one of
 * its output. */
static const struct cable *held(const struct work *w, const struct cable *was)
{
    const struct cable *in = stray(w, NULL, was->to, true);
    bool spare = stray(w, was->from, NULL, false) != NULL;
    return in || spare ? in : stray(w, was->from, NULL, true);
}

/* Whether both ends of a found cable are there, and neither is in use. */
static bool may_go_back(const struct work *w, const struct cable *was)
{
    return booth_output(w->b, was->from, NULL) && booth_input(w->b, was->to, NULL) &&
           may_pull(w, was);
}

/* Whether a found cable that is not there now can go back. */
static bool goes_back(const struct work *w, const struct cable *was)
{
    return !booth_cable(w->b, was->from, was->to) && may_go_back(w, was) && !held(w, was);
}

/* How many found cables of an output go back: as many of its stray ones are moved. */
static int going_back(const struct work *w, const char *from)
{
    int n = 0;
    for (size_t i = 0; i < w->found->cables.n; i++)
        n += strcmp(w->found->cables.v[i].from, from) == 0 && goes_back(w, &w->found->cables.v[i]);
    return n;
}

/* Pulls the stray cables that are not moved home; those in use are left, and said. */
static void pull_strays(struct work *w)
{
    struct cables before = {0};
    const struct field *f = shape_field(&shape_booth, "cables");
    field_copy(f, &before, &w->b->cables);
    for (size_t i = 0; i < before.n; i++) {
        const struct cable *c = &before.v[i];
        int later = 0; /* the last ones of an output go first: the first one is moved */
        for (size_t k = 0; k < i; k++)
            later += strcmp(before.v[k].from, c->from) == 0 && is_stray(w, &before.v[k]) &&
                     may_pull(w, &before.v[k]);
        if (!is_stray(w, c))
            continue;
        if (!may_pull(w, c))
            leave_cable(w, "uncable", c);
        else if (later >= going_back(w, c->from))
            put_back(w, (struct about){"uncable", c->from, c->to},
                     change_of(CHANGE_UNCABLE, c->from, c->to));
    }
    field_clear(f, &before);
}

static void turn_sides(struct work *w, const struct cable *was)
{
    const struct cable *now = booth_cable(w->b, was->from, was->to);
    struct change c = change_of(CHANGE_CABLE, was->from, was->to);
    c.number = (int)was->sides;
    if (now->sides == was->sides)
        return;
    if (change_touches_in_use(w->b, &c))
        leave_cable(w, "sides", was);
    else
        put_back(w, (struct about){"sides", was->from, was->to}, c);
}

/* A found cable that is not there: the output's stray one is moved, or another one is run. */
static void bring_back(struct work *w, const struct cable *was)
{
    const struct cable *moved = stray(w, was->from, NULL, false);
    const char *after = stray(w, NULL, was->to, false) ? "after the plug that stands there is out"
                                                       : NULL;
    struct about about = {"cable", was->from, was->to};
    struct err e;
    struct change c = change_of(CHANGE_CABLE, was->from, was->to);
    c.number = (int)was->sides;
    if (moved) {
        c = change_of(CHANGE_CABLE_MOVE, moved->from, moved->to);
        snprintf(c.c, sizeof c.c, "%s", was->to);
    }
    if (!put(w, about, c, after, &e))
        leave_alone(w, about, e.says);
    else
        turn_sides(w, was);
}

static void put_cables_back(struct work *w)
{
    pull_strays(w);
    for (size_t i = 0; i < w->found->cables.n; i++) {
        const struct cable *was = &w->found->cables.v[i];
        if (booth_cable(w->b, was->from, was->to))
            turn_sides(w, was);
        else if (!may_go_back(w, was))
            leave_cable(w, "cable", was);
        else if (held(w, was))
            leave_for(w, was, held(w, was));
        else
            bring_back(w, was);
    }
}

/* --- what stands on a device ------------------------------------------------------------------ */

static void put_switches_back(struct work *w)
{
    for (size_t i = 0; i < w->found->level.n; i++) {
        const struct entry *was = &w->found->level.v[i];
        struct in_end in;
        int level = was->value ? word_find(&words_level, was->value) : -1;
        if (!booth_input(w->b, was->key, &in))
            leave_alone(w, (struct about){"switch", was->key, NULL}, "it is gone from the booth");
        else if (level >= 0 && (int)in.input->level != level) {
            struct change c = change_of(CHANGE_SWITCH, was->key, NULL);
            c.number = level;
            put_back(w, (struct about){"switch", was->key, NULL}, c);
        }
    }
}

static void put_selectors_back(struct work *w)
{
    for (size_t i = 0; i < w->found->selected.n; i++) {
        const struct entry *was = &w->found->selected.v[i];
        const struct strip *s = booth_strip(w->b, was->key, NULL);
        if (!s)
            leave_alone(w, (struct about){"selector", was->key, NULL}, "it is gone from the booth");
        else if (was->value && strcmp(s->selected, was->value) != 0)
            put_back(w, (struct about){"selector", was->key, NULL},
                     change_of(CHANGE_SELECT, was->key, was->value));
    }
}

static void put_sources_back(struct work *w)
{
    for (size_t i = 0; i < w->found->source.n; i++) {
        const struct entry *was = &w->found->source.v[i];
        const struct device *d = booth_device(w->b, was->key);
        int source = was->value ? word_find(&words_source, was->value) : -1;
        if (!d)
            leave_alone(w, (struct about){"source", was->key, NULL}, "it is gone from the booth");
        else if (source >= 0 && (int)d->source != source) {
            struct change c = change_of(CHANGE_SOURCE, was->key, NULL);
            c.number = source;
            put_back(w, (struct about){"source", was->key, NULL}, c);
        }
    }
}

/* "hub1.3" into a change that plugs a thing in there; NULL pulls its lead. */
static struct change plug_like(const char *id, const char *where)
{
    const char *dot = where ? strrchr(where, '.') : NULL;
    struct change c = change_of(CHANGE_PLUG, id, where);
    if (dot) {
        snprintf(c.b, sizeof c.b, "%.*s", (int)(dot - where), where);
        c.number = atoi(dot + 1);
    }
    return c;
}

static const struct plug *plug_of(const struct booth *b, const char *id)
{
    const struct device *d = booth_device(b, id);
    const struct hub *h = booth_hub(b, id);
    return d ? &d->plugged : h ? &h->plugged : NULL;
}

static bool stands_as(const struct plug *p, const struct change *c)
{
    return strcmp(p->at, c->b) == 0 && p->port == c->number;
}

/* What else is plugged in where a lead is to go, though it was not found there; NULL: nothing. */
static const char *lead_in_the_way(const struct work *w, const struct change *c)
{
    const struct booth *b = w->b;
    for (size_t i = 0; i < b->devices.n + b->hubs.n && c->number; i++) {
        const char *id = i < b->devices.n ? b->devices.v[i].id : b->hubs.v[i - b->devices.n].id;
        const struct entry *was = map_find(&w->found->plugged, id);
        struct change home = plug_like(id, was ? was->value : NULL);
        if (strcmp(id, c->a) != 0 && stands_as(plug_of(b, id), c) &&
            (strcmp(home.b, c->b) != 0 || home.number != c->number))
            return id;
    }
    return NULL;
}

/* Puts a lead back into its port, from which what came later is pulled. False when the booth does
 * not take it yet. */
static bool put_lead_back(struct work *w, struct change c, struct err *e)
{
    struct about about = {"lead", c.a, NULL};
    const char *other = lead_in_the_way(w, &c);
    const char *after = NULL;
    if (other) {
        struct change pull = change_of(CHANGE_PLUG, other, NULL);
        if (change_touches_in_use(w->b, &pull)) {
            struct str why = {0};
            say_thing(w->b, other, &why);
            str_add(&why, " stands in its port and is in use; ask first");
            leave_alone(w, about, str_text(&why));
            str_clear(&why);
            return true;
        }
        if (map_find(&w->found->plugged, other))
            after = "after the lead that stands there is out";
        else
            put_back(w, (struct about){"lead", pull.a, NULL}, pull);
    }
    return put(w, about, c, after, e);
}

/* Puts a lead back; false when the booth does not take it yet. */
static bool try_lead(struct work *w, const struct entry *was, struct err *e)
{
    struct change c = plug_like(was->key, was->value);
    const struct plug *now = plug_of(w->b, was->key);
    struct about about = {"lead", was->key, NULL};
    if (!now)
        leave_alone(w, about, "it is gone from the booth");
    else if (stands_as(now, &c))
        return true;
    else if (change_touches_in_use(w->b, &c))
        leave_alone(w, about, "it is in use; ask first");
    else
        return put_lead_back(w, c, e);
    return true;
}

/* A hub may have to leave another one before that one can take its old place: what is refused is
 * tried again as long as something else could be put back. */
static void put_leads_back(struct work *w)
{
    const struct map *plugged = &w->found->plugged;
    bool *done = mem_new(plugged->n, sizeof *done), more = true;
    struct err e = {.code = ERR_NONE};
    while (more) {
        more = false;
        for (size_t i = 0; i < plugged->n; i++)
            if (!done[i] && (done[i] = try_lead(w, &plugged->v[i], &e)))
                more = true;
    }
    for (size_t i = 0; i < plugged->n; i++)
        if (!done[i] && !try_lead(w, &plugged->v[i], &e))
            leave_alone(w, (struct about){"lead", plugged->v[i].key, NULL}, e.says);
    mem_free(done);
}

struct restore restore_make(const struct booth *b)
{
    struct restore r = {0};
    struct work w = {.found = b->found, .out = &r};
    if (!b->found)
        return r;
    w.b = booth_copy(b);
    put_cables_back(&w);
    put_switches_back(&w);
    put_selectors_back(&w);
    put_sources_back(&w);
    put_leads_back(&w);
    booth_free(w.b);
    return r;
}

void restore_clear(struct restore *r)
{
    for (size_t i = 0; i < r->n; i++)
        mem_free(r->v[i].text);
    mem_free(r->v);
    *r = (struct restore){0};
}
