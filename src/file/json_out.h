/* Writing JSON, a value at a time: for venue files, the journal and --json.
 *
 *   struct json_out w = json_on(&text, false);
 *   json_object(&w, NULL);
 *   json_text(&w, "deck", "h1");
 *   json_end(&w);
 *
 * Two-space indent, one member a line, empty lists and objects as [] and {}, a newline at the end;
 * or flat: one line without blanks, and no newline. Non-ASCII stands raw; control characters (to
 * U+001F, and U+007F to U+009F) are escaped. key is the key in an object, NULL in a list and for
 * the document itself (asserted). */
#ifndef FILE_JSON_OUT_H
#define FILE_JSON_OUT_H

#include <stdbool.h>

#include "base/str.h"
#include "file/json.h"

struct json_out {
    struct str *out;
    bool flat;
    int depth;                 /* how many objects and lists are open, at most 60 */
    unsigned long long arrays; /* bit d: the one at depth d is a list */
    bool empty;                /* nothing is in the innermost yet */
};

/* A writer that appends one document to out. Nothing is to be freed. */
struct json_out json_on(struct str *out, bool flat);

/* Begin an object or a list; end the innermost. */
void json_object(struct json_out *w, const char *key);
void json_array(struct json_out *w, const char *key);
void json_end(struct json_out *w);

/* text NULL: null. Bytes in it that are not UTF-8 (a file's name, say) become U+FFFD. */
void json_text(struct json_out *w, const char *key, const char *text);
void json_number(struct json_out *w, const char *key, long long n);
/* A number given in thousandths: 2500 is written 2.5. */
void json_milli(struct json_out *w, const char *key, long long thousandths);
/* As few digits as give the same number again; null when it is not finite. */
void json_real(struct json_out *w, const char *key, double n);
void json_bool(struct json_out *w, const char *key, bool truth);
void json_null(struct json_out *w, const char *key);

/* A whole value that was read, or only the members of one (an object), into the open object. */
void json_copy(struct json_out *w, const char *key, const struct json *j);
void json_copy_members(struct json_out *w, const struct json *object);

#endif
