/* Beside the venue, or in the user's own state folder where that cannot be.
 *
 * A journal is trusted only when it is ours: no link, a regular file, of this user, with one
 * name. The lock is flock's: a killed editor holds none. The one who waits for a lock may get it
 * on a file that its last holder has removed meanwhile: so the name is looked up once more. */
#include "file/journal_file.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/utf8.h"
#include "file/home.h"
#include "file/journal.h"
#include "file/record.h"

enum { NAME_ROOM = 200, OPEN_TRIES = 8 };

/* What one try to open came to. */
enum outcome {
    OPENED,
    REFUSED,   /* *e tells why */
    ELSEWHERE, /* not here: an errno in the seeker says why */
    AGAIN,     /* its holder removed it under our hands */
};

struct seeker {
    struct journal_file *f;
    const char *path; /* the venue's, as the user knows it */
    int why;
    struct err *e;
};

static enum outcome refuse(struct seeker *s, enum err_code code, const char *says)
{
    err_set(s->e, code, s->path, "its journal %s/%s %s", s->f->at.dir, s->f->at.name, says);
    return REFUSED;
}

/* --- who holds it --------------------------------------------------------------------------- */

/* The last line of the kind in a journal that need not be whole: a line proves itself. */
static const char *last_open(const struct str *bytes, size_t *len)
{
    const char *found = NULL, *end = str_text(bytes) + bytes->len;
    for (const char *at = str_text(bytes); at < end;) {
        const char *payload, *stop = memchr(at, '\n', (size_t)(end - at));
        size_t n;
        if (record_next(at, (size_t)(end - at), &payload, &n) && n > strlen(JOURNAL_OPEN) &&
            memcmp(payload, JOURNAL_OPEN, strlen(JOURNAL_OPEN)) == 0) {
            found = payload + strlen(JOURNAL_OPEN);
            *len = n - strlen(JOURNAL_OPEN);
        }
        at = stop ? stop + 1 : end;
    }
    return found;
}

static enum outcome busy(struct seeker *s)
{
    struct str bytes = {0}, host = {0};
    size_t len = 0;
    int why = disk_read_all(s->f->fd, JOURNAL_MAX, &bytes);
    const char *who = why ? NULL : last_open(&bytes, &len);
    const char *space = who ? memchr(who, ' ', len) : NULL;
    if (space) {
        char *raw = mem_new(len + 1, 1);
        memcpy(raw, space + 1, len - (size_t)(space + 1 - who));
        utf8_safe(&host, raw, 64, false);
        mem_free(raw);
        err_set(s->e, ERR_CHANGED, s->path, "is being edited by process %.*s on %s; close it there",
                (int)(space - who > 20 ? 20 : space - who), who, str_text(&host));
    } else {
        err_set(s->e, ERR_CHANGED, s->path, "is being edited by another process; close it there");
    }
    str_clear(&host);
    str_clear(&bytes);
    return REFUSED;
}

/* --- one try -------------------------------------------------------------------------------- */

static const char foreign[] = "belongs to another user, who is editing or left work; open the "
                              "venue for reading only, or ask them";

static enum outcome cannot_open(struct seeker *s, int why)
{
    struct stat there;
    bool exists = fstatat(s->f->at.folder, s->f->at.name, &there, AT_SYMLINK_NOFOLLOW) == 0;
    if (exists && !S_ISREG(there.st_mode))
        return refuse(s, ERR_WRITE, "is not a regular file; remove it");
    if (exists && there.st_uid != geteuid())
        return refuse(s, ERR_CHANGED, foreign);
    s->why = why;
    if (why == EACCES || why == EPERM || why == EROFS || why == ENOSPC || why == EDQUOT)
        return ELSEWHERE;
    disk_failed(s->e, ERR_WRITE, s->path, "no journal can be kept beside it", why);
    return REFUSED;
}

/* Whether the open file is fit to be a journal of ours. */
static enum outcome inspect(struct seeker *s)
{
    struct stat is;
    if (fstat(s->f->fd, &is) < 0)
        return cannot_open(s, errno);
    if (!S_ISREG(is.st_mode))
        return refuse(s, ERR_WRITE, "is not a regular file; remove it");
    if (is.st_uid != geteuid())
        return refuse(s, ERR_CHANGED, foreign);
    if (is.st_nlink > 1)
        return refuse(s, ERR_WRITE, "has a second name (a hard link); remove it");
    if ((uintmax_t)is.st_size > JOURNAL_MAX)
        return refuse(s, ERR_WRITE, "is longer than any journal; move it away");
    s->f->when = is.st_mtime;
    return OPENED;
}

static bool has_no_locks(int why)
{
    return why == ENOLCK || why == EBADF || why == EOPNOTSUPP || why == ENOSYS;
}

/* On a disk without locks nobody is warned; but a save still looks before it writes. */
static enum outcome lock(struct seeker *s)
{
    struct stat ours, named;
    if (flock(s->f->fd, LOCK_EX | LOCK_NB) < 0 && !has_no_locks(errno))
        return errno == EWOULDBLOCK ? busy(s) : errno == EINTR ? AGAIN : cannot_open(s, errno);
    if (fstat(s->f->fd, &ours) < 0)
        return cannot_open(s, errno);
    if (fstatat(s->f->at.folder, s->f->at.name, &named, AT_SYMLINK_NOFOLLOW) < 0)
        return errno == ENOENT ? AGAIN : cannot_open(s, errno);
    return ours.st_ino == named.st_ino && ours.st_dev == named.st_dev ? OPENED : AGAIN;
}

