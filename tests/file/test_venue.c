#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "file/json_out.h"
#include "file/venue.h"
#include "support/booth_from.h"
#include "support/scratch_file.h"
#include "support/venue_file.h"

enum { BOOTHS = 2000 };

static struct booth *read_text(const char *text)
{
    struct err e = {0};
    struct booth *b = venue_read(text, strlen(text), &e);
    ck_assert_msg(b != NULL, "%s: %s in %s", e.place, e.says, text);
    return b;
}

START_TEST(what_was_written_reads_as_the_same_booth_and_writes_as_the_same_bytes)
{
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        struct str first = {0}, second = {0};
        struct err e = {0};
        venue_write(b, &first);
        struct booth *again = venue_read(str_text(&first), first.len, &e);
        ck_assert_msg(again != NULL, "seed %u: %s: %s", seed, e.place, e.says);
        venue_write(again, &second);
        ck_assert_msg(booth_equal(b, again), "seed %u", seed);
        ck_assert_msg(strcmp(str_text(&first), str_text(&second)) == 0, "seed %u", seed);
        booth_free(b);
        booth_free(again);
        str_clear(&first);
        str_clear(&second);
    }
}
END_TEST

/* Whether the bytes are those that the booth in them is written as. */
static bool canonical(const struct str *bytes)
{
    struct booth *b = read_text(str_text(bytes));
    struct str again = {0};
    venue_write(b, &again);
    bool same = strcmp(str_text(bytes), str_text(&again)) == 0;
    booth_free(b);
    str_clear(&again);
    return same;
}

START_TEST(every_file_in_venues_is_sound_and_canonical)
{
    struct texts paths = venue_paths();
    texts_add(&paths, "tests/file/example.json");
    for (size_t i = 0; i < paths.n; i++) {
        struct str bytes = file_bytes(paths.v[i]);
        ck_assert_msg(canonical(&bytes), "%s", paths.v[i]);
        str_clear(&bytes);
    }
    paths_clear(&paths);
}
END_TEST

START_TEST(a_file_cut_short_anywhere_is_refused)
{
    struct str line = example_line();
    struct err e;
    for (size_t n = 0; n < line.len; n++)
        ck_assert_msg(!venue_holds(str_text(&line), n, &e), "cut at byte %zu", n);
    ck_assert(venue_holds(str_text(&line), line.len, &e));
    str_clear(&line);
}
END_TEST

START_TEST(a_file_with_a_byte_replaced_is_refused_or_a_booth_that_saves)
{
    static const char bytes[] = {'\0', '\xff', '"', '{', '7', '-', 'x'};
    struct str line = example_line();
    struct err e;
    size_t refused = 0;
    for (size_t i = 0; i < line.len; i++) {
        char was = line.text[i];
        line.text[i] = bytes[_i];
        refused += !venue_holds(line.text, line.len, &e);
        line.text[i] = was;
    }
    ck_assert_uint_gt(refused, 0);
    if (bytes[_i] == '\0' || bytes[_i] == '\xff')
        ck_assert_uint_eq(refused, line.len);
    str_clear(&line);
}
END_TEST

/* --- members that no table knows -------------------------------------------------------------- */

/* Copies a value; with front, an unknown member stands first in every object, else last. In maps
 * (objects of texts alone, and those that may be empty) the members are names: nothing is added. */
static void copy_adding(struct json_out *w, const char *key, const struct json *j, bool front)
{
    static const char *const maps[] = {"selected", "level", "source", "plugged", "checklist"};
    bool object = json_kind(j) == JSON_OBJECT;
    if (!object && json_kind(j) != JSON_ARRAY) {
        json_copy(w, key, j);
        return;
    }
    for (size_t i = 0; key && i < sizeof maps / sizeof *maps; i++)
        object = object && strcmp(key, maps[i]) != 0;
    if (json_kind(j) == JSON_OBJECT)
        json_object(w, key);
    else
        json_array(w, key);
    if (object && front)
        json_text(w, "shelf", "left");
    for (const struct json *m = json_first(j); m; m = json_next(m))
        copy_adding(w, json_key(m), m, front);
    if (object && !front)
        json_text(w, "shelf", "left");
    json_end(w);
}

