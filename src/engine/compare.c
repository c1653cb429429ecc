/* The two booths are first given the same names (compare_names.c): a copy of the old one, in which
 * whatever is matched is called as it is now. After that, comparing is walking the shapes: fields
 * of the same record, items of the same name. A field that joins the shapes is told from then on.
 */
#include "engine/compare.h"

#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "engine/compare_parts.h"
#include "engine/route.h"
#include "model/say.h"

struct work {
    const struct booth *before, *now; /* with the same names */
    const struct names *names;
    struct comparison *out;
};

/* --- telling ---------------------------------------------------------------------------------- */

static bool is_past(enum difference_kind kind)
{
    return kind == DIFFERENCE_GONE || kind == DIFFERENCE_UNWIRED;
}

static void put_name(struct work *w, enum difference_kind kind, const char *name,
                     char out[REF_SIZE])
{
    if (is_past(kind))
        compare_old_name(w->names, name, out);
    else
        snprintf(out, REF_SIZE, "%s", name);
}

/* Adds a difference of a subject's field (NULL: of the whole of it); text is taken. */
static struct difference *tell(struct work *w, enum difference_kind kind, const struct subject *s,
                               const struct field *f, struct str *text)
{
    struct comparison *c = w->out;
    c->v = mem_grow(c->v, &c->cap, c->n + 1, sizeof *c->v);
    struct difference *d = &c->v[c->n++];
    *d = (struct difference){.kind = kind, .text = str_take(text)};
    put_name(w, kind, s->name, d->subject);
    put_name(w, kind, s->other, d->other);
    snprintf(d->field, sizeof d->field, "%s%s%s", s->part ? s->part->key : "",
             s->part && f ? "." : "", f ? f->key : "");
    return d;
}

static void tell_field(struct work *w, const struct subject *s, const struct field *f,
                       const void *const records[2])
{
    enum difference_kind kind = compare_kind(s->shape, f, records[1]);
    struct str text = {0};
    if (kind != DIFFERENCE_JOINED) {
        compare_say_subject(w->now, s, &text);
        str_add(&text, ": ");
    }
    size_t head = text.len;
    compare_say_field((const struct booth *const[]){w->before, w->now}, f,
                      (const void *const[]){field_of(f, records[0]), field_of(f, records[1])}, kind,
                      &text);
    tell(w, kind, s, f, &text)->head = head;
}

/* Whether the other booth calls a device the same: then its label alone does not tell which. */
static bool has_label(const struct booth *b, const char *label)
{
    for (size_t i = 0; i < b->devices.n; i++)
        if (strcmp(b->devices.v[i].label, label) == 0)
            return true;
    return false;
}

/* Whether something that is not the same has this id in the other booth. */
static bool is_elsewhere(const struct work *w, bool gone, const char *id)
{
    for (size_t i = 0; i < w->names->n; i++) {
        const struct name *n = &w->names->v[i];
        if (!n->matched && strcmp(gone ? n->renamed.now : n->renamed.before, id) == 0)
            return true;
    }
    return false;
}

/* "P1", or "P1 (player, dunlin 2)"; a strip that may have come from another mixer with its own. */
static void say_which(struct work *w, bool gone, const struct subject *s, struct str *text)
{
    const struct booth *b = gone ? w->before : w->now, *other = gone ? w->now : w->before;
    const struct device *d = s->shape == &shape_device ? booth_device(b, s->name) : NULL;
    const struct device *mixer = NULL;
    const struct strip *strip = s->shape == &shape_strip ? booth_strip(b, s->name, &mixer) : NULL;
    if (strip && is_elsewhere(w, gone, s->name))
        str_addf(text, "strip %s of %s", strip->label, mixer->label);
    else
        compare_say_subject(b, s, text);
    if (d && has_label(other, d->label))
        str_addf(text, " (%s%s%s)", word_people(&words_device_kind, (int)d->kind),
                 d->model ? ", " : "", d->model ? d->model : "");
}

static void came_or_went(struct work *w, bool gone, const struct subject *s)
{
    static const enum difference_kind things[] = {DIFFERENCE_NEW, DIFFERENCE_GONE},
                                      cables[] = {DIFFERENCE_WIRED, DIFFERENCE_UNWIRED};
    struct str text = {0};
    say_which(w, gone, s, &text);
    str_add(&text, gone ? " is gone" : " is new");
    tell(w, (s->shape == &shape_cable ? cables : things)[gone], s, NULL, &text);
}

