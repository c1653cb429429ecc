/* The line check: deck by deck, where it came out and on which side; below it why, likeliest first,
 * and what was struck out of it.
 *
 * While the cursor is on a deck, digits mark strips here, which in every other pane choose a pane:
 * the pane's head says so, and every mark is told, with the key that takes it back.
 *
 * A deck that is right takes two keys: its strip's number and Enter, which goes on to the deck
 * whose check tells most. */
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "base/utf8.h"
#include "engine/basis.h"
#include "model/say.h"
#include "model/shape.h"
#include "ui/pane.h"

enum { LINES_SHOWN = 12 };

/* --- showing ---------------------------------------------------------------------------------- */

static const char *sides_of(const struct mark *m)
{
    if (m->left == EAR_UNTOLD && m->right == EAR_UNTOLD)
        return "";
    if (m->left == EAR_LEFT && m->right == EAR_RIGHT)
        return ", sides right";
    if (m->left == EAR_RIGHT && m->right == EAR_LEFT)
        return ", sides exchanged";
    if (m->right == EAR_NONE)
        return ", left only";
    if (m->left == EAR_NONE)
        return ", right only";
    return ", sides mixed";
}

/* Whether a deck was heard where it is wanted alone, with nothing told of its sides but that they
 * are right. */
static bool is_right(const struct listen *l, const struct deck *d)
{
    const struct mark *m = l->heard.v;
    return l->heard.n == 1 && strcmp(m->strip, d->wants) == 0 &&
           (m->left == EAR_UNTOLD || m->left == EAR_LEFT) &&
           (m->right == EAR_UNTOLD || m->right == EAR_RIGHT);
}

/* "heard on 2, sides right; heard on 3", "silence", "not checked" (NULL). */
static void say_heard(const struct booth *b, const struct listen *l, struct str *out)
{
    str_add(out, !l ? "not checked" : l->heard.n ? "" : "silence");
    for (size_t i = 0; l && i < l->heard.n; i++)
        str_addf(out, "%sheard on %s%s", i ? "; " : "", booth_label(b, l->heard.v[i].strip),
                 sides_of(&l->heard.v[i]));
}

static void add_deck(const struct app *a, int deck, struct lines *out)
{
    const struct booth *b = app_booth(a);
    const struct deck *d = &b->decks.v[deck];
    const struct listen *l = booth_listen(b, d->id);
    struct str text = {0};
    str_addf(&text, "%s, strip %s: ", d->label, *d->wants ? booth_label(b, d->wants) : "-");
    say_heard(b, l, &text);
    bool old = l && basis_is_old(b, l);
    if (old)
        str_add(&text, " (out of date)");
    lines_add(out, deck,
              !l || old        ? LOOK_PLAIN
              : is_right(l, d) ? LOOK_GOOD
                               : LOOK_ERROR,
              4, text.text);
    str_clear(&text);
}

static void add_mend(const struct app *a, int item, struct lines *out)
{
    const struct plan *p = a->mend;
    for (size_t i = 0; p && p->feasible && i < p->n; i++) {
        struct str text = {0};
        str_add(&text, "   ");
        action_say(&p->actions[i], &text);
        lines_add(out, item, LOOK_STRONG, 6, str_text(&text));
        str_clear(&text);
    }
    if (p && !p->feasible)
        lines_addf(out, item, LOOK_WARNING, 6, "   %s", p->why_not);
}

/* The faults that are known to make decks amiss, in the words of their own pane. */
static void add_known(const struct app *a, struct lines *out)
{
    const struct faults *faults = &a->derived->faults;
    for (size_t i = 0; i < faults->n; i++)
        if (diagnosis_knows(&a->diagnosis, &faults->v[i]))
            lines_addf(out, -1, LOOK_ERROR, 2, "x %s", faults->v[i].text);
}

static void add_explanation(const struct app *a, int line, int item, struct lines *out)
{
    struct str text = {0};
    explanation_say(&a->diagnosis, a->diagnosis.lines[line], &text);
    lines_add(out, item, line == 0 ? LOOK_WARNING : LOOK_PLAIN, 3, text.text);
    if (item == a->item[PANE_CHECK])
        add_mend(a, item, out);
    if (diagnosis_line(&a->diagnosis, line)->n == 0)
        add_known(a, out);
    str_clear(&text);
}

