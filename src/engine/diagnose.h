/* From what was heard to why.
 *
 * A line check marks for each deck where it came out. An explanation is a smallest set of causes
 * under which the forward model gives exactly what was marked: of one or two causes, and of three
 * only where fewer explain nothing. */
#ifndef ENGINE_DIAGNOSE_H
#define ENGINE_DIAGNOSE_H

#include <stdbool.h>

#include "engine/causes.h"
#include "engine/faults.h"

enum { CAUSES_AT_MOST = 3 };

struct explanation {
    struct cause causes[CAUSES_AT_MOST];
    int n;
    double share;    /* of the likelihood of all explanations, from 0 to 1 */
    int group;       /* explanations that no mark can tell apart have one number, from 0 */
    size_t first;    /* the likeliest of those that differ in nothing but where (see cause_alike()):
                      * they are said as one; itself where it is that */
    double together; /* of the first: the share of all that are said as one with it; else 0 */
};

struct diagnosis {
    struct circuit *believed; /* of the booth, with every deck set: names the causes */
    struct explanation *v;    /* likeliest first; one of no causes when nothing is wrong */
    size_t n, cap;
    size_t *lines; /* of v: what is said, a line each for those that are said as one (the first of
                    * them); likeliest together first */
    size_t n_lines;
    int groups;
    size_t marks; /* how many decks were checked */
    bool others;  /* something was ruled out: these are the other explanations */
    bool cut;     /* there were too many sets of causes to try them all */
    bool more;    /* more sets of causes explain it than are kept */
    bool *amiss;  /* by deck: heard as the booth gives it, which is not as the deck wants it */
    size_t n_amiss;
    int odd;       /* nothing explains: the deck without whose mark something would, or -1 */
    int next_deck; /* the deck whose check tells the most of the groups apart, or -1 */
    char *next;    /* that, or what to look at, in one sentence; NULL when nothing is to tell */
};

/* b must be sound and outlive it. Marks of decks that are gone, and those out of date, are left
 * out; marks at strips that are gone explain nothing. Free with diagnosis_clear(). */
struct diagnosis diagnosis_make(const struct booth *b);

/* The same when somebody has looked, and it is not that: sets of causes by name (see
 * causes_name()), which no explanation may contain. Names that name nothing are left out. NULL:
 * none. */
struct diagnosis diagnosis_without(const struct booth *b, const struct texts *ruled_out);
void diagnosis_clear(struct diagnosis *d);

/* A copy of the booth in which an explanation is true, as far as a booth can hold it (see
 * cause_fits_booth()). Free with booth_free(). */
struct booth *diagnosis_truth(const struct diagnosis *d, const struct explanation *e);

/* The explanation that is the n-th line; NULL: there is no such line. */
const struct explanation *diagnosis_line(const struct diagnosis *d, int n);

/* Whether a fault of the booth is known to keep a deck that is amiss from being heard as it wants.
 */
bool diagnosis_knows(const struct diagnosis *d, const struct fault *f);

/* Whether the decks that are amiss are heard as they want once the booth is as it is after a mend.
 */
bool diagnosis_righted(const struct diagnosis *d, const struct booth *after);

/* Appends the i-th explanation, one of the lines, for people: its likelihood in per cent and its
 * causes, with all that are said as one with it. */
void explanation_say(const struct diagnosis *d, size_t i, struct str *out);

/* Appends that there may be more explanations than there are here; nothing when there are not. */
void diagnosis_say_cut(const struct diagnosis *d, struct str *out);

/* Whether an explanation gives what was marked, computed anew. */
bool diagnosis_replays(const struct diagnosis *d, const struct explanation *e);

#endif
