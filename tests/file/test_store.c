#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"
#include "file/store.h"
#include "support/scratch_file.h"

static struct err e;

static void make(void)
{
    scratch_make();
    unsetenv("BOOTHWRIGHT_VENUES");
    unsetenv("XDG_DATA_HOME");
    setenv("HOME", scratch(""), 1);
}

/* The folder of the store, as the environment is. */
static const char *folder(void)
{
    static char path[512];
    struct store s;
    ck_assert_msg(store_open(&s, &e), "%s", e.says);
    snprintf(path, sizeof path, "%s", str_text(&s.folder));
    store_clear(&s);
    return path;
}

static const char *new_path(const struct store *s, const char *name)
{
    static struct str path;
    str_cut(&path, 0);
    store_new_path(s, name, &path);
    return str_text(&path);
}

START_TEST(the_folder_is_found_in_the_order_of_the_manual)
{
    ck_assert_str_eq(folder(), scratch(".local/share/boothwright/venues"));
    setenv("XDG_DATA_HOME", "relative", 1);
    ck_assert_str_eq(folder(), scratch(".local/share/boothwright/venues"));
    setenv("XDG_DATA_HOME", scratch("data"), 1);
    ck_assert_str_eq(folder(), scratch("data/boothwright/venues"));
    setenv("BOOTHWRIGHT_VENUES", "", 1);
    ck_assert_str_eq(folder(), scratch("data/boothwright/venues"));
    setenv("BOOTHWRIGHT_VENUES", scratch("mine"), 1);
    ck_assert_str_eq(folder(), scratch("mine"));
    unsetenv("HOME");
    ck_assert_str_eq(folder(), scratch("mine"));
}
END_TEST

static const char *const no_homes[] = {NULL, "", "relative/home"};

START_TEST(without_a_home_it_is_told_what_to_set)
{
    struct store s;
    if (no_homes[_i])
        setenv("HOME", no_homes[_i], 1);
    else
        unsetenv("HOME");
    ck_assert(!store_open(&s, &e));
    ck_assert(e.code == ERR_READ && strstr(e.says, "HOME") && strstr(e.says, "BOOTHWRIGHT_VENUES"));
    store_clear(&s);
}
END_TEST

START_TEST(a_folder_that_does_not_exist_is_empty_and_made_on_demand)
{
    struct store s;
    umask(027);
    ck_assert(store_open(&s, &e));
    ck_assert_uint_eq(s.count, 0);
    ck_assert(!scratch_has(".local"));
    ck_assert_msg(store_make(&s, &e), "%s", e.says);
    ck_assert(store_make(&s, &e));
    ck_assert_uint_eq(scratch_mode(".local/share/boothwright/venues"), 0750);
    ck_assert_uint_eq(scratch_mode(".local"), 0750);
    store_clear(&s);
}
END_TEST

START_TEST(a_file_in_the_way_of_the_folder_is_told)
{
    struct store s;
    scratch_put(".local", "a file");
    ck_assert(!store_open(&s, &e));
    ck_assert_int_eq(e.code, ERR_READ);
    ck_assert(!store_make(&s, &e));
    ck_assert(e.code == ERR_WRITE && scratch_holds(".local", "a file"));
    store_clear(&s);
}
END_TEST

START_TEST(venues_are_listed_by_name_and_nothing_else_is)
{
    struct store s;
    struct str path = {0};
    setenv("BOOTHWRIGHT_VENUES", scratch(""), 1);
    const char *files[] = {"shale.json",      "dunlin.json", "Gritstone.json", ".hidden.json",
                           "dunlin.json.bak", "notes.txt",   ".json",          "json"};
    for (size_t i = 0; i < sizeof files / sizeof *files; i++)
        scratch_put(files[i], "{}");
    ck_assert_int_eq(mkdir(scratch("folder.json"), 0755), 0);
    ck_assert_int_eq(symlink("gone", scratch("dangling.json")), 0);
    ck_assert_int_eq(symlink("shale.json", scratch("linked.json")), 0);
    ck_assert(store_open(&s, &e));
    ck_assert_uint_eq(s.count, 4);
    ck_assert_str_eq(s.names[0], "Gritstone.json");
    ck_assert_str_eq(s.names[1], "dunlin.json");
    ck_assert_str_eq(s.names[2], "linked.json");
    ck_assert_str_eq(s.names[3], "shale.json");
    store_path(&s, 1, &path);
    ck_assert_str_eq(path.text, scratch("dunlin.json"));
    str_clear(&path);
    store_clear(&s);
}
END_TEST

START_TEST(a_new_venue_gets_a_plain_name_that_is_free)
{
    struct store s;
    setenv("BOOTHWRIGHT_VENUES", scratch(""), 1);
    ck_assert(store_open(&s, &e));
    ck_assert_str_eq(new_path(&s, "Tideline Hall"), scratch("tideline-hall.json"));
    scratch_put("tideline-hall.json", "{}");
    ck_assert_str_eq(new_path(&s, "Tideline Hall"), scratch("tideline-hall-2.json"));
    ck_assert_int_eq(symlink("gone", scratch("tideline-hall-2.json")), 0);
    ck_assert_str_eq(new_path(&s, " Tideline -- Hall! "), scratch("tideline-hall-3.json"));
    store_clear(&s);
}
END_TEST

START_TEST(no_name_leads_out_of_the_folder)
{
    struct store s;
    char *longest = scratch_text('x', 300), *cut = scratch_text('x', 64);
    setenv("BOOTHWRIGHT_VENUES", scratch(""), 1);
    ck_assert(store_open(&s, &e));
    ck_assert_str_eq(new_path(&s, "../../etc/passwd"), scratch("etc-passwd.json"));
    ck_assert_str_eq(new_path(&s, "/a\n\033[31mb%s%n"), scratch("a-31mb-s-n.json"));
    ck_assert_str_eq(new_path(&s, "-n"), scratch("n.json"));
    ck_assert_str_eq(new_path(&s, ".."), scratch("venue.json"));
    ck_assert_str_eq(new_path(&s, "\xe6\xbc\xa2\xff"), scratch("venue.json"));
    ck_assert_str_eq(new_path(&s, ""), scratch("venue.json"));
    ck_assert_str_eq(new_path(&s, NULL), scratch("venue.json"));
    ck_assert_int_eq(strncmp(new_path(&s, longest) + strlen(scratch("")) + 1, cut, 64), 0);
    ck_assert_uint_eq(strlen(new_path(&s, longest)), strlen(scratch("")) + 1 + 64 + 5);
    store_clear(&s);
    mem_free(longest);
    mem_free(cut);
}
END_TEST

Suite *test_store(void)
{
    Suite *s = suite_create("file/store");
    TCase *t = tcase_create("store");
    tcase_add_checked_fixture(t, make, scratch_remove);
    tcase_add_test(t, the_folder_is_found_in_the_order_of_the_manual);
    tcase_add_loop_test(t, without_a_home_it_is_told_what_to_set, 0, 3);
    tcase_add_test(t, a_folder_that_does_not_exist_is_empty_and_made_on_demand);
    tcase_add_test(t, a_file_in_the_way_of_the_folder_is_told);
    tcase_add_test(t, venues_are_listed_by_name_and_nothing_else_is);
    tcase_add_test(t, a_new_venue_gets_a_plain_name_that_is_free);
    tcase_add_test(t, no_name_leads_out_of_the_folder);
    suite_add_tcase(s, t);
    return s;
}
