/* What the files of compare share. */
#ifndef ENGINE_COMPARE_PARTS_H
#define ENGINE_COMPARE_PARTS_H

#include "base/str.h"
#include "engine/compare.h"
#include "model/shape.h"

/* Which id of the old booth is which of the new one's, where they differ. What is not matched,
 * though its id is another thing's now, goes by an id that neither booth has. */
struct name {
    struct renamed renamed;
    bool matched;
};
struct names {
    struct name *v;
    size_t n, cap;
};

/* A copy of before in which what is matched is called as it is now; free with booth_free(). names
 * receives who was renamed; free its v with mem_free(). */
struct booth *compare_renamed(const struct booth *before, const struct booth *now,
                              struct names *names);

/* What a name of the copy, of a thing or a jack, is in the old booth. */
void compare_old_name(const struct names *names, const char *name, char old[REF_SIZE]);

/* A record that is the same in both booths, or a part of one. */
struct subject {
    const struct shape *shape;
    char name[REF_SIZE], other[REF_SIZE]; /* as in struct difference, by the copy's names */
    const struct field *part; /* of a jack, its list; of a card, its field; NULL: none */
};

/* Appends what it is called: "P1", "P1's line output", "P1's sound card", "the cable from ...". */
void compare_say_subject(const struct booth *b, const struct subject *s, struct str *out);

/* Appends what a field is and was, without its subject. The booths, with the same names, and the
 * values are those of before and now; kind is what compare_kind() makes of it. */
void compare_say_field(const struct booth *const booths[2], const struct field *f,
                       const void *const values[2], enum difference_kind kind, struct str *out);

/* What kind of difference a field makes; record is the one of now that it stands in. */
enum difference_kind compare_kind(const struct shape *s, const struct field *f, const void *record);

#endif
