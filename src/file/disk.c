/* Whole files, and the folders that hold them.
 *
 * A folder is opened once and its files are reached through it, so that nothing that happens to
 * the path meanwhile (a folder renamed, a link turned elsewhere) can lead to another place. What
 * is no regular file is opened without waiting and never read: a pipe would hang us, a device
 * would never end. */
#include "file/disk.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"

enum { LINK_HOPS = 8, CHUNK = 64 * 1024 };

bool disk_failed(struct err *e, enum err_code code, const char *path, const char *what, int why)
{
    static const struct {
        int why;
        const char *advice;
    } table[] = {
        {ENOSPC, "; make room on its disk, or use another one"},
        {EDQUOT, "; your share of the disk is used up: make room, or use another one"},
        {EFBIG, "; make room, or use another disk"},
        {EROFS, "; its disk can only be read: use another one"},
        {EACCES, "; you need leave to write there: use another folder"},
        {EPERM, "; it belongs to somebody else: use another folder"},
        {EIO, "; the disk may be failing: use another one"},
        {EMFILE, "; close other files or programs, then try again"},
        {ENFILE, "; close other files or programs, then try again"},
        {ENOENT, "; its folder is not there: make it, or use another one"},
        {ENOTDIR, "; its folder is no folder: use another one"},
        {ENAMETOOLONG, "; choose a shorter name"},
        {ELOOP, "; its links lead in a ring"},
        {EINTR, "; try again"},
    };
    const char *advice = "";
    for (size_t i = 0; code != ERR_READ && i < sizeof table / sizeof *table; i++)
        if (table[i].why == why)
            advice = table[i].advice;
    return err_set(e, code, path, "%s: %s%s", what, strerror(why), advice);
}

/* --- reading -------------------------------------------------------------------------------- */

int disk_read_all(int fd, size_t max, struct str *out)
{
    char *chunk = mem_alloc(CHUNK);
    int why = 0;
    for (ssize_t n = 1; n != 0 && !why;) {
        n = read(fd, chunk, CHUNK);
        if (n < 0 && errno != EINTR)
            why = errno;
        else if (n > 0 && (size_t)n > max - out->len)
            why = EFBIG;
        else if (n > 0)
            str_addn(out, chunk, (size_t)n);
    }
    mem_free(chunk);
    return why;
}

static int read_regular(int fd, size_t max, struct sight *out)
{
    if (fstat(fd, &out->stat) < 0)
        return errno;
    if (!S_ISREG(out->stat.st_mode))
        return EINVAL;
    if ((uintmax_t)out->stat.st_size > max)
        return EFBIG;
    int why = disk_read_all(fd, max, &out->bytes);
    out->stamp = stamp_of(out->bytes.text, out->bytes.len);
    return why;
}

static int look_with(int folder, const char *name, int flags, size_t max, struct sight *out)
{
    *out = (struct sight){0};
    int fd = openat(folder, name, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC | flags);
    if (fd < 0)
        return errno == ENOENT ? 0 : errno == ENXIO ? EINVAL : errno;
    int why = read_regular(fd, max, out);
    close(fd);
    if (why)
        sight_clear(out);
    return why;
}

int sight_at(int folder, const char *name, size_t max, struct sight *out)
{
    return look_with(folder, name, O_NOFOLLOW, max, out);
}

void sight_clear(struct sight *l)
{
    str_clear(&l->bytes);
    *l = (struct sight){0};
}

bool disk_read_or_none(const char *path, struct str *out, struct stamp *seen, struct err *e)
{
    struct sight l;
    str_clear(out);
    int why = look_with(AT_FDCWD, path, 0, DISK_FILE_MAX, &l);
    *seen = l.stamp;
    *out = l.bytes;
    if (why == EINVAL)
        return err_set(e, ERR_READ, path, "is not a regular file; a venue is one");
    if (why == EFBIG)
        return err_set(e, ERR_READ, path, "is longer than 1 MiB; a venue is shorter");
    if (why)
        return disk_failed(e, ERR_READ, path, "cannot be read", why);
    return true;
}

bool disk_read(const char *path, struct str *out, struct stamp *seen, struct err *e)
{
    if (!disk_read_or_none(path, out, seen, e))
        return false;
    return seen->exists || disk_failed(e, ERR_READ, path, "cannot be read", ENOENT);
}

