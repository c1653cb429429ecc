#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "file/json_out.h"
#include "support/venue_file.h"

/* --- one thing changed in a file that says a bit of everything ---------------------------------
 */

/* What stands in the file, what instead, and where and what must be told (NULL: it is read). */
static const struct {
    const char *from, *to, *place, *says;
} cases[] = {
    /* what kind of file it is */
    {"\"boothwright-venue\"", "\"booth\"", "format", "expected \"boothwright-venue\""},
    {"\"format\"", "\"form\"", "format", "is missing"},
    {"\"version\":1", "\"version\":2", "version", "version 2 is newer"},
    {"\"version\":1", "\"version\":1000000000", "version", "version 1000000000 is newer"},
    {"\"version\":1", "\"version\":0", "version", "expected 1"},
    {"\"version\":1", "\"version\":1.5", "version", "expected 1"},
    {"\"version\":1", "\"version\":\"1\"", "version", "is not a number"},
    {"\"version\":1", "\"version\":null", "version", "is missing"},
    {"\"version\":1", "\"edition\":1", "version", "is missing"},
    /* required members */
    {"\"name\":\"Tideline Hall\"", "\"title\":\"x\"", "venue.name", "is missing"},
    {"\"name\":\"Tideline Hall\"", "\"name\":null", "venue.name", "is empty"},
    {"\"name\":\"Tideline Hall\"", "\"name\":\"\"", "venue.name", "is empty"},
    {"\"venue\":", "\"place\":", "venue", "is missing"},
    {"\"host\":", "\"guest\":", "host", "is missing"},
    {"\"devices\":", "\"things\":", "devices", "is missing; expected a list"},
    {"\"id\":\"p1\",", "", "devices[0].id", "is missing"},
    {"\"kind\":\"player\",", "", "devices[0].kind", "is missing; expected player, turntable"},
    {"\"kind\":\"player\"", "\"kind\":\"\"", "devices[0].kind",
     "is empty; expected player, turntable"},
    {"\"label\":\"P1\",", "", "devices[0].label", "is missing"},
    {"\"place\":1,", "", "devices[0].place", "is missing; expected a whole number from 1 to 999"},
    {"\"out_channels\":2,", "", "devices[0].card.out_channels", "is missing"},
    {"\"strips\":[", "\"lanes\":[", "devices[1].strips", "is missing; expected a list"},
    {"\"strips\":[", "\"strips\":null,\"lanes\":[", "devices[1].strips", "is empty"},
    {"\"selected\":\"line\",", "", "devices[1].strips[0].selected", "is missing"},
    {"\"inputs\":[", "\"ways\":[", "devices[1].strips[0].inputs", "is missing"},
    {"\"level\":\"line\",", "", "devices[0].outputs[0].level", "is missing"},
    {"\"level\":\"line\",\"ch", "\"level\":\"\",\"ch", "devices[0].outputs[0].level",
     "is empty"},
    {"\"level\":\"line\",\"channels\":[1,2]", "\"level\":\"line\"",
     "devices[0].outputs[0].channels", "is missing"},
    {"\"level\":\"usb\",\"channels\":[1,2]", "\"level\":\"usb\"",
     "devices[1].strips[0].inputs[2].channels", "is missing"},
    {"\"from\":\"p1.line\",", "", "cables[0].from", "is missing"},
    {"\"to\":\"s1.line\",", "", "cables[0].to", "is missing"},
    {"\"id\":\"h1\",", "", "decks[0].id", "is missing"},
    {"\"label\":\"H1\"", "\"name\":\"H1\"", "decks[0].label", "is missing"},
    {"\"ports\":7", "\"holes\":7", "hubs[0].ports", "is missing"},
    /* words */
    {"\"from-1\"", "\"from-2\"", "host.channel_names",
     "\"from-2\" is not from-0, from-1 or by-device"},
    {"\"by-hand\"", "\"by-foot\"", "host.combining", "is not none, by-hand or by-driver"},
    {"\"closes\"", "\"Closes\"", "host.gap", "is not closes or keeps"},
    {"\"hid\"", "\"HID\"", "devices[0].control", "is not none, hid, midi or record"},
    {"\"high\"", "\"fast\"", "devices[0].usb.speed", "is not high, full or super"},
    {"\"coax\"", "\"din\"", "devices[0].outputs[1].connector", "is not rca, coax"},
    {"\"straight\"", "\"crossed\"", "cables[0].sides", "is not straight, swapped"},
    {"\"crossfader\":\"off\"", "\"crossfader\":\"A\"", "devices[1].strips[0].crossfader",
     "is not off, left or right"},
    {"\"p1\":\"own-media\"", "\"p1\":\"radio\"", "found.source.p1", "is not own-media or computer"},
    {"\"left\":\"left\"", "\"left\":\"l\"", "line_check[0].heard[0].left", "is not untold"},
    /* references and data leads */
    {"\"wants\":\"s1\"", "\"wants\":\"s2\"", "decks[0].wants", "there is no strip \"s2\""},
    {"\"controlled_by\":\"p1\"", "\"controlled_by\":\"m1\"", "decks[0].controlled_by",
     "is not a player, controller or turntable"},
    {"\"joined\":[\"p1\"]", "\"joined\":[\"p1\",\"p1\"]", "joined[1]", "joined twice"},
    {"\"joined\":[\"p1\"]", "\"joined\":[\"\"]", "joined[0]", "is not an id"},
    {"\"to\":\"s1.line\"", "\"to\":\"s1.usb\"", "cables[0].to", "is a usb input"},
    {"\"host.1\"", "\"host\"", "hubs[0].plugged", "\"host\" is not host.N"},
    {"\"host.1\"", "\"host.-1\"", "hubs[0].plugged", "is not host.N"},
    {"\"host.1\"", "\"host.1.1\"", "hubs[0].plugged", "is not host.N"},
    {"\"host.1\"", "\"host.9999999999\"", "hubs[0].plugged", "is not host.N"},
    {"\"host.1\"", "\"host.0\"", "hubs[0].plugged", "port 0 is below 1"},
    {"\"host.1\"", "\"hub1.1\"", "hubs[0].plugged", "in a ring"},
    {"\"host.1\"", "\"built-in\"", "hubs[0].plugged", "there is no hub"},
    {"\"host.1\"", "\"host.999\"", NULL, NULL},
    {"\"host.2\"", "\"built-in\"", NULL, NULL},
    /* numbers */
    {"[0,1]", "[0]", "decks[0].set_to", "a list is not two whole numbers from 0 to 16383"},
    {"[0,1]", "[0,1,2]", "decks[0].set_to", "is not two whole numbers"},
    {"[0,1]", "[0,0.5]", "decks[0].set_to", "is not two whole numbers"},
    {"[0,1]", "[-1,1]", "decks[0].set_to", "is not two whole numbers"},
    {"[0,1]", "[0,16384]", "decks[0].set_to", "is not two whole numbers"},
    {"[0,1]", "\"x\"", "decks[0].set_to", "\"x\" is not two whole numbers"},
    {"[0,1]", "[16383,0]", NULL, NULL},
    {"[0,1]", "[7,7]", NULL, NULL},
    {"[0,1]", "[]", NULL, NULL},
    {"\"move\":2.5", "\"move\":600", NULL, NULL},
    {"\"move\":2.5", "\"move\":0.001", NULL, NULL},
    {"\"move\":2.5", "\"move\":600.001", "host.minutes.move", "is not a number from 0 to 600"},
    {"\"move\":2.5", "\"move\":-0.001", "host.minutes.move", "is not a number from 0 to 600"},
    {"\"rate_hz\":48000", "\"rate_hz\":7999", "host.rate_hz", "from 8000 to 768000"},
    {"\"rate_hz\":48000", "\"rate_hz\":48000.5", "host.rate_hz", "48000.5 is not a whole number"},
    {"\"buffer_frames\":256", "\"buffer_frames\":65537", "host.buffer_frames", "16 to 65536"},
    {"[44100,48000]", "[44100,\"x\"]", "devices[0].card.rates_hz[1]", "\"x\" is not a whole"},
    {"\"channels\":[1,2]", "\"channels\":[1,1]", "devices[0].outputs[0].channels", "twice"},
    {"\"channels\":[1,2]", "\"channels\":[3]", "devices[0].outputs[0].channels", "beyond the card"},
    {"\"channels\":[1,2]", "\"channels\":[]", "devices[0].outputs[0].channels", "is missing"},
    /* texts */
    {"\"2.4\"", "\"2.4b\"", "devices[0].firmware", "is not dotted digits"},
    {"\"id\":\"p1\"", "\"id\":\"P1\"", "devices[0].id", "\"P1\" is not an id"},
    {"\"id\":\"hub1\"", "\"id\":\"host\"", "hubs[0].id", "the laptop's own name"},
    {"\"p1\":\"own-media\"", "\"p1\":7", "found.source.p1", "7 is not own-media or computer"},
    {"\"join-p1\":\"done\"", "\"join-p1\":true", "checklist.join-p1", "is not a text or null"},
    {"\"join-p1\":\"done\"", "\"join-gone\":\"\"", NULL, NULL},
    {"\"deck\":\"h1\"", "\"deck\":\"h9\"", NULL, NULL},
    /* keys and names that are there twice */
    {"\"wants\":\"s1\"", "\"wants\":\"s1\",\"wants\":\"s1\"", "decks[0]",
     "\"wants\" is there twice"},
    {"\"join-p1\":\"done\"", "\"a\":\"b\",\"a\":\"b\"", "checklist", "\"a\" is there twice"},
    {"\"id\":\"h1\"", "\"id\":\"p1\"", "devices[0].id", "\"p1\" is there twice"},
};

