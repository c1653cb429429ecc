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
                     "leave strip 1 as it is: it is in use by Robin; ask first; "
                     "leave out p3: it is gone from the booth");
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
    ck_assert_str_eq(
        orders("hub hub2 4 hub1.1; hub hub1 4 host.1", "hub hub2 4 host.1; "
                                                       "hub hub1 4 hub2.1"),
        "plug hub1 into port 1 of the laptop, after the lead that stands there is out; "
        "plug hub2 into port 1 of hub1");
}
END_TEST

START_TEST(a_lead_whose_port_stays_taken_makes_room_for_one_that_can_go_home)
{
    const char *used = "p2 plugged host.1; p3 plugged host.2; p3 in-use Robin; p1 plugged host.4";
    ck_assert_str_eq(orders("p1 plugged host.1; p2 plugged host.2; p3 plugged host.3", used),
                     "pull the data lead of P2; plug P1 into port 1 of the laptop; "
                     "leave out the data lead of P2: P3 stands in its port and is in use by Robin; "
                     "ask first; leave P3 as it is: it is in use by Robin; ask first");
    ck_assert_str_eq(orders("p1 plugged host.4; p2 plugged host.2; p3 plugged host.3", used),
                     "leave the data lead of P2 as it is: P3 stands in its port and is in use by "
                     "Robin; ask first; leave P3 as it is: it is in use by Robin; ask first");
}
END_TEST

/* The same once some things were taken out of the booth by hand; ends with NULL. */
static const char *orders_without(const char *found, const char *const *things)
{
    static struct str said;
    struct booth *b = booth_from(found);
    found_keep(b);
    for (; *things; things++) {
        struct booth *next = booth_copy(b);
        struct change c = change_of(CHANGE_REMOVE, *things, NULL);
        struct err e;
        ck_assert(change_make(next, &c, &e));
        found_keep_before(b, next);
        booth_free(b);
        b = next;
    }
    struct restore r = restore_make(b);
    str_clear(&said);
    for (size_t i = 0; i < r.n; i++)
        str_addf(&said, "%s%s", i ? "; " : "", r.v[i].text);
    restore_clear(&r);
    booth_free(b);
    return str_text(&said);
}

START_TEST(what_was_taken_out_is_called_as_it_was_called)
{
    ck_assert_str_eq(orders_without("hub hub1 4 host.1 label Big-one; p1 plugged hub1.2",
                                    (const char *const[]){"hub1", NULL}),
                     "leave out the data lead of P1: Big-one is gone from the booth; "
                     "leave out Big-one: it is gone from the booth");
    ck_assert_str_eq(orders_without("p2.line > s2.line; p1.line > s1.line",
                                    (const char *const[]){"p2", "s1", NULL}),
                     "leave out the cable from P2's line to strip 2's line input: P2's line is "
                     "gone from the booth; "
                     "leave out the cable from P1's line output to strip 1's line: strip 1's line "
                     "is gone from the booth; "
                     "leave out strip 1: it is gone from the booth; "
                     "leave out P2: it is gone from the booth");
}
END_TEST

START_TEST(a_hub_that_is_gone_or_would_hang_on_itself_is_said)
{
    ck_assert_str_eq(orders("hub hub1 4 host.1; p1 plugged hub1.2", "p1 plugged host.1"),
                     "leave the data lead of P1 as it is: hub1 is gone from the booth; "
                     "leave out hub1: it is gone from the booth");
    ck_assert_str_eq(orders("hub hub1 4 hub2.1; hub hub2 4 host.1; x1 plugged host.2; p1 plugged "
                            "host.3",
                            "hub hub2 4 hub1.2; hub hub1 4 host.3; x1 plugged host.1; x1 in-use "
                            "Robin; p1 plugged host.4"),
                     "pull the data lead of hub1; plug P1 into port 3 of the laptop; "
                     "leave X1 as it is: it is in use by Robin; ask first; "
                     "leave out the data lead of hub1: hub1 would be plugged in behind itself; "
                     "leave the data lead of hub2 as it is: X1 stands in its port and is in use by "
                     "Robin; ask first");
}
END_TEST

