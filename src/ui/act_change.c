/* Keys that change the booth, each by one change of the model. */
#include <stdio.h>
#include <string.h>

#include "engine/arrange.h"
#include "model/found.h"
#include "model/shape.h"
#include "ui/gesture.h"
#include "ui/keymap.h"
#include "ui/pane.h"
#include "ui/prompted.h"

static enum effect complain(struct app *a, const char *says)
{
    app_say(a, true, "%s", says);
    return EFFECT_BELL;
}

static enum effect change(struct app *a, struct change c)
{
    return app_change_one(a, c) ? EFFECT_NONE : EFFECT_BELL;
}

static const struct device *selected_device(const struct app *a)
{
    return booth_device(app_booth(a), a->selected.name);
}

static const struct strip *selected_strip(const struct app *a)
{
    return booth_strip(app_booth(a), a->selected.name, NULL);
}

static int selected_deck(const struct app *a)
{
    const struct decks *decks = &app_booth(a)->decks;
    for (size_t i = 0; i < decks->n; i++)
        if (strcmp(decks->v[i].id, a->selected.name) == 0)
            return (int)i;
    return -1;
}

/* --- switches --------------------------------------------------------------------------------- */

static enum effect turn_selector(struct app *a, const struct strip *s)
{
    size_t at = 0;
    while (at < s->inputs.n && strcmp(s->inputs.v[at].id, s->selected) != 0)
        at++;
    return change(a, change_of(CHANGE_SELECT, s->id, s->inputs.v[(at + 1) % s->inputs.n].id));
}

enum effect act_turn(struct app *a)
{
    const struct strip *s = selected_strip(a);
    const struct device *d = selected_device(a);
    if (s)
        return turn_selector(a, s);
    if (selected_deck(a) >= 0)
        return act_set(a);
    if (!d || d->kind != KIND_PLAYER)
        return complain(a, "nothing to turn here; choose a strip, a player or a deck");
    struct change c = change_of(CHANGE_SOURCE, d->id, "");
    c.number = d->source == SOURCE_COMPUTER ? SOURCE_OWN_MEDIA : SOURCE_COMPUTER;
    return change(a, c);
}

enum effect act_switch(struct app *a)
{
    const struct strip *s = selected_strip(a);
    const struct input *in = s ? strip_selected(s) : NULL;
    if (!in || in->levels.n < 2)
        return complain(a, "no line/phono switch here; choose a strip that has one");
    char name[REF_SIZE];
    snprintf(name, sizeof name, "%s.%s", s->id, in->id);
    struct change c = change_of(CHANGE_SWITCH, name, "");
    c.number = in->level == LEVEL_LINE ? LEVEL_PHONO : LEVEL_LINE;
    return change(a, c);
}

/* --- the interface ---------------------------------------------------------------------------- */

enum effect act_join(struct app *a)
{
    const struct device *d = selected_device(a);
    if (!d || !d->card)
        return complain(a, "only a device with a sound card goes into the interface");
    bool in = booth_joined_at(app_booth(a), d->id) >= 0;
    struct change c = change_of(in ? CHANGE_LEAVE : CHANGE_JOIN, d->id, "");
    c.number = -1;
    return change(a, c);
}

static enum effect shift(struct app *a, int step)
{
    const struct device *d = selected_device(a);
    int at = d ? booth_joined_at(app_booth(a), d->id) : -1;
    int to = at + step;
    if (at < 0)
        return complain(a, "choose a device that is in the interface");
    if (to < 0 || to >= (int)app_booth(a)->joined.n)
        return complain(a, "it is at the end already");
    struct changes c = {0};
    changes_add(&c, change_of(CHANGE_LEAVE, d->id, ""));
    changes_add(&c, change_of(CHANGE_JOIN, d->id, ""));
    c.v[1].number = to;
    struct str what = {0};
    str_addf(&what, "%s joins %s", d->label, step < 0 ? "earlier" : "later");
    bool done = app_change(a, &c, str_text(&what));
    str_clear(&what);
    changes_clear(&c);
    return done ? EFFECT_NONE : EFFECT_BELL;
}

enum effect act_earlier(struct app *a)
{
    return shift(a, -1);
}

