/* Sentences come from the engine; here they are put in lines and keys. */
#include "cli/print_visit.h"

#include <stdio.h>

#include "cli/print_plan.h"
#include "cli/print_text.h"
#include "cli/table.h"
#include "engine/restore.h"
#include "model/say.h"

/* --- text ------------------------------------------------------------------------------------- */

static void show(const struct circuit *c, struct pair p, struct table *t)
{
    struct str shown = {0};
    route_show(c, p, &shown);
    table_add(t, str_text(&shown));
    str_clear(&shown);
}

static void routes_text(const struct comparison *c, const struct booth *before,
                        const struct booth *now, bool ascii, struct str *out)
{
    static const char *const heads[] = {"host deck", "was", "is", "strip", "to do"};
    struct circuit *old = circuit_new(before), *new = circuit_new(now);
    struct table t = {.columns = 5, .ascii = ascii};
    for (size_t i = 0; i < 5; i++)
        table_add(&t, heads[i]);
    for (size_t i = 0; i < c->n_routes; i++) {
        const struct rerouted *r = &c->routes[i];
        const struct deck *d = &now->decks.v[r->deck];
        table_add(&t, d->label);
        show(old, r->before, &t);
        show(new, r->now, &t);
        table_add(&t, *d->wants ? booth_label(now, d->wants) : "-");
        table_add(&t, r->type_it ? "set it" : "-");
    }
    table_write(&t, out);
    table_clear(&t);
    circuit_free(old);
    circuit_free(new);
}

static void work_text(const struct booth *before, const struct booth *now, bool ascii,
                      struct str *out)
{
    struct plan *p = compare_work(before, now);
    if (p->n) {
        str_add(out, "\nfrom the old settings to the new: ");
        say_minutes(p->minutes, out);
        str_add(out, " min\n");
        text_actions(p, ascii, out);
    }
    compare_work_free(p);
}

/* Whether what is joined asks for a combination at all. */
static bool combines(const struct booth *b)
{
    return b->joined.n > 1 && b->host.combining == COMBINING_BY_HAND;
}

void text_compare(const struct comparison *c, const struct booth *before, const struct booth *now,
                  bool ascii, struct str *out)
{
    if (!c->n && !c->n_routes)
        str_add(out, "nothing differs\n");
    for (size_t i = 0; i < c->n;) {
        struct str line = {0};
        i += comparison_line(c, i, &line);
        text_wrap(out, "", str_text(&line), ascii);
        str_clear(&line);
    }
    if (c->n && c->n_routes)
        str_addc(out, '\n');
    if (c->n_routes)
        routes_text(c, before, now, ascii, out);
    if (c->n || c->n_routes)
        work_text(before, now, ascii, out);
    if (c->n && c->fits && c->fits->name)
        text_wrap(out, "saved combination that fits: ", c->fits->name, ascii);
    else if (c->n && !c->fits && combines(now))
        str_add(out, "no saved combination fits\n");
}

/* --- json ------------------------------------------------------------------------------------- */

static void pair_out(struct json_out *w, const char *key, struct pair p)
{
    if (p.left < 0) {
        json_null(w, key);
        return;
    }
    json_array(w, key);
    json_number(w, NULL, p.left);
    json_number(w, NULL, p.right);
    json_end(w);
}

static void difference_out(const struct difference *d, struct json_out *w)
{
    json_object(w, NULL);
    json_text(w, "difference", difference_word(d->kind));
    json_array(w, "subjects");
    json_text(w, NULL, d->subject);
    if (*d->other)
        json_text(w, NULL, d->other);
    json_end(w);
    json_text(w, "field", *d->field ? d->field : NULL);
    json_text(w, "text", d->text);
    json_end(w);
}

static void names_out(const struct comparison *c, struct json_out *w)
{
    json_array(w, "matched");
    for (size_t i = 0; i < c->n_names; i++) {
        json_object(w, NULL);
        json_text(w, "old", c->names[i].before);
        json_text(w, "new", c->names[i].now);
        json_end(w);
    }
    json_end(w);
}

static void routes_out(const struct comparison *c, const struct booth *now, struct json_out *w)
{
    json_array(w, "routes_changed");
    for (size_t i = 0; i < c->n_routes; i++) {
        const struct deck *d = &now->decks.v[c->routes[i].deck];
        json_object(w, NULL);
        json_text(w, "deck", d->id);
        json_text(w, "strip", *d->wants ? d->wants : NULL);
        pair_out(w, "old", c->routes[i].before);
        pair_out(w, "new", c->routes[i].now);
        json_bool(w, "set", c->routes[i].type_it);
        json_end(w);
    }
    json_end(w);
}

void json_compare(const struct comparison *c, const struct booth *before, const struct booth *now,
                  struct json_out *w)
{
    struct plan *work = compare_work(before, now);
    json_array(w, "differences");
    for (size_t i = 0; i < c->n; i++)
        difference_out(&c->v[i], w);
    json_end(w);
    names_out(c, w);
    routes_out(c, now, w);
    json_actions(work, w);
    json_milli(w, "minutes", work->minutes);
    json_text(w, "combination", c->fits ? c->fits->name : NULL);
    compare_work_free(work);
}

/* --- restore ---------------------------------------------------------------------------------- */

void text_restore(const struct derived *d, bool ascii, struct str *out)
{
    const struct booth *b = d->circuit->booth;
    struct restore r = restore_make(b);
    if (!b->found)
        str_add(out, "nothing was kept of this booth as it was found\n");
    else if (r.n == 0)
        str_add(out, "the booth stands as it was found\n");
    else
        text_wrap(out, "first: ",
                  booth_live(b) ? "only the faders of free strips down"
                                : "faders, master and monitors down",
                  ascii);
    for (size_t i = 0; i < r.n; i++) {
        char head[16];
        snprintf(head, sizeof head, "%3d ", (int)i + 1);
        text_wrap(out, head, r.v[i].text, ascii);
    }
    restore_clear(&r);
}

static void subjects_out(const struct change *c, struct json_out *w)
{
    const char *const names[] = {c->a, c->b, c->c};
    bool cable = c->what == CHANGE_CABLE || c->what == CHANGE_CABLE_MOVE ||
                 c->what == CHANGE_UNCABLE;
    json_array(w, "subjects");
    for (size_t i = 0; i < 3; i++)
        if (*names[i] && (i == 0 || cable))
            json_text(w, NULL, names[i]);
    json_end(w);
}

void json_restore(const struct derived *d, struct json_out *w)
{
    struct restore r = restore_make(d->circuit->booth);
    json_array(w, "actions");
    for (size_t i = 0; i < r.n; i++) {
        json_object(w, NULL);
        json_text(w, "do", change_word(&r.v[i].change));
        subjects_out(&r.v[i].change, w);
        json_text(w, "text", r.v[i].text);
        json_end(w);
    }
    json_end(w);
    restore_clear(&r);
}
