/* Keys that move the eyes or what is in hand, and those that choose what is shown. */
#include <string.h>

#include "ui/gesture.h"
#include "ui/keymap.h"
#include "ui/pane.h"

static enum effect go(struct app *a, int dx, int dy)
{
    if (a->drag.from.kind) {
        gesture_carry(a, dx, dy);
        return EFFECT_NONE;
    }
    a->selected = canvas_step(a->canvas, &a->selected, dx, dy, false);
    app_reveal(a);
    return EFFECT_NONE;
}

enum effect act_up(struct app *a)
{
    return go(a, 0, -1);
}

enum effect act_down(struct app *a)
{
    return go(a, 0, 1);
}

enum effect act_left(struct app *a)
{
    return go(a, -1, 0);
}

enum effect act_right(struct app *a)
{
    return go(a, 1, 0);
}

/* As far as it goes: up and left, or down and right. */
static enum effect go_far(struct app *a, int step)
{
    for (int axis = 0; axis < 2; axis++)
        for (int i = 0; i < MAX_DEVICES; i++)
            a->selected = canvas_step(a->canvas, &a->selected, axis ? step : 0, axis ? 0 : step,
                                      false);
    app_reveal(a);
    return EFFECT_NONE;
}

enum effect act_first(struct app *a)
{
    return go_far(a, -1);
}

enum effect act_last(struct app *a)
{
    return go_far(a, 1);
}

enum effect act_page_up(struct app *a)
{
    return pane_page(a, -1);
}

enum effect act_page_down(struct app *a)
{
    return pane_page(a, 1);
}

enum effect act_pick_up(struct app *a)
{
    if (a->drag.from.kind)
        return gesture_drop(a);
    if (!gesture_pick_up(a, a->selected)) {
        app_say(a, true, "nothing to pick up here");
        return EFFECT_BELL;
    }
    return EFFECT_NONE;
}

/* The jack after one at the same box, outputs of a device or plugged inputs of a strip, around the
 * end; from a box: the first. */
static struct spot next_jack(const struct app *a, const struct spot *box, const struct spot *from)
{
    const struct booth *b = app_booth(a);
    const struct device *d = booth_device(b, box->name);
    const struct strip *s = booth_strip(b, box->name, NULL);
    struct spot first = {0};
    bool passed = false;
    size_t n = s ? s->inputs.n : d ? d->outputs.n : 0;
    for (size_t i = 0; i < n; i++) {
        char name[REF_SIZE] = "";
        strcat(strcat(strcat(name, box->name), "."), s ? s->inputs.v[i].id : d->outputs.v[i].id);
        struct spot jack = spot_of(s ? SPOT_INPUT : SPOT_OUTPUT, name);
        if (!drag_can_start(b, &jack))
            continue;
        if (!first.kind)
            first = jack;
        if (passed)
            return jack;
        passed = spot_same(&jack, from);
    }
    return first;
}

enum effect act_cable(struct app *a)
{
    bool on_jack = !a->drag.from.kind && drag_wants_jacks(&a->selected);
    struct spot jack = on_jack ? a->selected : next_jack(a, &a->selected, &a->drag.from);
    if (!jack.kind || !gesture_pick_up(a, jack)) {
        app_say(a, true, "no cable to take here; choose a player or a strip with a plug in it");
        return EFFECT_BELL;
    }
    return EFFECT_NONE;
}

/* A plug in hand has its cable's sides changed where it is; a new cable's are chosen first. */
static enum effect change_sides_there(struct app *a)
{
    const struct cables *cables = &app_booth(a)->cables;
    size_t i = 0;
    while (i < cables->n && strcmp(cables->v[i].to, a->drag.from.name) != 0)
        i++;
    if (i == cables->n)
        return EFFECT_BELL;
    struct change c = change_of(CHANGE_CABLE, cables->v[i].from, cables->v[i].to);
    c.number = (int)((cables->v[i].sides + 1) % words_sides.n);
    gesture_end(a);
    return app_change_one(a, c) ? EFFECT_NONE : EFFECT_BELL;
}

enum effect act_sides(struct app *a)
{
    if (a->drag.from.kind == SPOT_INPUT)
        return change_sides_there(a);
    if (a->drag.from.kind != SPOT_OUTPUT) {
        app_say(a, true, "take a cable first (c)");
        return EFFECT_BELL;
    }
    a->drag.sides = (enum sides)(((int)a->drag.sides + 1) % (int)words_sides.n);
    gesture_look_ahead(a);
    return EFFECT_NONE;
}

enum effect act_cancel(struct app *a)
{
    gesture_end(a);
    a->pane_keys = false;
    app_reveal(a);
    return EFFECT_NONE;
}

/* Panes that are there to be worked through take the keys at once; others when they are asked for
 * again. */
static enum effect show_pane(struct app *a, enum pane_id id)
{
    bool works = id == PANE_CHECKLIST || id == PANE_PLAN || id == PANE_CHECK;
    bool again = a->pane_shown && a->pane == id;
    a->pane_keys = again ? !a->pane_keys : works;
    a->pane = id;
    if (!a->pane_shown) {
        a->pane_shown = true;
        app_update(a, &(struct event){.kind = EVENT_RESIZE, .column = a->columns, .row = a->rows});
    }
    if (id == PANE_CHECKLIST)
        pane_move_to(a, steps_current(&a->derived->steps));
    return EFFECT_NONE;
}

enum effect act_pane_faults(struct app *a)
{
    return show_pane(a, PANE_FAULTS);
}

enum effect act_pane_checklist(struct app *a)
{
    return show_pane(a, PANE_CHECKLIST);
}

enum effect act_pane_routes(struct app *a)
{
    return show_pane(a, PANE_ROUTES);
}

enum effect act_pane_details(struct app *a)
{
    return show_pane(a, PANE_DETAILS);
}

enum effect act_pane_plan(struct app *a)
{
    return show_pane(a, PANE_PLAN);
}

enum effect act_pane_visit(struct app *a)
{
    return show_pane(a, PANE_VISIT);
}

enum effect act_pane_failures(struct app *a)
{
    return show_pane(a, PANE_FAILURES);
}

enum effect act_pane_check(struct app *a)
{
    return show_pane(a, PANE_CHECK);
}

enum effect act_pane_budget(struct app *a)
{
    return show_pane(a, PANE_BUDGET);
}

enum effect act_pane_keys(struct app *a)
{
    return show_pane(a, PANE_KEYS);
}

enum effect act_pane_hide(struct app *a)
{
    a->pane_shown = a->pane_keys = false;
    return app_update(a,
                      &(struct event){.kind = EVENT_RESIZE, .column = a->columns, .row = a->rows});
}

enum effect act_focus(struct app *a)
{
    a->pane_keys = a->pane_shown && !a->pane_keys;
    return EFFECT_NONE;
}
