/* The manual is written by hand; here it is held against the tables that the program works by.
 *
 * In mdoc an entry of a list begins ".It"; its names follow ".It Cm" or ".It Ic", parted by " , ".
 */
#include <check.h>
#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "cli/help.h"
#include "cli/program.h"
#include "engine/causes.h"
#include "engine/faults.h"
#include "file/venue.h"
#include "model/shape.h"
#include "ui/keymap.h"

/* The lines of a page from the heading (".Sh FAULTS", ".Ss host") to the next of its kind. */
static struct str section_of(const char *page, const char *heading)
{
    struct str whole = program_file(page), out = {0};
    char start[64];
    snprintf(start, sizeof start, "\n%s\n", heading);
    const char *from = strstr(str_text(&whole), start);
    ck_assert_msg(from != NULL, "%s has no %s", page, heading);
    from += strlen(start);
    const char *to = strstr(from, "\n.Sh "), *sub = strstr(from, "\n.Ss ");
    if (strncmp(heading, ".Ss", 3) == 0 && sub && sub < to)
        to = sub;
    str_addn(&out, from, to ? (size_t)(to + 1 - from) : strlen(from));
    str_clear(&whole);
    return out;
}

/* Whether a line that begins with start (".It Cm") holds the word among its names. */
static bool has_entry(const struct str *section, const char *start, const char *word)
{
    char line[256];
    for (const char *s = str_text(section); *s; s += strcspn(s, "\n"), s += *s == '\n') {
        snprintf(line, sizeof line, "%.*s", (int)strcspn(s, "\n"), s);
        if (strncmp(line, start, strlen(start)) != 0)
            continue;
        for (char *w = strtok(line + strlen(start), " ,"); w; w = strtok(NULL, " ,"))
            if (strcmp(w, word) == 0)
                return true;
    }
    return false;
}

static size_t count_entries(const struct str *section, const char *start)
{
    size_t n = 0;
    for (const char *s = str_text(section); (s = strstr(s, start)); s++)
        n++;
    return n;
}

START_TEST(every_cause_stands_in_the_manual_with_its_likelihood_and_no_other)
{
    struct str causes = section_of("man/boothwright.1", ".Sh CAUSES");
    for (int kind = 0; kind <= CAUSE_STRIP_DEAD; kind++) {
        struct circuit none = {0};
        struct cause k = {.kind = (enum cause_kind)kind};
        char line[64];
        snprintf(line, sizeof line, ".It Cm %s , No %.0f\n", cause_word(k.kind),
                 cause_likelihood(&none, &k));
        ck_assert_msg(strstr(str_text(&causes), line) != NULL, "no %s", line);
    }
    ck_assert_uint_eq(count_entries(&causes, ".It Cm"), CAUSE_STRIP_DEAD + 1);
    str_clear(&causes);
}
END_TEST

START_TEST(every_verb_stands_in_the_manual_and_no_other)
{
    struct str verbs = section_of("man/boothwright.1", ".Sh VERBS");
    size_t n = 0;
    for (const struct verb *v; (v = verb_at(n)); n++)
        ck_assert_msg(has_entry(&verbs, ".It Ic", v->name), "no %s", v->name);
    ck_assert_uint_eq(count_entries(&verbs, ".It Ic"), n);
    str_clear(&verbs);
}
END_TEST

START_TEST(every_option_stands_in_the_manual)
{
    struct str text = section_of("man/boothwright.1", ".Sh DESCRIPTION");
    const struct option_row *row;
    for (size_t i = 0; (row = option_at(i)); i++) {
        char entry[64]; /* mdoc puts the first dash itself */
        char value[32] = "";
        for (size_t k = 0; row->value && row->value[k] && k + 1 < sizeof value; k++)
            value[k] = (char)tolower((unsigned char)row->value[k]);
        snprintf(entry, sizeof entry, "\n.It Fl %s%s%s\n", row->name + 1, *value ? " Ar " : "",
                 value);
        ck_assert_msg(strstr(str_text(&text), entry) != NULL, "no %s", row->name);
    }
    str_clear(&text);
}
END_TEST

/* mdoc wants a mark before what it would take for punctuation. */
static bool has_key(const struct str *section, const char *name)
{
    char marked[32];
    snprintf(marked, sizeof marked, "\\&%s", name);
    return has_entry(section, ".It Sy", name) || has_entry(section, ".It Sy", marked);
}

START_TEST(every_key_stands_in_the_manual_under_its_heading_and_no_other)
{
    struct str all = section_of("man/boothwright.1", ".Sh KEYS");
    const struct key_row *row;
    size_t named = 0;
    for (size_t i = 0; (row = keymap_row(i)); i++) {
        char heading[64];
        if (!row->name)
            continue;
        snprintf(heading, sizeof heading, ".Ss %s", row->group);
        struct str keys = section_of("man/boothwright.1", heading);
        ck_assert_msg(has_key(&keys, row->name), "no %s under %s", row->name, heading);
        str_clear(&keys);
        named++;
    }
    ck_assert_uint_eq(count_entries(&all, ".It Sy"), named);
    str_clear(&all);
}
END_TEST

START_TEST(every_fault_stands_in_the_manual_under_its_severity)
{
    static const char *const headings[] = {".Ss Errors", ".Ss Warnings", ".Ss Notes"};
    size_t counts[3] = {0};
    const char *slug;
    enum severity severity;
    for (size_t i = 0; faults_rule(i, &slug, &severity); i++) {
        struct str faults = section_of("man/boothwright.1", headings[severity]);
        ck_assert_msg(has_entry(&faults, ".It Cm", slug), "no %s", slug);
        counts[severity]++;
        str_clear(&faults);
    }
    for (size_t i = 0; i < 3; i++) {
        struct str faults = section_of("man/boothwright.1", headings[i]);
        ck_assert_uint_eq(count_entries(&faults, ".It Cm"), counts[i]);
        str_clear(&faults);
    }
}
END_TEST

