#include <check.h>
#include <string.h>

#include "support/booth_from.h"
#include "ui/form.h"

static void keys(struct form *f, const char *text)
{
    for (; *text; text++)
        form_event(f, &(struct event){.kind = EVENT_KEY, .key = *text == '\n' ? K_ENTER : *text});
}

/* Puts the cursor on the row of a field. */
static void go_to(struct form *f, const char *key)
{
    for (f->cursor = 0; f->cursor < (int)f->n; f->cursor++)
        if (strcmp(f->rows[f->cursor].field->key, key) == 0)
            return;
    ck_abort_msg("the form has no %s", key);
}

START_TEST(a_number_out_of_range_is_refused_and_what_was_typed_stays)
{
    struct booth *b = booth_from("joined p1");
    struct form *f = form_new(b, "p1");
    go_to(f, "place");
    keys(f, "7777\n");
    ck_assert(f->typing);
    ck_assert_str_eq(str_text(&f->prompt.text), "7777");
    ck_assert(f->complaint && strstr(f->complaint, "1 to 999"));
    ck_assert_int_eq(booth_device(f->booth, "p1")->place, 1);
    form_free(f);
    booth_free(b);
}
END_TEST

START_TEST(typing_over_a_value_replaces_it)
{
    struct booth *b = booth_from("joined p1");
    struct form *f = form_new(b, "p1");
    go_to(f, "place");
    keys(f, "42\n");
    ck_assert_int_eq(booth_device(f->booth, "p1")->place, 42);
    go_to(f, "label");
    keys(f, "Left\n");
    ck_assert_str_eq(booth_device(f->booth, "p1")->label, "Left");
    form_free(f);
    booth_free(b);
}
END_TEST

START_TEST(a_choice_turns_through_its_words_and_an_unsound_one_is_put_back)
{
    struct booth *b = booth_from("joined p1; p1.line > s1.line");
    struct form *f = form_new(b, "p1");
    go_to(f, "source");
    keys(f, " ");
    ck_assert_int_eq(booth_device(f->booth, "p1")->source, SOURCE_OWN_MEDIA);
    go_to(f, "card"); /* it is joined: without a card it could not be */
    keys(f, " ");
    ck_assert(booth_device(f->booth, "p1")->card != NULL);
    ck_assert(f->complaint && strstr(f->complaint, "card"));
    form_free(f);
    booth_free(b);
}
END_TEST

START_TEST(a_reference_turns_through_what_the_booth_has)
{
    struct booth *b = booth_from("p1.line > s1.line; p1.line > s2.line; h1 wants s1");
    struct form *f = form_new(b, "h1");
    go_to(f, "wants");
    keys(f, " ");
    ck_assert_str_eq(booth_deck(f->booth, "h1")->wants, "s2");
    keys(f, " ");
    ck_assert_str_eq(booth_deck(f->booth, "h1")->wants, "");
    form_free(f);
    booth_free(b);
}
END_TEST

START_TEST(a_pair_is_read_as_the_host_counts)
{
    struct booth *b = booth_from("joined p1; h1 wants s1; host names from-1");
    struct form *f = form_new(b, "h1");
    go_to(f, "set_to");
    keys(f, "3/4\n");
    ck_assert_int_eq(booth_deck(f->booth, "h1")->set_to.left, 2);
    ck_assert_int_eq(booth_deck(f->booth, "h1")->set_to.right, 3);
    keys(f, "\n");
    for (int i = 0; i < 3; i++)
        form_event(f, &(struct event){.kind = EVENT_KEY, .key = K_BACKSPACE});
    keys(f, "\n");
    ck_assert_int_eq(booth_deck(f->booth, "h1")->set_to.left, -1);
    form_free(f);
    booth_free(b);
}
END_TEST

START_TEST(every_thing_has_a_form_and_nothing_else_has)
{
    struct booth *b = booth_from("p1.line > s1.line; hub hub1 4; h1 wants s1");
    const char *things[] = {"p1", "s1", "h1", "hub1", "p1.line", "s1.line", "host", "venue"};
    for (size_t i = 0; i < sizeof things / sizeof *things; i++) {
        struct form *f = form_new(b, things[i]);
        ck_assert_msg(f && f->n > 0, "%s", things[i]);
        form_free(f);
    }
    ck_assert_ptr_null(form_new(b, "p9"));
    booth_free(b);
}
END_TEST

Suite *test_form(void)
{
    Suite *s = suite_create("ui/form");
    TCase *t = tcase_create("form");
    tcase_add_test(t, a_number_out_of_range_is_refused_and_what_was_typed_stays);
    tcase_add_test(t, typing_over_a_value_replaces_it);
    tcase_add_test(t, a_choice_turns_through_its_words_and_an_unsound_one_is_put_back);
    tcase_add_test(t, a_reference_turns_through_what_the_booth_has);
    tcase_add_test(t, a_pair_is_read_as_the_host_counts);
    tcase_add_test(t, every_thing_has_a_form_and_nothing_else_has);
    suite_add_tcase(s, t);
    return s;
}
