/* The survey against the booth: each difference is one thing that hands put back.
 *
 * The actions are made in turn on a copy, so that each is told of the booth as the ones before it
 * leave it. Plugs and leads that go nowhere else come out first; one that goes home may push out
 * another, which then goes home itself. What is in use stays, and with it whatever it stands in the
 * way of: each such thing is said once. */
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

/* What a step is about, whatever is done to it: "-p1" of "restore-lead-p1". */
static const char *subject(const struct putting_back *p)
{
    return strchr(p->id + strlen("restore-"), '-');
}

/* Whether it was told already: a survey may name a thing twice, and two marks of a thing may be
 * left for the same reason. */
static bool is_told(const struct restore *r, const struct putting_back *p)
{
    for (size_t i = 0; i < r->n; i++) {
        const struct putting_back *q = &r->v[i];
        bool left = p->change.what == CHANGE_NONE && q->change.what == CHANGE_NONE;
        if (strcmp(q->id, p->id) == 0 ||
            (left && strcmp(q->text, p->text) == 0 && strcmp(subject(q), subject(p)) == 0))
            return true;
    }
    return false;
}

/* Adds an action, once; text is taken. */
static void add_action(struct work *w, struct about about, struct change c, char *text)
{
    struct restore *r = w->out;
    struct putting_back p = {.change = c, .text = text};
    snprintf(p.id, sizeof p.id, "restore-%s-%s%s%s", about.kind, about.on, about.to ? "-" : "",
             about.to ? about.to : "");
    if (is_told(r, &p)) {
        mem_free(text);
        return;
    }
    r->v = mem_grow(r->v, &r->cap, r->n + 1, sizeof *r->v);
    r->v[r->n++] = p;
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

static const char GONE[] = "it is gone from the booth";

/* Says who uses a thing, or what owns a jack, if somebody does. as: what to call it, "" for
 * nothing; NULL: by its name. */
static bool say_user(const struct booth *b, const char *name, const char *as, struct str *out)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    const char *id = ref_split(name, owner, jack) ? owner : name;
    const struct device *d = booth_device(b, id), *on = booth_used_on(b, id);
    const struct strip *s = booth_strip(b, id, NULL);
    const char *user = s ? s->in_use : d ? d->in_use : on ? on->in_use : NULL;
    if (!user)
        return false;
    if (on)
        str_addf(out, "%s on ", on->label);
    if (as)
        str_add(out, as);
    else
        say_thing(b, id, out);
    str_addf(out, "%sis in use by %s; ask first", as && !*as ? "" : " ", user);
    return true;
}

/* Leaves a thing or a jack that somebody uses. */
static void leave_used(struct work *w, struct about about)
{
    struct str why = {0};
    say_user(w->b, about.on, strchr(about.on, '.') ? NULL : "it", &why);
    leave_alone(w, about, str_text(&why));
    str_clear(&why);
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
        leave_used(w, about);
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

/* Leaves a cable as it is, though it was not found so. */
static void leave_cable(struct work *w, const char *kind, const struct cable *c)
{
    struct str text = {0};
    bool there = booth_cable(w->b, c->from, c->to) != NULL;
    str_add(&text, there ? "leave " : "leave out ");
    say_cable(w->b, c, &text);
    str_add(&text, there ? " as it is: " : ": ");
    if (!say_user(w->b, c->from, NULL, &text) && !say_user(w->b, c->to, NULL, &text)) {
        say_jack(w->b, booth_output(w->b, c->from, NULL) ? c->to : c->from, &text);
        str_add(&text, " is gone from the booth");
    }
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
            leave_alone(w, (struct about){"switch", was->key, NULL}, GONE);
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
            leave_alone(w, (struct about){"selector", was->key, NULL}, GONE);
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
            leave_alone(w, (struct about){"source", was->key, NULL}, GONE);
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

/* The i-th of the devices and hubs; NULL past the last. */
static const char *lead_at(const struct booth *b, size_t i)
{
    if (i < b->devices.n)
        return b->devices.v[i].id;
    return i - b->devices.n < b->hubs.n ? b->hubs.v[i - b->devices.n].id : NULL;
}

/* Whether another thing is plugged in where a lead is to go, though it was not found there. */
static bool strays_into(const struct work *w, const char *id, const struct change *c)
{
    const struct entry *was = map_find(&w->found->plugged, id);
    struct change home = plug_like(id, was ? was->value : NULL);
    return c->number && strcmp(id, c->a) != 0 && stands_as(plug_of(w->b, id), c) &&
           (strcmp(home.b, c->b) != 0 || home.number != c->number);
}

/* The first such thing that may be pulled, or that must stay; NULL: none. */
static const char *lead_in_the_way(const struct work *w, const struct change *c, bool stays)
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
static bool lead_goes_home(const struct work *w, const struct entry *was, const char *refused)
{
    struct change c = plug_like(was->key, was->value);
    const struct plug *now = plug_of(w->b, was->key);
    return now && !refused && !stands_as(now, &c) && !change_touches_in_use(w->b, &c) &&
           !lead_in_the_way(w, &c, true);
}

/* Pulls what stands in the way of a lead that goes home, and does not go home itself. */
static void pull_leads(struct work *w, char *const *refused)
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
                put_back(w, (struct about){"pull", pull.a, NULL}, pull);
        }
    }
}

