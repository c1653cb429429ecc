/* Every call that a save makes fails, once and for ever, with each of seven errors; and a few
 * that must fail in one certain place. Whatever happens, the answer must be what is on the disk. */
#include <check.h>
#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "file/disk.h"
#include "file/save.h"
#include "support/faults_file.h"
#include "support/scratch_file.h"

static const int errors[] = {EIO, ENOSPC, EACCES, EROFS, EDQUOT, EMFILE, EINTR};

enum { ERRORS = sizeof errors / sizeof *errors };

static char *old_text, *new_text;
static struct err e;

static void make(void)
{
    scratch_make();
    old_text = scratch_text('o', 10000);
    new_text = scratch_text('n', 10200);
}

static void clear(void)
{
    mem_free(old_text);
    mem_free(new_text);
    scratch_remove();
}

/* The file as it was before: with the old text, or not there at all. */
static struct stamp reset(bool exists)
{
    unlink(scratch(".a.json.tmp"));
    unlink(scratch(".a.json.bak.tmp"));
    unlink(scratch("a.json.bak"));
    unlink(scratch("a.json"));
    if (!exists)
        return (struct stamp){0};
    scratch_put("a.json", old_text);
    return stamp_of(old_text, strlen(old_text));
}

static enum saved save_with(struct faults f, const struct stamp *seen, struct faults_seen *did)
{
    const char *path = scratch("a.json");
    size_t n = strlen(new_text);
    int before = scratch_descriptors();
    e = (struct err){0};
    faults_on(f);
    enum saved end = save_file(path, new_text, n, seen, &e);
    *did = faults_off();
    ck_assert_int_eq(scratch_descriptors(), before);
    return end;
}

static bool is_old(bool existed)
{
    return existed ? scratch_holds("a.json", old_text) : !scratch_has("a.json");
}

static void check_answer(enum saved end, bool existed, const struct faults *f,
                         const struct faults_seen *did)
{
    bool is_new = scratch_holds("a.json", new_text);
    ck_assert_msg(is_new || is_old(existed), "torn at call %ld, %s", f->fails, strerror(f->with));
    ck_assert_msg((end != SAVED_NOT) == is_new, "told %d, but the file is %s at call %ld, %s", end,
                  is_new ? "new" : "old", f->fails, strerror(f->with));
    ck_assert_msg(!did->hasty, "put in place before it was on the disk, call %ld", f->fails);
    ck_assert_msg(end != SAVED || did->folder_synced, "told saved too early, call %ld", f->fails);
    ck_assert_msg(end != SAVED || !did->failed, "%s failed and was not told, call %ld, %s",
                  did->failed, f->fails, strerror(f->with));
    ck_assert_msg(end == SAVED || strstr(e.says, strerror(f->with)), "call %ld, %s: %s", f->fails,
                  strerror(f->with), e.says);
    if (existed)
        ck_assert_uint_eq(scratch_mode("a.json"), 0640);
}

/* Returns how many calls a save makes. */
static long sweep(bool exists, struct faults f)
{
    struct faults_seen did;
    int left = 0;
    for (f.fails = 1;; f.fails++) {
        struct stamp seen = reset(exists);
        enum saved end = save_with(f, &seen, &did);
        if (did.calls < f.fails)
            break;
        check_answer(end, exists, &f, &did);
        left += scratch_has(".a.json.tmp") + scratch_has(".a.json.bak.tmp");
        ck_assert_msg(f.for_ever || left <= 1, "a temporary file stays after call %ld", f.fails);
    }
    return did.calls;
}

START_TEST(when_any_call_fails_once_the_answer_is_what_is_on_the_disk)
{
    ck_assert_int_ge(sweep(true, (struct faults){.with = errors[_i]}), 30);
    ck_assert_int_ge(sweep(false, (struct faults){.with = errors[_i]}), 15);
}
END_TEST

START_TEST(when_all_calls_fail_from_one_on_the_answer_is_what_is_on_the_disk)
{
    sweep(true, (struct faults){.with = errors[_i], .for_ever = true});
    sweep(false, (struct faults){.with = errors[_i], .for_ever = true});
}
END_TEST

START_TEST(short_writes_are_continued)
{
    ck_assert_int_gt(sweep(true, (struct faults){.with = ENOSPC, .at_most = 1000}), 30 + 18);
}
END_TEST

