/* The state of the editor and the one door for change.
 *
 * Events go to whoever has the hands: an open question, a prompt, a form, what is carried, the
 * pane, and last the booth screen's keys. Everything shown follows from the history's booth; while
 * something is carried, a shadow of it shows what putting it down would make. */
#include "ui/app.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/ears.h"
#include "engine/mend.h"
#include "model/found.h"
#include "model/layout.h"
#include "model/shape.h"
#include "ui/gesture.h"
#include "ui/keymap.h"
#include "ui/pane.h"
#include "ui/prompted.h"
#include "ui/start.h"

/* --- life ------------------------------------------------------------------------------------- */

struct app *app_new(void)
{
    struct app *a = mem_new(1, sizeof *a);
    a->columns = APP_COLUMNS;
    a->rows = APP_ROWS;
    a->pane_shown = true;
    a->fault = -1;
    a->mend_of = -1;
    a->listening = -1;
    a->level = EARS_UNTOLD;
    a->fresh = (struct fresh){.name = mem_text("New venue"),
                              .players = 4,
                              .decks = 4,
                              .strips = mem_text("1 2 3 4"),
                              .way = WAY_PLAYER_CARDS};
    return a;
}

void app_preview(struct app *a, const struct booth *b)
{
    budget_free(a->budget);
    visit_free(a->visit);
    a->budget = NULL;
    a->visit = NULL;
    canvas_free(a->shadow_canvas);
    derived_free(a->shadow_derived);
    booth_free(a->shadow);
    a->shadow_canvas = NULL;
    a->shadow_derived = NULL;
    a->shadow = b ? booth_copy(b) : NULL;
    if (!b)
        return;
    struct rect r = app_canvas_rect(a);
    a->shadow_derived = derived_make(a->shadow);
    a->shadow_canvas = canvas_make(a->shadow_derived, r.w, r.h);
}

void app_diagnose_anew(struct app *a)
{
    if (a->diagnosed)
        diagnosis_clear(&a->diagnosis);
    a->diagnosed = false;
    mend_free(a->mend);
    a->mend = NULL;
    a->mend_of = -1;
}

static void forget_derived(struct app *a)
{
    gesture_end(a);
    app_preview(a, NULL);
    plans_free(a->plans);
    a->plans = NULL;
    failures_clear(&a->failures);
    app_diagnose_anew(a);
    canvas_free(a->canvas);
    derived_free(a->derived);
    a->canvas = NULL;
    a->derived = NULL;
}

static void close_question(struct app *a)
{
    mem_free(a->question.text);
    a->question = (struct question){0};
}

void app_free(struct app *a)
{
    if (!a)
        return;
    forget_derived(a);
    close_question(a);
    form_free(a->form);
    prompt_clear(&a->prompt);
    struck_clear(&a->struck);
    taken_clear(&a->taken);
    history_free(a->history);
    booth_free(a->opened);
    for (size_t i = 0; i < a->start.n; i++) {
        mem_free(a->start.items[i].name);
        mem_free(a->start.items[i].says);
    }
    mem_free(a->start.items);
    mem_free(a->fresh.name);
    mem_free(a->fresh.strips);
    mem_free(a->subject);
    mem_free(a->message);
    mem_free(a->asked);
    mem_free(a->path);
    mem_free(a);
}

/* --- what follows from the booth -------------------------------------------------------------- */

static void lay_out(struct app *a)
{
    struct rect r = app_canvas_rect(a);
    canvas_free(a->canvas);
    a->canvas = a->derived ? canvas_make(a->derived, r.w, r.h) : NULL;
}

static void clamp_cursors(struct app *a)
{
    if (a->fault >= (int)a->derived->faults.n)
        a->fault = (int)a->derived->faults.n - 1;
    struct rect r;
    if (!canvas_where(a->canvas, &a->selected, &r))
        a->selected = canvas_step(a->canvas, &a->selected, 0, 0, false);
}

/* The booth moved: everything is computed again, whole. */
void app_moved(struct app *a)
{
    forget_derived(a);
    a->derived = derived_make(history_booth(a->history));
    lay_out(a);
    clamp_cursors(a);
    app_reveal(a);
}

