/* The canvas: where things stand, what is hit, where arrows lead; laws on random booths.
 * Whole pictures are in test_canvas_pictures.c. */
#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "support/booth_from.h"
#include "ui/canvas.h"

enum { SEEDS = 150 };

/* A booth and its canvas in a window of that size. */
struct sight {
    struct booth *booth;
    struct derived *derived;
    struct canvas *canvas;
};

static struct sight see(struct booth *b, int w, int h)
{
    struct derived *d = derived_make(b);
    return (struct sight){b, d, canvas_make(d, w, h)};
}

static void look_away(struct sight *s)
{
    canvas_free(s->canvas);
    derived_free(s->derived);
    booth_free(s->booth);
}

static int column_of(const struct sight *s, enum spot_kind kind, const char *name)
{
    struct spot spot = spot_of(kind, name);
    struct rect r;
    ck_assert_msg(canvas_where(s->canvas, &spot, &r), "%s is nowhere", name);
    return r.x;
}

/* The whole layout, drawn. */
static struct grid *draw_all(const struct sight *s, bool ascii)
{
    int w, h;
    canvas_size(s->canvas, &w, &h);
    struct grid *g = grid_new(w, h, ascii);
    canvas_draw(s->canvas, g, (struct rect){0, 0, w, h}, 0, 0, NULL);
    return g;
}

/* --- places ----------------------------------------------------------------------------------- */

static const char four[] = "p1.line > s1.line; p2.line > s2.line; p3.line > s3.line;"
                           "p4.line > s4.line; joined p1 p2 p3 p4; h1 wants s2; h2 wants s3;"
                           "h3 wants s1; h4 wants s4";

START_TEST(straight_wiring_is_straight_lines)
{
    static const int sizes[][2] = {{51, 20}, {64, 20}, {83, 36}, {120, 40}, {20, 10}};
    struct sight s = see(booth_from(four), sizes[_i][0], sizes[_i][1]);
    for (size_t i = 0; i < s.booth->cables.n; i++) {
        const struct cable *k = &s.booth->cables.v[i];
        ck_assert_int_eq(column_of(&s, SPOT_OUTPUT, k->from), column_of(&s, SPOT_INPUT, k->to));
    }
    look_away(&s);
}
END_TEST

START_TEST(a_four_by_four_booth_fits_beside_a_pane)
{
    int w, h;
    struct sight s = see(booth_from(four), 51, 20);
    canvas_size(s.canvas, &w, &h);
    ck_assert_int_eq(w, 51);
    ck_assert_int_eq(h, 20);
    look_away(&s);
}
END_TEST

START_TEST(four_players_reversed_fit_beside_a_pane_too)
{
    int w, h;
    struct sight s = see(booth_from("p1.line > s4.line; p2.line > s3.line; p3.line > s2.line;"
                                    "p4.line > s1.line; joined p1 p2 p3 p4; h1 wants s1;"
                                    "h2 wants s2; h3 wants s3; h4 wants s4"),
                         51, 20);
    canvas_size(s.canvas, &w, &h);
    ck_assert_int_eq(w, 51);
    ck_assert_int_eq(h, 20);
    look_away(&s);
}
END_TEST

/* Whether a box stands in the same columns in both. */
static void check_same_place(const struct sight *a, const struct sight *b, enum spot_kind kind,
                             const char *name)
{
    ck_assert_msg(column_of(a, kind, name) == column_of(b, kind, name), "%s moves", name);
}

