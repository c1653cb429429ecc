/* Top line, canvas, pane, the next sensible step, and one line for keys, prompts and messages. */
#include "ui/scene.h"

#include <stdio.h>
#include <string.h>

#include "base/utf8.h"
#include "ui/gesture.h"
#include "ui/pane.h"
#include "ui/prompted.h"
#include "ui/start.h"

/* --- the top line ----------------------------------------------------------------------------- */

static const char *way_in(const struct booth *b)
{
    bool mixer = false, player = false, interface = false;
    for (size_t i = 0; i < b->joined.n; i++) {
        enum device_kind kind = booth_device(b, b->joined.v[i])->kind;
        mixer = mixer || kind == KIND_MIXER;
        player = player || kind == KIND_PLAYER;
        interface = interface || kind == KIND_INTERFACE || kind == KIND_CONTROLLER;
    }
    if (mixer + player + interface > 1)
        return "mixed cards";
    return mixer       ? "mixer's card"
           : player    ? "players' cards"
           : interface ? "patched interface"
                       : "no interface yet";
}

static void count(struct str *out, size_t n, const char *what)
{
    if (n)
        str_addf(out, "%s%zu %s%s", out->len ? "  " : "", n, what, n == 1 ? "" : "s");
}

static void count_faults(const struct faults *f, struct str *out)
{
    count(out, f->count[SEVERITY_ERROR], "error");
    count(out, f->count[SEVERITY_WARNING], "warning");
    if (!out->len)
        count(out, f->count[SEVERITY_NOTE], "note");
    if (!out->len)
        str_add(out, "no faults");
}

/* How many faults there are, and whether it is saved; of a booth that is only shown as it would be,
 * how many it would have. */
static void say_state(const struct app *a, struct str *out)
{
    struct str faults = {0};
    count_faults(&app_shown(a)->faults, &faults);
    str_addf(out, "%s%s", a->shadow_derived ? "preview: " : "", str_text(&faults));
    if (!a->shadow_derived)
        str_add(out, a->read_only ? "  read only" : !app_is_saved(a) ? "  unsaved" : "  saved");
    str_clear(&faults);
}

static void draw_title(const struct app *a, struct grid *g)
{
    const struct booth *b = app_shown(a)->circuit->booth;
    struct str left = {0}, right = {0};
    if (booth_live(b))
        str_add(&left, "LIVE ROOM  ");
    str_add(&left, b->venue.name);
    if (b->venue.room)
        str_addf(&left, ", %s", b->venue.room);
    say_state(a, &right);
    grid_fill(g, 0, 0, g->columns, 1, LOOK_TITLE);
    int room = g->columns - utf8_columns(str_text(&right), a->ascii) - 3;
    int used = grid_put(g, 1, 0, room, LOOK_TITLE, str_text(&left));
    struct str middle = {0};
    str_addf(&middle, "  %s  %d.%d kHz  %s", way_in(b), b->host.rate_hz / 1000,
             b->host.rate_hz % 1000 / 100,
             word_people(&words_channel_names, (int)b->host.channel_names));
    if (used + utf8_columns(str_text(&middle), a->ascii) < room)
        grid_put(g, 1 + used, 0, -1, LOOK_TITLE, str_text(&middle));
    grid_put(g, g->columns - utf8_columns(str_text(&right), a->ascii) - 1, 0, -1,
             a->shadow_derived ? LOOK_CARRIED : LOOK_TITLE, str_text(&right));
    str_clear(&left);
    str_clear(&middle);
    str_clear(&right);
}

/* --- canvas and pane -------------------------------------------------------------------------- */

