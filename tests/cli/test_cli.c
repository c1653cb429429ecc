/* Cases in files: NAME.args has one argument a line, NAME.in is standard input; what must come of
 * it stands in NAME.out, NAME.err (nothing, if there is no such file) and NAME.rc (0, likewise).
 * Each case is one test; with --json the output is compared as data. */
#include <check.h>
#include <cjson/cJSON.h>
#include <glob.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "cli/program.h"

/* The i-th case in the folder, by name; free with mem_free(). NULL past the end. */
static char *case_name(int i)
{
    glob_t found;
    if (glob("tests/cli/*.args", 0, NULL, &found) != 0)
        return NULL;
    char *name = i < (int)found.gl_pathc ? mem_text(found.gl_pathv[i]) : NULL;
    globfree(&found);
    if (name)
        *strrchr(name, '.') = '\0';
    return name;
}

static int case_count(void)
{
    int n = 0;
    for (char *name; (name = case_name(n)); n++)
        mem_free(name);
    return n;
}

static struct str case_file(const char *name, const char *ending)
{
    char path[256];
    snprintf(path, sizeof path, "%s%s", name, ending);
    return program_file(path);
}

/* Takes the lines of text apart in place; returns how many. */
static size_t lines_of(struct str *text, char **lines, size_t room)
{
    size_t n = 0;
    for (char *s = text->text; s && *s; n++) {
        ck_assert_uint_lt(n, room);
        char *end = strchr(s, '\n');
        ck_assert_msg(end != NULL, "a last line without an end");
        *end = '\0';
        lines[n] = s;
        s = end + 1;
    }
    return n;
}

static void compare_data(const char *name, const char *want, const char *got)
{
    cJSON *a = cJSON_Parse(want), *b = cJSON_Parse(got);
    ck_assert_msg(a && b && cJSON_Compare(a, b, true), "%s: printed\n%s\ninstead of\n%s", name, got,
                  want);
    cJSON_Delete(a);
    cJSON_Delete(b);
}

static void compare_text(const char *name, const char *what, const char *want, const char *got)
{
    ck_assert_msg(strcmp(want, got) == 0, "%s: %s is\n%s\ninstead of\n%s", name, what, got, want);
}

static void compare_output(const char *name, const struct str *want, const struct str *got,
                           bool json)
{
    if (json && want->len && got->len)
        compare_data(name, str_text(want), str_text(got));
    else
        compare_text(name, "standard output", str_text(want), str_text(got));
}

static bool any_line(char *const *lines, size_t n, const char *line)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(lines[i], line) == 0)
            return true;
    return false;
}

static void run_case(const char *name, char *const *lines, size_t n)
{
    char input[256];
    snprintf(input, sizeof input, "%s.in", name);
    struct program p = {.input = access(input, R_OK) == 0 ? input : NULL};
    struct str out = case_file(name, ".out"), err = case_file(name, ".err"),
               rc = case_file(name, ".rc");
    program_run(&p, lines, n);
    compare_text(name, "standard error", str_text(&err), str_text(&p.err));
    compare_output(name, &out, &p.out, any_line(lines, n, "--json"));
    ck_assert_msg(p.status == atoi(str_text(&rc)), "%s: exit status %d instead of %d", name,
                  p.status, atoi(str_text(&rc)));
    str_clear(&out);
    str_clear(&err);
    str_clear(&rc);
    program_clear(&p);
}

START_TEST(a_case_comes_out_as_written)
{
    char *name = case_name(_i), *lines[16];
    ck_assert(name != NULL);
    struct str arguments = case_file(name, ".args");
    size_t n = lines_of(&arguments, lines, 16);
    run_case(name, lines, n);
    str_clear(&arguments);
    mem_free(name);
}
END_TEST

Suite *test_cli(void);
Suite *test_cli(void)
{
    Suite *s = suite_create("cli/cases");
    TCase *t = tcase_create("in files");
    tcase_add_loop_test(t, a_case_comes_out_as_written, 0, case_count());
    suite_add_tcase(s, t);
    return s;
}
