/* Point at a box: what is lost if it, its lead or one of its cables fails, and the way back. */
#include "model/say.h"
#include "ui/pane.h"

static void name_decks(const struct booth *b, const struct texts *decks, struct str *out)
{
    for (size_t i = 0; i < decks->n; i++)
        str_addf(out, "%s%s", i ? ", " : " ", booth_label(b, decks->v[i]));
}

static void add_way_back(const struct failure *f, int item, struct lines *out)
{
    if (!f->has_way_back) {
        lines_addf(out, item, LOOK_ERROR, 5, "   no way back: %s", f->way_back);
        return;
    }
    struct str minutes = {0};
    say_minutes(f->minutes, &minutes);
    lines_addf(out, item, LOOK_STRONG, 5, "   back in %s min: %s", str_text(&minutes), f->way_back);
    str_clear(&minutes);
    for (size_t i = 0; i < f->n; i++)
        lines_addf(out, item, LOOK_PLAIN, 5, "   - %s", f->actions[i].text);
}

static void add_failure(const struct app *a, int item, struct lines *out)
{
    const struct failure *f = &a->failures.v[item];
    struct str silent = {0};
    if (f->silent.n)
        str_add(&silent, "silent");
    else
        str_add(&silent, "nothing falls silent");
    name_decks(app_booth(a), &f->silent, &silent);
    lines_addf(out, item, f->silent.n ? LOOK_WARNING : LOOK_GOOD, 2, "%s: %s", f->what,
               str_text(&silent));
    str_clear(&silent);
    if (f->moved.n) {
        str_add(&silent, "   heard elsewhere:");
        name_decks(app_booth(a), &f->moved, &silent);
        lines_add(out, item, LOOK_WARNING, 5, str_text(&silent));
        str_clear(&silent);
    }
    if (f->way_back && item == a->item[PANE_FAILURES])
        add_way_back(f, item, out);
}

void pane_failures_lines(const struct app *a, struct lines *out)
{
    lines_addf(out, -1, LOOK_DIM, 2,
               "at %s, if it dies:", booth_label(app_booth(a), a->selected.name));
    for (size_t i = 0; i < a->failures.n; i++)
        add_failure(a, (int)i, out);
}

enum effect pane_failures_act(struct app *a, int item)
{
    const struct failure *f = item < (int)a->failures.n ? &a->failures.v[item] : NULL;
    if (!f || !f->after) {
        app_say(a, true, "%s", f && f->way_back ? f->way_back : "nothing is lost by it");
        return EFFECT_BELL;
    }
    struct str what = {0};
    str_addf(&what, "go on without %s", f->what);
    if (app_commit(a, booth_copy(f->after), str_text(&what)))
        app_say(a, false, "%s", str_text(&what));
    str_clear(&what);
    return EFFECT_NONE;
}
