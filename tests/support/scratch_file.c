/* Check runs each test in a process of its own, so one folder at a time is enough. */
#include "support/scratch_file.h"

#include <check.h>
#include <dirent.h>
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/str.h"

static char folder[256];

void scratch_make(void)
{
    const char *where = getenv("TMPDIR");
    snprintf(folder, sizeof folder, "%s/boothwright-XXXXXX", where && *where ? where : "/tmp");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    umask(022);
}

static int remove_one(const char *path, const struct stat *s, int kind, struct FTW *at)
{
    (void)s, (void)kind, (void)at;
    return remove(path);
}

void scratch_remove(void)
{
    nftw(folder, remove_one, 16, FTW_DEPTH | FTW_PHYS);
}

const char *scratch(const char *name)
{
    static char paths[8][512];
    static unsigned turn;
    char *path = paths[turn++ % 8];
    snprintf(path, sizeof *paths, *name ? "%s/%s" : "%s%s", folder, name);
    return path;
}

void scratch_put(const char *name, const char *text)
{
    FILE *f = fopen(scratch(name), "wb");
    ck_assert_ptr_nonnull(f);
    ck_assert_uint_eq(fwrite(text, 1, strlen(text), f), strlen(text));
    ck_assert_int_eq(fclose(f), 0);
    ck_assert_int_eq(chmod(scratch(name), 0640), 0);
}

bool scratch_holds(const char *name, const char *text)
{
    struct str got = {0};
    char chunk[4096];
    FILE *f = fopen(scratch(name), "rb");
    for (size_t n; f && (n = fread(chunk, 1, sizeof chunk, f)) > 0;)
        str_addn(&got, chunk, n);
    bool same = f && got.len == strlen(text) && strcmp(str_text(&got), text) == 0;
    if (f)
        fclose(f);
    str_clear(&got);
    return same;
}

bool scratch_has(const char *name)
{
    struct stat s;
    return lstat(scratch(name), &s) == 0;
}

mode_t scratch_mode(const char *name)
{
    struct stat s;
    ck_assert_int_eq(stat(scratch(name), &s), 0);
    return s.st_mode & 07777;
}

static int names_in(const char *path)
{
    int n = 0;
    DIR *d = opendir(path);
    ck_assert_ptr_nonnull(d);
    while (readdir(d))
        n++;
    closedir(d);
    return n;
}

int scratch_count(void)
{
    return names_in(folder) - 2;
}

int scratch_descriptors(void)
{
    return names_in("/dev/fd");
}

char *scratch_text(char letter, size_t n)
{
    char *text = mem_new(n + 1, 1);
    memset(text, letter, n);
    return text;
}
