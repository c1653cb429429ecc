/* The canvas: where things stand, what is hit, and whole pictures as text. */
#include <check.h>

#include "base/mem.h"
#include "support/booth_from.h"
#include "ui/canvas.h"

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
    ck_assert(canvas_where(s->canvas, &spot, &r));
    return r.x;
}

START_TEST(straight_wiring_is_straight_lines)
{
    struct sight s = see(booth_from("p1.line > s1.line; p2.line > s2.line; p3.line > s3.line;"
                                    "p4.line > s4.line"),
                         51, 20);
    for (size_t i = 0; i < s.booth->cables.n; i++) {
        const struct cable *k = &s.booth->cables.v[i];
        ck_assert_int_eq(column_of(&s, SPOT_OUTPUT, k->from), column_of(&s, SPOT_INPUT, k->to));
    }
    look_away(&s);
}
END_TEST

Suite *test_canvas(void)
{
    Suite *s = suite_create("ui/canvas");
    TCase *t = tcase_create("places");
    tcase_add_test(t, straight_wiring_is_straight_lines);
    suite_add_tcase(s, t);
    return s;
}