static void draw_canvas(const struct app *a, struct grid *g)
{
    const struct fault *f = a->fault >= 0 ? &a->derived->faults.v[a->fault] : NULL;
    struct canvas_marks marks = {
        .selected = a->pane_keys && !f ? (struct spot){0} : a->selected,
        .carried = a->drag.moved || a->drag.by_keys ? a->drag.from : (struct spot){0},
        .target = a->drag.over,
        .named = f && !a->shadow_canvas ? &f->subjects : NULL,
        .listening = a->pane_shown && a->pane == PANE_CHECK && !a->shadow_canvas};
    canvas_draw(a->shadow_canvas ? a->shadow_canvas : a->canvas, g, app_canvas_rect(a), a->scroll_x,
                a->scroll_y, &marks);
}

/* What is in hand rides beside the mouse. */
static void draw_carried(const struct app *a, struct grid *g)
{
    if (!a->drag.moved || a->drag.by_keys)
        return;
    struct str text = {0};
    str_add(&text, " ");
    gesture_name(a, &text);
    str_add(&text, " ");
    int w = utf8_columns(str_text(&text), a->ascii);
    int x = a->drag.column + 1 + w > g->columns ? a->drag.column - w : a->drag.column + 1;
    grid_put(g, x, a->drag.row, w, LOOK_CARRIED, str_text(&text));
    str_clear(&text);
}

static void draw_pane(const struct app *a, struct grid *g)
{
    struct rect r = app_pane_rect(a);
    if (!a->pane_shown)
        return;
    for (int y = 1; y < a->rows - 2; y++)
        grid_arms(g, r.x - 1, y, ARM_UP | ARM_DOWN, LINE_LIGHT, LOOK_DIM);
    const char *title = a->form               ? a->form->title
                        : pane_check_marks(a) ? "Line check: 0-9 mark"
                                              : pane_of(a->pane)->title;
    grid_fill(g, r.x, r.y - 1, r.w, 1, LOOK_STRONG);
    bool keys = (a->pane_keys && !a->drag.by_keys) || a->form;
    grid_put(g, r.x + 1, r.y - 1, r.w - (keys ? 8 : 1), LOOK_STRONG, title);
    if (keys)
        grid_put(g, r.x + r.w - 6, r.y - 1, 6, LOOK_SELECTED, " keys ");
    struct lines l = pane_lines(a);
    int item = a->form ? a->form->cursor : l.items ? a->item[a->pane] : -1;
    int scroll = a->form ? lines_scroll(&l, item, 0, r.h) : a->pane_scroll[a->pane];
    int most = (int)l.n - r.h;
    scroll = scroll > most ? (most < 0 ? 0 : most) : scroll;
    lines_draw(&l, g, r, scroll, item, keys);
    lines_clear(&l);
}

/* --- the two lines at the bottom -------------------------------------------------------------- */

/* A sentence that ends in row y, after a head in its first row. One that is too long for the whole
 * row grows upwards, within so many columns, so that none of it is lost. */
static void draw_told(struct grid *g, struct rect r, enum look look, const char *head,
                      const char *text)
{
    int x = 1 + (*head ? utf8_columns(head, g->ascii) + 1 : 0);
    struct lines l = {.width = g->columns - x + 1, .ascii = g->ascii};
    lines_add(&l, -1, look, 0, text);
    if (l.n > 1) {
        lines_clear(&l);
        l.width = r.w - x + 1;
        lines_add(&l, -1, look, 0, text);
        grid_fill(g, 0, r.y - (int)l.n + 1, r.w, (int)l.n, LOOK_PLAIN);
    }
    for (int i = 0, y = r.y - (int)l.n + 1; i < (int)l.n; i++)
        grid_put(g, x, y + i, -1, look, l.v[i].text);
    grid_put(g, 1, r.y - (int)l.n + 1, -1, LOOK_STRONG, head);
    lines_clear(&l);
}

static bool in_hand(const struct app *a)
{
    return a->drag.from.kind && (a->drag.moved || a->drag.by_keys);
}

/* What Enter would put back, at the end of the night; NULL: the hands are elsewhere. */
static const char *putting_back(const struct app *a)
{
    int item = a->item[PANE_VISIT];
    if (!a->pane_shown || !a->pane_keys || a->pane != PANE_VISIT || !a->visit || !a->visit->whole)
        return NULL;
    const struct restore *back = &a->visit->back;
    bool can = item < (int)back->n && back->v[item].change.what != CHANGE_NONE;
    return can ? back->v[item].text : NULL;
}

