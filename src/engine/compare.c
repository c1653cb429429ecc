/* The two booths are first given the same names: a copy of the old one, in which whatever is
 * matched is called as it is now. After that, comparing is looking things up by name. */
#include "engine/compare.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "engine/route.h"
#include "model/say.h"
#include "model/shape.h"

static const char *const words[] = {
    [DIFFERENCE_GONE] = "gone",       [DIFFERENCE_NEW] = "new",
    [DIFFERENCE_MODEL] = "model",     [DIFFERENCE_FIRMWARE] = "firmware",
    [DIFFERENCE_MOVED] = "moved",     [DIFFERENCE_LABEL] = "label",
    [DIFFERENCE_UNWIRED] = "unwired", [DIFFERENCE_WIRED] = "wired",
    [DIFFERENCE_SIDES] = "sides",     [DIFFERENCE_SELECTOR] = "selector",
    [DIFFERENCE_SWITCH] = "switch",   [DIFFERENCE_SOURCE] = "source",
    [DIFFERENCE_LEAD] = "lead",       [DIFFERENCE_IN_USE] = "in-use",
    [DIFFERENCE_JOINED] = "joined",
};

const char *difference_word(enum difference_kind kind)
{
    return words[kind];
}

/* --- the same names --------------------------------------------------------------------------- */

static bool same_text(const char *a, const char *b)
{
    return strcmp(a ? a : "", b ? b : "") == 0;
}

/* The owner of a jack name, or the whole of another name, becomes another. */
static void rename_in(char *name, size_t size, const char *from, const char *to)
{
    size_t n = strlen(from);
    if (strncmp(name, from, n) != 0 || (name[n] != '\0' && name[n] != '.'))
        return;
    char rest[REF_SIZE];
    snprintf(rest, sizeof rest, "%s", name + n);
    snprintf(name, size, "%.32s%.33s", to, rest);
}

static void rename_everywhere(struct booth *b, const char *from, const char *to)
{
    for (size_t i = 0; i < b->cables.n; i++) {
        rename_in(b->cables.v[i].from, REF_SIZE, from, to);
        rename_in(b->cables.v[i].to, REF_SIZE, from, to);
    }
    for (size_t i = 0; i < b->decks.n; i++) {
        rename_in(b->decks.v[i].wants, REF_SIZE, from, to);
        rename_in(b->decks.v[i].controlled_by, REF_SIZE, from, to);
    }
    int joined = texts_find(&b->joined, from);
    if (joined < 0)
        return;
    texts_remove(&b->joined, (size_t)joined);
    texts_insert(&b->joined, (size_t)joined, to);
}

/* A device of now that the old one with no namesake is taken for: kind, place and model are the
 * same, and it has no namesake among the old ones. */
static const struct device *taken_for(const struct booth *before, const struct device *old,
                                      const struct booth *now)
{
    for (size_t i = 0; i < now->devices.n; i++) {
        const struct device *d = &now->devices.v[i];
        if (!booth_device(before, d->id) && d->kind == old->kind && d->place == old->place &&
            same_text(d->model, old->model))
            return d;
    }
    return NULL;
}

/* Strips with no namesake on either side are the same where their places are. */
static void match_strips(struct booth *before, struct device *old, const struct booth *now,
                         const struct device *d)
{
    for (size_t i = 0; i < old->strips.n; i++)
        for (size_t k = 0; k < d->strips.n; k++) {
            struct strip *s = &old->strips.v[i];
            const struct strip *t = &d->strips.v[k];
            if (s->place != t->place || booth_strip(before, t->id, NULL) ||
                booth_strip(now, s->id, NULL))
                continue;
            rename_everywhere(before, s->id, t->id);
            strcpy(s->id, t->id);
        }
}

/* A copy of before in which what is matched has now's ids. */
static struct booth *with_names_of(const struct booth *before, const struct booth *now)
{
    struct booth *b = booth_copy(before);
    for (size_t i = 0; i < b->devices.n; i++) {
        struct device *old = &b->devices.v[i];
        const struct device *d = booth_device(now, old->id);
        if (!d && (d = taken_for(b, old, now))) {
            rename_everywhere(b, old->id, d->id);
            strcpy(old->id, d->id);
        }
        if (d)
            match_strips(b, old, now, d);
    }
    return b;
}

