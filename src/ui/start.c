/* The list of saved venues, and the four lines that make a new one: straight wiring first, what
 * differs is changed by dragging afterwards. */
#include "ui/start.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "model/layout.h"
#include "model/shape.h"
#include "ui/lines.h"
#include "ui/prompted.h"

/* --- the list --------------------------------------------------------------------------------- */

static enum effect list_key(struct app *a, int key)
{
    struct start *s = &a->start;
    int last = (int)s->n; /* the item after the venues is "new venue" */
    switch (key) {
    case K_UP:
        s->cursor -= s->cursor > 0;
        return EFFECT_NONE;
    case K_DOWN:
        s->cursor += s->cursor < last;
        return EFFECT_NONE;
    case K_HOME:
        s->cursor = 0;
        return EFFECT_NONE;
    case K_END:
        s->cursor = last;
        return EFFECT_NONE;
    case K_ENTER:
    case ' ':
        if (s->cursor < last)
            return EFFECT_OPEN;
        a->screen = SCREEN_NEW;
        return EFFECT_NONE;
    case 'n':
        a->screen = SCREEN_NEW;
        return EFFECT_NONE;
    case 'q':
    case K_ESC:
    case K_CTRL('c'):
        return EFFECT_QUIT;
    default:
        return EFFECT_BELL;
    }
}

static struct lines list_lines(const struct app *a, int width)
{
    const struct start *s = &a->start;
    struct lines l = {.width = width, .ascii = a->ascii};
    for (size_t i = 0; i < s->n; i++) {
        lines_add(&l, (int)i, LOOK_STRONG, 2, s->items[i].name);
        lines_addf(&l, (int)i, LOOK_PLAIN, 4, "    %s", s->items[i].says);
    }
    lines_add(&l, (int)s->n, LOOK_STRONG, 2, "+ a new venue (n)");
    return l;
}

static struct rect list_rect(const struct app *a)
{
    return (struct rect){2, 3, a->columns - 4, a->rows - 6};
}

static enum effect list_event(struct app *a, const struct event *ev)
{
    if (ev->kind == EVENT_KEY)
        return list_key(a, ev->key);
    if (ev->kind != EVENT_PRESS)
        return EFFECT_NONE;
    struct rect r = list_rect(a);
    struct lines l = list_lines(a, r.w);
    int scroll = lines_scroll(&l, a->start.cursor, 0, r.h);
    int item = lines_item_at(&l, scroll, ev->row - r.y);
    lines_clear(&l);
    if (item < 0)
        return EFFECT_NONE;
    bool again = item == a->start.cursor;
    a->start.cursor = item;
    return again ? list_key(a, K_ENTER) : EFFECT_NONE;
}

/* --- a new venue ------------------------------------------------------------------------------ */

enum { ROW_NAME, ROW_PLAYERS, ROW_DECKS, ROW_STRIPS, ROW_WAY, ROW_MAKE, ROW_COUNT };

/* The strips' labels "1 2 3 ..." while nobody typed others. */
static void number_strips(struct fresh *f)
{
    struct str labels = {0};
    for (int i = 1; i <= f->players; i++)
        str_addf(&labels, "%s%d", i > 1 ? " " : "", i);
    text_set(&f->strips, str_text(&labels));
    str_clear(&labels);
}

static enum effect make_venue(struct app *a)
{
    const struct fresh *f = &a->fresh;
    struct err e;
    struct layout layout = {.venue = f->name,
                            .players = f->players,
                            .decks = f->decks,
                            .strips = f->strips,
                            .way = f->way};
    struct booth *b = booth_laid_out(&layout, &e);
    if (!b) {
        app_say(a, true, "%s%s%s", e.place, *e.place ? ": " : "", e.says);
        return EFFECT_BELL;
    }
    app_open(a, b, NULL);
    app_say(a, false, "wired straight; drag what differs, then w saves");
    return EFFECT_NONE;
}

static int within(int n, int low, int high)
{
    return n < low ? low : n > high ? high : n;
}

static void set_players(struct fresh *f, int players)
{
    f->players = within(players, 1, MAX_PLAYERS);
    f->decks = f->players;
    number_strips(f);
}

static void change_row(struct app *a, int step)
{
    struct fresh *f = &a->fresh;
    if (f->cursor == ROW_PLAYERS)
        set_players(f, f->players + step);
    else if (f->cursor == ROW_DECKS)
        f->decks = within(f->decks + step, 0, MAX_DECKS);
    else if (f->cursor == ROW_WAY)
        f->way = (enum way)(((int)f->way + step + (int)words_way.n) % (int)words_way.n);
}

/* Opens the row for typing; its text is marked, so that typing replaces it. False: it is a choice.
 */
static bool type_row(struct app *a)
{
    const struct fresh *f = &a->fresh;
    struct str number = {0};
    bool players = f->cursor == ROW_PLAYERS;
    str_addf(&number, "%d", players ? f->players : f->decks);
    if (f->cursor == ROW_NAME)
        prompted_offer(a, FOR_NEW_NAME, NULL, f->name);
    else if (players || f->cursor == ROW_DECKS)
        prompted_offer(a, players ? FOR_NEW_PLAYERS : FOR_NEW_DECKS, NULL, str_text(&number));
    else if (f->cursor == ROW_STRIPS)
        prompted_offer(a, FOR_NEW_STRIPS, NULL, f->strips);
    str_clear(&number);
    return f->cursor < ROW_WAY;
}

