#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "file/json_out.h"
#include "support/broken_file.h"
#include "support/venue_file.h"

START_TEST(a_file_with_one_thing_wrong_is_refused_by_its_place)
{
    const struct broken *row = broken_at((size_t)_i);
    struct str text = {0};
    struct err e;
    broken_text((size_t)_i, &text);
    bool read = venue_holds(str_text(&text), text.len, &e);
    if (row->place) {
        ck_assert_msg(!read, "read: %s", row->to);
        ck_assert_msg(strcmp(e.place, row->place) == 0, "%s: %s", e.place, e.says);
        ck_assert_msg(strstr(e.says, row->says) != NULL, "%s: %s", e.place, e.says);
    } else {
        ck_assert_msg(read, "%s: %s", e.place, e.says);
    }
    str_clear(&text);
}
END_TEST

/* --- every value replaced by every kind --------------------------------------------------------
 */

/* A walk that writes a document again, but for the value that is number wanted. */
struct swap {
    struct json_out w;
    int number, wanted; /* the number of the next value; -1: none is replaced */
    const char *by;
    struct str path, found_path; /* of the value that was replaced */
    enum json_kind was;
};

static void swap_value(struct swap *s, const char *key, const struct json *j);

static void swap_members(struct swap *s, const struct json *j)
{
    size_t i = 0;
    for (const struct json *m = json_first(j); m; m = json_next(m), i++) {
        size_t n = s->path.len;
        if (!json_key(m))
            str_addf(&s->path, "[%zu]", i);
        else
            str_addf(&s->path, n ? ".%s" : "%s", json_key(m));
        swap_value(s, json_key(m), m);
        str_cut(&s->path, n);
    }
}

static void swap_value(struct swap *s, const char *key, const struct json *j)
{
    enum json_kind kind = json_kind(j);
    if (s->number++ == s->wanted) {
        struct err e;
        struct json *by = json_read(s->by, strlen(s->by), &e);
        json_copy(&s->w, key, by);
        json_free(by);
        str_add(&s->found_path, str_text(&s->path));
        s->was = kind;
        return;
    }
    if (kind != JSON_OBJECT && kind != JSON_ARRAY) {
        json_copy(&s->w, key, j);
        return;
    }
    if (kind == JSON_OBJECT)
        json_object(&s->w, key);
    else
        json_array(&s->w, key);
    swap_members(s, j);
    json_end(&s->w);
}

/* What the place must start with: a pair is told as a whole. */
static void expect_place(const struct swap *s, const struct err *e)
{
    const char *path = str_text(&s->found_path);
    size_t n = strlen(path);
    if (strncmp(path, "decks[0].set_to", 15) == 0)
        n = 15;
    ck_assert_msg(strncmp(e->place, path, n) == 0, "%s by %s: %s: %s", path, s->by, e->place,
                  e->says);
}

/* Whether a value of that kind can stand where such a one stood. */
static bool may_be_read(const struct swap *s)
{
    bool number = s->by[0] == '7', truth = s->by[0] == 't', object = s->by[0] == '{';
    return (number && strstr(str_text(&s->found_path), "minutes.move")) ||
           (truth && s->was == JSON_BOOL) || (object && s->was == JSON_OBJECT) ||
           strcmp(s->by, "null") == 0;
}

START_TEST(a_value_of_the_wrong_kind_is_refused_by_its_path)
{
    static const char *const kinds[] = {"true", "7.5", "[true]", "{\"x\":[]}", "null"};
    struct str line = example_line();
    struct err e;
    struct json *j = json_read(str_text(&line), line.len, &e);
    bool replaced = true;
    for (int wanted = 1; replaced; wanted++) {
        struct str text = {0};
        struct swap s = {.w = json_on(&text, true), .wanted = wanted, .by = kinds[_i]};
        swap_value(&s, NULL, j);
        replaced = s.number > wanted;
        bool read = venue_holds(str_text(&text), text.len, &e);
        ck_assert_msg(!replaced || !read || may_be_read(&s), "%s by %s", str_text(&s.found_path),
                      s.by);
        if (!read && strcmp(s.by, "null") != 0)
            expect_place(&s, &e);
        str_clear(&text);
        str_clear(&s.path);
        str_clear(&s.found_path);
    }
    json_free(j);
    str_clear(&line);
}
END_TEST

/* --- the document as a whole -------------------------------------------------------------------
 */

START_TEST(what_is_no_object_is_no_venue)
{
    static const char *const texts[] = {"null", "[]", "\"x\"", "7", "true"};
    struct err e;
    ck_assert(!venue_holds(texts[_i], strlen(texts[_i]), &e));
    ck_assert_str_eq(e.place, "");
    ck_assert_str_eq(e.says, "is not a venue; expected an object");
}
END_TEST

START_TEST(a_list_or_map_beyond_any_limit_is_refused_before_it_is_built)
{
    struct str text = {0};
    struct err e;
    str_add(&text, "{\"format\":\"boothwright-venue\",\"version\":1,\"venue\":{\"name\":\"x\"},"
                   "\"host\":{},\"devices\":[],\"checklist\":{\"k\":null");
    for (int i = 0; i < 1024; i++)
        str_addf(&text, ",\"k%d\":\"\"", i);
    str_add(&text, "}}");
    ck_assert(!venue_holds(str_text(&text), text.len, &e));
    ck_assert_str_eq(e.place, "checklist");
    ck_assert_str_eq(e.says, "1025 are too many; expected at most 1024");
    str_clear(&text);
}
END_TEST

START_TEST(a_long_text_in_a_sentence_is_cut_between_characters)
{
    struct str text = {0};
    struct err e;
    str_add(&text, "{\"format\":\"boothwright-venue\",\"version\":1,\"venue\":{\"name\":\"x\"},"
                   "\"host\":{\"gap\":\"");
    for (int i = 0; i < 200; i++)
        str_add(&text, "\xf0\x9f\x98\x80");
    str_add(&text, "\"},\"devices\":[]}");
    ck_assert(!venue_holds(str_text(&text), text.len, &e));
    ck_assert_ptr_nonnull(strstr(e.says, "\xf0\x9f\x98\x80...\" is not closes or keeps"));
    str_clear(&text);
}
END_TEST

Suite *test_venue_refused(void)
{
    Suite *s = suite_create("file/venue, refused");
    TCase *t = tcase_create("refused");
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, a_file_with_one_thing_wrong_is_refused_by_its_place, 0,
                        (int)broken_count());
    tcase_add_loop_test(t, a_value_of_the_wrong_kind_is_refused_by_its_path, 0, 5);
    tcase_add_loop_test(t, what_is_no_object_is_no_venue, 0, 5);
    tcase_add_test(t, a_list_or_map_beyond_any_limit_is_refused_before_it_is_built);
    tcase_add_test(t, a_long_text_in_a_sentence_is_cut_between_characters);
    suite_add_tcase(s, t);
    return s;
}
