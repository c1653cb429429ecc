#include <check.h>
#include <string.h>

#include "ui/grid.h"

static struct str picture;

static const char *text_of(struct grid *g)
{
    str_clear(&picture);
    grid_text(g, &picture);
    grid_free(g);
    return str_text(&picture);
}

START_TEST(a_frame_and_a_wire_join_by_themselves)
{
    struct grid *g = grid_new(5, 4, true);
    grid_frame(g, 0, 0, 5, 3, LINE_LIGHT, LOOK_PLAIN);
    grid_arms(g, 2, 2, ARM_DOWN, LINE_LIGHT, LOOK_WIRE);
    grid_arms(g, 2, 3, ARM_UP, LINE_LIGHT, LOOK_WIRE);
    ck_assert_str_eq(text_of(g), "+---+\n|   |\n+-+-+\n  |\n");
}
END_TEST

START_TEST(a_wide_name_cannot_push_the_border)
{
    struct grid *g = grid_new(8, 1, false);
    grid_put(g, 0, 0, 3, LOOK_PLAIN, "\xe6\xbc\xa2\xe5\xad\x97");
    grid_arms(g, 3, 0, ARM_UP | ARM_DOWN, LINE_LIGHT, LOOK_PLAIN);
    ck_assert_str_eq(text_of(g), "\xe6\xbc\xa2~\xe2\x94\x82\n");
}
END_TEST

START_TEST(half_a_wide_character_never_stays)
{
    struct grid *g = grid_new(4, 1, false);
    grid_put(g, 0, 0, -1, LOOK_PLAIN, "\xe6\xbc\xa2\xe5\xad\x97");
    grid_put(g, 1, 0, 1, LOOK_PLAIN, "x");
    ck_assert_str_eq(text_of(g), " x\xe5\xad\x97\n");
}
END_TEST

Suite *test_grid(void)
{
    Suite *s = suite_create("ui/grid");
    TCase *t = tcase_create("grid");
    tcase_add_test(t, a_frame_and_a_wire_join_by_themselves);
    tcase_add_test(t, a_wide_name_cannot_push_the_border);
    tcase_add_test(t, half_a_wide_character_never_stays);
    suite_add_tcase(s, t);
    return s;
}
