/* The folder is listed once, when it is opened: the start screen shows what was there then, and
 * whoever opens a file finds out by itself whether it still is. */
#include "file/store.h"

#include <assert.h>
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/mem.h"
#include "file/disk.h"
#include "file/home.h"

enum { SLUG_MAX = 64 };

static bool find_folder(struct str *out)
{
    const char *told = getenv("BOOTHWRIGHT_VENUES");
    if (told && *told) {
        str_add(out, told);
        return true;
    }
    if (!home_folder(out, "XDG_DATA_HOME", ".local/share"))
        return false;
    str_add(out, "/boothwright/venues");
    return true;
}

/* --- listing -------------------------------------------------------------------------------- */

static bool is_venue(int folder, const char *name)
{
    struct stat s;
    size_t n = strlen(name);
    return *name != '.' && n > 5 && strcmp(name + n - 5, ".json") == 0 &&
           fstatat(folder, name, &s, 0) == 0 && S_ISREG(s.st_mode);
}

static int by_bytes(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

/* Returns 0 or an errno. */
static int list(struct store *s)
{
    DIR *d = opendir(s->folder.text);
    if (!d)
        return errno == ENOENT ? 0 : errno;
    struct dirent *entry;
    while ((errno = 0, entry = readdir(d))) {
        if (!is_venue(dirfd(d), entry->d_name))
            continue;
        s->names = mem_grow(s->names, &s->cap, s->count + 1, sizeof *s->names);
        s->names[s->count++] = mem_text(entry->d_name);
    }
    int why = errno;
    closedir(d);
    if (s->count)
        qsort(s->names, s->count, sizeof *s->names, by_bytes);
    return why;
}

bool store_open(struct store *s, struct err *e)
{
    *s = (struct store){0};
    if (!find_folder(&s->folder))
        return err_set(e, ERR_READ, "",
                       "where are the venues? HOME is not set; name a file, or set "
                       "BOOTHWRIGHT_VENUES to a folder");
    int why = list(s);
    return !why || disk_failed(e, ERR_READ, s->folder.text, "the venues cannot be listed", why);
}

void store_clear(struct store *s)
{
    for (size_t i = 0; i < s->count; i++)
        mem_free(s->names[i]);
    mem_free(s->names);
    str_clear(&s->folder);
    *s = (struct store){0};
}

void store_path(const struct store *s, size_t which, struct str *out)
{
    assert(which < s->count);
    str_addf(out, "%s/%s", str_text(&s->folder), s->names[which]);
}

/* --- new names ------------------------------------------------------------------------------ */

/* Appends name as lower-case ASCII letters and digits with single hyphens between them. */
static void slug(struct str *out, const char *name)
{
    size_t start = out->len;
    for (; *name && out->len - start < SLUG_MAX; name++) {
        char c = *name >= 'A' && *name <= 'Z' ? (char)(*name - 'A' + 'a') : *name;
        if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'))
            str_addc(out, c);
        else if (out->len > start && out->text[out->len - 1] != '-')
            str_addc(out, '-');
    }
    if (out->len > start && out->text[out->len - 1] == '-')
        str_cut(out, out->len - 1);
    if (out->len == start)
        str_add(out, "venue");
}

static bool taken(const char *path)
{
    struct stat s;
    return lstat(path, &s) == 0;
}

void store_new_path(const struct store *s, const char *name, struct str *out)
{
    struct str path = {0};
    str_addf(&path, "%s/", str_text(&s->folder));
    slug(&path, name ? name : "");
    size_t stem = path.len;
    str_add(&path, ".json");
    for (int number = 2; taken(path.text); number++) {
        str_cut(&path, stem);
        str_addf(&path, "-%d.json", number);
    }
    str_add(out, path.text);
    str_clear(&path);
}

bool store_make(const struct store *s, struct err *e)
{
    return disk_make_folder(str_text(&s->folder), 0777, e);
}