/* The next sensible thing to do, in the words of the pane that is worked in. */
static void say_next(const struct app *a, struct str *out)
{
    bool died = a->pane_shown && a->pane == PANE_FAILURES && taken_last(a);
    bool taken = died || (a->pane_shown && a->pane == PANE_PLAN &&
                          pane_plan_is_taken(a, a->item[PANE_PLAN]));
    if (pane_check_next(a, out))
        return;
    struct spared spared = taken_spares(a);
    if (taken && !spared.instead)
        str_add(out, "do by hand what the pane lists, from the top");
    else
        derived_next(app_shown(a), &spared, out);
    spared_clear(&spared);
}

static void draw_next(const struct app *a, struct grid *g)
{
    struct str next = {0};
    struct rect r = app_canvas_rect(a);
    r.y = g->rows - 2;
    grid_fill(g, 0, r.y, g->columns, 1, LOOK_PLAIN);
    if (in_hand(a)) {
        gesture_say(a, &next);
        const char *head = next.len ? "drop:" : "in hand:";
        if (!next.len)
            gesture_name(a, &next);
        draw_told(g, r, LOOK_CARRIED, head, str_text(&next));
    } else if (a->previewing) {
        grid_put(g, 1, r.y, -1, LOOK_CARRIED, "as it would be left: Enter takes it");
    } else if (putting_back(a)) {
        draw_told(g, r, LOOK_PLAIN, "put back:", putting_back(a));
    } else {
        say_next(a, &next);
        draw_told(g, r, LOOK_PLAIN, "next:", str_text(&next));
    }
    str_clear(&next);
}

static void draw_question(const struct app *a, struct grid *g, int y)
{
    struct str text = {0};
    str_addf(&text, "%s: ", a->question.text);
    for (size_t i = 0; i < a->question.n; i++)
        str_addf(&text, "%c %s, ", a->question.answers[i].key, a->question.answers[i].word);
    str_add(&text, "Esc back");
    int over = utf8_columns(str_text(&text), a->ascii) - (g->columns - 2);
    if (over > 0) { /* two lines: the question above */
        grid_fill(g, 0, y - 1, g->columns, 1, LOOK_STRONG);
        grid_put(g, 1, y - 1, -1, LOOK_STRONG, a->question.text);
        str_clear(&text);
        for (size_t i = 0; i < a->question.n; i++)
            str_addf(&text, "%c %s, ", a->question.answers[i].key, a->question.answers[i].word);
        str_add(&text, "Esc back");
    }
    grid_put(g, 1, y, -1, LOOK_STRONG, str_text(&text));
    str_clear(&text);
}

/* Where in a text to begin, so that what is before the cursor fits into so many columns. */
static size_t prompt_from(const char *before, int room, bool ascii)
{
    size_t from = 0;
    int over;
    while ((over = utf8_columns(before + from, ascii) - room) > 0)
        for (int skip = over / 8 + 1; skip > 0 && before[from]; skip--) {
            uint32_t point;
            size_t n = utf8_next(before + from, strlen(before + from), &point);
            from += n ? n : 1;
        }
    return from;
}

static void draw_prompt(const struct app *a, struct grid *g, int y)
{
    int x = 1 + grid_putf(g, 1, y, -1, LOOK_STRONG, "%s: ", prompted_words(a->purpose));
    struct str before = {0};
    str_addn(&before, str_text(&a->prompt.text), a->prompt.at);
    size_t from = prompt_from(str_text(&before), g->columns - x - 1, a->ascii);
    grid_put(g, x, y, -1, a->prompt.whole ? LOOK_SELECTED : LOOK_PLAIN,
             str_text(&a->prompt.text) + from);
    g->cursor_x = x + utf8_columns(str_text(&before) + from, a->ascii);
    g->cursor_y = y;
    str_clear(&before);
}

