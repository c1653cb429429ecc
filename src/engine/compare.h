/* Two visits to one booth: what differs, what that means for the routes, and the least work.
 *
 * Told is whatever the shapes (model/shape.h) do not call the person's own papers: decks, their
 * settings, the venue's notes, the checklist, what was found and heard, saved combinations and
 * prices are not the booth. What the routes become of it, is. Not told either: in which order a
 * file lists things, and members that the model does not know. */
#ifndef ENGINE_COMPARE_H
#define ENGINE_COMPARE_H

#include <stdbool.h>

#include "base/str.h"
#include "engine/plan.h"
#include "model/booth.h"

/* What a difference is about: its word in --json stands in compare_say.c. */
enum difference_kind {
    DIFFERENCE_GONE,  /* a thing or a part that was there before */
    DIFFERENCE_NEW,   /* one that was not */
    DIFFERENCE_MODEL, /* another model or family stands there */
    DIFFERENCE_FIRMWARE,
    DIFFERENCE_MOVED, /* it stands in another place */
    DIFFERENCE_LABEL,
    DIFFERENCE_UNWIRED, /* a cable that is gone */
    DIFFERENCE_WIRED,   /* a cable that is new */
    DIFFERENCE_SIDES,   /* a cable with other sides */
    DIFFERENCE_SELECTOR,
    DIFFERENCE_SWITCH,
    DIFFERENCE_SOURCE,
    DIFFERENCE_LEAD, /* a data lead in another port */
    DIFFERENCE_IN_USE,
    DIFFERENCE_JOINED, /* the joined list */
    DIFFERENCE_FIELD,  /* any other field */
};

enum { FIELD_PATH_SIZE = 64 };

/* One value that differs, or one thing that came or went. Whoever takes out of the old booth what
 * is gone and unwired, calls the rest as it is called now (comparison.names), and then puts in or
 * sets what the other differences name, as it is in the new booth, has the new booth. */
struct difference {
    enum difference_kind kind;
    char subject[REF_SIZE];      /* a device, strip, hub, "host", or a jack ("p1.line"), by its name
                                    in the new booth; of what is gone or unwired, in the old one */
    char other[REF_SIZE];        /* of a cable: its other end; "" otherwise */
    char field[FIELD_PATH_SIZE]; /* below the subject, by the keys of files: "place", "card.bits",
                                    "outputs.channels"; of a part that came or went its list's or
                                    its own: "outputs", "card"; "": the whole subject */
    char *text;                  /* one sentence, without a final stop */
    size_t head;                 /* how many bytes of it only name the subject: "P1: "; or 0 */
};

/* A thing that is taken for one of another id. */
struct renamed {
    char before[ID_SIZE], now[ID_SIZE];
};

/* A deck whose route is not what it was. left -1: no route. */
struct rerouted {
    int deck; /* in the new booth */
    struct pair before, now;
    bool type_it; /* the host is set (or was routed) to something else than now */
};

struct comparison {
    struct difference *v;
    size_t n, cap;
    struct renamed *names;
    size_t n_names, names_cap;
    struct rerouted *routes; /* in the new booth's order of decks */
    size_t n_routes, routes_cap;
    const struct combination *fits; /* a saved one (of either) for what is joined now; borrowed
                                       from now or before; NULL: none */
};

/* What is the same thing: devices of one kind and id, then those left over that agree in kind,
 * place and model; strips of mixers that are the same by id, then by place; hubs and decks by id;
 * jacks by their owner and id, cables by their ends. A device of another kind is another thing,
 * also under the same id: the one is gone, the other new. Both booths must be sound and outlive the
 * comparison. Free with comparison_clear(). */
struct comparison compare_make(const struct booth *before, const struct booth *now);
void comparison_clear(struct comparison *c);

/* Appends, on one line, the sentence of the i-th difference and of those right after it that are of
 * the same subject: "P1: model plover 3, was dunlin 2; firmware 2.0, was 1.9"; a plug that moved.
 * How many they are. */
size_t comparison_line(const struct comparison *c, size_t i, struct str *out);

/* "gone", "unwired" and so on, as --json has them. */
const char *difference_word(enum difference_kind kind);

/* The least work from the old booth's settings to the new one's routes: devices leave and join
 * until the new joined list stands (the longest beginning of it that stood in this order stays),
 * then each deck with a route that the host does not play it to is set, one that has lost its
 * route is not any more, and control is handed over where something else has it now. A deck that
 * was not set counts as set to its old route. Actions, prices and booth afterwards as in a plan;
 * always feasible. Free with compare_work_free(). */
struct plan *compare_work(const struct booth *before, const struct booth *now);
void compare_work_free(struct plan *p);

#endif
