/* What went wrong in the world (a file, a terminal, an argument), told once, at the edge.
 *
 * A function that the world can break returns bool and fills a struct err: where, what is wrong,
 * what was expected. Mistakes of our own are asserted instead. */
#ifndef BASE_ERR_H
#define BASE_ERR_H

#include <stdbool.h>

/* The code is the program's exit status. */
enum err_code {
    ERR_NONE = 0,
    ERR_USAGE = 2,   /* wrong usage */
    ERR_READ = 3,    /* cannot be read, or is not a venue */
    ERR_WRITE = 4,   /* cannot be written */
    ERR_CHANGED = 5, /* changed, or being edited, by somebody else */
};

struct err {
    enum err_code code;
    char place[192]; /* a JSON path ("decks[2].wants"), a file, or "" */
    char says[512];  /* one sentence: what is wrong, and what was expected; no final stop */
};

/* Fills *e (which must not be NULL) and returns false, so that a caller can return its value.
 * place may be NULL. Both texts are cut where they must be, never overrun
 * and never inside a character. */
bool err_set(struct err *e, enum err_code code, const char *place, const char *fmt, ...)
    __attribute__((format(printf, 4, 5)));

/* Puts "outer" in front of the place: "wants" becomes "decks[2].wants" for outer "decks[2]".
 * An index ("[2]...") is joined without a dot. */
void err_within(struct err *e, const char *outer);

#endif
