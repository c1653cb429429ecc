/* Whole screens: NAME.events is played without a terminal, the screen must be NAME.screen. With
 * UPDATE=1 in the environment the pictures are written instead; look at every one of them. */
#include <check.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/str.h"
#include "file/disk.h"
#include "support/play_file.h"

#define FOLDER "tests/screens/"

static int by_name(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

static char *name_of_picture(int i)
{
    char *names[256], *chosen = NULL;
    size_t n = 0;
    DIR *d = opendir(FOLDER);
    for (struct dirent *f; d && n < 256 && (f = readdir(d));)
        if (strstr(f->d_name, ".events"))
            names[n++] = mem_text(f->d_name);
    if (d)
        closedir(d);
    qsort(names, n, sizeof *names, by_name);
    for (size_t k = 0; k < n; k++) {
        if ((int)k == i)
            chosen = mem_text(names[k]);
        mem_free(names[k]);
    }
    return chosen;
}

static int count_pictures(void)
{
    int n = 0;
    for (char *name; (name = name_of_picture(n)); n++)
        mem_free(name);
    return n;
}

static void read_whole(const char *file, struct str *out)
{
    struct stamp seen;
    struct err e;
    ck_assert_msg(disk_read(file, out, &seen, &e), "%s: %s", file, e.says);
}

START_TEST(the_screen_is_the_picture)
{
    char *name = name_of_picture(_i);
    ck_assert_msg(name != NULL, "no pictures: run the tests from the project's folder");
    struct str events_file = {0}, picture_file = {0}, events = {0}, picture = {0};
    str_addf(&events_file, FOLDER "%s", name);
    str_addf(&picture_file, FOLDER "%.*s.screen", (int)(strlen(name) - 7), name);
    read_whole(events_file.text, &events);
    struct play p;
    play_begin(&p);
    play(&p, events.text);
    const char *screen = play_screen(&p);
    if (getenv("UPDATE")) {
        FILE *f = fopen(picture_file.text, "w");
        ck_assert(f != NULL && fputs(screen, f) >= 0 && fclose(f) == 0);
    } else {
        read_whole(picture_file.text, &picture);
        ck_assert_msg(strcmp(screen, picture.text) == 0, "%s: expected\n%s\nbut it is\n%s", name,
                      picture.text, screen);
    }
    play_end(&p);
    str_clear(&events_file);
    str_clear(&picture_file);
    str_clear(&events);
    str_clear(&picture);
    mem_free(name);
}
END_TEST

START_TEST(the_picture_in_the_readme_is_a_screen)
{
    struct str readme = {0}, picture = {0};
    read_whole("README.md", &readme);
    read_whole(FOLDER "readme.screen", &picture);
    ck_assert_msg(strstr(readme.text, picture.text) != NULL,
                  "README.md shows another screen than " FOLDER "readme.screen");
    str_clear(&readme);
    str_clear(&picture);
}
END_TEST

Suite *test_screens(void)
{
    Suite *s = suite_create("screens");
    TCase *t = tcase_create("pictures");
    int n = count_pictures();
    tcase_add_loop_test(t, the_screen_is_the_picture, 0, n ? n : 1);
    tcase_add_test(t, the_picture_in_the_readme_is_a_screen);
    suite_add_tcase(s, t);
    return s;
}
