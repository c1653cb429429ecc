/* A gesture is looked ahead at every step: the shadow is the booth as it would be, derived and
 * laid out like the real one. The mouse is always measured against the real layout, so that what
 * is aimed at does not run away. */
#include "ui/gesture.h"

#include <string.h>

#include "model/say.h"
#include "ui/pane.h"

void gesture_look_ahead(struct app *a)
{
    struct changes c = {0};
    struct err e;
    app_preview(a, NULL);
    if (a->drag.over.kind && drag_changes(app_booth(a), &a->drag, &c)) {
        struct booth *next = booth_copy(app_booth(a));
        if (changes_make(next, &c, &e))
            app_preview(a, next);
        else
            app_say(a, true, "%s", e.says);
        booth_free(next);
    }
    changes_clear(&c);
}

void gesture_end(struct app *a)
{
    if (a->drag.from.kind)
        app_preview(a, NULL);
    a->drag = (struct drag){0};
}

void gesture_name(const struct app *a, struct str *out)
{
    const struct spot *s = &a->drag.from;
    str_add(out, s->kind == SPOT_OUTPUT  ? "a cable from "
                 : s->kind == SPOT_INPUT ? "the plug in "
                                         : "");
    say_name(app_booth(a), s->name, out);
}

void gesture_say(const struct app *a, struct str *out)
{
    struct changes c = {0};
    if (a->drag.over.kind && drag_changes(app_booth(a), &a->drag, &c))
        changes_say(app_booth(a), &c, out);
    changes_clear(&c);
}

bool gesture_pick_up(struct app *a, struct spot s)
{
    if (!drag_can_start(app_booth(a), &s))
        return false;
    gesture_end(a);
    a->drag = (struct drag){.from = s, .over = s, .by_keys = true};
    app_reveal(a);
    return true;
}

void gesture_carry(struct app *a, int dx, int dy)
{
    struct spot next = canvas_step(a->canvas, &a->drag.over, dx, dy, false);
    if (drag_wants_jacks(&a->drag.from))
        next = canvas_step(a->canvas, &a->drag.over, dx, dy, true);
    a->drag.over = next;
    a->drag.moved = true;
    gesture_look_ahead(a);
    app_reveal(a);
}

enum effect gesture_drop(struct app *a)
{
    struct changes c = {0};
    struct str what = {0};
    struct spot from = a->drag.from;
    gesture_say(a, &what);
    bool means = drag_changes(app_booth(a), &a->drag, &c);
    gesture_end(a);
    if (means && app_change(a, &c, str_text(&what)) && from.kind != SPOT_OUTPUT &&
        from.kind != SPOT_INPUT)
        a->selected = from;
    if (!means)
        app_say(a, false, "put back: nothing changed");
    str_clear(&what);
    changes_clear(&c);
    app_reveal(a);
    return EFFECT_NONE;
}

/* --- the mouse -------------------------------------------------------------------------------- */

static bool inside(struct rect r, const struct event *ev)
{
    return ev->column >= r.x && ev->column < r.x + r.w && ev->row >= r.y && ev->row < r.y + r.h;
}

static struct spot under(const struct app *a, const struct event *ev)
{
    struct rect r = app_canvas_rect(a);
    if (!inside(r, ev))
        return (struct spot){0};
    return canvas_hit(a->canvas, ev->column - r.x + a->scroll_x, ev->row - r.y + a->scroll_y);
}

/* A click that stayed where it was: turns what can be turned. */
static void click(struct app *a, const struct spot *s)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    if (s->kind == SPOT_SELECTOR && ref_split(s->name, owner, jack)) {
        app_change_one(a, change_of(CHANGE_SELECT, owner, jack));
    } else if (s->kind == SPOT_SOURCE) {
        const struct device *d = booth_device(app_booth(a), s->name);
        struct change c = change_of(CHANGE_SOURCE, s->name, "");
        c.number = d && d->source == SOURCE_COMPUTER ? SOURCE_OWN_MEDIA : SOURCE_COMPUTER;
        app_change_one(a, c);
    }
}

/* The box that a spot belongs to. */
static struct spot box_of(const struct app *a, const struct spot *s)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    if (s->kind == SPOT_SOURCE)
        return spot_of(SPOT_DEVICE, s->name);
    if (s->kind != SPOT_SELECTOR || !ref_split(s->name, owner, jack))
        return *s;
    return spot_of(booth_strip(app_booth(a), owner, NULL) ? SPOT_STRIP : SPOT_DEVICE, owner);
}

static enum effect press(struct app *a, const struct event *ev)
{
    struct rect pane = app_pane_rect(a);
    if (a->pane_shown && inside(pane, ev))
        return pane_click(a, ev->row - pane.y);
    struct spot s = under(a, ev);
    gesture_end(a);
    if (a->pane_shown && a->pane_keys && a->pane == PANE_CHECK) {
        struct spot box = box_of(a, &s);
        if (box.kind == SPOT_STRIP) {
            pane_check_mark(a, box.name);
            return EFFECT_NONE;
        }
    }
    a->pane_keys = false;
    if (!s.kind)
        return EFFECT_NONE;
    a->selected = box_of(a, &s);
    a->drag = (struct drag){.from = s, .over = s, .column = ev->column, .row = ev->row};
    return EFFECT_NONE;
}

static void scroll_at_edges(struct app *a, const struct event *ev)
{
    struct rect r = app_canvas_rect(a);
    int width, height;
    canvas_size(a->canvas, &width, &height);
    if (ev->column <= r.x && a->scroll_x > 0)
        a->scroll_x--;
    if (ev->column >= r.x + r.w - 1 && a->scroll_x < width - r.w)
        a->scroll_x++;
    if (ev->row <= r.y && a->scroll_y > 0)
        a->scroll_y--;
    if (ev->row >= r.y + r.h - 1 && a->scroll_y < height - r.h)
        a->scroll_y++;
}

static void move(struct app *a, const struct event *ev)
{
    if (!a->drag.from.kind || a->drag.by_keys)
        return;
    scroll_at_edges(a, ev);
    struct spot over = under(a, ev);
    a->drag.column = ev->column;
    a->drag.row = ev->row;
    if (spot_same(&over, &a->drag.over))
        return;
    a->drag.over = over;
    a->drag.moved = true;
    gesture_look_ahead(a);
}

static enum effect lift(struct app *a, const struct event *ev)
{
    if (!a->drag.from.kind || a->drag.by_keys)
        return EFFECT_NONE;
    move(a, ev);
    if (a->drag.moved)
        return gesture_drop(a);
    struct spot s = a->drag.from;
    gesture_end(a);
    click(a, &s);
    return EFFECT_NONE;
}

static void wheel(struct app *a, const struct event *ev)
{
    struct rect r = app_canvas_rect(a);
    int width, height;
    if (a->pane_shown && inside(app_pane_rect(a), ev)) {
        pane_wheel(a, ev->key);
        return;
    }
    canvas_size(a->canvas, &width, &height);
    int scroll = a->scroll_y + 3 * ev->key, most = height - r.h;
    a->scroll_y = scroll > most ? most : scroll;
    if (a->scroll_y < 0)
        a->scroll_y = 0;
}

enum effect gesture_mouse(struct app *a, const struct event *ev)
{
    switch (ev->kind) {
    case EVENT_PRESS:
        return ev->button == 1 ? press(a, ev) : EFFECT_NONE;
    case EVENT_MOVE:
        move(a, ev);
        return EFFECT_NONE;
    case EVENT_LIFT:
        return lift(a, ev);
    default:
        wheel(a, ev);
        return EFFECT_NONE;
    }
}