START_TEST(the_mixers_own_card_in_place_of_the_players_moves_no_box_but_decks)
{
    static const char *const by_usb = "joined m1; s1 selects usb; s2 selects usb; s3 selects usb; "
                                      "s4 selects usb";
    static const char *const names[] = {"p1", "p2", "p3", "p4", "s1", "s2", "s3", "s4"};
    struct str world = {0};
    str_addf(&world, "hub hub1 7; m1 card 8; %s; ", four);
    struct sight players = see(booth_from(world.text), 51, 20);
    str_cut(&world, 0);
    str_addf(&world, "hub hub1 7; m1 card 8; %.*s; %s", (int)(strstr(four, "joined") - four), four,
             by_usb);
    str_add(&world, "; h1 wants s2; h2 wants s3; h3 wants s1; h4 wants s4");
    struct sight mixer = see(booth_from(world.text), 51, 20);
    for (int i = 0; i < 8; i++)
        check_same_place(&players, &mixer, i < 4 ? SPOT_DEVICE : SPOT_STRIP, names[i]);
    check_same_place(&players, &mixer, SPOT_HUB, "hub1");
    int w, h;
    canvas_size(mixer.canvas, &w, &h);
    ck_assert_int_eq(w, 51);
    str_clear(&world);
    look_away(&players);
    look_away(&mixer);
}
END_TEST

START_TEST(a_deck_stands_above_what_carries_it)
{
    struct sight s = see(booth_from(four), 51, 20);
    ck_assert_int_lt(column_of(&s, SPOT_DECK, "h3"), column_of(&s, SPOT_DECK, "h1"));
    ck_assert_int_lt(column_of(&s, SPOT_DECK, "h1"), column_of(&s, SPOT_DECK, "h2"));
    ck_assert_int_lt(column_of(&s, SPOT_DECK, "h2"), column_of(&s, SPOT_DECK, "h4"));
    ck_assert_int_eq(column_of(&s, SPOT_DECK, "h3"), column_of(&s, SPOT_DEVICE, "p1"));
    look_away(&s);
}
END_TEST

START_TEST(places_count_not_labels_or_the_files_order)
{
    struct sight s = see(booth_from("p2 place 1; p1 place 2; s1 place 3; s3 place 1"), 51, 20);
    ck_assert_int_lt(column_of(&s, SPOT_DEVICE, "p2"), column_of(&s, SPOT_DEVICE, "p1"));
    ck_assert_int_lt(column_of(&s, SPOT_STRIP, "s3"), column_of(&s, SPOT_STRIP, "s1"));
    look_away(&s);
}
END_TEST

START_TEST(what_is_not_there_is_nowhere)
{
    struct sight s = see(booth_from(four), 51, 20);
    struct spot gone[] = {spot_of(SPOT_DECK, "h9"), spot_of(SPOT_DECK, "p1"),
                          spot_of(SPOT_SOURCE, "m1"), spot_of(SPOT_SELECTOR, "p1.line"),
                          spot_of(SPOT_NONE, "")};
    struct rect r;
    for (size_t i = 0; i < sizeof gone / sizeof *gone; i++)
        ck_assert(!canvas_where(s.canvas, &gone[i], &r));
    ck_assert_int_eq(canvas_hit(s.canvas, -1, 0).kind, SPOT_NONE);
    ck_assert_int_eq(canvas_hit(s.canvas, 0, 1000).kind, SPOT_NONE);
    look_away(&s);
}
END_TEST

START_TEST(an_empty_booth_has_an_empty_canvas)
{
    struct sight s = see(booth_new("Tideline Hall"), 51, 20);
    struct spot nothing = spot_of(SPOT_NONE, "");
    ck_assert_int_eq(canvas_step(s.canvas, &nothing, 1, 0, false).kind, SPOT_NONE);
    ck_assert_int_eq(canvas_step(s.canvas, &nothing, 1, 0, true).kind, SPOT_NONE);
    struct grid *g = draw_all(&s, true);
    struct str text = {0};
    grid_text(g, &text);
    ck_assert_uint_eq(strspn(str_text(&text), "\n"), text.len);
    str_clear(&text);
    grid_free(g);
    look_away(&s);
}
END_TEST

/* --- pointing --------------------------------------------------------------------------------- */

