/* The data leads of a plan: each card that joins must lead to the laptop, over hubs that do.
 *
 * What died is pulled first. Where the free ports are then too few, a lead that nothing needs any
 * more is pulled, or a hub that lies idle is plugged in; what is still missing is to be brought. A
 * hub's own lead costs no minutes, nor does pulling one: the model counts only leads of devices. */
#include <string.h>

#include "engine/plan_parts.h"
#include "engine/usb.h"
#include "model/shape.h"
#include "model/thing.h"

static bool is_dead_hub(const struct telling *t, const char *id)
{
    return t->a->dead.hub && strcmp(t->a->dead.hub, id) == 0;
}

/* Whether a lead may move: nobody uses what hangs on it. */
static bool is_free(const struct telling *t, const char *id)
{
    struct change c = change_of(CHANGE_PLUG, id, NULL);
    return !change_touches_in_use(t->p->after, &c);
}

static void pull(struct telling *t, const char *id)
{
    if (*usb_plug(t->p->after, id)->at)
        tell_act(t, "pull", 0, change_of(CHANGE_PLUG, id, NULL));
}

/* --- enough ports ----------------------------------------------------------------------------- */

static size_t free_ports_of(const struct booth *b, const char *at)
{
    size_t n = 0;
    for (int port = 1; port <= usb_ports(b, at); port++)
        n += usb_things_in(b, at, port) == 0;
    return n;
}

static size_t free_ports(const struct booth *b)
{
    size_t n = free_ports_of(b, "host");
    for (size_t i = 0; i < b->hubs.n; i++)
        if (usb_hubs_above(b, b->hubs.v[i].id) >= 0)
            n += free_ports_of(b, b->hubs.v[i].id);
    return n;
}

/* Notes the first lead on a device's way to the laptop that leads nowhere; none twice. */
static void note_loose(const struct telling *t, const char *id, struct texts *loose)
{
    const struct plug *p = usb_plug(t->p->after, id);
    for (; !is_loose(t->a, p) && booth_hub(t->p->after, p->at); p = usb_plug(t->p->after, id))
        id = p->at;
    if (is_loose(t->a, p) && texts_find(loose, id) < 0)
        texts_add(loose, id);
}

static size_t ports_needed(const struct telling *t)
{
    struct texts loose = {0};
    for (size_t i = 0; i < t->o->joined.n; i++)
        if (!is_dead(t->a, booth_device(t->a->b, t->o->joined.v[i])))
            note_loose(t, t->o->joined.v[i], &loose);
    size_t n = loose.n;
    texts_clear(&loose);
    return n;
}

static bool controls(const struct booth *b, const char *id)
{
    for (size_t i = 0; i < b->decks.n; i++)
        if (strcmp(b->decks.v[i].controlled_by, id) == 0)
            return true;
    return false;
}

/* Whether nothing needs the lead of a device any more: it died, or left the interface by this plan,
 * and controls nothing. */
static bool is_spare_lead(const struct telling *t, const struct device *d)
{
    const struct booth *b = t->p->after;
    bool left = booth_joined_at(t->a->b, d->id) >= 0 && !controls(b, d->id);
    bool dead = is_dead(t->a, booth_device(t->a->b, d->id));
    return d->plugged.port && usb_hubs_above(b, d->plugged.at) >= 0 && (left || dead) &&
           booth_joined_at(b, d->id) < 0 && is_free(t, d->id);
}

static bool pull_spare_lead(struct telling *t)
{
    const struct devices *all = &t->p->after->devices;
    for (size_t i = 0; i < all->n; i++) {
        if (!is_spare_lead(t, &all->v[i]))
            continue;
        pull(t, all->v[i].id);
        return true;
    }
    return false;
}

/* A port of a place that a thing can be plugged into and that leads to the laptop; feeds: it gives
 * the current as well. Port 0: there is none. */
