#include <check.h>
#include <string.h>

#include "engine/derived.h"
#include "model/shape.h"
#include "support/booth_from.h"

#define TWO                                                                                        \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; p1 plugged host.1; "            \
    "p2 plugged host.2; h1 wants s1; h2 wants s2; joined p1 p2; "

/* What is next in a booth that came out of another, when what came with it is spared: all of it, or
 * what names a host deck or a thing. */
static const char *next_after(const char *before, const char *now, const char *thing)
{
    static struct str said;
    struct booth *was = booth_from(before), *is = booth_from(now);
    struct derived *d = derived_make(was), *then = derived_make(is);
    struct spared s = {.instead = NULL};
    struct texts errors = {0};
    spared_errors(&d->faults, &errors);
    spared_note(&s, &errors, &then->faults, is, thing);
    str_clear(&said);
    derived_next(then, &s, &said);
    texts_clear(&errors);
    spared_clear(&s);
    derived_free(d);
    derived_free(then);
    booth_free(was);
    booth_free(is);
    return str_text(&said);
}

START_TEST(an_error_that_came_with_it_is_not_asked_for_and_an_older_one_is)
{
    ck_assert_str_eq(next_after(TWO, TWO "p1 own-media", "p1"),
                     "pull down faders, master and monitors; have the amplifiers muted");
    ck_assert_str_eq(next_after(TWO "s2 selects phono", TWO "p1 own-media; s2 selects phono", "p1"),
                     "turn strip 2's selector to line");
}
END_TEST

START_TEST(a_port_that_is_missing_for_another_thing_is_asked_for)
{
    const char *full = TWO "host usb_ports 2; p2 plugged host.1";
    ck_assert_str_eq(next_after(TWO "host usb_ports 2", full, "x1"),
                     "plug P2 into port 2 of the laptop");
    ck_assert_str_eq(next_after(TWO "host usb_ports 2", full, NULL),
                     "pull down faders, master and monitors; have the amplifiers muted");
}
END_TEST

START_TEST(an_older_error_of_what_died_is_passed_over)
{
    struct booth *b = booth_from(TWO "p3.line > s3.phono");
    struct derived *d = derived_make(b);
    struct spared s = {.instead = NULL};
    struct str before = {0}, after = {0};
    derived_next(d, &s, &before);
    texts_add(&s.things, "p3");
    derived_next(d, &s, &after);
    ck_assert_ptr_nonnull(strstr(str_text(&before), "strip 3"));
    ck_assert_ptr_null(strstr(str_text(&after), "strip 3"));
    str_clear(&before);
    str_clear(&after);
    spared_clear(&s);
    derived_free(d);
    booth_free(b);
}
END_TEST

START_TEST(steps_of_what_died_are_passed_over_but_not_those_that_put_it_back)
{
    struct spared s = {.instead = NULL};
    texts_add(&s.things, "p1");
    ck_assert(spared_has_step(&s, "power-p1"));
    ck_assert(!spared_has_step(&s, "join-p10"));
    ck_assert(!spared_has_step(&s, "restore-lead-p1"));
    ck_assert(!spared_has_step(&s, "save"));
    spared_clear(&s);
}
END_TEST

Suite *test_spared(void)
{
    Suite *s = suite_create("engine/spared");
    TCase *t = tcase_create("spared");
    tcase_add_test(t, an_error_that_came_with_it_is_not_asked_for_and_an_older_one_is);
    tcase_add_test(t, a_port_that_is_missing_for_another_thing_is_asked_for);
    tcase_add_test(t, an_older_error_of_what_died_is_passed_over);
    tcase_add_test(t, steps_of_what_died_are_passed_over_but_not_those_that_put_it_back);
    suite_add_tcase(s, t);
    return s;
}
