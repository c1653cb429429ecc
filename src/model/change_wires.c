/* Making the changes of wires and switches: selectors, cables, sources, the interface, data leads.
 *
 * Each maker writes into the booth that it is given, a scratch copy of change.c's, and may leave
 * it half changed when it refuses. */
#include <stdio.h>
#include <string.h>

#include "model/change_make.h"
#include "model/shape.h"

static struct cable *cable_in(struct booth *b, const char *from, const char *to, struct err *e)
{
    const struct cable *c = booth_cable(b, from, to);
    if (c)
        return &b->cables.v[c - b->cables.v];
    err_set(e, ERR_USAGE, "", "there is no cable from \"%s\" to \"%s\"", from, to);
    return NULL;
}

/* --- the mixer and its cables ----------------------------------------------------------------- */

bool change_make_select(struct booth *b, const struct change *c, struct err *e)
{
    struct strip *s = change_strip(b, c->a, e);
    if (!s)
        return false;
    if (!strip_input(s, c->b))
        return err_set(e, ERR_USAGE, "", "strip %s has no input \"%s\"", s->label, c->b);
    change_name(s->selected, c->b);
    return true;
}

bool change_make_switch(struct booth *b, const struct change *c, struct err *e)
{
    struct input *in = change_input(b, c->a, e);
    if (!in)
        return false;
    for (size_t i = 0; i < in->levels.n; i++) {
        if (in->levels.v[i] != c->number)
            continue;
        in->level = (enum level)c->number;
        return true;
    }
    return err_set(e, ERR_USAGE, "", "\"%s\" has no switch that stands like that", c->a);
}

static bool can_cable(struct booth *b, const char *from, const char *to, struct err *e)
{
    if (!booth_output(b, from, NULL))
        return change_absent(e, "output", from);
    const struct input *in = change_input(b, to, e);
    if (!in)
        return false;
    if (in->level == LEVEL_USB)
        return err_set(e, ERR_USAGE, "", "\"%s\" is a usb input: no cable ends there", to);
    if (booth_cable(b, from, to))
        return err_set(e, ERR_USAGE, "", "there is a cable from \"%s\" to \"%s\" already", from,
                       to);
    return true;
}

bool change_make_cable(struct booth *b, const struct change *c, struct err *e)
{
    if (c->number < 0 || (size_t)c->number >= words_sides.n)
        return err_set(e, ERR_USAGE, "", "a cable's sides cannot be like that");
    const struct cable *there = booth_cable(b, c->a, c->b);
    if (there) {
        b->cables.v[there - b->cables.v].sides = (enum sides)c->number;
        return true;
    }
    if (!can_cable(b, c->a, c->b, e))
        return false;
    if (b->cables.n >= MAX_CABLES)
        return err_set(e, ERR_USAGE, "", "a booth has at most %d cables", MAX_CABLES);
    struct cable *cable = records_add(shape_field(&shape_booth, "cables"), &b->cables);
    change_name(cable->from, c->a);
    change_name(cable->to, c->b);
    cable->sides = (enum sides)c->number;
    return true;
}

bool change_make_cable_move(struct booth *b, const struct change *c, struct err *e)
{
    struct cable *cable = cable_in(b, c->a, c->b, e);
    if (!cable || (strcmp(c->b, c->c) != 0 && !can_cable(b, c->a, c->c, e)))
        return false;
    change_name(cable->to, c->c);
    return true;
}

bool change_make_cable_from(struct booth *b, const struct change *c, struct err *e)
{
    struct cable *cable = cable_in(b, c->a, c->b, e);
    if (!cable || (strcmp(c->a, c->c) != 0 && !can_cable(b, c->c, c->b, e)))
        return false;
    change_name(cable->from, c->c);
    return true;
}

bool change_make_uncable(struct booth *b, const struct change *c, struct err *e)
{
    const struct cable *cable = cable_in(b, c->a, c->b, e);
    if (!cable)
        return false;
    records_splice(shape_field(&shape_booth, "cables"), &b->cables, (size_t)(cable - b->cables.v),
                   1, NULL, 0);
    return true;
}

/* --- devices ---------------------------------------------------------------------------------- */

