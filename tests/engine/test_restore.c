#include <check.h>
#include <stdio.h>
#include <string.h>

#include "engine/restore.h"
#include "model/found.h"
#include "model/shape.h"
#include "model/sound.h"
#include "support/booth_from.h"

/* The orders of a booth that was found as one world and stands as another, parted by "; ". */
static const char *orders(const char *found, const char *now)
{
    static struct str said;
    struct booth *was = booth_from(found), *b = booth_from(now);
    struct restore r;
    str_clear(&said);
    b->found = found_of(was);
    r = restore_make(b);
    for (size_t i = 0; i < r.n; i++)
        str_addf(&said, "%s%s", i ? "; " : "", r.v[i].text);
    restore_clear(&r);
    booth_free(was);
    booth_free(b);
    return str_text(&said);
}

START_TEST(what_was_never_surveyed_and_what_is_as_found_needs_nothing)
{
    struct booth *b = booth_from("p1.line > s1.line");
    struct restore r = restore_make(b);
    ck_assert_uint_eq(r.n, 0);
    found_keep(b);
    r = restore_make(b);
    ck_assert_uint_eq(r.n, 0);
    booth_free(b);
}
END_TEST

START_TEST(things_go_back_in_the_order_of_hands)
{
    ck_assert_str_eq(orders("p1.line > s1.line; p2.line > s2.line; p1 own-media; p1 plugged host.1",
                            "p1.line > s2.line; p2.line > s1.line; s1 selects phono"),
                     "move the plug of P1's line output to strip 1's line input, "
                     "after the plug that stands there is out; "
                     "move the plug of P2's line output to strip 2's line input; "
                     "turn strip 1's selector to line; "
                     "switch P1 to its own media; "
                     "plug P1 into port 1 of the laptop");
}
END_TEST

START_TEST(a_cable_that_came_later_goes_and_one_that_was_taken_comes_back)
{
    ck_assert_str_eq(orders("p1.line > s1.line; p2.line > s2.line; p1.digital > s3.digital",
                            "p1.line > s1.line; p2.line > s2.line; p2.digital > s3.digital"),
                     "take away the cable from P2's digital output to strip 3's digital input; "
                     "run a cable from P1's digital output to strip 3's digital input");
}
END_TEST

START_TEST(what_is_in_use_or_gone_is_left_alone_and_said)
{
    ck_assert_str_eq(orders("p1.line > s1.line; p3 own-media",
                            "p1.line > s1.line; s1 selects phono; s1 in-use Robin"),
                     "leave strip 1 as it is: it is in use; ask first; "
                     "leave p3 as it is: it is gone from the booth");
}
END_TEST

START_TEST(what_must_stay_is_said_once_and_what_it_is_in_the_way_of_is_left_out)
{
    ck_assert_str_eq(
        orders("p1.line > s1.line", "p1.line > s2.line; s2 in-use Robin; s1 selects line"),
        "leave the cable from P1's line output to strip 2's line input as it is: "
        "strip 2 is in use by Robin; ask first; "
        "leave out the cable from P1's line output to strip 1's line input: "
        "P1's line output stays taken");
    ck_assert_str_eq(orders("p1.line > s1.line; p2.line > s2.line",
                            "p1.line > s2.line; p2.line > s1.line; s1 in-use Robin"),
                     "take away the cable from P1's line output to strip 2's line input; "
                     "leave the cable from P2's line output to strip 1's line input as it is: "
                     "strip 1 is in use by Robin; ask first; "
                     "leave out the cable from P1's line output to strip 1's line input: "
                     "strip 1 is in use by Robin; ask first; "
                     "leave out the cable from P2's line output to strip 2's line input: "
                     "P2's line output stays taken");
}
END_TEST

