/* Each action is told of the booth as the ones before it leave it, and made; each thing that stays
 * is said once, with the reason. */
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/restore_parts.h"
#include "model/say.h"

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
static void add_action(struct restoring *w, struct about about, struct change c, char *text)
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

void restore_leave(struct restoring *w, struct about about, struct str *text)
{
    add_action(w, about, change_of(CHANGE_NONE, NULL, NULL), str_take(text));
}

void restore_say_name(const struct restoring *w, const char *name, struct str *out)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    bool part = ref_split(name, owner, jack);
    const char *id = part ? owner : name;
    const struct entry *gone = map_find(&w->found->gone, id);
    if (!gone || !gone->value || booth_label(w->b, id) != id) {
        say_name(w->b, name, out);
        return;
    }
    str_addf(out, "%s%s", map_find(&w->found->selected, id) ? "strip " : "", gone->value);
    if (part)
        str_addf(out, "'s %s", jack);
}

void restore_leave_alone(struct restoring *w, struct about about, const char *why)
{
    struct str text = {0};
    str_add(&text, "leave ");
    restore_say_name(w, about.on, &text);
    str_addf(&text, " as it is: %s", why);
    restore_leave(w, about, &text);
}

void restore_leave_gone(struct restoring *w, struct about about)
{
    struct str text = {0};
    str_add(&text, "leave out ");
    restore_say_name(w, about.on, &text);
    str_add(&text, ": it is gone from the booth");
    restore_leave(w, about, &text);
}

bool restore_say_user(const struct booth *b, const char *name, const char *as, struct str *out)
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

void restore_leave_used(struct restoring *w, struct about about)
{
    struct str why = {0};
    restore_say_user(w->b, about.on, strchr(about.on, '.') ? NULL : "it", &why);
    restore_leave_alone(w, about, str_text(&why));
    str_clear(&why);
}

bool restore_put(struct restoring *w, struct about about, struct change c, const char *after,
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

void restore_put_back(struct restoring *w, struct about about, struct change c)
{
    struct err e;
    if (change_touches_in_use(w->b, &c))
        restore_leave_used(w, about);
    else if (!restore_put(w, about, c, NULL, &e))
        restore_leave_alone(w, about, e.says);
}