bool change_make_source(struct booth *b, const struct change *c, struct err *e)
{
    struct device *d = change_device(b, c->a, e);
    if (!d)
        return false;
    if (d->kind != KIND_PLAYER)
        return err_set(e, ERR_USAGE, "", "%s has no source to switch: it is no player", d->label);
    if (c->number != SOURCE_OWN_MEDIA && c->number != SOURCE_COMPUTER)
        return err_set(e, ERR_USAGE, "", "%s has no such source", d->label);
    d->source = (enum source)c->number;
    return true;
}

bool change_make_join(struct booth *b, const struct change *c, struct err *e)
{
    const struct device *d = change_device(b, c->a, e);
    if (!d)
        return false;
    if (!d->card)
        return err_set(e, ERR_USAGE, "", "%s has no sound card to join", d->label);
    int at = booth_joined_at(b, c->a);
    if (at >= 0)
        texts_remove(&b->joined, (size_t)at);
    bool last = c->number < 0 || (size_t)c->number > b->joined.n;
    texts_insert(&b->joined, last ? b->joined.n : (size_t)c->number, c->a);
    return true;
}

bool change_make_leave(struct booth *b, const struct change *c, struct err *e)
{
    const struct device *d = change_device(b, c->a, e);
    if (!d)
        return false;
    int at = booth_joined_at(b, c->a);
    if (at < 0)
        return err_set(e, ERR_USAGE, "", "%s is not in the interface", d->label);
    texts_remove(&b->joined, (size_t)at);
    return true;
}

static const struct device *joined_player(const struct booth *b, size_t at)
{
    const struct device *d = booth_device(b, b->joined.v[at]);
    return d->kind == KIND_PLAYER ? d : NULL;
}

/* Whether x stands left of y; equal places keep the file's order. */
static bool stands_left(const struct device *x, const struct device *y)
{
    return x->place != y->place ? x->place < y->place : x < y;
}

bool change_make_order(struct booth *b, const struct change *c, struct err *e)
{
    (void)c, (void)e;
    for (size_t i = 0; i < b->joined.n; i++)
        for (size_t k = i + 1; k < b->joined.n; k++) {
            const struct device *x = joined_player(b, i), *y = joined_player(b, k);
            if (!x || !y || stands_left(x, y))
                continue;
            char *id = b->joined.v[i];
            b->joined.v[i] = b->joined.v[k];
            b->joined.v[k] = id;
        }
    return true;
}

static struct plug *plug_in(struct booth *b, const char *id, bool *hub, struct err *e)
{
    const struct hub *h = booth_hub(b, id);
    *hub = h != NULL;
    if (h)
        return &b->hubs.v[h - b->hubs.v].plugged;
    struct device *d = change_device(b, id, e);
    return d ? &d->plugged : NULL;
}

/* Whether the way from a hub to the laptop leads over another one, or is that one. */
static bool hangs_on(const struct booth *b, const char *hub, const char *other)
{
    const struct hub *h = booth_hub(b, hub);
    for (size_t steps = 0; h && steps <= b->hubs.n; steps++) {
        if (strcmp(h->id, other) == 0)
            return true;
        h = booth_hub(b, h->plugged.at);
    }
    return false;
}

bool change_make_plug(struct booth *b, const struct change *c, struct err *e)
{
    bool hub, inside = strcmp(c->b, "built-in") == 0;
    struct plug *p = plug_in(b, c->a, &hub, e);
    if (!p)
        return false;
    if (hub && inside)
        return err_set(e, ERR_USAGE, "", "a hub cannot be built into the laptop");
    if (!*c->b || inside) {
        *p = (struct plug){"", 0};
        snprintf(p->at, sizeof p->at, "%s", inside ? "built-in" : "");
        return true;
    }
    if (strcmp(c->b, "host") != 0 && !booth_hub(b, c->b))
        return change_absent(e, "hub", c->b);
    if (c->number < 1)
        return err_set(e, ERR_USAGE, "", "there is no port %d: ports count from 1", c->number);
    if (hub && hangs_on(b, c->b, c->a))
        return err_set(e, ERR_USAGE, "", "%s would be plugged in behind itself",
                       booth_label(b, c->a));
    p->port = c->number;
    memcpy(p->at, c->b, strlen(c->b) + 1);
    return true;
}
