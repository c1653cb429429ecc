/* What no file can hold: outputs that are full or gone, other locales, a great many arguments. */
#include <check.h>
#include <cjson/cJSON.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "cli/program.h"

static char check[] = "check", json[] = "--json", heard[] = "heard", example[] = "names.json",
            quiet[] = "quiet.json";

START_TEST(a_full_standard_output_ends_with_4_and_a_sentence)
{
    struct program p = {.output = open("/dev/full", O_WRONLY)};
    if (p.output < 0)
        return; /* only some systems have one */
    program_run(&p, (char *[]){heard, example}, 2);
    close(p.output);
    ck_assert_int_eq(p.status, 4);
    ck_assert_str_eq(str_text(&p.err),
                     "boothwright: standard output: cannot be written: No space left on device\n");
    program_clear(&p);
}
END_TEST

START_TEST(a_reader_that_has_gone_is_told_nothing)
{
    int ends[2];
    ck_assert_int_eq(pipe(ends), 0);
    close(ends[0]);
    struct program p = {.output = ends[1]};
    program_run(&p, (char *[]){heard, example}, 2);
    close(ends[1]);
    ck_assert_int_eq(p.status, 4);
    ck_assert_str_eq(str_text(&p.err), "");
    program_clear(&p);
}
END_TEST

START_TEST(an_output_for_reading_only_ends_with_4)
{
    struct program p = {.output = open("/dev/null", O_RDONLY)};
    program_run(&p, (char *[]){heard, example}, 2);
    close(p.output);
    ck_assert_int_eq(p.status, 4);
    program_clear(&p);
}
END_TEST

START_TEST(nothing_harmful_reaches_a_terminal_in_any_locale)
{
    static const char *const locales[] = {"C", "POSIX", "C.UTF-8", "xx_YY.NONE"};
    char *ways[][3] = {{heard, example, NULL}, {heard, json, example}};
    for (size_t i = 0; i < 8; i++) {
        struct program p = {.locale = locales[i / 2]};
        program_run(&p, ways[i % 2], i % 2 ? 3 : 2);
        ck_assert_int_eq(p.status, 0);
        for (size_t k = 0; k < p.out.len; k++)
            ck_assert(p.out.text[k] == '\n' || (unsigned char)p.out.text[k] >= ' ');
        ck_assert(!strstr(str_text(&p.out), "\xe2\x80\xae")); /* U+202E */
        ck_assert(!strstr(str_text(&p.out), "\xc2\x9b"));     /* U+009B */
        program_clear(&p);
    }
}
END_TEST

START_TEST(a_locale_without_utf8_gets_question_marks)
{
    struct program p = {.locale = "C"};
    program_run(&p, (char *[]){heard, example}, 2);
    ck_assert(strstr(str_text(&p.out), "??") != NULL);
    ck_assert(!strstr(str_text(&p.out), "\xe6\xbc\xa2"));
    program_clear(&p);
}
END_TEST

START_TEST(a_locale_of_utf8_that_is_not_installed_shows_every_script)
{
    struct program p = {.locale = "xx_YY.UTF-8"};
    program_run(&p, (char *[]){heard, example}, 2);
    ck_assert(strstr(str_text(&p.out), "\xe6\xbc\xa2") != NULL);
    program_clear(&p);
}
END_TEST

START_TEST(ten_thousand_files_are_checked)
{
    enum { MANY = 10000 };
    char **arguments = mem_new(MANY + 2, sizeof *arguments);
    arguments[0] = check;
    arguments[1] = json;
    for (size_t i = 0; i < MANY; i++)
        arguments[i + 2] = quiet;
    struct program p = {.input = NULL};
    program_run(&p, arguments, MANY + 2);
    ck_assert_int_eq(p.status, 0);
    cJSON *document = cJSON_Parse(str_text(&p.out));
    ck_assert(cJSON_IsArray(cJSON_GetObjectItemCaseSensitive(document, "faults")));
    cJSON_Delete(document);
    program_clear(&p);
    mem_free(arguments);
}
END_TEST

Suite *test_edge(void);
Suite *test_edge(void)
{
    Suite *s = suite_create("cli/edge");
    TCase *t = tcase_create("edge");
    tcase_set_timeout(t, 60);
    tcase_add_test(t, a_full_standard_output_ends_with_4_and_a_sentence);
    tcase_add_test(t, a_reader_that_has_gone_is_told_nothing);
    tcase_add_test(t, an_output_for_reading_only_ends_with_4);
    tcase_add_test(t, nothing_harmful_reaches_a_terminal_in_any_locale);
    tcase_add_test(t, a_locale_without_utf8_gets_question_marks);
    tcase_add_test(t, a_locale_of_utf8_that_is_not_installed_shows_every_script);
    tcase_add_test(t, ten_thousand_files_are_checked);
    suite_add_tcase(s, t);
    return s;
}
