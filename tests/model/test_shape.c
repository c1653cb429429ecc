#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "model/shape.h"
#include "support/booth_from.h"
#include "support/records.h"

static const struct shape *const shapes[] = {
    &shape_booth,  &shape_venue, &shape_host,   &shape_device,  &shape_card,        &shape_usb,
    &shape_output, &shape_input, &shape_strip,  &shape_hub,     &shape_cable,       &shape_deck,
    &shape_found,  &shape_mark,  &shape_listen, &shape_minutes, &shape_combination,
};

enum { SHAPES = sizeof shapes / sizeof *shapes };

START_TEST(a_fresh_record_has_every_default_and_owns_nothing)
{
    const struct shape *s = shapes[_i];
    void *record = mem_new(1, s->size);
    record_init(s, record);
    for (size_t i = 0; i < s->n; i++) {
        const struct field *f = &s->fields[i];
        ck_assert_msg(f->kind == FIELD_RECORD || field_is_default(f, field_of(f, record)), "%s",
                      f->key);
    }
    mem_free(record); /* no record_clear(): a leak would show in the asan build */
}
END_TEST

START_TEST(keys_are_found_stand_once_and_fit_the_bits_of_what_was_seen)
{
    const struct shape *s = shapes[_i];
    ck_assert_uint_le(s->n, 8 * sizeof(((struct kept *)0)->seen));
    for (size_t i = 0; i < s->n; i++)
        ck_assert_ptr_eq(shape_field(s, s->fields[i].key), &s->fields[i]);
    ck_assert_ptr_null(shape_field(s, "no such key"));
}
END_TEST

START_TEST(fields_lie_side_by_side_and_none_in_another)
{
    const struct shape *s = shapes[_i];
    for (size_t i = 0; i < s->n; i++) {
        const struct field *a = &s->fields[i];
        ck_assert_uint_ge(a->offset, sizeof(struct kept));
        ck_assert_uint_le(a->offset + field_size(a), s->size);
        for (size_t k = 0; k < i; k++) {
            const struct field *b = &s->fields[k];
            bool apart = a->offset >= b->offset + field_size(b) ||
                         b->offset >= a->offset + field_size(a);
            ck_assert_msg(apart, "%s and %s", a->key, b->key);
        }
    }
}
END_TEST

START_TEST(a_copy_is_equal_and_lives_by_itself)
{
    for (unsigned seed = 0; seed < 300; seed++) {
        struct booth *b = booth_random(seed), *copy = booth_copy(b), *again = booth_copy(copy);
        ck_assert_msg(booth_equal(b, copy), "seed %u", seed);
        booth_free(b);
        ck_assert_msg(booth_equal(copy, again), "seed %u", seed);
        booth_free(copy);
        booth_free(again);
    }
}
END_TEST

/* --- every field counts in a comparison --------------------------------------------------------
 */

/* Makes a value something else than its default. */
static void disturb(const struct field *f, void *value)
{
    switch (f->kind) {
    case FIELD_TEXT:
        text_set(value, "other");
        break;
    case FIELD_ID:
    case FIELD_REF:
        strcpy(value, "other");
        break;
    case FIELD_PLUG:
        *(struct plug *)value = (struct plug){"host", 1};
        break;
    case FIELD_BOOL:
        *(bool *)value = !*(bool *)value;
        break;
    case FIELD_WORD:
    case FIELD_INT:
    case FIELD_MILLI:
        ++*(int *)value;
        break;
    case FIELD_PAIR:
        ((struct pair *)value)->right++;
        break;
    case FIELD_INTS:
    case FIELD_WORDS:
        ints_add(value, 1);
        break;
    case FIELD_TEXTS:
    case FIELD_REFS:
        texts_add(value, "other");
        break;
    case FIELD_MAP:
        map_set(value, "other", NULL);
        break;
    case FIELD_RECORD:
        disturb(&f->shape->fields[0], field_in(&f->shape->fields[0], value));
        break;
    case FIELD_OPTION: {
        void *record = mem_new(1, f->shape->size);
        record_init(f->shape, record);
        memcpy(value, &record, sizeof record);
        break;
    }
    case FIELD_RECORDS: {
        void *record = mem_new(1, f->shape->size);
        record_init(f->shape, record);
        records_splice(f, value, 0, 0, record, 1);
        mem_free(record);
        break;
    }
    }
}

