/* Records of any shape to JSON and back: shared by the venue file and the journal. */
#ifndef FILE_FIELDS_H
#define FILE_FIELDS_H

#include <stdbool.h>

#include "base/err.h"
#include "file/json.h"
#include "file/json_out.h"
#include "model/shape.h"

/* The most items that a list or map in a file may have; the model's own limits are lower. */
enum { FIELDS_MAX_ITEMS = 1024 };

/* The file's own two keys, beside the fields of shape_booth. */
#define VENUE_FORMAT  "format"
#define VENUE_VERSION "version"

/* Fills a record (fresh or cleared: it must own nothing) from an object. False when a value is
 * not of its kind or out of its range, or a required one is missing: e (not NULL) says which, and
 * the record is to be cleared all the same. Rules between values are sound.h's. */
bool record_read(const struct shape *s, const struct json *j, void *record, struct err *e);

/* Fills one value (fresh memory) of a field likewise; the place starts with the field's key. */
bool field_read(const struct field *f, const struct json *j, void *value, struct err *e);

/* Fills places for n records (fresh memory) from a list of so many. */
bool records_read(const struct field *f, const struct json *list, void *records, struct err *e);

/* Writes a record as an object, its members into the open object, or one value. */
void record_write(const struct shape *s, const void *record, const char *key, struct json_out *w);
void record_write_members(const struct shape *s, const void *record, struct json_out *w);
void field_write(const struct field *f, const void *value, const char *key, struct json_out *w);

#endif