START_TEST(members_that_no_table_knows_are_kept_at_every_level_after_the_known_ones)
{
    struct str line = example_line(), front = {0}, back = {0}, saved = {0};
    struct err e;
    struct json *j = json_read(str_text(&line), line.len, &e);
    struct json_out first = json_on(&front, true), last = json_on(&back, false);
    copy_adding(&first, NULL, j, true);
    copy_adding(&last, NULL, j, false);
    struct booth *b = read_text(str_text(&front));
    venue_write(b, &saved);
    ck_assert_str_eq(str_text(&saved), str_text(&back));
    booth_free(b);
    json_free(j);
    str_clear(&line);
    str_clear(&front);
    str_clear(&back);
    str_clear(&saved);
}
END_TEST

/* --- defaults --------------------------------------------------------------------------------- */

/* A venue of one player, with more members in some places; what they are saved as. */
static const struct {
    const char *host, *player, *host_saved, *player_saved;
} spelled[] = {
    {"", "", "{}", ""},
    {"\"gap\":null", ",\"source\":null", "{\"gap\":\"closes\"}", ",\"source\":\"own-media\""},
    {"\"gap\":\"\"", ",\"source\":\"\"", "{\"gap\":\"closes\"}", ",\"source\":\"own-media\""},
    {"\"gap\":\"keeps\"", ",\"source\":\"computer\"", "{\"gap\":\"keeps\"}",
     ",\"source\":\"computer\""},
    {"\"rate_hz\":null", ",\"model\":null,\"family\":\"\"", "{\"rate_hz\":48000}",
     ",\"model\":\"\",\"family\":\"\""},
    {"\"drift_correction\":null", ",\"plugged\":\"\"", "{\"drift_correction\":false}",
     ",\"plugged\":null"},
    {"\"combinations\":null", ",\"outputs\":null", "{\"combinations\":[]}", ",\"outputs\":[]"},
    {"\"minutes\":{\"move\":null,\"add\":0}", ",\"card\":null",
     "{\"minutes\":{\"move\":null,\"add\":0}}", ",\"card\":null"},
    {"\"minutes\":{}", ",\"usb\":{}", "{\"minutes\":{}}", ",\"usb\":{}"},
    {"\"minutes\":null", ",\"usb\":{\"self_powered\":null}", "{\"minutes\":null}",
     ",\"usb\":{\"self_powered\":true}"},
};

/* The saved venue on one line, without its first and last members, which are always the same. */
static struct str saved_line(const char *text)
{
    struct booth *b = read_text(text);
    struct str pretty = {0}, line = {0};
    struct err e;
    venue_write(b, &pretty);
    struct json *j = json_read(str_text(&pretty), pretty.len, &e);
    struct json_out w = json_on(&line, true);
    json_copy(&w, NULL, j);
    json_free(j);
    booth_free(b);
    str_clear(&pretty);
    return line;
}

START_TEST(a_default_that_was_spelled_out_stays_in_its_one_spelling)
{
    static const char *const frame =
        "{\"format\":\"boothwright-venue\",\"version\":1,\"venue\":{\"name\":\"Gritstone Barn\"},"
        "\"host\":%s,\"devices\":[{\"id\":\"p1\",\"kind\":\"player\",\"label\":\"P1\","
        "\"place\":1%s}]}";
    struct str text = {0}, host = {0}, expected = {0};
    struct err e;
    str_addf(&host, "{%s}", spelled[_i].host);
    str_addf(&text, frame, str_text(&host), spelled[_i].player);
    str_addf(&expected, frame, spelled[_i].host_saved, spelled[_i].player_saved);
    struct str line = saved_line(str_text(&text));
    ck_assert_str_eq(str_text(&line), str_text(&expected));
    ck_assert(venue_holds(str_text(&text), text.len, &e));
    str_clear(&text);
    str_clear(&host);
    str_clear(&expected);
    str_clear(&line);
}
END_TEST

