/* Several processes on one file at once: two that save, one that reads. */
#include <check.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "file/disk.h"
#include "file/save.h"
#include "support/scratch_file.h"

enum { ROUNDS = 100, SIZE = 20000, NAMES = 26 };

/* The file is n times one letter: so a mixture shows. */
static bool is_whole(const struct str *bytes)
{
    char *same = scratch_text(*str_text(bytes), bytes->len);
    bool whole = bytes->len == SIZE && strcmp(str_text(bytes), same) == 0;
    mem_free(same);
    return whole;
}

static struct stamp put(char letter)
{
    char *text = scratch_text(letter, SIZE);
    scratch_put("a.json", text);
    struct stamp seen = stamp_of(text, SIZE);
    mem_free(text);
    return seen;
}

/* Waits for the start, saves once, and ends with the code of the error. */
static void save_and_exit(int start, char letter, const struct stamp *seen)
{
    char byte, *text = scratch_text(letter, SIZE);
    struct err e = {0};
    if (read(start, &byte, 1) < 0)
        _exit(9);
    enum saved end = save_file(scratch("a.json"), text, SIZE, seen, &e);
    _exit(end == SAVED_NOT ? (int)e.code : 0);
}

static int status_of(pid_t child)
{
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFEXITED(status));
    return WEXITSTATUS(status);
}

/* Lets two processes save at once over the file that both saw; exactly one must have done so, and
 * its letter is in the file. */
static void race(const struct stamp *seen)
{
    int start[2];
    pid_t child[2];
    ck_assert_int_eq(pipe(start), 0);
    for (int i = 0; i < 2; i++) {
        child[i] = fork();
        if (child[i] == 0) {
            close(start[1]);
            save_and_exit(start[0], (char)('x' + i), seen);
        }
    }
    close(start[0]);
    close(start[1]); /* the end of the pipe lets both go at once */
    int first = status_of(child[0]), second = status_of(child[1]);
    ck_assert_msg((first == 0 && second == ERR_CHANGED) || (first == ERR_CHANGED && second == 0),
                  "%d and %d", first, second);
    char *winner = scratch_text(first == 0 ? 'x' : 'y', SIZE);
    ck_assert(scratch_holds("a.json", winner));
    mem_free(winner);
}

START_TEST(of_two_who_save_at_once_exactly_one_does)
{
    for (int round = 0; round < ROUNDS; round++) {
        struct stamp seen = put('o');
        race(&seen);
    }
}
END_TEST

START_TEST(of_two_who_make_a_file_at_once_exactly_one_does)
{
    const struct stamp none = {0};
    for (int round = 0; round < ROUNDS; round++) {
        unlink(scratch("a.json"));
        race(&none);
    }
}
END_TEST

static void save_many_and_exit(void)
{
    struct err e;
    for (int round = 0; round < ROUNDS; round++) {
        char *text = scratch_text((char)('a' + round % NAMES), SIZE);
        if (save_file(scratch("a.json"), text, SIZE, NULL, &e) != SAVED)
            _exit(1);
        mem_free(text);
    }
    _exit(0);
}

START_TEST(who_reads_while_another_saves_sees_a_whole_file)
{
    struct str bytes = {0};
    struct stamp seen;
    struct err e;
    int status;
    put('o');
    pid_t child = fork();
    if (child == 0)
        save_many_and_exit();
    do {
        ck_assert_msg(disk_read(scratch("a.json"), &bytes, &seen, &e), "%s", e.says);
        ck_assert(is_whole(&bytes));
    } while (waitpid(child, &status, WNOHANG) == 0);
    ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
    str_clear(&bytes);
}
END_TEST

Suite *test_save_races(void)
{
    Suite *s = suite_create("file/save, races");
    TCase *t = tcase_create("races");
    tcase_set_timeout(t, 60);
    tcase_add_checked_fixture(t, scratch_make, scratch_remove);
    tcase_add_test(t, of_two_who_save_at_once_exactly_one_does);
    tcase_add_test(t, of_two_who_make_a_file_at_once_exactly_one_does);
    tcase_add_test(t, who_reads_while_another_saves_sees_a_whole_file);
    suite_add_tcase(s, t);
    return s;
}
