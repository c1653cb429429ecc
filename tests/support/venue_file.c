#include "support/venue_file.h"

#include <check.h>
#include <glob.h>
#include <stdio.h>

#include "base/mem.h"

struct str file_bytes(const char *path)
{
    struct str s = {0};
    char part[4096];
    FILE *f = fopen(path, "rb");
    ck_assert_msg(f != NULL, "%s cannot be read", path);
    for (size_t n; (n = fread(part, 1, sizeof part, f)) > 0;)
        str_addn(&s, part, n);
    fclose(f);
    return s;
}

struct texts venue_paths(void)
{
    glob_t found;
    struct texts paths = {0};
    ck_assert_int_eq(glob("venues/*.json", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++)
        texts_add(&paths, found.gl_pathv[i]);
    globfree(&found);
    ck_assert_uint_ge(paths.n, 5);
    return paths;
}

void paths_clear(struct texts *paths)
{
    while (paths->n)
        texts_remove(paths, paths->n - 1);
    mem_free(paths->v);
}