START_TEST(two_records_that_differ_in_any_one_field_are_not_equal_and_clearing_undoes_it)
{
    const struct shape *s = shapes[_i];
    for (size_t i = 0; i < s->n; i++) {
        const struct field *f = &s->fields[i];
        void *a = mem_new(1, s->size), *b = mem_new(1, s->size), *copy = mem_new(1, s->size);
        record_init(s, a);
        record_init(s, b);
        disturb(f, field_in(f, b));
        record_copy(s, copy, b);
        ck_assert_msg(!record_equal(s, a, b), "%s", f->key);
        ck_assert_msg(record_equal(s, copy, b), "%s", f->key);
        field_clear(f, field_in(f, b));
        ck_assert_msg(record_equal(s, a, b), "%s", f->key);
        record_clear(s, copy);
        ck_assert_msg(record_equal(s, a, copy), "%s", f->key);
        mem_free(a);
        mem_free(b);
        mem_free(copy);
    }
}
END_TEST

START_TEST(what_is_kept_for_the_file_counts_too)
{
    struct booth *a = booth_from("p1.line > s1.line"), *b = booth_copy(a);
    struct kept *kept = &b->cables.v[0].kept;
    kept->json = mem_text("{\"shelf\":1}");
    ck_assert(!booth_equal(a, b));
    mem_free(kept->json);
    kept->json = NULL;
    ck_assert(booth_equal(a, b));
    booth_free(a);
    booth_free(b);
}
END_TEST

START_TEST(that_a_default_was_spelled_out_counts_only_while_it_is_the_default)
{
    struct booth *a = booth_from("p1.line > s1.line"), *b = booth_copy(a);
    b->cables.v[0].kept.seen = 1u << 2; /* the third field of a cable: its sides */
    ck_assert_str_eq(shape_cable.fields[2].key, "sides");
    ck_assert(!booth_equal(a, b));
    a->cables.v[0].sides = b->cables.v[0].sides = SIDES_SWAPPED;
    ck_assert(booth_equal(a, b));
    booth_free(a);
    booth_free(b);
}
END_TEST

START_TEST(a_mixer_must_have_strips_in_a_file_and_nothing_else_must)
{
    const struct field *strips = shape_field(&shape_device, "strips");
    struct device d;
    record_init(&shape_device, &d);
    for (int kind = KIND_PLAYER; kind <= KIND_CONTROLLER; kind++) {
        d.kind = (enum device_kind)kind;
        ck_assert(field_required(&shape_device, strips, &d) == (kind == KIND_MIXER));
    }
    ck_assert(field_required(&shape_device, shape_field(&shape_device, "label"), &d));
    ck_assert(!field_required(&shape_device, shape_field(&shape_device, "model"), &d));
}
END_TEST

/* --- lists -------------------------------------------------------------------------------------
 */

static void add_cable(struct cables *l, const char *from)
{
    struct cable c;
    record_init(&shape_cable, &c);
    strcpy(c.from, from);
    records_splice(shape_field(&shape_booth, "cables"), l, l->n, 0, &c, 1);
}

static void expect_cables(const struct cables *l, const char *letters)
{
    ck_assert_uint_eq(l->n, strlen(letters));
    for (size_t i = 0; i < l->n; i++)
        ck_assert_int_eq(l->v[i].from[0], letters[i]);
}

START_TEST(a_splice_takes_out_and_puts_in_at_its_place)
{
    const struct field *f = shape_field(&shape_booth, "cables");
    struct cables l = {0}, in = {0};
    for (const char *c = "abcde"; *c; c++)
        add_cable(&l, (char[]){*c, '\0'});
    add_cable(&in, "x");
    add_cable(&in, "y");
    records_splice(f, &l, 1, 2, in.v, 2);
    expect_cables(&l, "axyde");
    records_splice(f, &l, 5, 0, in.v, 1);
    expect_cables(&l, "axydex");
    records_splice(f, &l, 0, 1, NULL, 0);
    expect_cables(&l, "xydex");
    records_splice(f, &l, 0, 5, NULL, 0);
    expect_cables(&l, "");
    ck_assert_ptr_null(l.v);
    field_clear(f, &l);
    field_clear(f, &in);
}
END_TEST