void app_open(struct app *a, struct booth *b, const char *path)
{
    forget_derived(a);
    taken_clear(&a->taken);
    a->failing = (struct spot){.kind = SPOT_NONE};
    history_free(a->history);
    booth_free(a->opened);
    a->opened = booth_copy(b);
    a->history = history_new(b);
    char *copy = mem_text(path);
    mem_free(a->path);
    a->path = copy;
    a->screen = SCREEN_BOOTH;
    a->fault = -1;
    a->listening = -1;
    a->selected = (struct spot){0};
    a->scroll_x = a->scroll_y = 0;
    memset(a->item, 0, sizeof a->item);
    memset(a->pane_scroll, 0, sizeof a->pane_scroll);
    app_moved(a);
}

void app_list(struct app *a, const char *name, const char *says)
{
    struct start *s = &a->start;
    s->items = mem_grow(s->items, &s->cap, s->n + 1, sizeof *s->items);
    s->items[s->n++] = (struct start_item){mem_text(name), mem_text(says)};
}

const struct derived *app_shown(const struct app *a)
{
    return a->shadow_derived ? a->shadow_derived : a->derived;
}

const struct booth *app_booth(const struct app *a)
{
    return history_booth(a->history);
}

/* --- the window ------------------------------------------------------------------------------- */

static int pane_share(const struct app *a)
{
    int w = a->columns * 7 / 20;
    return !a->pane_shown ? 0 : w < 28 ? 28 : w > 48 ? 48 : w;
}

struct rect app_canvas_rect(const struct app *a)
{
    int pane = pane_share(a);
    return (struct rect){0, 1, a->columns - pane - (pane ? 1 : 0), a->rows - 3};
}

struct rect app_pane_rect(const struct app *a)
{
    int w = pane_share(a);
    return (struct rect){a->columns - w, 2, w, a->rows - 4};
}

static int kept_in(int scroll, int at, int size, int window, int whole)
{
    if (at + size > scroll + window)
        scroll = at + size - window;
    if (at < scroll)
        scroll = at;
    if (scroll > whole - window)
        scroll = whole - window;
    return scroll < 0 ? 0 : scroll;
}

void app_reveal(struct app *a)
{
    struct rect window = app_canvas_rect(a), r = {0};
    int width, height;
    if (!a->canvas)
        return;
    canvas_size(a->canvas, &width, &height);
    const struct spot *s = a->drag.over.kind ? &a->drag.over : &a->selected;
    if (!canvas_where(a->canvas, s, &r))
        r = (struct rect){a->scroll_x, a->scroll_y, 1, 1};
    a->scroll_x = kept_in(a->scroll_x, r.x, r.w, window.w, width);
    a->scroll_y = kept_in(a->scroll_y, r.y, r.h, window.h, height);
}

/* --- what the world and the keys say ---------------------------------------------------------- */

void app_say(struct app *a, bool complaint, const char *fmt, ...)
{
    char text[1024];
    va_list args;
    va_start(args, fmt);
    vsnprintf(text, sizeof text, fmt, args);
    va_end(args);
    text_set(&a->message, text);
    a->complains = complaint;
}

void app_ask(struct app *a, const char *text, const struct answer *answers, size_t n)
{
    close_question(a);
    a->question.text = mem_text(text);
    for (size_t i = 0; i < n && i < sizeof a->question.answers / sizeof *answers; i++)
        a->question.answers[a->question.n++] = answers[i];
}

void app_saved(struct app *a, const char *path)
{
    char *copy = mem_text(path);
    mem_free(a->path);
    a->path = copy;
    history_saved(a->history);
}

bool app_is_saved(const struct app *a)
{
    return a->path && history_is_saved(a->history);
}

bool app_commit(struct app *a, struct booth *next, const char *what)
{
    if (a->read_only) {
        booth_free(next);
        app_say(a, true, "this venue is open for reading only");
        return false;
    }
    found_keep_before(app_booth(a), next);
    size_t steps = history_done(a->history);
    if (!history_commit(a->history, next, what))
        return false;
    taken_forget(&a->taken, steps);
    app_moved(a);
    return true;
}

