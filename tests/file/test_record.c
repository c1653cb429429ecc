#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "file/record.h"
#include "support/scratch_file.h"

START_TEST(the_sum_is_the_published_one)
{
    /* the check value of this CRC-32 in catalogues of CRCs (from memory); zlib agrees */
    ck_assert_uint_eq(record_sum("123456789", 9), 0xcbf43926);
    ck_assert_uint_eq(record_sum("", 0), 0);
}
END_TEST

START_TEST(a_line_is_spelled_in_one_way)
{
    struct str s = {0};
    const char *payload;
    size_t n;
    record_add(&s, "123456789", 9);
    ck_assert_str_eq(s.text, "cbf43926 000009 123456789\n");
    ck_assert_uint_eq(s.len, record_size(9));
    ck_assert(record_next(s.text, s.len, &payload, &n) && n == 9 && *payload == '1');
    const char *others[] = {"CBF43926 000009 123456789\n",
                            "cbf43926      9 123456789\n",
                            "cbf43926 +00009 123456789\n",
                            "cbf43926 000009\t123456789\n",
                            "cbf43926 000009 123456789",
                            "cbf43926 000009 12345678\n",
                            "\n",
                            ""};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        ck_assert_msg(!record_next(others[i], strlen(others[i]), &payload, &n), "%s", others[i]);
    str_clear(&s);
}
END_TEST

/* A line as record_add() would make it if it did not check its payload. */
static void forge(struct str *s, const char *payload, size_t n)
{
    str_addf(s, "%08x %06zx ", (unsigned)record_sum(payload, n), n);
    str_addn(s, payload, n);
    str_addc(s, '\n');
}

START_TEST(a_forged_line_with_a_nul_or_beyond_all_length_is_refused)
{
    struct str s = {0};
    const char *payload;
    char *big = scratch_text('x', RECORD_MAX + 1);
    size_t n;
    forge(&s, "one", 3);
    ck_assert(record_next(s.text, s.len, &payload, &n));
    str_cut(&s, 0);
    forge(&s, "o\0e", 3);
    ck_assert(!record_next(s.text, s.len, &payload, &n));
    str_cut(&s, 0);
    forge(&s, big, RECORD_MAX);
    ck_assert(record_next(s.text, s.len, &payload, &n));
    str_cut(&s, 0);
    forge(&s, big, RECORD_MAX + 1);
    ck_assert(!record_next(s.text, s.len, &payload, &n));
    str_clear(&s);
    mem_free(big);
}
END_TEST

/* About n bytes of lines of many lengths. */
static void write_lines(struct str *s, size_t n)
{
    for (int i = 0; s->len < n; i++) {
        struct str line = {0};
        str_addf(&line, "{\"move\":%d,\"to\":[%d,%d]}", i, i % 97, i * i % 31);
        for (int k = 0; k < i % 7; k++)
            str_add(&line, " Tideline");
        record_add(s, line.text, line.len);
        str_clear(&line);
    }
}

/* Reads whole lines from the start; returns the bytes they take. */
static size_t whole(const char *bytes, size_t n)
{
    const char *payload;
    size_t at = 0, len;
    while (record_next(bytes + at, n - at, &payload, &len))
        at += record_size(len);
    return at;
}

/* Where the line begins that the byte at lies in. */
static size_t line_start(const struct str *s, size_t at)
{
    while (at > 0 && s->text[at - 1] != '\n')
        at--;
    return at;
}

START_TEST(however_it_is_cut_just_the_whole_lines_are_read)
{
    struct str s = {0};
    write_lines(&s, 4096);
    for (size_t n = 0; n <= s.len; n++) {
        char *cut = mem_new(n, 1); /* of its own, so that reading past it would be noticed */
        memcpy(cut, s.text, n);
        ck_assert_uint_eq(whole(cut, n), line_start(&s, n));
        mem_free(cut);
    }
    str_clear(&s);
}
END_TEST

/* Changes each byte by each of the differences, and asks for just the lines before. */
static void change_bytes(size_t n, int first, int step)
{
    struct str s = {0};
    write_lines(&s, n);
    for (size_t i = 0; i < s.len; i++) {
        for (int x = first; x < 256; x = step ? x + step : x * 2) {
            s.text[i] ^= (char)x;
            size_t got = whole(s.text, s.len);
            s.text[i] ^= (char)x;
            ck_assert_msg(got == line_start(&s, i), "byte %zu changed by %02x: %zu", i, (unsigned)x,
                          got);
        }
    }
    str_clear(&s);
}

START_TEST(whichever_bit_is_changed_just_the_lines_before_are_read)
{
    change_bytes(4096, 1, 0);
}
END_TEST

START_TEST(whichever_byte_is_changed_to_whatever_just_the_lines_before_are_read)
{
    change_bytes(1024, 1, 1);
}
END_TEST

Suite *test_record(void)
{
    Suite *s = suite_create("file/record");
    TCase *t = tcase_create("record");
    tcase_set_timeout(t, 60);
    tcase_add_test(t, the_sum_is_the_published_one);
    tcase_add_test(t, a_line_is_spelled_in_one_way);
    tcase_add_test(t, a_forged_line_with_a_nul_or_beyond_all_length_is_refused);
    tcase_add_test(t, however_it_is_cut_just_the_whole_lines_are_read);
    tcase_add_test(t, whichever_bit_is_changed_just_the_lines_before_are_read);
    tcase_add_test(t, whichever_byte_is_changed_to_whatever_just_the_lines_before_are_read);
    suite_add_tcase(s, t);
    return s;
}
