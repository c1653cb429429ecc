#include <check.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"
#include "file/disk.h"
#include "file/save.h"
#include "support/scratch_file.h"

static struct err e;

static enum saved save(const char *name, const char *text, const struct stamp *seen)
{
    int before = scratch_descriptors();
    e = (struct err){0};
    enum saved end = save_file(scratch(name), text, strlen(text), seen, &e);
    ck_assert_int_eq(scratch_descriptors(), before);
    ck_assert_int_eq(e.code == ERR_NONE, end == SAVED);
    return end;
}

static struct stamp seen_in(const char *name)
{
    struct str bytes = {0};
    struct stamp seen;
    ck_assert_msg(disk_read_or_none(scratch(name), &bytes, &seen, &e), "%s", e.says);
    str_clear(&bytes);
    return seen;
}

static bool cannot_read(const char *name)
{
    struct str bytes = {0};
    struct stamp seen;
    int before = scratch_descriptors();
    bool could = disk_read(scratch(name), &bytes, &seen, &e);
    ck_assert_int_eq(scratch_descriptors(), before);
    str_clear(&bytes);
    return !could && e.code == ERR_READ;
}

/* --- stamps and reading --------------------------------------------------------------------- */

START_TEST(a_stamp_is_the_sum_of_the_content_alone)
{
    struct stamp none = {0}, a = stamp_of("a", 1), empty = stamp_of(NULL, 0);
    ck_assert_uint_eq(empty.hash, 0xcbf29ce484222325);
    ck_assert_uint_eq(a.hash, 0xaf63dc4c8601ec8c);
    ck_assert(!stamp_same(&none, &empty) && !stamp_same(&a, &empty) && stamp_same(&a, &a));
    struct str text = {0};
    stamp_text(&a, &text);
    stamp_text(&none, &text);
    ck_assert_str_eq(text.text, "1-af63dc4c8601ec8cnone");
    str_clear(&text);
}
END_TEST

START_TEST(a_file_is_read_whole_with_its_stamp)
{
    struct str bytes = {0};
    struct stamp seen, same = stamp_of("Tideline Hall", 13);
    scratch_put("a.json", "Tideline Hall");
    ck_assert(disk_read(scratch("a.json"), &bytes, &seen, &e));
    ck_assert_str_eq(bytes.text, "Tideline Hall");
    ck_assert(stamp_same(&seen, &same));
    str_clear(&bytes);
    ck_assert(cannot_read("none.json") && strstr(e.says, strerror(ENOENT)));
    seen = seen_in("none.json");
    ck_assert(!seen.exists);
}
END_TEST

START_TEST(what_is_no_regular_file_is_refused_and_never_waited_for)
{
    ck_assert_int_eq(mkfifo(scratch("pipe"), 0600), 0);
    ck_assert(cannot_read("pipe") && strstr(e.says, "regular"));
    ck_assert(cannot_read("") && strstr(e.says, "regular"));
    ck_assert_int_eq(symlink("/dev/zero", scratch("zero")), 0);
    ck_assert(cannot_read("zero") && strstr(e.says, "regular"));
}
END_TEST

START_TEST(a_file_of_one_mebibyte_is_read_and_a_longer_one_is_not)
{
    struct str bytes = {0};
    struct stamp seen;
    scratch_put("big.json", "");
    ck_assert_int_eq(truncate(scratch("big.json"), 1 << 20), 0);
    ck_assert(disk_read(scratch("big.json"), &bytes, &seen, &e));
    ck_assert_uint_eq(bytes.len, 1 << 20);
    str_clear(&bytes);
    ck_assert_int_eq(truncate(scratch("big.json"), (1 << 20) + 1), 0);
    ck_assert(cannot_read("big.json") && strstr(e.says, "1 MiB"));
    ck_assert_int_eq(truncate(scratch("big.json"), (off_t)1 << 32), 0);
    ck_assert(cannot_read("big.json") && strstr(e.says, "1 MiB"));
}
END_TEST

START_TEST(a_place_is_a_folder_and_a_name)
{
    struct place p;
    ck_assert(place_open(&p, "/none", ERR_READ, &e));
    ck_assert(strcmp(p.dir, "/") == 0 && strcmp(p.name, "none") == 0);
    place_close(&p);
    ck_assert(place_open(&p, "none", ERR_READ, &e));
    ck_assert(strcmp(p.dir, ".") == 0 && strcmp(p.name, "none") == 0);
    place_close(&p);
}
END_TEST

