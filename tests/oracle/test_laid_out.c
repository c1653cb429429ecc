/* A booth that was laid out works: whatever its size and way, the engine hears every deck where it
 * wants to be, and finds no error. */
#include <check.h>
#include <string.h>

#include "base/str.h"
#include "engine/derived.h"
#include "model/layout.h"

static int sides_heard(const struct derived *d, int deck, int strip)
{
    int n = 0;
    for (size_t i = 0; i < d->heard.n; i++) {
        const struct sound *s = &d->heard.v[i];
        if (s->deck == deck) {
            ck_assert_int_eq(s->strip, strip);
            ck_assert_int_eq(s->side, s->deck_side);
            n++;
        }
    }
    return n;
}

static void works(int players, int decks, const char *strips, enum way way)
{
    struct layout l = {.players = players, .decks = decks, .strips = strips, .way = way};
    struct err e = {0};
    struct booth *b = booth_laid_out(&l, &e);
    ck_assert_msg(b != NULL, "%s", e.says);
    struct derived *d = derived_make(b);
    for (size_t i = 0; i < d->faults.n; i++)
        ck_assert_msg(d->faults.v[i].severity == SEVERITY_NOTE,
                      "%d players, %d decks, %s, way %d: %s", players, decks, strips, (int)way,
                      d->faults.v[i].text);
    for (size_t i = 0; i < b->decks.n; i++) {
        int wants = d->circuit->decks[i].wants;
        if (wants < 0)
            continue;
        ck_assert(d->routes[i].there);
        ck_assert_int_eq(d->routes[i].pair.left, b->decks.v[i].set_to.left);
        ck_assert_int_eq(d->routes[i].pair.right, b->decks.v[i].set_to.right);
        ck_assert_int_eq(sides_heard(d, (int)i, wants), 2);
    }
    derived_free(d);
    booth_free(b);
}

START_TEST(every_laid_out_booth_is_heard_as_wanted_and_has_no_errors)
{
    static const char *const mixers[] = {"", "1", "1 2", "3 1 2 4", "6 5 4 3 2 1", "A B 2 1"};
    for (int way = WAY_MIXER_CARD; way <= WAY_PATCHED; way++)
        for (size_t m = 0; m < sizeof mixers / sizeof *mixers; m++)
            for (int players = 0; players <= 6; players += 2)
                for (int decks = 0; decks <= 6; decks++)
                    works(players, decks, mixers[m], (enum way)way);
}
END_TEST

START_TEST(the_largest_booths_are_heard_as_wanted)
{
    struct str strips = {0};
    for (int i = MAX_STRIPS; i > 0; i--)
        str_addf(&strips, "%d ", i);
    struct layout l = {.decks = MAX_DECKS, .strips = str_text(&strips)};
    for (int way = WAY_MIXER_CARD; way <= WAY_PATCHED; way++) {
        struct err e = {0};
        l.way = (enum way)way;
        l.players = MAX_PLAYERS;
        struct booth *b = booth_laid_out(&l, &e);
        ck_assert_msg(b != NULL, "%s", e.says);
        struct derived *d = derived_make(b);
        ck_assert_uint_eq(d->heard.n, 2 * MAX_DECKS);
        derived_free(d);
        booth_free(b);
    }
    str_clear(&strips);
}
END_TEST

Suite *test_laid_out(void)
{
    Suite *s = suite_create("oracle/laid out");
    TCase *t = tcase_create("laid out");
    tcase_add_test(t, every_laid_out_booth_is_heard_as_wanted_and_has_no_errors);
    tcase_add_test(t, the_largest_booths_are_heard_as_wanted);
    suite_add_tcase(s, t);
    return s;
}