static enum outcome open_once(struct seeker *s)
{
    int flags = O_RDWR | O_APPEND | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY | O_CLOEXEC;
    s->f->fd = openat(s->f->at.folder, s->f->at.name, flags | O_CREAT, 0600);
    if (s->f->fd < 0)
        return cannot_open(s, errno);
    enum outcome o = inspect(s);
    if (o == OPENED)
        o = lock(s);
    if (o == OPENED)
        return o;
    close(s->f->fd);
    s->f->fd = -1;
    return o;
}

/* Opens the journal at f->at; only AGAIN never comes out. */
static enum outcome open_here(struct seeker *s)
{
    enum outcome o = AGAIN;
    for (int tries = 0; o == AGAIN && tries < OPEN_TRIES; tries++)
        o = open_once(s);
    if (o != AGAIN)
        return o;
    return refuse(s, ERR_CHANGED, "comes and goes; close the other editors, then try again");
}

/* --- the two places ------------------------------------------------------------------------- */

/* Names the venue in one line, whatever bytes its name has. */
static void name_venue(struct str *out, const char *name)
{
    str_cut(out, 0);
    for (; *name; name++) {
        unsigned char c = (unsigned char)*name;
        if (c < 0x20 || c == 0x7f || c == '%')
            str_addf(out, "%%%02X", c);
        else
            str_addc(out, *name);
    }
}

static enum outcome open_beside(struct seeker *s)
{
    struct place *at = &s->f->at;
    if (!place_open(at, s->path, ERR_WRITE, s->e))
        return REFUSED;
    name_venue(&s->f->venue, at->name);
    char name[NAME_ROOM + 1];
    if (strlen(at->name) > NAME_ROOM) {
        disk_failed(s->e, ERR_WRITE, s->path, "no journal can be kept beside it", ENAMETOOLONG);
        return REFUSED;
    }
    strcpy(name, at->name);
    snprintf(at->name, sizeof at->name, ".%s.journal", name);
    return open_here(s);
}

/* The venue's whole path, through no links; false when its folder has none any more. */
static bool whole_path(struct str *out, const struct place *at)
{
    char *dir = realpath(at->dir, NULL);
    if (dir)
        str_addf(out, "%s/%s", strcmp(dir, "/") == 0 ? "" : dir, at->name);
    free(dir);
    return dir != NULL;
}

static enum outcome no_journal(struct seeker *s, const char *beside, const char *folder)
{
    err_set(s->e, ERR_WRITE, s->path, "no journal can be kept, neither beside it (%s) nor in %s",
            beside, folder);
    return REFUSED;
}

/* Names the journal in the state folder: the venue's name, and a sum of its whole path. */
static bool name_in_state(struct seeker *s)
{
    struct str path = {0};
    struct place venue;
    struct err ignored;
    bool known = place_open(&venue, s->path, ERR_WRITE, &ignored) && whole_path(&path, &venue);
    if (known) {
        name_venue(&s->f->venue, path.text);
        snprintf(s->f->at.name, sizeof s->f->at.name, "%.*s-%016" PRIx64 ".journal", NAME_ROOM,
                 venue.name, stamp_of(path.text, path.len).hash);
    }
    place_close(&venue);
    str_clear(&path);
    return known;
}

static enum outcome open_in_state(struct seeker *s, const char *folder)
{
    struct err ignored;
    struct place *at = &s->f->at;
    const char *beside = strerror(s->why);
    if (!name_in_state(s) || strlen(folder) >= sizeof at->dir ||
        !disk_make_folder(folder, 0700, &ignored))
        return no_journal(s, beside, folder);
    strcpy(at->dir, folder);
    at->folder = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (at->folder < 0)
        return no_journal(s, beside, folder);
    enum outcome o = open_here(s);
    return o == ELSEWHERE ? no_journal(s, beside, folder) : o;
}

static enum outcome open_in_home(struct seeker *s)
{
    struct str folder = {0};
    enum outcome o = REFUSED;
    place_close(&s->f->at);
    if (home_folder(&folder, "XDG_STATE_HOME", ".local/state")) {
        str_add(&folder, "/boothwright");
        o = open_in_state(s, folder.text);
    } else {
        err_set(s->e, ERR_WRITE, s->path,
                "no journal can be kept beside it (%s), and HOME is not set", strerror(s->why));
    }
    str_clear(&folder);
    return o;
}

bool journal_file_open(struct journal_file *f, const char *path, struct err *e)
{
    *f = (struct journal_file){.fd = -1, .at.folder = -1, .name_is_new = true};
    struct seeker s = {.f = f, .path = path, .e = e};
    enum outcome o = open_beside(&s);
    if (o == ELSEWHERE)
        o = open_in_home(&s);
    if (o == OPENED)
        return true;
    journal_file_close(f, true);
    return false;
}

void journal_file_close(struct journal_file *f, bool keep)
{
    struct stat ours, named;
    if (f->fd >= 0 && !keep && fstat(f->fd, &ours) == 0 &&
        fstatat(f->at.folder, f->at.name, &named, AT_SYMLINK_NOFOLLOW) == 0 &&
        ours.st_ino == named.st_ino && ours.st_dev == named.st_dev)
        unlinkat(f->at.folder, f->at.name, 0);
    if (f->fd >= 0)
        close(f->fd);
    f->fd = -1;
    place_close(&f->at);
    str_clear(&f->venue);
}
