/* Every demo venue taken for the next visit to every other: the law of tests/support/compared.h. */
#include <check.h>

#include "base/str.h"
#include "cli/load.h"
#include "support/compared.h"
#include "support/venue_file.h"

static void compare_with_all(const struct booth *before, const char *path,
                             const struct texts *paths)
{
    for (size_t i = 0; i < paths->n; i++) {
        struct err e;
        struct booth *now = load_venue(paths->v[i], &e);
        struct str whom = {0};
        ck_assert_ptr_nonnull(now);
        str_addf(&whom, "%s, %s", path, paths->v[i]);
        compared_holds(before, now, str_text(&whom));
        str_clear(&whom);
        booth_free(now);
    }
}

START_TEST(the_differences_of_any_two_demo_venues_make_one_the_other)
{
    struct texts paths = venue_paths();
    for (size_t i = 0; i < paths.n; i++) {
        struct err e;
        struct booth *before = load_venue(paths.v[i], &e);
        ck_assert_ptr_nonnull(before);
        compare_with_all(before, paths.v[i], &paths);
        booth_free(before);
    }
    paths_clear(&paths);
}
END_TEST

Suite *test_compare_venues(void)
{
    Suite *s = suite_create("cli/compare, venues");
    TCase *t = tcase_create("law");
    tcase_add_test(t, the_differences_of_any_two_demo_venues_make_one_the_other);
    suite_add_tcase(s, t);
    return s;
}
