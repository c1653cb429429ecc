/* Venue files in tests: the demo venues, and any text as a booth. Tests run at the top of the
 * tree. */
#ifndef TESTS_SUPPORT_VENUE_FILE_H
#define TESTS_SUPPORT_VENUE_FILE_H

#include "base/str.h"
#include "file/json.h"
#include "model/booth.h"
#include "model/shape.h"

/* The bytes of a file; fails the test when it cannot be read. Clear it with str_clear(). */
struct str file_bytes(const char *path);

/* A venue that says a bit of everything (tests/file/example.json), on one line. Clear it with
 * str_clear(). */
struct str example_line(void);

/* Reads a text as a venue. If it is refused, fails the test unless e says where and what with
 * ERR_READ; if it is read, unless writing and reading give the same booth and bytes again. Tells
 * whether it was read; e is not NULL. */
bool venue_holds(const char *text, size_t n, struct err *e);

/* The paths of all files in venues/, sorted; at least the five demo venues (asserted). Free with
 * paths_clear(). */
struct texts venue_paths(void);
void paths_clear(struct texts *paths);

#endif