enum effect act_later(struct app *a)
{
    return shift(a, 1);
}

static enum effect change_place(struct app *a, int step)
{
    struct spot next = canvas_step(a->canvas, &a->selected, step, 0, false);
    struct drag d = {.from = a->selected, .over = next};
    struct changes c = {0};
    bool done = (next.kind == SPOT_DEVICE || next.kind == SPOT_STRIP) &&
                drag_changes(app_booth(a), &d, &c) && c.v[0].what == CHANGE_PLACE &&
                app_change_one(a, c.v[0]);
    changes_clear(&c);
    return done ? EFFECT_NONE : complain(a, "no neighbour of its kind on that side");
}

enum effect act_place_left(struct app *a)
{
    return change_place(a, -1);
}

enum effect act_place_right(struct app *a)
{
    return change_place(a, 1);
}

/* --- decks ------------------------------------------------------------------------------------ */

static bool set_to_route(const struct app *a, int deck, struct change *c)
{
    const struct route *r = &a->derived->routes[deck];
    const struct deck *d = &app_booth(a)->decks.v[deck];
    *c = change_of(CHANGE_SET, d->id, "");
    c->pair = r->pair;
    return r->there && (d->set_to.left != r->pair.left || d->set_to.right != r->pair.right);
}

enum effect act_set(struct app *a)
{
    int deck = selected_deck(a);
    struct change c;
    if (deck < 0)
        return complain(a, "choose a host deck to set");
    if (!a->derived->routes[deck].there)
        return complain(a, "it has no route yet; the faults say why");
    return set_to_route(a, deck, &c) ? change(a, c) : complain(a, "it is set to its pair already");
}

enum effect act_set_all(struct app *a)
{
    struct changes c = {0};
    for (size_t i = 0; i < app_booth(a)->decks.n; i++) {
        struct change one;
        if (set_to_route(a, (int)i, &one))
            changes_add(&c, one);
    }
    bool done = c.n && app_change(a, &c, "set every deck to its pair");
    changes_clear(&c);
    return done ? EFFECT_NONE : complain(a, "every deck with a route is set to it already");
}

enum effect act_undecide(struct app *a)
{
    int deck = selected_deck(a);
    if (deck < 0)
        return complain(a, "choose a host deck");
    return change(a, change_of(CHANGE_WANT, app_booth(a)->decks.v[deck].id, ""));
}

static void arrange(struct app *a, enum arrangement how, const char *what)
{
    struct changes c = arrange_decks(a->derived->circuit, how, a->opened);
    if (!c.n || !app_change(a, &c, what))
        app_say(a, false, "the decks stand so already");
    else
        app_say(a, false, "%s; S sets every deck to its pair", what);
    changes_clear(&c);
}

static void arrange_left(struct app *a)
{
    arrange(a, ARRANGE_FROM_LEFT, "decks in order from the left");
}

static void arrange_middle(struct app *a)
{
    arrange(a, ARRANGE_MIDDLE, "first decks in the middle");
}

static void arrange_saved(struct app *a)
{
    arrange(a, ARRANGE_AS_SAVED, "decks as they were saved");
}

enum effect act_arrange(struct app *a)
{
    static const struct answer hows[] = {{'l', "in order from the left", EFFECT_NONE, arrange_left},
                                         {'m', "first in the middle", EFFECT_NONE, arrange_middle},
                                         {'s', "as saved", EFFECT_NONE, arrange_saved}};
    gesture_end(a);
    app_ask(a, "decks", hows, sizeof hows / sizeof *hows);
    return EFFECT_NONE;
}

/* --- names and hands off ---------------------------------------------------------------------- */

enum effect act_in_use(struct app *a)
{
    const struct strip *s = selected_strip(a);
    const struct device *d = selected_device(a);
    if (!s && !d)
        return complain(a, "choose a strip or a device to mark as in use");
    const char *by = s ? s->in_use : d->in_use;
    if (by)
        return change(a, change_of(CHANGE_IN_USE, a->selected.name, ""));
    prompted_offer(a, FOR_IN_USE, a->selected.name, "somebody");
    return EFFECT_NONE;
}