START_TEST(leads_that_stand_in_each_others_ports_and_hubs_go_home)
{
    ck_assert_str_eq(
        orders("p1 plugged host.1; p2 plugged host.2", "p1 plugged host.2; p2 plugged host.1"),
        "plug P1 into port 1 of the laptop, after the lead that stands there is out; "
        "plug P2 into port 2 of the laptop");
    ck_assert_str_eq(orders("p1 plugged host.1", "p1 place 1; x1 plugged host.1"),
                     "pull the data lead of X1; plug P1 into port 1 of the laptop");
    ck_assert_str_eq(orders("p1 plugged host.1; p2 plugged host.2",
                            "p1 place 1; p2 plugged host.1; p2 in-use Robin"),
                     "leave P1 as it is: P2 stands in its port and is in use; ask first; "
                     "leave P2 as it is: it is in use; ask first");
    ck_assert_str_eq(
        orders("hub hub2 4 hub1.1; hub hub1 4 host.1", "hub hub2 4 host.1; "
                                                       "hub hub1 4 hub2.1"),
        "plug hub1 into port 1 of the laptop, after the lead that stands there is out; "
        "plug hub2 into port 1 of hub1");
}
END_TEST

START_TEST(the_first_change_to_wiring_keeps_what_was_found_and_a_setting_does_not)
{
    struct booth *b = booth_from("p1.line > s1.line; h1 wants s1");
    struct booth *set = booth_copy(b), *turned = booth_copy(b);
    struct err e;
    struct change setting = change_of(CHANGE_SET, "h1", NULL);
    setting.pair = (struct pair){0, 1};
    struct change selector = change_of(CHANGE_SELECT, "s1", "phono");
    ck_assert(change_make(set, &setting, &e) && change_make(turned, &selector, &e));
    ck_assert(!found_keep_before(b, set));
    ck_assert(found_keep_before(b, turned));
    ck_assert_str_eq(map_find(&turned->found->selected, "s1")->value, "line");
    booth_free(b);
    booth_free(set);
    booth_free(turned);
}
END_TEST

/* --- laws ------------------------------------------------------------------------------------- */

/* A random jack: an output, or an input of a strip or an interface. */
static void any_jack(const struct booth *b, bool output, unsigned long long *state,
                     char name[REF_SIZE])
{
    const struct device *d = &b->devices.v[random_below(state, (unsigned)b->devices.n)];
    const char *owner = d->id;
    const struct inputs *inputs = &d->inputs;
    name[0] = '\0';
    if (output && d->outputs.n) {
        unsigned i = random_below(state, (unsigned)d->outputs.n);
        snprintf(name, REF_SIZE, "%s.%s", owner, d->outputs.v[i].id);
    }
    if (!output && d->strips.n) {
        const struct strip *s = &d->strips.v[random_below(state, (unsigned)d->strips.n)];
        owner = s->id;
        inputs = &s->inputs;
    }
    if (!output && inputs->n) {
        unsigned i = random_below(state, (unsigned)inputs->n);
        snprintf(name, REF_SIZE, "%s.%s", owner, inputs->v[i].id);
    }
}

static struct change any_change(const struct booth *b, unsigned long long *state)
{
    const struct device *d = &b->devices.v[random_below(state, (unsigned)b->devices.n)];
    const struct cable *k = b->cables.n ? &b->cables.v[random_below(state, (unsigned)b->cables.n)]
                                        : NULL;
    struct change c = change_of(CHANGE_NONE, NULL, NULL);
    switch (random_below(state, 6)) {
    case 0:
        c = change_of(CHANGE_CABLE, NULL, NULL);
        any_jack(b, true, state, c.a);
        any_jack(b, false, state, c.b);
        c.number = (int)random_below(state, 4);
        break;
    case 1:
        if (k)
            c = change_of(CHANGE_UNCABLE, k->from, k->to);
        break;
    case 2:
        if (k)
            c = change_of(CHANGE_CABLE_MOVE, k->from, k->to);
        any_jack(b, false, state, c.c);
        break;
    case 3:
        if (d->strips.n) {
            const struct strip *s = &d->strips.v[random_below(state, (unsigned)d->strips.n)];
            c = change_of(CHANGE_SELECT, s->id,
                          s->inputs.v[random_below(state, (unsigned)s->inputs.n)].id);
        }
        break;
    case 4:
        c = change_of(CHANGE_SOURCE, d->id, NULL);
        c.number = random_below(state, 2) ? SOURCE_COMPUTER : SOURCE_OWN_MEDIA;
        break;
    default:
        c = change_of(CHANGE_PLUG, d->id, "host");
        c.number = 1 + (int)random_below(state, 4);
    }
    return c;
}

