/* Every call that the journal makes fails, once and for ever: what was told to be kept is found
 * again, in order, and nothing else is; and a journal is kept elsewhere where it cannot lie beside
 * its venue. */
#include <check.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "file/journal.h"
#include "support/faults_file.h"
#include "support/scratch_file.h"

static const int errors[] = {EIO, ENOSPC, EACCES, EROFS, EDQUOT, EMFILE, EINTR};

enum { ERRORS = sizeof errors / sizeof *errors };

#define JOURNAL ".a.json.journal"

static const struct stamp at_dawn = {true, 4, 0xda}, at_dusk = {true, 4, 0xd5};

static void make(void)
{
    scratch_make();
    setenv("XDG_STATE_HOME", scratch("state"), 1);
}

/* What a later editor finds when the file is as seen says: "one two ". */
static const char *found_at(const struct stamp *seen)
{
    static struct str text;
    struct err e;
    struct journal *j = journal_open(scratch("a.json"), seen, &e);
    ck_assert_msg(j != NULL, "%s", e.says);
    const struct journal_left *left = journal_left(j);
    str_cut(&text, 0);
    for (size_t i = 0; left->fit == JOURNAL_FITS && i < left->count; i++)
        str_addf(&text, "%s ", left->lines[i]);
    journal_close(j, true);
    return str_text(&text);
}

/* --- an editor's life, with faults ---------------------------------------------------------- */

struct life {
    struct faults faults;
    bool durable;          /* how its save ends */
    bool opened;           /* whether it got the journal, and took what was left */
    struct str dawn, dusk; /* the edits told to be kept, before and after the save */
    struct err e;          /* the last error */
};

/* The edit "zero" of a dead editor, and a torn line. */
static void leave_zero(void)
{
    struct err e;
    unlink(scratch(JOURNAL));
    struct journal *j = journal_open(scratch("a.json"), &at_dawn, &e);
    ck_assert(j && journal_add(j, "zero", &e));
    journal_close(j, true);
    FILE *f = fopen(scratch(JOURNAL), "ab");
    ck_assert(f && fputs("cbf4", f) >= 0 && fclose(f) == 0);
}

static void add(struct life *l, struct journal *j, const char *line, struct str *kept)
{
    if (journal_add(j, line, &l->e))
        str_addf(kept, "%s ", line);
}

static void edit(struct life *l, struct journal *j)
{
    l->opened = true;
    add(l, j, "one", &l->dawn);
    add(l, j, "two", &l->dawn);
    journal_sync(j, &l->e);
    add(l, j, "three", &l->dawn);
    journal_saved(j, &at_dusk, l->durable, &l->e);
    add(l, j, "four", &l->dusk);
    add(l, j, "five", &l->dusk);
}

/* Returns how many calls it made. */
static long live(struct life *l)
{
    const char *path = scratch("a.json");
    int before = scratch_descriptors();
    leave_zero();
    str_add(&l->dawn, "zero ");
    faults_on(l->faults);
    struct journal *j = journal_open(path, &at_dawn, &l->e);
    if (j && (journal_left(j)->fit == JOURNAL_CLEAN || journal_take(j, &l->e)))
        edit(l, j);
    journal_close(j, true);
    struct faults_seen did = faults_off();
    ck_assert_int_eq(scratch_descriptors(), before);
    return did.calls;
}

static void check_found(const struct life *l)
{
    const struct faults *f = &l->faults;
    const char *how = f->for_ever ? "for ever" : "once", *error = strerror(f->with);
    ck_assert_msg(!l->e.says[0] || strstr(l->e.says, error) || strstr(l->e.says, "may have been"),
                  "call %ld, %s: %s", f->fails, error, l->e.says);
    if (!l->durable || !l->opened)
        ck_assert_msg(strcmp(found_at(&at_dawn), str_text(&l->dawn)) == 0,
                      "call %ld, %s, %s: kept %s, found %s", f->fails, error, how,
                      str_text(&l->dawn), found_at(&at_dawn));
    if (l->opened)
        ck_assert_msg(strcmp(found_at(&at_dusk), str_text(&l->dusk)) == 0,
                      "call %ld, %s, %s: kept %s, found %s", f->fails, error, how,
                      str_text(&l->dusk), found_at(&at_dusk));
}

/* After an unsure save the old file may come back: it has to be asked for all the edits. */
static void sum_up(struct life *l)
{
    if (!l->durable)
        str_add(&l->dawn, str_text(&l->dusk));
}

/* Whether there was such a call at all. */
static bool live_and_check(struct life *l)
{
    bool failed = live(l) >= l->faults.fails;
    sum_up(l);
    if (scratch_has("state/boothwright")) /* it lived elsewhere: what lies here is untouched */
        ck_assert_str_eq(found_at(&at_dawn), "zero ");
    else
        check_found(l);
    str_clear(&l->dawn);
    str_clear(&l->dusk);
    scratch_remove();
    make();
    return failed;
}

