/* Each wrapped call counts itself, fails if it is its turn, and otherwise does the real thing;
 * but a sync is not carried out: only that it was asked for matters here, and it is slow. */
#include "support/faults_file.h"

#ifndef HAVE_wrap

bool faults_linked(void)
{
    return false;
}

void faults_on(struct faults f)
{
    (void)f;
}

struct faults_seen faults_off(void)
{
    return (struct faults_seen){0};
}

#else

#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static struct faults plan;
static struct faults_seen seen;
static bool on;
static ino_t dirty[8]; /* files written to and not synced since; 0: none */

enum { DIRTY = sizeof dirty / sizeof *dirty };

bool faults_linked(void)
{
    return true;
}

void faults_on(struct faults f)
{
    plan = f;
    seen = (struct faults_seen){0};
    memset(dirty, 0, sizeof dirty);
    on = true;
}

struct faults_seen faults_off(void)
{
    on = false;
    return seen;
}

/* Whether the failure of this call can leave the answer as it is: what was only read needs no
 * good close, what should be gone may stay, what was interrupted is tried again, and once the
 * folder is on the disk all is done. */
static bool harmless(const char *call, int fd)
{
    return (strcmp(call, "close") == 0 && (fcntl(fd, F_GETFL) & O_ACCMODE) == O_RDONLY) ||
           strcmp(call, "unlinkat") == 0 || plan.with == EINTR || seen.folder_synced;
}

static bool fails(const char *call, int fd)
{
    if (!on || (plan.call && strcmp(plan.call, call) != 0))
        return false;
    if (plan.before) {
        on = false;
        plan.before(call);
        on = true;
    }
    seen.calls++;
    if (!plan.fails || (plan.for_ever ? seen.calls < plan.fails : seen.calls != plan.fails))
        return false;
    if (!seen.failed && !harmless(call, fd))
        seen.failed = call;
    errno = plan.with;
    return true;
}

#define WRAP(result, name, first, params, args)                                                    \
    result __real_##name params;                                                                   \
    result __wrap_##name params                                                                    \
    {                                                                                              \
        return fails(#name, first) ? -1 : __real_##name args;                                      \
    }

WRAP(ssize_t, read, fd, (int fd, void *to, size_t n), (fd, to, n))
WRAP(int, fstat, fd, (int fd, struct stat *s), (fd, s))
WRAP(int, fstatat, d, (int d, const char *p, struct stat *s, int f), (d, p, s, f))
WRAP(int, fchmod, fd, (int fd, mode_t m), (fd, m))
WRAP(int, fchown, fd, (int fd, uid_t u, gid_t g), (fd, u, g))
WRAP(int, flock, fd, (int fd, int how), (fd, how))
WRAP(int, ftruncate, fd, (int fd, off_t n), (fd, n))
WRAP(int, unlinkat, d, (int d, const char *p, int f), (d, p, f))
WRAP(int, mkdir, -1, (const char *p, mode_t m), (p, m))
WRAP(ssize_t, readlink, -1, (const char *p, char *to, size_t n), (p, to, n))

/* A descriptor is gone even when its close failed (so it is on Linux): else each would look like
 * a leak. */
int __real_close(int fd);
int __wrap_close(int fd)
{
    bool fail = fails("close", fd);
    int result = __real_close(fd);
    if (fail)
        errno = plan.with;
    return fail ? -1 : result;
}

static int dirty_slot(ino_t file)
{
    int at = 0;
    while (at < DIRTY - 1 && dirty[at] != file)
        at++;
    return at;
}

static void set_dirty(int fd, bool is)
{
    struct stat s;
    if (!on || __real_fstat(fd, &s) < 0)
        return;
    int at = dirty_slot(s.st_ino);
    if (dirty[at] != s.st_ino)
        at = dirty_slot(0);
    dirty[at] = is ? s.st_ino : 0;
}

ssize_t __real_write(int fd, const void *from, size_t n);
ssize_t __wrap_write(int fd, const void *from, size_t n)
{
    if (fails("write", fd))
        return -1;
    set_dirty(fd, true);
    return __real_write(fd, from, on && plan.at_most && n > plan.at_most ? plan.at_most : n);
}

static int sync_seen(int fd)
{
    struct stat s;
    if (__real_fstat(fd, &s) == 0 && S_ISDIR(s.st_mode))
        seen.folder_synced = true;
    else
        set_dirty(fd, false);
    return 0;
}

int __real_fsync(int fd);
int __wrap_fsync(int fd)
{
    return fails("fsync", fd) ? -1 : on ? sync_seen(fd) : __real_fsync(fd);
}

int __real_fdatasync(int fd);
int __wrap_fdatasync(int fd)
{
    return fails("fdatasync", fd) ? -1 : on ? sync_seen(fd) : __real_fdatasync(fd);
}

/* The file called name is about to get another name as well, or instead. */
static void name_changes(int folder, const char *name)
{
    struct stat s;
    bool there = on && __real_fstatat(folder, name, &s, AT_SYMLINK_NOFOLLOW) == 0;
    for (int i = 0; there && i < DIRTY; i++)
        seen.hasty = seen.hasty || dirty[i] == s.st_ino;
    seen.folder_synced = false;
}

int __real_renameat(int a, const char *from, int b, const char *to);
int __wrap_renameat(int a, const char *from, int b, const char *to)
{
    if (fails("renameat", a))
        return -1;
    name_changes(a, from);
    return __real_renameat(a, from, b, to);
}

int __real_linkat(int a, const char *from, int b, const char *to, int flags);
int __wrap_linkat(int a, const char *from, int b, const char *to, int flags)
{
    if (fails("linkat", a))
        return -1;
    name_changes(a, from);
    return __real_linkat(a, from, b, to, flags);
}

static mode_t mode_in(int flags, va_list args)
{
    return flags & O_CREAT ? (mode_t)va_arg(args, unsigned) : 0;
}

int __real_open(const char *path, int flags, ...);
int __wrap_open(const char *path, int flags, ...)
{
    va_list args;
    va_start(args, flags);
    mode_t mode = mode_in(flags, args);
    va_end(args);
    return fails("open", -1) ? -1 : __real_open(path, flags, mode);
}

int __real_openat(int dir, const char *path, int flags, ...);
int __wrap_openat(int dir, const char *path, int flags, ...)
{
    va_list args;
    va_start(args, flags);
    mode_t mode = mode_in(flags, args);
    va_end(args);
    return fails("openat", dir) ? -1 : __real_openat(dir, path, flags, mode);
}

#endif
