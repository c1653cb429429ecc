#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "file/json.h"
#include "file/json_out.h"

/* Whether the bytes are read; if not, where and why is in e. */
static bool reads(const char *bytes, size_t n, struct err *e)
{
    *e = (struct err){0};
    struct json *j = json_read(bytes, n, e);
    bool fine = j != NULL;
    ck_assert(fine || (e->code == ERR_READ && *e->says));
    json_free(j);
    return fine;
}

/* A document read and written again on one line, for the caller to free. */
static char *again(const char *text)
{
    struct err e = {0};
    struct str out = {0};
    struct json *j = json_read(text, strlen(text), &e);
    ck_assert_msg(j != NULL, "%s: %s %s", text, e.place, e.says);
    struct json_out w = json_on(&out, true);
    json_copy(&w, NULL, j);
    json_free(j);
    return str_take(&out);
}

static const struct {
    const char *text, *place, *says;
} refused[] = {
    /* nothing, more than one thing, half a thing */
    {"", "", "is empty"},
    {" \t\r\n ", "", "is empty"},
    {"{} x", "line 1, column 4", "after the end"},
    {"{}{}", "line 1, column 3", "after the end"},
    {"1 2", "line 1, column 3", "after the end"},
    {"{", "line 1, column 2", "ends too early"},
    {"[1", "line 1, column 3", "ends too early"},
    {"\"a", "line 1, column 3", "ends too early"},
    {"\"\\", "line 1, column 3", "ends too early"},
    {"tru", "line 1, column 1", "not a JSON value"},
    {"nulL", "line 1, column 1", "not a JSON value"},
    {"-", "line 1, column 2", "ends too early"},
    {"\xef\xbb\xbf", "", "is empty"},
    {"\xef\xbb\xbf\xef\xbb\xbf{}", "line 1, column 1", "not a JSON value"},
    /* what other notations allow */
    {"// x\n{}", "line 1, column 1", "a comment"},
    {"{\n  # x\n}", "line 2, column 3", "no text"},
    {"[1, /* x */ 2]", "line 1, column 5", "a comment"},
    {"[1,\n 2,\n]", "line 3, column 1", "a comma before the closing bracket"},
    {"{\"a\": 1,}", "line 1, column 9", "a comma before the closing bracket"},
    {"{'a': 1}", "line 1, column 2", "a single quote"},
    {"'a'", "line 1, column 1", "a single quote"},
    {"{a: 1}", "line 1, column 2", "expected one in double quotes"},
    {"[NaN]", "line 1, column 2", "not a JSON value"},
    {"[Infinity]", "line 1, column 2", "not a JSON value"},
    {"[+1]", "line 1, column 2", "a digit or a minus first"},
    {"[.5]", "line 1, column 2", "a digit or a minus first"},
    {"[0x10]", "line 1, column 3", "a comma or a closing bracket"},
    {"[1 2]", "line 1, column 4", "a comma or a closing bracket"},
    {"{\"a\" 1}", "line 1, column 6", "no colon"},
    {"{\"a\": 1 \"b\": 2}", "line 1, column 9", "a comma or a closing brace"},
    {"[1}", "line 1, column 3", "a comma or a closing bracket"},
    {"[\x01]", "line 1, column 2", "not a JSON value"},
    {"[1\x0b]", "line 1, column 3", "a comma or a closing bracket"},
    /* numbers */
    {"[01]", "line 1, column 2", "leading zeros"},
    {"[-00]", "line 1, column 2", "leading zeros"},
    {"[1.]", "line 1, column 4", "a digit after the point"},
    {"[-.5]", "line 1, column 3", "a broken number"},
    {"[1e]", "line 1, column 4", "a broken exponent"},
    {"[1e+]", "line 1, column 5", "a broken exponent"},
    {"[2147483649]", "line 1, column 2", "out of range"},
    {"[-2147483649]", "line 1, column 2", "out of range"},
    {"[1e999]", "line 1, column 2", "out of range"},
    {"[1e-400]", "line 1, column 2", "out of range"},
    {"[1e99999999999999999999]", "line 1, column 2", "out of range"},
    {"[0.0001]", "line 1, column 2", "out of range"},
    {"[1000000.5]", "line 1, column 2", "out of range"},
    {"[9007199254740993]", "line 1, column 2", "out of range"},
    {"[99999999999999999999999999999999999999999]", "line 1, column 2", "out of range"},
    {"[0.00000000000000000000000000000000000000000000000000000000000000]", "line 1, column 2",
     "out of range"},
    /* texts */
    {"[\"a\\x\"]", "line 1, column 5", "an unknown escape"},
    {"[\"\\u12g4\"]", "line 1, column 7", "four hexadecimal digits"},
    {"[\"\\u12\"]", "line 1, column 7", "four hexadecimal digits"},
    {"[\"a\tb\"]", "line 1, column 4", "a raw control character"},
    {"[\"a\nb\"]", "line 1, column 4", "a raw control character"},
    {"[\"\\u0000\"]", "line 1, column 3", "a NUL character"},
    {"[\"\\ud800\"]", "line 1, column 3", "half of a surrogate pair"},
    {"[\"\\udc00\"]", "line 1, column 3", "half of a surrogate pair"},
    {"[\"\\ud800\\u0041\"]", "line 1, column 3", "half of a surrogate pair"},
    {"[\"\\ud800x\"]", "line 1, column 3", "half of a surrogate pair"},
    {"[\"\\ud800\\ud800\"]", "line 1, column 3", "half of a surrogate pair"},
    /* UTF-8: the column counts characters */
    {"[\"\xc3\xa9\xff\"]", "line 1, column 4", "not UTF-8"},
    {"[\"\xc0\x80\"]", "line 1, column 3", "not UTF-8"},
    {"[\"\xed\xa0\x80\"]", "line 1, column 3", "not UTF-8"},
    {"[\"\xf4\x90\x80\x80\"]", "line 1, column 3", "not UTF-8"},
    {"[\"\xe2\x82\"]", "line 1, column 3", "not UTF-8"},
    /* keys */
    {"{\"a\": 1, \"a\": 2}", "", "the key \"a\" is there twice"},
    {"{\"a\": 1, \"\\u0061\": 2}", "", "the key \"a\" is there twice"},
    {"{\"x\": [0, {\"b\": 1, \"c\": 2, \"b\": 1}]}", "x[1]", "the key \"b\" is there twice"},
};

