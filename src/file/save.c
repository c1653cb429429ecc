/* A save, step by step:
 *
 *     lock the folder -> look: is it still what we saw? -> write .NAME.tmp, onto the disk
 *     -> the old bytes as NAME.bak -> look again -> .NAME.tmp becomes NAME -> folder onto the disk
 *
 * Up to the switch the old file is untouched, and the switch is one call that the system does
 * wholly or not at all. Two of us cannot save in one folder at a time: the lock is the folder's
 * own (flock), so it needs no file and goes away with a killed process. Where the disk knows no
 * such lock (some network disks), .NAME.tmp itself is the lock: only then is an old one left
 * alone, and the user told to remove it. */
#include "file/save.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <time.h>
#include <unistd.h>

#include "file/disk.h"

enum { NAME_ROOM = 240, LOCK_TRIES = 9 };

struct save {
    const char *path; /* as the user knows it */
    const char *bytes;
    size_t n;
    struct place at;
    struct sight old; /* the file as it was when we began */
    char temp[NAME_MAX + 1], bak[NAME_MAX + 1], bak_temp[NAME_MAX + 1];
    struct err *e;
};

static bool fail(struct save *s, const char *what, int why)
{
    return disk_failed(s->e, ERR_WRITE, s->path, what, why);
}

static bool changed(struct save *s, const char *says)
{
    return err_set(s->e, ERR_CHANGED, s->path, "%s", says);
}

static bool name_all(struct save *s)
{
    const char *name = s->at.name;
    if (strlen(name) > NAME_ROOM)
        return fail(s, "there is no room beside its name", ENAMETOOLONG);
    snprintf(s->temp, sizeof s->temp, ".%.240s.tmp", name);
    snprintf(s->bak, sizeof s->bak, "%.240s.bak", name);
    snprintf(s->bak_temp, sizeof s->bak_temp, ".%.240s.bak.tmp", name);
    return true;
}

/* Another save takes milliseconds: so wait for it, 1 ms, then 2, 4 and so on, in all half a
 * second; then say that it hangs. */
static bool lock(struct save *s)
{
    for (int tries = 0; tries < LOCK_TRIES; tries++) {
        const struct timespec pause = {.tv_nsec = 1000000L << tries};
        if (flock(s->at.folder, LOCK_EX | LOCK_NB) == 0) {
            unlinkat(s->at.folder, s->temp, 0);
            unlinkat(s->at.folder, s->bak_temp, 0);
            return true;
        }
        if (errno == ENOLCK || errno == EBADF || errno == EOPNOTSUPP || errno == ENOSYS)
            return true;
        if (errno != EWOULDBLOCK && errno != EINTR)
            return fail(s, "its folder cannot be locked, nothing was changed", errno);
        nanosleep(&pause, NULL);
    }
    return changed(s, "somebody else is saving in its folder just now; try again");
}

static const char *what_changed(const struct stamp *seen, const struct stamp *now)
{
    if (!now->exists)
        return "was deleted since it was read; save it under another name, or overwrite anyway";
    if (!seen->exists)
        return "was made by somebody else meanwhile; reload it, save under another name, or "
               "overwrite";
    return "was changed by somebody else since it was read; reload it, save under another name, or "
           "overwrite";
}

/* Whether the file may be replaced at all, and is still the one that the caller saw. */
static bool look(struct save *s, const struct stamp *seen)
{
    int why = sight_at(s->at.folder, s->at.name, DISK_FILE_MAX, &s->old);
    if (why == EINVAL)
        return err_set(s->e, ERR_WRITE, s->path, "is not a regular file; choose another name");
    if (why == EFBIG)
        return err_set(s->e, ERR_WRITE, s->path, "is longer than any venue; choose another name");
    if (why)
        return fail(s, "the version on disk cannot be looked at, nothing was changed", why);
    if (seen && !stamp_same(seen, &s->old.stamp))
        return changed(s, what_changed(seen, &s->old.stamp));
    if (s->old.stamp.exists && s->old.stat.st_nlink > 1)
        return err_set(s->e, ERR_WRITE, s->path,
                       "has a second name (a hard link), and saving would part the two; save it "
                       "under another name");
    return true;
}

/* Gives the file at fd the owner, group and mode of the old one. Who may not give a file away
 * keeps it, and then the strangers' rights are all that its new group gets. */
static int dress(int fd, const struct stat *old)
{
    struct stat now;
    mode_t mode = old->st_mode & 0777;
    if (fstat(fd, &now) < 0)
        return errno;
    bool ours = now.st_uid == old->st_uid && now.st_gid == old->st_gid;
    if (!ours && fchown(fd, old->st_uid, old->st_gid) < 0) {
        if (errno != EPERM && errno != EINVAL)
            return errno;
        if (now.st_gid != old->st_gid && fchown(fd, (uid_t)-1, old->st_gid) < 0)
            mode = (mode & 0707) | (mode & 07) << 3;
    }
    if ((now.st_mode & 0777) != mode && fchmod(fd, mode) < 0 && errno != EPERM)
        return errno;
    return 0;
}