/* Items after the explanations, one each. */
static void add_struck(const struct app *a, struct lines *out)
{
    const struct struck *s = &a->struck;
    int first = (int)(app_booth(a)->decks.n + a->diagnosis.n_lines);
    if (s->n)
        lines_addf(out, -1, LOOK_TITLE, 0, "it is not: %zu struck out", s->n);
    for (size_t i = 0; i < s->n; i++)
        lines_add(out, first + (int)i, LOOK_DIM, 3, s->v[i].says);
}

/* Whose mark is to be doubted when nothing explains them all. */
static const char *doubted(const struct app *a)
{
    int odd = a->diagnosis.odd;
    return odd < 0 ? "the decks" : app_booth(a)->decks.v[odd].label;
}

static void add_nothing(const struct app *a, struct lines *out)
{
    lines_addf(out, -1, LOOK_WARNING, 2, "Nothing %sexplains it all; check %s again.",
               a->diagnosis.others ? "else " : "", doubted(a));
}

/* What was heard is as it should be; the booth's errors may be of what nobody hears. */
static void add_well(const struct app *a, struct lines *out)
{
    size_t decks = app_booth(a)->decks.n, errors = a->derived->faults.count[SEVERITY_ERROR];
    if (a->diagnosis.marks < decks)
        lines_add(out, -1, LOOK_GOOD, 2, "What was heard so far is as it should be.");
    else if (decks == 1)
        lines_add(out, -1, LOOK_GOOD, 2, "The one deck was heard as it should be.");
    else
        lines_addf(out, -1, LOOK_GOOD, 2, "All %zu decks were heard as they should be.", decks);
    if (errors)
        lines_addf(out, -1, LOOK_ERROR, 2,
                   errors == 1 ? "%zu error stands: pane 1" : "%zu errors stand: pane 1", errors);
}

static void add_explanations(const struct app *a, struct lines *out)
{
    const struct diagnosis *d = &a->diagnosis;
    int decks = (int)app_booth(a)->decks.n;
    bool well = d->n && d->v[0].n == 0 && d->n_amiss == 0;
    struct str cut = {0};
    if (d->n == 0)
        add_nothing(a, out);
    if (well)
        add_well(a, out);
    for (int i = 0; i < (int)d->n_lines && i < LINES_SHOWN && !well; i++)
        add_explanation(a, i, decks + i, out);
    if (d->n_lines > LINES_SHOWN)
        lines_addf(out, -1, LOOK_DIM, 2, "and %zu less likely one%s", d->n_lines - LINES_SHOWN,
                   d->n_lines - LINES_SHOWN == 1 ? "" : "s");
    if (d->n == 0 || d->v[0].n)
        add_known(a, out);
    diagnosis_say_cut(d, &cut);
    if (cut.len)
        lines_add(out, -1, LOOK_DIM, 2, cut.text);
    str_clear(&cut);
}

static void add_why(const struct app *a, struct lines *out)
{
    const struct diagnosis *d = &a->diagnosis;
    if (!a->diagnosed)
        return;
    if (d->marks)
        lines_add(out, -1, LOOK_TITLE, 0, "why");
    if (a->struck.n)
        lines_addf(out, -1, LOOK_DIM, 2, "%zu struck out: u takes the last back, x any",
                   a->struck.n);
    if (d->marks)
        add_explanations(a, out);
    add_struck(a, out);
    if (d->next)
        lines_addf(out, -1, LOOK_NOTE, 2, "next: %s", d->next);
}

void pane_check_lines(const struct app *a, struct lines *out)
{
    lines_add(out, -1, LOOK_DIM, 0,
              booth_live(app_booth(a))
                  ? "Live room: fader down, strip meter and headphone cue only."
                  : "Levels down first, up slowly, one deck alone.");
    pane_ears_lines(a, out);
    for (size_t i = 0; i < app_booth(a)->decks.n; i++)
        add_deck(a, (int)i, out);
    add_why(a, out);
}