bool app_change(struct app *a, const struct changes *c, const char *what)
{
    struct booth *next = booth_copy(app_booth(a));
    struct err e;
    if (!changes_make(next, c, &e)) {
        booth_free(next);
        app_say(a, true, "%s%s%s", e.place, *e.place ? ": " : "", e.says);
        return false;
    }
    bool done = app_commit(a, next, what);
    if (done || !a->read_only)
        app_say(a, false, "%s", done ? what : "nothing changed: it is so already");
    return done;
}

bool app_change_one(struct app *a, struct change c)
{
    struct changes one = {0};
    struct str what = {0};
    changes_add(&one, c);
    change_say(app_booth(a), &c, &what);
    bool done = app_change(a, &one, str_text(&what));
    str_clear(&what);
    changes_clear(&one);
    return done;
}

/* --- events ----------------------------------------------------------------------------------- */

static enum effect answer(struct app *a, int key)
{
    struct question q = a->question;
    if (key == K_ESC) {
        close_question(a);
        return EFFECT_NONE;
    }
    for (size_t i = 0; i < q.n; i++) {
        if (q.answers[i].key != key)
            continue;
        close_question(a);
        if (q.answers[i].then)
            q.answers[i].then(a);
        return q.answers[i].effect;
    }
    return EFFECT_BELL;
}

/* Every value that was finished in a form is a step of its own, kept at once. */
static void commit_form(struct app *a)
{
    struct str what = {0};
    str_addf(&what, "change %s", a->form->title);
    app_commit(a, booth_copy(a->form->booth), str_text(&what));
    form_follow(a->form, app_booth(a));
    str_clear(&what);
}

static enum effect in_form(struct app *a, const struct event *ev)
{
    struct rect r = app_pane_rect(a);
    if (ev->kind == EVENT_PRESS && ev->column >= r.x && ev->row >= r.y) {
        struct lines l = pane_lines(a);
        int scroll = lines_scroll(&l, a->form->cursor, 0, r.h);
        form_click(a->form, lines_item_at(&l, scroll, ev->row - r.y));
        lines_clear(&l);
        commit_form(a);
        return EFFECT_NONE;
    }
    bool goes_on = form_event(a->form, ev);
    if (!goes_on || !a->form->typing)
        commit_form(a);
    if (!goes_on) {
        form_free(a->form);
        a->form = NULL;
    }
    return EFFECT_NONE;
}

static enum effect resize(struct app *a, const struct event *ev)
{
    a->columns = ev->column;
    a->rows = ev->row;
    if (a->derived) {
        gesture_end(a);
        lay_out(a);
        app_reveal(a);
    }
    return EFFECT_NONE;
}

static enum effect press_key(struct app *a, int key)
{
    text_set(&a->message, NULL);
    bool walks = key == K_UP || key == K_DOWN || key == K_HOME || key == K_END || key == K_ENTER ||
                 key == ' ';
    bool pane = a->pane_keys && a->pane_shown && !a->drag.from.kind;
    if (pane && a->pane == PANE_CHECK && pane_check_key(a, key))
        return EFFECT_NONE;
    if (pane && walks)
        return pane_key(a, key);
    const struct key_row *row = keymap_find(key);
    if (row)
        return row->act(a);
    app_say(a, true, "that key does nothing here; ? shows all keys");
    return EFFECT_BELL;
}

/* The booth that the cursor of a pane stands for, or NULL: a plan's or a way back's. */
static const struct booth *offered(const struct app *a)
{
    int item = a->item[a->pane];
    if (a->pane == PANE_PLAN)
        return pane_plan_offer(a, item);
    if (a->pane == PANE_FAILURES)
        return pane_failures_offer(a, item);
    if (a->pane == PANE_CHECK && a->mend && a->mend->feasible)
        return a->mend->after;
    return NULL;
}

/* A deck's mark may begin afresh once the cursor newly came to it. */
static void follow_listening(struct app *a)
{
    if (a->item[PANE_CHECK] == a->listening)
        return;
    a->listening = a->item[PANE_CHECK];
    a->grows_from = SIZE_MAX;
}

