#include "support/venue_file.h"

#include <check.h>
#include <glob.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "file/json_out.h"
#include "file/venue.h"

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

struct str example_line(void)
{
    struct str pretty = file_bytes("tests/file/example.json"), line = {0};
    struct err e;
    struct json *j = json_read(str_text(&pretty), pretty.len, &e);
    ck_assert(j != NULL);
    struct json_out w = json_on(&line, true);
    json_copy(&w, NULL, j);
    json_free(j);
    str_clear(&pretty);
    return line;
}

bool venue_holds(const char *text, size_t n, struct err *e)
{
    *e = (struct err){0};
    struct booth *b = venue_read(text, n, e);
    if (!b) {
        ck_assert_int_eq(e->code, ERR_READ);
        ck_assert_str_ne(e->says, "");
        return false;
    }
    struct str first = {0}, second = {0};
    venue_write(b, &first);
    struct booth *again = venue_read(str_text(&first), first.len, e);
    ck_assert_msg(again != NULL, "%s: %s: after saving %s", e->place, e->says, text);
    venue_write(again, &second);
    ck_assert_msg(booth_equal(b, again), "another booth: %s", text);
    ck_assert_str_eq(str_text(&first), str_text(&second));
    booth_free(b);
    booth_free(again);
    str_clear(&first);
    str_clear(&second);
    return true;
}

struct texts venue_paths(void)
{
    glob_t found;
    struct texts paths = {0};
    ck_assert_int_eq(glob("venues/*.json", 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++)
        if (!strstr(found.gl_pathv[i], ".schema.json"))
            texts_add(&paths, found.gl_pathv[i]);
    globfree(&found);
    ck_assert_uint_ge(paths.n, 5);
    return paths;
}

void paths_clear(struct texts *paths)
{
    texts_clear(paths);
}
