/* Files as whole pieces of bytes, and the folders they lie in.
 *
 * The ground for save.c, journal.c and store.c; everybody else needs only disk_read(). */
#ifndef FILE_DISK_H
#define FILE_DISK_H

#include <limits.h>
#include <stdbool.h>
#include <sys/stat.h>

#include "base/err.h"
#include "base/str.h"
#include "file/stamp.h"

/* A venue's file is never longer than this (in bytes); a longer one is refused unread. */
#define DISK_FILE_MAX ((size_t)1 << 20)

/* Reads the whole regular file at path (links are followed) into out, which it empties first, and
 * tells its stamp. False, with ERR_READ, when there is none, when it is a folder, a pipe or a
 * device (it never waits for one), when it is too long, or when reading fails. */
bool disk_read(const char *path, struct str *out, struct stamp *seen, struct err *e);

/* As disk_read(), but where there is no file yet that is no error: seen->exists is then false. */
bool disk_read_or_none(const char *path, struct str *out, struct stamp *seen, struct err *e);

/* --- for the rest of the room --------------------------------------------------------------- */

/* Where a file lies: its folder, held open, and its name in there. */
struct place {
    int folder;              /* a descriptor; -1 when closed */
    char dir[PATH_MAX];      /* the folder's path, as it was reached */
    char name[NAME_MAX + 1]; /* no link, unless somebody makes it one meanwhile */
};

/* Finds the place of path: a link is followed to the file it names, at most 8 times, even if
 * that file does not exist yet. On false (code says which kind) nothing stays open.
 * Close with place_close(). */
bool place_open(struct place *p, const char *path, enum err_code code, struct err *e);
void place_close(struct place *p);

/* A file as it stands. */
struct sight {
    struct stamp stamp;
    struct stat stat; /* of no meaning when the stamp says that there is no file */
    struct str bytes;
};

/* Looks at the file called name in the open folder: no link is followed, nothing but a regular
 * file of at most max bytes is read. Returns 0, also when there is no file; otherwise an errno:
 * EINVAL for what is not a regular file, EFBIG for what is too long, and out is empty.
 * Free with sight_clear(). */
int sight_at(int folder, const char *name, size_t max, struct sight *out);
void sight_clear(struct sight *l);

/* Reads from the open file to its end, at most max bytes; returns 0 or an errno (EFBIG). */
int disk_read_all(int fd, size_t max, struct str *out);

/* Writes n bytes, however many calls it takes; returns 0 or an errno. */
int disk_write_all(int fd, const char *bytes, size_t n);

/* Makes sure that the folder's list of names is on the disk; returns 0 or an errno. A file
 * system that cannot do that for folders (EINVAL) is taken at its word. */
int disk_sync_folder(int folder);

/* Makes the folder at path and those above it that are missing (mode & ~umask), and makes sure
 * that they are on the disk. True as well when it is there already. */
bool disk_make_folder(const char *path, mode_t mode, struct err *e);

/* Fills *e with "what: the reason of errno why; what to do", and returns false. */
bool disk_failed(struct err *e, enum err_code code, const char *path, const char *what, int why);

#endif
