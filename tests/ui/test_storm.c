/* A storm of events over random booths: whatever is typed, dragged, clicked, pasted or resized, in
 * whatever order, nothing breaks, the booth stays sound, and undo leads all the way back. */
#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "file/venue.h"
#include "model/sound.h"
#include "support/booth_from.h"
#include "support/play_file.h"
#include "ui/keymap.h"
#include "ui/pane.h"

enum { STORMS = 20, EVENTS = 600, MOVED = 2 };

struct storm {
    struct play p;
    unsigned seed;
    unsigned long long state;
    int event; /* how many came before this one */
    int moved; /* how often the booth changed */
};

static int below(struct storm *s, int n)
{
    return (int)random_below(&s->state, (unsigned)n);
}

static char *bytes_of(const struct booth *b)
{
    struct str out = {0};
    venue_write(b, &out);
    return str_take(&out);
}

/* --- the weather ------------------------------------------------------------------------------ */

static int some_key(struct storm *s)
{
    static const int others[] = {K_PAGE_UP, K_PAGE_DOWN, K_BACKSPACE, K_INSERT,      K_SHIFT_UP,
                                 K_F1 + 5,  K_CTRL('u'), K_CTRL('a'), K_SHIFT_RIGHT, 0x1f39b,
                                 0x202e,    0x301,       0x6f22,      '+',           '-'};
    static const int often[] = {K_UP, K_DOWN, K_LEFT, K_RIGHT, K_ENTER, ' ', K_ESC, K_TAB};
    const struct question *q = &s->p.app->question;
    size_t rows = 0;
    while (keymap_row(rows))
        rows++;
    if (q->text && below(s, 2))
        return q->answers[below(s, (int)q->n)].key;
    if ((s->p.app->purpose || s->p.app->form) && below(s, 5) == 0)
        return below(s, 2) ? K_ENTER : K_ESC;
    switch (below(s, 8)) {
    case 0:
        return others[below(s, sizeof others / sizeof *others)];
    case 1:
        return ' ' + below(s, 95);
    case 2:
    case 3:
    case 4:
        return often[below(s, sizeof often / sizeof *often)];
    default:
        return keymap_row((size_t)below(s, (int)rows))->key;
    }
}

/* A cell of the window, more often than not one where something can be taken hold of. */
static void aim(struct storm *s, struct event *ev)
{
    const struct app *a = s->p.app;
    struct rect r = app_canvas_rect(a);
    bool at_something = below(s, 4) > 0;
    for (int tries = 0; tries < 40; tries++) {
        ev->column = below(s, a->columns);
        ev->row = below(s, a->rows);
        struct spot hit = canvas_hit(a->canvas, ev->column - r.x + a->scroll_x,
                                     ev->row - r.y + a->scroll_y);
        if (!at_something || hit.kind)
            return;
    }
}

static struct event some_mouse(struct storm *s)
{
    static const enum event_kind kinds[] = {EVENT_PRESS, EVENT_MOVE, EVENT_MOVE,
                                            EVENT_LIFT,  EVENT_LIFT, EVENT_WHEEL};
    struct event ev = {.kind = kinds[below(s, 6)], .button = below(s, 12) ? 1 : 1 + below(s, 3)};
    aim(s, &ev);
    if (ev.kind == EVENT_WHEEL)
        ev.key = below(s, 2) ? 1 : -1;
    return ev;
}

static struct event some_event(struct storm *s)
{
    static const int sizes[][2] = {{80, 24}, {120, 40}, {200, 60}, {80, 25}, {1, 1}, {79, 50}};
    static const char *const pastes[] = {"", "a b", "\t\n", "\033[31m", "7 8 1 2", "Øre\xcc\x81"};
    int what = below(s, 100), size = below(s, 6), text = below(s, 6);
    if (what < 55)
        return (struct event){.kind = EVENT_KEY, .key = some_key(s)};
    if (what < 93)
        return some_mouse(s);
    if (what < 96)
        return (struct event){.kind = EVENT_PASTE, .text = pastes[text]};
    if (what < 97)
        return (struct event){.kind = EVENT_NONE};
    return (struct event){.kind = EVENT_RESIZE, .column = sizes[size][0], .row = sizes[size][1]};
}

/* --- what must hold --------------------------------------------------------------------------- */