static const char *check_hints(const struct app *a)
{
    int line = a->item[PANE_CHECK] - (int)app_booth(a)->decks.n;
    const struct explanation *e = diagnosis_line(&a->diagnosis, line);
    if (pane_check_marks(a))
        return "1-9 mark the strip, 0 silence, y x l r sides, u undoes, Enter next, Tab leaves";
    return !e     ? "x it may be that after all, Tab leaves   ? all keys"
           : e->n ? "Enter mends it, x it is not that, u undoes, Tab leaves   ? all keys"
                  : "Enter mends it, u undoes, Tab leaves   ? all keys";
}

static const char *hints(const struct app *a)
{
    if (a->form)
        return "arrows choose, Enter or typing changes, left/right turns a choice, Esc done";
    if (in_hand(a) && !a->drag.by_keys)
        return "let go where it belongs; back where it was, or Esc, changes nothing";
    if (a->drag.from.kind && a->drag.by_keys)
        return drag_wants_jacks(&a->drag.from)
                   ? "arrows to a jack, space plugs in, c next jack, x sides, d unplugs, Esc back"
                   : "arrows carry it, space puts it down, Esc back";
    if (a->pane_keys && a->pane_shown)
        return a->pane == PANE_CHECKLIST ? "arrows, space ticks, e note, Tab back   ? all keys"
               : a->pane == PANE_PLAN && pane_plan_is_taken(a, a->item[PANE_PLAN])
                   ? "PgDn reads on, arrows to the ways, Tab back   ? all keys"
               : a->pane == PANE_PLAN
                   ? "arrows choose a way, PgDn reads on, Enter takes it, Tab back   ? all keys"
               : a->pane == PANE_CHECK ? check_hints(a)
               : a->pane == PANE_FAILURES && taken_last(a)
                   ? "PgDn reads on, u undoes it, Tab to the boxes   ? all keys"
               : a->pane == PANE_FAILURES
                   ? "arrows, PgDn reads on, Enter takes the way back, Tab back   ? all keys"
               : a->pane == PANE_KEYS || a->pane == PANE_DETAILS
                   ? "arrows scroll, Tab back   ? all keys"
               : a->pane == PANE_BUDGET
                   ? "arrows go through it, L a measured level, Tab back   ? all keys"
               : a->pane == PANE_VISIT ? "arrows, Enter puts it back, Tab back   ? all keys"
                                       : "arrows, Enter goes there, f fixes, Tab back   ? all keys";
    return "space picks up  c cable  t turn  n fault  f fix  u undo  w save  ? all keys";
}

static void draw_bottom(const struct app *a, struct grid *g)
{
    int y = g->rows - 1;
    grid_fill(g, 0, y, g->columns, 1, LOOK_DIM);
    if (a->question.text)
        draw_question(a, g, y);
    else if (a->purpose)
        draw_prompt(a, g, y);
    else if (a->message)
        draw_told(g, (struct rect){0, y, g->columns, 1}, a->complains ? LOOK_ERROR : LOOK_GOOD, "",
                  a->message);
    else if (a->screen == SCREEN_BOOTH)
        grid_put(g, 1, y, -1, LOOK_DIM, hints(a));
}

void scene_draw(const struct app *a, struct grid *g)
{
    grid_blank(g);
    if (g->columns < APP_COLUMNS || g->rows < APP_ROWS) {
        grid_putf(g, 0, 0, -1, LOOK_STRONG, "needs %dx%d, this window is %dx%d", APP_COLUMNS,
                  APP_ROWS, g->columns, g->rows);
        return;
    }
    if (a->screen == SCREEN_BOOTH) {
        draw_canvas(a, g);
        draw_pane(a, g);
        draw_title(a, g);
        draw_next(a, g);
        draw_carried(a, g);
    } else {
        start_draw(a, g);
    }
    draw_bottom(a, g);
}
