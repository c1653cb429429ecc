/* Venue files in tests: the demo venues, and any text as a booth. Tests run at the top of the
 * tree. */
#ifndef TESTS_SUPPORT_VENUE_FILE_H
#define TESTS_SUPPORT_VENUE_FILE_H

#include "base/str.h"
#include "model/booth.h"
#include "model/shape.h"

/* The bytes of a file; fails the test when it cannot be read. Clear it with str_clear(). */
struct str file_bytes(const char *path);

/* The paths of all files in venues/, sorted; at least the five demo venues (asserted). Free with
 * paths_clear(). */
struct texts venue_paths(void);
void paths_clear(struct texts *paths);

#endif
