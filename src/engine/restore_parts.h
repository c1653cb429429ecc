/* What the files of the restore share. Only for restore*.c. */
#ifndef ENGINE_RESTORE_PARTS_H
#define ENGINE_RESTORE_PARTS_H

#include "engine/restore.h"
#include "model/found.h"

struct restoring {
    struct booth *b; /* as the actions so far leave it */
    const struct found *found;
    struct restore *out;
};

/* What an action is about, for the id of its step. */
struct about {
    const char *kind; /* "selector" */
    const char *on;   /* a thing or a jack */
    const char *to;   /* the other end of a cable; NULL otherwise */
};

/* Tells and makes a change that touches nothing in use; after (NULL: none) says what has to be done
 * before. False, with the reason, when the booth does not take it. Names that stand in w->b die. */
bool restore_put(struct restoring *w, struct about about, struct change c, const char *after,
                 struct err *e);

/* The same, unless it would touch what is in use; what cannot be done is said. */
void restore_put_back(struct restoring *w, struct about about, struct change c);

/* Adds that something stays as it is; text is taken. */
void restore_leave(struct restoring *w, struct about about, struct str *text);

/* The same of what it is about, with the reason. */
void restore_leave_alone(struct restoring *w, struct about about, const char *why);

/* Leaves what only the survey names; what somebody uses. */
void restore_leave_gone(struct restoring *w, struct about about);
void restore_leave_used(struct restoring *w, struct about about);

/* Appends a thing's or jack's name as say_name() does; of one that is gone, the label that it had.
 */
void restore_say_name(const struct restoring *w, const char *name, struct str *out);

/* Says who uses a thing, or what owns a jack, if somebody does. as: what to call it, "" for
 * nothing; NULL: by its name. */
bool restore_say_user(const struct booth *b, const char *name, const char *as, struct str *out);

/* The cables, and the data leads. */
void restore_cables(struct restoring *w);
void restore_leads(struct restoring *w);

#endif
