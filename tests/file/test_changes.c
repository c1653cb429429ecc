#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "file/changes.h"
#include "support/booth_from.h"

/* The edits, written on a line and read again. */
static struct edits through_a_line(const struct edits *edits, unsigned seed)
{
    struct str line = {0};
    struct edits again;
    struct err e = {0};
    changes_write(edits, &line);
    ck_assert_msg(!strchr(str_text(&line), '\n'), "seed %u", seed);
    ck_assert_msg(changes_read(str_text(&line), line.len, &again, &e), "seed %u: %s: %s", seed,
                  e.place, e.says);
    str_clear(&line);
    return again;
}

static bool reads(const char *line)
{
    struct edits edits;
    struct err e = {0};
    bool fine = changes_read(line, strlen(line), &edits, &e);
    ck_assert(fine || (e.code == ERR_READ && *e.says && edits.n == 0));
    edits_clear(&edits);
    return fine;
}

START_TEST(edits_that_went_through_a_line_make_the_same_booth)
{
    for (unsigned seed = 0; seed < 500; seed++) {
        struct booth *from = booth_random(seed), *to = booth_random(seed + 1000000);
        mem_free(to->kept.json); /* nothing edits what is kept at the booth's own level */
        to->kept = (struct kept){from->kept.seen, mem_text(from->kept.json)};
        struct edits edits = edits_between(from, to), again = through_a_line(&edits, seed);
        ck_assert_msg(edits_fit(from, &again), "seed %u", seed);
        edits_apply(from, &again);
        ck_assert_msg(booth_equal(from, to), "seed %u", seed);
        edits_clear(&edits);
        edits_clear(&again);
        booth_free(from);
        booth_free(to);
    }
}
END_TEST

START_TEST(a_line_is_short_and_says_only_what_changed)
{
    struct booth *from = booth_from("p1.line > s1.line; p2.line > s2.line; joined p1 p2");
    struct booth *to = booth_from("p1.line > s1.line; p2.line x s2.line; joined p2 p1");
    struct edits edits = edits_between(from, to);
    struct str line = {0};
    changes_write(&edits, &line);
    ck_assert_str_eq(str_text(&line),
                     "{\"edits\":[{\"part\":\"cables\",\"at\":1,\"out\":1,\"in\":["
                     "{\"from\":\"p2.line\",\"to\":\"s2.line\",\"sides\":\"swapped\"}]},"
                     "{\"part\":\"joined\",\"to\":[\"p2\",\"p1\"]}]}");
    str_clear(&line);
    edits_clear(&edits);
    booth_free(from);
    booth_free(to);
}
END_TEST

START_TEST(no_line_but_a_whole_one_is_read)
{
    const char *line = "{\"edits\":[{\"part\":\"cables\",\"at\":0,\"out\":2,\"in\":[]},"
                       "{\"part\":\"found\",\"to\":null},{\"part\":\"joined\",\"to\":[\"p1\"]}]}";
    ck_assert(reads(line));
    for (size_t n = 0; n < strlen(line); n++) {
        struct edits edits;
        struct err e;
        ck_assert(!changes_read(line, n, &edits, &e));
    }
    ck_assert(reads("{\"edits\":[]}"));
    ck_assert(!reads("{}"));
    ck_assert(!reads("[]"));
    ck_assert(!reads("{\"edits\":[7]}"));
    ck_assert(!reads("{\"edits\":[{\"part\":\"format\",\"to\":1}]}"));
    ck_assert(!reads("{\"edits\":[{\"part\":\"joined\"}]}"));
    ck_assert(!reads("{\"edits\":[{\"part\":\"joined\",\"to\":\"p1\"}]}"));
    ck_assert(!reads("{\"edits\":[{\"part\":\"cables\",\"at\":-1,\"out\":0,\"in\":[]}]}"));
    ck_assert(!reads("{\"edits\":[{\"part\":\"cables\",\"at\":0,\"out\":0.5,\"in\":[]}]}"));
    ck_assert(!reads("{\"edits\":[{\"part\":\"cables\",\"at\":0,\"out\":0,\"in\":[{}]}]}"));
}
END_TEST

START_TEST(edits_for_another_booth_do_not_fit)
{
    struct booth *b = booth_from("p1.line > s1.line");
    const char *line = "{\"edits\":[{\"part\":\"cables\",\"at\":1,\"out\":1,\"in\":[]}]}";
    struct edits edits;
    struct err e;
    ck_assert(changes_read(line, strlen(line), &edits, &e));
    ck_assert(!edits_fit(b, &edits));
    edits_clear(&edits);
    booth_free(b);
}
END_TEST

Suite *test_changes(void)
{
    Suite *s = suite_create("file/changes");
    TCase *t = tcase_create("changes");
    tcase_set_timeout(t, 120);
    tcase_add_test(t, edits_that_went_through_a_line_make_the_same_booth);
    tcase_add_test(t, a_line_is_short_and_says_only_what_changed);
    tcase_add_test(t, no_line_but_a_whole_one_is_read);
    tcase_add_test(t, edits_for_another_booth_do_not_fit);
    suite_add_tcase(s, t);
    return s;
}