/* --- differences ------------------------------------------------------------------------------ */

struct work {
    const struct booth *before, *now; /* with the same names */
    struct comparison *out;
};

/* Adds a difference; text is taken. */
static void tell(struct work *w, enum difference_kind kind, const char *subject, const char *other,
                 struct str *text)
{
    struct comparison *c = w->out;
    c->v = mem_grow(c->v, &c->cap, c->n + 1, sizeof *c->v);
    struct difference *d = &c->v[c->n++];
    *d = (struct difference){.kind = kind, .text = str_take(text)};
    snprintf(d->subject, sizeof d->subject, "%s", subject);
    snprintf(d->other, sizeof d->other, "%s", other ? other : "");
}

/* Tells "P1: firmware 1.9, was 2.0". */
static void tell_value(struct work *w, enum difference_kind kind, const char *subject,
                       const char *what, const char *const values[2])
{
    struct str text = {0};
    say_name(w->now, subject, &text);
    str_addf(&text, ": %s%s%s, was %s", what, *what ? " " : "",
             values[1] && *values[1] ? values[1] : "not told",
             values[0] && *values[0] ? values[0] : "not told");
    tell(w, kind, subject, NULL, &text);
}

static void compare_text(struct work *w, enum difference_kind kind, const char *subject,
                         const char *what, const char *const values[2])
{
    if (!same_text(values[0], values[1]))
        tell_value(w, kind, subject, what, values);
}

static void compare_place(struct work *w, const char *subject, int before, int now)
{
    char a[16], b[16];
    snprintf(a, sizeof a, "%d", before);
    snprintf(b, sizeof b, "%d", now);
    compare_text(w, DIFFERENCE_MOVED, subject, "stands in place", (const char *const[]){a, b});
}

static void compare_use(struct work *w, const char *subject, const char *before, const char *now)
{
    compare_text(w, DIFFERENCE_IN_USE, subject, "in use by",
                 (const char *const[]){before ? before : "nobody", now ? now : "nobody"});
}

static void compare_switches(struct work *w, const char *owner, const struct inputs *before,
                             const struct inputs *now)
{
    for (size_t i = 0; i < now->n; i++)
        for (size_t k = 0; k < before->n; k++) {
            const struct input *a = &before->v[k], *b = &now->v[i];
            char name[REF_SIZE];
            if (strcmp(a->id, b->id) != 0 || a->level == b->level)
                continue;
            snprintf(name, sizeof name, "%.32s.%.32s", owner, b->id);
            tell_value(w, DIFFERENCE_SWITCH, name, "stands on",
                       (const char *const[]){word_people(&words_level, (int)a->level),
                                             word_people(&words_level, (int)b->level)});
        }
}

static void compare_strip(struct work *w, const struct strip *a, const struct strip *b)
{
    compare_text(w, DIFFERENCE_LABEL, b->id, "is labelled",
                 (const char *const[]){a->label, b->label});
    compare_place(w, b->id, a->place, b->place);
    compare_text(w, DIFFERENCE_SELECTOR, b->id, "is switched to",
                 (const char *const[]){a->selected, b->selected});
    compare_switches(w, b->id, &a->inputs, &b->inputs);
    compare_use(w, b->id, a->in_use, b->in_use);
}

static void thing_came_or_went(struct work *w, enum difference_kind kind, const char *id)
{
    struct str text = {0};
    say_thing(kind == DIFFERENCE_GONE ? w->before : w->now, id, &text);
    str_add(&text, kind == DIFFERENCE_GONE ? " is gone" : " is new");
    tell(w, kind, id, NULL, &text);
}

static void compare_strips(struct work *w, const struct device *a, const struct device *b)
{
    for (size_t i = 0; i < a->strips.n; i++)
        if (!booth_strip(w->now, a->strips.v[i].id, NULL))
            thing_came_or_went(w, DIFFERENCE_GONE, a->strips.v[i].id);
    for (size_t i = 0; i < b->strips.n; i++) {
        const struct strip *s = booth_strip(w->before, b->strips.v[i].id, NULL);
        if (s)
            compare_strip(w, s, &b->strips.v[i]);
        else
            thing_came_or_went(w, DIFFERENCE_NEW, b->strips.v[i].id);
    }
}

