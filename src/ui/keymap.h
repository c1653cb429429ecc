/* Every key of the booth screen: one table, which the dispatcher, the pane of keys, the bottom
 * line and the man page's check all read. A new key is a row in keymap.c and a function. */
#ifndef UI_KEYMAP_H
#define UI_KEYMAP_H

#include "ui/app.h"

struct key_row {
    int key;
    const char *name; /* "space"; NULL: another key for the row above */
    const char *help; /* one line; NULL with the name */
    enum effect (*act)(struct app *a);
    const char *group; /* a heading starts where it changes */
};

/* The i-th row; NULL past the end. */
const struct key_row *keymap_row(size_t i);

/* The row of a key; NULL when it does nothing. */
const struct key_row *keymap_find(int key);

/* The actions. */
enum effect act_up(struct app *a);
enum effect act_down(struct app *a);
enum effect act_left(struct app *a);
enum effect act_right(struct app *a);
enum effect act_first(struct app *a);
enum effect act_last(struct app *a);
enum effect act_page_up(struct app *a);
enum effect act_page_down(struct app *a);
enum effect act_pick_up(struct app *a);
enum effect act_cable(struct app *a);
enum effect act_sides(struct app *a);
enum effect act_cancel(struct app *a);
enum effect act_turn(struct app *a);
enum effect act_switch(struct app *a);
enum effect act_join(struct app *a);
enum effect act_earlier(struct app *a);
enum effect act_later(struct app *a);
enum effect act_place_left(struct app *a);
enum effect act_place_right(struct app *a);
enum effect act_set(struct app *a);
enum effect act_set_all(struct app *a);
enum effect act_undecide(struct app *a);
enum effect act_arrange(struct app *a);
enum effect act_in_use(struct app *a);
enum effect act_label(struct app *a);
enum effect act_found(struct app *a);
enum effect act_form(struct app *a);
enum effect act_venue(struct app *a);
enum effect act_host(struct app *a);
enum effect act_add(struct app *a);
enum effect act_remove(struct app *a);
enum effect act_undo(struct app *a);
enum effect act_redo(struct app *a);
enum effect act_next_fault(struct app *a);
enum effect act_last_fault(struct app *a);
enum effect act_go_to_subject(struct app *a);
enum effect act_fix(struct app *a);
enum effect act_pane_faults(struct app *a);
enum effect act_pane_checklist(struct app *a);
enum effect act_pane_routes(struct app *a);
enum effect act_pane_details(struct app *a);
enum effect act_pane_plan(struct app *a);
enum effect act_pane_visit(struct app *a);
enum effect act_pane_failures(struct app *a);
enum effect act_pane_check(struct app *a);
enum effect act_pane_budget(struct app *a);
enum effect act_pane_keys(struct app *a);
enum effect act_level(struct app *a);
enum effect act_pane_hide(struct app *a);
enum effect act_focus(struct app *a);
enum effect act_save(struct app *a);
enum effect act_sheet(struct app *a);
enum effect act_quit(struct app *a);

#endif
