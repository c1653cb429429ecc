#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "engine/heard.h"
#include "engine/mend.h"
#include "support/booth_from.h"
#include "support/injected.h"
#include "support/listening.h"

#define FOUR                                                                                       \
    "host combining by-hand; p1.line > s1.line; p2.line > s2.line; p3.line > s3.line; "            \
    "p4.line > s4.line; t1.phono > s1.phono; m1 card 8; joined p1 p2 p3 p4; h1 wants s2; "         \
    "h2 wants s3; h3 wants s1; h4 wants s4; h1 set 2 3; h2 set 4 5; h3 set 0 1; h4 set 6 7; "      \
    "p1 plugged host.1; p2 plugged host.2; p3 plugged host.3; p4 plugged host.4; h1 by p2; "       \
    "h2 by p3; h3 by p1; h4 by p4"

static bool same_ears(const struct circuit *a, const struct circuit *b)
{
    struct heard x = heard_make(a), y = heard_make(b);
    bool same = x.n == y.n && (x.n == 0 || memcmp(x.v, y.v, x.n * sizeof *x.v) == 0);
    heard_clear(&x);
    heard_clear(&y);
    return same;
}

static void check_mend(const struct plan *p, const struct circuit *believed, const char *what)
{
    int sum = 0;
    struct circuit *after = circuit_new(p->after);
    ck_assert_msg(same_ears(after, believed), "%s: not as it was before", what);
    for (size_t i = 0; i < p->n; i++) {
        enum change_do done = p->actions[i].change.what;
        sum += p->actions[i].minutes;
        ck_assert_msg(done != CHANGE_UNCABLE && done != CHANGE_PLUG, "%s: %s", what,
                      p->actions[i].text);
        ck_assert_msg(done != CHANGE_JOIN || p->actions[i].change.number < 0 ||
                          believed->booth->host.gap == GAP_KEEPS,
                      "%s: %s between others", what, p->actions[i].text);
    }
    ck_assert_uint_eq(p->after->joined.n, believed->n_joined);
    ck_assert_int_eq(sum, p->minutes);
    circuit_free(after);
}

START_TEST(every_cause_is_mended_without_pulling_a_plug_or_another_way_in)
{
    struct booth *b = booth_from(FOUR);
    struct diagnosis d = diagnosis_make(b);
    struct causes all = causes_of(d.believed);
    for (size_t i = 0; i < all.n; i++) {
        struct explanation e = {.causes = {all.v[i]}, .n = 1};
        struct plan *p = mend_make(&d, &e);
        struct str what = {0};
        cause_say(d.believed, &all.v[i], &what);
        if (all.v[i].kind == CAUSE_STRIP_DEAD)
            ck_assert_msg(!p->feasible && strstr(p->why_not, "fader"), "%s", what.text);
        else if (!p->feasible)
            ck_abort_msg("%s: %s", what.text, p->why_not);
        else
            check_mend(p, d.believed, what.text);
        str_clear(&what);
        mend_free(p);
    }
    mem_free(all.v);
    diagnosis_clear(&d);
    booth_free(b);
}
END_TEST

/* Whether two causes can hold together, none of them a strip that passes nothing. */
static bool go_together(const struct cause *a, const struct cause *b)
{
    return !(a->kind == b->kind && a->a == b->a) && a->kind != CAUSE_STRIP_DEAD &&
           b->kind != CAUSE_STRIP_DEAD;
}

START_TEST(several_causes_that_hold_together_are_mended)
{
    struct booth *b = booth_from(FOUR);
    struct diagnosis d = diagnosis_make(b);
    struct causes all = causes_of(d.believed);
    unsigned long long state = 20261126;
    for (int i = 0; i < 3000; i++) {
        struct explanation e = {.n = 2 + i % 2};
        struct str what = {0};
        bool fits = true;
        for (int k = 0; k < e.n; k++) {
            e.causes[k] = all.v[random_below(&state, (unsigned)all.n)];
            for (int m = 0; m < k; m++)
                fits = fits && go_together(&e.causes[m], &e.causes[k]);
            cause_say(d.believed, &e.causes[k], &what);
            str_add(&what, "; ");
        }
        struct plan *p = fits ? mend_make(&d, &e) : NULL;
        ck_assert_msg(!p || p->feasible, "sample %d: %s%s", i, what.text, p ? p->why_not : "");
        if (p)
            check_mend(p, d.believed, what.text);
        str_clear(&what);
        mend_free(p);
    }
    mem_free(all.v);
    diagnosis_clear(&d);
    booth_free(b);
}
END_TEST

