/* Building booths in tests: a fresh record at the end of any list. */
#ifndef TESTS_SUPPORT_RECORDS_H
#define TESTS_SUPPORT_RECORDS_H

#include "model/shape.h"

/* Adds a record with its defaults to the list called key of a record of that shape; borrowed
 * until the list grows again. */
void *add_record(const struct shape *owner, void *record, const char *key);

#endif
