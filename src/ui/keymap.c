/* The table of keys. Arrows and Enter go to the pane while it has the keys (see app.c). */
#include "ui/keymap.h"

static const struct key_row rows[] = {
    {K_UP, "arrows", "go from box to box, or carry what is in hand", act_up, "Move"},
    {K_DOWN, NULL, NULL, act_down, "Move"},
    {K_LEFT, NULL, NULL, act_left, "Move"},
    {K_RIGHT, NULL, NULL, act_right, "Move"},
    {K_TAB, "Tab", "give the keys to the pane, and back", act_focus, "Move"},
    {K_BACKTAB, NULL, NULL, act_focus, "Move"},
    {K_HOME, "Home", "the first box", act_first, "Move"},
    {K_END, "End", "the last box", act_last, "Move"},
    {K_PAGE_UP, "PgUp", "scroll the pane back by a page", act_page_up, "Move"},
    {K_PAGE_DOWN, "PgDn", "scroll the pane on by a page", act_page_down, "Move"},
    {' ', "space", "pick up, put down", act_pick_up, "By hand"},
    {'c', "c", "take a cable at this box; again: the next jack", act_cable, "By hand"},
    {'x', "x", "change the sides of the cable in hand", act_sides, "By hand"},
    {K_ESC, "Esc", "put back what is in hand", act_cancel, "By hand"},
    {'t', "t", "turn the selector, the source, a deck to its pair", act_turn, "By hand"},
    {'l', "l", "turn the line/phono switch", act_switch, "By hand"},
    {'s', "s", "set this deck to its pair", act_set, "By hand"},
    {'S', "S", "set every deck to its pair", act_set_all, "By hand"},
    {'o', "o", "the deck wants no strip", act_undecide, "By hand"},
    {'A', "A", "arrange all decks on the strips", act_arrange, "By hand"},
    {'j', "j", "into the interface, or out of it", act_join, "By hand"},
    {'[', "[", "earlier in the interface", act_earlier, "By hand"},
    {']', "]", "later in the interface", act_later, "By hand"},
    {'<', "<", "change places with the left neighbour", act_place_left, "By hand"},
    {'>', ">", "change places with the right neighbour", act_place_right, "By hand"},
    {'n', "n", "the next fault", act_next_fault, "Faults"},
    {'N', "N", "the fault before", act_last_fault, "Faults"},
    {'g', "g", "go to the next box that the fault names", act_go_to_subject, "Faults"},
    {'f', "f", "apply the fix of this fault", act_fix, "Faults"},
    {'u', "u", "undo", act_undo, "Change"},
    {'U', "U", "redo", act_redo, "Change"},
    {K_CTRL('r'), NULL, NULL, act_redo, "Change"},
    {'i', "i", "in use by somebody: hands off", act_in_use, "Change"},
    {'F', "F", "this is how the booth was found", act_found, "Change"},
    {'e', "e", "call it something else; on a step: a note", act_label, "Change"},
    {K_ENTER, "Enter", "every field of this box, in a form", act_form, "Change"},
    {'v', "v", "the venue's form", act_venue, "Change"},
    {'h', "h", "the laptop's form", act_host, "Change"},
    {'a', "a", "add something", act_add, "Change"},
    {'d', "d", "remove this box, or the cable in hand", act_remove, "Change"},
    {K_DELETE, NULL, NULL, act_remove, "Change"},
    {'1', "1", "pane: faults", act_pane_faults, "Panes"},
    {'2', "2", "pane: checklist", act_pane_checklist, "Panes"},
    {'3', "3", "pane: routes, to type into the host", act_pane_routes, "Panes"},
    {'4', "4", "pane: details of the selected box", act_pane_details, "Panes"},
    {'5', "5", "pane: plan, the ways in by minutes", act_pane_plan, "Panes"},
    {'6', "6", "pane: since last time, and what to put back", act_pane_visit, "Panes"},
    {'7', "7", "pane: if the selected box fails", act_pane_failures, "Panes"},
    {'8', "8", "pane: line check, what was heard and why", act_pane_check, "Panes"},
    {'9', "9", "pane: budget, what is used of what there is", act_pane_budget, "Panes"},
    {'L', "L", "enter a measured level: how long ears have", act_level, "Panes"},
    {'?', "?", "pane: all keys", act_pane_keys, "Panes"},
    {K_F1, NULL, NULL, act_pane_keys, "Panes"},
    {'0', "0", "no pane", act_pane_hide, "Panes"},
    {'w', "w", "save", act_save, "File"},
    {K_CTRL('s'), NULL, NULL, act_save, "File"},
    {'P', "P", "write the patch sheet beside the venue", act_sheet, "File"},
    {'q', "q", "quit", act_quit, "File"},
    {K_CTRL('c'), NULL, NULL, act_quit, "File"},
};

const struct key_row *keymap_row(size_t i)
{
    return i < sizeof rows / sizeof *rows ? &rows[i] : NULL;
}

const struct key_row *keymap_find(int key)
{
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (rows[i].key == key)
            return &rows[i];
    return NULL;
}
