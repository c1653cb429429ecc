/* Prompts on the bottom line: what each is for, and what its text then does. */
#ifndef UI_PROMPTED_H
#define UI_PROMPTED_H

#include "ui/app.h"

/* Opens a prompt about a subject (an id; may be NULL), starting with a text. */
void prompted_open(struct app *a, enum purpose purpose, const char *subject, const char *text);

/* The same with a text that typing replaces as a whole. */
void prompted_offer(struct app *a, enum purpose purpose, const char *subject, const char *text);

/* An event while a prompt is open. */
enum effect prompted_event(struct app *a, const struct event *ev);

/* What stands before the text: "in use by:". */
const char *prompted_words(enum purpose purpose);

#endif