static void check_hit(const struct sight *s, enum spot_kind kind, const char *name, unsigned seed)
{
    struct spot spot = spot_of(kind, name);
    struct rect r;
    ck_assert_msg(canvas_where(s->canvas, &spot, &r), "seed %u: %s is nowhere", seed, name);
    struct spot hit = canvas_hit(s->canvas, r.x, r.y);
    ck_assert_msg(spot_same(&hit, &spot), "seed %u: at %s (%d) is %s (%d)", seed, name, kind,
                  hit.name, hit.kind);
}

static void check_jacks(const struct sight *s, const char *owner, const struct inputs *in,
                        unsigned seed)
{
    char name[REF_SIZE + ID_SIZE];
    for (size_t i = 0; i < in->n; i++) {
        snprintf(name, sizeof name, "%s.%s", owner, in->v[i].id);
        check_hit(s, SPOT_INPUT, name, seed);
        if (booth_strip(s->booth, owner, NULL))
            check_hit(s, SPOT_SELECTOR, name, seed);
    }
}

static void check_device(const struct sight *s, const struct device *d, unsigned seed)
{
    char name[REF_SIZE + ID_SIZE];
    check_hit(s, SPOT_DEVICE, d->id, seed);
    if (d->kind == KIND_PLAYER)
        check_hit(s, SPOT_SOURCE, d->id, seed);
    check_jacks(s, d->id, &d->inputs, seed);
    for (size_t i = 0; i < d->outputs.n; i++) {
        snprintf(name, sizeof name, "%s.%s", d->id, d->outputs.v[i].id);
        check_hit(s, SPOT_OUTPUT, name, seed);
    }
    for (size_t i = 0; i < d->strips.n; i++) {
        check_hit(s, SPOT_STRIP, d->strips.v[i].id, seed);
        check_jacks(s, d->strips.v[i].id, &d->strips.v[i].inputs, seed);
    }
}

START_TEST(everything_is_hit_where_it_is)
{
    for (unsigned seed = 1; seed <= SEEDS; seed++) {
        struct sight s = see(booth_random(seed), 30 + (int)seed % 100, 10 + (int)seed % 40);
        for (size_t i = 0; i < s.booth->devices.n; i++)
            check_device(&s, &s.booth->devices.v[i], seed);
        for (size_t i = 0; i < s.booth->decks.n; i++)
            check_hit(&s, SPOT_DECK, s.booth->decks.v[i].id, seed);
        for (size_t i = 0; i < s.booth->hubs.n; i++)
            check_hit(&s, SPOT_HUB, s.booth->hubs.v[i].id, seed);
        look_away(&s);
    }
}
END_TEST

/* --- walking ---------------------------------------------------------------------------------- */

struct walk {
    struct spot seen[400];
    size_t n;
};

static void visit(struct walk *w, struct spot s)
{
    for (size_t i = 0; i < w->n; i++)
        if (spot_same(&w->seen[i], &s))
            return;
    ck_assert_uint_lt(w->n, sizeof w->seen / sizeof *w->seen);
    w->seen[w->n++] = s;
}

/* How many spots arrows reach from one. */
static size_t reach(const struct canvas *c, struct spot from, bool jacks)
{
    static const int ways[4][2] = {{1, 0}, {-1, 0}, {0, 1}, {0, -1}};
    static struct walk w;
    w.n = 0;
    visit(&w, from);
    for (size_t i = 0; i < w.n; i++)
        for (int k = 0; k < 4; k++)
            visit(&w, canvas_step(c, &w.seen[i], ways[k][0], ways[k][1], jacks));
    return w.n;
}

static size_t count_boxes(const struct booth *b)
{
    size_t n = b->decks.n + b->devices.n + b->hubs.n;
    for (size_t i = 0; i < b->devices.n; i++)
        n += b->devices.v[i].strips.n;
    return n;
}