START_TEST(when_any_call_fails_while_reading_it_is_told_and_nothing_is_read)
{
    struct faults f = {.with = errors[_i]};
    struct faults_seen did;
    struct stamp seen = reset(true);
    struct str bytes = {0};
    const char *path = scratch("a.json");
    do {
        f.fails++;
        int before = scratch_descriptors();
        faults_on(f);
        bool read = disk_read(path, &bytes, &seen, &e);
        did = faults_off();
        ck_assert_int_eq(scratch_descriptors(), before);
        ck_assert_int_eq(read, seen.exists);
        ck_assert(read ? strcmp(bytes.text, old_text) == 0 : bytes.len == 0);
        ck_assert(read || (e.code == ERR_READ && strstr(e.says, strerror(f.with))));
        ck_assert_msg(!read || !did.failed, "%s failed and was not told", did.failed);
    } while (did.calls >= f.fails);
    ck_assert_int_gt(f.fails, 5);
    str_clear(&bytes);
}
END_TEST

static const char *const interrupted[] = {"read", "write", "flock", "close"};

START_TEST(what_is_interrupted_is_continued)
{
    struct faults_seen did;
    struct faults f = {.with = EINTR, .call = interrupted[_i]};
    do {
        struct stamp seen = reset(true);
        f.fails++;
        ck_assert_msg(save_with(f, &seen, &did) == SAVED, "call %ld: %s", f.fails, e.says);
    } while (did.calls >= f.fails);
    ck_assert_int_gt(f.fails, 1);
}
END_TEST

START_TEST(a_file_that_is_too_long_is_not_even_begun_to_be_read)
{
    struct str bytes = {0};
    struct stamp seen = reset(true);
    ck_assert_int_eq(truncate(scratch("a.json"), (off_t)1 << 32), 0);
    faults_on((struct faults){.call = "read"});
    bool read = disk_read(scratch("a.json"), &bytes, &seen, &e);
    ck_assert_int_eq(faults_off().calls, 0);
    ck_assert(!read);
}
END_TEST

static void grow(const char *call)
{
    if (strcmp(call, "read") == 0)
        ck_assert_int_eq(truncate(scratch("a.json"), 2 << 20), 0);
}

START_TEST(a_file_that_grows_too_long_while_it_is_read_is_refused)
{
    struct str bytes = {0};
    struct stamp seen = reset(true);
    faults_on((struct faults){.before = grow});
    bool read = disk_read(scratch("a.json"), &bytes, &seen, &e);
    faults_off();
    ck_assert(!read && bytes.len == 0 && strstr(e.says, "1 MiB"));
}
END_TEST

START_TEST(without_faults_all_is_well)
{
    struct faults_seen did;
    struct stamp seen = reset(true);
    ck_assert_int_eq(save_with((struct faults){0}, &seen, &did), SAVED);
    ck_assert(did.folder_synced && !did.failed && !did.hasty);
}
END_TEST

/* --- a death at any call -------------------------------------------------------------------- */

static long to_die;

static void die(const char *call)
{
    (void)call;
    if (--to_die == 0)
        kill(getpid(), SIGKILL);
}

/* Lets a child save and be killed before its call of that number; false if it made fewer. */
static bool save_killed(long call, const struct stamp *seen)
{
    int status;
    struct faults_seen did;
    pid_t child = fork();
    to_die = call;
    if (child == 0)
        _exit(save_with((struct faults){.before = die}, seen, &did) == SAVED ? 0 : 1);
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFSIGNALED(status) || WEXITSTATUS(status) == 0, "before call %ld", call);
    return WIFSIGNALED(status);
}

static const bool existed[] = {true, false};

START_TEST(killed_at_any_call_a_save_leaves_the_old_file_or_the_new_and_the_next_one_works)
{
    struct faults_seen did;
    bool killed = true;
    long call = 1;
    for (; killed; call++) {
        struct stamp seen = reset(existed[_i]);
        killed = save_killed(call, &seen);
        bool is_new = scratch_holds("a.json", new_text);
        ck_assert_msg(is_new || (killed && is_old(existed[_i])), "torn before call %ld", call);
        ck_assert_int_eq(save_with((struct faults){0}, NULL, &did), SAVED);
        ck_assert(scratch_holds("a.json", new_text));
        ck_assert_int_eq(scratch_count(), 1 + scratch_has("a.json.bak"));
    }
    ck_assert_int_gt(call, 15);
}
END_TEST

/* --- certain places ------------------------------------------------------------------------- */

static enum saved save_where(const char *call, int with, bool exists)
{
    struct faults_seen did;
    struct stamp seen = reset(exists);
    struct faults f = {.fails = 1, .with = with, .for_ever = true, .call = call};
    enum saved end = save_with(f, &seen, &did);
    ck_assert_msg(did.calls > 0, "%s is never called", call);
    return end;
}