/* A plug that went from one input to another, as two differences that make one line. */
static void tell_moved_plug(struct work *w, const struct cable *was, const struct cable *is)
{
    const struct cable *const ends[] = {was, is};
    for (int i = 0; i < 2; i++) {
        struct subject s = {.shape = &shape_cable};
        struct str text = {0};
        snprintf(s.name, sizeof s.name, "%s", ends[i]->from);
        snprintf(s.other, sizeof s.other, "%s", ends[i]->to);
        say_jack(w->now, is->from, &text);
        str_add(&text, ": ");
        size_t head = text.len;
        str_add(&text, i ? "now in " : "was in ");
        say_jack(i ? w->now : w->before, ends[i]->to, &text);
        tell(w, i ? DIFFERENCE_WIRED : DIFFERENCE_UNWIRED, &s, NULL, &text)->head = head;
    }
}

/* --- walking ---------------------------------------------------------------------------------- */

static void compare_records(struct work *w, const struct subject *s, const void *a, const void *b);

/* Cables are known by their ends, all else by an id: both stand first in their shapes. */
static bool same_item(const struct shape *s, const void *a, const void *b)
{
    const struct field *f = s->fields;
    return field_equal(&f[0], field_of(&f[0], a), field_of(&f[0], b)) &&
           (s != &shape_cable || field_equal(&f[1], field_of(&f[1], a), field_of(&f[1], b)));
}

static const void *find_item(const struct field *f, const void *list, const void *like)
{
    for (size_t i = 0; i < records_count(list); i++)
        if (same_item(f->shape, records_at(f, list, i), like))
            return records_at(f, list, i);
    return NULL;
}

static struct subject item_subject(const struct subject *owner, const struct field *f,
                                   const void *item)
{
    struct subject s = {.shape = f->shape};
    const char *id = field_of(&f->shape->fields[0], item);
    if (f->shape == &shape_output || f->shape == &shape_input) {
        snprintf(s.name, sizeof s.name, "%.32s.%.32s", owner->name, id);
        s.part = f;
    } else {
        snprintf(s.name, sizeof s.name, "%s", id);
    }
    if (f->shape == &shape_cable)
        snprintf(s.other, sizeof s.other, "%s", ((const struct cable *)item)->to);
    return s;
}

/* The cable of the other list that takes the place of one that is not in it: of the same output,
 * and not in this list either; NULL: there is none. Several pair up in their order. */
static const struct cable *other_end(const struct field *f, const void *list, const void *other,
                                     const struct cable *cable)
{
    size_t before = 0;
    for (size_t i = 0; records_at(f, list, i) != cable; i++) {
        const struct cable *c = records_at(f, list, i);
        before += strcmp(c->from, cable->from) == 0 && !find_item(f, other, c);
    }
    for (size_t i = 0; i < records_count(other); i++) {
        const struct cable *c = records_at(f, other, i);
        if (strcmp(c->from, cable->from) == 0 && !find_item(f, list, c) && before-- == 0)
            return c;
    }
    return NULL;
}

static void compare_items(struct work *w, const struct subject *s, const struct field *f,
                          const void *const lists[2])
{
    for (size_t i = 0; i < records_count(lists[0]); i++) {
        const void *item = records_at(f, lists[0], i);
        struct subject which = item_subject(s, f, item);
        if (find_item(f, lists[1], item))
            continue;
        bool cable = f->shape == &shape_cable;
        const struct cable *is = cable ? other_end(f, lists[0], lists[1], item) : NULL;
        if (is)
            tell_moved_plug(w, item, is);
        else
            came_or_went(w, true, &which);
    }
    for (size_t i = 0; i < records_count(lists[1]); i++) {
        const void *item = records_at(f, lists[1], i), *old = find_item(f, lists[0], item);
        struct subject which = item_subject(s, f, item);
        if (old)
            compare_records(w, &which, old, item);
        else if (f->shape != &shape_cable || !other_end(f, lists[1], lists[0], item))
            came_or_went(w, false, &which); /* else it is told already */
    }
}

/* A part that needs nothing said is there also where the file leaves it out. */
static bool goes_without_saying(const struct shape *s)
{
    for (size_t i = 0; i < s->n; i++)
        if (s->fields[i].required)
            return false;
    return true;
}

static void compare_options(struct work *w, const struct subject *s, const struct field *f,
                            const void *const values[2])
{
    const void *a, *b;
    struct subject part = *s;
    part.shape = f->shape;
    part.part = f;
    memcpy(&a, values[0], sizeof a);
    memcpy(&b, values[1], sizeof b);
    if (!a == !b || goes_without_saying(f->shape)) {
        void *usual = mem_new(1, f->shape->size);
        record_init(f->shape, usual);
        compare_records(w, &part, a ? a : usual, b ? b : usual);
        record_clear(f->shape, usual);
        mem_free(usual);
    } else {
        came_or_went(w, a != NULL, &part);
    }
}

