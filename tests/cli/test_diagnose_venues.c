/* What the verb is for: on every demo venue everything that can have gone wrong is found. */
#include <check.h>

#include "cli/load.h"
#include "support/injected.h"
#include "support/venue_file.h"

static void on_every_venue(void (*find)(struct booth *b, const char *where))
{
    struct texts paths = venue_paths();
    for (size_t i = 0; i < paths.n; i++) {
        struct err e;
        struct booth *b = load_venue(paths.v[i], &e);
        ck_assert_ptr_nonnull(b);
        find(b, paths.v[i]);
        booth_free(b);
    }
    paths_clear(&paths);
}

START_TEST(every_single_cause_on_every_demo_venue_is_found)
{
    on_every_venue(find_singles);
}
END_TEST

static void find_all_pairs(struct booth *b, const char *where)
{
    find_pairs(b, where, 1);
}

START_TEST(every_pair_of_causes_on_every_demo_venue_is_found_or_sounds_like_fewer)
{
    on_every_venue(find_all_pairs);
}
END_TEST

static void find_all_orders(struct booth *b, const char *where)
{
    find_orders(b, where, 1);
}

START_TEST(every_order_of_joining_with_any_other_cause_on_every_demo_venue_is_found)
{
    on_every_venue(find_all_orders);
}
END_TEST

Suite *test_diagnose_venues(void)
{
    Suite *s = suite_create("cli/diagnose, venues");
    TCase *t = tcase_create("found");
    tcase_set_timeout(t, 300);
    tcase_add_test(t, every_single_cause_on_every_demo_venue_is_found);
    tcase_add_test(t, every_pair_of_causes_on_every_demo_venue_is_found_or_sounds_like_fewer);
    tcase_add_test(t, every_order_of_joining_with_any_other_cause_on_every_demo_venue_is_found);
    suite_add_tcase(s, t);
    return s;
}