START_TEST(a_link_that_leads_too_far_is_told)
{
    char *target = scratch_text('/', 4090); /* as long as a path may be: more, from the folder on */
    *target = '.';
    struct place p;
    ck_assert_int_eq(symlink(target, scratch("far")), 0);
    ck_assert(!place_open(&p, scratch("far"), ERR_READ, &e));
    ck_assert_ptr_nonnull(strstr(e.says, strerror(ENAMETOOLONG)));
    mem_free(target);
}
END_TEST

/* --- saving --------------------------------------------------------------------------------- */

START_TEST(a_save_keeps_the_mode_and_the_version_before)
{
    scratch_put("a.json", "old");
    struct stamp seen = seen_in("a.json");
    ck_assert_int_eq(save("a.json", "new", &seen), SAVED);
    ck_assert(scratch_holds("a.json", "new") && scratch_holds("a.json.bak", "old"));
    ck_assert_uint_eq(scratch_mode("a.json"), 0640);
    ck_assert_uint_eq(scratch_mode("a.json.bak"), 0640);
    seen = stamp_of("new", 3);
    ck_assert_int_eq(save("a.json", "newer", &seen), SAVED);
    ck_assert(scratch_holds("a.json", "newer") && scratch_holds("a.json.bak", "new"));
    ck_assert_int_eq(scratch_count(), 2);
}
END_TEST

START_TEST(saving_the_same_twice_keeps_the_real_version_before)
{
    scratch_put("a.json", "old");
    ck_assert_int_eq(save("a.json", "new", NULL), SAVED);
    ck_assert_int_eq(save("a.json", "new", NULL), SAVED);
    ck_assert(scratch_holds("a.json.bak", "old"));
}
END_TEST

START_TEST(a_new_file_obeys_the_umask)
{
    struct stamp none = {0};
    umask(027);
    ck_assert_int_eq(save("new.json", "text", &none), SAVED);
    ck_assert(scratch_holds("new.json", "text"));
    ck_assert_uint_eq(scratch_mode("new.json"), 0640);
    ck_assert_int_eq(scratch_count(), 1);
}
END_TEST

START_TEST(an_empty_text_can_be_saved)
{
    scratch_put("a.json", "old");
    ck_assert_int_eq(save_file(scratch("a.json"), NULL, 0, NULL, &e), SAVED);
    ck_assert(scratch_holds("a.json", ""));
}
END_TEST

START_TEST(a_file_changed_meanwhile_is_not_overwritten_unless_asked)
{
    scratch_put("a.json", "old");
    struct stamp seen = seen_in("a.json");
    scratch_put("a.json", "odd"); /* as long, and in the same second */
    ck_assert_int_eq(save("a.json", "new", &seen), SAVED_NOT);
    ck_assert_int_eq(e.code, ERR_CHANGED);
    ck_assert(strstr(e.says, "changed") && scratch_holds("a.json", "odd"));
    ck_assert_int_eq(save("a.json", "new", NULL), SAVED);
    ck_assert(scratch_holds("a.json", "new") && scratch_holds("a.json.bak", "odd"));
}
END_TEST

START_TEST(a_file_merely_touched_or_replaced_by_its_like_is_saved)
{
    scratch_put("a.json", "old");
    struct stamp seen = seen_in("a.json");
    ck_assert_int_eq(unlink(scratch("a.json")), 0);
    scratch_put("a.json", "old");
    ck_assert_int_eq(save("a.json", "new", &seen), SAVED);
}
END_TEST

START_TEST(a_file_deleted_or_born_meanwhile_is_told)
{
    struct stamp none = {0};
    scratch_put("a.json", "old");
    struct stamp seen = seen_in("a.json");
    ck_assert_int_eq(unlink(scratch("a.json")), 0);
    ck_assert_int_eq(save("a.json", "new", &seen), SAVED_NOT);
    ck_assert(e.code == ERR_CHANGED && strstr(e.says, "deleted") && !scratch_has("a.json"));
    scratch_put("b.json", "theirs");
    ck_assert_int_eq(save("b.json", "new", &none), SAVED_NOT);
    ck_assert(e.code == ERR_CHANGED && strstr(e.says, "made by somebody else"));
    ck_assert(scratch_holds("b.json", "theirs"));
}
END_TEST