/* A booth that was surveyed, then changed at random; then somebody came to play, or nobody. */
static struct booth *changed_since(unsigned seed, bool used)
{
    struct booth *b = booth_random(seed);
    unsigned long long state = seed;
    struct err e;
    for (size_t i = 0; i < b->devices.n; i++) {
        text_set(&b->devices.v[i].in_use, NULL);
        for (size_t k = 0; k < b->devices.v[i].strips.n; k++)
            text_set(&b->devices.v[i].strips.v[k].in_use, NULL);
    }
    found_free(b->found);
    b->found = found_of(b);
    for (int i = 0; i < 12 && b->devices.n; i++) {
        struct change c = any_change(b, &state);
        change_make(b, &c, &e); /* what cannot be is refused */
    }
    for (size_t i = 0; i < b->devices.n && used; i++) {
        struct device *d = &b->devices.v[i];
        if (random_below(&state, 4) == 0)
            text_set(&d->in_use, "Robin");
        for (size_t k = 0; k < d->strips.n; k++)
            if (random_below(&state, 4) == 0)
                text_set(&d->strips.v[k].in_use, "Robin");
    }
    return b;
}

static bool was_found(const struct booth *b, const struct cable *c)
{
    for (size_t i = 0; i < b->found->cables.n; i++)
        if (strcmp(b->found->cables.v[i].from, c->from) == 0 &&
            strcmp(b->found->cables.v[i].to, c->to) == 0)
            return true;
    return false;
}

static bool pulling_touches(const struct booth *b, const struct cable *c)
{
    struct change pull = change_of(CHANGE_UNCABLE, c->from, c->to);
    return change_touches_in_use(b, &pull);
}

/* Law: nothing that was not found stays, but where it is in use; and of what was found nothing
 * lacks, but where it, or what was not found and stays at one of its ends, is in use. */
static void cables_are_home(const struct booth *b, unsigned seed)
{
    for (size_t i = 0; i < b->cables.n; i++)
        ck_assert_msg(was_found(b, &b->cables.v[i]) || pulling_touches(b, &b->cables.v[i]),
                      "seed %u: %s > %s stays", seed, b->cables.v[i].from, b->cables.v[i].to);
    for (size_t i = 0; i < b->found->cables.n; i++) {
        const struct cable *was = &b->found->cables.v[i];
        const struct cable *now = booth_cable(b, was->from, was->to);
        bool excused = pulling_touches(b, was);
        for (size_t k = 0; k < b->cables.n; k++)
            excused = excused || (!was_found(b, &b->cables.v[k]) &&
                                  (strcmp(b->cables.v[k].from, was->from) == 0 ||
                                   strcmp(b->cables.v[k].to, was->to) == 0));
        ck_assert_msg((now && now->sides == was->sides) || excused, "seed %u: %s > %s lacks", seed,
                      was->from, was->to);
    }
}

/* Law: every selector, source and lead stands as found, but where it is in use; a lead also where
 * one in use stands in its port. */
static void things_are_home(const struct booth *b, unsigned seed)
{
    struct found *now = found_of(b);
    bool used = false;
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        const struct entry *source = map_find(&now->source, d->id);
        const struct entry *plugged = map_find(&now->plugged, d->id);
        const char *was = map_find(&b->found->plugged, d->id)->value;
        used = used || d->in_use;
        ck_assert_msg(!source || d->in_use ||
                          strcmp(source->value, map_find(&b->found->source, d->id)->value) == 0,
                      "seed %u: %s's source", seed, d->id);
        bool home = plugged->value && was ? strcmp(plugged->value, was) == 0
                                          : plugged->value == was;
        for (size_t k = 0; k < b->devices.n && was; k++) {
            const char *other = map_find(&now->plugged, b->devices.v[k].id)->value;
            home = home || (b->devices.v[k].in_use && other && strcmp(other, was) == 0);
        }
        ck_assert_msg(home || d->in_use, "seed %u: %s's lead", seed, d->id);
        for (size_t k = 0; k < d->strips.n; k++) {
            const struct strip *s = &d->strips.v[k];
            ck_assert_msg(s->in_use ||
                              strcmp(map_find(&b->found->selected, s->id)->value, s->selected) == 0,
                          "seed %u: %s's selector", seed, s->id);
        }
    }
    found_free(now);
}

