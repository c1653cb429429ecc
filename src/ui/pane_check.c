/* The line check: deck by deck, where it came out and on which side; below it why, likeliest first,
 * and what was struck out of it.
 *
 * A deck that is right takes two keys: its strip's number and Enter, which goes on to the deck
 * whose check tells most. */
#include <stdio.h>
#include <string.h>

#include "base/utf8.h"
#include "engine/basis.h"
#include "model/say.h"
#include "model/shape.h"
#include "ui/pane.h"

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

static void add_deck(const struct app *a, int deck, struct lines *out)
{
    const struct booth *b = app_booth(a);
    const struct deck *d = &b->decks.v[deck];
    const struct listen *l = booth_listen(b, d->id);
    struct str text = {0};
    str_addf(&text, "%s, strip %s: ", d->label, *d->wants ? booth_label(b, d->wants) : "-");
    if (!l)
        str_add(&text, "not checked");
    else if (l->heard.n == 0)
        str_add(&text, "silence");
    for (size_t i = 0; l && i < l->heard.n; i++)
        str_addf(&text, "%sheard on %s%s", i ? "; " : "", booth_label(b, l->heard.v[i].strip),
                 sides_of(&l->heard.v[i]));
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
        struct str minutes = {0};
        say_minutes(p->actions[i].minutes, &minutes);
        lines_addf(out, item, LOOK_STRONG, 6, "   %s %s", str_text(&minutes), p->actions[i].text);
        str_clear(&minutes);
    }
    if (p && !p->feasible)
        lines_addf(out, item, LOOK_WARNING, 6, "   %s", p->why_not);
}

static void add_explanation(const struct app *a, int i, int item, struct lines *out)
{
    struct str text = {0};
    if (explanation_say(&a->diagnosis, (size_t)i, &text)) {
        lines_add(out, item, i == 0 ? LOOK_WARNING : LOOK_PLAIN, 3, text.text);
        if (item == a->item[PANE_CHECK])
            add_mend(a, item, out);
    }
    str_clear(&text);
}

/* Items after the explanations, one each. */
static void add_struck(const struct app *a, struct lines *out)
{
    const struct texts *says = &a->struck.says;
    int first = (int)(app_booth(a)->decks.n + a->diagnosis.n);
    if (says->n)
        lines_add(out, -1, LOOK_TITLE, 0, "it is not");
    for (size_t i = 0; i < says->n; i++)
        lines_add(out, first + (int)i, LOOK_DIM, 3, says->v[i]);
}

static void add_why(const struct app *a, struct lines *out)
{
    const struct diagnosis *d = &a->diagnosis;
    int decks = (int)app_booth(a)->decks.n;
    if (!a->diagnosed)
        return;
    if (d->marks)
        lines_add(out, -1, LOOK_TITLE, 0, "why");
    if (d->n == 0)
        lines_addf(out, -1, LOOK_WARNING, 2, "Nothing %sexplains it all; check %s again.",
                   d->others ? "else " : "",
                   d->odd < 0 ? "the decks" : app_booth(a)->decks.v[d->odd].label);
    if (d->n == 0 && d->cut)
        lines_add(out, -1, LOOK_DIM, 2,
                  "There were too many sets of three causes to try them all.");
    if (d->marks && d->n && d->v[0].n == 0)
        lines_add(out, -1, LOOK_GOOD, 2, "Nothing is wrong so far.");
    for (int i = 0; i < (int)d->n && i < 12; i++)
        if (d->v[i].n)
            add_explanation(a, i, decks + i, out);
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

static void commit(struct app *a, struct booth *next, const char *deck)
{
    struct str what = {0};
    int item = a->item[PANE_CHECK];
    str_addf(&what, "what was heard of %s", booth_label(next, deck));
    app_commit(a, next, str_text(&what));
    a->item[PANE_CHECK] = item;
    str_clear(&what);
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
    bool there = false;
    for (size_t i = l->heard.n; i-- > 0 && *strip;)
        if (strcmp(l->heard.v[i].strip, strip) == 0) {
            records_splice(heard, &l->heard, i, 1, NULL, 0);
            there = true;
        }
    if (!*strip)
        field_clear(heard, &l->heard);
    else if (!there)
        snprintf(((struct mark *)records_add(heard, &l->heard))->strip, REF_SIZE, "%s", strip);
    commit(a, next, id);
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
    commit(a, next, id);
}

/* --- striking out ----------------------------------------------------------------------------- */

/* Strikes out the explanation under the cursor, or takes back what was struck out. */
static void strike(struct app *a)
{
    int item = a->item[PANE_CHECK] - (int)app_booth(a)->decks.n;
    int struck = item - (int)a->diagnosis.n;
    bool back = struck >= 0 && struck < (int)a->struck.names.n;
    if (back)
        struck_take_back(&a->struck, (size_t)struck);
    else if (struck < 0 && a->diagnosis.v[item].n)
        struck_add(&a->struck, &a->diagnosis, (size_t)item);
    else
        return;
    app_diagnose_anew(a);
    a->item[PANE_CHECK] -= item; /* the likeliest of what is left */
    app_say(a, false,
            back ? "it may be that after all" : "it is not that: x on it takes that back");
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
            records_splice(shape_field(&shape_booth, "line_check"), &b->line_check,
                           (size_t)(l - b->line_check.v), 1, NULL, 0);
            first = (int)i;
        }
    }
    return first;
}

static void take_mend(struct app *a)
{
    struct booth *next = booth_copy(a->mend->after);
    int first = forget_wrong(next);
    struct str says = {0};
    str_addf(&says, "mended: now play %s again",
             first < 0 ? "those decks" : next->decks.v[first].label);
    if (app_commit(a, next, "mend what the line check found"))
        app_say(a, false, "%s", str_text(&says));
    a->item[PANE_CHECK] = first < 0 ? 0 : first;
    str_clear(&says);
}

enum effect pane_check_act(struct app *a, int item)
{
    int decks = (int)app_booth(a)->decks.n;
    if (item < decks) { /* on to what tells most, else down the list */
        int next = a->diagnosed ? a->diagnosis.next_deck : -1;
        pane_move_to(a, next >= 0 && next != item ? next : item + 1);
        return EFFECT_NONE;
    }
    if (!a->mend || !a->mend->feasible) {
        app_say(a, true, "%s", a->mend ? a->mend->why_not : "choose an explanation to mend");
        return EFFECT_BELL;
    }
    take_mend(a);
    return EFFECT_NONE;
}