START_TEST(arrows_reach_every_box_from_every_box)
{
    for (unsigned seed = 1; seed <= SEEDS; seed++) {
        struct sight s = see(booth_random(seed), 83, 36);
        struct spot at = canvas_step(s.canvas, &(struct spot){.kind = SPOT_NONE}, 0, 0, false);
        size_t all = count_boxes(s.booth);
        for (size_t i = 0; i < all && i < 8; i++) {
            ck_assert_msg(reach(s.canvas, at, false) == all, "seed %u: from %s", seed, at.name);
            at = canvas_step(s.canvas, &at, i % 2, i % 2 == 0, false);
        }
        look_away(&s);
    }
}
END_TEST

START_TEST(arrows_reach_every_jack)
{
    for (unsigned seed = 1; seed <= SEEDS; seed++) {
        struct sight s = see(booth_random(seed), 83, 36);
        const struct circuit *c = s.derived->circuit;
        struct spot at = canvas_step(s.canvas, &(struct spot){.kind = SPOT_NONE}, 0, 0, true);
        if (c->n_inputs + c->n_outputs)
            ck_assert_msg(reach(s.canvas, at, true) == c->n_inputs + c->n_outputs, "seed %u", seed);
        look_away(&s);
    }
}
END_TEST

START_TEST(arrows_go_to_the_neighbour_and_stop_at_the_edge)
{
    static const struct {
        enum spot_kind kind;
        const char *from;
        int dx, dy;
        const char *to;
    } steps[] = {
        {SPOT_DEVICE, "p1", 1, 0, "p2"},   {SPOT_DEVICE, "p4", 1, 0, "p4"},
        {SPOT_DEVICE, "p1", -1, 0, "p1"},  {SPOT_DEVICE, "p3", 0, -1, "h2"},
        {SPOT_DEVICE, "p3", 0, 1, "s3"},   {SPOT_STRIP, "s3", 0, 1, "m1"},
        {SPOT_STRIP, "s2", 0, -1, "p2"},   {SPOT_DECK, "h3", 0, -1, "h3"},
        {SPOT_DEVICE, "gone", 1, 0, "h3"},
    };
    struct sight s = see(booth_from(four), 51, 20);
    struct spot from = spot_of(steps[_i].kind, steps[_i].from);
    struct spot to = canvas_step(s.canvas, &from, steps[_i].dx, steps[_i].dy, false);
    ck_assert_str_eq(to.name, steps[_i].to);
    look_away(&s);
}
END_TEST

START_TEST(walking_among_jacks_starts_at_the_box)
{
    struct sight s = see(booth_from(four), 51, 20);
    struct spot box = spot_of(SPOT_DEVICE, "p3"), strip = spot_of(SPOT_STRIP, "s2");
    struct spot jack = canvas_step(s.canvas, &box, 1, 0, true);
    ck_assert_int_eq(jack.kind, SPOT_OUTPUT);
    ck_assert_int_eq(strncmp(jack.name, "p3.", 3), 0);
    jack = canvas_step(s.canvas, &strip, 0, 0, true);
    ck_assert_int_eq(jack.kind, SPOT_INPUT);
    ck_assert_int_eq(strncmp(jack.name, "s2.", 3), 0);
    look_away(&s);
}
END_TEST

/* --- drawing ---------------------------------------------------------------------------------- */

/* Whether a cell may stand on the border of a box: a line, or a jack. */
static bool is_border(const struct grid *g, int x, int y)
{
    return grid_at(g, x, y)->arms != 0;
}

static void check_borders(const struct sight *s, const struct grid *g, enum spot_kind kind,
                          const char *name, unsigned seed)
{
    struct spot spot = spot_of(kind, name);
    struct rect r;
    ck_assert(canvas_where(s->canvas, &spot, &r));
    for (int y = r.y + 1; y + 1 < r.y + r.h; y++) {
        ck_assert_msg(is_border(g, r.x, y), "seed %u: left of %s at %d", seed, name, y);
        int right = kind == SPOT_STRIP && !is_border(g, r.x + r.w - 1, y) ? r.x + r.w
                                                                          : r.x + r.w - 1;
        ck_assert_msg(is_border(g, right, y), "seed %u: right of %s at %d", seed, name, y);
        for (int x = r.x + 1; x < right; x++)
            ck_assert_msg(!is_border(g, x, y), "seed %u: a wire in %s", seed, name);
    }
}

