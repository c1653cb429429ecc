/* What the options and operands of the verb ident ask for, whether it writes or plays. */
#ifndef CLI_IDENT_ASKED_H
#define CLI_IDENT_ASKED_H

#include "cli/arguments.h"
#include "engine/ident.h"
#include "model/booth.h"

/* The kind of line ident. */
enum ident ident_asked_kind(const struct arguments *a);

/* The rate: the one of --rate, else the host's if there is an ident for it, else 0. False, with
 * ERR_USAGE, for a --rate that there is no ident for. */
bool ident_asked_rate(const struct arguments *a, const struct booth *b, int *rate_hz,
                      struct err *e);

/* The place in the booth's list of the deck with that id or label; -1, with ERR_USAGE, when there
 * is none. */
int ident_asked_deck(const struct booth *b, const char *name, struct err *e);

#endif