START_TEST(texts_are_inserted_found_and_removed_by_place)
{
    const struct field *f = shape_field(&shape_booth, "joined");
    struct texts l = {0};
    texts_add(&l, "p2");
    texts_insert(&l, 0, "p1");
    texts_insert(&l, 2, "p3");
    ck_assert_int_eq(texts_find(&l, "p1"), 0);
    ck_assert_int_eq(texts_find(&l, "p3"), 2);
    texts_remove(&l, 0);
    ck_assert_int_eq(texts_find(&l, "p1"), -1);
    ck_assert_int_eq(texts_find(&l, "p2"), 0);
    field_clear(f, &l);
}
END_TEST

START_TEST(a_map_holds_a_name_once_in_the_order_in_which_it_came)
{
    struct map m = {0};
    map_set(&m, "b", "1");
    map_set(&m, "a", NULL);
    map_set(&m, "b", "2");
    ck_assert_uint_eq(m.n, 2);
    ck_assert_str_eq(m.v[0].key, "b");
    ck_assert_str_eq(map_find(&m, "b")->value, "2");
    ck_assert_ptr_null(map_find(&m, "a")->value);
    map_remove(&m, "b");
    map_remove(&m, "no such name");
    ck_assert_uint_eq(m.n, 1);
    ck_assert_ptr_null(map_find(&m, "b"));
    field_clear(shape_field(&shape_booth, "checklist"), &m);
}
END_TEST

START_TEST(a_text_may_be_set_to_a_part_of_itself_and_the_empty_text_is_none)
{
    char *text = NULL;
    text_set(&text, "plover 3");
    text_set(&text, text + 7);
    ck_assert_str_eq(text, "3");
    text_set(&text, "");
    ck_assert_ptr_null(text);
    text_set(&text, NULL);
    ck_assert_ptr_null(text);
}
END_TEST

static const struct {
    const char *text, *at;
    int port; /* -1: not a plug */
} plugs[] = {
    {"host.1", "host", 1},
    {"hub1.12", "hub1", 12},
    {"built-in", "built-in", 0},
    {"host.0", "host", 0},
    {"host", "", -1},
    {"host.", "", -1},
    {".1", "", -1},
    {"host.x", "", -1},
    {"host.1.2", "", -1},
    {"host.-1", "", -1},
    {"HOST.1", "", -1},
    {"host.999999999", "host", 999999999},
    {"host.1000000000", "", -1},
};

START_TEST(a_plug_is_read_from_a_text_and_gives_it_back)
{
    struct plug p = {0};
    char text[REF_SIZE];
    bool read = plug_read(plugs[_i].text, &p);
    ck_assert(read == (plugs[_i].port >= 0));
    if (!read)
        return;
    ck_assert_str_eq(p.at, plugs[_i].at);
    ck_assert_int_eq(p.port, plugs[_i].port);
    plug_text(&p, text);
    if (p.port > 0 || strcmp(p.at, "built-in") == 0)
        ck_assert_str_eq(text, plugs[_i].text);
}
END_TEST

Suite *test_shape(void)
{
    Suite *s = suite_create("model/shape");
    TCase *t = tcase_create("shape");
    tcase_set_timeout(t, 60);
    tcase_add_loop_test(t, a_fresh_record_has_every_default_and_owns_nothing, 0, SHAPES);
    tcase_add_loop_test(t, keys_are_found_stand_once_and_fit_the_bits_of_what_was_seen, 0, SHAPES);
    tcase_add_loop_test(t, fields_lie_side_by_side_and_none_in_another, 0, SHAPES);
    tcase_add_loop_test(
        t, two_records_that_differ_in_any_one_field_are_not_equal_and_clearing_undoes_it, 0,
        SHAPES);
    tcase_add_test(t, a_copy_is_equal_and_lives_by_itself);
    tcase_add_test(t, what_is_kept_for_the_file_counts_too);
    tcase_add_test(t, that_a_default_was_spelled_out_counts_only_while_it_is_the_default);
    tcase_add_test(t, a_mixer_must_have_strips_in_a_file_and_nothing_else_must);
    tcase_add_test(t, a_splice_takes_out_and_puts_in_at_its_place);
    tcase_add_test(t, texts_are_inserted_found_and_removed_by_place);
    tcase_add_test(t, a_map_holds_a_name_once_in_the_order_in_which_it_came);
    tcase_add_test(t, a_text_may_be_set_to_a_part_of_itself_and_the_empty_text_is_none);
    tcase_add_loop_test(t, a_plug_is_read_from_a_text_and_gives_it_back, 0,
                        (int)(sizeof plugs / sizeof *plugs));
    suite_add_tcase(s, t);
    return s;
}