START_TEST(what_the_editor_changes_back_to_its_default_is_no_longer_written)
{
    struct booth *b = booth_from("p1.line x s1.line");
    struct str before = {0}, after = {0};
    venue_write(b, &before);
    ck_assert_ptr_nonnull(strstr(str_text(&before), "\"sides\": \"swapped\""));
    b->cables.v[0].sides = SIDES_STRAIGHT;
    venue_write(b, &after);
    ck_assert_ptr_null(strstr(str_text(&after), "\"sides\""));
    booth_free(b);
    str_clear(&before);
    str_clear(&after);
}
END_TEST

START_TEST(control_characters_in_texts_are_kept)
{
    struct str line = example_line(), odd = {0}, saved = {0};
    char *at = strstr(line.text, "Tideline Hall");
    str_addn(&odd, line.text, (size_t)(at - line.text));
    str_add(&odd, "\\u001b]0;x\\u0007 \\u202e \\u009b");
    str_add(&odd, at + strlen("Tideline Hall"));
    struct booth *b = read_text(str_text(&odd));
    ck_assert_str_eq(b->venue.name, "\x1b]0;x\x07 \xe2\x80\xae \xc2\x9b");
    venue_write(b, &saved);
    ck_assert_ptr_nonnull(strstr(str_text(&saved), "\\u001b]0;x\\u0007 \xe2\x80\xae \\u009b"));
    booth_free(b);
    str_clear(&line);
    str_clear(&odd);
    str_clear(&saved);
}
END_TEST

START_TEST(a_mark_and_other_line_ends_are_read_and_dropped_when_it_is_saved)
{
    struct str pretty = file_bytes("tests/file/example.json"), odd = {0}, saved = {0};
    str_add(&odd, "\xef\xbb\xbf");
    for (size_t i = 0; i + 1 < pretty.len; i++)
        str_add(&odd, pretty.text[i] == '\n' ? "\r\n\t" : (char[]){pretty.text[i], '\0'});
    struct booth *b = read_text(str_text(&odd));
    venue_write(b, &saved);
    ck_assert_str_eq(str_text(&saved), str_text(&pretty));
    booth_free(b);
    str_clear(&pretty);
    str_clear(&odd);
    str_clear(&saved);
}
END_TEST

START_TEST(a_file_that_could_not_be_read_again_after_saving_is_refused)
{
    struct str line = example_line(), big = {0};
    struct err e;
    char *filler = scratch_text('x', JSON_MAX_BYTES - line.len - 20);
    str_addn(&big, str_text(&line), line.len - 1);
    str_addf(&big, ",\"filler\":\"%s\"}", filler);
    mem_free(filler);
    ck_assert(!venue_holds(str_text(&big), big.len, &e));
    ck_assert_ptr_nonnull(strstr(e.says, "when it is saved"));
    str_clear(&line);
    str_clear(&big);
}
END_TEST

Suite *test_venue(void)
{
    Suite *s = suite_create("file/venue");
    TCase *t = tcase_create("venue");
    tcase_set_timeout(t, 120);
    tcase_add_test(t, what_was_written_reads_as_the_same_booth_and_writes_as_the_same_bytes);
    tcase_add_test(t, every_file_in_venues_is_sound_and_canonical);
    tcase_add_test(t, a_file_cut_short_anywhere_is_refused);
    tcase_add_loop_test(t, a_file_with_a_byte_replaced_is_refused_or_a_booth_that_saves, 0, 7);
    tcase_add_test(t, members_that_no_table_knows_are_kept_at_every_level_after_the_known_ones);
    tcase_add_loop_test(t, a_default_that_was_spelled_out_stays_in_its_one_spelling, 0,
                        (int)(sizeof spelled / sizeof *spelled));
    tcase_add_test(t, what_the_editor_changes_back_to_its_default_is_no_longer_written);
    tcase_add_test(t, control_characters_in_texts_are_kept);
    tcase_add_test(t, a_mark_and_other_line_ends_are_read_and_dropped_when_it_is_saved);
    tcase_add_test(t, a_file_that_could_not_be_read_again_after_saving_is_refused);
    suite_add_tcase(s, t);
    return s;
}