enum effect act_label(struct app *a)
{
    if (a->pane_shown && a->pane == PANE_CHECKLIST && a->pane_keys) {
        int item = a->item[PANE_CHECKLIST];
        if (item < 0 || item >= (int)a->derived->steps.n)
            return complain(a, "choose a step");
        const struct step *s = &a->derived->steps.v[item];
        prompted_open(a, FOR_NOTE, s->id, s->note);
        return EFFECT_NONE;
    }
    if (!a->selected.kind)
        return complain(a, "choose a box to name");
    prompted_open(a, FOR_LABEL, a->selected.name, booth_label(app_booth(a), a->selected.name));
    return EFFECT_NONE;
}

enum effect act_level(struct app *a)
{
    struct str now = {0};
    if (a->level >= 0)
        str_addf(&now, "%d.%d", a->level / 10, a->level % 10);
    prompted_offer(a, FOR_LEVEL, NULL, str_text(&now));
    str_clear(&now);
    return EFFECT_NONE;
}

enum effect act_found(struct app *a)
{
    struct booth *next = booth_copy(app_booth(a));
    bool anew = next->found != NULL;
    found_keep(next);
    if (app_commit(a, next, "keep the booth as it was found"))
        app_say(a, false, "%s",
                anew ? "kept as found, in place of what was kept before: u takes it back"
                     : "kept as found: wiring, selectors, switches, sources, data leads");
    else if (!a->read_only)
        app_say(a, false, "it is kept so already");
    return EFFECT_NONE;
}

static enum effect open_form(struct app *a, const char *thing)
{
    gesture_end(a);
    a->form = a->read_only ? NULL : form_new(app_booth(a), thing);
    if (a->form && !a->pane_shown)
        act_pane_details(a);
    return a->form ? EFFECT_NONE : complain(a, "there is no form for this");
}

enum effect act_form(struct app *a)
{
    if (a->drag.from.kind)
        return gesture_drop(a);
    return open_form(a, a->selected.name);
}

enum effect act_venue(struct app *a)
{
    return open_form(a, "venue");
}

enum effect act_host(struct app *a)
{
    return open_form(a, "host");
}

/* --- things come and go ----------------------------------------------------------------------- */

static void add_thing(struct app *a, enum thing thing)
{
    struct change c = change_of(CHANGE_ADD, "", "");
    const struct device *mixer = NULL;
    if (thing == THING_STRIP && booth_strip(app_booth(a), a->selected.name, &mixer))
        c = change_of(CHANGE_ADD, mixer->id, "");
    c.number = (int)thing;
    app_change_one(a, c);
}

#define ADDS(name, thing)                                                                          \
    static void add_##name(struct app *a)                                                          \
    {                                                                                              \
        add_thing(a, thing);                                                                       \
    }
ADDS(player, THING_PLAYER)
ADDS(turntable, THING_TURNTABLE)
ADDS(mixer, THING_MIXER)
ADDS(interface, THING_INTERFACE)
ADDS(controller, THING_CONTROLLER)
ADDS(strip, THING_STRIP)
ADDS(deck, THING_DECK)
ADDS(hub, THING_HUB)

enum effect act_add(struct app *a)
{
    static const struct answer things[] = {
        {'p', "player", EFFECT_NONE, add_player},
        {'s', "strip", EFFECT_NONE, add_strip},
        {'d', "deck", EFFECT_NONE, add_deck},
        {'t', "turntable", EFFECT_NONE, add_turntable},
        {'m', "mixer", EFFECT_NONE, add_mixer},
        {'i', "interface", EFFECT_NONE, add_interface},
        {'c', "controller", EFFECT_NONE, add_controller},
        {'h', "hub", EFFECT_NONE, add_hub},
    };
    gesture_end(a);
    app_ask(a, "add", things, sizeof things / sizeof *things);
    return EFFECT_NONE;
}

