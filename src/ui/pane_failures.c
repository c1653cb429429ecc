/* Point at a box: what is lost if it, its lead or one of its cables fails, and the way back. */
#include "model/say.h"
#include "ui/pane.h"

static void add_way(const char *how, const struct way_back *way, int item, struct lines *out)
{
    struct str when = {0};
    way_back_say_when(way, &when);
    lines_addf(out, item, LOOK_STRONG, 5, "   %s %s: %s", how, str_text(&when), way->text);
    str_clear(&when);
    pane_bring_lines(&way->plan, item, out);
    pane_work_lines(&way->plan, false, item, out);
    pane_advice_lines(&way->plan, item, out);
}

/* The way back, or else how to go on meanwhile; nothing where there is neither. */
static void add_ways(const struct booth *b, const struct failure *f, int item, struct lines *out)
{
    struct str how = {0};
    str_add(&how, "go on without ");
    say_labels(b, &f->meanwhile.without, &how);
    if (f->back.plan.feasible)
        add_way("back", &f->back, item, out);
    else if (f->meanwhile.plan.feasible)
        add_way(str_text(&how), &f->meanwhile, item, out);
    str_clear(&how);
}

static void add_way_back(const struct booth *b, const struct failure *f, int item,
                         struct lines *out)
{
    if (!f->back.plan.feasible)
        lines_addf(out, item, LOOK_ERROR, 5, "   no way back: %s", f->back.plan.why_not);
    add_ways(b, f, item, out);
}

/* Nothing for no decks. */
static void add_decks(const struct app *a, int item, const char *how, const struct texts *decks,
                      struct lines *out)
{
    struct str line = {0};
    str_addf(&line, "   %s: ", how);
    say_labels(app_booth(a), decks, &line);
    if (decks->n)
        lines_add(out, item, LOOK_WARNING, 5, str_text(&line));
    str_clear(&line);
}

/* Whether taking it changes nothing here: hands put another in the place of what died. */
static bool is_by_hand(const struct app *a, const struct failure *f)
{
    const struct booth *after = failure_after(f);
    return after && booth_equal(after, app_booth(a));
}

static void add_offer(const struct app *a, const struct failure *f, int item, struct lines *out)
{
    if (pane_failures_offer(a, item))
        lines_add(out, item, LOOK_DIM, 3, "   Enter takes it, u undoes it");
    else if (is_by_hand(a, f) && (f->back.plan.n || f->meanwhile.plan.n))
        lines_add(out, item, LOOK_DIM, 3, "   by hand: nothing here is different afterwards");
}

static void add_failure(const struct app *a, int item, struct lines *out)
{
    const struct failure *f = &a->failures.v[item];
    struct str silent = {0};
    str_add(&silent, f->silent.n ? "silent " : "nothing falls silent");
    say_labels(app_booth(a), &f->silent, &silent);
    lines_addf(out, item, f->silent.n ? LOOK_WARNING : LOOK_GOOD, 2, "%s: %s", f->what,
               str_text(&silent));
    str_clear(&silent);
    out->reading = true;
    add_decks(a, item, "heard elsewhere", &f->moved, out);
    add_decks(a, item, "without control", &f->uncontrolled, out);
    if (f->loses && item == a->item[PANE_FAILURES])
        add_way_back(app_booth(a), f, item, out);
    out->reading = false;
    if (f->loses && item == a->item[PANE_FAILURES])
        add_offer(a, f, item, out);
}

/* What was done, for hands to do it. */
static void add_taken(const struct app *a, const struct failure *f, struct lines *out)
{
    lines_addf(out, -1, LOOK_GOOD, 2, "%s died; taken:", f->what);
    add_ways(app_booth(a), f, -1, out);
    lines_add(out, -1, LOOK_DIM, 2, "u undoes it; at another box it is asked anew");
}

/* What is asked about, and where the laptop alone can fail there, why. */
static void say_asked(const struct app *a, struct str *out)
{
    const struct booth *b = app_booth(a);
    const char *name = a->selected.name;
    const struct device *d = booth_device(b, name);
    bool jack = drag_wants_jacks(&a->selected), laptop_alone = a->failures.n == 1;
    const char *after = ", if it dies:";
    if (booth_deck(b, name))
        after = laptop_alone ? " plays through no strip yet; if this dies:"
                             : " plays through these; if one dies:";
    else if (d && d->kind == KIND_MIXER && !d->card)
        after = " has no sound card that could fail; ask at its strips, one by one. If this dies:";
    else if (jack && laptop_alone)
        after = "; if this dies:";
    str_add(out, jack && laptop_alone ? "no cable at " : *after == ',' ? "at " : "");
    say_name(b, name, out);
    str_add(out, after);
}

void pane_failures_lines(const struct app *a, struct lines *out)
{
    const struct failure *taken = taken_last(a);
    if (taken) {
        add_taken(a, taken, out);
        return;
    }
    struct str asked = {0};
    say_asked(a, &asked);
    lines_add(out, -1, LOOK_DIM, 2, str_text(&asked));
    str_clear(&asked);
    for (size_t i = 0; i < a->failures.n; i++)
        add_failure(a, (int)i, out);
}

const struct booth *pane_failures_offer(const struct app *a, int item)
{
    const struct failure *f = item < (int)a->failures.n ? &a->failures.v[item] : NULL;
    return !f || is_by_hand(a, f) ? NULL : failure_after(f);
}

/* Why there is nothing to take. */
static enum effect take_nothing(struct app *a, const struct failure *f)
{
    if (!f || !f->loses)
        app_say(a, true, "nothing is lost by it");
    else if (f->back.plan.feasible && !f->back.plan.n)
        app_say(a, true, "there is nothing to do: %s", f->back.text);
    else if (failure_after(f))
        app_say(a, true, "do it by hand: nothing here is different afterwards");
    else
        app_say(a, true, "%s", f->back.plan.why_not);
    return EFFECT_BELL;
}

enum effect pane_failures_act(struct app *a, int item)
{
    struct failure *f = item < (int)a->failures.n ? &a->failures.v[item] : NULL;
    const struct booth *after = pane_failures_offer(a, item);
    if (!after)
        return take_nothing(a, f);
    if (taken_way_back(a, f, after))
        a->pane_scroll[PANE_FAILURES] = 0;
    return EFFECT_NONE;
}