static void compare_field(struct work *w, const struct subject *s, const struct field *f,
                          const void *const records[2])
{
    const void *values[] = {field_of(f, records[0]), field_of(f, records[1])};
    if (f->kind == FIELD_RECORDS) {
        compare_items(w, s, f, values);
    } else if (f->kind == FIELD_OPTION) {
        compare_options(w, s, f, values);
    } else if (f->kind == FIELD_RECORD) {
        struct subject inner = *s;
        inner.shape = f->shape;
        compare_records(w, &inner, values[0], values[1]);
    } else if (!field_equal(f, values[0], values[1])) {
        tell_field(w, s, f, records);
    }
}

static void compare_records(struct work *w, const struct subject *s, const void *a, const void *b)
{
    for (size_t i = 0; i < s->shape->n; i++)
        if (!s->shape->fields[i].paper)
            compare_field(w, s, &s->shape->fields[i], (const void *const[]){a, b});
}

/* --- routes ----------------------------------------------------------------------------------- */

static int deck_by_id(const struct booth *b, const char *id)
{
    for (size_t i = 0; i < b->decks.n; i++)
        if (strcmp(b->decks.v[i].id, id) == 0)
            return (int)i;
    return -1;
}

static struct pair route_pair(const struct circuit *c, int deck)
{
    struct route r = deck < 0 ? (struct route){.there = false} : route_of(c, deck);
    return r.there ? r.pair : (struct pair){-1, -1};
}

static bool same_pair(struct pair a, struct pair b)
{
    return a.left == b.left && (a.left < 0 || a.right == b.right);
}

static void compare_routes(struct work *w)
{
    struct circuit *before = circuit_new(w->before), *now = circuit_new(w->now);
    struct comparison *c = w->out;
    for (int i = 0; i < (int)w->now->decks.n; i++) {
        int old = deck_by_id(w->before, w->now->decks.v[i].id);
        struct pair was = route_pair(before, old), is = route_pair(now, i);
        struct pair set = old < 0 ? (struct pair){-1, -1} : route_effective(before, old);
        if (same_pair(was, is))
            continue;
        c->routes = mem_grow(c->routes, &c->routes_cap, c->n_routes + 1, sizeof *c->routes);
        c->routes[c->n_routes++] = (struct rerouted){i, was, is,
                                                     is.left >= 0 && !same_pair(set, is)};
    }
    circuit_free(before);
    circuit_free(now);
}

/* A combination of before that would fit what is joined now. */
static const struct combination *fitting(const struct booth *before, const struct booth *now)
{
    const struct combination *own = booth_combination(now);
    for (size_t i = 0; !own && i < before->host.combinations.n; i++)
        if (combination_fits(&before->host.combinations.v[i], now))
            return &before->host.combinations.v[i];
    return own;
}

/* --- the whole -------------------------------------------------------------------------------- */

static void keep_names(const struct names *names, struct comparison *c)
{
    for (size_t i = 0; i < names->n; i++) {
        if (!names->v[i].matched)
            continue;
        c->names = mem_grow(c->names, &c->names_cap, c->n_names + 1, sizeof *c->names);
        c->names[c->n_names++] = names->v[i].renamed;
    }
}

struct comparison compare_make(const struct booth *before, const struct booth *now)
{
    struct comparison c = {0};
    struct names names = {0};
    struct booth *old = compare_renamed(before, now, &names);
    struct work w = {.before = old, .now = now, .names = &names, .out = &c};
    struct subject host = {.shape = &shape_booth, .name = "host"};
    compare_records(&w, &host, old, now);
    compare_routes(&w);
    keep_names(&names, &c);
    c.fits = fitting(before, now);
    booth_free(old);
    mem_free(names.v);
    return c;
}

/* Whether the sentence of b can go without naming its subject behind that of a. */
static bool goes_on(const struct difference *a, const struct difference *b)
{
    return a->head && b->head == a->head && strncmp(a->text, b->text, a->head) == 0 &&
           (strcmp(a->subject, b->subject) == 0 || a->kind == DIFFERENCE_UNWIRED);
}

size_t comparison_line(const struct comparison *c, size_t i, struct str *out)
{
    const struct difference *first = &c->v[i];
    size_t n = 1;
    str_add(out, first->text);
    while (i + n < c->n && goes_on(first, &c->v[i + n]))
        str_addf(out, "; %s", c->v[i + n++].text + first->head);
    return n;
}

void comparison_clear(struct comparison *c)
{
    for (size_t i = 0; i < c->n; i++)
        mem_free(c->v[i].text);
    mem_free(c->v);
    mem_free(c->names);
    mem_free(c->routes);
    *c = (struct comparison){0};
}
