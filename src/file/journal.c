/* A journal is a list of records (record.h), one write(2) each:
 *
 *     journal of NAME from STAMP      what follows was done to the file in this state
 *     open PROCESS HOST               who holds the journal; told to whoever comes second
 *     edit TEXT                       one edit; what TEXT means is the caller's affair
 *
 * After a durable save the list begins anew. After a save that a power cut may undo, a second
 * "journal of" line is added instead: then both the old and the new file find their place in the
 * list, and what follows it is what they lack.
 *
 * What always holds: the first `whole` bytes of the file are whole lines; anything after them is
 * cut off before the next line is added. */
#include "file/journal.h"

#include <assert.h>
#include <errno.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/str.h"
#include "file/journal_file.h"
#include "file/record.h"

#define BEGINS "journal of "
#define EDIT   "edit "

enum { HOST_MAX = 255 };

/* What a save asked for that is not in the journal yet. */
enum behind { BEHIND_NOT, BEHIND_MARK, BEHIND_RESTART };

struct journal {
    char *path; /* of the venue, as the user knows it */
    struct journal_file file;
    struct journal_left left;
    size_t left_cap;
    struct stamp stamp; /* of the venue file, as far as we know */
    size_t whole;       /* bytes of whole lines */
    bool torn;          /* there are bytes after them */
    bool unsynced;
    bool doubtful; /* a sync failed, and no durable save came since */
    enum behind behind;
};

/* --- writing lines -------------------------------------------------------------------------- */

static int cut(struct journal *j, size_t size)
{
    j->torn = true;
    if (ftruncate(j->file.fd, (off_t)size) < 0)
        return errno;
    j->whole = size;
    j->torn = false;
    j->unsynced = true;
    return 0;
}

static int write_once(int fd, const struct str *lines)
{
    ssize_t n;
    do
        n = write(fd, str_text(lines), lines->len);
    while (n < 0 && errno == EINTR);
    return n < 0 ? errno : (size_t)n < lines->len ? ENOSPC : 0;
}

/* Adds the lines, all or none; returns 0 or an errno. */
static int append(struct journal *j, const struct str *lines)
{
    if (lines->len > JOURNAL_MAX - j->whole)
        return EFBIG;
    int why = j->torn ? cut(j, j->whole) : 0;
    if (why)
        return why;
    why = write_once(j->file.fd, lines);
    if (why) {
        cut(j, j->whole);
        return why;
    }
    j->whole += lines->len;
    j->unsynced = true;
    return 0;
}

static void add_start(const struct journal *j, struct str *text)
{
    str_addf(text, BEGINS "%s from ", str_text(&j->file.venue));
    stamp_text(&j->stamp, text);
}

static void add_holder(struct str *lines)
{
    char host[HOST_MAX + 1] = "";
    struct str text = {0};
    if (gethostname(host, HOST_MAX) < 0 || !*host)
        strcpy(host, "this host");
    host[strcspn(host, "\n")] = '\0';
    str_addf(&text, JOURNAL_OPEN "%ld %s", (long)getpid(), host);
    record_add(lines, text.text, text.len);
    str_clear(&text);
}

/* Adds where we stand now: the state of the file, and who we are. */
static int mark(struct journal *j)
{
    struct str text = {0}, lines = {0};
    add_start(j, &text);
    record_add(&lines, text.text, text.len);
    add_holder(&lines);
    int why = append(j, &lines);
    str_clear(&text);
    str_clear(&lines);
    return why;
}

static int restart(struct journal *j)
{
    int why = cut(j, 0);
    return why ? why : mark(j);
}

/* Does what a save asked for; tried again at each edit until it is done. */
static int catch_up(struct journal *j)
{
    int why = j->behind == BEHIND_RESTART ? restart(j) : j->behind == BEHIND_MARK ? mark(j) : 0;
    if (!why)
        j->behind = BEHIND_NOT;
    return why;
}

static bool told(struct journal *j, int why, struct err *e)
{
    if (why == EFBIG)
        return err_set(e, ERR_WRITE, j->path, "its journal has no room for more: save soon");
    return !why ||
           disk_failed(e, ERR_WRITE, j->path, "its journal cannot be written: save soon", why);
}

/* --- reading what was left ------------------------------------------------------------------ */

static void forget(struct journal *j)
{
    for (size_t i = 0; i < j->left.count; i++)
        mem_free(j->left.lines[i]);
    j->left.count = 0;
}

static bool starts(const char *payload, size_t n, const char *with)
{
    return n >= strlen(with) && memcmp(payload, with, strlen(with)) == 0;
}

static void keep_line(struct journal *j, const char *text, size_t n)
{
    struct str line = {0};
    str_addn(&line, text, n);
    j->left.lines = mem_grow(j->left.lines, &j->left_cap, j->left.count + 1, sizeof *j->left.lines);
    j->left.lines[j->left.count++] = str_take(&line);
}

/* Keeps the edits after the last place where the list stood at the file as it is now; all of
 * them when there is no such place. */
