/* The three ways into the mixer, best first; under the one at the cursor what hands would do. While
 * the pane has the keys, the canvas shows the booth as that way would leave it. */
#include "ui/pane.h"

static void add_minutes(struct str *out, int milli)
{
    str_addf(out, "%d.%02d", milli / 1000, milli % 1000 / 10);
}

static void add_actions(const struct plan *p, int item, struct lines *out)
{
    for (size_t i = 0; i < p->n; i++) {
        struct str minutes = {0};
        add_minutes(&minutes, p->actions[i].minutes);
        lines_addf(out, item, LOOK_PLAIN, 9, "   %s  %s", str_text(&minutes), p->actions[i].text);
        str_clear(&minutes);
    }
    for (size_t i = 0; i < p->bag.n; i++)
        lines_addf(out, item, LOOK_NOTE, 9, "   bring %s", p->bag.v[i]);
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
        add_minutes(&minutes, p->minutes);
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
    if (!p || !p->feasible || !p->n)
        return EFFECT_BELL;
    struct str what = {0};
    str_addf(&what, "take the plan: %s", word_people(&words_way, (int)p->way));
    if (app_commit(a, booth_copy(p->after), str_text(&what)))
        app_say(a, false, "%s", str_text(&what));
    str_clear(&what);
    return EFFECT_NONE;
}