static void compare_leads(struct work *w, const char *id, const struct plug *a,
                          const struct plug *b)
{
    struct str was = {0}, is = {0};
    say_plug(w->before, a, &was);
    say_plug(w->now, b, &is);
    compare_text(w, DIFFERENCE_LEAD, id, "data lead in",
                 (const char *const[]){str_text(&was), str_text(&is)});
    str_clear(&was);
    str_clear(&is);
}

static void compare_cards(struct work *w, const struct device *a, const struct device *b)
{
    char was[32] = "none", is[32] = "none";
    if (a->card)
        snprintf(was, sizeof was, "%d channels", a->card->out_channels);
    if (b->card)
        snprintf(is, sizeof is, "%d channels", b->card->out_channels);
    compare_text(w, DIFFERENCE_MODEL, b->id, "sound card of", (const char *const[]){was, is});
}

static void compare_device(struct work *w, const struct device *a, const struct device *b)
{
    compare_text(w, DIFFERENCE_MODEL, b->id, "model", (const char *const[]){a->model, b->model});
    compare_text(w, DIFFERENCE_MODEL, b->id, "family", (const char *const[]){a->family, b->family});
    compare_cards(w, a, b);
    compare_text(w, DIFFERENCE_FIRMWARE, b->id, "firmware",
                 (const char *const[]){a->firmware, b->firmware});
    compare_text(w, DIFFERENCE_LABEL, b->id, "is labelled",
                 (const char *const[]){a->label, b->label});
    compare_place(w, b->id, a->place, b->place);
    compare_leads(w, b->id, &a->plugged, &b->plugged);
    if (b->kind == KIND_PLAYER)
        compare_text(w, DIFFERENCE_SOURCE, b->id, "source",
                     (const char *const[]){word_people(&words_source, (int)a->source),
                                           word_people(&words_source, (int)b->source)});
    compare_use(w, b->id, a->in_use, b->in_use);
    compare_switches(w, b->id, &a->inputs, &b->inputs);
    compare_strips(w, a, b);
}

static void compare_things(struct work *w)
{
    for (size_t i = 0; i < w->before->devices.n; i++)
        if (!booth_device(w->now, w->before->devices.v[i].id))
            thing_came_or_went(w, DIFFERENCE_GONE, w->before->devices.v[i].id);
    for (size_t i = 0; i < w->before->hubs.n; i++)
        if (!booth_hub(w->now, w->before->hubs.v[i].id))
            thing_came_or_went(w, DIFFERENCE_GONE, w->before->hubs.v[i].id);
    for (size_t i = 0; i < w->now->devices.n; i++) {
        const struct device *d = &w->now->devices.v[i], *old = booth_device(w->before, d->id);
        if (old)
            compare_device(w, old, d);
        else
            thing_came_or_went(w, DIFFERENCE_NEW, d->id);
    }
    for (size_t i = 0; i < w->now->hubs.n; i++) {
        const struct hub *h = &w->now->hubs.v[i], *old = booth_hub(w->before, h->id);
        if (old)
            compare_leads(w, h->id, &old->plugged, &h->plugged);
        else
            thing_came_or_went(w, DIFFERENCE_NEW, h->id);
    }
}

static void tell_cable(struct work *w, enum difference_kind kind, const struct cable *c,
                       const char *what)
{
    const struct booth *b = kind == DIFFERENCE_UNWIRED ? w->before : w->now;
    struct str text = {0};
    str_add(&text, "the cable from ");
    say_jack(b, c->from, &text);
    str_add(&text, " to ");
    say_jack(b, c->to, &text);
    str_addf(&text, " %s", what);
    tell(w, kind, c->from, c->to, &text);
}

static void compare_cables(struct work *w)
{
    for (size_t i = 0; i < w->before->cables.n; i++) {
        const struct cable *c = &w->before->cables.v[i];
        if (!booth_cable(w->now, c->from, c->to))
            tell_cable(w, DIFFERENCE_UNWIRED, c, "is gone");
    }
    for (size_t i = 0; i < w->now->cables.n; i++) {
        const struct cable *c = &w->now->cables.v[i];
        const struct cable *old = booth_cable(w->before, c->from, c->to);
        if (!old)
            tell_cable(w, DIFFERENCE_WIRED, c, "is new");
        else if (old->sides != c->sides)
            tell_cable(w, DIFFERENCE_SIDES, c, "has other sides");
    }
}

