/* A venue from a file named on the command line. */
#ifndef CLI_LOAD_H
#define CLI_LOAD_H

#include "base/err.h"
#include "model/booth.h"

/* Reads the venue in a file, or on standard input for "-". NULL, with ERR_READ, when it cannot be
 * read or is no venue; e's place is then inside the file. Free with booth_free(). */
struct booth *load_venue(const char *file, struct err *e);

#endif
