/* The command line, taken apart: options, a verb, operands. */
#ifndef CLI_ARGUMENTS_H
#define CLI_ARGUMENTS_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"

/* Options may stand before or after the verb, and among the operands; each is one bit. */
enum option {
    OPTION_JSON = 1,
    OPTION_ASCII = 2,
    OPTION_MONO = 4,
    OPTION_HELP = 8,
    OPTION_VERSION = 16,
    OPTION_ALL = 32,
    OPTION_EBU = 64,
    OPTION_INTO = 128,
    OPTION_RATE = 256,
    OPTION_APPLY = 512,
    OPTION_CSV = 1024,
    OPTION_SVG = 2048,
    OPTION_PLAY = 4096,
    OPTION_LEVEL = 8192,
    OPTION_NOT = 16384,
};
enum { OPTIONS_MAX = 32 };

struct option_row {
    const char *name; /* "--json" */
    enum option bit;
    const char *line;  /* what it does, for --help */
    const char *value; /* what must follow it ("DIR"); NULL: nothing */
};

/* The i-th row of the table of options; NULL past the end. */
const struct option_row *option_at(size_t i);

struct verb;

struct arguments {
    unsigned options;        /* set of enum option */
    const struct verb *verb; /* NULL: the editor is wanted */
    const char **operands;   /* what is left, in order; the texts are argv's */
    size_t n;
    const char *values[OPTIONS_MAX]; /* of the i-th option in the table; argv's, NULL: not given */
    const char **nots;               /* every value of --not, in order; argv's */
    size_t n_nots;
};

/* What was given with an option that takes a value; NULL when it was not given. */
const char *arguments_value(const struct arguments *a, enum option bit);

/* Takes argv apart and checks it against the tables of options and verbs. "--" ends the options
 * and the verb: what follows are operands; a lone "-" is one anywhere. False, with ERR_USAGE and
 * one sentence, when it makes no sense. Clear in both cases. */
bool arguments_read(struct arguments *a, int argc, char *const *argv, struct err *e);

/* Frees the lists. */
void arguments_clear(struct arguments *a);

#endif
