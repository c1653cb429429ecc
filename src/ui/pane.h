/* The side panes: one table, a row each. A new pane is a file pane_NAME.c and a row in pane.c. */
#ifndef UI_PANE_H
#define UI_PANE_H

#include "ui/app.h"
#include "ui/lines.h"

struct pane {
    const char *title;
    /* Says the pane's lines; the items are what the cursor walks. */
    void (*lines)(const struct app *a, struct lines *out);
    /* Enter, space or a second click on an item; NULL: nothing happens. */
    enum effect (*act)(struct app *a, int item);
    /* The cursor came to an item; NULL: nothing follows it. */
    void (*look_at)(struct app *a, int item);
};

const struct pane *pane_of(enum pane_id id);

/* How wide the lines of the pane are. */
int pane_columns(const struct app *a);

/* The lines of the pane that is shown, made for its width. Free with lines_clear(). */
struct lines pane_lines(const struct app *a);

/* Keys and mouse on the pane. A click gives it the keys, and shows what the item under it stands
 * for; only one on what is shown so already acts, and none on a line that is there to be read. */
enum effect pane_key(struct app *a, int key);
enum effect pane_click(struct app *a, int row);
void pane_wheel(struct app *a, int step);

/* Scrolls the shown pane by a page, the cursor staying with its item; says so when it cannot. */
enum effect pane_page(struct app *a, int step);

/* Puts the cursor of the shown pane on an item and shows it. */
void pane_move_to(struct app *a, int item);

/* The box of an id or of a jack's owner (SPOT_NONE: there is none); selects it and shows it. */
struct spot pane_box(const struct booth *b, const char *name);
void pane_select(struct app *a, const char *name);

/* Brings the cursor of the shown pane into view where nothing of its item is; the cursor of an item
 * that is gone goes to the next. Whether it was in view. */
bool pane_reveal(struct app *a);

/* What hands do for a plan, a kind a function: what they bring; its actions, with their minutes or
 * only dashes; what else. */
void pane_bring_lines(const struct plan *p, int item, struct lines *out);
void pane_work_lines(const struct plan *p, bool minutes, int item, struct lines *out);
void pane_advice_lines(const struct plan *p, int item, struct lines *out);

/* The panes. */
void pane_faults_lines(const struct app *a, struct lines *out);
enum effect pane_faults_act(struct app *a, int item);
void pane_faults_look_at(struct app *a, int item);
void pane_checklist_lines(const struct app *a, struct lines *out);
enum effect pane_checklist_act(struct app *a, int item);
void pane_routes_lines(const struct app *a, struct lines *out);
void pane_routes_look_at(struct app *a, int item);
void pane_details_lines(const struct app *a, struct lines *out);
void pane_plan_lines(const struct app *a, struct lines *out);
enum effect pane_plan_act(struct app *a, int item);
/* The booth that taking a way would make of it; NULL: none, or there is nothing to do. */
const struct booth *pane_plan_offer(const struct app *a, int item);
/* Whether an item is what was taken, for hands to do. */
bool pane_plan_is_taken(const struct app *a, int item);
void pane_visit_lines(const struct app *a, struct lines *out);
enum effect pane_visit_act(struct app *a, int item);
void pane_failures_lines(const struct app *a, struct lines *out);
enum effect pane_failures_act(struct app *a, int item);
/* The booth that taking a way back would make of it; NULL: there is none, or nothing to do. */
const struct booth *pane_failures_offer(const struct app *a, int item);
void pane_check_lines(const struct app *a, struct lines *out);
enum effect pane_check_act(struct app *a, int item);
/* A key that marks what was heard: a strip's printed label, 0 for silence, sides. False when it is
 * none of these. */
bool pane_check_key(struct app *a, int key);
/* Whether a digit would mark a strip now, and not choose a pane. */
bool pane_check_marks(const struct app *a);
/* Appends what the pane advises to do next; false: it advises nothing, or is not looked at. */
bool pane_check_next(const struct app *a, struct str *out);
/* Takes the last strike-out back, unless a step of the history came after it: then false. */
bool pane_check_unstrike(struct app *a);
/* Marks the deck under the cursor as heard on a strip, again: not; without the last strip it is not
 * checked. Where the advice asked for it again, the first mark since the cursor came begins afresh.
 * Empty: silence. */
void pane_check_mark(struct app *a, const char *strip);
void pane_budget_lines(const struct app *a, struct lines *out);
/* How long ears have at the level that was told; which key tells it. */
void pane_ears_lines(const struct app *a, struct lines *out);
void pane_budget_look_at(struct app *a, int item);
void pane_keys_lines(const struct app *a, struct lines *out);

/* Puts the fault in focus and the selection on the first box that it names (again: the next). */
void faults_focus(struct app *a, int fault);
void faults_next_subject(struct app *a);

#endif