static bool plug_lead(struct work *w, const struct entry *was, struct err *e)
{
    struct change c = plug_like(was->key, was->value);
    const char *after = lead_in_the_way(w, &c, false) ? "after the lead that stands there is out"
                                                      : NULL;
    return put(w, (struct about){"lead", was->key, NULL}, c, after, e);
}

/* A hub may have to leave another one before that one can take its old place: what is refused is
 * tried again as long as something else could be put back. False when something stays refused,
 * which is then noted. */
static bool plug_leads(struct work *w, char **refused)
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
static void leave_lead(struct work *w, const struct entry *was, const char *refused)
{
    struct change c = plug_like(was->key, was->value);
    struct about about = {"lead", was->key, NULL};
    const struct device *d = booth_device(w->b, was->key);
    bool used = change_touches_in_use(w->b, &c);
    const char *holds = lead_in_the_way(w, &c, true);
    struct str text = {0};
    if (used && d && d->kind != KIND_MIXER) {
        leave_used(w, about);
        return;
    }
    bool out = !used && !*plug_of(w->b, was->key)->at;
    str_add(&text, out ? "leave out the data lead of " : "leave the data lead of ");
    say_thing(w->b, was->key, &text);
    str_add(&text, out ? ": " : " as it is: ");
    if (used) {
        say_user(w->b, was->key, d ? NULL : "it", &text);
    } else if (holds) {
        say_thing(w->b, holds, &text);
        str_add(&text, " stands in its port and ");
        say_user(w->b, holds, booth_hub(w->b, holds) ? "it" : "", &text);
    } else {
        str_add(&text, refused);
    }
    leave(w, about, &text);
}

/* A lead whose hub is gone is refused from the start. */
static void refuse_gone(const struct work *w, const struct entry *was, char **refused)
{
    struct change c = plug_like(was->key, was->value);
    struct str why = {0};
    if (!c.number || strcmp(c.b, "host") == 0 || booth_hub(w->b, c.b))
        return;
    str_addf(&why, "%s is gone from the booth", c.b);
    text_set(refused, str_text(&why));
    str_clear(&why);
}

/* Takes back what was told after the first n. */
static void tell_again(struct restore *r, size_t n)
{
    while (r->n > n)
        mem_free(r->v[--r->n].text);
}

static void put_leads_back(struct work *w)
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
        const struct plug *now = plug_of(w->b, was->v[i].key);
        if (!now)
            leave_alone(w, (struct about){"lead", was->v[i].key, NULL}, GONE);
        else if (!stands_as(now, &c))
            leave_lead(w, &was->v[i], refused[i]);
        text_set(&refused[i], NULL);
    }
    booth_free(before);
    mem_free(refused);
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
