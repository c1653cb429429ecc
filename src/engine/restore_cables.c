/* Cables go back: plugs that go nowhere else come out first; one that goes home may push out
 * another, which then goes home itself. A cable in use holds its output and its input. */
#include <stdio.h>
#include <string.h>

#include "engine/restore_parts.h"
#include "model/say.h"
#include "model/shape.h"

static const struct cable *found_cable(const struct found *f, const char *from, const char *to)
{
    for (size_t i = 0; i < f->cables.n; i++)
        if (strcmp(f->cables.v[i].from, from) == 0 && strcmp(f->cables.v[i].to, to) == 0)
            return &f->cables.v[i];
    return NULL;
}

static bool is_stray(const struct restoring *w, const struct cable *c)
{
    return !found_cable(w->found, c->from, c->to);
}

static bool may_pull(const struct restoring *w, const struct cable *c)
{
    struct change pull = change_of(CHANGE_UNCABLE, c->from, c->to);
    return !change_touches_in_use(w->b, &pull);
}

/* The first stray cable of an output, or into an input, that may be pulled, or that must stay. */
static const struct cable *stray(const struct restoring *w, const char *from, const char *to,
                                 bool stays)
{
    for (size_t i = 0; i < w->b->cables.n; i++) {
        const struct cable *c = &w->b->cables.v[i];
        bool at = (from && strcmp(c->from, from) == 0) || (to && strcmp(c->to, to) == 0);
        if (at && is_stray(w, c) && may_pull(w, c) != stays)
            return c;
    }
    return NULL;
}

static void say_cable(const struct restoring *w, const struct cable *c, struct str *out)
{
    str_add(out, "the cable from ");
    restore_say_name(w, c->from, out);
    str_add(out, " to ");
    restore_say_name(w, c->to, out);
}

/* Leaves a cable as it is, though it was not found so. */
static void leave_cable(struct restoring *w, const char *kind, const struct cable *c)
{
    struct str text = {0};
    bool there = booth_cable(w->b, c->from, c->to) != NULL;
    str_add(&text, there ? "leave " : "leave out ");
    say_cable(w, c, &text);
    str_add(&text, there ? " as it is: " : ": ");
    if (!restore_say_user(w->b, c->from, NULL, &text) &&
        !restore_say_user(w->b, c->to, NULL, &text)) {
        restore_say_name(w, booth_output(w->b, c->from, NULL) ? c->to : c->from, &text);
        str_add(&text, " is gone from the booth");
    }
    restore_leave(w, (struct about){kind, c->from, c->to}, &text);
}

/* Leaves out a cable that was found, since another, that must stay, holds one of its ends. */
static void leave_for(struct restoring *w, const struct cable *was, const struct cable *holds)
{
    struct str text = {0};
    str_add(&text, "leave out ");
    say_cable(w, was, &text);
    str_add(&text, ": ");
    say_jack(w->b, strcmp(was->to, holds->to) == 0 ? was->to : was->from, &text);
    str_add(&text, " stays taken");
    restore_leave(w, (struct about){"cable", was->from, was->to}, &text);
}

/* The stray cable that keeps a found one from going back, or NULL: in its input, or the only one of
 * its output. */
static const struct cable *held(const struct restoring *w, const struct cable *was)
{
    const struct cable *in = stray(w, NULL, was->to, true);
    bool spare = stray(w, was->from, NULL, false) != NULL;
    return in || spare ? in : stray(w, was->from, NULL, true);
}

/* Whether both ends of a found cable are there, and neither is in use. */
static bool may_go_back(const struct restoring *w, const struct cable *was)
{
    return booth_output(w->b, was->from, NULL) && booth_input(w->b, was->to, NULL) &&
           may_pull(w, was);
}

/* Whether a found cable that is not there now can go back. */
static bool goes_back(const struct restoring *w, const struct cable *was)
{
    return !booth_cable(w->b, was->from, was->to) && may_go_back(w, was) && !held(w, was);
}

/* How many found cables of an output go back: as many of its stray ones are moved. */
static int going_back(const struct restoring *w, const char *from)
{
    int n = 0;
    for (size_t i = 0; i < w->found->cables.n; i++)
        n += strcmp(w->found->cables.v[i].from, from) == 0 && goes_back(w, &w->found->cables.v[i]);
    return n;
}

/* Pulls the stray cables that are not moved home; those in use are left, and said. */
static void pull_strays(struct restoring *w)
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
            restore_put_back(w, (struct about){"uncable", c->from, c->to},
                             change_of(CHANGE_UNCABLE, c->from, c->to));
    }
    field_clear(f, &before);
}

static void turn_sides(struct restoring *w, const struct cable *was)
{
    const struct cable *now = booth_cable(w->b, was->from, was->to);
    struct change c = change_of(CHANGE_CABLE, was->from, was->to);
    c.number = (int)was->sides;
    if (now->sides == was->sides)
        return;
    if (change_touches_in_use(w->b, &c))
        leave_cable(w, "sides", was);
    else
        restore_put_back(w, (struct about){"sides", was->from, was->to}, c);
}

/* A found cable that is not there: the output's stray one is moved, or another one is run. */
static void bring_back(struct restoring *w, const struct cable *was)
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
    if (!restore_put(w, about, c, after, &e))
        restore_leave_alone(w, about, e.says);
    else
        turn_sides(w, was);
}

void restore_cables(struct restoring *w)
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
