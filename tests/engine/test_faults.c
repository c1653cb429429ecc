#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "engine/fault_cases.h"
#include "engine/faults.h"
#include "support/booth_from.h"

static void say_finding(const struct fault *f, struct str *out)
{
    for (size_t i = 0; i < f->subjects.n; i++)
        str_addf(out, "%s%s", i ? " " : "", f->subjects.v[i]);
    str_addf(out, ": %s -> %s%s", f->text, f->fix_text ? f->fix_text : "-",
             f->fix.n ? "" : " (advice)");
}

/* A line for each finding of a rule; of all with their slugs for NULL. */
static char *findings(const char *world, const char *slug)
{
    struct booth *b = booth_from(world);
    struct circuit *c = circuit_new(b);
    struct faults all = faults_find(c);
    struct str out = {0};
    for (size_t i = 0; i < all.n; i++) {
        if (slug && strcmp(all.v[i].slug, slug) != 0)
            continue;
        str_addf(&out, "%s%s", out.len ? "\n" : "", slug ? "" : all.v[i].slug);
        if (slug)
            say_finding(&all.v[i], &out);
    }
    faults_clear(&all);
    circuit_free(c);
    booth_free(b);
    return str_take(&out);
}

START_TEST(each_world_has_exactly_the_findings_that_its_case_tells)
{
    const struct fault_case *it = &fault_cases[_i];
    char *says = findings(it->world, it->slug);
    ck_assert_msg(strcmp(says, it->says) == 0, "%s in \"%s\" is\n%s\ninstead of\n%s", it->slug,
                  it->world, says, it->says);
    mem_free(says);
}
END_TEST

START_TEST(each_rule_has_a_case_that_has_it_and_one_that_nearly_has_it)
{
    const char *slug;
    enum severity severity, before = SEVERITY_ERROR;
    size_t rules = 0;
    for (; faults_rule(rules, &slug, &severity); rules++) {
        int has = 0, has_not = 0;
        for (const struct fault_case *it = fault_cases; it->slug; it++) {
            has += strcmp(it->slug, slug) == 0 && *it->says;
            has_not += strcmp(it->slug, slug) == 0 && !*it->says;
        }
        ck_assert_msg(has && has_not, "%s", slug);
        ck_assert_int_ge(severity, before);
        before = severity;
    }
    ck_assert_uint_eq(rules, 34); /* as many as the contract's two tables have */
}
END_TEST

START_TEST(a_booth_in_order_has_no_faults)
{
    char *says = findings(
        "p1.line > s1.line; p2.line > s2.line; joined p1 p2; host combining by-hand; "
        "p1 model dunlin; p2 model dunlin; combination dunlin dunlin; "
        "host drift_correction 1; p1 plugged host.1; p2 plugged host.2; "
        "h1 wants s1; h2 wants s2; h1 set 0 1; h2 set 2 3; h1 by p1; h2 by p2",
        NULL);
    ck_assert_str_eq(says, "");
    mem_free(says);
}
END_TEST

START_TEST(errors_come_before_warnings_and_notes_and_each_in_the_order_of_the_rules)
{
    char *says = findings("p2.line > s2.line; p1.line > s1.line; joined p2 p1; h3 by p1; "
                          "h1 wants s1; h2 wants s2; s1 selects phono; p2 own-media",
                          NULL);
    ck_assert_str_eq(says, "own-media\nselector-elsewhere\ncannot-combine\nunplugged\nunplugged\n"
                           "no-control\norder-against-place\nfree-running-clocks\n"
                           "undecided-deck\nidle-player");
    mem_free(says);
}
END_TEST

START_TEST(the_counts_are_by_severity)
{
    struct booth *b = booth_from("joined p1; h1 wants s1; h2 by p1");
    struct circuit *c = circuit_new(b);
    struct faults all = faults_find(c);
    ck_assert_uint_eq(all.count[SEVERITY_ERROR], 2);   /* unwired-strip, unplugged */
    ck_assert_uint_eq(all.count[SEVERITY_WARNING], 1); /* no-control */
    ck_assert_uint_eq(all.count[SEVERITY_NOTE], 2);    /* undecided-deck, idle-player */
    ck_assert_str_eq(severity_word(all.v[0].severity), "error");
    ck_assert_str_eq(severity_word(all.v[2].severity), "warning");
    ck_assert_str_eq(severity_word(all.v[4].severity), "note");
    faults_clear(&all);
    circuit_free(c);
    booth_free(b);
}
END_TEST

Suite *test_faults(void)
{
    int n = 0;
    while (fault_cases[n].slug)
        n++;
    Suite *s = suite_create("engine/faults");
    TCase *t = tcase_create("faults");
    tcase_add_loop_test(t, each_world_has_exactly_the_findings_that_its_case_tells, 0, n);
    tcase_add_test(t, each_rule_has_a_case_that_has_it_and_one_that_nearly_has_it);
    tcase_add_test(t, a_booth_in_order_has_no_faults);
    tcase_add_test(t, errors_come_before_warnings_and_notes_and_each_in_the_order_of_the_rules);
    tcase_add_test(t, the_counts_are_by_severity);
    suite_add_tcase(s, t);
    return s;
}
