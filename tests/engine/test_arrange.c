#include <check.h>
#include <string.h>

#include "engine/arrange.h"
#include "support/booth_from.h"

/* Who is on the strips from the left after arranging, "-" for nobody. */
static const char *arranged(const char *world, enum arrangement how)
{
    static struct str said;
    struct booth *b = booth_from(world);
    struct circuit *c = circuit_new(b);
    struct changes changes = arrange_decks(c, how, b);
    struct booth *next = booth_copy(b);
    struct err e;
    str_clear(&said);
    ck_assert(changes_make(next, &changes, &e));
    for (size_t i = 0; i < c->n_strips; i++) {
        const char *id = circuit_strip(c, c->by_rank[i])->id, *deck = "-";
        for (size_t k = 0; k < next->decks.n; k++)
            if (strcmp(next->decks.v[k].wants, id) == 0)
                deck = next->decks.v[k].id;
        str_addf(&said, "%s%s", i ? " " : "", deck);
    }
    changes_clear(&changes);
    circuit_free(c);
    booth_free(next);
    booth_free(b);
    return str_text(&said);
}

#define FOUR "s1 selects line; s2 selects line; s3 selects line; s4 selects line; "

START_TEST(decks_stand_in_their_order_from_the_left_by_place_not_by_label)
{
    ck_assert_str_eq(arranged(FOUR "h1 wants s3; h2 wants s1; h3 wants s2", ARRANGE_FROM_LEFT),
                     "h1 h2 h3 -");
    ck_assert_str_eq(
        arranged("s3 place 1; s1 place 2; s2 place 3; h1 wants s2; h2 wants s1", ARRANGE_FROM_LEFT),
        "h1 h2 -");
}
END_TEST

START_TEST(the_first_decks_take_the_middle) /* (practice) */
{
    ck_assert_str_eq(
        arranged(FOUR "h1 set 0 1; h2 set 0 1; h3 set 0 1; h4 set 0 1", ARRANGE_MIDDLE),
        "h3 h1 h2 h4");
    ck_assert_str_eq(arranged("s1 place 1; s2 place 2; s3 place 3; h1 set 0 1; h2 set 0 1; "
                              "h3 set 0 1",
                              ARRANGE_MIDDLE),
                     "h3 h1 h2");
}
END_TEST

START_TEST(a_strip_in_use_is_passed_over_and_a_deck_too_many_is_undecided)
{
    ck_assert_str_eq(arranged("s1 place 1; s2 in-use Robin; s3 place 3; h1 wants s3; h2 wants s1; "
                              "h3 set 0 1",
                              ARRANGE_FROM_LEFT),
                     "h1 - h2");
}
END_TEST

Suite *test_arrange(void)
{
    Suite *s = suite_create("engine/arrange");
    TCase *t = tcase_create("arrange");
    tcase_add_test(t, decks_stand_in_their_order_from_the_left_by_place_not_by_label);
    tcase_add_test(t, the_first_decks_take_the_middle);
    tcase_add_test(t, a_strip_in_use_is_passed_over_and_a_deck_too_many_is_undecided);
    suite_add_tcase(s, t);
    return s;
}
