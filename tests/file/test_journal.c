#include <check.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "file/disk.h"
#include "file/journal.h"
#include "file/record.h"
#include "support/scratch_file.h"

static struct err e;
static const struct stamp at_dawn = {true, 4, 0xda}, at_dusk = {true, 4, 0xd5};

#define JOURNAL ".a.json.journal"

static struct journal *open_at(const struct stamp *seen)
{
    struct journal *j = journal_open(scratch("a.json"), seen, &e);
    ck_assert_msg(j != NULL, "%s %s", e.place, e.says);
    return j;
}

static void add(struct journal *j, const char *line)
{
    ck_assert_msg(journal_add(j, line, &e), "%s", e.says);
}

/* The found lines as one text, "one two", and how they fit. */
static const char *found(const struct journal *j, enum journal_fit fit)
{
    static struct str text;
    const struct journal_left *left = journal_left(j);
    ck_assert_int_eq(left->fit, fit);
    str_cut(&text, 0);
    for (size_t i = 0; i < left->count; i++)
        str_addf(&text, "%s%s", i ? " " : "", left->lines[i]);
    return str_text(&text);
}

/* Leaves a journal from dawn with the edits "one" and "two", from an editor that is dead. */
static void leave_two(void)
{
    int status;
    pid_t child = fork();
    if (child == 0) {
        struct journal *j = journal_open(scratch("a.json"), &at_dawn, &e);
        _exit(j && journal_add(j, "one", &e) && journal_add(j, "two", &e) ? 0 : 1);
    }
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFEXITED(status) && WEXITSTATUS(status) == 0);
}

static void append_raw(const char *bytes, size_t n)
{
    FILE *f = fopen(scratch(JOURNAL), "ab");
    ck_assert_ptr_nonnull(f);
    ck_assert_uint_eq(fwrite(bytes, 1, n, f), n);
    fclose(f);
}

/* --- what is left --------------------------------------------------------------------------- */

START_TEST(a_journal_is_private_and_gone_after_its_close)
{
    struct journal *j = open_at(&at_dawn);
    ck_assert_str_eq(found(j, JOURNAL_CLEAN), "");
    ck_assert_uint_eq(scratch_mode(JOURNAL), 0600);
    add(j, "one");
    journal_close(j, false);
    ck_assert_int_eq(scratch_count(), 0);
}
END_TEST

START_TEST(the_work_of_a_dead_editor_is_found_and_can_be_taken)
{
    leave_two();
    struct journal *j = open_at(&at_dawn);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "one two");
    ck_assert(journal_left(j)->lost == 0 && journal_left(j)->when > 0);
    ck_assert(journal_take(j, &e));
    add(j, "three");
    journal_close(j, true);
    j = open_at(&at_dawn);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "one two three");
    journal_close(j, false);
}
END_TEST

START_TEST(undecided_work_stays)
{
    leave_two();
    journal_close(open_at(&at_dawn), true);
    struct journal *j = open_at(&at_dawn);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "one two");
    journal_close(j, false);
}
END_TEST

START_TEST(discarded_work_is_gone)
{
    leave_two();
    struct journal *j = open_at(&at_dawn);
    ck_assert(journal_discard(j, &e));
    add(j, "three");
    journal_close(j, true);
    j = open_at(&at_dawn);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "three");
    journal_close(j, false);
}
END_TEST

START_TEST(work_on_another_state_of_the_file_is_shown_as_stale)
{
    leave_two();
    struct journal *j = open_at(&at_dusk);
    ck_assert_str_eq(found(j, JOURNAL_STALE), "one two");
    ck_assert(journal_discard(j, &e));
    add(j, "three");
    journal_close(j, true);
    j = open_at(&at_dusk);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "three");
    journal_close(j, false);
}
END_TEST

START_TEST(the_journal_of_another_file_is_stale)
{
    leave_two();
    ck_assert_int_eq(rename(scratch(JOURNAL), scratch(".b.json.journal")), 0);
    struct journal *j = journal_open(scratch("b.json"), &at_dawn, &e);
    ck_assert_str_eq(found(j, JOURNAL_STALE), "one two");
    journal_close(j, false);
}
END_TEST

START_TEST(a_dead_editor_that_changed_nothing_leaves_nothing)
{
    journal_close(open_at(&at_dawn), true);
    struct journal *j = open_at(&at_dusk);
    ck_assert_str_eq(found(j, JOURNAL_CLEAN), "");
    journal_close(j, false);
}
END_TEST