/* Two causes hold: all is heard as it was before, and everything stands in the interface. */
static void check_both(const struct diagnosis *d, struct cause a, struct cause b)
{
    struct explanation e = {.causes = {a, b}, .n = 2};
    struct plan *p = mend_make(d, &e);
    struct str what = {0};
    for (int i = 0; i < 2; i++)
        cause_say_among(d->believed, e.causes, 2, i, &what);
    ck_assert_msg(p->feasible, "%s: %s", what.text, p->why_not);
    check_mend(p, d->believed, what.text);
    str_clear(&what);
    mend_free(p);
}

START_TEST(a_wrong_order_of_which_one_never_joined_is_mended)
{
    struct booth *b = booth_from(_i ? FOUR "; host gap keeps" : FOUR);
    struct diagnosis d = diagnosis_make(b);
    const int *joined = d.believed->joined;
    struct cause order = {.kind = CAUSE_JOIN_ORDER};
    for (int i = 0; i < 4; i++)
        order.order[i] = (unsigned char)joined[i];
    for (int i = 1; i < 24; i++) {
        next_order(order.order, 4);
        for (int k = 0; k < 4; k++) {
            struct cause missing = {.kind = CAUSE_JOIN_MISSING, .a = joined[k]};
            check_both(&d, missing, order);
            check_both(&d, order, missing);
        }
    }
    diagnosis_clear(&d);
    booth_free(b);
}
END_TEST

/* A mend in one line. */
static const char *mended(const char *world, struct cause k)
{
    static struct str said;
    struct booth *b = booth_from(world);
    struct diagnosis d = diagnosis_make(b);
    struct explanation e = {.causes = {k}, .n = 1};
    struct plan *p = mend_make(&d, &e);
    str_clear(&said);
    str_addf(&said, "%d:", p->minutes);
    for (size_t i = 0; i < p->n; i++)
        str_addf(&said, "%s %s", i ? ";" : "", p->actions[i].text);
    if (!p->feasible)
        str_addf(&said, " %s", p->why_not);
    mend_free(p);
    diagnosis_clear(&d);
    booth_free(b);
    return str_text(&said);
}

START_TEST(a_bad_side_is_the_leads_and_two_players_are_exchanged_by_their_settings)
{
    struct cause side = {.kind = CAUSE_SIDE_DEAD, .a = 2, .b = SIDES_RIGHT_ONLY};
    struct cause plugs = {.kind = CAUSE_CABLES_EXCHANGED, .a = 0, .b = 1};
    struct cause house = {.kind = CAUSE_CABLES_EXCHANGED, .a = 1, .b = 4};
    ck_assert_str_eq(mended(FOUR, side), "2000: put the cable from P3's line output to strip 3's "
                                         "line input right: left to left, right to right");
    ck_assert_str_eq(mended(FOUR, plugs), "1000: set H3 to pair 2/3; set H1 to pair 0/1; "
                                          "let P2 control H3; let P1 control H1");
    /* the house's turntable is plugged in where it was */
    ck_assert_str_eq(mended(FOUR, house),
                     "4000: move the plug of P2's line output to strip 2's line "
                     "input; move the plug of T1's phono output to strip 1's "
                     "phono input");
}
END_TEST

START_TEST(a_plug_is_not_put_back_where_it_does_not_fit)
{
    struct cause plugs = {.kind = CAUSE_CABLES_EXCHANGED, .a = 0, .b = 1};
    ck_assert_str_eq(
        mended("host combining by-hand; p1.line > s1.phono; p2.line > s2.line; "
               "s1 selects phono; joined p1 p2; h1 wants s1; h2 wants s2; h2 set 2 3; "
               "p1 in-use Robin",
               plugs),
        "0: that cable would stand in an input that does not fit it: check tells where "
        "it belongs");
}
END_TEST

START_TEST(what_stood_first_by_mistake_joins_last)
{
    struct cause order = {.kind = CAUSE_JOIN_ORDER};
    struct booth *b = booth_from(FOUR);
    struct circuit *c = circuit_new(b);
    for (int i = 0; i < 4; i++)
        order.order[i] = (unsigned char)c->joined[(i + 3) % 4]; /* P4, P1, P2, P3 */
    circuit_free(c);
    booth_free(b);
    ck_assert_str_eq(mended(FOUR, order), "1000: take P4 out of the interface; "
                                          "join P4, after the others");
}
END_TEST

START_TEST(what_is_in_use_is_asked_for_first)
{
    struct cause side = {.kind = CAUSE_SIDE_DEAD, .a = 2, .b = SIDES_RIGHT_ONLY};
    ck_assert_ptr_nonnull(strstr(mended(FOUR "; s3 in-use Robin", side), "ask before you put"));
}
END_TEST