static void name_joined(const struct booth *b, struct str *out)
{
    for (size_t i = 0; i < b->joined.n; i++)
        str_addf(out, "%s%s", i ? ", " : "", booth_label(b, b->joined.v[i]));
    if (b->joined.n == 0)
        str_add(out, "nothing");
}

static void compare_joined(struct work *w)
{
    if (field_equal(shape_field(&shape_booth, "joined"), &w->before->joined, &w->now->joined))
        return;
    struct str text = {0};
    str_add(&text, "in the interface: ");
    name_joined(w->now, &text);
    str_add(&text, "; was: ");
    name_joined(w->before, &text);
    tell(w, DIFFERENCE_JOINED, "host", NULL, &text);
}

/* --- routes ----------------------------------------------------------------------------------- */

static int deck_by_id(const struct booth *b, const char *id)
{
    for (size_t i = 0; i < b->decks.n; i++)
        if (strcmp(b->decks.v[i].id, id) == 0)
            return (int)i;
    return -1;
}

static struct pair route_pair(const struct circuit *c, int deck)
{
    struct route r = deck < 0 ? (struct route){.there = false} : route_of(c, deck);
    return r.there ? r.pair : (struct pair){-1, -1};
}

static bool same_pair(struct pair a, struct pair b)
{
    return a.left == b.left && (a.left < 0 || a.right == b.right);
}

static void compare_routes(struct work *w)
{
    struct circuit *before = circuit_new(w->before), *now = circuit_new(w->now);
    struct comparison *c = w->out;
    for (int i = 0; i < (int)w->now->decks.n; i++) {
        int old = deck_by_id(w->before, w->now->decks.v[i].id);
        struct pair was = route_pair(before, old), is = route_pair(now, i);
        struct pair set = old < 0 ? (struct pair){-1, -1} : route_effective(before, old);
        if (same_pair(was, is))
            continue;
        c->routes = mem_grow(c->routes, &c->routes_cap, c->n_routes + 1, sizeof *c->routes);
        c->routes[c->n_routes++] = (struct rerouted){i, was, is,
                                                     is.left >= 0 && !same_pair(set, is)};
    }
    circuit_free(before);
    circuit_free(now);
}

/* A combination of before that would fit what is joined now. */
static const struct combination *fitting(const struct booth *before, const struct booth *now)
{
    const struct combination *own = booth_combination(now);
    for (size_t i = 0; !own && i < before->host.combinations.n; i++)
        if (combination_fits(&before->host.combinations.v[i], now))
            return &before->host.combinations.v[i];
    return own;
}

struct comparison compare_make(const struct booth *before, const struct booth *now)
{
    struct comparison c = {0};
    struct booth *old = with_names_of(before, now);
    struct work w = {.before = old, .now = now, .out = &c};
    compare_things(&w);
    compare_cables(&w);
    compare_joined(&w);
    compare_routes(&w);
    c.fits = fitting(before, now);
    booth_free(old);
    return c;
}

void comparison_clear(struct comparison *c)
{
    for (size_t i = 0; i < c->n; i++)
        mem_free(c->v[i].text);
    mem_free(c->v);
    mem_free(c->routes);
    *c = (struct comparison){0};
}

/* --- made good -------------------------------------------------------------------------------- */

static void take_over(struct booth *to, const struct booth *from, const char *key)
{
    const struct field *f = shape_field(&shape_booth, key);
    field_clear(f, field_in(f, to));
    field_copy(f, field_in(f, to), field_of(f, from));
}

struct booth *compare_applied(const struct booth *before, const struct booth *now)
{
    struct booth *b = with_names_of(before, now);
    take_over(b, now, "devices");
    take_over(b, now, "hubs");
    take_over(b, now, "cables");
    take_over(b, now, "joined");
    for (size_t i = 0; i < b->decks.n; i++) { /* what they named may be gone */
        struct deck *d = &b->decks.v[i];
        if (!booth_strip(b, d->wants, NULL))
            d->wants[0] = '\0';
        if (!booth_device(b, d->controlled_by))
            d->controlled_by[0] = '\0';
    }
    return b;
}