START_TEST(no_label_breaks_a_border_and_no_wire_runs_through_a_box)
{
    for (unsigned seed = 1; seed <= SEEDS; seed++) {
        struct sight s = see(booth_random(seed), 30 + (int)seed % 100, 10 + (int)seed % 40);
        struct grid *g = draw_all(&s, seed % 2);
        for (int y = 0; y < g->rows; y++) {
            int columns = 0;
            for (int x = 0; x < g->columns; x++)
                columns += grid_at(g, x, y)->width;
            ck_assert_msg(columns == g->columns, "seed %u: row %d", seed, y);
        }
        for (size_t i = 0; i < s.booth->devices.n; i++) {
            const struct device *d = &s.booth->devices.v[i];
            check_borders(&s, g, SPOT_DEVICE, d->id, seed);
            for (size_t k = 0; k < d->strips.n; k++)
                check_borders(&s, g, SPOT_STRIP, d->strips.v[k].id, seed);
        }
        for (size_t i = 0; i < s.booth->decks.n; i++)
            check_borders(&s, g, SPOT_DECK, s.booth->decks.v[i].id, seed);
        grid_free(g);
        look_away(&s);
    }
}
END_TEST

START_TEST(nothing_outside_the_window_is_touched)
{
    for (unsigned seed = 1; seed <= SEEDS; seed++) {
        struct sight s = see(booth_random(seed), 40, 15);
        struct grid *g = grid_new(60, 30, true);
        for (int y = 0; y < 30; y++)
            for (int x = 0; x < 60; x++)
                grid_put(g, x, y, 1, LOOK_NOTE, "%");
        canvas_draw(s.canvas, g, (struct rect){7, 5, 40, 15}, (int)seed % 20, (int)seed % 5, NULL);
        for (int y = 0; y < 30; y++)
            for (int x = 0; x < 60; x++) {
                bool outside = x < 7 || x >= 47 || y < 5 || y >= 20;
                bool same = strcmp(grid_at(g, x, y)->text, "%") == 0;
                ck_assert_msg(same == outside, "seed %u: %d, %d", seed, x, y);
            }
        grid_free(g);
        look_away(&s);
    }
}
END_TEST

/* A window shows what the whole picture has there, but for its four arrows. */
static void check_window(const struct sight *s, int dx, int dy, unsigned seed)
{
    enum { W = 40, H = 15 };
    struct grid *all = draw_all(s, true), *part = grid_new(W, H, true);
    canvas_draw(s->canvas, part, (struct rect){0, 0, W, H}, dx, dy, NULL);
    for (int y = 0; y < H; y++)
        for (int x = 0; x < W; x++) {
            const struct cell *whole = grid_at(all, x + dx, y + dy), *cell = grid_at(part, x, y);
            bool arrow = (y == (H - 1) / 2 && (x == 0 || x == W - 1)) ||
                         (x == (W - 1) / 2 && (y == 0 || y == H - 1));
            const char *expected = whole ? grid_glyph(all, whole) : " ";
            if (!arrow)
                ck_assert_msg(strcmp(grid_glyph(part, cell), expected) == 0, "seed %u: %d, %d",
                              seed, x, y);
        }
    grid_free(all);
    grid_free(part);
}

START_TEST(scrolling_moves_the_picture_and_nothing_else)
{
    for (unsigned seed = 1; seed <= SEEDS; seed++) {
        struct sight s = see(booth_random(seed), 40, 15);
        check_window(&s, (int)seed % 37, (int)seed % 7, seed);
        look_away(&s);
    }
}
END_TEST

