/* What is different from the last visit, and what to put back at the end of this one. */
#include "model/say.h"
#include "ui/pane.h"

static void add_routes(const struct app *a, struct lines *out)
{
    const struct booth *now = app_shown(a)->circuit->booth;
    const struct comparison *c = &a->visit->since;
    for (size_t i = 0; i < c->n_routes; i++) {
        const struct rerouted *r = &c->routes[i];
        struct str was = {0}, is = {0};
        route_show(a->visit->before, r->before, &was);
        route_show(app_shown(a)->circuit, r->now, &is);
        lines_addf(out, -1, LOOK_STRONG, 4, "* %s: %s, was %s%s", now->decks.v[r->deck].label,
                   str_text(&is), str_text(&was), r->type_it ? " (s sets it)" : "");
        str_clear(&was);
        str_clear(&is);
    }
}

static void add_work(const struct plan *p, struct lines *out)
{
    struct str minutes = {0};
    say_minutes(p->minutes, &minutes);
    if (p->n)
        lines_addf(out, -1, LOOK_STRONG, 0, "from the old settings: %s min", str_text(&minutes));
    for (size_t i = 0; i < p->n; i++)
        lines_addf(out, -1, LOOK_PLAIN, 2, "- %s", p->actions[i].text);
    str_clear(&minutes);
}

static void add_since(const struct app *a, struct lines *out)
{
    const struct comparison *c = &a->visit->since;
    lines_add(out, -1, LOOK_TITLE, 0, "since it was opened");
    for (size_t i = 0; i < c->n;) {
        struct str line = {0};
        i += comparison_line(c, i, &line);
        lines_add(out, -1, LOOK_PLAIN, 2, str_text(&line));
        str_clear(&line);
    }
    add_routes(a, out);
    if (a->visit->work)
        add_work(a->visit->work, out);
    else
        lines_add(out, -1, LOOK_GOOD, 0, "nothing differs");
    if (c->n && c->fits && c->fits->name)
        lines_addf(out, -1, LOOK_PLAIN, 2, "the saved combination \"%s\" fits", c->fits->name);
}

static void add_back(const struct restore *r, const struct booth *b, struct lines *out)
{
    lines_add(out, -1, LOOK_TITLE, 0, "at the end, to leave it as found");
    if (!b->found)
        lines_add(out, -1, LOOK_DIM, 0, "Nothing is kept yet: F keeps it as it is now.");
    else if (r->n == 0)
        lines_add(out, -1, LOOK_GOOD, 0, "It stands as it was found.");
    if (r->n)
        lines_add(out, -1, LOOK_DIM, 0,
                  booth_live(b) ? "Only the faders of free strips down before plugs move."
                                : "Faders, master and monitors down before plugs move.");
    for (size_t i = 0; i < r->n; i++)
        lines_addf(out, (int)i, r->v[i].change.what ? LOOK_PLAIN : LOOK_WARNING, 4, "[ ] %s",
                   r->v[i].text);
}

void pane_visit_lines(const struct app *a, struct lines *out)
{
    if (!a->visit || !a->visit->whole)
        return;
    add_since(a, out);
    add_back(&a->visit->back, app_shown(a)->circuit->booth, out);
}

enum effect pane_visit_act(struct app *a, int item)
{
    struct restore r = restore_make(app_booth(a));
    bool can = item >= 0 && item < (int)r.n && r.v[item].change.what != CHANGE_NONE;
    if (can)
        taken_putting_back(a, r.v[item].change);
    restore_clear(&r);
    return can ? EFFECT_NONE : EFFECT_BELL;
}
