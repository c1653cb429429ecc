/* The editor as a value: what is being edited, where the hands are, and what is shown beside it.
 *
 * app_update() takes an event, changes this state and says what the world must do (save, quit,
 * ring); scene_draw() reads it. No terminal, no file: both are the caller's. */
#ifndef UI_APP_H
#define UI_APP_H

#include "engine/budget.h"
#include "engine/derived.h"
#include "engine/diagnose.h"
#include "engine/failures.h"
#include "engine/plan.h"
#include "model/history.h"
#include "model/layout.h"
#include "ui/canvas.h"
#include "ui/drag.h"
#include "ui/event.h"
#include "ui/form.h"
#include "ui/prompt.h"
#include "ui/struck.h"
#include "ui/taken.h"
#include "ui/visit.h"

enum { APP_COLUMNS = 80, APP_ROWS = 24 }; /* the least window */

/* What app_update() asks of the world. */
enum effect {
    EFFECT_NONE,
    EFFECT_BELL,
    EFFECT_REPAINT,
    EFFECT_SUSPEND,
    EFFECT_QUIT,        /* leave; unsaved work was asked about */
    EFFECT_SAVE,        /* save to where it came from, or to app->asked when that is new */
    EFFECT_SAVE_QUIT,   /* the same, and leave when it went well */
    EFFECT_SAVE_ANYWAY, /* save over what somebody else wrote */
    EFFECT_RELOAD,      /* read the file again, dropping what is here; to edit it if one may */
    EFFECT_TAKE_WORK,   /* take the unfinished work of an editor that died */
    EFFECT_DROP_WORK,   /* throw it away */
    EFFECT_SHEET_TEXT,  /* write the patch sheet beside the venue */
    EFFECT_SHEET_CSV,
    EFFECT_SHEET_SVG,
    EFFECT_OPEN, /* open the saved venue number app->start.cursor */
};

enum screen { SCREEN_START, SCREEN_NEW, SCREEN_BOOTH };

enum pane_id {
    PANE_FAULTS,
    PANE_CHECKLIST,
    PANE_ROUTES,
    PANE_DETAILS,
    PANE_PLAN,
    PANE_VISIT,
    PANE_FAILURES,
    PANE_CHECK,
    PANE_BUDGET,
    PANE_KEYS,
    PANE_COUNT
};

/* A question: keys and what they mean. Esc is always "go on as before". */
struct app;
struct answer {
    int key;
    const char *word;
    enum effect effect;
    void (*then)(struct app *a); /* done first; may be NULL */
};
struct question {
    char *text; /* NULL: none is open */
    struct answer answers[8];
    size_t n;
};

/* What a prompt is for. */
enum purpose {
    FOR_NOTHING,
    FOR_IN_USE,
    FOR_LABEL,
    FOR_NOTE,
    FOR_LEVEL,
    FOR_SAVE_AS,
    FOR_NEW_NAME,
    FOR_NEW_PLAYERS,
    FOR_NEW_DECKS,
    FOR_NEW_STRIPS,
};

/* One saved venue in the list at the start. */
struct start_item {
    char *name; /* of the file */
    char *says; /* the venue's name and its faults, or why it cannot be read */
};
struct start {
    struct start_item *items;
    size_t n, cap;
    int cursor, scroll;
};

/* The new venue that is being described. */
struct fresh {
    char *name;
    int players, decks;
    char *strips; /* printed labels from left to right, parted by blanks */
    enum way way;
    int cursor;
};

struct app {
    enum screen screen;
    int columns, rows;
    bool ascii, read_only;
    char *path; /* of the file, for the title; NULL: not saved yet */