START_TEST(what_a_lenient_reader_would_guess_at_is_refused)
{
    struct err e;
    const char *text = refused[_i].text;
    ck_assert_msg(!reads(text, strlen(text), &e), "read: %s", text);
    ck_assert_msg(strstr(e.says, refused[_i].says) != NULL, "%s: %s", text, e.says);
    ck_assert_str_eq(e.place, refused[_i].place);
}
END_TEST

START_TEST(a_nul_byte_is_refused_wherever_it_stands)
{
    struct err e;
    const char text[] = "{\"a\": [\"b\"]}";
    for (size_t i = 0; i < sizeof text - 1; i++) {
        char copy[sizeof text];
        memcpy(copy, text, sizeof text);
        copy[i] = '\0';
        ck_assert(!reads(copy, sizeof text - 1, &e));
        ck_assert_msg(strstr(e.says, "NUL"), "%s", e.says);
    }
    ck_assert(!reads("{}\0", 3, &e));
}
END_TEST

START_TEST(keys_that_differ_in_case_are_two_keys)
{
    struct err e;
    struct json *j = json_read("{\"a\":1,\"A\":2}", 13, &e);
    ck_assert_int_eq(json_thousandths(json_member(j, "A")), 2000);
    ck_assert_int_eq(json_thousandths(json_member(j, "a")), 1000);
    ck_assert_ptr_null(json_member(j, "b"));
    json_free(j);
}
END_TEST

static const struct {
    const char *text, *again;
} kept[] = {
    {"[0,-0,1e3,1.500,1E-3,-2.5,1000000,999999.999]",
     "[0,0,1000,1.5,0.001,-2.5,1000000,999999.999]"},
    {"[2147483648,-2147483648,2147483647,0e99,0.000]", "[2147483648,-2147483648,2147483647,0,0]"},
    {" { \"a\" : [ true , false , null ] } ", "{\"a\":[true,false,null]}"},
    {"[[],{},\"\",[[]]]", "[[],{},\"\",[[]]]"},
    {"\"\\/ \\\" \\\\ \\b\\f\\n\\r\\t \\u0001 \\u001f\"",
     "\"/ \\\" \\\\ \\b\\f\\n\\r\\t \\u0001 \\u001f\""},
    {"\"\x7f \xc2\x9b \\u00e9 \\ud83d\\ude00\"", "\"\\u007f \\u009b \xc3\xa9 \xf0\x9f\x98\x80\""},
    {"\xef\xbb\xbf{\"b\":1,\"a\":2}", "{\"b\":1,\"a\":2}"},
    {"\r\n[\r\n1\t]\r\n", "[1]"},
    {"7", "7"},
};

START_TEST(what_is_read_is_written_again_without_loss)
{
    char *text = again(kept[_i].text), *twice = again(text);
    ck_assert_str_eq(text, kept[_i].again);
    ck_assert_str_eq(twice, text);
    mem_free(text);
    mem_free(twice);
}
END_TEST

/* So many opening brackets, then so many closing ones. */
static bool nested(size_t depth, struct err *e)
{
    char *text = mem_new(2 * depth, 1);
    memset(text, '[', depth);
    memset(text + depth, ']', depth);
    bool fine = reads(text, 2 * depth, e);
    mem_free(text);
    return fine;
}

