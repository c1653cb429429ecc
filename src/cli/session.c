/* The world around the app: reading, saving, the journal, the list of saved venues.
 *
 * After every event the difference to what the journal knows is written down as one line, so a
 * killed editor loses nothing that was done; once a second the lines are made safe on the disk. */
#include "cli/session.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "base/mem.h"
#include "cli/editor.h"
#include "cli/today.h"
#include "engine/sheet.h"
#include "file/changes.h"
#include "file/disk.h"
#include "file/journal.h"
#include "file/save.h"
#include "file/store.h"
#include "file/venue.h"
#include "model/shape.h"
#include "model/sound.h"
#include "ui/app.h"
#include "ui/scene.h"

enum { SYNC_MS = 1000 };

struct session {
    struct app *app;
    char *path;        /* of the venue's file; NULL: none yet */
    struct stamp seen; /* what it held when it was read or saved */
    struct journal *journal;
    struct booth *noted; /* the booth that the journal knows */
    unsigned long revision;
    long long sync_at; /* when lines must be made safe; 0: there are none */
    bool placed;       /* a place for a new venue was looked for */
    bool unsure;       /* a power cut may take the last save back: the journal stays */
    bool misfit;       /* nothing of the work that was left fits the file */
};

/* --- the journal ------------------------------------------------------------------------------ */

static void note_booth(struct session *s)
{
    booth_free(s->noted);
    s->noted = booth_copy(app_booth(s->app));
    s->revision = history_revision(s->app->history);
}

static bool clean(const struct session *s)
{
    return s->journal && journal_left(s->journal)->fit == JOURNAL_CLEAN;
}

/* Writes down what was done since the last time. */
static void note_edits(struct session *s)
{
    struct app *a = s->app;
    if (!s->noted || !clean(s) || history_revision(a->history) == s->revision)
        return;
    struct edits edits = edits_between(s->noted, app_booth(a));
    struct str line = {0};
    struct err e;
    changes_write(&edits, &line);
    if (edits.n && !journal_add(s->journal, str_text(&line), &e))
        app_say(a, true, "not in the journal, save soon: %s", e.says);
    else if (edits.n && !s->sync_at)
        s->sync_at = terminal_now() + SYNC_MS;
    str_clear(&line);
    edits_clear(&edits);
    note_booth(s);
}

static void sync_edits(struct session *s)
{
    struct err e;
    if (!s->sync_at || terminal_now() < s->sync_at)
        return;
    s->sync_at = 0;
    if (s->journal && !journal_sync(s->journal, &e))
        app_say(s->app, true, "the journal is not safe on the disk: %s", e.says);
}

/* "just now", "5 minutes ago". */
static void add_age(struct str *out, time_t then)
{
    long minutes = (long)((time(NULL) - then) / 60);
    long n = minutes < 60 ? minutes : minutes < 48 * 60 ? minutes / 60 : minutes / (24 * 60);
    const char *unit = minutes < 60 ? "minute" : minutes < 48 * 60 ? "hour" : "day";
    if (minutes < 1)
        str_add(out, "just now");
    else
        str_addf(out, "%ld %s%s ago", n, unit, n == 1 ? "" : "s");
}

static void ask_about_work(struct session *s)
{
    static const struct answer answers[] = {{'t', "take it", EFFECT_TAKE_WORK, NULL},
                                            {'d', "throw it away", EFFECT_DROP_WORK, NULL},
                                            {'q', "quit, decide later", EFFECT_QUIT, NULL}};
    const struct journal_left *left = journal_left(s->journal);
    struct str text = {0};
    str_addf(&text, "%zu unsaved edit%s, left ", left->count, left->count == 1 ? "" : "s");
    add_age(&text, left->when);
    if (s->misfit)
        str_add(&text, ", which this file has no place for");
    else if (left->fit == JOURNAL_STALE)
        str_add(&text, ", made on another state of this file");
    app_ask(s->app, str_text(&text), answers, 3);
    str_clear(&text);
}

/* An edit that was torn while it was written down is all that was left: nothing to ask about. */
static void drop_torn_end(struct session *s)
{
    struct err e;
    if (!clean(s) && journal_left(s->journal)->count == 0 && !journal_discard(s->journal, &e))
        app_say(s->app, true, "%s", e.says);
}

static void open_journal(struct session *s)
{
    struct err e;
    s->misfit = false;
    s->journal = journal_open(s->path, &s->seen, &e);
    s->app->read_only = !s->journal && e.code == ERR_CHANGED;
    if (!s->journal) {
        app_say(s->app, true, "%s%s", e.says,
                s->app->read_only ? ": read only, w tries again"
                                  : "; a crash would lose unsaved work");
        return;
    }
    drop_torn_end(s);
    if (!clean(s))
        ask_about_work(s);
}