/* What is typed on a row of text goes into it, without a key to open it first. */
static enum effect type_into_row(struct app *a, const struct event *ev)
{
    bool counts = a->fresh.cursor == ROW_PLAYERS || a->fresh.cursor == ROW_DECKS;
    bool types = ev->kind == EVENT_PASTE || (ev->key > ' ' && ev->key < 0x110000 && ev->key != 127);
    if (!types || (counts && ev->kind == EVENT_KEY && (ev->key < '0' || ev->key > '9')) ||
        !type_row(a))
        return EFFECT_BELL;
    return prompted_event(a, ev);
}

static void type_count(struct app *a, const char *text)
{
    struct fresh *f = &a->fresh;
    bool players = f->cursor == ROW_PLAYERS;
    int n = atoi(text), least = players ? 1 : 0;
    if (strspn(text, "0123456789") != strlen(text) || n < least || n > MAX_PLAYERS)
        app_say(a, true, "\"%s\" is not a number of %s; expected %d to %d", text,
                players ? "players" : "decks", least, MAX_PLAYERS);
    else if (players)
        set_players(f, n);
    else
        f->decks = n;
}

void start_prompted(struct app *a, const char *text)
{
    struct fresh *f = &a->fresh;
    if (f->cursor == ROW_NAME)
        text_set(&f->name, *text ? text : "New venue");
    else if (f->cursor == ROW_STRIPS)
        text_set(&f->strips, text);
    else
        type_count(a, text);
    f->cursor += !a->message; /* what was refused is put right first */
}

static enum effect new_key(struct app *a, const struct event *ev)
{
    struct fresh *f = &a->fresh;
    text_set(&a->message, NULL);
    switch (ev->key) {
    case K_UP:
        f->cursor = (f->cursor + ROW_COUNT - 1) % ROW_COUNT;
        return EFFECT_NONE;
    case K_DOWN:
    case K_TAB:
        f->cursor = (f->cursor + 1) % ROW_COUNT;
        return EFFECT_NONE;
    case K_HOME:
        f->cursor = 0;
        return EFFECT_NONE;
    case K_END:
        f->cursor = ROW_MAKE;
        return EFFECT_NONE;
    case K_LEFT:
        change_row(a, -1);
        return EFFECT_NONE;
    case K_RIGHT:
        change_row(a, 1);
        return EFFECT_NONE;
    case ' ':
        if (!type_row(a))
            change_row(a, 1);
        return EFFECT_NONE;
    case K_ENTER:
        if (f->cursor == ROW_MAKE)
            return make_venue(a);
        f->cursor++;
        return EFFECT_NONE;
    case K_ESC:
        a->screen = SCREEN_START;
        return EFFECT_NONE;
    case K_CTRL('c'):
        return EFFECT_QUIT;
    default:
        return type_into_row(a, ev);
    }
}

static struct lines new_lines(const struct app *a, int width)
{
    const struct fresh *f = &a->fresh;
    struct lines l = {.width = width, .ascii = a->ascii};
    lines_addf(&l, ROW_NAME, LOOK_PLAIN, 4, "venue:                %s", f->name);
    lines_addf(&l, ROW_PLAYERS, LOOK_PLAIN, 4, "players:              %d", f->players);
    lines_addf(&l, ROW_DECKS, LOOK_PLAIN, 4, "host decks:           %d", f->decks);
    lines_addf(&l, ROW_STRIPS, LOOK_PLAIN, 4, "strips from the left: %s",
               f->strips ? f->strips : "");
    lines_addf(&l, ROW_WAY, LOOK_PLAIN, 4, "way into the mixer:   %s",
               word_people(&words_way, (int)f->way));
    lines_add(&l, ROW_MAKE, LOOK_STRONG, 4, "make this venue and save it");
    return l;
}

/* The row that is shown at a line of the screen, where a long one takes several; -1: none. */
static int new_row_at(const struct app *a, int y)
{
    struct rect r = list_rect(a);
    struct lines l = new_lines(a, r.w);
    int row = lines_item_at(&l, lines_scroll(&l, a->fresh.cursor, 0, r.h), y - r.y);
    lines_clear(&l);
    return row;
}

static enum effect new_event(struct app *a, const struct event *ev)
{
    if (ev->kind == EVENT_KEY)
        return new_key(a, ev);
    if (ev->kind != EVENT_PASTE && ev->kind != EVENT_PRESS)
        return EFFECT_NONE;
    text_set(&a->message, NULL);
    if (ev->kind == EVENT_PASTE)
        return type_into_row(a, ev);
    int row = new_row_at(a, ev->row);
    if (row < 0)
        return EFFECT_NONE;
    bool again = row == a->fresh.cursor;
    a->fresh.cursor = row;
    if (row == ROW_MAKE && again)
        return make_venue(a);
    if (again && !type_row(a))
        change_row(a, 1);
    return EFFECT_NONE;
}

enum effect start_event(struct app *a, const struct event *ev)
{
    return a->screen == SCREEN_START ? list_event(a, ev) : new_event(a, ev);
}

void start_draw(const struct app *a, struct grid *g)
{
    struct rect r = list_rect(a);
    bool list = a->screen == SCREEN_START;
    struct lines l = list ? list_lines(a, r.w) : new_lines(a, r.w);
    int cursor = list ? a->start.cursor : a->fresh.cursor;
    grid_fill(g, 0, 0, g->columns, 1, LOOK_TITLE);
    grid_put(g, 1, 0, -1, LOOK_TITLE,
             list ? "boothwright: saved venues" : "boothwright: a new venue");
    lines_draw(&l, g, r, list ? lines_scroll(&l, cursor, 0, r.h) : 0, cursor, true);
    grid_put(g, 2, g->rows - 2, -1, LOOK_PLAIN,
             list ? "arrows, Enter opens, n a new one, q quit"
                  : "type, or left/right; Enter goes on, and on the last row makes it; Esc back");
    lines_clear(&l);
}
