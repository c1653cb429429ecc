/* A form: every field of one thing, to look at and to change.
 *
 * It works on a booth of its own; the editor commits each value that is finished. A value that
 * would make the booth unsound is refused at once, with a sentence. */
#ifndef UI_FORM_H
#define UI_FORM_H

#include "model/shape.h"
#include "ui/event.h"
#include "ui/lines.h"
#include "ui/prompt.h"

struct form_row {
    const char *heading; /* NULL, or what this and the following rows are about */
    const struct field *field;
    void *record;
};

struct form {
    struct booth *booth; /* its own; what the form makes of it */
    char thing[REF_SIZE];
    char *title;
    struct form_row *rows;
    size_t n, cap;
    int cursor;
    bool typing;
    struct prompt prompt;
    char *complaint; /* why the last value was refused, or NULL */
};

/* A form of a device, strip, deck or hub by id, of a jack ("p1.line"), "venue" or "host". NULL
 * when there is no such thing. Free with form_free(). */
struct form *form_new(const struct booth *b, const char *thing);
void form_free(struct form *f);

/* Takes an event; false when the form is to be left (Esc outside of typing). */
bool form_event(struct form *f, const struct event *ev);

/* Puts the cursor on a row (a click), or starts changing it when it is there already. */
void form_click(struct form *f, int row);

/* Takes over a booth that came of committing its own: what else changed with it. */
void form_follow(struct form *f, const struct booth *b);

/* Its rows as lines; the items are the rows. While typing, the text with a cursor mark. */
void form_lines(const struct form *f, struct lines *out);

#endif
