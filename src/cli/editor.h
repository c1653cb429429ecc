/* The loop that runs the editor on a terminal. */
#ifndef CLI_EDITOR_H
#define CLI_EDITOR_H

#include "base/err.h"
#include "term/terminal.h"

/* What the loop is to do after an event. */
enum editor_next {
    EDITOR_GO_ON,
    EDITOR_BELL,    /* ring, and go on */
    EDITOR_REPAINT, /* send the whole screen again */
    EDITOR_SUSPEND, /* stop the program as ^Z does, and go on when it is resumed */
    EDITOR_QUIT,
};

/* What the loop runs. self is handed to each function. */
struct editor_setup {
    struct terminal_setup terminal;
    void *self;
    enum editor_next (*take)(void *self, const struct event *ev);
    void (*draw)(void *self, struct grid *g);

    /* Milliseconds until an EVENT_NONE is wanted, negative for never. NULL: never. */
    int (*due)(void *self);
};

/* Runs until take() says EDITOR_QUIT (0), a signal asks to end (128 and its number), or the
 * terminal cannot be taken (the code of *e, which says why). The terminal is given back in every
 * case. An idle editor sleeps. */
int editor_run(const struct editor_setup *setup, struct err *e);

#endif