START_TEST(what_is_left_of_a_thing_says_nothing_of_the_rest_of_it)
{
    ck_assert_str_eq(
        orders("p1 own-media; p1 plugged host.1; p2 plugged host.2",
               "p1 plugged host.4; p2 plugged host.1; p2 in-use Robin"),
        "switch P1 to its own media; "
        "leave the data lead of P1 as it is: P2 stands in its port and is in use by Robin; "
        "ask first; leave P2 as it is: it is in use by Robin; ask first");
    ck_assert_str_eq(orders("m1 card 4; m1 plugged host.1; s1 selects line",
                            "m1 card 4; m1 plugged host.2; s1 selects usb; m1 in-use Robin"),
                     "turn strip 1's selector to line; leave the data lead of M1 as it is: "
                     "M1 is in use by Robin; ask first");
    ck_assert_str_eq(orders("hub hub1 4 host.1; p1 plugged hub1.1",
                            "hub hub1 4 host.2; p1 plugged hub1.1; p1 in-use Robin"),
                     "leave the data lead of hub1 as it is: P1 on it is in use by Robin; "
                     "ask first");
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

/* Something is plugged in anywhere, or nowhere. */
static struct change any_plug(const struct booth *b, unsigned long long *state)
{
    unsigned at = random_below(state, (unsigned)(b->devices.n + b->hubs.n));
    unsigned hub = random_below(state, (unsigned)b->hubs.n + 2);
    const char *id = at < b->devices.n ? b->devices.v[at].id : b->hubs.v[at - b->devices.n].id;
    struct change c = change_of(CHANGE_PLUG, id, hub < b->hubs.n ? b->hubs.v[hub].id : "host");
    c.number = 1 + (int)random_below(state, 3);
    return random_below(state, 6) ? c : change_of(CHANGE_PLUG, id, NULL);
}

static struct change any_cabling(const struct booth *b, unsigned long long *state)
{
    const struct cable *k = b->cables.n ? &b->cables.v[random_below(state, (unsigned)b->cables.n)]
                                        : NULL;
    unsigned what = k ? random_below(state, 3) : 0;
    struct change c = change_of(CHANGE_CABLE, NULL, NULL);
    if (what) {
        c = change_of(what == 1 ? CHANGE_UNCABLE : CHANGE_CABLE_MOVE, k->from, k->to);
        any_jack(b, false, state, c.c);
        return c;
    }
    any_jack(b, true, state, c.a);
    any_jack(b, false, state, c.b);
    c.number = (int)random_below(state, 4);
    return c;
}

static struct change any_change(const struct booth *b, unsigned long long *state)
{
    const struct device *d = &b->devices.v[random_below(state, (unsigned)b->devices.n)];
    struct change c = change_of(CHANGE_SOURCE, d->id, NULL);
    switch (random_below(state, 6)) {
    case 0:
        c.number = random_below(state, 2) ? SOURCE_COMPUTER : SOURCE_OWN_MEDIA;
        return c;
    case 1:
        c = change_of(CHANGE_SWITCH, NULL, NULL);
        any_jack(b, false, state, c.a);
        c.number = random_below(state, 2) ? LEVEL_LINE : LEVEL_PHONO;
        return c;
    case 2:
        if (d->strips.n) {
            const struct strip *s = &d->strips.v[random_below(state, (unsigned)d->strips.n)];
            c = change_of(CHANGE_SELECT, s->id,
                          s->inputs.v[random_below(state, (unsigned)s->inputs.n)].id);
        }
        return c;
    case 3:
    case 4:
        return any_plug(b, state);
    default:
        return any_cabling(b, state);
    }
}

/* A booth that was surveyed (found), then changed at random; then somebody came to play, or nobody.
 */
static struct booth *changed_since(unsigned seed, bool used, struct booth **found)
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
    *found = booth_copy(b);
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

/* --- what stands how, told without asking the engine or a change ------------------------------ */

static bool is_used(const struct booth *b, const char *name)
{
    char id[ID_SIZE];
    snprintf(id, sizeof id, "%.*s", (int)strcspn(name, "."), name);
    const struct strip *s = booth_strip(b, id, NULL);
    const struct device *d = booth_device(b, id);
    return s ? s->in_use != NULL : d && d->in_use;
}

/* Whether a lead is one of somebody's who plays: a device's, or that of a hub on its way. */
static bool carries_used(const struct booth *b, const char *id)
{
    bool used = is_used(b, id);
    for (size_t i = 0; i < b->devices.n && !used; i++) {
        const struct plug *p = &b->devices.v[i].plugged;
        for (size_t n = 0; n <= b->hubs.n && b->devices.v[i].in_use && *p->at; n++) {
            used = used || strcmp(p->at, id) == 0;
            if (!booth_hub(b, p->at))
                break;
            p = &booth_hub(b, p->at)->plugged;
        }
    }
    return used;
}

/* A line for each cable, lead, source, selector and switch; or only for those that are somebody's
 * who plays. */
static void stand(const struct booth *b, bool used, struct texts *out)
{
    struct found *f = found_of(b);
    const struct map *maps[] = {&f->selected, &f->level, &f->source, &f->plugged};
    for (size_t m = 0; m < 4; m++)
        for (size_t i = 0; i < maps[m]->n; i++) {
            const struct entry *e = &maps[m]->v[i];
            struct str line = {0};
            str_addf(&line, "%zu %s %s", m, e->key, e->value ? e->value : "-");
            if (!used || (m == 3 ? carries_used(b, e->key) : is_used(b, e->key)))
                texts_add(out, str_text(&line));
            str_clear(&line);
        }
    for (size_t i = 0; i < b->cables.n; i++) {
        const struct cable *c = &b->cables.v[i];
        struct str line = {0};
        str_addf(&line, "cable %s %s %d", c->from, c->to, (int)c->sides);
        if (!used || is_used(b, c->from) || is_used(b, c->to))
            texts_add(out, str_text(&line));
        str_clear(&line);
    }
    found_free(f);
}

/* The first line that one has and the other has not; NULL: none. */
static const char *differs(const struct texts *a, const struct texts *b)
{
    for (size_t i = 0; i < a->n; i++)
        if (texts_find(b, a->v[i]) < 0)
            return a->v[i];
    for (size_t i = 0; i < b->n; i++)
        if (texts_find(a, b->v[i]) < 0)
            return b->v[i];
    return NULL;
}

static const char *own(const struct map *m, const char *key)
{
    const struct entry *e = map_find(m, key);
    return e && e->value ? e->value : "";
}

/* Whether a found cable may lack: somebody plays by it, or by what was not found and holds its
 * input or is its output's only one. */
static bool may_lack(const struct booth *b, const struct cable *was)
{
    bool excused = is_used(b, was->from) || is_used(b, was->to);
    for (size_t k = 0; k < b->cables.n; k++) {
        const struct cable *c = &b->cables.v[k];
        bool at = strcmp(c->from, was->from) == 0 || strcmp(c->to, was->to) == 0;
        excused = excused || (at && !was_found(b, c) && (is_used(b, c->from) || is_used(b, c->to)));
    }
    return excused;
}

/* Law: of cables, nothing that was not found stays and nothing that was found lacks, but for
 * somebody who plays. */
static void cables_are_home(const struct booth *b, unsigned seed)
{
    for (size_t i = 0; i < b->cables.n; i++) {
        const struct cable *c = &b->cables.v[i];
        ck_assert_msg(was_found(b, c) || is_used(b, c->from) || is_used(b, c->to),
                      "seed %u: %s > %s stays", seed, c->from, c->to);
    }
    for (size_t i = 0; i < b->found->cables.n; i++) {
        const struct cable *was = &b->found->cables.v[i];
        const struct cable *now = booth_cable(b, was->from, was->to);
        ck_assert_msg((now && now->sides == was->sides) || may_lack(b, was),
                      "seed %u: %s > %s lacks", seed, was->from, was->to);
    }
}

/* Law: every selector, switch and source that nobody plays by stands as found. */
static void things_are_home(const struct booth *b, unsigned seed)
{
    struct found *f = found_of(b);
    const struct map *now[] = {&f->selected, &f->level, &f->source};
    const struct map *was[] = {&b->found->selected, &b->found->level, &b->found->source};
    for (size_t m = 0; m < 3; m++)
        for (size_t i = 0; i < now[m]->n; i++)
            ck_assert_msg(
                is_used(b, now[m]->v[i].key) ||
                    strcmp(own(now[m], now[m]->v[i].key), own(was[m], now[m]->v[i].key)) == 0,
                "seed %u: %s", seed, now[m]->v[i].key);
    found_free(f);
}

/* Law: so does every lead, but where one that somebody plays by stands in its port; and no port has
 * two leads that were not both found or both left there. */
static void leads_are_home(const struct booth *before, const struct booth *b, unsigned seed)
{
    struct found *f = found_of(b), *first = found_of(before);
    const struct map *now = &f->plugged, *was = &b->found->plugged, *left = &first->plugged;
    for (size_t i = 0; i < now->n; i++) {
        const char *id = now->v[i].key, *at = own(now, id), *home = own(was, id);
        bool excused = carries_used(b, id) || strcmp(at, home) == 0;
        for (size_t k = 0; k < now->n; k++) {
            const char *other = now->v[k].key, *there = own(now, other);
            excused = excused || (carries_used(b, other) && strcmp(there, home) == 0);
            bool both = strcmp(own(was, id), own(was, other)) == 0 ||
                        strcmp(own(left, id), own(left, other)) == 0;
            ck_assert_msg(i == k || !*at || strcmp(at, "built-in") == 0 || strcmp(at, there) != 0 ||
                              both,
                          "seed %u: %s and %s in %s", seed, id, other, at);
        }
        ck_assert_msg(excused, "seed %u: %s's lead", seed, id);
    }
    found_free(f);
    found_free(first);
}

/* What a step is about, whatever is done to it: labels may be the same. */
static const char *about(const struct putting_back *p)
{
    return strchr(p->id + strlen("restore-"), '-');
}

/* Law: what is left is said once, and nothing is done to it. */
static void what_is_left_stays(const struct texts *before, const struct texts *after,
                               const struct restore *r, unsigned seed)
{
    const char *const kinds[] = {"selector", "switch", "source", "lead"};
    for (size_t i = 0; i < r->n; i++) {
        for (size_t k = 0; k < i; k++)
            ck_assert_msg(strcmp(r->v[i].text, r->v[k].text) != 0 ||
                              strcmp(about(&r->v[i]), about(&r->v[k])) != 0,
                          "seed %u: twice: %s", seed, r->v[i].text);
        for (size_t k = 0; k < before->n && r->v[i].change.what == CHANGE_NONE; k++) {
            char id[sizeof r->v[i].id] = "", line[128], a[ID_SIZE * 2], z[ID_SIZE * 2];
            const char *text = before->v[k];
            snprintf(line, sizeof line, "%s", text);
            sscanf(line, "%*s %65s %65s", a, z);
            if (*text == 'c')
                snprintf(id, sizeof id, "restore-uncable-%s-%s", a, z);
            else
                snprintf(id, sizeof id, "restore-%s-%s", kinds[*text - '0'], a);
            bool out = strstr(r->v[i].text, "leave out ") != NULL;
            ck_assert_msg(strcmp(id, r->v[i].id) != 0 || out || texts_find(after, text) >= 0,
                          "seed %u: not left: %s", seed, r->v[i].text);
        }
    }
}

/* Makes one action, which touches nothing of who plays. */
static void make_one(struct booth *b, const struct putting_back *p, unsigned seed)
{
    struct texts before = {0}, after = {0};
    struct err e;
    stand(b, true, &before);
    ck_assert_msg(change_make(b, &p->change, &e), "seed %u: %s", seed, p->text);
    stand(b, true, &after);
    ck_assert_msg(!differs(&before, &after), "seed %u: %s: %s", seed, p->text,
                  differs(&before, &after));
    texts_clear(&before);
    texts_clear(&after);
}

static int put_all_back(unsigned seed, bool used)
{
    struct booth *found, *b = changed_since(seed, used, &found), *before = booth_copy(b);
    struct restore r = restore_make(b);
    struct texts was = {0}, first = {0}, last = {0};
    int made = 0;
    stand(found, false, &was);
    stand(b, false, &first);
    for (size_t i = 0; i < r.n; i++) {
        make_one(b, &r.v[i], seed);
        made += r.v[i].change.what != CHANGE_NONE;
    }
    stand(b, false, &last);
    ck_assert_msg(used || !differs(&was, &last), "seed %u: %s", seed, differs(&was, &last));
    cables_are_home(b, seed);
    things_are_home(b, seed);
    leads_are_home(before, b, seed);
    what_is_left_stays(&first, &last, &r, seed);
    restore_clear(&r);
    r = restore_make(b);
    for (size_t i = 0; i < r.n; i++)
        ck_assert_msg(r.v[i].change.what == CHANGE_NONE, "seed %u: still to do: %s", seed,
                      r.v[i].text);
    restore_clear(&r);
    texts_clear(&was);
    texts_clear(&first);
    texts_clear(&last);
    booth_free(found);
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
    tcase_add_test(t, what_must_stay_is_said_once_and_what_it_is_in_the_way_of_is_left_out);
    tcase_add_test(t, leads_that_stand_in_each_others_ports_and_hubs_go_home);
    tcase_add_test(t, a_lead_whose_port_stays_taken_makes_room_for_one_that_can_go_home);
    tcase_add_test(t, what_was_taken_out_is_called_as_it_was_called);
    tcase_add_test(t, a_hub_that_is_gone_or_would_hang_on_itself_is_said);
    tcase_add_test(t, what_is_left_of_a_thing_says_nothing_of_the_rest_of_it);
    tcase_add_test(t, putting_everything_back_leaves_the_booth_as_found);
    tcase_add_test(t, beside_what_is_in_use_all_else_goes_home);
    suite_add_tcase(s, t);
    return s;
}
