/* The hands on the booth screen: picking up, carrying, putting down, by mouse and by keys. */
#ifndef UI_GESTURE_H
#define UI_GESTURE_H

#include "ui/app.h"

/* One event of the mouse, on the canvas or a pane. */
enum effect gesture_mouse(struct app *a, const struct event *ev);

/* Picks a spot up by keys; false when it cannot be. */
bool gesture_pick_up(struct app *a, struct spot s);

/* Carries what is in hand a box further (dx, dy of -1, 0, 1). */
void gesture_carry(struct app *a, int dx, int dy);

/* Puts it down where it is: at most one step for undo. */
enum effect gesture_drop(struct app *a);

/* Puts it back where it came from; nothing happened. */
void gesture_end(struct app *a);

/* Computes again what putting it down would make. */
void gesture_look_ahead(struct app *a);

/* Appends what is in hand, in words: "P1", "a cable from P1's line output". */
void gesture_name(const struct app *a, struct str *out);

/* Appends what putting it down would do; nothing when it would do nothing. */
void gesture_say(const struct app *a, struct str *out);

#endif