/* Law: what is left is said once, and nothing is done to it. */
static void what_is_left_stays(const struct booth *before, const struct booth *after,
                               const struct restore *r, unsigned seed)
{
    for (size_t i = 0; i < r->n; i++) {
        for (size_t k = 0; k < i; k++)
            ck_assert_msg(strcmp(r->v[i].text, r->v[k].text) != 0, "seed %u: twice: %s", seed,
                          r->v[i].text);
        for (size_t k = 0; k < before->cables.n; k++) {
            const struct cable *c = &before->cables.v[k];
            char id[sizeof r->v[i].id];
            snprintf(id, sizeof id, "restore-uncable-%s-%s", c->from, c->to);
            bool left = r->v[i].change.what == CHANGE_NONE && strcmp(r->v[i].id, id) == 0;
            ck_assert_msg(!left || booth_cable(after, c->from, c->to), "seed %u: not left: %s",
                          seed, r->v[i].text);
        }
    }
}

static int put_all_back(unsigned seed, bool used)
{
    struct booth *b = changed_since(seed, used), *before = booth_copy(b);
    struct restore r = restore_make(b);
    struct err e;
    int made = 0;
    for (size_t i = 0; i < r.n; i++) {
        const struct change *c = &r.v[i].change;
        ck_assert_msg(used || c->what != CHANGE_NONE, "seed %u: %s", seed, r.v[i].text);
        ck_assert_msg(!change_touches_in_use(b, c), "seed %u: %s", seed, r.v[i].text);
        ck_assert_msg(change_make(b, c, &e), "seed %u: %s", seed, r.v[i].text);
        made += c->what != CHANGE_NONE;
    }
    cables_are_home(b, seed);
    things_are_home(b, seed);
    what_is_left_stays(before, b, &r, seed);
    restore_clear(&r);
    r = restore_make(b);
    for (size_t i = 0; i < r.n; i++)
        ck_assert_msg(r.v[i].change.what == CHANGE_NONE, "seed %u: still to do: %s", seed,
                      r.v[i].text);
    restore_clear(&r);
    booth_free(before);
    booth_free(b);
    return made;
}

START_TEST(putting_everything_back_leaves_the_booth_as_found)
{
    int made = 0;
    for (unsigned seed = 1; seed <= 600; seed++)
        made += put_all_back(seed, false);
    ck_assert_int_gt(made, 1000);
}
END_TEST

START_TEST(beside_what_is_in_use_all_else_goes_home)
{
    int made = 0;
    for (unsigned seed = 1; seed <= 1500; seed++)
        made += put_all_back(seed, true);
    ck_assert_int_gt(made, 1000);
}
END_TEST

Suite *test_restore(void)
{
    Suite *s = suite_create("engine/restore");
    TCase *t = tcase_create("restore");
    tcase_add_test(t, what_was_never_surveyed_and_what_is_as_found_needs_nothing);
    tcase_add_test(t, things_go_back_in_the_order_of_hands);
    tcase_add_test(t, a_cable_that_came_later_goes_and_one_that_was_taken_comes_back);
    tcase_add_test(t, what_is_in_use_or_gone_is_left_alone_and_said);
    tcase_add_test(t, the_first_change_to_wiring_keeps_what_was_found_and_a_setting_does_not);
    tcase_add_test(t, what_must_stay_is_said_once_and_what_it_is_in_the_way_of_is_left_out);
    tcase_add_test(t, leads_that_stand_in_each_others_ports_and_hubs_go_home);
    tcase_add_test(t, putting_everything_back_leaves_the_booth_as_found);
    tcase_add_test(t, beside_what_is_in_use_all_else_goes_home);
    suite_add_tcase(s, t);
    return s;
}