/* Does the lines that an editor left behind, as far as they fit; returns how many did. */
static size_t do_lines(struct session *s, const struct journal_left *left)
{
    size_t done = 0;
    for (; done < left->count; done++) {
        struct edits edits = {0};
        struct err e;
        struct booth *next = booth_copy(app_booth(s->app));
        bool fits = changes_read(left->lines[done], strlen(left->lines[done]), &edits, &e) &&
                    edits_fit(next, &edits);
        if (fits)
            edits_apply(next, &edits);
        edits_clear(&edits);
        if (!fits || !booth_sound(next, &e)) {
            booth_free(next);
            break;
        }
        app_commit(s->app, next, "work taken over");
    }
    return done;
}

static void take_work(struct session *s)
{
    const struct journal_left *left = journal_left(s->journal);
    struct err e;
    size_t count = left->count, done = do_lines(s, left);
    bool whole = left->fit == JOURNAL_FITS && done == count;
    s->misfit = done == 0;
    if (s->misfit) /* is asked about again */
        return;
    if (whole && journal_take(s->journal, &e)) {
        note_booth(s);
    } else if (!journal_discard(s->journal, &e)) {
        app_say(s->app, true, "%s", e.says);
        return;
    }
    note_edits(s);
    app_say(s->app, done < count, "%zu of %zu edits taken over%s", done, count,
            done < count ? "; the rest does not fit this file" : "; save to keep them");
}

static void drop_work(struct session *s)
{
    struct err e;
    if (journal_discard(s->journal, &e))
        app_say(s->app, false, "thrown away");
    else
        app_say(s->app, true, "%s", e.says);
}

/* --- the file --------------------------------------------------------------------------------- */

static void set_path(struct session *s, const char *path)
{
    char *copy = mem_text(path);
    mem_free(s->path);
    s->path = copy;
}

/* Lets go of what was open before; what was not saved of it is gone. */
static void let_go(struct session *s)
{
    journal_close(s->journal, s->unsure);
    s->journal = NULL;
    s->sync_at = 0;
    s->unsure = s->placed = s->app->read_only = false;
}

/* Whether a venue that has no file yet can have one at this path: better told now than at the save.
 */
static bool can_have_file(const char *path, struct err *e)
{
    struct place p;
    if (!place_open(&p, path, ERR_WRITE, e))
        return false;
    bool may = faccessat(p.folder, ".", W_OK | X_OK, 0) == 0;
    place_close(&p);
    return may || disk_failed(e, ERR_WRITE, path, "no file can be made in its folder", EACCES);
}

/* Reads s->path into the app; an empty or missing file leaves the screen of a new venue. On false
 * everything is as it was. */
static bool open_file(struct session *s, struct err *e)
{
    struct str bytes = {0};
    struct stamp seen;
    bool read = disk_read_or_none(s->path, &bytes, &seen, e);
    bool empty = read && strspn(str_text(&bytes), " \t\r\n") == bytes.len;
    struct booth *b = read && !empty ? venue_read(str_text(&bytes), bytes.len, e) : NULL;
    str_clear(&bytes);
    if ((!b && !empty) || (empty && !seen.exists && !can_have_file(s->path, e)))
        return false;
    let_go(s);
    s->seen = seen;
    if (empty) {
        s->app->screen = SCREEN_NEW;
        app_say(s->app, false, "%s has no venue yet", s->path);
        return true;
    }
    app_open(s->app, b, s->path);
    note_booth(s);
    s->placed = true;
    open_journal(s);
    return true;
}

/* A save was refused: asks when the file is another one by now, else says why. */
static void ask_about_change(struct session *s, const struct err *e)
{
    static const struct answer answers[] = {
        {'o', "save over it", EFFECT_SAVE_ANYWAY, NULL},
        {'r', "read it again and drop what is here", EFFECT_RELOAD, NULL}};
    static const struct answer gone = {'o', "save it all the same", EFFECT_SAVE_ANYWAY, NULL};
    struct str bytes = {0};
    struct stamp now;
    struct err ignored;
    bool other = e->code == ERR_CHANGED && disk_read_or_none(s->path, &bytes, &now, &ignored) &&
                 !stamp_same(&now, &s->seen);
    str_clear(&bytes);
    if (!other)
        app_say(s->app, true, "not saved: %s", e->says);
    else if (now.exists)
        app_ask(s->app, "not saved: somebody else changed this file", answers, 2);
    else
        app_ask(s->app, "not saved: somebody removed this file", &gone, 1);
}

