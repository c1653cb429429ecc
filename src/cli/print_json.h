/* The answers of the verbs as JSON: the contract for scripts. Every key is always there. */
#ifndef CLI_PRINT_JSON_H
#define CLI_PRINT_JSON_H

#include "engine/derived.h"
#include "file/json_out.h"

/* Writes the members of one answer into the open object. */
typedef void (*json_printer)(const struct derived *d, struct json_out *w);

/* One answer, a document that is one object. It must not be moved while it is written. */
struct json_answer {
    struct json_out w; /* for its members */
    struct str document;
};

/* Begins it; and ends it, appending it to out so that it does no harm on a terminal: what utf8.h
 * calls unsafe is escaped as JSON escapes it. */
void json_answer_open(struct json_answer *a);
void json_answer_close(struct json_answer *a, struct str *out);

/* A list of texts. */
void json_texts(struct json_out *w, const char *key, const struct texts *l);

/* "routes", in deck order; "heard", by strip rank; "steps". */
void json_routes(const struct derived *d, struct json_out *w);
void json_heard(const struct derived *d, struct json_out *w);
void json_steps(const struct derived *d, struct json_out *w);

/* A fault as one object, into the open list; with the file that it is of, unless that is NULL. */
void json_fault(const struct fault *f, const char *file, struct json_out *w);

/* One object for each fault of a file, into the open list. */
void json_faults(const struct faults *f, const char *file, struct json_out *w);

#endif
