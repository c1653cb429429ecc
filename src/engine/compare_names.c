/* Who is who. First every thing of the old booth finds its match in the new one, if it has any;
 * from that follows what each is called; last, all names in a copy of the old booth are replaced
 * at once, so that two things may well exchange their ids. */
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/compare_parts.h"

static bool same_text(const char *a, const char *b)
{
    return strcmp(a ? a : "", b ? b : "") == 0;
}

struct matching {
    const struct booth *before, *now;
    const struct device *of[MAX_DEVICES]; /* by the old one's position: its match; NULL: none */
    struct names *names;
};

/* --- devices ---------------------------------------------------------------------------------- */

static bool is_taken(const struct matching *m, const struct device *d)
{
    for (size_t i = 0; i < m->before->devices.n; i++)
        if (m->of[i] == d)
            return true;
    return false;
}

static const struct device *alike(const struct matching *m, const struct device *old)
{
    for (size_t i = 0; i < m->now->devices.n; i++) {
        const struct device *d = &m->now->devices.v[i];
        if (d->kind == old->kind && d->place == old->place && same_text(d->model, old->model) &&
            !is_taken(m, d))
            return d;
    }
    return NULL;
}

static void match_devices(struct matching *m)
{
    const struct devices *old = &m->before->devices;
    for (size_t i = 0; i < old->n; i++) {
        const struct device *d = booth_device(m->now, old->v[i].id);
        m->of[i] = d && d->kind == old->v[i].kind ? d : NULL;
    }
    for (size_t i = 0; i < old->n; i++)
        if (!m->of[i])
            m->of[i] = alike(m, &old->v[i]);
}

/* --- names ------------------------------------------------------------------------------------ */

static bool has_thing(const struct booth *b, const char *id)
{
    return booth_device(b, id) || booth_hub(b, id) || booth_strip(b, id, NULL) || booth_deck(b, id);
}

/* Something old is called thus from here on. */
static void call(struct matching *m, const char *before, const char *now, bool matched)
{
    struct names *n = m->names;
    if (strcmp(before, now) == 0)
        return;
    n->v = mem_grow(n->v, &n->cap, n->n + 1, sizeof *n->v);
    struct name *name = &n->v[n->n++];
    name->matched = matched;
    strcpy(name->renamed.before, before);
    strcpy(name->renamed.now, now);
}

static bool is_free(const struct matching *m, const char *id)
{
    for (size_t i = 0; i < m->names->n; i++)
        if (strcmp(m->names->v[i].renamed.now, id) == 0)
            return false;
    return !has_thing(m->before, id) && !has_thing(m->now, id);
}

/* Something old without a match keeps its id, unless that is something else's now. */
static void leave_over(struct matching *m, const char *id)
{
    char other[ID_SIZE];
    unsigned number = 0;
    if (!has_thing(m->now, id))
        return;
    do
        snprintf(other, sizeof other, "gone-%u", ++number);
    while (!is_free(m, other));
    call(m, id, other, false);
}

static int strip_by_id(const struct strips *strips, const char *id)
{
    for (size_t i = 0; i < strips->n; i++)
        if (strcmp(strips->v[i].id, id) == 0)
            return (int)i;
    return -1;
}

/* Strips are the same by id, then by place where neither id is in the other mixer; -1: none. */
static int strip_like(const struct strips *old, const struct strip *s, const struct strips *now,
                      const bool *taken)
{
    int same = strip_by_id(now, s->id);
    for (size_t i = 0; same < 0 && i < now->n; i++)
        if (now->v[i].place == s->place && !taken[i] && strip_by_id(old, now->v[i].id) < 0)
            same = (int)i;
    return same;
}

static void name_strips(struct matching *m, const struct device *old, const struct device *d)
{
    bool taken[MAX_STRIPS] = {false};
    for (size_t i = 0; i < old->strips.n; i++) {
        const struct strip *s = &old->strips.v[i];
        int k = d ? strip_like(&old->strips, s, &d->strips, taken) : -1;
        if (k >= 0) {
            taken[k] = true;
            call(m, s->id, d->strips.v[k].id, true);
        } else {
            leave_over(m, s->id);
        }
    }
}