bool pane_check_next(const struct app *a, struct str *out)
{
    const struct diagnosis *d = &a->diagnosis;
    size_t before = out->len;
    if (!a->pane_shown || a->pane != PANE_CHECK || !a->diagnosed)
        return false;
    if (d->next)
        str_add(out, d->next);
    else if (d->n == 0 && d->marks)
        str_addf(out, "check %s again", doubted(a));
    else if (d->n && d->v[0].n)
        str_add(out, "choose what explains it: Enter mends it");
    else if (d->n_amiss)
        str_add(out, "what is known to be wrong: Enter on it mends it");
    else if (d->marks && a->pane_keys)
        str_add(out, d->marks < app_booth(a)->decks.n
                         ? "no other deck would tell anything: Tab leaves"
                         : "the line check is done: Tab leaves");
    return out->len > before;
}

/* --- marking ---------------------------------------------------------------------------------- */

static int deck_here(const struct app *a)
{
    int item = a->item[PANE_CHECK];
    return item < (int)app_booth(a)->decks.n ? item : -1;
}

/* The mark of a deck in a scratch booth, made if need be and resting on how the booth is now. */
static struct listen *listen_in(struct booth *b, const char *deck)
{
    const struct listen *there = booth_listen(b, deck);
    struct listen *l = there ? &b->line_check.v[there - b->line_check.v] : NULL;
    if (l && basis_is_old(b, l)) /* what was heard then says nothing now */
        field_clear(shape_field(&shape_listen, "heard"), &l->heard);
    if (!l) {
        l = records_add(shape_field(&shape_booth, "line_check"), &b->line_check);
        snprintf(l->deck, sizeof l->deck, "%s", deck);
    }
    struct str basis = {0};
    basis_make(b, &basis);
    text_set(&l->basis, basis.text);
    str_clear(&basis);
    return l;
}

static void drop_listen(struct booth *b, const struct listen *l)
{
    records_splice(shape_field(&shape_booth, "line_check"), &b->line_check,
                   (size_t)(l - b->line_check.v), 1, NULL, 0);
}

/* Whoever meant to choose a pane sees at once what the key did, and how to take it back. */
static void tell_mark(struct app *a, const char *deck, const char *how)
{
    const struct booth *b = app_booth(a);
    const struct listen *l = booth_listen(b, deck);
    struct str heard = {0};
    say_heard(b, l, &heard);
    app_say(a, false, "%s %s%s: %s; u takes it back, Tab leaves", l ? "marked" : "no mark of",
            booth_label(b, deck), l ? how : " is left", str_text(&heard));
    str_clear(&heard);
}

static void tell_same(struct app *a, const char *deck)
{
    struct str heard = {0};
    say_heard(app_booth(a), booth_listen(app_booth(a), deck), &heard);
    app_say(a, false, "%s is marked so already: %s", booth_label(app_booth(a), deck),
            str_text(&heard));
    str_clear(&heard);
}

/* Whether something was marked here since the cursor came. */
static bool mark_grows(const struct app *a)
{
    return history_done(a->history) >= a->grows_from;
}

/* Commits what was marked of a deck; what undoing it says, and how it was marked. */
static void commit(struct app *a, struct booth *next, const char *deck, const char *what,
                   const char *how)
{
    struct str step = {0};
    bool grows = mark_grows(a);
    int item = a->item[PANE_CHECK];
    str_addf(&step, "%s of %s", what, booth_label(next, deck));
    if (app_commit(a, next, str_text(&step)))
        tell_mark(a, deck, how);
    else if (!a->read_only)
        tell_same(a, deck);
    if (!grows)
        a->grows_from = history_done(a->history);
    a->item[PANE_CHECK] = item;
    str_clear(&step);
}

/* Whether the advice is to play a deck again that was marked already. */
static bool asked_again(const struct app *a, int deck)
{
    const struct diagnosis *d = &a->diagnosis;
    const struct booth *b = app_booth(a);
    bool doubt = d->n == 0 && (d->odd < 0 || d->odd == deck);
    return a->diagnosed && booth_listen(b, b->decks.v[deck].id) && (doubt || d->next_deck == deck);
}

