/* Everything that can be touched, on every demo venue: each key at each box, each click on each
 * spot, each drag from spot to spot. Nothing breaks, the booth stays sound, and nothing is silent:
 * a touch changes what is shown, or says why it does not. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "model/sound.h"
#include "support/play_file.h"
#include "support/venue_file.h"
#include "ui/keymap.h"

enum { SPOTS = 400 };

struct spots {
    struct spot v[SPOTS];
    struct rect at[SPOTS]; /* one cell of each, in the window */
    size_t n;
};

static void add_spot(struct spots *all, const struct spot *s, int x, int y)
{
    for (size_t i = 0; i < all->n; i++)
        if (spot_same(&all->v[i], s))
            return;
    ck_assert_uint_lt(all->n, SPOTS);
    all->at[all->n] = (struct rect){x, y, 1, 1};
    all->v[all->n++] = *s;
}

/* Every spot that the window shows. */
static void find_spots(const struct app *a, struct spots *all)
{
    struct rect r = app_canvas_rect(a);
    all->n = 0;
    for (int y = 0; y < r.h; y++)
        for (int x = 0; x < r.w; x++) {
            struct spot s = canvas_hit(a->canvas, x + a->scroll_x, y + a->scroll_y);
            if (s.kind)
                add_spot(all, &s, r.x + x, r.y + y);
        }
    ck_assert_uint_gt(all->n, 10);
}

/* Does it to every demo venue, in a window that shows all of it. */
static void on_every_venue(void (*touch)(struct play *p, const struct spots *all))
{
    struct texts paths = venue_paths();
    for (size_t i = 0; i < paths.n; i++) {
        struct play p;
        struct spots all;
        play_begin(&p);
        play_open(&p, paths.v[i]);
        play(&p, "size 200x60 ascii");
        find_spots(p.app, &all);
        touch(&p, &all);
        play_end(&p);
    }
    paths_clear(&paths);
}

static void check_booth(const struct play *p, const char *did)
{
    struct err e;
    ck_assert_msg(booth_sound(app_booth(p->app), &e), "%s: %s %s: %s", p->app->path, did, e.place,
                  e.says);
}

static void put_back(struct play *p)
{
    play(p, "keys Esc Esc Esc");
    while (history_undo(p->app->history))
        app_moved(p->app);
    p->app->pane_shown = true;
    p->app->pane_keys = false;
    p->app->pane = PANE_FAULTS;
    p->app->fault = -1;
}

static void mouse(struct play *p, enum event_kind kind, struct rect at)
{
    p->effect = app_update(p->app,
                           &(struct event){.kind = kind, .button = 1, .column = at.x, .row = at.y});
}

static void press_key(struct play *p, const struct key_row *row, const struct spot *at)
{
    char did[128];
    snprintf(did, sizeof did, "%s at %s", row->name ? row->name : "another key", at->name);
    p->app->selected = *at;
    app_reveal(p->app);
    char *before = mem_text(play_screen(p));
    p->effect = app_update(p->app, &(struct event){.kind = EVENT_KEY, .key = row->key});
    check_booth(p, did);
    bool stays = row->key == K_HOME || row->key == K_END || row->key == K_ESC ||
                 (row->key >= K_UP && row->key <= K_RIGHT) || (row->key >= '0' && row->key <= '9');
    ck_assert_msg(p->effect != EFFECT_NONE || stays || strcmp(before, play_screen(p)) != 0,
                  "%s: %s does nothing and says nothing", p->app->path, did);
    mem_free(before);
    put_back(p);
}

static void press_every_key(struct play *p, const struct spots *all)
{
    for (size_t k = 0; k < all->n; k++)
        if (all->v[k].kind <= SPOT_HUB)
            for (size_t i = 0; keymap_row(i); i++)
                press_key(p, keymap_row(i), &all->v[k]);
}

START_TEST(every_key_at_every_box_does_something_or_says_why_not)
{
    on_every_venue(press_every_key);
}
END_TEST

static void click_every_spot(struct play *p, const struct spots *all)
{
    for (size_t k = 0; k < all->n; k++) {
        mouse(p, EVENT_PRESS, all->at[k]);
        mouse(p, EVENT_LIFT, all->at[k]);
        check_booth(p, all->v[k].name);
        ck_assert_msg(all->v[k].kind < SPOT_SELECTOR || p->app->message != NULL,
                      "%s: a click on %s is silent", p->app->path, all->v[k].name);
        put_back(p);
    }
}

START_TEST(every_click_leaves_a_sound_booth_and_a_spot_that_turns_is_turned)
{
    on_every_venue(click_every_spot);
}
END_TEST

static void drag(struct play *p, const struct spots *all, size_t from, size_t to)
{
    char did[160];
    snprintf(did, sizeof did, "%s dragged to %s", all->v[from].name, all->v[to].name);
    mouse(p, EVENT_PRESS, all->at[from]);
    mouse(p, EVENT_MOVE, all->at[to]);
    play_screen(p);
    mouse(p, EVENT_LIFT, all->at[to]);
    check_booth(p, did);
    ck_assert_msg(p->app->message != NULL, "%s: %s: not a word", p->app->path, did);
    put_back(p);
}

static void drag_everything_everywhere(struct play *p, const struct spots *all)
{
    for (size_t from = 0; from < all->n; from++)
        for (size_t to = 0; to < all->n; to++)
            if (from != to)
                drag(p, all, from, to);
}

START_TEST(every_drag_from_spot_to_spot_leaves_a_sound_booth_and_says_what_it_did)
{
    on_every_venue(drag_everything_everywhere);
}
END_TEST

Suite *test_touch(void)
{
    Suite *s = suite_create("ui/touch");
    TCase *t = tcase_create("touch");
    tcase_set_timeout(t, 300);
    tcase_add_test(t, every_key_at_every_box_does_something_or_says_why_not);
    tcase_add_test(t, every_click_leaves_a_sound_booth_and_a_spot_that_turns_is_turned);
    tcase_add_test(t, every_drag_from_spot_to_spot_leaves_a_sound_booth_and_says_what_it_did);
    suite_add_tcase(s, t);
    return s;
}
