#include <check.h>

#include "base/utf8.h"

static const char *safe(const char *text, int max)
{
    static struct str out;
    str_clear(&out);
    utf8_safe(&out, text, max, false);
    return str_text(&out);
}

START_TEST(what_is_unsafe_is_shown_and_never_raw)
{
    ck_assert_str_eq(safe("a\033[31mb", -1), "a<1B>[31mb");
    ck_assert_str_eq(safe("a\xc2\x9b"
                          "b",
                          -1),
                     "a<9B>b");
    ck_assert_str_eq(safe("x\xe2\x80\xae"
                          "y",
                          -1),
                     "x<202E>y");
    ck_assert_str_eq(safe("x\xff\xc0\x9b", -1), "x<FF><C0><9B>");
}
END_TEST

START_TEST(a_text_that_is_too_long_ends_in_a_tilde_within_its_columns)
{
    ck_assert_str_eq(safe("Tideline", 8), "Tideline");
    ck_assert_str_eq(safe("Tideline", 7), "Tideli~");
    ck_assert_str_eq(safe("\xe6\xbc\xa2\xe5\xad\x97", 3), "\xe6\xbc\xa2~");
    ck_assert_str_eq(safe("\xe6\xbc\xa2\xe5\xad\x97", 4), "\xe6\xbc\xa2\xe5\xad\x97");
    ck_assert_str_eq(safe("Tideline", 0), "");
}
END_TEST

START_TEST(only_strict_utf8_is_valid)
{
    ck_assert_uint_eq(utf8_valid("ab\xc0\x80", 4), 2);
    ck_assert_uint_eq(utf8_valid("\xed\xa0\x80", 3), 0);
    ck_assert_uint_eq(utf8_valid("\xf4\x90\x80\x80", 4), 0);
    ck_assert_uint_eq(utf8_valid("\xf4\x8f\xbf\xbf", 4), 4);
    ck_assert_uint_eq(utf8_valid("\xe2\x82", 2), 0);
}
END_TEST

Suite *test_utf8(void)
{
    Suite *s = suite_create("base/utf8");
    TCase *t = tcase_create("utf8");
    tcase_add_test(t, what_is_unsafe_is_shown_and_never_raw);
    tcase_add_test(t, a_text_that_is_too_long_ends_in_a_tilde_within_its_columns);
    tcase_add_test(t, only_strict_utf8_is_valid);
    suite_add_tcase(s, t);
    return s;
}