START_TEST(a_durable_save_begins_the_journal_anew)
{
    struct journal *j = open_at(&at_dawn);
    add(j, "one");
    ck_assert(journal_saved(j, &at_dusk, true, &e));
    add(j, "two");
    journal_close(j, true);
    j = open_at(&at_dusk);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "two");
    journal_close(j, true);
    j = open_at(&at_dawn);
    ck_assert_str_eq(found(j, JOURNAL_STALE), "two");
    journal_close(j, false);
}
END_TEST

START_TEST(after_an_unsure_save_the_journal_fits_the_old_file_and_the_new)
{
    struct journal *j = open_at(&at_dawn);
    add(j, "one");
    ck_assert(journal_saved(j, &at_dusk, false, &e));
    add(j, "two");
    journal_close(j, true);
    j = open_at(&at_dusk);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "two");
    journal_close(j, true);
    j = open_at(&at_dawn);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "one two");
    journal_close(j, false);
}
END_TEST

START_TEST(a_new_file_and_a_name_with_a_newline_have_journals_too)
{
    const struct stamp none = {0};
    const char *path = scratch("odd\n%name.json");
    struct journal *j = journal_open(path, &none, &e);
    ck_assert_ptr_nonnull(j);
    add(j, "one");
    journal_close(j, true);
    j = journal_open(path, &none, &e);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "one");
    journal_close(j, false);
    ck_assert_int_eq(scratch_count(), 0);
}
END_TEST

START_TEST(two_names_of_one_file_have_one_journal)
{
    ck_assert_int_eq(symlink("a.json", scratch("b.json")), 0);
    leave_two();
    struct journal *j = journal_open(scratch("b.json"), &at_dawn, &e);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "one two");
    journal_close(j, false);
}
END_TEST

/* --- damage --------------------------------------------------------------------------------- */

START_TEST(a_torn_end_is_told_and_cut_off_when_the_work_is_taken)
{
    leave_two();
    append_raw("cbf43926 0000", 13);
    struct journal *j = open_at(&at_dawn);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "one two");
    ck_assert_uint_eq(journal_left(j)->lost, 13);
    ck_assert(journal_take(j, &e));
    add(j, "three");
    journal_close(j, true);
    j = open_at(&at_dawn);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "one two three");
    ck_assert_uint_eq(journal_left(j)->lost, 0);
    journal_close(j, false);
}
END_TEST

START_TEST(a_journal_of_zeros_is_told_and_can_be_discarded)
{
    char zeros[500] = {0};
    append_raw(zeros, sizeof zeros);
    struct journal *j = open_at(&at_dawn);
    ck_assert_str_eq(found(j, JOURNAL_STALE), "");
    ck_assert_uint_eq(journal_left(j)->lost, sizeof zeros);
    ck_assert(journal_discard(j, &e));
    add(j, "one");
    journal_close(j, true);
    j = open_at(&at_dawn);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "one");
    journal_close(j, false);
}
END_TEST

START_TEST(wherever_a_journal_is_cut_the_edits_before_are_found)
{
    struct str bytes = {0};
    struct stamp seen;
    leave_two();
    ck_assert(disk_read(scratch(JOURNAL), &bytes, &seen, &e));
    size_t one = record_size(strlen("edit one")), last = bytes.len - one, first = last - one;
    for (size_t n = 0; n <= bytes.len; n++) {
        unlink(scratch(JOURNAL));
        append_raw(bytes.text, n);
        struct journal *j = open_at(&at_dawn);
        const char *want = n == bytes.len ? "one two" : n >= last ? "one" : "";
        const struct journal_left *left = journal_left(j);
        ck_assert_str_eq(found(j, left->fit), want);
        ck_assert(left->count == 0 || left->fit == JOURNAL_FITS);
        ck_assert(left->fit != JOURNAL_CLEAN || n <= first);
        journal_close(j, false);
    }
    str_clear(&bytes);
}
END_TEST

/* --- two editors ---------------------------------------------------------------------------- */

/* Somebody else who tries now is told of this very process. */
static void check_held(void)
{
    char who[64];
    int before = scratch_descriptors();
    ck_assert_ptr_null(journal_open(scratch("a.json"), &at_dawn, &e));
    ck_assert_int_eq(scratch_descriptors(), before);
    snprintf(who, sizeof who, "process %ld on ", (long)getpid());
    ck_assert_int_eq(e.code, ERR_CHANGED);
    ck_assert_msg(strstr(e.says, who) != NULL, "%s", e.says);
}

