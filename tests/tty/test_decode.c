/* Bytes become events, at times that the tests choose. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "base/utf8.h"
#include "term/decode.h"

static struct decode *decode;
static struct str told;

static void begin(void)
{
    decode = decode_new(25);
}

static void end(void)
{
    decode_free(decode);
    str_clear(&told);
}

static void tell(const struct event *ev)
{
    static const char *const names[] = {"none", "key", "press", "move", "lift", "wheel", "resize"};
    if (ev->kind == EVENT_PASTE)
        str_addf(&told, "paste[%s] ", ev->text);
    else if (ev->kind == EVENT_KEY && ev->key > ' ' && ev->key < 127)
        str_addf(&told, "%c ", ev->key);
    else if (ev->kind == EVENT_KEY)
        str_addf(&told, "<%x> ", (unsigned)ev->key);
    else if (ev->kind == EVENT_WHEEL)
        str_addf(&told, "wheel%+d at %d,%d ", ev->key, ev->column, ev->row);
    else
        str_addf(&told, "%s%d at %d,%d ", names[ev->kind], ev->button, ev->column, ev->row);
}

static void drain(void)
{
    struct event ev;
    while (decode_next(decode, &ev))
        tell(&ev);
}

/* Hands in bytes at a time; what they gave is added to what was told. */
static void feedn(const char *bytes, size_t n, long long now)
{
    decode_feed(decode, bytes, n, now);
    drain();
}

static void feed(const char *bytes, long long now)
{
    feedn(bytes, strlen(bytes), now);
}

/* Lets time pass as the terminal does: whenever the decoder asks for it. */
static void pass_until(long long now)
{
    struct event ev;
    for (long long due; (due = decode_due(decode)) > 0 && due <= now;) {
        if (decode_expire(decode, due, &ev))
            tell(&ev);
        drain();
    }
}

static const struct {
    const char *bytes, *told;
} sequences[] = {
    {"a", "a "},
    {"\r", "<d> "},
    {"\t", "<9> "},
    {"\x08", "<7f> "},
    {"\x7f", "<7f> "},
    {"\x1a", "<1a> "},
    {"\x1c\x1f", ""},
    {"\xe6\xbc\xa2", "<6f22> "},
    {"\xc3(", "( "},
    {"\xff\xc0\x80z", "z "},
    {"\xc2\x9bz", "z "},
    {"\033[A", "<110000> "},
    {"\033OA", "<110000> "},
    {"\033[1;2A", "<110004> "},
    {"\033[1;5A", "<110000> "},
    {"\033[1;6D", "<110006> "},
    {"\033[Z", "<11000e> "},
    {"\033[1~\033[4~\033[7~\033[8~", "<110008> <110009> <110008> <110009> "},
    {"\033[H\033[F\033OH\033OF", "<110008> <110009> <110008> <110009> "},
    {"\033[2~\033[3~\033[5~\033[6~", "<11000c> <11000d> <11000a> <11000b> "},
    {"\033OP\033[11~\033[[A\033[1;2P", "<11000f> <11000f> <11000f> <11000f> "},
    {"\033[24~", "<11001a> "},
    {"\033Oj\033Op\033OM", "* 0 <d> "},
    {"\033x", "<1b> x "},
    {"\033\033[A", "<1b> <110000> "},
    {"\033OX", "<1b> O X "},
    {"\033[?1;2c\033[I\033[99~z", "z "},
    {"\033[1;\033[A", "<110000> "},
    {"\033[\x01z", "<1> z "},
    {"\033[<0;1;1M", "press1 at 0,0 "},
    {"\033[<2;260;90M", "press3 at 259,89 "},
    {"\033[<0;1;1M\033[<32;3;4M\033[<0;3;4m", "press1 at 0,0 move1 at 2,3 lift1 at 2,3 "},
    {"\033[<28;5;5M", "press1 at 4,4 "},
    {"\033[<64;2;2M\033[<65;2;2M", "wheel-1 at 1,1 wheel+1 at 1,1 "},
    {"\033[<66;2;2M\033[<67;2;2M\033[<128;2;2M", ""},
    {"\033[<0;0;0M", "press1 at 0,0 "},
    {"\033[<0;1M\033[<0;1;1;1M\033[<M", ""},
    {"\033[<35;4;4M", ""},
    {"\033[<0;1;1M\033[<35;4;4M\033[<35;5;5M", "press1 at 0,0 lift1 at 3,3 "},
    {"\033[M !!\033[M@\"#\033[M###", "press1 at 0,0 move1 at 1,2 lift1 at 2,2 "},
    {"\033[M`!!\033[Ma!!", "wheel-1 at 0,0 wheel+1 at 0,0 "},
    {"\033[M\001\002\003", "<1> <2> <3> "},
};
enum { SEQUENCES = sizeof sequences / sizeof *sequences };

