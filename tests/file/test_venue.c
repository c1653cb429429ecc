#include <check.h>
#include <string.h>

#include "file/venue.h"
#include "support/booth_from.h"

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

Suite *test_venue(void)
{
    Suite *s = suite_create("file/venue");
    TCase *t = tcase_create("venue");
    tcase_add_test(t, what_was_written_reads_as_the_same_booth_and_writes_as_the_same_bytes);
    suite_add_tcase(s, t);
    return s;
}
