/* The saved venues: the *.json files of one folder. */
#ifndef FILE_STORE_H
#define FILE_STORE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"
#include "base/str.h"

struct store {
    struct str folder; /* $BOOTHWRIGHT_VENUES, or $XDG_DATA_HOME/boothwright/venues, or
                        * ~/.local/share/boothwright/venues */
    char **names;      /* the files in there, "tideline-hall.json", by byte order */
    size_t count, cap;
};

/* Finds the folder and lists it into *s, which need not be set before. A folder that does not
 * exist yet is an empty one. False, with ERR_READ, when no variable tells where it would be, or
 * when it cannot be listed. Free with store_clear() in either case. */
bool store_open(struct store *s, struct err *e);
void store_clear(struct store *s);

/* Appends the path of one of the files; which < count. */
void store_path(const struct store *s, size_t which, struct str *out);

/* Appends a path in the folder for a new venue of this name (any text; NULL counts as empty): its
 * letters and digits in lower case, hyphens for the rest, and a number where that name is taken.
 * Nothing is created, so another may still take it: save with a stamp that says "no file". */
void store_new_path(const struct store *s, const char *name, struct str *out);

/* Makes the folder, and those above it, before the first save; 0777 less the umask. True as well
 * when it exists. False with ERR_WRITE. */
bool store_make(const struct store *s, struct err *e);

#endif
