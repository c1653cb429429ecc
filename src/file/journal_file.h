/* The file that a journal lies in: found, opened, locked. For journal.c alone. */
#ifndef FILE_JOURNAL_FILE_H
#define FILE_JOURNAL_FILE_H

#include <stdbool.h>

#include "base/err.h"
#include "base/str.h"
#include "file/disk.h"

/* The line by which the holder of a journal makes itself known: "open PROCESS HOST". */
#define JOURNAL_OPEN "open "

struct journal_file {
    int fd;           /* for reading, and for adding at the end */
    struct place at;  /* the journal's own folder and name */
    struct str venue; /* how the journal names its venue: one line */
    time_t when;      /* when it was last written to */
    bool name_is_new; /* its name may not be on the disk yet */
};

/* Opens and locks the journal of the venue at path, making it when there is none. On false *f
 * holds nothing, and *e tells, as journal_open() has it. */
bool journal_file_open(struct journal_file *f, const char *path, struct err *e);

/* Unlocks and closes it; without keep it is removed first. */
void journal_file_close(struct journal_file *f, bool keep);

#endif
