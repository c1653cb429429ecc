/* The three ways into the mixer, best first; under the one at the cursor what hands would do. While
 * the pane has the keys, the canvas shows the booth as that way would leave it. */
#include "model/say.h"
#include "ui/pane.h"

static bool moves_plugs(const struct plan *p)
{
    for (size_t i = 0; i < p->n; i++) {
        enum change_do what = p->actions[i].change.what;
        if (what == CHANGE_CABLE || what == CHANGE_CABLE_MOVE || what == CHANGE_UNCABLE)
            return true;
    }
    return false;
}

static void add_actions(const struct plan *p, int item, struct lines *out)
{
    struct str pairs = {0};
    for (size_t i = 0; i < p->bag.n; i++)
        lines_addf(out, item, LOOK_NOTE, 9, "   bring %s", p->bag.v[i]);
    for (size_t i = 0; i < p->n; i++) {
        struct str minutes = {0};
        say_minutes(p->actions[i].minutes, &minutes);
        lines_addf(out, item, LOOK_PLAIN, 9, "   %s  %s", str_text(&minutes), p->actions[i].text);
        str_clear(&minutes);
    }
    if (moves_plugs(p))
        lines_add(out, item, LOOK_DIM, 3, "   faders and monitors down before plugs move");
    if (p->n) {
        plan_say_pairs(p, false, &pairs);
        lines_addf(out, item, LOOK_DECK, 8, "   then %s", str_text(&pairs));
        str_clear(&pairs);
    }
    for (size_t i = 0; i < p->advice.n; i++)
        lines_addf(out, item, LOOK_NOTE, 8, "   also %s", p->advice.v[i]);
    if (p->n)
        lines_add(out, item, LOOK_DIM, 3, "   Enter takes it, u undoes it");
}

void pane_plan_lines(const struct app *a, struct lines *out)
{
    for (int i = 0; a->plans && i < WAYS; i++) {
        const struct plan *p = &a->plans[i];
        const char *name = word_people(&words_way, (int)p->way);
        if (!p->feasible) {
            lines_addf(out, i, LOOK_DIM, 2, "%s: no, %s", name, p->why_not);
            continue;
        }
        struct str minutes = {0};
        say_minutes(p->minutes, &minutes);
        lines_addf(out, i, LOOK_STRONG, 2, "%s: %s min%s", name, str_text(&minutes),
                   p->n ? "" : ", nothing to do");
        str_clear(&minutes);
        if (i == a->item[PANE_PLAN])
            add_actions(p, i, out);
    }
}

enum effect pane_plan_act(struct app *a, int item)
{
    const struct plan *p = a->plans && item < WAYS ? &a->plans[item] : NULL;
    if (!p || !p->feasible || !p->n) {
        app_say(a, true, "%s", p && !p->feasible ? p->why_not : "there is nothing to do");
        return EFFECT_BELL;
    }
    enum way way = p->way;
    struct str what = {0};
    str_addf(&what, "take the plan: %s", word_people(&words_way, (int)way));
    if (app_commit(a, booth_copy(p->after), str_text(&what))) {
        app_say(a, false, "%s", str_text(&what));
        a->plans = plans_make(app_booth(a));
        a->item[PANE_PLAN] = (int)(plans_of(a->plans, way) -
                                   a->plans); /* the cursor stays with what was taken */
    }
    str_clear(&what);
    return EFFECT_NONE;
}