START_TEST(a_file_with_one_thing_wrong_is_refused_by_its_place)
{
    struct str line = example_line(), changed = {0};
    struct err e;
    const char *at = strstr(line.text, cases[_i].from);
    ck_assert_msg(at != NULL, "%s is not in the example", cases[_i].from);
    str_addn(&changed, line.text, (size_t)(at - line.text));
    str_add(&changed, cases[_i].to);
    str_add(&changed, at + strlen(cases[_i].from));
    bool read = venue_holds(str_text(&changed), changed.len, &e);
    if (cases[_i].place) {
        ck_assert_msg(!read, "read: %s", cases[_i].to);
        ck_assert_msg(strcmp(e.place, cases[_i].place) == 0, "%s: %s", e.place, e.says);
        ck_assert_msg(strstr(e.says, cases[_i].says) != NULL, "%s: %s", e.place, e.says);
    } else {
        ck_assert_msg(read, "%s: %s", e.place, e.says);
    }
    str_clear(&line);
    str_clear(&changed);
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
                        (int)(sizeof cases / sizeof *cases));
    tcase_add_loop_test(t, a_value_of_the_wrong_kind_is_refused_by_its_path, 0, 5);
    tcase_add_loop_test(t, what_is_no_object_is_no_venue, 0, 5);
    tcase_add_test(t, a_list_or_map_beyond_any_limit_is_refused_before_it_is_built);
    tcase_add_test(t, a_long_text_in_a_sentence_is_cut_between_characters);
    suite_add_tcase(s, t);
    return s;
}