static void check_sound(const struct storm *s, const char *when)
{
    struct err e;
    ck_assert_msg(booth_sound(app_booth(s->p.app), &e), "seed %u, event %d, %s: %s %s", s->seed,
                  s->event, when, e.place, e.says);
}

static char *pane_text(const struct app *a)
{
    struct lines l = pane_lines(a);
    struct str out = {0};
    for (size_t i = 0; i < l.n; i++)
        str_addf(&out, "%d %s\n", l.v[i].item, l.v[i].text);
    lines_clear(&l);
    return str_take(&out);
}

/* What was made at an earlier event is still true of what is shown now. */
static void check_fresh(const struct storm *s)
{
    struct app *a = s->p.app;
    if (a->screen != SCREEN_BOOTH || !a->pane_shown || a->form)
        return;
    char *before = pane_text(a);
    budget_free(a->budget);
    visit_free(a->visit);
    a->budget = NULL;
    a->visit = NULL;
    app_follow(a);
    char *now = pane_text(a);
    ck_assert_msg(strcmp(before, now) == 0, "seed %u, event %d: the pane told\n%s\ninstead of\n%s",
                  s->seed, s->event, before, now);
    mem_free(before);
    mem_free(now);
}

static void send(struct storm *s, struct event ev)
{
    unsigned long revision = history_revision(s->p.app->history);
    s->p.effect = app_update(s->p.app, &ev);
    s->moved += history_revision(s->p.app->history) != revision;
    check_sound(s, "after it");
    if (s->p.effect == EFFECT_SAVE)
        app_saved(s->p.app, "storm.json");
    if (s->event++ % 3 == 0) {
        play_screen(&s->p);
        check_fresh(s);
    }
}

static void drag(struct storm *s)
{
    struct event ev = {.kind = EVENT_PRESS, .button = 1};
    aim(s, &ev);
    send(s, ev);
    ev.kind = EVENT_MOVE;
    aim(s, &ev);
    send(s, ev);
    ev.kind = EVENT_LIFT;
    send(s, ev);
}

static void let_go(struct storm *s)
{
    for (int i = 0; i < 4; i++)
        app_update(s->p.app, &(struct event){.kind = EVENT_KEY, .key = K_ESC});
    ck_assert_msg(!s->p.app->question.text && !s->p.app->purpose && !s->p.app->form,
                  "seed %u: Esc leads back from everywhere", s->seed);
    check_sound(s, "when all was let go");
}

static void same_bytes(const struct storm *s, const char *want, const char *what)
{
    char *got = bytes_of(app_booth(s->p.app));
    ck_assert_msg(strcmp(want, got) == 0, "seed %u: %s\n%s\ninstead of\n%s", s->seed, what, got,
                  want);
    mem_free(got);
}

static int undo_all(struct storm *s)
{
    int steps = 0;
    for (; history_undo(s->p.app->history); steps++) {
        app_moved(s->p.app);
        check_sound(s, "undone");
    }
    return steps;
}

static int redo_all(struct storm *s)
{
    int steps = 0;
    for (; history_redo(s->p.app->history); steps++)
        app_moved(s->p.app);
    return steps;
}

START_TEST(a_storm_of_events_leaves_a_sound_booth_and_undo_leads_all_the_way_back)
{
    struct storm s = {.seed = (unsigned)_i + 1, .state = (unsigned)_i + 1};
    struct booth *b = booth_random(s.seed);
    char *first = bytes_of(b);
    play_begin(&s.p);
    app_open(s.p.app, b, "storm.json");
    while (s.event < EVENTS)
        if (below(&s, 10))
            send(&s, some_event(&s));
        else
            drag(&s);
    let_go(&s);
    redo_all(&s);
    char *last = bytes_of(app_booth(s.p.app));
    int steps = undo_all(&s);
    ck_assert_msg(s.moved >= MOVED, "seed %u: the storm moved next to nothing", s.seed);
    same_bytes(&s, first, "undone is");
    ck_assert_int_eq(redo_all(&s), steps);
    same_bytes(&s, last, "done again is");
    mem_free(first);
    mem_free(last);
    play_end(&s.p);
}
END_TEST

Suite *test_storm(void)
{
    Suite *s = suite_create("ui/storm");
    TCase *t = tcase_create("storm");
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, a_storm_of_events_leaves_a_sound_booth_and_undo_leads_all_the_way_back,
                        0, STORMS);
    suite_add_tcase(s, t);
    return s;
}