START_TEST(who_may_not_give_a_file_away_keeps_it_and_gives_no_new_group_any_rights)
{
    struct stat s;
    struct faults_seen did;
    reset(true);
    if (geteuid() != 0 || chown(scratch("a.json"), 1234, 2345) != 0)
        return;
    struct faults f = {.fails = 1, .with = EPERM, .for_ever = true, .call = "fchown"};
    ck_assert_int_eq(save_with(f, NULL, &did), SAVED);
    ck_assert_int_eq(stat(scratch("a.json"), &s), 0);
    ck_assert(s.st_uid == 0 && (s.st_mode & 0777) == 0600);
    ck_assert_int_eq(chown(scratch("a.json"), 1234, 2345), 0);
    f.with = EIO;
    unlink(scratch("a.json.bak"));
    new_text[0] = 'N';
    ck_assert_int_eq(save_with(f, NULL, &did), SAVED_NOT);
    ck_assert_ptr_nonnull(strstr(e.says, strerror(EIO)));
}
END_TEST

START_TEST(a_disk_without_hard_links_gets_the_new_file_by_a_rename)
{
    ck_assert_int_eq(save_where("linkat", EPERM, false), SAVED);
    ck_assert(scratch_holds("a.json", new_text));
    ck_assert_int_eq(scratch_count(), 1);
}
END_TEST

START_TEST(a_disk_without_locks_is_saved_to_all_the_same)
{
    ck_assert_int_eq(save_where("flock", ENOLCK, true), SAVED);
    ck_assert_int_eq(save_where("flock", EBADF, true), SAVED);
}
END_TEST

START_TEST(on_a_disk_without_locks_the_temporary_file_is_the_lock)
{
    struct faults_seen did;
    struct stamp seen = reset(true);
    scratch_put(".a.json.tmp", "another one at work");
    struct faults f = {.fails = 1, .with = ENOLCK, .for_ever = true, .call = "flock"};
    ck_assert_int_eq(save_with(f, &seen, &did), SAVED_NOT);
    ck_assert(e.code == ERR_CHANGED && strstr(e.says, ".a.json.tmp"));
    ck_assert(scratch_holds(".a.json.tmp", "another one at work") && is_old(true));
}
END_TEST

START_TEST(a_folder_that_cannot_be_synced_makes_the_save_unsure)
{
    struct faults_seen did;
    struct stamp seen = reset(true);
    struct faults f = {.fails = 3, .with = EIO, .call = "fsync"};
    ck_assert_int_eq(save_with(f, &seen, &did), SAVED_UNSURE);
    ck_assert(scratch_holds("a.json", new_text) && strstr(e.says, "not yet safe"));
    seen = reset(true);
    f.with = EINVAL;
    ck_assert_int_eq(save_with(f, &seen, &did), SAVED);
}
END_TEST

START_TEST(a_failed_sync_of_the_file_is_never_just_tried_again)
{
    struct faults_seen did;
    struct stamp seen = reset(true);
    struct faults f = {.fails = 1, .with = EIO, .call = "fsync"};
    ck_assert_int_eq(save_with(f, &seen, &did), SAVED_NOT);
    ck_assert_int_eq(did.calls, 1);
    ck_assert(is_old(true) && scratch_count() == 1);
}
END_TEST

/* --- somebody else, at the worst moment ----------------------------------------------------- */

static const char *moment;

static void meddle(const char *call)
{
    if (strcmp(call, moment) == 0)
        scratch_put("a.json", "theirs");
}

static enum saved save_meddled(const char *when, bool exists)
{
    struct faults_seen did;
    struct stamp seen = reset(exists);
    moment = when;
    return save_with((struct faults){.before = meddle}, &seen, &did);
}

START_TEST(a_file_changed_during_the_save_is_kept)
{
    ck_assert_int_eq(save_meddled("fchmod", true), SAVED_NOT);
    ck_assert(e.code == ERR_CHANGED && scratch_holds("a.json", "theirs"));
    ck_assert(!scratch_has(".a.json.tmp"));
}
END_TEST

static void turn_into_link(const char *call)
{
    if (strcmp(call, "flock") == 0) {
        unlink(scratch("a.json"));
        ck_assert_int_eq(symlink("victim", scratch("a.json")), 0);
    }
}

START_TEST(a_file_that_becomes_a_link_after_it_was_found_is_not_followed)
{
    struct faults_seen did;
    reset(true);
    scratch_put("victim", "v");
    ck_assert_int_eq(save_with((struct faults){.before = turn_into_link}, NULL, &did), SAVED_NOT);
    ck_assert(scratch_holds("victim", "v") && scratch_count() == 2);
}
END_TEST

static void check_private(const char *call)
{
    if (strcmp(call, "write") == 0)
        ck_assert_uint_eq(scratch_mode(".a.json.tmp") & 077, 0);
}

