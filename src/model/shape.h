/* The shapes of records: one table of fields for each, which reading, writing, copying, comparing
 * and the editor's forms all walk. A new field is a member in booth.h and a row in shape.c.
 *
 * Every record begins with its struct kept. */
#ifndef MODEL_SHAPE_H
#define MODEL_SHAPE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/err.h"
#include "model/booth.h"

enum field_kind {
    FIELD_TEXT,    /* char *; NULL when empty; high: most bytes (0: no limit) */
    FIELD_ID,      /* char[ID_SIZE] */
    FIELD_REF,     /* char[REF_SIZE]; "" when null */
    FIELD_PLUG,    /* struct plug */
    FIELD_WORD,    /* an enum, by words */
    FIELD_INT,     /* int from low to high */
    FIELD_BOOL,    /* bool */
    FIELD_MILLI,   /* int: thousandths, from low to high; -1 when absent */
    FIELD_PAIR,    /* struct pair, each from low to high; left -1 when null */
    FIELD_INTS,    /* struct ints, each from low to high */
    FIELD_WORDS,   /* struct ints, each by words */
    FIELD_TEXTS,   /* struct texts */
    FIELD_REFS,    /* struct texts: ids */
    FIELD_MAP,     /* struct map; words: what the values may be */
    FIELD_RECORD,  /* a record inside this one */
    FIELD_OPTION,  /* pointer to a record, or NULL */
    FIELD_RECORDS, /* pointer and count of records */
};

struct field {
    const char *key;   /* in files */
    const char *title; /* for people */
    enum field_kind kind;
    size_t offset;
    bool required; /* must stand in a file */
    bool paper;    /* the person's own: says nothing of the booth, so two visits may differ in it */
    int low, high; /* bounds of numbers; high of a text: its most bytes */
    int fallback;  /* what absence means, for INT, BOOL and WORD */
    const struct words *words;
    const struct shape *shape; /* of RECORD, OPTION, RECORDS */
};

struct shape {
    const char *what; /* "a device" */
    size_t size;
    const struct field *fields;
    size_t n;
};

extern const struct shape shape_booth, shape_venue, shape_host, shape_device, shape_card, shape_usb,
    shape_output, shape_input, shape_strip, shape_hub, shape_cable, shape_deck, shape_found,
    shape_combination, shape_minutes, shape_listen, shape_mark;

/* The field of that key; NULL when there is none. */
const struct field *shape_field(const struct shape *s, const char *key);

/* Whether the field must stand in a file: always, or in a record like this one. */
bool field_required(const struct shape *s, const struct field *f, const void *record);

/* Fills fresh memory of s->size bytes with the defaults, or with a copy of from. */
void record_init(const struct shape *s, void *record);
void record_copy(const struct shape *s, void *record, const void *from);

/* Frees what the record owns (not the record) and leaves the defaults. */
void record_clear(const struct shape *s, void *record);

/* Whether two records hold the same, also what is kept for the file (that a default was spelled
 * out counts only where it still is the default). */
bool record_equal(const struct shape *s, const void *a, const void *b);

/* The address of a field's value in its record. */
void *field_in(const struct field *f, void *record);
const void *field_of(const struct field *f, const void *record);

/* The same as above, of one value; to is fresh memory in copy. */
size_t field_size(const struct field *f);
void field_copy(const struct field *f, void *to, const void *from);
void field_clear(const struct field *f, void *value);
bool field_equal(const struct field *f, const void *a, const void *b);

/* Whether a value is what absence means. */
bool field_is_default(const struct field *f, const void *value);

/* A RECORDS value: how many items, and the i-th. */
size_t records_count(const void *list);
void *records_at(const struct field *f, const void *list, size_t i);

/* Takes out items of a RECORDS value at a place and puts in copies of others (NULL for none).
 * at + out must not pass the end. */
void records_splice(const struct field *f, void *list, size_t at, size_t out, const void *in,
                    size_t count);

/* Adds an item with its defaults at the end of a RECORDS value; borrowed until the list changes. */
void *records_add(const struct field *f, void *list);

/* The small lists; what they take in is copied. */
void ints_add(struct ints *l, int value);
void texts_add(struct texts *l, const char *text);
void texts_insert(struct texts *l, size_t at, const char *text);
void texts_remove(struct texts *l, size_t at);
/* Empties it and frees what it held. */
void texts_clear(struct texts *l);
/* The place of a text, or -1. */
int texts_find(const struct texts *l, const char *text);
void map_set(struct map *m, const char *key, const char *value);
void map_remove(struct map *m, const char *key);

/* Replaces a text field by a copy; "" and NULL both leave none. */
void text_set(char **field, const char *text);

#endif
