#include <check.h>

#include "term/looks.h"

/* What a monochrome terminal without dim and italic shows of a style. */
static unsigned on_the_poorest(enum look look)
{
    return look_style(look)->mono & (SHOW_BOLD | SHOW_UNDERLINE | SHOW_REVERSE);
}

START_TEST(no_two_looks_look_alike)
{
    for (enum look a = 0; a < LOOK_COUNT; a++)
        for (enum look b = 0; b < a; b++) {
            const struct look_style *x = look_style(a), *y = look_style(b);
            ck_assert_msg(x->mono != y->mono, "without colour: %d and %d", (int)a, (int)b);
            ck_assert_msg(x->hue != y->hue || x->show != y->show, "in colour: %d and %d", (int)a,
                          (int)b);
        }
}
END_TEST

START_TEST(what_matters_most_differs_on_the_poorest_terminal_too)
{
    static const enum look looks[] = {LOOK_PLAIN, LOOK_STRONG,  LOOK_TITLE,    LOOK_ERROR,
                                      LOOK_DECK,  LOOK_WARNING, LOOK_SELECTED, LOOK_CARRIED};
    for (int i = 0; i < 8; i++)
        for (int k = 0; k < i; k++)
            ck_assert_uint_ne(on_the_poorest(looks[i]), on_the_poorest(looks[k]));
}
END_TEST

Suite *test_looks(void)
{
    Suite *s = suite_create("tty/looks");
    TCase *t = tcase_create("looks");
    tcase_add_test(t, no_two_looks_look_alike);
    tcase_add_test(t, what_matters_most_differs_on_the_poorest_terminal_too);
    suite_add_tcase(s, t);
    return s;
}
