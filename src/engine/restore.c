/* The survey against the booth: each difference is one thing that hands put back.
 *
 * The actions are made in turn on a copy, so that each is told of the booth as the ones before it
 * leave it: a plug that goes home may push another one out. */
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

static void add_action(struct work *w, struct about about, struct change c, char *text)
{
    struct restore *r = w->out;
    r->v = mem_grow(r->v, &r->cap, r->n + 1, sizeof *r->v);
    struct putting_back *p = &r->v[r->n];
    *p = (struct putting_back){.change = c, .text = text};
    snprintf(p->id, sizeof p->id, "restore-%s-%s%s%s", about.kind, about.on, about.to ? "-" : "",
             about.to ? about.to : "");
    for (size_t i = 0; i < r->n; i++)
        if (strcmp(r->v[i].id, p->id) == 0) { /* a survey that names a thing twice */
            mem_free(text);
            return;
        }
    r->n++;
}

static void leave_alone(struct work *w, struct about about, const char *why)
{
    struct str text = {0};
    str_add(&text, "leave ");
    say_name(w->b, about.on, &text);
    str_addf(&text, " as it is: %s", why);
    add_action(w, about, change_of(CHANGE_NONE, NULL, NULL), str_take(&text));
}

static const struct cable *found_cable(const struct found *f, const char *from, const char *to)
{
    for (size_t i = 0; i < f->cables.n; i++)
        if (strcmp(f->cables.v[i].from, from) == 0 && strcmp(f->cables.v[i].to, to) == 0)
            return &f->cables.v[i];
    return NULL;
}

/* Whether a plug that was not found there stands where a cable is to go. */
static bool is_in_the_way(const struct work *w, const struct change *c)
{
    const char *to = c->what == CHANGE_CABLE_MOVE ? c->c : c->what == CHANGE_CABLE ? c->b : "";
    for (size_t i = 0; i < w->b->cables.n; i++) {
        const struct cable *k = &w->b->cables.v[i];
        if (strcmp(k->to, to) == 0 && strcmp(k->from, c->a) != 0 &&
            !found_cable(w->found, k->from, k->to))
            return true;
    }
    return false;
}

/* Tells and makes a change, unless it would touch what is in use. */
static void put_back(struct work *w, struct about about, struct change c)
{
    struct err e;
    struct str text = {0};
    if (change_touches_in_use(w->b, &c)) {
        leave_alone(w, about, "it is in use; ask first");
        return;
    }
    change_say(w->b, &c, &text);
    if (is_in_the_way(w, &c))
        str_add(&text, ", after the plug that stands there is out");
    if (change_make(w->b, &c, &e))
        add_action(w, about, c, str_take(&text));
    else
        leave_alone(w, about, e.says);
    str_clear(&text);
}

/* --- cables ----------------------------------------------------------------------------------- */

/* A cable of this output that was not there when the booth was found, or NULL. */
static const struct cable *stray(const struct work *w, const char *from)
{
    for (size_t i = 0; i < w->b->cables.n; i++) {
        const struct cable *c = &w->b->cables.v[i];
        if (strcmp(c->from, from) == 0 && !found_cable(w->found, c->from, c->to))
            return c;
    }
    return NULL;
}

static void put_cable_back(struct work *w, const struct cable *was)
{
    if (!booth_output(w->b, was->from, NULL) || !booth_input(w->b, was->to, NULL)) {
        bool output = booth_output(w->b, was->from, NULL);
        leave_alone(
            w, (struct about){"cable", output ? was->to : was->from, output ? was->from : was->to},
            "it is gone from the booth");
        return;
    }
    const struct cable *now = booth_cable(w->b, was->from, was->to);
    const struct cable *moved = now ? NULL : stray(w, was->from);
    if (moved) {
        struct change c = change_of(CHANGE_CABLE_MOVE, moved->from, moved->to);
        snprintf(c.c, sizeof c.c, "%s", was->to);
        put_back(w, (struct about){"cable", was->from, was->to}, c);
        now = booth_cable(w->b, was->from, was->to);
    }
    if (!now || now->sides != was->sides) {
        struct change c = change_of(CHANGE_CABLE, was->from, was->to);
        c.number = (int)was->sides;
        put_back(w, (struct about){now ? "sides" : "cable", was->from, was->to}, c);
    }
}

static void put_cables_back(struct work *w)
{
    struct cables before = {0};
    const struct field *f = shape_field(&shape_booth, "cables");
    for (size_t i = 0; i < w->found->cables.n; i++)
        put_cable_back(w, &w->found->cables.v[i]);
    field_copy(f, &before, &w->b->cables);
    for (size_t i = 0; i < before.n; i++)
        if (!found_cable(w->found, before.v[i].from, before.v[i].to))
            put_back(w, (struct about){"uncable", before.v[i].from, before.v[i].to},
                     change_of(CHANGE_UNCABLE, before.v[i].from, before.v[i].to));
    field_clear(f, &before);
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

static void put_leads_back(struct work *w)
{
    for (size_t i = 0; i < w->found->plugged.n; i++) {
        const struct entry *was = &w->found->plugged.v[i];
        const struct device *d = booth_device(w->b, was->key);
        const struct hub *h = booth_hub(w->b, was->key);
        struct change c = plug_like(was->key, was->value);
        const struct plug *now = d ? &d->plugged : h ? &h->plugged : NULL;
        if (!now)
            leave_alone(w, (struct about){"lead", was->key, NULL}, "it is gone from the booth");
        else if (strcmp(now->at, c.b) != 0 || now->port != c.number)
            put_back(w, (struct about){"lead", was->key, NULL}, c);
    }
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