START_TEST(a_sequence_means_one_thing_however_it_is_cut)
{
    const char *bytes = sequences[_i].bytes;
    size_t n = strlen(bytes);
    for (size_t cut = 0; cut < n; cut++) {
        begin();
        feedn(bytes, cut, 1000);
        feedn(bytes + cut, n - cut, 1010);
        ck_assert_str_eq(str_text(&told), sequences[_i].told);
        ck_assert_int_eq(decode_due(decode), -1);
        end();
    }
}
END_TEST

START_TEST(an_esc_alone_is_a_key_after_a_while)
{
    feed("\033", 1000);
    ck_assert_int_eq(decode_due(decode), 1025);
    pass_until(1024);
    ck_assert_str_eq(str_text(&told), "");
    pass_until(1025);
    ck_assert_str_eq(str_text(&told), "<1b> ");
    ck_assert_int_eq(decode_due(decode), -1);
}
END_TEST

START_TEST(the_late_rest_of_a_sequence_is_not_taken_for_letters)
{
    static const char *const rests[] = {"[A", "OA", "[<0;12;9M", "[1;2A"};
    static const char *const means[] = {"<110000> ", "<110000> ", "press1 at 11,8 ", "<110004> "};
    feed("\033", 1000);
    pass_until(1100);
    str_cut(&told, 0);
    feed(rests[_i], 1150);
    feed("x", 1160);
    char expected[64];
    snprintf(expected, sizeof expected, "%sx ", means[_i]);
    ck_assert_str_eq(str_text(&told), expected);
}
END_TEST

START_TEST(long_after_an_esc_a_bracket_is_a_bracket)
{
    feed("\033", 1000);
    pass_until(1100);
    feed("[A", 2000);
    ck_assert_str_eq(str_text(&told), "<1b> [ A ");
}
END_TEST

START_TEST(a_key_in_between_means_that_nothing_is_late)
{
    feed("\033", 1000);
    pass_until(1100);
    feed("x", 1110);
    feed("[A", 1120);
    ck_assert_str_eq(str_text(&told), "<1b> x [ A ");
}
END_TEST

START_TEST(an_esc_then_a_bracket_by_hand_are_two_keys)
{
    feed("\033", 1000);
    pass_until(1100);
    feed("[", 1150);
    pass_until(2000);
    feed("O", 2100);
    ck_assert_str_eq(str_text(&told), "<1b> [ O ");
}
END_TEST

START_TEST(half_a_sequence_is_dropped_in_time)
{
    feed("\033[<0;1", 1000);
    pass_until(1199);
    ck_assert_int_eq(decode_due(decode), 1200);
    pass_until(1200);
    feed("q", 1300);
    ck_assert_str_eq(str_text(&told), "q ");
}
END_TEST

START_TEST(half_a_character_is_dropped_in_time)
{
    feed("\xe6\xbc", 1000);
    pass_until(1300);
    feed("q", 1300);
    ck_assert_str_eq(str_text(&told), "q ");
}
END_TEST

START_TEST(a_sequence_without_an_end_is_given_up)
{
    char endless[200] = "\033[";
    memset(endless + 2, '1', sizeof endless - 3);
    feed(endless, 1000);
    pass_until(5000);
    feed("q", 6000);
    size_t n = strlen(str_text(&told));
    ck_assert(n >= 2 && strcmp(str_text(&told) + n - 2, "q ") == 0);
}
END_TEST

START_TEST(a_paste_is_one_event_without_controls)
{
    feed("\033[200~one\ttwo\r\nthree\nfour\rq\x01\033[A\xc2\x9b\xff\xc3\xa9\033[201~x", 1000);
    ck_assert_str_eq(str_text(&told), "paste[one two three four q[A\xc3\xa9] x ");
}
END_TEST

START_TEST(a_paste_may_be_cut_anywhere)
{
    static const char bytes[] = "\033[200~a\033[20b\033[201~c";
    for (size_t cut = 0; cut < sizeof bytes - 1; cut++) {
        str_cut(&told, 0);
        feedn(bytes, cut, 1000);
        feedn(bytes + cut, sizeof bytes - 1 - cut, 1001);
        ck_assert_str_eq(str_text(&told), "paste[a[20b] c ");
    }
}
END_TEST

START_TEST(a_paste_without_an_end_ends_after_a_pause)
{
    feed("\033[200~abc\033[20", 1000);
    pass_until(2999);
    ck_assert_str_eq(str_text(&told), "");
    pass_until(3000);
    feed("q", 3001);
    ck_assert_str_eq(str_text(&told), "paste[abc] q ");
}
END_TEST

START_TEST(a_huge_paste_is_cut_at_its_bound)
{
    char chunk[DECODE_CHUNK];
    memset(chunk, 'a', sizeof chunk);
    feed("\033[200~", 1000);
    for (int i = 0; i < 40; i++)
        feedn(chunk, sizeof chunk, 1000 + i);
    feed("\033[201~q", 2000);
    ck_assert_uint_eq(told.len, strlen("paste[") + DECODE_PASTE + strlen("] q "));
}
END_TEST