enum effect act_remove(struct app *a)
{
    if (a->drag.from.kind == SPOT_OUTPUT || a->drag.from.kind == SPOT_INPUT) {
        struct changes c = {0};
        struct spot jack = a->drag.from;
        gesture_end(a);
        bool done = drag_unplug(app_booth(a), &jack, &c) && app_change_one(a, c.v[0]);
        changes_clear(&c);
        return done ? EFFECT_NONE : complain(a, "no cable is plugged in there");
    }
    gesture_end(a);
    if (!a->selected.kind)
        return complain(a, "choose a box to remove");
    return change(a, change_of(CHANGE_REMOVE, a->selected.name, ""));
}

enum effect act_undo(struct app *a)
{
    gesture_end(a);
    if (a->pane_shown && a->pane == PANE_CHECK && pane_check_unstrike(a))
        return EFFECT_NONE;
    const char *what = history_undo(a->history);
    if (!what)
        return complain(a, "nothing to undo");
    app_moved(a);
    app_say(a, false, "undone: %s", what);
    return EFFECT_NONE;
}

enum effect act_redo(struct app *a)
{
    gesture_end(a);
    const char *what = history_redo(a->history);
    if (!what)
        return complain(a, "nothing to redo");
    app_moved(a);
    app_say(a, false, "done again: %s", what);
    return EFFECT_NONE;
}

/* --- faults ----------------------------------------------------------------------------------- */

static enum effect next_fault(struct app *a, int step)
{
    int n = (int)a->derived->faults.n;
    if (n == 0) {
        app_say(a, false, "no faults");
        return EFFECT_NONE;
    }
    int at = a->fault < 0 ? (step > 0 ? 0 : n - 1) : (a->fault + step + n) % n;
    if (!a->pane_shown)
        act_pane_faults(a);
    a->pane = PANE_FAULTS;
    faults_focus(a, at);
    return EFFECT_NONE;
}

enum effect act_next_fault(struct app *a)
{
    return next_fault(a, 1);
}

enum effect act_last_fault(struct app *a)
{
    return next_fault(a, -1);
}

enum effect act_go_to_subject(struct app *a)
{
    if (a->fault < 0)
        return next_fault(a, 1);
    faults_next_subject(a);
    return EFFECT_NONE;
}

enum effect act_fix(struct app *a)
{
    gesture_end(a);
    if (a->fault < 0 && a->derived->faults.n)
        faults_focus(a, 0);
    if (a->fault < 0)
        return complain(a, "no fault to fix");
    const struct fault *f = &a->derived->faults.v[a->fault];
    if (!f->fix.n)
        return complain(a, f->fix_text ? f->fix_text : "this one only a person can put right");
    struct str what = {0};
    str_add(&what, f->fix_text ? f->fix_text : f->slug);
    bool done = app_change(a, &f->fix, str_text(&what));
    str_clear(&what);
    return done ? EFFECT_NONE : EFFECT_BELL;
}

/* --- the file --------------------------------------------------------------------------------- */

enum effect act_save(struct app *a)
{
    gesture_end(a);
    if (a->read_only) /* nothing is here to be lost; perhaps it can be edited by now */
        return EFFECT_RELOAD;
    if (a->path)
        return EFFECT_SAVE;
    prompted_open(a, FOR_SAVE_AS, NULL, app_booth(a)->venue.name);
    return EFFECT_NONE;
}

enum effect act_sheet(struct app *a)
{
    static const struct answer kinds[] = {{'t', "text", EFFECT_SHEET_TEXT, NULL},
                                          {'c', "CSV", EFFECT_SHEET_CSV, NULL},
                                          {'s', "SVG picture", EFFECT_SHEET_SVG, NULL}};
    gesture_end(a);
    app_ask(a, "patch sheet", kinds, sizeof kinds / sizeof *kinds);
    return EFFECT_NONE;
}

static void save_first(struct app *a)
{
    if (!a->path)
        text_set(&a->asked, app_booth(a)->venue.name);
}

enum effect act_quit(struct app *a)
{
    static const struct answer unsaved[] = {{'s', "save and quit", EFFECT_SAVE_QUIT, save_first},
                                            {'d', "quit without saving", EFFECT_QUIT, NULL}};
    gesture_end(a);
    if (app_is_saved(a))
        return EFFECT_QUIT;
    app_ask(a, "there are unsaved changes", unsaved, 2);
    return EFFECT_NONE;
}