static void name_all(struct matching *m)
{
    const struct booth *old = m->before;
    for (size_t i = 0; i < old->devices.n; i++) {
        if (m->of[i])
            call(m, old->devices.v[i].id, m->of[i]->id, true);
        else
            leave_over(m, old->devices.v[i].id);
        name_strips(m, &old->devices.v[i], m->of[i]);
    }
    for (size_t i = 0; i < old->hubs.n; i++)
        if (!booth_hub(m->now, old->hubs.v[i].id))
            leave_over(m, old->hubs.v[i].id);
    for (size_t i = 0; i < old->decks.n; i++)
        if (!booth_deck(m->now, old->decks.v[i].id))
            leave_over(m, old->decks.v[i].id);
}

/* --- renaming --------------------------------------------------------------------------------- */

static size_t owner_length(const char *name)
{
    return strcspn(name, ".");
}

static bool owns(const char *id, const char *name)
{
    size_t n = owner_length(name);
    return strlen(id) == n && strncmp(id, name, n) == 0;
}

static void put_owner(const char *owner, const char *name, char out[REF_SIZE])
{
    char jack[REF_SIZE];
    snprintf(jack, sizeof jack, "%s", name + owner_length(name));
    snprintf(out, REF_SIZE, "%.32s%.33s", owner, jack);
}

void compare_old_name(const struct names *names, const char *name, char old[REF_SIZE])
{
    for (size_t i = 0; i < names->n; i++)
        if (owns(names->v[i].renamed.now, name)) {
            put_owner(names->v[i].renamed.before, name, old);
            return;
        }
    snprintf(old, REF_SIZE, "%s", name);
}

static void rename_in(const struct names *names, char *name, size_t size)
{
    char fresh[REF_SIZE];
    for (size_t i = 0; i < names->n; i++)
        if (owns(names->v[i].renamed.before, name)) {
            put_owner(names->v[i].renamed.now, name, fresh);
            snprintf(name, size, "%s", fresh);
            return;
        }
}

static void rename_joined(const struct names *names, struct texts *joined)
{
    for (size_t i = 0; i < joined->n; i++) {
        char id[ID_SIZE];
        snprintf(id, sizeof id, "%s", joined->v[i]);
        rename_in(names, id, sizeof id);
        texts_remove(joined, i);
        texts_insert(joined, i, id);
    }
}

/* Only what has a port is a hub's name, or the host's. */
static void rename_plug(const struct names *names, struct plug *p)
{
    if (p->port)
        rename_in(names, p->at, sizeof p->at);
}

static void rename_device(const struct names *names, struct device *d)
{
    rename_in(names, d->id, sizeof d->id);
    rename_plug(names, &d->plugged);
    for (size_t k = 0; k < d->strips.n; k++)
        rename_in(names, d->strips.v[k].id, sizeof d->strips.v[k].id);
}

static void rename_hub(const struct names *names, struct hub *h)
{
    char id[ID_SIZE];
    strcpy(id, h->id);
    rename_in(names, h->id, sizeof h->id);
    rename_plug(names, &h->plugged);
    if (!h->label && strcmp(id, h->id) != 0)
        text_set(&h->label, id); /* that is what it is called */
}

static void rename_all(const struct names *names, struct booth *b)
{
    for (size_t i = 0; i < b->devices.n; i++)
        rename_device(names, &b->devices.v[i]);
    for (size_t i = 0; i < b->hubs.n; i++)
        rename_hub(names, &b->hubs.v[i]);
    for (size_t i = 0; i < b->cables.n; i++) {
        rename_in(names, b->cables.v[i].from, REF_SIZE);
        rename_in(names, b->cables.v[i].to, REF_SIZE);
    }
    for (size_t i = 0; i < b->decks.n; i++) {
        struct deck *d = &b->decks.v[i];
        rename_in(names, d->id, sizeof d->id);
        rename_in(names, d->wants, REF_SIZE);
        rename_in(names, d->controlled_by, REF_SIZE);
    }
    rename_joined(names, &b->joined);
}

struct booth *compare_renamed(const struct booth *before, const struct booth *now,
                              struct names *names)
{
    struct booth *b = booth_copy(before);
    struct matching m = {.before = before, .now = now, .names = names};
    match_devices(&m);
    name_all(&m);
    rename_all(names, b);
    return b;
}
