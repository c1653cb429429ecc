/* The demo program (canvas_demo.c) on a terminal for tests. */
#ifdef HAVE_vterm
#include "tty/demo.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>

struct pty demo;

static void launch(const char *option, struct pty_setup setup)
{
    const char *path = getenv("CANVAS_DEMO");
    ck_assert_msg(path != NULL, "CANVAS_DEMO does not name the program");
    char program[1024], word[64];
    snprintf(program, sizeof program, "%s", path);
    snprintf(word, sizeof word, "%s", option ? option : "");
    char *argv[] = {program, option ? word : NULL, NULL};
    setup.argv = argv;
    pty_start(&demo, &setup);
}

void demo_start_with(const char *option, const char *env)
{
    launch(option, (struct pty_setup){.env = {env}});
}

void demo_start_sized(int columns, int rows)
{
    launch(NULL, (struct pty_setup){.columns = columns, .rows = rows});
}

void demo_start(void)
{
    demo_start_with(NULL, NULL);
    pty_until_shown(&demo, "1 resize 0 at 80,24.");
    pty_until_shown(&demo, "shown 1");
}

void demo_start_from_shell(const char *line, int columns)
{
    char sh[] = "/bin/sh", option[] = "-c", command[256];
    snprintf(command, sizeof command, "%s", line);
    char *argv[] = {sh, option, command, NULL};
    pty_start(&demo, &(struct pty_setup){.argv = argv, .columns = columns});
}

void demo_quit(void)
{
    pty_send(&demo, "q");
    int status = pty_until_ended(&demo);
    ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "status %x", (unsigned)status);
    ck_assert(pty_is_as_before(&demo));
    pty_free(&demo);
}

void demo_until_key(int key)
{
    char text[32];
    snprintf(text, sizeof text, "key %d at", key);
    pty_until_shown(&demo, text);
}

void demo_drag_from(int x, int y)
{
    char text[64];
    pty_move(&demo, x + 1, y);
    pty_button(&demo, 1, true);
    pty_until_shown(&demo, "press 1");
    pty_move(&demo, x + 3, y + 1);
    snprintf(text, sizeof text, "move 1 at %d,%d.", x + 3, y + 1);
    pty_until_shown(&demo, text);
    snprintf(text, sizeof text, "box at %d,%d in", x + 2, y + 1);
    pty_until_shown(&demo, text);
    pty_move(&demo, x + 4, y + 2);
    pty_button(&demo, 1, false);
    pty_until_shown(&demo, "lift 1");
    snprintf(text, sizeof text, "box at %d,%d in", x + 3, y + 2);
    pty_until_shown(&demo, text);
}
#else
enum { NO_DEMO }; /* a file is not to be empty */
#endif
