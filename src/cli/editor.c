/* The loop: sleep, take in all that has happened, show what it came to.
 *
 * A drag brings reports faster than a screen can be sent over a slow line, so everything that is
 * there is taken before the screen is drawn once; but at least every FRAME_MS, so that a stream
 * without an end still moves. */
#include "cli/editor.h"

#include "base/mem.h"

enum { FRAME_MS = 16 };

static enum editor_next take(const struct editor_setup *setup, const struct event *ev)
{
    enum editor_next next = setup->take(setup->self, ev);
    if (next == EDITOR_BELL)
        terminal_bell();
    else if (next == EDITOR_REPAINT)
        terminal_repaint();
    else if (next == EDITOR_SUSPEND)
        terminal_suspend();
    return next;
}

static int time_left(const struct editor_setup *setup)
{
    return setup->due ? setup->due(setup->self) : -1;
}

/* Takes what has happened; false when the editor is to end. */
static bool take_all(const struct editor_setup *setup)
{
    long long until = terminal_now() + FRAME_MS;
    struct event ev = {0};
    if (time_left(setup) == 0 && take(setup, &ev) == EDITOR_QUIT)
        return false;
    while (terminal_now() < until && terminal_next(&ev))
        if (take(setup, &ev) == EDITOR_QUIT)
            return false;
    return !terminal_ended();
}

static void show(const struct editor_setup *setup)
{
    struct grid *g = grid_new(terminal_columns(), terminal_rows(), terminal_ascii());
    setup->draw(setup->self, g);
    terminal_show(g);
    grid_free(g);
}

int editor_run(const struct editor_setup *setup, struct err *e)
{
    if (!terminal_open(setup->terminal, e))
        return (int)e->code;
    mem_on_last_words(terminal_abandon);
    while (take_all(setup)) {
        show(setup);
        terminal_wait(time_left(setup));
    }
    int ended = terminal_ended();
    mem_on_last_words(NULL);
    terminal_close();
    return ended ? 128 + ended : 0;
}