START_TEST(every_exit_status_stands_in_the_manual)
{
    struct str exits = section_of("man/boothwright.1", ".Sh EXIT STATUS");
    size_t n = 0;
    for (int status; help_exit(n, &status); n++) {
        char number[16];
        snprintf(number, sizeof number, "%d", status);
        ck_assert_msg(has_entry(&exits, ".It", number), "no %s", number);
    }
    ck_assert_uint_eq(count_entries(&exits, ".It "), n);
    str_clear(&exits);
}
END_TEST

/* Each record's section lists all of its keys. What the page tells in running text (a saved
 * combination, minutes, a mark of a line check) is looked for there. */
START_TEST(every_key_of_a_file_stands_in_its_manual)
{
    static const struct {
        const char *heading;
        const struct shape *shape;
        const char *start;
    } rows[] = {
        {".Ss The document", &shape_booth, ".It Cm"}, {".Ss venue", &shape_venue, ".It Cm"},
        {".Ss host", &shape_host, ".It Cm"},          {".Ss host", &shape_combination, ".Cm"},
        {".Ss host", &shape_minutes, ".Cm"},          {".Ss devices", &shape_device, ".It Cm"},
        {".Ss card", &shape_card, ".It Cm"},          {".Ss usb", &shape_usb, ".It Cm"},
        {".Ss outputs", &shape_output, ".It Cm"},     {".Ss strips", &shape_strip, ".It Cm"},
        {".Ss inputs", &shape_input, ".It Cm"},       {".Ss hubs", &shape_hub, ".It Cm"},
        {".Ss cables", &shape_cable, ".It Cm"},       {".Ss decks", &shape_deck, ".It Cm"},
        {".Ss found", &shape_found, ".It Cm"},        {".Ss line_check", &shape_listen, ".It Cm"},
        {".Ss line_check", &shape_mark, ".Cm"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct str text = section_of("man/boothwright-venue.5", rows[i].heading);
        for (size_t k = 0; k < rows[i].shape->n; k++)
            ck_assert_msg(has_entry(&text, rows[i].start, rows[i].shape->fields[k].key),
                          "no %s under %s", rows[i].shape->fields[k].key, rows[i].heading);
        str_clear(&text);
    }
}
END_TEST

START_TEST(every_word_of_a_file_stands_in_its_manual)
{
    static const struct words *const kinds[] = {
        &words_device_kind, &words_level,      &words_connector, &words_source,
        &words_control,     &words_crossfader, &words_speed,     &words_sides,
        &words_combining,   &words_gap,        &words_on_drop,   &words_channel_names,
        &words_ear};
    struct str text = section_of("man/boothwright-venue.5", ".Sh DESCRIPTION");
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        for (size_t k = 0; k < kinds[i]->n; k++)
            if (kinds[i]->v[k].file)
                ck_assert_msg(has_entry(&text, ".Cm", kinds[i]->v[k].file), "no %s",
                              kinds[i]->v[k].file);
    str_clear(&text);
}
END_TEST

START_TEST(the_example_in_the_manual_is_a_venue)
{
    struct str text = section_of("man/boothwright-venue.5", ".Sh EXAMPLES");
    char *from = strstr(str_text(&text), "\n{\n"), *to = strstr(str_text(&text), "\n.Ed");
    struct err e;
    ck_assert(from && to);
    struct booth *b = venue_read(from, (size_t)(to - from), &e);
    ck_assert_msg(b != NULL, "%s: %s", e.place, e.says);
    booth_free(b);
    str_clear(&text);
}
END_TEST

static void fits(const struct str *help)
{
    for (const char *s = str_text(help); *s; s += strcspn(s, "\n"), s += *s == '\n')
        ck_assert_msg(strcspn(s, "\n") <= 80, "too long: %.*s", (int)strcspn(s, "\n"), s);
}

START_TEST(every_line_of_every_help_fits_in_eighty_columns)
{
    struct str help = {0};
    const struct verb *v;
    help_all(&help);
    for (size_t i = 0; (v = verb_at(i)); i++)
        help_verb(v, &help);
    fits(&help);
    str_clear(&help);
}
END_TEST

Suite *test_man(void);
Suite *test_man(void)
{
    Suite *s = suite_create("cli/man");
    TCase *t = tcase_create("tables");
    tcase_add_test(t, every_cause_stands_in_the_manual_with_its_likelihood_and_no_other);
    tcase_add_test(t, every_verb_stands_in_the_manual_and_no_other);
    tcase_add_test(t, every_option_stands_in_the_manual);
    tcase_add_test(t, every_key_stands_in_the_manual_under_its_heading_and_no_other);
    tcase_add_test(t, every_fault_stands_in_the_manual_under_its_severity);
    tcase_add_test(t, every_exit_status_stands_in_the_manual);
    tcase_add_test(t, every_key_of_a_file_stands_in_its_manual);
    tcase_add_test(t, every_word_of_a_file_stands_in_its_manual);
    tcase_add_test(t, the_example_in_the_manual_is_a_venue);
    tcase_add_test(t, every_line_of_every_help_fits_in_eighty_columns);
    suite_add_tcase(s, t);
    return s;
}