    struct history *history;
    struct booth *opened;    /* as it was when it was opened: the last visit */
    struct derived *derived; /* of the history's booth */
    struct canvas *canvas;
    struct plan *plans;         /* of the history's booth, once they are looked at */
    struct failures failures;   /* of the selected box and what hangs on it, once looked at */
    struct spot failing;        /* the box that they are of */
    unsigned long failed_at;    /* the revision that they are of */
    struct taken taken;         /* ways back that were taken, and what was put back */
    struct diagnosis diagnosis; /* of the line check, once looked at */
    bool diagnosed;
    struct struck struck;  /* what the line check's explanations leave out */
    struct budget *budget; /* of what is shown, once looked at */
    struct visit *visit;   /* the same */
    struct plan *mend;     /* of the explanation under the cursor */
    int mend_of;           /* which that is, or -1 */
    bool previewing;       /* the shadow is a plan's, not a gesture's */
    struct booth *shadow;  /* while something is carried over something: the booth as it would be */
    struct derived *shadow_derived;
    struct canvas *shadow_canvas;

    struct spot selected;
    struct drag drag;
    int scroll_x, scroll_y;
    int fault; /* the one in focus, or -1 */

    enum pane_id pane;
    bool pane_shown, pane_keys /* the pane has the keys */;
    int item[PANE_COUNT], pane_scroll[PANE_COUNT];
    int listening;     /* the line check's item that the cursor came to; -1: it is not looked at */
    size_t grows_from; /* once so many steps of the history are done, digits add to the mark that
                        * was begun there; SIZE_MAX: none was begun since the cursor came */

    int level; /* measured in the room, in tenths of a dB(A); EARS_UNTOLD: nobody told */

    struct form *form;
    struct prompt prompt;
    enum purpose purpose;
    char *subject; /* what the prompt is about: an id */
    struct question question;
    char *asked; /* a text that the world asked for: the name to save under */
    char *message;
    bool complains; /* the message is about something that did not work */

    struct start start;
    struct fresh fresh;
};

/* An editor with nothing open, at the list of saved venues. Free with app_free(). */
struct app *app_new(void);
void app_free(struct app *a);

/* Opens a booth (taken over), from a file (path is copied; NULL: not saved yet). */
void app_open(struct app *a, struct booth *b, const char *path);

/* Adds a saved venue to the list at the start; both texts are copied. */
void app_list(struct app *a, const char *name, const char *says);

/* One event; the only way to change the state by hand. */
enum effect app_update(struct app *a, const struct event *ev);

/* What the world tells: a sentence for the message line (copied); a question (text copied,
 * answers copied); that the booth was saved to a path. */
void app_say(struct app *a, bool complaint, const char *fmt, ...)
    __attribute__((format(printf, 3, 4)));
void app_ask(struct app *a, const char *text, const struct answer *answers, size_t n);
void app_saved(struct app *a, const char *path);

/* Makes the changes on a copy and commits them as one step; says why when they are refused. */
bool app_change(struct app *a, const struct changes *c, const char *what);
bool app_change_one(struct app *a, struct change c);

/* Commits a booth (taken over) as one step. */
bool app_commit(struct app *a, struct booth *next, const char *what);

/* Forgets what explains the line check: it is asked anew when it is looked at. */
void app_diagnose_anew(struct app *a);

/* Shows a booth (copied) in place of the real one, as it would be; NULL shows the real one. */
void app_preview(struct app *a, const struct booth *b);

/* The history moved (undo, redo): computes everything again. */
void app_moved(struct app *a);

/* Whether the booth as it is now stands in a file. */
bool app_is_saved(const struct app *a);

/* Makes what the shown pane tells of, where that is not made with every change. app_update() does
 * so itself; for those who changed the app otherwise. */
void app_follow(struct app *a);

/* What is shown: the booth as it would be while something is carried, else as it is. */
const struct derived *app_shown(const struct app *a);
const struct booth *app_booth(const struct app *a);

/* The parts of the window, in cells. */
struct rect app_canvas_rect(const struct app *a);
struct rect app_pane_rect(const struct app *a);

/* Moves the window over the canvas so that the selected spot can be seen. */
void app_reveal(struct app *a);

#endif