/* Saves; seen NULL overwrites. True when the file holds the booth. */
static bool save(struct session *s, const struct stamp *seen)
{
    struct str bytes = {0};
    struct err e = {0}, ignored;
    venue_write(app_booth(s->app), &bytes);
    enum saved how = save_file(s->path, str_text(&bytes), bytes.len, seen, &e);
    if (how == SAVED_NOT) {
        ask_about_change(s, &e);
    } else {
        s->seen = stamp_of(str_text(&bytes), bytes.len);
        s->unsure = how == SAVED_UNSURE;
        if (s->journal)
            journal_saved(s->journal, &s->seen, !s->unsure, &ignored);
        s->sync_at = 0;
        app_saved(s->app, s->path);
        app_say(s->app, how != SAVED, how == SAVED ? "saved to %s" : "saved to %s, but %s", s->path,
                e.says);
    }
    str_clear(&bytes);
    return how != SAVED_NOT;
}

/* A file of its own for a venue that has none, in the folder of saved venues. */
static bool find_place(struct session *s, const char *name)
{
    struct store store;
    struct err e;
    struct str path = {0};
    bool found = store_open(&store, &e) && store_make(&store, &e);
    if (found) {
        store_new_path(&store, name, &path);
        set_path(s, str_text(&path));
        s->seen = (struct stamp){0};
    } else {
        app_say(s->app, true, "no place to save it: %s", e.says);
    }
    store_clear(&store);
    str_clear(&path);
    return found;
}

/* A new venue gets its file at once, so that nothing of it can be lost. */
static void place_new(struct session *s)
{
    struct app *a = s->app;
    if (a->screen != SCREEN_BOOTH || a->path || s->placed)
        return;
    s->placed = true;
    if (!s->path && !find_place(s, app_booth(a)->venue.name))
        return;
    if (!save(s, &s->seen))
        return;
    note_booth(s);
    open_journal(s);
}

static bool save_where_it_belongs(struct session *s, bool anyway)
{
    if (!s->path && !find_place(s, s->app->asked))
        return false;
    if (!save(s, anyway ? NULL : &s->seen))
        return false;
    if (!s->journal) {
        note_booth(s);
        open_journal(s);
    }
    return true;
}

static void reload(struct session *s)
{
    struct err e;
    bool waited = s->app->read_only;
    if (!open_file(s, &e))
        app_say(s->app, true, "%s%s%s", e.place, *e.place ? ": " : "", e.says);
    else if (waited && !s->app->read_only && s->app->screen == SCREEN_BOOTH)
        app_say(s->app, false, "nobody else is editing it any more: now you can");
}

/* --- the patch sheet ---------------------------------------------------------------------------
 */

/* Beside the venue, named after it: hall.json gives hall.sheet.txt. */
static void write_sheet(struct session *s, enum effect kind)
{
    static const struct {
        const char *ending;
        void (*make)(const struct derived *d, const char *date, struct str *out);
    } kinds[] = {{".sheet.txt", sheet_text}, {".sheet.csv", sheet_csv}, {".sheet.svg", sheet_svg}};
    struct str path = {0}, sheet = {0}, date = {0};
    struct err e;
    int which = (int)(kind - EFFECT_SHEET_TEXT);
    if (!s->path) {
        app_say(s->app, true, "save the venue first (w): the sheet goes beside it");
        return;
    }
    str_add(&path, s->path);
    if (path.len > 5 && strcmp(path.text + path.len - 5, ".json") == 0)
        str_cut(&path, path.len - 5);
    str_add(&path, kinds[which].ending);
    today(&date);
    kinds[which].make(s->app->derived, str_text(&date), &sheet);
    if (save_file(str_text(&path), str_text(&sheet), sheet.len, NULL, &e) == SAVED_NOT)
        app_say(s->app, true, "not written: %s", e.says);
    else
        app_say(s->app, false, "written to %s", str_text(&path));
    str_clear(&path);
    str_clear(&sheet);
    str_clear(&date);
}

/* --- the list at the start -------------------------------------------------------------------- */

static void describe(const char *path, struct str *out)
{
    struct str bytes = {0};
    struct stamp seen;
    struct err e;
    struct booth *b = disk_read(path, &bytes, &seen, &e)
                          ? venue_read(str_text(&bytes), bytes.len, &e)
                          : NULL;
    if (!b) {
        str_addf(out, "cannot be read: %s%s%s", e.place, *e.place ? ": " : "", e.says);
    } else {
        struct derived *d = derived_make(b);
        const char *sign = ": ";
        str_addf(out, "%s%s%s", b->venue.name, b->venue.room ? ", " : "",
                 b->venue.room ? b->venue.room : "");
        for (int i = SEVERITY_ERROR; i <= SEVERITY_NOTE; i++) {
            size_t n = d->faults.count[i];
            if (n)
                str_addf(out, "%s%zu %s%s", sign, n, severity_word((enum severity)i),
                         n == 1 ? "" : "s");
            sign = n ? ", " : sign;
        }
        if (!d->faults.n)
            str_add(out, ": no faults");
        derived_free(d);
    }
    booth_free(b);
    str_clear(&bytes);
}

