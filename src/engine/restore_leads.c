/* Data leads go back: one port holds one lead, and a hub may have to leave another one before that
 * one can take its old place. What the booth does not take is left out, and all is told again
 * without it. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "engine/restore_parts.h"
#include "engine/usb.h"
#include "model/say.h"

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

static bool stands_as(const struct plug *p, const struct change *c)
{
    return strcmp(p->at, c->b) == 0 && p->port == c->number;
}

/* The i-th of the devices and hubs; NULL past the last. */
static const char *lead_at(const struct booth *b, size_t i)
{
    if (i < b->devices.n)
        return b->devices.v[i].id;
    return i - b->devices.n < b->hubs.n ? b->hubs.v[i - b->devices.n].id : NULL;
}

/* Whether another thing is plugged in where a lead is to go, though it was not found there. */
static bool strays_into(const struct restoring *w, const char *id, const struct change *c)
{
    const struct entry *was = map_find(&w->found->plugged, id);
    struct change home = plug_like(id, was ? was->value : NULL);
    return c->number && strcmp(id, c->a) != 0 && stands_as(usb_plug(w->b, id), c) &&
           (strcmp(home.b, c->b) != 0 || home.number != c->number);
}

/* The first such thing that may be pulled, or that must stay; NULL: none. */
static const char *lead_in_the_way(const struct restoring *w, const struct change *c, bool stays)
{
    const char *id;
    for (size_t i = 0; (id = lead_at(w->b, i)); i++) {
        struct change pull = change_of(CHANGE_PLUG, id, NULL);
        if (strays_into(w, id, c) && change_touches_in_use(w->b, &pull) == stays)
            return id;
    }
    return NULL;
}

/* Whether a lead is yet to go home. refused: why the booth does not take it; NULL: it does. */
static bool lead_goes_home(const struct restoring *w, const struct entry *was, const char *refused)
{
    struct change c = plug_like(was->key, was->value);
    const struct plug *now = usb_plug(w->b, was->key);
    return now && !refused && !stands_as(now, &c) && !change_touches_in_use(w->b, &c) &&
           !lead_in_the_way(w, &c, true);
}

/* Pulls what stands in the way of a lead that goes home, and does not go home itself. */
static void pull_leads(struct restoring *w, char *const *refused)
{
    const struct map *was = &w->found->plugged;
    for (size_t i = 0; i < was->n; i++) {
        struct change c = plug_like(was->v[i].key, was->v[i].value);
        const char *id;
        for (size_t k = 0; (id = lead_at(w->b, k)); k++) {
            struct change pull = change_of(CHANGE_PLUG, id, NULL);
            const struct entry *own = map_find(was, id);
            bool goes = own && lead_goes_home(w, own, refused[own - was->v]);
            if (!goes && strays_into(w, id, &c) && lead_goes_home(w, &was->v[i], refused[i]))
                restore_put_back(w, (struct about){"pull", pull.a, NULL}, pull);
        }
    }
}

static bool plug_lead(struct restoring *w, const struct entry *was, struct err *e)
{
    struct change c = plug_like(was->key, was->value);
    const char *after = lead_in_the_way(w, &c, false) ? "after the lead that stands there is out"
                                                      : NULL;
    return restore_put(w, (struct about){"lead", was->key, NULL}, c, after, e);
}

/* A hub may have to leave another one before that one can take its old place: what is refused is
 * tried again as long as something else could be put back. False when something stays refused,
 * which is then noted. */
static bool plug_leads(struct restoring *w, char **refused)
{
    const struct map *was = &w->found->plugged;
    struct err e = {.code = ERR_NONE};
    for (bool more = true; more;) {
        more = false;
        for (size_t i = 0; i < was->n; i++)
            if (lead_goes_home(w, &was->v[i], refused[i]) && plug_lead(w, &was->v[i], &e))
                more = true;
    }
    for (size_t i = 0; i < was->n; i++)
        if (lead_goes_home(w, &was->v[i], refused[i]) && !plug_lead(w, &was->v[i], &e)) {
            text_set(&refused[i], e.says);
            return false;
        }
    return true;
}

/* Says why a lead does not go home. A mixer's strips, and a thing that nobody uses, may change
 * otherwise. */
static void leave_lead(struct restoring *w, const struct entry *was, const char *refused)
{
    struct change c = plug_like(was->key, was->value);
    struct about about = {"lead", was->key, NULL};
    const struct device *d = booth_device(w->b, was->key);
    bool used = change_touches_in_use(w->b, &c);
    const char *holds = lead_in_the_way(w, &c, true);
    struct str text = {0};
    if (used && d && d->kind != KIND_MIXER) {
        restore_leave_used(w, about);
        return;
    }
    bool out = !used && !*usb_plug(w->b, was->key)->at;
    str_add(&text, out ? "leave out the data lead of " : "leave the data lead of ");
    say_thing(w->b, was->key, &text);
    str_add(&text, out ? ": " : " as it is: ");
    if (used) {
        restore_say_user(w->b, was->key, d ? NULL : "it", &text);
    } else if (holds) {
        say_thing(w->b, holds, &text);
        str_add(&text, " stands in its port and ");
        restore_say_user(w->b, holds, booth_hub(w->b, holds) ? "it" : "", &text);
    } else {
        str_add(&text, refused);
    }
    restore_leave(w, about, &text);
}

/* A lead whose hub is gone is refused from the start. */
static void refuse_gone(const struct restoring *w, const struct entry *was, char **refused)
{
    struct change c = plug_like(was->key, was->value);
    struct str why = {0};
    if (!c.number || strcmp(c.b, "host") == 0 || booth_hub(w->b, c.b))
        return;
    restore_say_name(w, c.b, &why);
    str_add(&why, " is gone from the booth");
    text_set(refused, str_text(&why));
    str_clear(&why);
}

/* Takes back what was told after the first n. */
static void tell_again(struct restore *r, size_t n)
{
    while (r->n > n)
        mem_free(r->v[--r->n].text);
}

void restore_leads(struct restoring *w)
{
    const struct map *was = &w->found->plugged;
    char **refused = mem_new(was->n, sizeof *refused);
    struct booth *before = booth_copy(w->b);
    size_t told = w->out->n;
    for (size_t i = 0; i < was->n; i++)
        refuse_gone(w, &was->v[i], &refused[i]);
    pull_leads(w, refused);
    while (!plug_leads(w, refused)) { /* begin again without it */
        tell_again(w->out, told);
        booth_free(w->b);
        w->b = booth_copy(before);
        pull_leads(w, refused);
    }
    for (size_t i = 0; i < was->n; i++) {
        struct change c = plug_like(was->v[i].key, was->v[i].value);
        const struct plug *now = usb_plug(w->b, was->v[i].key);
        if (!now)
            restore_leave_gone(w, (struct about){"lead", was->v[i].key, NULL});
        else if (!stands_as(now, &c))
            leave_lead(w, &was->v[i], refused[i]);
        text_set(&refused[i], NULL);
    }
    booth_free(before);
    mem_free(refused);
}