/* Takes a strip out of what was heard; false: it is not there. */
static bool unmark(struct listen *l, const char *strip)
{
    for (size_t i = 0; i < l->heard.n; i++)
        if (strcmp(l->heard.v[i].strip, strip) == 0) {
            records_splice(shape_field(&shape_listen, "heard"), &l->heard, i, 1, NULL, 0);
            return true;
        }
    return false;
}

void pane_check_mark(struct app *a, const char *strip)
{
    int deck = deck_here(a);
    if (deck < 0)
        return;
    struct booth *next = booth_copy(app_booth(a));
    char id[ID_SIZE];
    snprintf(id, sizeof id, "%s", next->decks.v[deck].id);
    struct listen *l = listen_in(next, id);
    const struct field *heard = shape_field(&shape_listen, "heard");
    bool afresh = !mark_grows(a) && asked_again(a, deck);
    if (afresh || !*strip)
        field_clear(heard, &l->heard);
    if (*strip && !unmark(l, strip))
        snprintf(((struct mark *)records_add(heard, &l->heard))->strip, REF_SIZE, "%s", strip);
    else if (*strip && l->heard.n == 0) /* silence would be another statement */
        drop_listen(next, l);
    commit(a, next, id, "what was heard", afresh ? " afresh" : "");
}

static void mark_sides(struct app *a, enum ear left, enum ear right)
{
    int deck = deck_here(a);
    const struct booth *b = app_booth(a);
    const struct listen *now = deck < 0 ? NULL : booth_listen(b, b->decks.v[deck].id);
    if (!now || now->heard.n == 0) {
        app_say(a, true, "first the strip where it is heard");
        return;
    }
    struct booth *next = booth_copy(b);
    struct listen *l = listen_in(next, b->decks.v[deck].id);
    if (l->heard.n) { /* of the strip that was told last */
        l->heard.v[l->heard.n - 1].left = left;
        l->heard.v[l->heard.n - 1].right = right;
    }
    char id[ID_SIZE];
    snprintf(id, sizeof id, "%s", b->decks.v[deck].id);
    commit(a, next, id, "the sides", "");
}

/* --- striking out ----------------------------------------------------------------------------- */

static void take_back(struct app *a, size_t strike)
{
    app_say(a, false, "it may be that after all: %s", a->struck.v[strike].says);
    struck_take_back(&a->struck, strike);
}

/* What explains it is asked anew; a cursor below the decks goes to the likeliest of what is left.
 */
static void ask_anew(struct app *a)
{
    int decks = (int)app_booth(a)->decks.n;
    app_diagnose_anew(a);
    if (a->item[PANE_CHECK] > decks)
        a->item[PANE_CHECK] = decks;
}

/* Strikes out the explanation under the cursor, or takes back what was struck out. */
static void strike(struct app *a)
{
    int line = a->item[PANE_CHECK] - (int)app_booth(a)->decks.n;
    int struck = line - (int)a->diagnosis.n_lines;
    const struct explanation *e = diagnosis_line(&a->diagnosis, line);
    if (e && e->n) {
        struck_add(&a->struck, &a->diagnosis, a->diagnosis.lines[line], history_done(a->history));
        app_say(a, false, "it is not that: u takes that back, or x on it");
    } else if (struck >= 0 && struck < (int)a->struck.n) {
        take_back(a, (size_t)struck);
    } else {
        return;
    }
    ask_anew(a);
}

bool pane_check_unstrike(struct app *a)
{
    if (!struck_last(&a->struck, history_done(a->history)))
        return false;
    take_back(a, a->struck.n - 1);
    ask_anew(a);
    return true;
}

/* --- keys ------------------------------------------------------------------------------------- */