START_TEST(links_are_followed_and_stay)
{
    scratch_put("real.json", "old");
    ck_assert_int_eq(symlink("real.json", scratch("one")), 0);
    ck_assert_int_eq(symlink(scratch("one"), scratch("two")), 0);
    ck_assert_int_eq(save("two", "new", NULL), SAVED);
    ck_assert(scratch_holds("real.json", "new"));
    char to[256];
    ck_assert_int_eq(readlink(scratch("one"), to, sizeof to), 9);
    ck_assert_int_gt(readlink(scratch("two"), to, sizeof to), 0);
    ck_assert_int_eq(symlink("born.json", scratch("dangling")), 0);
    ck_assert_int_eq(save("dangling", "new", NULL), SAVED);
    ck_assert(scratch_holds("born.json", "new"));
    ck_assert_int_gt(readlink(scratch("dangling"), to, sizeof to), 0);
}
END_TEST

START_TEST(a_ring_of_links_is_told)
{
    ck_assert_int_eq(symlink("b", scratch("a")), 0);
    ck_assert_int_eq(symlink("a", scratch("b")), 0);
    ck_assert_int_eq(save("a", "new", NULL), SAVED_NOT);
    ck_assert(e.code == ERR_WRITE && strstr(e.says, strerror(ELOOP)));
}
END_TEST

START_TEST(the_temporary_file_lies_beside_the_target_of_a_link)
{
    ck_assert_int_eq(mkdir(scratch("far"), 0755), 0);
    scratch_put("far/real.json", "old");
    ck_assert_int_eq(symlink("far/real.json", scratch("near.json")), 0);
    ck_assert_int_eq(save("near.json", "new", NULL), SAVED);
    ck_assert(scratch_holds("far/real.json", "new") && scratch_holds("far/real.json.bak", "old"));
    ck_assert(!scratch_has("near.json.bak"));
}
END_TEST

START_TEST(a_hard_link_is_never_parted)
{
    scratch_put("a.json", "old");
    ck_assert_int_eq(link(scratch("a.json"), scratch("b.json")), 0);
    ck_assert_int_eq(save("a.json", "new", NULL), SAVED_NOT);
    ck_assert(strstr(e.says, "hard link") && scratch_holds("b.json", "old"));
}
END_TEST

static const char *const no_files[] = {"folder", "pipe", ".", "..", "", "no/such.json", "a/b.json"};

START_TEST(what_is_no_file_is_never_saved_over)
{
    ck_assert_int_eq(mkdir(scratch("folder"), 0700), 0);
    ck_assert_int_eq(mkfifo(scratch("pipe"), 0600), 0);
    scratch_put("a", "a file");
    ck_assert_int_eq(save(no_files[_i], "new", NULL), SAVED_NOT);
    ck_assert_int_eq(e.code, ERR_WRITE);
    ck_assert_uint_gt(strlen(e.says), 10);
    ck_assert_int_eq(scratch_count(), 3);
}
END_TEST

START_TEST(a_name_too_long_is_told)
{
    char *name = scratch_text('x', 250), *path = scratch_text('y', 9000);
    ck_assert_int_eq(save(name, "new", NULL), SAVED_NOT);
    ck_assert(strstr(e.says, strerror(ENAMETOOLONG)));
    ck_assert_int_eq(save_file(path, "new", 3, NULL, &e), SAVED_NOT);
    ck_assert(strstr(e.says, strerror(ENAMETOOLONG)));
    mem_free(name);
    mem_free(path);
}
END_TEST

START_TEST(a_folder_that_is_locked_is_told_and_a_freed_one_is_saved_into)
{
    scratch_put("a.json", "old");
    int holder = open(scratch(""), O_RDONLY);
    ck_assert_int_eq(flock(holder, LOCK_EX), 0);
    ck_assert_int_eq(save("a.json", "new", NULL), SAVED_NOT);
    ck_assert(e.code == ERR_CHANGED && scratch_holds("a.json", "old"));
    close(holder);
    ck_assert_int_eq(save("a.json", "new", NULL), SAVED);
}
END_TEST

START_TEST(what_a_dead_save_left_is_removed_and_no_victim_of_a_link_is_touched)
{
    scratch_put("a.json", "old");
    scratch_put("victim", "v");
    scratch_put(".a.json.bak.tmp", "half");
    ck_assert_int_eq(symlink("victim", scratch(".a.json.tmp")), 0);
    ck_assert_int_eq(save("a.json", "new", NULL), SAVED);
    ck_assert(scratch_holds("a.json", "new") && scratch_holds("victim", "v"));
    ck_assert_int_eq(scratch_count(), 3);
}
END_TEST

