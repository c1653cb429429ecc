/* What is wrong with a booth: a table of rules, and for each finding its subjects, one sentence,
 * and what would put it right.
 *
 * A new fault is one row in rules[] (faults.c) and one finder in rules_path.c (the way to a wanted
 * strip), rules_signal.c (decks and their settings), rules_wiring.c (cables), rules_joined.c (the
 * interface), rules_usb.c (ports, power, traffic) or rules_habit.c (what bites later). */
#ifndef ENGINE_FAULTS_H
#define ENGINE_FAULTS_H

#include "base/str.h"
#include "engine/circuit.h"
#include "model/change.h"

enum severity {
    SEVERITY_ERROR,   /* the sound is or will be wrong or absent */
    SEVERITY_WARNING, /* it will bite later */
    SEVERITY_NOTE,    /* worth knowing */
};

struct fault {
    const char *slug; /* "selector-elsewhere" */
    enum severity severity;
    struct texts subjects; /* ids and jack names, in the order that domain.md gives */
    char *text;            /* one sentence, without a final stop */
    struct changes fix;    /* what would remove this fault; empty when only a person can decide */
    char *fix_text;        /* "turn strip 4's selector to line"; NULL when there is no fix, or the
                              advice that no change can carry out */
};

struct faults {
    struct fault *v; /* errors first, then warnings, then notes; within one, the table's order */
    size_t n, cap;
    size_t count[3]; /* by severity */
};

/* Finds everything. The circuit must be of a sound booth. Free with faults_clear(). */
struct faults faults_find(const struct circuit *c);
void faults_clear(struct faults *f);

/* "error", "warning", "note". */
const char *severity_word(enum severity s);

/* The table of rules, for documentation and tests: the i-th slug and severity; false past the
 * end. */
bool faults_rule(size_t i, const char **slug, enum severity *severity);

#endif