START_TEST(a_paste_cut_inside_a_character_stays_whole)
{
    feed("\033[200~", 1000);
    for (int i = 0; i < DECODE_PASTE / 4; i++)
        feed(i ? "\xe6\xbc\xa2" : "a\xe6\xbc\xa2", 1000);
    for (int i = 0; i < DECODE_PASTE / 8; i++)
        feed("\xe6\xbc\xa2", 1000);
    feed("\033[201~", 2000);
    ck_assert_uint_eq(utf8_valid(told.text, told.len), told.len);
}
END_TEST

START_TEST(a_taught_sequence_is_a_key)
{
    decode_learn(decode, "\033[25^", K_DELETE);
    decode_learn(decode, "\033[M", K_F1); /* would shadow the mouse */
    decode_learn(decode, "\033[<", K_F1);
    decode_learn(decode, "x", K_F1);
    decode_learn(decode, "", K_F1);
    decode_learn(decode, NULL, K_F1);
    decode_learn(decode, "\033", K_F1);
    decode_learn(decode, "\033[123456789012345678", K_F1);
    feed("\033[25^x\033[M !!", 1000);
    ck_assert_str_eq(str_text(&told), "<11000d> x press1 at 0,0 ");
}
END_TEST

START_TEST(more_sequences_than_fit_are_let_go)
{
    char sequence[16];
    for (int i = 0; i < 100; i++) {
        snprintf(sequence, sizeof sequence, "\033]%02d", i);
        decode_learn(decode, sequence, K_F1);
    }
    feed("\033]00\033[A", 1000);
    ck_assert_str_eq(str_text(&told), "<11000f> <110000> ");
}
END_TEST

/* Any bytes, in any pieces, with any pauses: it never gets stuck, and every event is sound. */
START_TEST(random_bytes_never_stick)
{
    static const char *const tokens[] = {"\033",      "\033[",     "\033[<0;", "\033[M",
                                         "\033[200~", "\033[201~", "\xe6\xbc", "1;2A"};
    unsigned seed = (unsigned)_i + 1;
    srand(seed);
    long long now = 1000;
    for (int i = 0; i < 4000; i++) {
        char bytes[64];
        size_t n = (size_t)rand() % 20;
        for (size_t k = 0; k < n; k++)
            bytes[k] = (char)rand();
        if (rand() % 2)
            n = (size_t)snprintf(bytes, sizeof bytes, "%s", tokens[rand() % 8]);
        feedn(bytes, n, now);
        now += rand() % 300;
        pass_until(now);
        str_cut(&told, 0);
    }
    pass_until(now + 10000);
    str_cut(&told, 0);
    feed("q", now + 20000);
    ck_assert_msg(strcmp(str_text(&told), "q ") == 0, "seed %u: %s", seed, str_text(&told));
    ck_assert_int_eq(decode_due(decode), -1);
}
END_TEST

Suite *test_decode(void)
{
    Suite *s = suite_create("tty/decode");
    TCase *cuts = tcase_create("cuts");
    tcase_add_loop_test(cuts, a_sequence_means_one_thing_however_it_is_cut, 0, SEQUENCES);
    suite_add_tcase(s, cuts);
    TCase *t = tcase_create("decode");
    tcase_add_checked_fixture(t, begin, end);
    tcase_add_test(t, an_esc_alone_is_a_key_after_a_while);
    tcase_add_loop_test(t, the_late_rest_of_a_sequence_is_not_taken_for_letters, 0, 4);
    tcase_add_test(t, long_after_an_esc_a_bracket_is_a_bracket);
    tcase_add_test(t, a_key_in_between_means_that_nothing_is_late);
    tcase_add_test(t, an_esc_then_a_bracket_by_hand_are_two_keys);
    tcase_add_test(t, half_a_sequence_is_dropped_in_time);
    tcase_add_test(t, half_a_character_is_dropped_in_time);
    tcase_add_test(t, a_sequence_without_an_end_is_given_up);
    tcase_add_test(t, a_paste_is_one_event_without_controls);
    tcase_add_test(t, a_paste_may_be_cut_anywhere);
    tcase_add_test(t, a_paste_without_an_end_ends_after_a_pause);
    tcase_add_test(t, a_huge_paste_is_cut_at_its_bound);
    tcase_add_test(t, a_paste_cut_inside_a_character_stays_whole);
    tcase_add_test(t, a_taught_sequence_is_a_key);
    tcase_add_test(t, more_sequences_than_fit_are_let_go);
    tcase_add_loop_test(t, random_bytes_never_stick, 0, 10);
    suite_add_tcase(s, t);
    return s;
}