/* The line check's explanations, and the mend of the one under the cursor. */
static void follow_check(struct app *a)
{
    if (!a->diagnosed) {
        struct texts out = {0};
        struck_follow(&a->struck, app_booth(a));
        struck_names(&a->struck, &out);
        a->diagnosis = diagnosis_without(app_booth(a), &out);
        texts_clear(&out);
        if (a->listening < 0 && a->diagnosis.marks == 0 && a->diagnosis.next_deck >= 0)
            a->item[PANE_CHECK] = a->diagnosis.next_deck;
    }
    a->diagnosed = true;
    follow_listening(a);
    int which = a->item[PANE_CHECK] - (int)app_booth(a)->decks.n;
    const struct explanation *e = diagnosis_line(&a->diagnosis, which);
    if (!e || (e->n == 0 && a->diagnosis.n_amiss == 0))
        which = -1;
    if (which == a->mend_of)
        return;
    mend_free(a->mend);
    a->mend = which < 0 ? NULL : mend_make(&a->diagnosis, e);
    a->mend_of = which;
    if (a->mend)
        pane_move_to(a, a->item[PANE_CHECK]); /* with what its mend says */
}

/* What is made of the booth as it is shown, be it only a preview. */
static void follow_shown(struct app *a, const struct booth *b)
{
    bool visit = a->pane == PANE_VISIT, routes = a->pane == PANE_ROUTES;
    if (a->pane == PANE_BUDGET && !a->budget)
        a->budget = budget_make(b);
    if ((visit || routes) && (!a->visit || visit > a->visit->whole)) {
        visit_free(a->visit);
        a->visit = visit_make(a->opened, b, visit);
    }
}

/* What fails at the selected box; after undo and redo the cursor stays with the same. A way back
 * that was taken there is what the pane shows, until another box is asked about. */
static void follow_failures(struct app *a)
{
    unsigned long revision = history_revision(a->history);
    bool other = !spot_same(&a->failing, &a->selected);
    taken_follow(a);
    if (taken_last(a) || (!other && a->failed_at == revision))
        return;
    failures_clear(&a->failures);
    a->failures = failures_around(app_booth(a), a->selected.name);
    a->failing = a->selected;
    a->failed_at = revision;
    if (other)
        a->item[PANE_FAILURES] = a->pane_scroll[PANE_FAILURES] = 0;
    pane_move_to(a, a->item[PANE_FAILURES]);
}

/* What some panes show is made once it is looked at; what the cursor stands for is shown on the
 * canvas while the pane has the keys. */
void app_follow(struct app *a)
{
    bool shown = a->screen == SCREEN_BOOTH && a->pane_shown && !a->form;
    if (shown && a->pane == PANE_PLAN && !a->plans) {
        a->plans = plans_make(app_booth(a));
        pane_reveal(a);
    }
    if (shown && a->pane == PANE_FAILURES)
        follow_failures(a);
    if (shown && a->pane == PANE_CHECK)
        follow_check(a);
    else
        a->listening = -1;
    const struct booth *next = shown && a->pane_keys && !a->drag.from.kind ? offered(a) : NULL;
    if (next || (a->previewing && !a->drag.from.kind))
        app_preview(a, next);
    a->previewing = next != NULL;
    if (shown)
        follow_shown(a, app_shown(a)->circuit->booth);
}

static enum effect handle(struct app *a, const struct event *ev)
{
    if (ev->kind == EVENT_RESIZE)
        return resize(a, ev);
    if (ev->kind == EVENT_KEY && ev->key == K_CTRL('z'))
        return EFFECT_SUSPEND;
    if (ev->kind == EVENT_KEY && ev->key == K_CTRL('l'))
        return EFFECT_REPAINT;
    if (a->question.text)
        return ev->kind == EVENT_KEY ? answer(a, ev->key) : EFFECT_NONE;
    if (a->purpose)
        return prompted_event(a, ev);
    if (a->screen != SCREEN_BOOTH)
        return start_event(a, ev);
    if (a->form)
        return in_form(a, ev);
    switch (ev->kind) {
    case EVENT_KEY:
        return press_key(a, ev->key);
    case EVENT_PRESS:
        text_set(&a->message, NULL);
        return gesture_mouse(a, ev);
    case EVENT_MOVE:
    case EVENT_LIFT:
    case EVENT_WHEEL:
        return gesture_mouse(a, ev);
    default:
        return EFFECT_NONE;
    }
}

enum effect app_update(struct app *a, const struct event *ev)
{
    enum effect effect = handle(a, ev);
    app_follow(a);
    return effect;
}