static int fill(int fd, const char *bytes, size_t n, const struct sight *old)
{
    int why = disk_write_all(fd, bytes, n);
    if (!why && old->stamp.exists)
        why = dress(fd, &old->stat);
    if (!why && fsync(fd) < 0)
        why = errno;
    return why;
}

/* Makes the new file called name, whole and on the disk, or removes it again. */
static int write_beside(struct save *s, const char *name, const char *bytes, size_t n)
{
    int flags = O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC;
    int fd = openat(s->at.folder, name, flags, s->old.stamp.exists ? 0600 : 0666);
    if (fd < 0)
        return errno;
    int why = fill(fd, bytes, n, &s->old);
    if (close(fd) < 0 && !why && errno != EINTR)
        why = errno;
    if (why)
        unlinkat(s->at.folder, name, 0);
    return why;
}

static bool write_new(struct save *s)
{
    int why = write_beside(s, s->temp, s->bytes, s->n);
    if (why == EEXIST)
        return err_set(s->e, ERR_CHANGED, s->path,
                       "%s is in the way: another save is at work, or died; if none is, remove it",
                       s->temp);
    return !why || fail(s, "the new version cannot be written, nothing was changed", why);
}

/* Keeps the old bytes as NAME.bak; the same bytes once more would push out a real old version. */
static int keep_old(struct save *s)
{
    struct stamp fresh = stamp_of(s->bytes, s->n);
    if (!s->old.stamp.exists || stamp_same(&s->old.stamp, &fresh))
        return 0;
    int why = write_beside(s, s->bak_temp, s->old.bytes.text, s->old.bytes.len);
    if (!why && renameat(s->at.folder, s->bak_temp, s->at.folder, s->bak) < 0) {
        why = errno;
        unlinkat(s->at.folder, s->bak_temp, 0);
    }
    return why;
}

static bool look_again(struct save *s)
{
    struct sight now;
    int why = sight_at(s->at.folder, s->at.name, DISK_FILE_MAX, &now);
    bool same = !why && stamp_same(&now.stamp, &s->old.stamp);
    sight_clear(&now);
    if (why)
        return fail(s, "the version on disk cannot be looked at, nothing was changed", why);
    return same || changed(s, "was changed by somebody else while it was being saved; reload it, "
                              "or save under another name");
}

/* The one call that makes the new file the file. A new name is linked, which never replaces what
 * was born there meanwhile; on a disk without links it is renamed after the last look. */
static int switch_over(struct save *s)
{
    if (!s->old.stamp.exists) {
        if (linkat(s->at.folder, s->temp, s->at.folder, s->at.name, 0) == 0) {
            unlinkat(s->at.folder, s->temp, 0);
            return 0;
        }
        if (errno != EPERM && errno != EOPNOTSUPP && errno != ENOSYS && errno != EMLINK)
            return errno;
    }
    return renameat(s->at.folder, s->temp, s->at.folder, s->at.name) < 0 ? errno : 0;
}

/* A network disk may have done what it says has failed: only the file itself knows. */
static bool is_there_after_all(struct save *s)
{
    struct sight now;
    struct stamp fresh = stamp_of(s->bytes, s->n);
    bool there = sight_at(s->at.folder, s->at.name, DISK_FILE_MAX, &now) == 0 &&
                 stamp_same(&now.stamp, &fresh);
    sight_clear(&now);
    return there;
}

static bool replace(struct save *s)
{
    int why = switch_over(s);
    if (!why)
        return true;
    if (is_there_after_all(s)) {
        unlinkat(s->at.folder, s->temp, 0);
        return true;
    }
    if (why == EEXIST)
        return changed(s, "was made by somebody else meanwhile; reload it, or save under another "
                          "name");
    return fail(s, "the new version cannot take its place, nothing was changed", why);
}

/* From the folder locked to the end. */
static enum saved save_locked(struct save *s, const struct stamp *seen)
{
    if (!look(s, seen) || !write_new(s))
        return SAVED_NOT;
    int no_bak = keep_old(s);
    if (!look_again(s) || !replace(s)) {
        unlinkat(s->at.folder, s->temp, 0);
        return SAVED_NOT;
    }
    int why = disk_sync_folder(s->at.folder);
    if (why) {
        fail(s, "it is saved, but not yet safe on the disk (save again later)", why);
        return SAVED_UNSURE;
    }
    if (no_bak) {
        fail(s, "it is saved, but the version before could not be kept as .bak", no_bak);
        return SAVED_WITHOUT_BAK;
    }
    return SAVED;
}

enum saved save_file(const char *path, const char *bytes, size_t n, const struct stamp *seen,
                     struct err *e)
{
    assert(path && (bytes || n == 0) && n <= DISK_FILE_MAX && e);
    struct save s = {.path = path, .bytes = bytes, .n = n, .e = e};
    if (!place_open(&s.at, path, ERR_WRITE, e))
        return SAVED_NOT;
    enum saved end = name_all(&s) && lock(&s) ? save_locked(&s, seen) : SAVED_NOT;
    sight_clear(&s.old);
    place_close(&s.at);
    return end;
}
