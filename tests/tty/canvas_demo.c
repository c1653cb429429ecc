/* A program that tries the terminal: it tells what happened last, and has a box to drag.
 *
 *     row 0   how many events came, and the last one in words
 *     row 1   the box's place, the window's size
 *     row 2   every look by its number, so that each can be told from the others
 *     row 3   wide characters and marks between bars, at known columns
 *     last    again how many events came, and how often the screen was drawn: it is sent from the
 *             top, so this comes last
 *
 * Keys: q quits, b rings, arrows move the box, Ctrl-L repaints, Ctrl-Z stops, c shows the text
 * cursor, t ticks once, and the ways to die: S a bad pointer, A abort, M no memory, E a failed
 * assert, R a stack that is used up. */
#include <assert.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cli/editor.h"

enum { BOX_WIDTH = 9, BOX_HEIGHT = 3 };

struct demo {
    unsigned long count, drawn;
    char last[160];
    int x, y;           /* the box */
    int grip_x, grip_y; /* where it was taken, from its corner */
    bool dragging, cursor, tick;
};

static void tell(struct demo *d, const struct event *ev)
{
    static const char *const names[] = {"tick", "key", "press", "move", "lift", "wheel", "resize"};
    d->count++;
    if (ev->kind == EVENT_PASTE)
        snprintf(d->last, sizeof d->last, "paste %zu [%.60s]", strlen(ev->text), ev->text);
    else if (ev->kind == EVENT_KEY || ev->kind == EVENT_WHEEL)
        snprintf(d->last, sizeof d->last, "%s %d at %d,%d.", names[ev->kind], ev->key, ev->column,
                 ev->row);
    else
        snprintf(d->last, sizeof d->last, "%s %d at %d,%d.", names[ev->kind], ev->button,
                 ev->column, ev->row);
}

static void mouse(struct demo *d, const struct event *ev)
{
    bool inside = ev->column >= d->x && ev->column < d->x + BOX_WIDTH && ev->row >= d->y &&
                  ev->row < d->y + BOX_HEIGHT;
    if (ev->kind == EVENT_PRESS && inside) {
        d->dragging = true;
        d->grip_x = ev->column - d->x;
        d->grip_y = ev->row - d->y;
    }
    if (d->dragging) {
        d->x = ev->column - d->grip_x;
        d->y = ev->row - d->grip_y;
    }
    if (ev->kind == EVENT_LIFT)
        d->dragging = false;
}

/* Uses up the stack, whose size a system bounds to far less than what this would take. */
static int dig(int deep)
{
    volatile char hole[4096];
    hole[0] = (char)deep;
    return deep < 1000000 ? dig(deep + 1) + hole[0] : 0;
}

static void die(int how)
{
    if (how == 'R')
        raise(dig(0) ? SIGKILL : SIGTERM);
    if (how == 'S')
        raise(SIGSEGV);
    if (how == 'A')
        abort();
    if (how == 'M')
        mem_new(SIZE_MAX / 2, 1);
    assert(how != 'E');
}

static enum editor_next key(struct demo *d, int key)
{
    die(key);
    d->x += (key == K_RIGHT) - (key == K_LEFT);
    d->y += (key == K_DOWN) - (key == K_UP);
    d->cursor |= key == 'c';
    d->tick |= key == 't';
    switch (key) {
    case 'q':
        return EDITOR_QUIT;
    case 'b':
        return EDITOR_BELL;
    case K_CTRL('l'):
        return EDITOR_REPAINT;
    case K_CTRL('z'):
        return EDITOR_SUSPEND;
    default:
        return EDITOR_GO_ON;
    }
}

static enum editor_next take(void *self, const struct event *ev)
{
    struct demo *d = self;
    tell(d, ev);
    if (ev->kind == EVENT_NONE)
        d->tick = false;
    if (ev->kind == EVENT_PRESS || ev->kind == EVENT_MOVE || ev->kind == EVENT_LIFT)
        mouse(d, ev);
    return ev->kind == EVENT_KEY ? key(d, ev->key) : EDITOR_GO_ON;
}

static void draw_looks(struct grid *g, int row)
{
    for (int look = 0; look < LOOK_COUNT; look++)
        grid_putf(g, look * 4, row, 3, (enum look)look, "%02d", look);
}

static void draw(void *self, struct grid *g)
{
    struct demo *d = self;
    grid_putf(g, 0, 0, -1, LOOK_PLAIN, "%lu %s", d->count, d->last);
    grid_putf(g, 0, 1, -1, LOOK_PLAIN, "box at %d,%d in %dx%d", d->x, d->y, g->columns, g->rows);
    draw_looks(g, 2);
    grid_put(g, 0, 3, -1, LOOK_PLAIN, "|\u6f22\u5b57|e\u0301|\u202e|\033[31m|");
    grid_fill(g, d->x, d->y, BOX_WIDTH, BOX_HEIGHT, LOOK_DECK);
    grid_frame(g, d->x, d->y, BOX_WIDTH, BOX_HEIGHT, LINE_LIGHT,
               d->dragging ? LOOK_CARRIED : LOOK_PLAIN);
    grid_put(g, d->x + 1, d->y + 1, BOX_WIDTH - 2, LOOK_DECK, "shale");
    grid_putf(g, 0, g->rows - 1, -1, LOOK_PLAIN, "shown %lu drawn %lu", d->count, ++d->drawn);
    if (d->cursor) {
        g->cursor_x = 5;
        g->cursor_y = 1;
    }
}

static int due(void *self)
{
    const struct demo *d = self;
    return d->tick ? 0 : -1;
}

int main(int argc, char **argv)
{
    struct demo d = {.x = 10, .y = 8};
    struct editor_setup setup = {.self = &d, .take = take, .draw = draw, .due = due};
    for (int i = 1; i < argc; i++) {
        setup.terminal.mono |= strcmp(argv[i], "--mono") == 0;
        setup.terminal.ascii |= strcmp(argv[i], "--ascii") == 0;
    }
    struct err e = {0};
    int status = editor_run(&setup, &e);
    if (e.code)
        fprintf(stderr, "canvas_demo: %s\n", e.says);
    return status;
}
