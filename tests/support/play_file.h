/* Plays an editor without a terminal: events written down as text, the screen read as text.
 *
 *   venue venues/tideline-hall.json     opens a venue (without it: the list of saved ones, empty)
 *   size 80x24 [ascii]                  the window
 *   keys n Enter Down space c ^s        key by key: a character, a name, ^ for control
 *   type some words                     each character as a key
 *   press 10,5   move 12,6   lift 12,6  the mouse's left button; columns and rows from 0
 *   drag p1.line s2.line                press at one spot, move to and lift at another, by name
 *   grab h1 s2                          the same without the lift
 *   click s1.phono                      press and lift: "source:p1" and "selector:s1.phono" too
 *   wheel 10,5 1                        -1 up, 1 down
 *   paste text
 * Lines that begin with # are comments. */
#ifndef TESTS_SUPPORT_PLAY_FILE_H
#define TESTS_SUPPORT_PLAY_FILE_H

#include "ui/app.h"

struct play {
    struct app *app;
    bool ascii;
    int keys;           /* key presses so far */
    enum effect effect; /* of the last event */

    /* What is told of each event as well, before it is played; NULL: nobody. */
    void (*also)(const struct event *ev);
};

/* Begins at the list of saved venues, 80x24, ASCII. */
void play_begin(struct play *p);
void play_end(struct play *p);

/* Opens a venue's file; fails the test when it cannot be read. */
void play_open(struct play *p, const char *file);

/* Begins at a world of booth_from(), open as world.json. */
void play_world(struct play *p, const char *world);

/* Plays lines of text; fails the test on a line that it does not understand. */
void play(struct play *p, const char *lines);

/* The screen as text; owned by a static buffer until the next call. */
const char *play_screen(const struct play *p);

/* Whether the screen shows a text; whether the pane says it, wherever its lines are wrapped. */
bool play_shows(const struct play *p, const char *text);
bool play_tells(const struct play *p, const char *text);

/* The booth as it is now. Borrowed. */
const struct booth *play_booth(const struct play *p);

#endif