/* The strip whose printed label is one character, or NULL. */
static const struct strip *strip_labelled(const struct booth *b, int key)
{
    struct str label = {0};
    const struct strip *found = NULL;
    utf8_add(&label, (uint32_t)key);
    for (size_t i = 0; i < b->devices.n; i++)
        for (size_t k = 0; k < b->devices.v[i].strips.n && !found; k++)
            if (strcmp(b->devices.v[i].strips.v[k].label, label.text) == 0)
                found = &b->devices.v[i].strips.v[k];
    str_clear(&label);
    return found;
}

bool pane_check_marks(const struct app *a)
{
    return a->pane_shown && a->pane_keys && a->pane == PANE_CHECK && deck_here(a) >= 0;
}

bool pane_check_key(struct app *a, int key)
{
    static const struct {
        int key;
        enum ear left, right;
    } sides[] = {{'y', EAR_LEFT, EAR_RIGHT},
                 {'x', EAR_RIGHT, EAR_LEFT},
                 {'l', EAR_UNTOLD, EAR_NONE}, /* which side of the deck it is, no ear can tell */
                 {'r', EAR_NONE, EAR_UNTOLD}};
    if (deck_here(a) < 0 && key == 'x' && a->diagnosed) {
        strike(a);
        return true;
    }
    if (deck_here(a) < 0 && (key == 'y' || key == 'l' || key == 'r')) {
        app_say(a, true, "sides are told at a deck's row");
        return true;
    }
    if (deck_here(a) < 0 || key < ' ' || key >= 0x110000)
        return false;
    const struct strip *s = strip_labelled(app_booth(a), key);
    if (s || key == '0') {
        char id[ID_SIZE] = "";
        snprintf(id, sizeof id, "%s", s ? s->id : "");
        pane_check_mark(a, id);
        return true;
    }
    if (key >= '1' && key <= '9') { /* a slip of the finger should not lead to another pane */
        app_say(a, true, "no strip is printed %c; Tab first, for the other panes", key);
        return true;
    }
    for (size_t i = 0; i < sizeof sides / sizeof *sides; i++)
        if (sides[i].key == key) {
            mark_sides(a, sides[i].left, sides[i].right);
            return true;
        }
    return false;
}

/* Drops the marks that told that something was wrong: those decks are to be heard once more.
 * Returns the first of them, or -1. */
static int forget_wrong(struct booth *b)
{
    int first = -1;
    for (size_t i = b->decks.n; i-- > 0;) {
        const struct deck *d = &b->decks.v[i];
        const struct listen *l;
        while ((l = booth_listen(b, d->id)) && !is_right(l, d)) {
            drop_listen(b, l);
            first = (int)i;
        }
    }
    return first;
}

/* What is to be heard next is told in one place: below, as after every mark. */
static void take_mend(struct app *a)
{
    struct booth *next = booth_copy(a->mend->after);
    int first = forget_wrong(next);
    if (!app_commit(a, next, "mend what the line check found"))
        return;
    app_say(a, false, "mended: what told of it is unchecked again; u undoes it");
    a->item[PANE_CHECK] = first < 0 ? 0 : first;
    app_follow(a);
    if (a->diagnosis.next_deck >= 0)
        a->item[PANE_CHECK] = a->diagnosis.next_deck;
}

/* On to what tells most, or to what is doubted, else down the list. */
static void go_on(struct app *a, int item)
{
    int next = !a->diagnosed                 ? -1
               : a->diagnosis.next_deck >= 0 ? a->diagnosis.next_deck
                                             : a->diagnosis.odd;
    if (next >= 0 && next == a->diagnosis.odd && next == item) {
        a->grows_from = SIZE_MAX;
        app_say(a, false, "play %s again: the first strip marks it afresh", doubted(a));
        return;
    }
    pane_move_to(a, next >= 0 && next != item ? next : item + 1);
}

enum effect pane_check_act(struct app *a, int item)
{
    int decks = (int)app_booth(a)->decks.n;
    if (item < decks) {
        go_on(a, item);
        return EFFECT_NONE;
    }
    if (!a->mend || !a->mend->feasible) {
        app_say(a, true, "%s", a->mend ? a->mend->why_not : "choose an explanation to mend");
        return EFFECT_BELL;
    }
    take_mend(a);
    return EFFECT_NONE;
}
