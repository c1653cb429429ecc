#include <check.h>

#include "ui/prompt.h"

static enum prompt_said key(struct prompt *p, int k)
{
    return prompt_event(p, &(struct event){.kind = EVENT_KEY, .key = k});
}

START_TEST(typing_goes_in_at_the_cursor_by_whole_characters)
{
    struct prompt p = {0};
    prompt_start(&p, "ab", 0);
    key(&p, 0xe9);
    ck_assert_str_eq(str_text(&p.text), "ab\xc3\xa9");
    key(&p, K_LEFT);
    key(&p, K_LEFT);
    key(&p, 'x');
    ck_assert_str_eq(str_text(&p.text), "axb\xc3\xa9");
    key(&p, K_END);
    key(&p, K_BACKSPACE);
    ck_assert_str_eq(str_text(&p.text), "axb");
    key(&p, K_HOME);
    key(&p, K_DELETE);
    ck_assert_str_eq(str_text(&p.text), "xb");
    prompt_clear(&p);
}
END_TEST

START_TEST(what_does_not_fit_is_not_taken_in_and_no_character_is_cut)
{
    struct prompt p = {0};
    prompt_start(&p, "abc", 4);
    key(&p, 0xe9);
    ck_assert_str_eq(str_text(&p.text), "abc");
    key(&p, 'd');
    key(&p, 'e');
    ck_assert_str_eq(str_text(&p.text), "abcd");
    prompt_clear(&p);
}
END_TEST

START_TEST(a_paste_is_text_and_never_a_key)
{
    struct prompt p = {0};
    prompt_start(&p, NULL, 0);
    ck_assert_int_eq(
        prompt_event(&p, &(struct event){.kind = EVENT_PASTE, .text = "a\r\nb\x1b[31m\xff"}),
        PROMPT_GOES_ON);
    ck_assert_str_eq(str_text(&p.text), "a  b[31m");
    ck_assert_int_eq(key(&p, K_ENTER), PROMPT_DONE);
    ck_assert_int_eq(key(&p, K_ESC), PROMPT_CANCELLED);
    ck_assert_int_eq(key(&p, K_UP), PROMPT_IGNORED);
    prompt_clear(&p);
}
END_TEST

START_TEST(an_offered_text_is_replaced_by_what_is_typed_but_can_be_kept)
{
    struct prompt p = {0};
    prompt_offer(&p, "somebody", 0);
    key(&p, 0xe9);
    key(&p, 'd');
    ck_assert_str_eq(str_text(&p.text), "\xc3\xa9"
                                        "d");
    prompt_offer(&p, "somebody", 0);
    key(&p, K_BACKSPACE);
    ck_assert_str_eq(str_text(&p.text), "");
    prompt_offer(&p, "somebody", 0);
    prompt_event(&p, &(struct event){.kind = EVENT_PASTE, .text = "Ed"});
    ck_assert_str_eq(str_text(&p.text), "Ed");
    prompt_offer(&p, "some", 0);
    key(&p, K_END);
    key(&p, '!');
    ck_assert_str_eq(str_text(&p.text), "some!");
    prompt_offer(&p, "some", 0);
    ck_assert_int_eq(key(&p, K_ENTER), PROMPT_DONE);
    ck_assert_str_eq(str_text(&p.text), "some");
    prompt_clear(&p);
}
END_TEST

Suite *test_prompt(void)
{
    Suite *s = suite_create("ui/prompt");
    TCase *t = tcase_create("prompt");
    tcase_add_test(t, typing_goes_in_at_the_cursor_by_whole_characters);
    tcase_add_test(t, what_does_not_fit_is_not_taken_in_and_no_character_is_cut);
    tcase_add_test(t, a_paste_is_text_and_never_a_key);
    tcase_add_test(t, an_offered_text_is_replaced_by_what_is_typed_but_can_be_kept);
    suite_add_tcase(s, t);
    return s;
}
