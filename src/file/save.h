/* Saving a file so that it is always whole: the old one or the new one, never a mixture, never
 * nothing; and never over what somebody else wrote meanwhile. */
#ifndef FILE_SAVE_H
#define FILE_SAVE_H

#include <stddef.h>

#include "base/err.h"
#include "file/stamp.h"

/* How a save ended. Whatever is not SAVED_NOT: the file now holds the new bytes, and its stamp is
 * stamp_of() of them. */
enum saved {
    SAVED_NOT = 0,     /* the file is as it was; *e tells why and what to do */
    SAVED_UNSURE,      /* saved, but a power cut may still bring the old one back: *e tells why;
                        * keep the journal, and save again later */
    SAVED_WITHOUT_BAK, /* saved, but the version before could not be kept: *e tells why */
    SAVED,             /* saved, safe on the disk, the version before kept as PATH.bak */
};

/* Puts the n bytes (at most DISK_FILE_MAX; NULL when n is 0) in the place of the file at path.
 *
 * seen is the stamp of what the caller read (all zero: there was no file). If the file holds
 * something else by now, was deleted, or was born meanwhile, nothing is changed and e->code is
 * ERR_CHANGED. seen NULL means "overwrite anyway", asked for by the user.
 *
 * Links are followed and stay; mode and owner are kept as far as the system allows; a file with
 * a second name (a hard link) is refused, for saving would part the two. The folder must exist
 * and be writable; in it, .NAME.tmp and .NAME.bak.tmp are ours while we save, and what a dead
 * save left there is removed. Other failures have the code ERR_WRITE. */
enum saved save_file(const char *path, const char *bytes, size_t n, const struct stamp *seen,
                     struct err *e);

#endif