static void sweep(bool durable, int with, bool for_ever)
{
    struct life l;
    long n = 0;
    do
        l = (struct life){.faults = {.fails = ++n, .with = with, .for_ever = for_ever},
                          .durable = durable};
    while (live_and_check(&l));
    ck_assert_int_gt(n, 20);
}

START_TEST(when_any_call_fails_once_what_was_told_to_be_kept_is_found)
{
    sweep(true, errors[_i], false);
    sweep(false, errors[_i], false);
}
END_TEST

START_TEST(when_all_calls_fail_from_one_on_what_was_told_to_be_kept_is_found)
{
    sweep(true, errors[_i], true);
    sweep(false, errors[_i], true);
}
END_TEST

START_TEST(without_faults_everything_is_found)
{
    struct life l = {.durable = false};
    ck_assert_int_ge(live(&l), 15);
    ck_assert_str_eq(found_at(&at_dawn), "zero one two three four five ");
    ck_assert_str_eq(found_at(&at_dusk), "four five ");
    str_clear(&l.dawn);
    str_clear(&l.dusk);
}
END_TEST

START_TEST(a_line_that_was_written_in_part_is_taken_back)
{
    struct err e;
    struct journal *j = journal_open(scratch("a.json"), &at_dawn, &e);
    ck_assert_ptr_nonnull(j);
    faults_on((struct faults){.at_most = 9});
    ck_assert(!journal_add(j, "lost", &e));
    faults_off();
    ck_assert_ptr_nonnull(strstr(e.says, strerror(ENOSPC)));
    ck_assert(journal_add(j, "kept", &e));
    journal_close(j, true);
    ck_assert_str_eq(found_at(&at_dawn), "kept ");
}
END_TEST

START_TEST(a_failed_sync_is_told_until_a_durable_save)
{
    struct err e;
    struct journal *j = journal_open(scratch("a.json"), &at_dawn, &e);
    ck_assert(j && journal_add(j, "one", &e));
    faults_on((struct faults){.fails = 1, .with = EIO, .call = "fdatasync"});
    ck_assert(!journal_sync(j, &e) && strstr(e.says, strerror(EIO)));
    ck_assert(!journal_sync(j, &e));
    ck_assert(journal_add(j, "two", &e) && !journal_sync(j, &e));
    ck_assert(journal_saved(j, &at_dusk, false, &e) && !journal_sync(j, &e));
    ck_assert(journal_saved(j, &at_dusk, true, &e) && journal_sync(j, &e));
    faults_off();
    journal_close(j, false);
}
END_TEST

START_TEST(a_sync_is_made_only_when_there_is_something_new)
{
    struct err e;
    struct journal *j = journal_open(scratch("a.json"), &at_dawn, &e);
    faults_on((struct faults){.call = "fdatasync"});
    ck_assert(j && journal_add(j, "one", &e));
    ck_assert(journal_sync(j, &e) && journal_sync(j, &e));
    ck_assert(journal_add(j, "two", &e) && journal_sync(j, &e));
    ck_assert_int_eq(faults_off().calls, 2);
    journal_close(j, false);
}
END_TEST

START_TEST(the_first_sync_puts_the_name_of_the_journal_on_the_disk_too)
{
    struct err e;
    struct journal *j = journal_open(scratch("a.json"), &at_dawn, &e);
    faults_on((struct faults){0});
    ck_assert(j && journal_add(j, "one", &e) && journal_sync(j, &e));
    ck_assert(faults_off().folder_synced);
    journal_close(j, false);
}
END_TEST

START_TEST(an_interrupted_line_is_written_once_more)
{
    struct err e;
    struct journal *j = journal_open(scratch("a.json"), &at_dawn, &e);
    faults_on((struct faults){.fails = 1, .with = EINTR, .call = "write"});
    ck_assert(j && journal_add(j, "one", &e));
    faults_off();
    journal_close(j, true);
    ck_assert_str_eq(found_at(&at_dawn), "one ");
}
END_TEST

/* --- elsewhere ------------------------------------------------------------------------------ */

static const int closed[] = {EACCES, EPERM, EROFS, ENOSPC, EDQUOT};

/* Opens the journal where the venue's folder cannot be written to. */
static struct journal *open_closed(const struct stamp *seen, int why, struct err *e)
{
    const char *path = scratch("a.json");
    faults_on((struct faults){.fails = 1, .with = why, .call = "openat"});
    struct journal *j = journal_open(path, seen, e);
    faults_off();
    return j;
}