START_TEST(a_death_between_link_and_unlink_does_not_count_as_a_hard_link)
{
    scratch_put("a.json", "old");
    ck_assert_int_eq(link(scratch("a.json"), scratch(".a.json.tmp")), 0);
    ck_assert_int_eq(save("a.json", "new", NULL), SAVED);
    ck_assert_int_eq(scratch_count(), 2);
}
END_TEST

START_TEST(a_folder_in_the_way_of_the_temporary_file_is_told)
{
    scratch_put("a.json", "old");
    ck_assert_int_eq(mkdir(scratch(".a.json.tmp"), 0700), 0);
    ck_assert_int_eq(save("a.json", "new", NULL), SAVED_NOT);
    ck_assert(strstr(e.says, ".a.json.tmp") && scratch_holds("a.json", "old"));
}
END_TEST

START_TEST(when_the_version_before_cannot_be_kept_the_save_is_made_and_told)
{
    scratch_put("a.json", "old");
    ck_assert_int_eq(mkdir(scratch("a.json.bak"), 0700), 0);
    ck_assert_int_eq(save("a.json", "new", NULL), SAVED_WITHOUT_BAK);
    ck_assert(strstr(e.says, ".bak") && scratch_holds("a.json", "new"));
    ck_assert_int_eq(scratch_count(), 2);
}
END_TEST

START_TEST(root_keeps_the_owner_and_the_group)
{
    struct stat s;
    scratch_put("a.json", "old");
    if (geteuid() != 0 || chown(scratch("a.json"), 1234, 2345) != 0)
        return;
    ck_assert_int_eq(save("a.json", "new", NULL), SAVED);
    ck_assert_int_eq(stat(scratch("a.json"), &s), 0);
    ck_assert(s.st_uid == 1234 && s.st_gid == 2345 && (s.st_mode & 0777) == 0640);
}
END_TEST

Suite *test_save(void)
{
    Suite *s = suite_create("file/save");
    TCase *t = tcase_create("save");
    tcase_add_checked_fixture(t, scratch_make, scratch_remove);
    tcase_add_test(t, a_stamp_is_the_sum_of_the_content_alone);
    tcase_add_test(t, a_file_is_read_whole_with_its_stamp);
    tcase_add_test(t, what_is_no_regular_file_is_refused_and_never_waited_for);
    tcase_add_test(t, a_file_of_one_mebibyte_is_read_and_a_longer_one_is_not);
    tcase_add_test(t, a_place_is_a_folder_and_a_name);
    tcase_add_test(t, a_link_that_leads_too_far_is_told);
    tcase_add_test(t, a_save_keeps_the_mode_and_the_version_before);
    tcase_add_test(t, saving_the_same_twice_keeps_the_real_version_before);
    tcase_add_test(t, a_new_file_obeys_the_umask);
    tcase_add_test(t, an_empty_text_can_be_saved);
    tcase_add_test(t, a_file_changed_meanwhile_is_not_overwritten_unless_asked);
    tcase_add_test(t, a_file_merely_touched_or_replaced_by_its_like_is_saved);
    tcase_add_test(t, a_file_deleted_or_born_meanwhile_is_told);
    tcase_add_test(t, links_are_followed_and_stay);
    tcase_add_test(t, a_ring_of_links_is_told);
    tcase_add_test(t, the_temporary_file_lies_beside_the_target_of_a_link);
    tcase_add_test(t, a_hard_link_is_never_parted);
    tcase_add_loop_test(t, what_is_no_file_is_never_saved_over, 0,
                        (int)(sizeof no_files / sizeof *no_files));
    tcase_add_test(t, a_name_too_long_is_told);
    tcase_add_test(t, a_folder_that_is_locked_is_told_and_a_freed_one_is_saved_into);
    tcase_add_test(t, what_a_dead_save_left_is_removed_and_no_victim_of_a_link_is_touched);
    tcase_add_test(t, a_death_between_link_and_unlink_does_not_count_as_a_hard_link);
    tcase_add_test(t, a_folder_in_the_way_of_the_temporary_file_is_told);
    tcase_add_test(t, when_the_version_before_cannot_be_kept_the_save_is_made_and_told);
    tcase_add_test(t, root_keeps_the_owner_and_the_group);
    suite_add_tcase(s, t);
    return s;
}
