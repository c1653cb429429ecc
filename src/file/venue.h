/* A booth and its document: what a venue file says, read strictly and written canonically.
 *
 * Both walk the tables of shape.c. Members that no table knows are kept with their record and
 * written back after the known ones. read(write(b)) is b; write(read(bytes)) is the same bytes
 * when they were written here. */
#ifndef FILE_VENUE_H
#define FILE_VENUE_H

#include <stddef.h>

#include "base/err.h"
#include "base/str.h"
#include "model/booth.h"

/* The booth that n bytes describe, sound (see sound.h), or NULL: then e (not NULL) says where (a
 * JSON path, or line and column), what is wrong and what was expected, with ERR_READ. Free with
 * booth_free(). */
struct booth *venue_read(const char *bytes, size_t n, struct err *e);

/* Appends the document of a booth: two-space indent, the tables' order of keys, a newline at the
 * end. What has its default is left out, unless the file that it came from spelled it out. */
void venue_write(const struct booth *b, struct str *out);

#endif