START_TEST(where_the_folder_is_closed_the_journal_is_kept_in_the_users_own)
{
    struct err e;
    struct journal *j = open_closed(&at_dawn, closed[_i], &e);
    ck_assert_msg(j != NULL, "%s", e.says);
    ck_assert(!scratch_has(JOURNAL));
    ck_assert_uint_eq(scratch_mode("state/boothwright"), 0700);
    ck_assert(journal_add(j, "one", &e));
    ck_assert_ptr_null(open_closed(&at_dawn, closed[_i], &e));
    ck_assert_int_eq(e.code, ERR_CHANGED);
    journal_close(j, true);
    j = open_closed(&at_dawn, closed[_i], &e);
    ck_assert(j && journal_left(j)->fit == JOURNAL_FITS && journal_left(j)->count == 1);
    journal_close(j, false);
    ck_assert_int_eq(rmdir(scratch("state/boothwright")), 0);
}
END_TEST

START_TEST(the_closed_journal_of_another_user_is_no_reason_to_go_elsewhere)
{
    struct err e;
    scratch_put(JOURNAL, "theirs");
    if (geteuid() != 0 || chown(scratch(JOURNAL), 1234, 2345) != 0)
        return;
    ck_assert_ptr_null(open_closed(&at_dawn, EACCES, &e));
    ck_assert(e.code == ERR_CHANGED && strstr(e.says, "another user"));
}
END_TEST

START_TEST(where_there_is_no_place_at_all_it_is_told)
{
    struct err e;
    scratch_put("state", "a file in the way");
    ck_assert_ptr_null(open_closed(&at_dawn, EROFS, &e));
    ck_assert(e.code == ERR_WRITE && strstr(e.says, strerror(EROFS)) && strstr(e.says, "/state"));
    unsetenv("XDG_STATE_HOME");
    unsetenv("HOME");
    ck_assert_ptr_null(open_closed(&at_dawn, EROFS, &e));
    ck_assert(e.code == ERR_WRITE && strstr(e.says, strerror(EROFS)) && strstr(e.says, "HOME"));
}
END_TEST

static int to_remove;

/* The first time it is removed, the second time another one made it anew. */
static void remove_it(const char *call)
{
    if (strcmp(call, "flock") != 0 || to_remove == 0)
        return;
    unlink(scratch(JOURNAL));
    if (--to_remove == 0)
        scratch_put(JOURNAL, "");
}

START_TEST(a_journal_removed_while_waiting_for_its_lock_is_made_again)
{
    struct err e;
    const char *path = scratch("a.json");
    to_remove = 2;
    faults_on((struct faults){.before = remove_it});
    struct journal *j = journal_open(path, &at_dawn, &e);
    faults_off();
    ck_assert(j && to_remove == 0);
    ck_assert(journal_add(j, "one", &e) && scratch_has(JOURNAL));
    journal_close(j, true);
    ck_assert_str_eq(found_at(&at_dawn), "one ");
}
END_TEST

START_TEST(a_disk_without_locks_has_journals_all_the_same)
{
    struct err e;
    faults_on((struct faults){.fails = 1, .with = ENOLCK, .call = "flock"});
    struct journal *j = journal_open(scratch("a.json"), &at_dawn, &e);
    faults_off();
    ck_assert(j && journal_add(j, "one", &e));
    journal_close(j, false);
}
END_TEST

Suite *test_journal_faults(void)
{
    Suite *s = suite_create("file/journal, faults");
    TCase *t = tcase_create("faults");
    suite_add_tcase(s, t);
    if (!faults_linked()) {
        puts("skipped: this linker has no --wrap, so no call can be made to fail");
        return s;
    }
    tcase_set_timeout(t, 60);
    tcase_add_checked_fixture(t, make, scratch_remove);
    tcase_add_loop_test(t, when_any_call_fails_once_what_was_told_to_be_kept_is_found, 0, ERRORS);
    /* not EINTR for ever: what is interrupted for ever is rightly tried for ever */
    tcase_add_loop_test(t, when_all_calls_fail_from_one_on_what_was_told_to_be_kept_is_found, 0,
                        ERRORS - 1);
    tcase_add_test(t, without_faults_everything_is_found);
    tcase_add_test(t, a_line_that_was_written_in_part_is_taken_back);
    tcase_add_test(t, a_failed_sync_is_told_until_a_durable_save);
    tcase_add_test(t, a_sync_is_made_only_when_there_is_something_new);
    tcase_add_test(t, the_first_sync_puts_the_name_of_the_journal_on_the_disk_too);
    tcase_add_test(t, an_interrupted_line_is_written_once_more);
    tcase_add_loop_test(t, where_the_folder_is_closed_the_journal_is_kept_in_the_users_own, 0, 5);
    tcase_add_test(t, the_closed_journal_of_another_user_is_no_reason_to_go_elsewhere);
    tcase_add_test(t, where_there_is_no_place_at_all_it_is_told);
    tcase_add_test(t, a_journal_removed_while_waiting_for_its_lock_is_made_again);
    tcase_add_test(t, a_disk_without_locks_has_journals_all_the_same);
    return s;
}