START_TEST(arrows_tell_that_there_is_more)
{
    struct sight s = see(booth_from(four), 30, 12);
    struct grid *g = grid_new(30, 12, true);
    canvas_draw(s.canvas, g, (struct rect){0, 0, 30, 12}, 0, 0, NULL);
    ck_assert_str_eq(grid_at(g, 29, 5)->text, ">");
    ck_assert_str_eq(grid_at(g, 14, 11)->text, "v");
    ck_assert_str_ne(grid_at(g, 0, 5)->text, "<");
    canvas_draw(s.canvas, g, (struct rect){0, 0, 30, 12}, 19, 8, NULL);
    ck_assert_str_eq(grid_at(g, 0, 5)->text, "<");
    ck_assert_str_eq(grid_at(g, 14, 0)->text, "^");
    ck_assert_str_ne(grid_at(g, 29, 5)->text, ">");
    grid_free(g);
    look_away(&s);
}
END_TEST

/* 64 players wired to 64 strips, each deck elsewhere. */
static struct booth *largest(void)
{
    struct str text = {0};
    str_add(&text, "joined");
    for (int i = 1; i <= 64; i++)
        str_addf(&text, " p%d", i);
    for (int i = 1; i <= 64; i++)
        str_addf(&text, "; p%d.line > s%d.line; h%d wants s%d", i, (i * 27) % 64 + 1, i, i);
    struct booth *b = booth_from(str_text(&text));
    str_clear(&text);
    return b;
}

START_TEST(the_largest_booth_has_a_place_for_all)
{
    struct sight s = see(largest(), 83, 36);
    struct spot first = spot_of(SPOT_STRIP, "s1");
    for (size_t i = 0; i < s.booth->devices.n; i++)
        check_device(&s, &s.booth->devices.v[i], 0);
    for (int i = 0; i < 64; i++)
        first = canvas_step(s.canvas, &first, 1, 0, false);
    ck_assert_str_eq(first.name, "s64");
    grid_free(draw_all(&s, true));
    look_away(&s);
}
END_TEST

Suite *test_canvas(void)
{
    Suite *s = suite_create("ui/canvas");
    TCase *t = tcase_create("places");
    tcase_add_loop_test(t, straight_wiring_is_straight_lines, 0, 5);
    tcase_add_test(t, a_four_by_four_booth_fits_beside_a_pane);
    tcase_add_test(t, four_players_reversed_fit_beside_a_pane_too);
    tcase_add_test(t, the_mixers_own_card_in_place_of_the_players_moves_no_box_but_decks);
    tcase_add_test(t, a_deck_stands_above_what_carries_it);
    tcase_add_test(t, places_count_not_labels_or_the_files_order);
    tcase_add_test(t, what_is_not_there_is_nowhere);
    tcase_add_test(t, an_empty_booth_has_an_empty_canvas);
    suite_add_tcase(s, t);
    t = tcase_create("pointing and walking");
    tcase_add_test(t, everything_is_hit_where_it_is);
    tcase_add_test(t, arrows_reach_every_box_from_every_box);
    tcase_add_test(t, arrows_reach_every_jack);
    tcase_add_loop_test(t, arrows_go_to_the_neighbour_and_stop_at_the_edge, 0, 9);
    tcase_add_test(t, walking_among_jacks_starts_at_the_box);
    suite_add_tcase(s, t);
    t = tcase_create("drawing");
    tcase_add_test(t, no_label_breaks_a_border_and_no_wire_runs_through_a_box);
    tcase_add_test(t, nothing_outside_the_window_is_touched);
    tcase_add_test(t, scrolling_moves_the_picture_and_nothing_else);
    tcase_add_test(t, arrows_tell_that_there_is_more);
    tcase_add_test(t, the_largest_booth_has_a_place_for_all);
    suite_add_tcase(s, t);
    return s;
}
