#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

#include "file/venue.h"
#include "support/booth_from.h"
#include "support/broken_file.h"
#include "support/scratch_file.h"
#include "support/venue_file.h"

enum { BOOTHS = 40 };

static void put(const char *kind, size_t n, const char *text)
{
    char name[64];
    snprintf(name, sizeof name, "%s-%03zu", kind, n);
    scratch_put(name, text);
}

static void put_booths(void)
{
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        struct str text = {0};
        venue_write(b, &text);
        put("good-random", seed, str_text(&text));
        booth_free(b);
        str_clear(&text);
    }
}

static void put_venues(void)
{
    struct texts paths = venue_paths();
    for (size_t i = 0; i < paths.n; i++) {
        struct str text = file_bytes(paths.v[i]);
        put("good-venue", i, str_text(&text));
        str_clear(&text);
    }
    paths_clear(&paths);
}

/* The broken files: the schema refuses all but those that only the reader can. */
static void put_broken(void)
{
    for (size_t i = 0; i < broken_count(); i++) {
        const struct broken *row = broken_at(i);
        struct str text = {0};
        broken_text(i, &text);
        put(row->place && !broken_reader_only(i) ? "bad-row" : "good-row", i, str_text(&text));
        str_clear(&text);
    }
}

START_TEST(the_schema_and_the_reader_agree_on_every_file_where_a_schema_can_tell)
{
    char command[512];
    scratch_make();
    put_booths();
    put_venues();
    put_broken();
    snprintf(command, sizeof command, "python3 tests/file/schema.py venues/venue.schema.json '%s'",
             scratch(""));
    int status = system(command);
    scratch_remove();
    ck_assert(WIFEXITED(status));
    if (WEXITSTATUS(status) == 77 || WEXITSTATUS(status) == 127)
        printf("file/schema: skipped, python3 with jsonschema is not there\n");
    else
        ck_assert_int_eq(WEXITSTATUS(status), 0);
}
END_TEST

START_TEST(every_field_of_the_tables_stands_in_the_schema)
{
    static const struct shape *const shapes[] = {
        &shape_booth,  &shape_venue, &shape_host,   &shape_device,  &shape_card,       &shape_usb,
        &shape_output, &shape_input, &shape_strip,  &shape_hub,     &shape_cable,      &shape_deck,
        &shape_found,  &shape_mark,  &shape_listen, &shape_minutes, &shape_combination};
    struct str schema = file_bytes("venues/venue.schema.json");
    for (size_t i = 0; i < sizeof shapes / sizeof *shapes; i++)
        for (size_t k = 0; k < shapes[i]->n; k++) {
            char key[64];
            snprintf(key, sizeof key, "\"%s\": {", shapes[i]->fields[k].key);
            ck_assert_msg(strstr(str_text(&schema), key) != NULL, "%s %s", shapes[i]->what, key);
        }
    str_clear(&schema);
}
END_TEST

Suite *test_schema(void)
{
    Suite *s = suite_create("file/schema");
    TCase *t = tcase_create("schema");
    tcase_set_timeout(t, 120);
    tcase_add_test(t, the_schema_and_the_reader_agree_on_every_file_where_a_schema_can_tell);
    tcase_add_test(t, every_field_of_the_tables_stands_in_the_schema);
    suite_add_tcase(s, t);
    return s;
}