START_TEST(where_the_gap_is_kept_a_missing_device_comes_back_to_its_place_and_nothing_else_moves)
{
    struct cause missing = {.kind = CAUSE_JOIN_MISSING, .a = 2}; /* P2: after P1 and the mixer */
    ck_assert_str_eq(mended(FOUR "; host gap keeps", missing), "1000: join P2 in place 2");
    /* had P2 moved down, setting H1 anew would be less work than joining P1 */
    missing.a = 0;
    ck_assert_str_eq(mended("host gap keeps; host combining by-hand; p1.line > s1.line; "
                            "p2.line > s2.line; joined p1 p2; h1 wants s2; h1 set 2 3",
                            missing),
                     "1000: join P1 first");
}
END_TEST

START_TEST(a_strip_that_passes_nothing_is_looked_at_whatever_else_is_wrong)
{
    struct booth *b = booth_from(FOUR);
    struct diagnosis d = diagnosis_make(b);
    struct explanation e = {
        .causes = {{.kind = CAUSE_OWN_MEDIA}, {.kind = CAUSE_STRIP_DEAD, .a = 3}}, .n = 2};
    struct plan *p = mend_make(&d, &e);
    ck_assert(!p->feasible && strstr(p->why_not, "fader"));
    mend_free(p);
    diagnosis_clear(&d);
    booth_free(b);
}
END_TEST

/* What puts right what is known to be wrong, when every deck of a world is heard as it gives it. */
static const char *known_mended(const char *world)
{
    static struct str said;
    struct booth *b = booth_from(world);
    struct circuit *c = believed(b);
    listen_to(b, c, ~0u);
    circuit_free(c);
    struct diagnosis d = diagnosis_make(b);
    ck_assert(d.n == 1 && d.v[0].n == 0 && d.n_amiss > 0);
    struct plan *p = mend_make(&d, d.v);
    str_cut(&said, 0);
    str_addf(&said, "%d: ", p->feasible ? p->minutes : -1);
    for (size_t i = 0; p->feasible && i < p->n; i++)
        str_addf(&said, "%s%s", i ? "; " : "", p->actions[i].text);
    str_add(&said, p->feasible ? "" : p->why_not);
    mend_free(p);
    diagnosis_clear(&d);
    booth_free(b);
    return str_text(&said);
}

#define TWO_FAMILIES                                                                               \
    "host combining by-driver; p1 family dunlin; p2 family plover; p1.line > s1.line; "            \
    "p2.line > s2.line; joined p1 p2; h1 wants s1; h2 wants s2; p1 plugged host.1; "               \
    "p2 plugged host.2; "

START_TEST(what_is_known_to_be_wrong_is_mended_by_the_least_work)
{
    ck_assert_str_eq(known_mended(FOUR "; h1 set 0 1; h3 set 2 3"),
                     "1000: set H3 to pair 0/1; set H1 to pair 2/3");
}
END_TEST

START_TEST(where_there_is_no_plan_the_fixes_of_what_is_known_are_made)
{
    ck_assert_str_eq(known_mended(TWO_FAMILIES "h1 set 2 3; h2 set 0 1; s2 selects phono"),
                     "1250: turn strip 2's selector to line; set H1 to pair 0/1; set H2 to pair "
                     "2/3");
    ck_assert_str_eq(known_mended(TWO_FAMILIES "h1 set 2 3; s1 selects digital; s1 in-use Robin"),
                     "-1: strip 1 is in use by Robin");
}
END_TEST

Suite *test_mend(void);
Suite *test_mend(void)
{
    Suite *s = suite_create("engine/mend");
    TCase *t = tcase_create("mend");
    tcase_add_test(t, every_cause_is_mended_without_pulling_a_plug_or_another_way_in);
    tcase_add_test(t, several_causes_that_hold_together_are_mended);
    tcase_add_test(t, a_bad_side_is_the_leads_and_two_players_are_exchanged_by_their_settings);
    tcase_add_test(t, a_plug_is_not_put_back_where_it_does_not_fit);
    tcase_add_test(t, what_stood_first_by_mistake_joins_last);
    tcase_add_test(t, what_is_in_use_is_asked_for_first);
    tcase_add_loop_test(t, a_wrong_order_of_which_one_never_joined_is_mended, 0, 2);
    tcase_add_test(
        t, where_the_gap_is_kept_a_missing_device_comes_back_to_its_place_and_nothing_else_moves);
    tcase_add_test(t, a_strip_that_passes_nothing_is_looked_at_whatever_else_is_wrong);
    tcase_add_test(t, what_is_known_to_be_wrong_is_mended_by_the_least_work);
    tcase_add_test(t, where_there_is_no_plan_the_fixes_of_what_is_known_are_made);
    suite_add_tcase(s, t);
    return s;
}
