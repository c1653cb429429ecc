#include <check.h>
#include <string.h>

#include "file/venue.h"
#include "support/booth_from.h"
#include "support/venue_file.h"

enum { BOOTHS = 2000 };

static struct booth *read_back(const struct str *s, unsigned seed)
{
    struct err e = {0};
    struct booth *b = venue_read(str_text(s), s->len, &e);
    ck_assert_msg(b != NULL, "seed %u: %s: %s\n%s", seed, e.place, e.says, str_text(s));
    return b;
}

START_TEST(what_was_written_reads_as_the_same_booth_and_writes_as_the_same_bytes)
{
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        struct str first = {0}, second = {0};
        venue_write(b, &first);
        struct booth *again = read_back(&first, seed);
        venue_write(again, &second);
        ck_assert_msg(booth_equal(b, again), "seed %u", seed);
        ck_assert_msg(strcmp(str_text(&first), str_text(&second)) == 0, "seed %u", seed);
        booth_free(b);
        booth_free(again);
        str_clear(&first);
        str_clear(&second);
    }
}
END_TEST

START_TEST(every_file_in_venues_is_sound_and_canonical)
{
    struct texts paths = venue_paths();
    for (size_t i = 0; i < paths.n; i++) {
        struct str bytes = file_bytes(paths.v[i]), again = {0};
        struct err e = {0};
        struct booth *b = venue_read(str_text(&bytes), bytes.len, &e);
        ck_assert_msg(b != NULL, "%s: %s: %s", paths.v[i], e.place, e.says);
        venue_write(b, &again);
        ck_assert_msg(strcmp(str_text(&bytes), str_text(&again)) == 0, "%s", paths.v[i]);
        booth_free(b);
        str_clear(&bytes);
        str_clear(&again);
    }
    paths_clear(&paths);
}
END_TEST

Suite *test_venue(void)
{
    Suite *s = suite_create("file/venue");
    TCase *t = tcase_create("venue");
    tcase_set_timeout(t, 120);
    tcase_add_test(t, what_was_written_reads_as_the_same_booth_and_writes_as_the_same_bytes);
    tcase_add_test(t, every_file_in_venues_is_sound_and_canonical);
    suite_add_tcase(s, t);
    return s;
}
