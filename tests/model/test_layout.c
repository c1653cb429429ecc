#include <check.h>
#include <string.h>

#include "model/layout.h"
#include "model/sound.h"

static struct booth *lay(int players, int decks, const char *strips, enum way way)
{
    struct layout l = {.venue = "Tideline Hall",
                       .players = players,
                       .decks = decks,
                       .strips = strips,
                       .way = way,
                       .model = "dunlin 2"};
    struct err e = {0};
    struct booth *b = booth_laid_out(&l, &e);
    ck_assert_msg(b != NULL, "%s", e.says);
    ck_assert_msg(booth_sound(b, &e), "%s %s", e.place, e.says);
    return b;
}

static void plays(const struct booth *b, const char *deck, const char *label, int left)
{
    const struct deck *d = booth_deck(b, deck);
    ck_assert_str_eq(booth_strip(b, d->wants, NULL)->label, label);
    ck_assert_int_eq(d->set_to.left, left);
    ck_assert_int_eq(d->set_to.right, left + 1);
}

START_TEST(decks_take_the_printed_numbers_and_players_stand_from_the_left)
{
    struct booth *b = lay(4, 4, "3 1 2 4", WAY_PLAYER_CARDS);
    plays(b, "h1", "1", 2); /* the second strip from the left is fed by P2, the second joined */
    plays(b, "h2", "2", 4);
    plays(b, "h3", "3", 0);
    plays(b, "h4", "4", 6);
    ck_assert_str_eq(booth_deck(b, "h3")->controlled_by, "p1");
    ck_assert_str_eq(b->cables.v[0].from, "p1.line");
    ck_assert_str_eq(booth_strip(b, "s1", NULL)->label, "3");
    ck_assert_str_eq(b->cables.v[0].to, "s1.line");
    ck_assert_uint_eq(b->joined.n, 4);
    ck_assert_str_eq(b->host.combinations.v[0].name, "four dunlin 2");
    booth_free(b);
}
END_TEST

START_TEST(players_hang_on_the_laptop_while_its_ports_suffice_then_on_one_hub)
{
    struct booth *b = lay(2, 2, "1 2", WAY_PLAYER_CARDS);
    ck_assert_uint_eq(b->hubs.n, 0);
    ck_assert_str_eq(booth_device(b, "p2")->plugged.at, "host");
    ck_assert_int_eq(booth_device(b, "p2")->plugged.port, 2);
    booth_free(b);
    b = lay(6, 6, "1 2 3 4 5 6", WAY_PLAYER_CARDS);
    ck_assert_int_eq(b->hubs.v[0].ports, 7);
    ck_assert(b->hubs.v[0].self_powered);
    ck_assert_str_eq(booth_device(b, "p6")->plugged.at, "hub1");
    ck_assert_int_eq(booth_device(b, "p6")->plugged.port, 6);
    booth_free(b);
}
END_TEST

START_TEST(only_players_that_a_deck_plays_through_are_joined)
{
    struct booth *b = lay(4, 2, "3 1 2 4", WAY_PLAYER_CARDS);
    ck_assert_uint_eq(b->joined.n, 2);
    ck_assert_str_eq(b->joined.v[0], "p2");
    ck_assert_str_eq(b->joined.v[1], "p3");
    ck_assert_int_eq(booth_device(b, "p1")->source, SOURCE_OWN_MEDIA);
    plays(b, "h1", "1", 0);
    plays(b, "h2", "2", 2);
    booth_free(b);
}
END_TEST

START_TEST(decks_without_a_strip_in_reach_stay_undecided)
{
    struct booth *b = lay(1, 3, "2 1", WAY_PLAYER_CARDS);
    plays(b, "h1", "2", 0); /* the only player stands at the strip printed 2 */
    ck_assert_str_eq(booth_deck(b, "h2")->wants, "");
    ck_assert_int_eq(booth_deck(b, "h3")->set_to.left, -1);
    booth_free(b);
}
END_TEST

START_TEST(the_mixers_card_and_an_interface_count_by_the_printed_numbers)
{
    struct booth *b = lay(2, 3, "3 1 2 4", WAY_MIXER_CARD);
    plays(b, "h1", "1", 0);
    plays(b, "h3", "3", 4);
    ck_assert_str_eq(b->joined.v[0], "m1");
    ck_assert_str_eq(booth_strip(b, "s1", NULL)->selected, "usb");
    booth_free(b);
    b = lay(4, 6, "6 5 4 3 2 1", WAY_PATCHED);
    plays(b, "h1", "1", 0);
    plays(b, "h6", "6", 10);
    ck_assert_str_eq(b->joined.v[0], "x1");
    ck_assert_int_eq(booth_device(b, "x1")->card->out_channels, 12);
    ck_assert_ptr_nonnull(booth_cable(b, "x1.o1", "s6.line-2"));
    ck_assert_ptr_nonnull(booth_cable(b, "p1.line", "s1.line"));
    booth_free(b);
}
END_TEST

START_TEST(numbers_sort_by_value_and_before_letters)
{
    struct booth *b = lay(0, 4, "B 10 A 9", WAY_MIXER_CARD);
    plays(b, "h1", "9", 0);
    plays(b, "h2", "10", 2);
    plays(b, "h3", "A", 4);
    plays(b, "h4", "B", 6);
    booth_free(b);
}
END_TEST

START_TEST(more_than_the_model_holds_is_refused_with_a_sentence)
{
    char label[LABEL_MAX + 2];
    memset(label, 'x', sizeof label - 1);
    label[sizeof label - 1] = '\0';
    const struct {
        struct layout l;
        const char *says;
    } rows[] = {
        {{.players = MAX_PLAYERS + 1}, "a booth has at most 64 players"},
        {{.decks = MAX_DECKS + 1}, "a booth has at most 64 host decks"},
        {{.decks = -1}, "there cannot be fewer than no players or decks"},
        {{.strips = label}, "a strip's label has at most 64 bytes"},
        {{.venue = label}, "a venue's name has at most 64 bytes"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct err e = {0};
        ck_assert_ptr_null(booth_laid_out(&rows[i].l, &e));
        ck_assert_str_eq(e.says, rows[i].says);
    }
}
END_TEST

Suite *test_layout(void)
{
    Suite *s = suite_create("model/layout");
    TCase *t = tcase_create("layout");
    tcase_add_test(t, decks_take_the_printed_numbers_and_players_stand_from_the_left);
    tcase_add_test(t, players_hang_on_the_laptop_while_its_ports_suffice_then_on_one_hub);
    tcase_add_test(t, only_players_that_a_deck_plays_through_are_joined);
    tcase_add_test(t, decks_without_a_strip_in_reach_stay_undecided);
    tcase_add_test(t, the_mixers_card_and_an_interface_count_by_the_printed_numbers);
    tcase_add_test(t, numbers_sort_by_value_and_before_letters);
    tcase_add_test(t, more_than_the_model_holds_is_refused_with_a_sentence);
    suite_add_tcase(s, t);
    return s;
}
