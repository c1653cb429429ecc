#include <check.h>
#include <string.h>

#include "cli/arguments.h"
#include "cli/table.h"
#include "cli/verbs.h"

/* Takes a line apart at its blanks, in place, and reads it as arguments. */
static bool read_line(struct arguments *a, char *line)
{
    struct err e;
    char *argv[8];
    int n = 0;
    for (char *word = strtok(line, " "); word; word = strtok(NULL, " "))
        argv[n++] = word;
    return arguments_read(a, n, argv, &e);
}

START_TEST(without_even_a_name_it_is_wrong_usage)
{
    struct arguments a;
    struct err e;
    char *none[] = {NULL};
    ck_assert(!arguments_read(&a, 0, none, &e));
    ck_assert_int_eq(e.code, ERR_USAGE);
    arguments_clear(&a);
}
END_TEST

START_TEST(options_may_stand_anywhere)
{
    char orders[][32] = {"b --json route -", "b route --json -", "b route - --json"};
    for (size_t i = 0; i < 3; i++) {
        struct arguments a;
        ck_assert(read_line(&a, orders[i]));
        ck_assert_str_eq(a.verb->name, "route");
        ck_assert_uint_eq(a.options, OPTION_JSON);
        ck_assert_uint_eq(a.n, 1);
        ck_assert_str_eq(a.operands[0], "-");
        arguments_clear(&a);
    }
}
END_TEST

START_TEST(after_two_dashes_nothing_is_an_option_or_a_verb)
{
    struct arguments a;
    char option[] = "b check -- --json", verb[] = "b -- check";
    ck_assert(read_line(&a, option));
    ck_assert_uint_eq(a.options, 0);
    ck_assert_str_eq(a.operands[0], "--json");
    arguments_clear(&a);
    ck_assert(read_line(&a, verb));
    ck_assert_ptr_null(a.verb);
    ck_assert_str_eq(a.operands[0], "check");
    arguments_clear(&a);
}
END_TEST

START_TEST(the_editor_takes_its_options_and_one_file)
{
    struct arguments a;
    char line[] = "b --mono x.json --ascii";
    ck_assert(read_line(&a, line));
    ck_assert_ptr_null(a.verb);
    ck_assert_uint_eq(a.options, OPTION_MONO | OPTION_ASCII);
    ck_assert_uint_eq(a.n, 1);
    arguments_clear(&a);
}
END_TEST

START_TEST(every_verb_is_found_by_its_name)
{
    const struct verb *v;
    size_t n = 0;
    for (; (v = verb_at(n)); n++)
        ck_assert_ptr_eq(verb_find(v->name), v);
    ck_assert_uint_ge(n, 4);
    ck_assert_ptr_null(verb_find("chekc"));
    ck_assert_ptr_null(verb_find(""));
}
END_TEST

START_TEST(columns_line_up_in_any_script)
{
    struct table t = {.columns = 3};
    struct str out = {0};
    static const char *const cells[] = {"a", "long", "x", "\xe6\xbc\xa2\xe5\xad\x97", "", "y",
                                        "b", "c",    ""};
    for (size_t i = 0; i < 9; i++)
        table_add(&t, cells[i]);
    table_write(&t, &out);
    ck_assert_str_eq(str_text(&out), "a     long  x\n"
                                     "\xe6\xbc\xa2\xe5\xad\x97        y\n"
                                     "b     c\n");
    table_clear(&t);
    str_clear(&out);
}
END_TEST

START_TEST(words_wrap_at_80_columns_under_their_head)
{
    struct str out = {0}, text = {0};
    for (int i = 0; i < 30; i++)
        str_add(&text, i ? " word" : "word");
    text_wrap(&out, "  1 ", str_text(&text), false);
    ck_assert_str_eq(str_text(&out),
                     "  1 word word word word word word word word word word word word word word "
                     "word\n    word word word word word word word word word word word word word "
                     "word word\n");
    str_clear(&out);
    str_clear(&text);
}
END_TEST

Suite *test_arguments(void);
Suite *test_arguments(void)
{
    Suite *s = suite_create("cli/arguments");
    TCase *t = tcase_create("arguments");
    tcase_add_test(t, without_even_a_name_it_is_wrong_usage);
    tcase_add_test(t, options_may_stand_anywhere);
    tcase_add_test(t, after_two_dashes_nothing_is_an_option_or_a_verb);
    tcase_add_test(t, the_editor_takes_its_options_and_one_file);
    tcase_add_test(t, every_verb_is_found_by_its_name);
    tcase_add_test(t, columns_line_up_in_any_script);
    tcase_add_test(t, words_wrap_at_80_columns_under_their_head);
    suite_add_tcase(s, t);
    return s;
}