START_TEST(a_second_editor_is_told_who_the_first_is)
{
    struct journal *j = open_at(&at_dawn);
    check_held();
    add(j, "one");
    ck_assert(journal_saved(j, &at_dusk, true, &e));
    check_held();
    journal_close(j, false);
    journal_close(open_at(&at_dawn), false);
}
END_TEST

START_TEST(whoever_looks_at_left_work_is_known)
{
    leave_two();
    struct journal *j = open_at(&at_dawn);
    check_held();
    ck_assert(journal_take(j, &e));
    check_held();
    journal_close(j, false);
}
END_TEST

START_TEST(whoever_looks_at_left_work_is_known_even_behind_a_torn_end)
{
    leave_two();
    append_raw("cbf4", 4);
    struct journal *j = open_at(&at_dawn);
    check_held();
    ck_assert(journal_take(j, &e));
    check_held();
    add(j, "three");
    check_held();
    journal_close(j, false);
}
END_TEST

/* Opens the journal, takes what is there, adds edits as fast as it can and tells their number
 * after each, until it is killed. */
static void edit_until_killed(int tell)
{
    struct err mine;
    struct journal *j = journal_open(scratch("a.json"), &at_dawn, &mine);
    if (!j || (journal_left(j)->fit == JOURNAL_FITS && !journal_take(j, &mine)))
        _exit(9);
    for (int i = 0;; i++) {
        char line[32];
        snprintf(line, sizeof line, "%d", i);
        if (!journal_add(j, line, &mine) || write(tell, "", 1) != 1)
            _exit(9);
    }
}

/* Lets a child edit until it has told of at least so many edits; returns how many it told. */
static size_t edits_of_a_killed_child(size_t at_least)
{
    int ends[2], status;
    char byte;
    size_t told = 0;
    ck_assert_int_eq(pipe(ends), 0);
    pid_t child = fork();
    if (child == 0)
        edit_until_killed(ends[1]);
    close(ends[1]);
    while (told < at_least && read(ends[0], &byte, 1) == 1)
        told++;
    kill(child, SIGKILL);
    while (read(ends[0], &byte, 1) == 1)
        told++;
    close(ends[0]);
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFSIGNALED(status));
    return told;
}

START_TEST(no_edit_that_was_told_is_missing_after_a_kill)
{
    for (size_t round = 0; round < 50; round++) {
        unlink(scratch(JOURNAL));
        size_t told = edits_of_a_killed_child(round * 7 + 1);
        struct journal *j = open_at(&at_dawn);
        const struct journal_left *left = journal_left(j);
        ck_assert_int_eq(left->fit, JOURNAL_FITS);
        /* a kill can tear even one write(), at the end of a page; but then it was not told yet */
        ck_assert(left->count == told || (left->count == told + 1 && left->lost == 0));
        for (size_t i = 0; i < left->count; i++)
            ck_assert_uint_eq(strtoul(left->lines[i], NULL, 10), i);
        journal_close(j, false);
    }
}
END_TEST

/* --- what is no journal of ours ------------------------------------------------------------- */

static void check_refused(enum err_code code, const char *says)
{
    int before = scratch_descriptors();
    ck_assert_ptr_null(journal_open(scratch("a.json"), &at_dawn, &e));
    ck_assert_int_eq(e.code, code);
    ck_assert_msg(strstr(e.says, says) != NULL, "%s", e.says);
    ck_assert_int_eq(scratch_descriptors(), before);
}

START_TEST(a_link_or_a_pipe_in_its_place_is_refused)
{
    scratch_put("victim", "v");
    ck_assert_int_eq(symlink("victim", scratch(JOURNAL)), 0);
    check_refused(ERR_WRITE, "not a regular file");
    unlink(scratch(JOURNAL));
    ck_assert_int_eq(mkfifo(scratch(JOURNAL), 0600), 0);
    check_refused(ERR_WRITE, "not a regular file");
    unlink(scratch(JOURNAL));
    ck_assert_int_eq(mkdir(scratch(JOURNAL), 0700), 0);
    check_refused(ERR_WRITE, "not a regular file");
    rmdir(scratch(JOURNAL));
    ck_assert_int_eq(link(scratch("victim"), scratch(JOURNAL)), 0);
    check_refused(ERR_WRITE, "hard link");
    ck_assert(scratch_holds("victim", "v"));
}
END_TEST

START_TEST(a_journal_that_is_too_long_is_refused)
{
    append_raw("", 0);
    ck_assert_int_eq(truncate(scratch(JOURNAL), (off_t)JOURNAL_MAX + 1), 0);
    check_refused(ERR_WRITE, "longer");
}
END_TEST

