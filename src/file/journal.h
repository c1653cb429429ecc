/* The journal of one venue file: what was done to it since it was last saved, so that a killed
 * editor loses nothing; and the mark that somebody is editing it.
 *
 * It lies beside the file as .NAME.journal, or, where that folder cannot be written to, in
 * $XDG_STATE_HOME/boothwright (~/.local/state/boothwright). It is locked while open.
 *
 *     j = journal_open(path, &seen, &e)       somebody else has it: NULL, ERR_CHANGED
 *     switch (journal_left(j)->fit)           JOURNAL_FITS: ask; do its lines, journal_take(j),
 *                                             or journal_discard(j)
 *     journal_add(j, line)                    at each edit      journal_sync(j)   each second
 *     journal_saved(j, &stamp, durable)       after each save
 *     journal_close(j, keep)                  keep: the work stays for the next time */
#ifndef FILE_JOURNAL_H
#define FILE_JOURNAL_H

#include <stdbool.h>
#include <stddef.h>
#include <time.h>

#include "base/err.h"
#include "file/stamp.h"

/* A journal never grows past this, in bytes; a longer one is refused. */
#define JOURNAL_MAX ((size_t)64 << 20)

enum journal_fit {
    JOURNAL_CLEAN, /* nothing was left behind: lines may be added */
    JOURNAL_FITS,  /* unfinished work on the file as it is now: take it or discard it first */
    JOURNAL_STALE, /* unfinished work on another file, or on another state of this one; the lines
                    * may be looked at, then discard them first */
};

/* What an earlier editor left behind. */
struct journal_left {
    enum journal_fit fit;
    char **lines; /* as they were added, in order; FITS: those that the file does not hold yet */
    size_t count;
    size_t lost; /* bytes at the end that are damaged, and were not read */
    time_t when; /* when the journal was last written to */
};

struct journal;

/* Opens, or begins, the journal of the file at path (links are followed; it need not exist);
 * seen is the stamp of what was read from it. NULL, with *e filled: ERR_CHANGED when somebody
 * else is editing the file (their process and host are told) or left work there under another
 * user's name: then open it for reading only. ERR_WRITE when no journal can be kept: one may
 * go on without. Close with journal_close(). */
struct journal *journal_open(const char *path, const struct stamp *seen, struct err *e);

/* What was found when it was opened. Never NULL; dies with the next take, discard or close. */
const struct journal_left *journal_left(const struct journal *j);

/* The found lines are taken over: they stay in the journal (it must be JOURNAL_FITS), and it is
 * JOURNAL_CLEAN from now on. False, with ERR_WRITE, if the damaged end cannot be cut off. */
bool journal_take(struct journal *j, struct err *e);

/* The found lines are thrown away, and the journal begins anew at the stamp it was opened with. */
bool journal_discard(struct journal *j, struct err *e);

/* Adds one edit: a text of at most about 1 MiB without a newline; the journal must be clean.
 * When it returns true the line survives the death of the program. On false (ERR_WRITE) nothing
 * was added, the lines before are whole, and the next call tries anew: save soon. */
bool journal_add(struct journal *j, const char *line, struct err *e);

/* Makes the lines added so far survive a power cut; does nothing when there are none. Once this
 * failed, it fails until the next durable save: the disk may have dropped any of them. */
bool journal_sync(struct journal *j, struct err *e);

/* Tells that the file was saved and now has this stamp. When the save was durable the lines are
 * dropped; when not, they stay for the case that the old file comes back. */
bool journal_saved(struct journal *j, const struct stamp *now, bool durable, struct err *e);

/* Closes and frees the journal (NULL is allowed). keep: its lines stay on the disk; otherwise it
 * is removed, and with it all work that was not saved. */
void journal_close(struct journal *j, bool keep);

#endif