START_TEST(brackets_may_be_nested_to_the_limit_and_no_deeper)
{
    struct err e;
    ck_assert(nested(JSON_MAX_DEPTH, &e));
    ck_assert(!nested(JSON_MAX_DEPTH + 1, &e));
    ck_assert_str_eq(e.place, "line 1, column 33");
    ck_assert(!nested(100000, &e));
}
END_TEST

START_TEST(a_document_may_have_a_mebibyte_and_no_byte_more)
{
    struct err e;
    char *text = mem_new(JSON_MAX_BYTES + 1, 1);
    memset(text, ' ', JSON_MAX_BYTES + 1);
    memcpy(text, "[1]", 3);
    ck_assert(reads(text, JSON_MAX_BYTES - 1, &e));
    ck_assert(reads(text, JSON_MAX_BYTES, &e));
    ck_assert(!reads(text, JSON_MAX_BYTES + 1, &e));
    ck_assert_ptr_nonnull(strstr(e.says, "1048577 bytes"));
    mem_free(text);
}
END_TEST

START_TEST(a_sentence_about_a_long_key_is_cut_between_characters)
{
    struct str text = {0};
    struct err e;
    for (int twice = 0; twice < 2; twice++) {
        str_add(&text, twice ? ",\"" : "{\"");
        for (int i = 0; i < 100; i++)
            str_add(&text, "\xe5\xb7\xa6");
        str_add(&text, "\":1");
    }
    str_add(&text, "}");
    ck_assert(!reads(str_text(&text), text.len, &e));
    ck_assert_ptr_nonnull(strstr(e.says, "\xe5\xb7\xa6\" is there twice"));
    str_clear(&text);
}
END_TEST

static void write_some(struct json_out *w)
{
    json_object(w, NULL);
    json_array(w, "none");
    json_end(w);
    json_object(w, "nothing");
    json_end(w);
    json_array(w, "some");
    json_number(w, NULL, -7);
    json_milli(w, NULL, 2500);
    json_milli(w, NULL, -50);
    json_milli(w, NULL, 3000);
    json_real(w, NULL, 0.1);
    json_real(w, NULL, 5.0 / 3);
    json_real(w, NULL, 1 / 0.0);
    json_object(w, NULL);
    json_bool(w, "truth", true);
    json_null(w, "null");
    json_text(w, "text", "gr\xc3\xbcn\n");
    json_text(w, "no text", NULL);
    json_text(w, "no UTF-8",
              "a\xff"
              "b");
    json_end(w);
    json_end(w);
    json_end(w);
}

START_TEST(the_writer_indents_by_two_or_not_at_all)
{
    struct str out = {0};
    struct json_out w = json_on(&out, false);
    write_some(&w);
    ck_assert_str_eq(str_text(&out), "{\n"
                                     "  \"none\": [],\n"
                                     "  \"nothing\": {},\n"
                                     "  \"some\": [\n"
                                     "    -7,\n"
                                     "    2.5,\n"
                                     "    -0.05,\n"
                                     "    3,\n"
                                     "    0.1,\n"
                                     "    1.6666666666666667,\n"
                                     "    null,\n"
                                     "    {\n"
                                     "      \"truth\": true,\n"
                                     "      \"null\": null,\n"
                                     "      \"text\": \"gr\xc3\xbcn\\n\",\n"
                                     "      \"no text\": null,\n"
                                     "      \"no UTF-8\": \"a\xef\xbf\xbd"
                                     "b\"\n"
                                     "    }\n"
                                     "  ]\n"
                                     "}\n");
    str_cut(&out, 0);
    w = json_on(&out, true);
    write_some(&w);
    ck_assert_str_eq(str_text(&out), "{\"none\":[],\"nothing\":{},\"some\":[-7,2.5,-0.05,3,0.1,"
                                     "1.6666666666666667,null,{\"truth\":true,\"null\":null,"
                                     "\"text\":\"gr\xc3\xbcn\\n\",\"no text\":null,"
                                     "\"no UTF-8\":\"a\xef\xbf\xbd"
                                     "b\"}]}");
    str_clear(&out);
}
END_TEST

#define COUNT(table) (int)(sizeof table / sizeof *table)

Suite *test_json(void)
{
    Suite *s = suite_create("file/json");
    TCase *t = tcase_create("json");
    tcase_add_loop_test(t, what_a_lenient_reader_would_guess_at_is_refused, 0, COUNT(refused));
    tcase_add_loop_test(t, what_is_read_is_written_again_without_loss, 0, COUNT(kept));
    tcase_add_test(t, a_nul_byte_is_refused_wherever_it_stands);
    tcase_add_test(t, keys_that_differ_in_case_are_two_keys);
    tcase_add_test(t, brackets_may_be_nested_to_the_limit_and_no_deeper);
    tcase_add_test(t, a_document_may_have_a_mebibyte_and_no_byte_more);
    tcase_add_test(t, a_sentence_about_a_long_key_is_cut_between_characters);
    tcase_add_test(t, the_writer_indents_by_two_or_not_at_all);
    suite_add_tcase(s, t);
    return s;
}