static void read_lines(struct journal *j, const struct str *bytes)
{
    struct str here = {0};
    const char *payload;
    size_t n;
    bool fits = false;
    add_start(j, &here);
    while (record_next(str_text(bytes) + j->whole, bytes->len - j->whole, &payload, &n)) {
        if (n == here.len && memcmp(payload, here.text, n) == 0) {
            forget(j);
            fits = true;
        } else if (starts(payload, n, EDIT)) {
            keep_line(j, payload + strlen(EDIT), n - strlen(EDIT));
        }
        j->whole += record_size(n);
    }
    str_clear(&here);
    j->left.lost = bytes->len - j->whole;
    j->left.when = j->file.when;
    j->left.fit = j->left.count == 0 && j->left.lost == 0 ? JOURNAL_CLEAN
                  : fits                                  ? JOURNAL_FITS
                                                          : JOURNAL_STALE;
}

/* Makes us known as the holder of a journal whose lines nobody has decided on yet. What cannot
 * be read is left where it is, too; a line of our own after it starts afresh. If the disk has no
 * room for that, the lock holds all the same. */
static void announce(struct journal *j)
{
    struct str lines = {0};
    size_t whole = j->whole;
    j->whole += j->left.lost;
    if (j->left.lost)
        str_addc(&lines, '\n');
    add_holder(&lines);
    append(j, &lines);
    if (j->left.lost) {
        j->whole = whole;
        j->torn = true;
    }
    str_clear(&lines);
}

static bool begin(struct journal *j, struct err *e)
{
    struct str bytes = {0};
    int why = disk_read_all(j->file.fd, JOURNAL_MAX, &bytes);
    if (!why) {
        read_lines(j, &bytes);
        if (j->left.fit == JOURNAL_CLEAN)
            why = restart(j);
        else
            announce(j);
    }
    str_clear(&bytes);
    return !why || disk_failed(e, ERR_WRITE, j->path, "its journal cannot be opened", why);
}

/* --- the public side ------------------------------------------------------------------------ */

struct journal *journal_open(const char *path, const struct stamp *seen, struct err *e)
{
    assert(path && seen && e);
    struct journal *j = mem_new(1, sizeof *j);
    j->path = mem_text(path);
    j->stamp = *seen;
    j->file.fd = j->file.at.folder = -1;
    if (journal_file_open(&j->file, path, e) && begin(j, e))
        return j;
    journal_close(j, true);
    return NULL;
}

const struct journal_left *journal_left(const struct journal *j)
{
    return &j->left;
}

static void decided(struct journal *j)
{
    forget(j);
    j->left.lost = 0;
    j->left.fit = JOURNAL_CLEAN;
}

bool journal_take(struct journal *j, struct err *e)
{
    assert(j->left.fit == JOURNAL_FITS);
    if (j->left.lost) {
        struct str lines = {0};
        add_holder(&lines);
        int why = append(j, &lines);
        str_clear(&lines);
        if (why)
            return told(j, why, e);
    }
    decided(j);
    return true;
}

bool journal_discard(struct journal *j, struct err *e)
{
    assert(j->left.fit != JOURNAL_CLEAN);
    int why = restart(j);
    if (!why)
        decided(j);
    return told(j, why, e);
}

bool journal_add(struct journal *j, const char *line, struct err *e)
{
    assert(j->left.fit == JOURNAL_CLEAN && !strchr(line, '\n'));
    struct str text = {0}, lines = {0};
    str_add(&text, EDIT);
    str_add(&text, line);
    int why = text.len > RECORD_MAX ? EFBIG : catch_up(j);
    if (!why) {
        record_add(&lines, text.text, text.len);
        why = append(j, &lines);
    }
    str_clear(&text);
    str_clear(&lines);
    return told(j, why, e);
}

/* fdatasync() where POSIX promises it, for the time of the last change is of no interest. */
static int sync_lines(int fd)
{
#if defined(_POSIX_SYNCHRONIZED_IO) && _POSIX_SYNCHRONIZED_IO > 0
    return fdatasync(fd) < 0 ? errno : 0;
#else
    return fsync(fd) < 0 ? errno : 0;
#endif
}

bool journal_sync(struct journal *j, struct err *e)
{
    if (j->doubtful)
        return err_set(e, ERR_WRITE, j->path, "its journal may have been lost: save soon");
    if (!j->unsynced)
        return true;
    int why = sync_lines(j->file.fd);
    if (!why && j->file.name_is_new)
        why = disk_sync_folder(j->file.at.folder);
    j->unsynced = false;
    j->file.name_is_new = false;
    j->doubtful = why != 0;
    return told(j, why, e);
}

bool journal_saved(struct journal *j, const struct stamp *now, bool durable, struct err *e)
{
    assert(j->left.fit == JOURNAL_CLEAN);
    j->stamp = *now;
    j->doubtful = j->doubtful && !durable;
    j->behind = durable ? BEHIND_RESTART : BEHIND_MARK;
    return told(j, catch_up(j), e);
}

void journal_close(struct journal *j, bool keep)
{
    if (!j)
        return;
    journal_file_close(&j->file, keep);
    forget(j);
    mem_free(j->left.lines);
    mem_free(j->path);
    mem_free(j);
}
