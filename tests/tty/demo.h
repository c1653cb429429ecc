/* The demo program (canvas_demo.c) on a terminal for tests. */
#ifndef TTY_DEMO_H
#define TTY_DEMO_H

#include "tty/pty.h"

/* The one that runs; each test has a process of its own. */
extern struct pty demo;

/* Starts it and waits for its first frame. */
void demo_start(void);

/* Starts it with an option, in an environment with "NAME=value"; both may be NULL. */
void demo_start_with(const char *option, const char *env);

/* Starts it in a window of this size. */
void demo_start_sized(int columns, int rows);

/* Starts a shell's line in a window so wide, in which "$CANVAS_DEMO" names the program. */
void demo_start_from_shell(const char *line, int columns);

/* Quits by its key, and checks that it ended well and left no trace. */
void demo_quit(void);

/* Waits until it tells of a key. */
void demo_until_key(int key);

/* Drags the box, whose corner must be at x, y, three cells to the right and two down. */
void demo_drag_from(int x, int y);

#endif
