/* One line of typing: a text, a cursor, and the keys that edit it. */
#ifndef UI_PROMPT_H
#define UI_PROMPT_H

#include <stdbool.h>

#include "base/str.h"
#include "ui/event.h"

struct prompt {
    struct str text;
    size_t at;   /* the cursor, in bytes; always at a character's start */
    size_t most; /* most bytes; 0: 4096 */
    bool whole;  /* the text is marked as a whole: what is typed replaces it */
};

enum prompt_said { PROMPT_GOES_ON, PROMPT_DONE, PROMPT_CANCELLED, PROMPT_IGNORED };

/* Starts with a text (NULL: empty), the cursor at its end. End with prompt_clear(). An offered text
 * is marked as a whole until a key edits it: typing or pasting replaces it. */
void prompt_start(struct prompt *p, const char *text, size_t most);
void prompt_offer(struct prompt *p, const char *text, size_t most);
void prompt_clear(struct prompt *p);

/* One key or paste: Enter is done, Esc cancelled; a key that edits nothing is ignored. What does
 * not fit within most bytes is not taken in; line ends in a paste become blanks. */
enum prompt_said prompt_event(struct prompt *p, const struct event *ev);

#endif
