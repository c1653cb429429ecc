/* The sheet: its bounds here, and its formats by general-purpose readers (Python's XML and CSV),
 * where those are there. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

#include "base/utf8.h"
#include "engine/sheet.h"
#include "model/shape.h"
#include "support/booth_from.h"
#include "support/scratch_file.h"

/* As long as a label may be, in one word. */
#define LONG "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-L"

/* A random booth whose labels are as bad as labels can be. */
static struct booth *hostile(unsigned seed)
{
    static const char *const labels[] = {"<script>&\"'</script>",
                                         "\x1b[31m\x07",
                                         "=1+1",
                                         "a,\"b\"\r\nc",
                                         "\xe6\xbc\xa2\xe5\xad\x97\xe6\xbc\xa2",
                                         "x\xe2\x80\xaey",
                                         "e\xcc\x81\xcc\x81\xcc\x81"};
    struct booth *b = booth_random(seed);
    unsigned long long state = seed;
    const unsigned n = sizeof labels / sizeof *labels;
    for (size_t i = 0; i < b->devices.n; i++) {
        text_set(&b->devices.v[i].label, labels[random_below(&state, n)]);
        for (size_t k = 0; k < b->devices.v[i].strips.n; k++)
            text_set(&b->devices.v[i].strips.v[k].label, labels[random_below(&state, n)]);
    }
    for (size_t i = 0; i < b->decks.n; i++)
        text_set(&b->decks.v[i].label, labels[random_below(&state, n)]);
    text_set(&b->venue.name, labels[random_below(&state, n)]);
    return b;
}

START_TEST(no_line_is_wider_than_a_page_and_nothing_unsafe_is_printed)
{
    for (unsigned seed = 1; seed <= 150; seed++) {
        struct booth *b = hostile(seed);
        struct derived *d = derived_make(b);
        struct str text = {0};
        sheet_text(d, "2026-11-25", &text);
        char *state = NULL;
        for (char *l = strtok_r(text.text, "\n", &state); l; l = strtok_r(NULL, "\n", &state)) {
            struct str again = {0};
            int columns = utf8_safe(&again, l, -1, false);
            ck_assert_msg(columns <= 80, "seed %u: %d columns: %s", seed, columns, l);
            ck_assert_msg(strcmp(str_text(&again), l) == 0, "seed %u: not safe: %s", seed, l);
            str_clear(&again);
        }
        str_clear(&text);
        derived_free(d);
        booth_free(b);
    }
}
END_TEST

static void put(const char *name, const struct str *text)
{
    FILE *f = fopen(scratch(name), "wb");
    ck_assert(f && fwrite(text->text, 1, text->len, f) == text->len && fclose(f) == 0);
}

/* Adds the text sheet of a booth whose first device and deck are called LONG, all white space
 * single. */
static void flat_sheet(const char *booth, struct str *flat)
{
    struct booth *b = booth_from(booth);
    text_set(&b->decks.v[0].label, LONG);
    text_set(&b->devices.v[0].label, LONG);
    text_set(&b->venue.name, LONG);
    text_set(&b->venue.room, LONG);
    struct derived *d = derived_make(b);
    struct str text = {0};
    sheet_text(d, "2026-11-25", &text);
    for (size_t i = 0; i < text.len; i++)
        if (!strchr(" \n", text.text[i]))
            str_addc(flat, text.text[i]);
        else if (flat->len && flat->text[flat->len - 1] != ' ')
            str_addc(flat, ' ');
    str_clear(&text);
    derived_free(d);
    booth_free(b);
}

START_TEST(a_long_label_is_never_cut_and_pushes_nothing_off_the_sheet)
{
    struct str text = {0};
    flat_sheet("p1.line > s1.line; joined p1; p1 plugged host.1; h1 wants s1; s1 in-use Robin",
               &text);
    const char *told[] = {
        "PATCH SHEET " LONG ", " LONG " 2026-11-25", LONG ", 0/1, strip 1, " LONG " line",
        LONG " into port 1 of the laptop and wait; then 2 "
             "channels",
        "strip 1, * line, " LONG " line, RCA, straight", "HANDS OFF strip 1: in use by Robin"};
    for (size_t i = 0; i < sizeof told / sizeof *told; i++)
        ck_assert_msg(strstr(text.text, told[i]) != NULL, "%s is not in %s", told[i], text.text);
    str_clear(&text);
}
END_TEST

/* How many data leads go somewhere. */
static size_t count_leads(const struct booth *b)
{
    size_t n = 0;
    for (size_t i = 0; i < b->devices.n; i++)
        n += *b->devices.v[i].plugged.at != '\0';
    for (size_t i = 0; i < b->hubs.n; i++)
        n += *b->hubs.v[i].plugged.at != '\0';
    return n;
}

/* The sheets of a booth as files for sheet.py. */
static void put_sheets(unsigned number, const struct booth *b)
{
    char name[48];
    struct derived *d = derived_make(b);
    struct str svg = {0}, csv = {0};
    sheet_svg(d, "2026-11-25", &svg);
    sheet_csv(d, "2026-11-25", &csv);
    snprintf(name, sizeof name, "%u.svg", number);
    put(name, &svg);
    snprintf(name, sizeof name, "%u-%zu-%zu.csv", number, b->cables.n, count_leads(b));
    put(name, &csv);
    str_clear(&svg);
    str_clear(&csv);
    derived_free(d);
}

/* As many players, strips, decks and cables as there may be. */
static struct booth *largest(void)
{
    struct str text = {0};
    for (int i = 1; i <= MAX_PLAYERS; i++)
        str_addf(&text,
                 "p%d.line > s%d.line; p%d.digital > s%d.digital; h%d wants s%d; h%d by p%d;", i, i,
                 i, MAX_STRIPS + 1 - i, i, i, i, i);
    struct booth *b = booth_from(text.text);
    str_clear(&text);
    return b;
}

START_TEST(general_readers_take_the_picture_and_the_table)
{
    char command[512];
    scratch_make();
    for (unsigned seed = 1; seed <= 60; seed++) {
        struct booth *b = hostile(seed);
        put_sheets(seed, b);
        booth_free(b);
    }
    struct booth *b = largest();
    put_sheets(0, b);
    booth_free(b);
    snprintf(command, sizeof command, "python3 tests/cli/sheet.py '%s'", scratch(""));
    int status = system(command);
    scratch_remove();
    ck_assert(WIFEXITED(status));
    if (WEXITSTATUS(status) == 127)
        printf("cli/sheet: python3 is not there, its opinion is skipped\n");
    else
        ck_assert_int_eq(WEXITSTATUS(status), 0);
}
END_TEST

Suite *test_sheet(void)
{
    Suite *s = suite_create("cli/sheet");
    TCase *t = tcase_create("sheet");
    tcase_add_test(t, no_line_is_wider_than_a_page_and_nothing_unsafe_is_printed);
    tcase_add_test(t, a_long_label_is_never_cut_and_pushes_nothing_off_the_sheet);
    tcase_add_test(t, general_readers_take_the_picture_and_the_table);
    suite_add_tcase(s, t);
    return s;
}