static struct plug port_at(const struct booth *b, const char *id, const char *at, bool feeds)
{
    struct plug p = {.port = thing_free_port(b, at)};
    if (feeds ? !usb_could_hang(b, id, at) : usb_hubs_above(b, at) < 0 || usb_leads_over(b, at, id))
        p.port = 0;
    strcpy(p.at, p.port ? at : "");
    return p;
}

struct plug free_port(const struct booth *b, const char *id, bool feeds)
{
    struct plug p = port_at(b, id, "host", feeds);
    for (size_t i = 0; i < b->hubs.n && !p.port; i++)
        p = port_at(b, id, b->hubs.v[i].id, feeds);
    return p;
}

/* One that feeds before one that does not. */
static struct plug best_port(const struct booth *b, const char *id)
{
    struct plug p = free_port(b, id, true);
    return p.port ? p : free_port(b, id, false);
}

static void plug_into(struct telling *t, const char *id, int minutes, struct plug port)
{
    struct change c = change_of(CHANGE_PLUG, id, port.at);
    c.number = port.port;
    tell_act(t, "plug", minutes, c);
}

/* A hub that is not plugged in, of more than one port, has a place to go, and then is of use. */
static bool plug_idle_hub(struct telling *t)
{
    const struct booth *b = t->p->after;
    for (size_t i = 0; i < b->hubs.n; i++) {
        const struct hub *h = &b->hubs.v[i];
        struct plug port = best_port(b, h->id);
        if (is_dead_hub(t, h->id) || !is_loose(t->a, &h->plugged) || !is_free(t, h->id) ||
            free_ports_of(b, h->id) < 2 || !port.port)
            continue;
        plug_into(t, h->id, 0, port);
        return true;
    }
    return false;
}

void make_ports(struct telling *t)
{
    const struct texts *joined = &t->o->joined;
    if (t->a->dead.hub)
        pull(t, t->a->dead.hub);
    for (size_t i = 0; i < joined->n; i++)
        if (is_dead(t->a, booth_device(t->a->b, joined->v[i])) && is_free(t, joined->v[i]))
            pull(t, joined->v[i]);
    while (!t->stuck && ports_needed(t) > free_ports(t->p->after))
        if (!pull_spare_lead(t) && !plug_idle_hub(t))
            break;
}

/* --- leads ------------------------------------------------------------------------------------ */

/* A port of the laptop that is not there, for what hangs on a hub that has to be brought: one, with
 * a supply, is enough for all. */
static struct plug missing_port(struct telling *t)
{
    const struct booth *b = t->p->after;
    struct plug p = {.at = "host", .port = b->host.usb_ports + 1};
    if (!t->brings_hub)
        plan_pack(t->p, "hub with a supply of its own: no port is free");
    t->brings_hub = true;
    while (usb_things_in(b, "host", p.port))
        p.port++;
    return p;
}

/* Where a lead died another takes its port, unless something else did. */
static struct plug port_for(struct telling *t, const char *id)
{
    const struct booth *b = t->p->after;
    const struct device *d = t->a->dead.lead;
    struct plug port = best_port(b, id);
    if (d && strcmp(d->id, id) == 0 && usb_hubs_above(b, d->plugged.at) >= 0 &&
        usb_things_in(b, d->plugged.at, d->plugged.port) == 0)
        port = d->plugged;
    return port.port ? port : missing_port(t);
}

void plug_lead(struct telling *t, const char *id)
{
    const struct booth *b = t->p->after;
    const struct plug *now = usb_plug(b, id);
    bool device = booth_device(b, id) != NULL;
    if (!is_loose(t->a, now) && booth_hub(b, now->at))
        plug_lead(t, now->at);
    if (!is_loose(t->a, now) || !is_free(t, id))
        return;
    if (device && !*now->at)
        plan_pack(t->p, "usb data lead");
    plug_into(t, id, device ? t->a->prices.plug : 0, port_for(t, id));
}
