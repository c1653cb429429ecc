/* What was taken is known by the number of its step: undone and done again, it counts again. */
#include "ui/taken.h"

#include <string.h>

#include "base/mem.h"
#include "model/say.h"
#include "model/shape.h"
#include "ui/app.h"

static void forget(struct taking *t)
{
    failure_clear(&t->failure);
    plan_clear(&t->plan);
    spared_clear(&t->spared);
}

static void cut(struct taken *t, size_t n)
{
    while (t->n > n)
        forget(&t->v[--t->n]);
}

void taken_clear(struct taken *t)
{
    cut(t, 0);
    mem_free(t->v);
    *t = (struct taken){0};
}

void taken_forget(struct taken *t, size_t steps)
{
    size_t n = t->n;
    while (n > 0 && t->v[n - 1].step > steps)
        n--;
    cut(t, n);
}

static void add(struct app *a, struct taking t)
{
    struct taken *all = &a->taken;
    t.step = history_done(a->history);
    all->v = mem_grow(all->v, &all->cap, all->n + 1, sizeof *all->v);
    all->v[all->n++] = t;
}

/* --- a way back ------------------------------------------------------------------------------- */

/* What died plays no part any more; a lead or a cable is another one now. */
static void bury(struct taking *t)
{
    const struct failure *f = &t->failure;
    if (f->kind == FAILING_DEVICE || f->kind == FAILING_HUB || f->kind == FAILING_STRIP)
        texts_add(&t->spared.things, f->subject);
    if (f->kind == FAILING_HOST)
        t->spared.instead = mem_text(f->back.text);
}

bool taken_way_back(struct app *a, struct failure *f, const struct booth *after)
{
    struct taking t = {.failure = *f, .at = a->selected};
    struct booth *next = booth_copy(after);
    struct texts before = {0};
    struct str what = {0};
    str_addf(&what, "go on without %s", f->what);
    spared_errors(&a->derived->faults, &before);
    *f = (struct failure){.what = NULL};
    bool done = app_commit(a, next, str_text(&what));
    if (done) {
        spared_note(&t.spared, &before, &a->derived->faults, app_booth(a), t.failure.subject);
        bury(&t);
        add(a, t);
        app_say(a, false, "taken: %s; u undoes it", str_text(&what));
    } else {
        *f = t.failure;
    }
    texts_clear(&before);
    str_clear(&what);
    return done;
}

/* --- a way into the mixer --------------------------------------------------------------------- */

bool taken_plan(struct app *a, struct plan *p)
{
    struct taking t = {.plan = *p};
    struct str what = {0};
    const char *way = word_people(&words_way, (int)p->way);
    str_addf(&what, "take the plan: %s", way);
    struct booth *next = booth_copy(p->after);
    *p = (struct plan){.way = p->way};
    bool done = app_commit(a, next, str_text(&what));
    if (done) {
        add(a, t);
        app_say(a, false, "taken: %s; u undoes it", way);
    } else {
        *p = t.plan;
    }
    str_clear(&what);
    return done;
}

const struct plan *taken_next_plan(const struct app *a, size_t *at)
{
    while (*at < a->taken.n) {
        const struct taking *t = &a->taken.v[(*at)++];
        if (t->step <= history_done(a->history) && t->plan.feasible)
            return &t->plan;
    }
    return NULL;
}

/* --- putting back ----------------------------------------------------------------------------- */

bool taken_putting_back(struct app *a, struct change c)
{
    struct taking t = {.step = 0};
    struct texts before = {0};
    struct str what = {0};
    change_say(app_booth(a), &c, &what);
    spared_errors(&a->derived->faults, &before);
    bool done = app_change_one(a, c);
    if (done) {
        spared_note(&t.spared, &before, &a->derived->faults, app_booth(a), NULL);
        add(a, t);
        app_say(a, false, "done: %s; u undoes it", str_text(&what));
    }
    str_clear(&what);
    texts_clear(&before);
    return done;
}

/* --- what follows ----------------------------------------------------------------------------- */

static bool is_failure(const struct taking *t)
{
    return t->failure.what != NULL;
}

/* The last thing that was done, if it is a way back that was taken; or NULL. */
static struct taking *last(const struct app *a)
{
    for (size_t i = 0; i < a->taken.n; i++) {
        struct taking *t = &a->taken.v[i];
        if (t->step == history_done(a->history) && is_failure(t))
            return t;
    }
    return NULL;
}

void taken_follow(struct app *a)
{
    struct taking *t = last(a);
    if (t && !spot_same(&t->at, &a->selected))
        t->passed = true;
}

const struct failure *taken_last(const struct app *a)
{
    const struct taking *t = last(a);
    return t && !t->passed ? &t->failure : NULL;
}

/* Who goes on with the laptop after it had died has it back. */
struct spared taken_spares(const struct app *a)
{
    struct spared all = {.instead = NULL};
    for (size_t i = 0; i < a->taken.n; i++) {
        if (a->taken.v[i].step > history_done(a->history))
            continue;
        text_set(&all.instead, NULL);
        spared_add(&all, &a->taken.v[i].spared);
    }
    if (!last(a))
        text_set(&all.instead, NULL);
    return all;
}