/* --- writing -------------------------------------------------------------------------------- */

int disk_write_all(int fd, const char *bytes, size_t n)
{
    while (n > 0) {
        ssize_t done = write(fd, bytes, n);
        if (done < 0 && errno != EINTR)
            return errno;
        if (done == 0)
            return ENOSPC;
        if (done > 0) {
            bytes += done;
            n -= (size_t)done;
        }
    }
    return 0;
}

int disk_sync_folder(int folder)
{
    return fsync(folder) < 0 && errno != EINVAL ? errno : 0;
}

/* --- places --------------------------------------------------------------------------------- */

/* Puts what the link at path says in the place of its last part; path has PATH_MAX bytes. */
static int follow(char *path, const char *target)
{
    char *slash = strrchr(path, '/');
    size_t keep = *target == '/' || !slash ? 0 : (size_t)(slash - path) + 1;
    if (keep + strlen(target) >= PATH_MAX)
        return ENAMETOOLONG;
    memcpy(path + keep, target, strlen(target) + 1);
    return 0;
}

/* Follows path, in its own PATH_MAX bytes, until its last part is no link; returns an errno. */
static int resolve(char *path)
{
    char target[PATH_MAX];
    for (int hop = 0; hop <= LINK_HOPS; hop++) {
        ssize_t n = readlink(path, target, sizeof target - 1);
        if (n < 0)
            return errno == EINVAL || errno == ENOENT ? 0 : errno;
        target[n] = '\0';
        int why = follow(path, target);
        if (why)
            return why;
    }
    return ELOOP;
}

/* Parts a path into its folder and the name in there; returns an errno. */
static int split(struct place *p, const char *path)
{
    const char *slash = strrchr(path, '/');
    const char *name = slash ? slash + 1 : path;
    if (!*name || strcmp(name, ".") == 0 || strcmp(name, "..") == 0)
        return EISDIR;
    if (strlen(name) > NAME_MAX)
        return ENAMETOOLONG;
    strcpy(p->name, name);
    if (!slash)
        strcpy(p->dir, ".");
    else
        snprintf(p->dir, sizeof p->dir, "%.*s", slash == path ? 1 : (int)(slash - path), path);
    return 0;
}

static int place_find(struct place *p, const char *path)
{
    char real[PATH_MAX];
    if (strlen(path) >= sizeof real)
        return ENAMETOOLONG;
    strcpy(real, path);
    int why = resolve(real);
    if (!why)
        why = split(p, real);
    if (why)
        return why;
    p->folder = open(p->dir, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    return p->folder < 0 ? errno : 0;
}

bool place_open(struct place *p, const char *path, enum err_code code, struct err *e)
{
    *p = (struct place){.folder = -1};
    int why = place_find(p, path);
    if (why == EISDIR)
        return err_set(e, code, path, "names a folder; a file was expected");
    return !why || disk_failed(e, code, path, "its folder cannot be opened", why);
}

void place_close(struct place *p)
{
    if (p->folder >= 0)
        close(p->folder);
    p->folder = -1;
}

/* --- folders -------------------------------------------------------------------------------- */

/* Makes one folder and gets its name onto the disk; returns 0 or an errno. */
static int make_one(const char *path, mode_t mode)
{
    struct place above = {.folder = -1};
    if (mkdir(path, mode) < 0)
        return errno;
    int why = split(&above, path);
    if (!why)
        above.folder = open(above.dir, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (above.folder >= 0)
        why = disk_sync_folder(above.folder);
    place_close(&above);
    return why;
}

static bool is_folder(const char *path)
{
    struct stat s;
    return stat(path, &s) == 0 && S_ISDIR(s.st_mode);
}

bool disk_make_folder(const char *path, mode_t mode, struct err *e)
{
    struct str part = {0};
    int why = 0;
    for (const char *p = path; *p && !why; p = p + strcspn(p, "/")) {
        p += strspn(p, "/");
        str_cut(&part, 0);
        str_addn(&part, path, (size_t)(p - path) + strcspn(p, "/"));
        if (*p && !is_folder(part.text))
            why = make_one(part.text, mode);
        if (why == EEXIST && is_folder(part.text))
            why = 0;
    }
    str_clear(&part);
    return !why || disk_failed(e, ERR_WRITE, path, "the folder cannot be made", why);
}
