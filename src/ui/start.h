/* The screens before a booth is open: the saved venues, and a new one in a few keys. */
#ifndef UI_START_H
#define UI_START_H

#include "ui/app.h"
#include "ui/grid.h"

enum effect start_event(struct app *a, const struct event *ev);
void start_draw(const struct app *a, struct grid *g);

/* What a prompt on the screen of a new venue ended with. */
void start_prompted(struct app *a, const char *text);

#endif
