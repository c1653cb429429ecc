/* The three ways into the mixer, best first; under the one at the cursor what hands would do. While
 * the pane has the keys, the canvas shows the booth as that way would leave it. Above them stands
 * what was taken, for hands to do: no other list has the cables. */
#include "model/say.h"
#include "ui/pane.h"

/* The items: what was taken, if anything; then the ways. */
enum { ITEM_TAKEN, ITEM_WAYS };

static const struct plan *way_at(const struct app *a, int item)
{
    int i = item - ITEM_WAYS;
    return a->plans && i >= 0 && i < WAYS ? &a->plans[i] : NULL;
}

static void add_work(const struct plan *p, int item, struct lines *out)
{
    struct str pairs = {0};
    pane_bring_lines(p, item, out);
    if (plan_caution(p))
        lines_addf(out, item, LOOK_NOTE, 3, "   %s", plan_caution(p));
    pane_work_lines(p, true, item, out);
    if (p->n) {
        plan_say_pairs(p, false, &pairs);
        lines_addf(out, item, LOOK_DECK, 8, "   then %s", str_text(&pairs));
        str_clear(&pairs);
    }
    pane_advice_lines(p, item, out);
}

static void add_taken(const struct app *a, struct lines *out)
{
    size_t at = 0;
    const struct plan *p;
    out->reading = true;
    while ((p = taken_next_plan(a, &at))) {
        lines_addf(out, ITEM_TAKEN, LOOK_GOOD, 2,
                   "taken: %s; by hand now:", word_people(&words_way, (int)p->way));
        add_work(p, ITEM_TAKEN, out);
    }
    out->reading = false;
}

static void add_way(const struct plan *p, int item, bool here, struct lines *out)
{
    const char *name = word_people(&words_way, (int)p->way);
    if (!p->feasible) {
        lines_addf(out, item, LOOK_DIM, 2, "%s: no, %s", name, p->why_not);
        return;
    }
    struct str minutes = {0};
    say_minutes(p->minutes, &minutes);
    lines_addf(out, item, LOOK_STRONG, 2, "%s: %s min%s", name, str_text(&minutes),
               p->n ? "" : ", nothing to do");
    str_clear(&minutes);
    if (!here)
        return;
    out->reading = true;
    add_work(p, item, out);
    out->reading = false;
    if (p->n)
        lines_add(out, item, LOOK_DIM, 3, "   Enter takes it, u undoes it");
}

void pane_plan_lines(const struct app *a, struct lines *out)
{
    add_taken(a, out);
    for (int i = ITEM_WAYS; way_at(a, i); i++)
        add_way(way_at(a, i), i, i == a->item[PANE_PLAN], out);
}

const struct booth *pane_plan_offer(const struct app *a, int item)
{
    const struct plan *p = way_at(a, item);
    return p && p->feasible && p->n ? p->after : NULL;
}

bool pane_plan_is_taken(const struct app *a, int item)
{
    size_t at = 0;
    return item == ITEM_TAKEN && taken_next_plan(a, &at);
}

enum effect pane_plan_act(struct app *a, int item)
{
    const struct plan *p = way_at(a, item);
    if (!pane_plan_offer(a, item)) {
        app_say(a, true, "%s",
                pane_plan_is_taken(a, item) ? "it is taken: do by hand what is listed, from the top"
                : p && !p->feasible         ? p->why_not
                                            : "there is nothing to do");
        return EFFECT_BELL;
    }
    if (taken_plan(a, &a->plans[p - a->plans])) {
        a->item[PANE_PLAN] = ITEM_TAKEN;
        a->pane_scroll[PANE_PLAN] = 0;
    }
    return EFFECT_NONE;
}
