#include "base/hash.h"

#include <check.h>
#include <string.h>

static uint64_t of(const char *text)
{
    return hash_bytes(HASH_OF_NOTHING, text, strlen(text));
}

/* The test vectors of its authors: from memory. */
START_TEST(published_texts_have_their_published_hash)
{
    ck_assert_uint_eq(of(""), 0xcbf29ce484222325);
    ck_assert_uint_eq(of("a"), 0xaf63dc4c8601ec8c);
    ck_assert_uint_eq(of("foobar"), 0x85944171f73967e8);
}
END_TEST

START_TEST(a_hash_goes_on_where_it_was_left)
{
    ck_assert_uint_eq(hash_bytes(of("foo"), "bar", 3), of("foobar"));
    ck_assert_uint_eq(hash_bytes(of("foo"), NULL, 0), of("foo"));
}
END_TEST

Suite *test_hash(void);
Suite *test_hash(void)
{
    Suite *s = suite_create("base/hash");
    TCase *t = tcase_create("hash");
    tcase_add_test(t, published_texts_have_their_published_hash);
    tcase_add_test(t, a_hash_goes_on_where_it_was_left);
    suite_add_tcase(s, t);
    return s;
}
