/* The checklist: one step after the other, ticked as it is done; the one to do now stands out. */
#include <stdio.h>
#include <string.h>

#include "engine/restore.h"
#include "model/shape.h"
#include "ui/pane.h"

/* What to see at the step to do now, and why at the one that the hands are on: more would push the
 * steps to come out of the pane. */
static void more(const struct step *s, int item, bool why, struct lines *out)
{
    if (s->see && *s->see)
        lines_addf(out, item, LOOK_PLAIN, 4, "    see: %s", s->see);
    if (s->why && why)
        lines_addf(out, item, LOOK_DIM, 4, "    why: %s", s->why);
}

static void progress(const struct steps *steps, struct lines *out)
{
    size_t done = 0;
    for (size_t i = 0; i < steps->n; i++)
        done += steps->v[i].done;
    lines_addf(out, -1, LOOK_DIM, 0, "%zu of %zu done", done, steps->n);
}

void pane_checklist_lines(const struct app *a, struct lines *out)
{
    const struct steps *steps = &app_shown(a)->steps;
    int current = steps_current(steps);
    progress(steps, out);
    for (int i = 0; i < (int)steps->n; i++) {
        const struct step *s = &steps->v[i];
        bool now = i == current, here = a->pane_keys && i == a->item[PANE_CHECKLIST];
        enum look look = s->done ? LOOK_GOOD : now ? LOOK_STRONG : LOOK_PLAIN;
        lines_addf(out, i, look, 4, "%s %s%s", s->done ? "[x]" : "[ ]", now ? "NOW: " : "",
                   s->text);
        if (s->expect_channels >= 0 && !s->done)
            lines_addf(out, i, look, 4, "    the interface shows %d channels", s->expect_channels);
        if (now || here)
            more(s, i, here, out);
        if (s->note)
            lines_addf(out, i, LOOK_NOTE, 4, "    note: %s", s->note);
    }
}

static void tick(struct app *a, const char *id, bool done)
{
    struct change c = change_of(CHANGE_TICK, id, "");
    c.number = done;
    if (app_change_one(a, c) && done && a->pane == PANE_CHECKLIST)
        pane_move_to(a, steps_current(&a->derived->steps));
}

static void tick_anyway(struct app *a)
{
    tick(a, a->subject, true);
}

/* Ticking off a step of putting back makes it so: the step is gone then. False for other steps. */
static bool put_back(struct app *a, const char *id)
{
    struct restore r = restore_make(app_booth(a));
    bool found = false;
    for (size_t i = 0; i < r.n && !found; i++) {
        found = strcmp(r.v[i].id, id) == 0 && r.v[i].change.what != CHANGE_NONE;
        if (found)
            taken_putting_back(a, r.v[i].change);
    }
    restore_clear(&r);
    return found;
}

static bool is_join(const struct step *s)
{
    return strncmp(s->id, "join-", 5) == 0;
}

/* The first join step before this one that is not done, or -1: joins must be taken in turn. */
static int skipped(const struct steps *steps, int item)
{
    for (int i = 0; i < item && is_join(&steps->v[item]); i++)
        if (is_join(&steps->v[i]) && !steps->v[i].done)
            return i;
    return -1;
}

enum effect pane_checklist_act(struct app *a, int item)
{
    static const struct answer anyway[] = {{'y', "tick it anyway", EFFECT_NONE, tick_anyway}};
    const struct steps *steps = &a->derived->steps;
    if (item < 0 || item >= (int)steps->n)
        return EFFECT_NONE;
    int before = steps->v[item].done ? -1 : skipped(steps, item);
    if (before < 0) {
        char id[REF_SIZE];
        snprintf(id, sizeof id, "%s", steps->v[item].id);
        if (!put_back(a, id))
            tick(a, id, !steps->v[item].done);
        return EFFECT_NONE;
    }
    struct str text = {0};
    str_addf(&text, "out of turn, every pair after it shifts; first: %s", steps->v[before].text);
    text_set(&a->subject, steps->v[item].id);
    app_ask(a, str_text(&text), anyway, 1);
    str_clear(&text);
    return EFFECT_NONE;
}
