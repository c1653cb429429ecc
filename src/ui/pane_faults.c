/* The faults: what is wrong, what it is about, what would put it right. */
#include <string.h>

#include "ui/gesture.h"
#include "ui/pane.h"

static const struct {
    const char *sign;
    enum look look;
} signs[] = {
    [SEVERITY_ERROR] = {"x", LOOK_ERROR},
    [SEVERITY_WARNING] = {"!", LOOK_WARNING},
    [SEVERITY_NOTE] = {"i", LOOK_NOTE},
};

void pane_faults_lines(const struct app *a, struct lines *out)
{
    const struct faults *faults = &app_shown(a)->faults;
    if (faults->n == 0)
        lines_add(out, -1, LOOK_GOOD, 0, "Nothing is wrong.");
    for (size_t i = 0; i < faults->n; i++) {
        const struct fault *f = &faults->v[i];
        lines_addf(out, (int)i, signs[f->severity].look, 2, "%s %s", signs[f->severity].sign,
                   f->text);
        if (f->fix_text && (int)i == a->fault)
            lines_addf(out, (int)i, LOOK_STRONG, 5, "  %s: %s", f->fix.n ? "f" : "by hand",
                       f->fix_text);
    }
}

void faults_focus(struct app *a, int fault)
{
    gesture_end(a);
    a->fault = fault;
    if (a->pane == PANE_FAULTS)
        pane_move_to(a, fault);
    const struct fault *f = &a->derived->faults.v[fault];
    if (f->subjects.n)
        pane_select(a, f->subjects.v[0]);
}

void faults_next_subject(struct app *a)
{
    if (a->fault < 0)
        return;
    const struct fault *f = &a->derived->faults.v[a->fault];
    size_t at = 0;
    for (size_t i = 0; i < f->subjects.n; i++) {
        struct spot s = pane_box(app_booth(a), f->subjects.v[i]);
        if (spot_same(&s, &a->selected))
            at = i + 1;
    }
    if (f->subjects.n)
        pane_select(a, f->subjects.v[at % f->subjects.n]);
}

void pane_faults_look_at(struct app *a, int item)
{
    if (item < (int)a->derived->faults.n)
        faults_focus(a, item);
}

enum effect pane_faults_act(struct app *a, int item)
{
    if (item >= (int)a->derived->faults.n)
        return EFFECT_NONE;
    if (a->fault != item)
        faults_focus(a, item);
    else
        faults_next_subject(a);
    return EFFECT_NONE;
}