START_TEST(the_journal_of_another_user_is_refused)
{
    leave_two();
    if (geteuid() != 0 || chown(scratch(JOURNAL), 1234, 2345) != 0)
        return;
    check_refused(ERR_CHANGED, "another user");
}
END_TEST

START_TEST(a_journal_that_somebody_replaced_is_left_alone)
{
    struct journal *j = open_at(&at_dawn);
    ck_assert_int_eq(unlink(scratch(JOURNAL)), 0);
    scratch_put(JOURNAL, "theirs");
    journal_close(j, false);
    ck_assert(scratch_holds(JOURNAL, "theirs"));
}
END_TEST

START_TEST(a_full_journal_takes_no_more_until_a_save)
{
    char *line = scratch_text('x', RECORD_MAX - 100);
    size_t n = 0;
    struct journal *j = open_at(&at_dawn);
    while (journal_add(j, line, &e))
        n++;
    ck_assert_uint_eq(n, JOURNAL_MAX / RECORD_MAX);
    ck_assert(e.code == ERR_WRITE && strstr(e.says, "save soon"));
    ck_assert(journal_saved(j, &at_dusk, true, &e));
    add(j, "one");
    journal_close(j, true);
    j = open_at(&at_dusk);
    ck_assert_str_eq(found(j, JOURNAL_FITS), "one");
    journal_close(j, false);
    mem_free(line);
}
END_TEST

START_TEST(an_edit_that_is_too_long_is_refused_and_the_next_is_kept)
{
    char *line = scratch_text('x', RECORD_MAX);
    struct journal *j = open_at(&at_dawn);
    ck_assert(!journal_add(j, line, &e) && e.code == ERR_WRITE);
    add(j, "two");
    line[RECORD_MAX - 100] = '\0';
    add(j, line);
    journal_close(j, true);
    j = open_at(&at_dawn);
    ck_assert_int_eq(strncmp(found(j, JOURNAL_FITS), "two xxx", 7), 0);
    journal_close(j, false);
    mem_free(line);
}
END_TEST

Suite *test_journal(void)
{
    Suite *s = suite_create("file/journal");
    TCase *t = tcase_create("journal");
    tcase_set_timeout(t, 60);
    tcase_add_checked_fixture(t, scratch_make, scratch_remove);
    tcase_add_test(t, a_journal_is_private_and_gone_after_its_close);
    tcase_add_test(t, the_work_of_a_dead_editor_is_found_and_can_be_taken);
    tcase_add_test(t, undecided_work_stays);
    tcase_add_test(t, discarded_work_is_gone);
    tcase_add_test(t, work_on_another_state_of_the_file_is_shown_as_stale);
    tcase_add_test(t, the_journal_of_another_file_is_stale);
    tcase_add_test(t, a_dead_editor_that_changed_nothing_leaves_nothing);
    tcase_add_test(t, a_durable_save_begins_the_journal_anew);
    tcase_add_test(t, after_an_unsure_save_the_journal_fits_the_old_file_and_the_new);
    tcase_add_test(t, a_new_file_and_a_name_with_a_newline_have_journals_too);
    tcase_add_test(t, two_names_of_one_file_have_one_journal);
    tcase_add_test(t, a_torn_end_is_told_and_cut_off_when_the_work_is_taken);
    tcase_add_test(t, a_journal_of_zeros_is_told_and_can_be_discarded);
    tcase_add_test(t, wherever_a_journal_is_cut_the_edits_before_are_found);
    tcase_add_test(t, a_second_editor_is_told_who_the_first_is);
    tcase_add_test(t, whoever_looks_at_left_work_is_known);
    tcase_add_test(t, whoever_looks_at_left_work_is_known_even_behind_a_torn_end);
    tcase_add_test(t, no_edit_that_was_told_is_missing_after_a_kill);
    tcase_add_test(t, a_link_or_a_pipe_in_its_place_is_refused);
    tcase_add_test(t, a_journal_that_is_too_long_is_refused);
    tcase_add_test(t, the_journal_of_another_user_is_refused);
    tcase_add_test(t, a_journal_that_somebody_replaced_is_left_alone);
    tcase_add_test(t, a_full_journal_takes_no_more_until_a_save);
    tcase_add_test(t, an_edit_that_is_too_long_is_refused_and_the_next_is_kept);
    suite_add_tcase(s, t);
    return s;
}