static void list_venues(struct session *s)
{
    struct store store;
    struct err e;
    if (s->app->screen == SCREEN_BOOTH)
        return;
    if (!store_open(&store, &e))
        app_say(s->app, true, "no saved venues: %s", e.says);
    for (size_t i = 0; i < store.count; i++) {
        struct str path = {0}, says = {0};
        store_path(&store, i, &path);
        describe(str_text(&path), &says);
        app_list(s->app, store.names[i], str_text(&says));
        str_clear(&path);
        str_clear(&says);
    }
    store_clear(&store);
}

/* By name: the folder may hold others by now. */
static void open_listed(struct session *s)
{
    struct err e;
    struct store store;
    struct str path = {0};
    const struct start *list = &s->app->start;
    char *before = s->path;
    s->path = NULL;
    if (store_open(&store, &e)) {
        str_addf(&path, "%s/%s", str_text(&store.folder), list->items[list->cursor].name);
        set_path(s, str_text(&path));
    }
    if (s->path && open_file(s, &e)) {
        mem_free(before);
    } else {
        app_say(s->app, true, "%s%s%s", e.place, *e.place ? ": " : "", e.says);
        mem_free(s->path);
        s->path = before;
    }
    str_clear(&path);
    store_clear(&store);
}

/* --- the loop's functions --------------------------------------------------------------------- */

static enum editor_next do_effect(struct session *s, enum effect effect)
{
    switch (effect) {
    case EFFECT_BELL:
        return EDITOR_BELL;
    case EFFECT_REPAINT:
        return EDITOR_REPAINT;
    case EFFECT_SUSPEND:
        return EDITOR_SUSPEND;
    case EFFECT_QUIT:
        return EDITOR_QUIT;
    case EFFECT_SAVE:
        save_where_it_belongs(s, false);
        return EDITOR_GO_ON;
    case EFFECT_SAVE_QUIT:
        return save_where_it_belongs(s, false) ? EDITOR_QUIT : EDITOR_GO_ON;
    case EFFECT_SAVE_ANYWAY:
        save_where_it_belongs(s, true);
        return EDITOR_GO_ON;
    case EFFECT_RELOAD:
        reload(s);
        return EDITOR_GO_ON;
    case EFFECT_TAKE_WORK:
        take_work(s);
        return EDITOR_GO_ON;
    case EFFECT_DROP_WORK:
        drop_work(s);
        return EDITOR_GO_ON;
    case EFFECT_SHEET_TEXT:
    case EFFECT_SHEET_CSV:
    case EFFECT_SHEET_SVG:
        write_sheet(s, effect);
        return EDITOR_GO_ON;
    case EFFECT_OPEN:
        open_listed(s);
        return EDITOR_GO_ON;
    default:
        return EDITOR_GO_ON;
    }
}

static enum editor_next take(void *self, const struct event *ev)
{
    struct session *s = self;
    enum effect effect = app_update(s->app, ev);
    if (s->app->screen == SCREEN_BOOTH)
        note_edits(s);
    enum editor_next next = do_effect(s, effect);
    place_new(s);
    app_follow(s->app);
    if (s->app->screen == SCREEN_BOOTH)
        note_edits(s);
    sync_edits(s);
    if (s->journal && !clean(s) && !s->app->question.text)
        ask_about_work(s);
    return next;
}

static void draw(void *self, struct grid *g)
{
    struct session *s = self;
    s->app->ascii = g->ascii;
    scene_draw(s->app, g);
}

static int due(void *self)
{
    struct session *s = self;
    if (!s->sync_at)
        return -1;
    long long left = s->sync_at - terminal_now();
    return left < 0 ? 0 : (int)left;
}

/* Whether the journal has what the next time must ask about: work that is not decided on, an
 * unsure save, or what was not saved when a signal came. Who quits has said what becomes of it. */
static bool leaves_work(const struct session *s, int status)
{
    return s->journal && (!clean(s) || s->unsure || (status != 0 && !app_is_saved(s->app)));
}

int session_run(const struct session_setup *setup, struct err *e)
{
    struct session s = {.app = app_new()};
    set_path(&s, setup->path);
    bool ready = !setup->path || open_file(&s, e);
    list_venues(&s);
    struct editor_setup loop = {.terminal = {.ascii = setup->ascii, .mono = setup->mono},
                                .self = &s,
                                .take = take,
                                .draw = draw,
                                .due = due};
    int status = ready ? editor_run(&loop, e) : (int)e->code;
    bool keep = leaves_work(&s, status);
    struct err ignored;
    if (keep)
        journal_sync(s.journal, &ignored);
    journal_close(s.journal, keep);
    booth_free(s.noted);
    mem_free(s.path);
    app_free(s.app);
    return status;
}