START_TEST(a_private_file_is_private_at_each_moment)
{
    struct faults_seen did;
    struct stamp seen = reset(true);
    ck_assert_int_eq(chmod(scratch("a.json"), 0600), 0);
    ck_assert_int_eq(save_with((struct faults){.before = check_private}, &seen, &did), SAVED);
    ck_assert_uint_eq(scratch_mode("a.json"), 0600);
    ck_assert_uint_eq(scratch_mode("a.json.bak"), 0600);
}
END_TEST

static void make_it_first(const char *call)
{
    if (strcmp(call, "mkdir") == 0)
        mkdir(scratch("new"), 0755);
}

START_TEST(a_folder_made_by_somebody_else_meanwhile_is_as_good)
{
    const char *path = scratch("new");
    faults_on((struct faults){.before = make_it_first});
    bool made = disk_make_folder(path, 0777, &e);
    ck_assert_int_gt(faults_off().calls, 0);
    ck_assert_msg(made, "%s", e.says);
}
END_TEST

START_TEST(a_file_born_between_the_last_look_and_the_switch_is_kept)
{
    ck_assert_int_eq(save_meddled("linkat", false), SAVED_NOT);
    ck_assert(e.code == ERR_CHANGED && scratch_holds("a.json", "theirs"));
    ck_assert_int_eq(scratch_count(), 1);
}
END_TEST

static int renames;

static void rename_already(const char *call)
{
    if (strcmp(call, "renameat") == 0 && ++renames == 2)
        rename(scratch(".a.json.tmp"), scratch("a.json"));
}

START_TEST(a_rename_that_was_done_though_it_failed_counts_as_done)
{
    struct faults_seen did;
    struct stamp seen = reset(true);
    renames = 0;
    ck_assert_int_eq(save_with((struct faults){.before = rename_already}, &seen, &did), SAVED);
    ck_assert_int_eq(renames, 2);
    ck_assert(scratch_holds("a.json", new_text) && scratch_holds("a.json.bak", old_text));
}
END_TEST

Suite *test_save_faults(void)
{
    Suite *s = suite_create("file/save, faults");
    TCase *t = tcase_create("faults");
    suite_add_tcase(s, t);
    if (!faults_linked()) {
        puts("skipped: this linker has no --wrap, so no call can be made to fail");
        return s;
    }
    tcase_set_timeout(t, 60);
    tcase_add_checked_fixture(t, make, clear);
    tcase_add_loop_test(t, when_any_call_fails_once_the_answer_is_what_is_on_the_disk, 0, ERRORS);
    /* not EINTR for ever: what is interrupted for ever is rightly tried for ever */
    tcase_add_loop_test(t, when_all_calls_fail_from_one_on_the_answer_is_what_is_on_the_disk, 0,
                        ERRORS - 1);
    tcase_add_loop_test(
        t, killed_at_any_call_a_save_leaves_the_old_file_or_the_new_and_the_next_one_works, 0, 2);
    tcase_add_test(t, short_writes_are_continued);
    tcase_add_loop_test(t, when_any_call_fails_while_reading_it_is_told_and_nothing_is_read, 0,
                        ERRORS);
    tcase_add_loop_test(t, what_is_interrupted_is_continued, 0, 4);
    tcase_add_test(t, a_file_that_is_too_long_is_not_even_begun_to_be_read);
    tcase_add_test(t, a_file_that_grows_too_long_while_it_is_read_is_refused);
    tcase_add_test(t, without_faults_all_is_well);
    tcase_add_test(t, who_may_not_give_a_file_away_keeps_it_and_gives_no_new_group_any_rights);
    tcase_add_test(t, a_disk_without_hard_links_gets_the_new_file_by_a_rename);
    tcase_add_test(t, a_disk_without_locks_is_saved_to_all_the_same);
    tcase_add_test(t, on_a_disk_without_locks_the_temporary_file_is_the_lock);
    tcase_add_test(t, a_folder_that_cannot_be_synced_makes_the_save_unsure);
    tcase_add_test(t, a_failed_sync_of_the_file_is_never_just_tried_again);
    tcase_add_test(t, a_file_changed_during_the_save_is_kept);
    tcase_add_test(t, a_file_that_becomes_a_link_after_it_was_found_is_not_followed);
    tcase_add_test(t, a_private_file_is_private_at_each_moment);
    tcase_add_test(t, a_folder_made_by_somebody_else_meanwhile_is_as_good);
    tcase_add_test(t, a_file_born_between_the_last_look_and_the_switch_is_kept);
    tcase_add_test(t, a_rename_that_was_done_though_it_failed_counts_as_done);
    return s;
}
