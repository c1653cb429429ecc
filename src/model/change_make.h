/* Inside change.c and change_wires.c: finding what a change names, to write into it; and the
 * makers.
 *
 * A finder returns NULL, with one sentence in e, when there is no such thing. */
#ifndef MODEL_CHANGE_MAKE_H
#define MODEL_CHANGE_MAKE_H

#include "model/change.h"

struct device *change_device(struct booth *b, const char *id, struct err *e);
struct strip *change_strip(struct booth *b, const char *id, struct err *e);
struct deck *change_deck(struct booth *b, const char *id, struct err *e);
struct input *change_input(struct booth *b, const char *name, struct err *e);

/* Says that there is no such thing; returns false. */
bool change_absent(struct err *e, const char *what, const char *name);

/* Copies a name that fits. */
void change_name(char ref[REF_SIZE], const char *name);

/* One for each kind of change of wires and switches. */
bool change_make_select(struct booth *b, const struct change *c, struct err *e);
bool change_make_switch(struct booth *b, const struct change *c, struct err *e);
bool change_make_cable(struct booth *b, const struct change *c, struct err *e);
bool change_make_cable_move(struct booth *b, const struct change *c, struct err *e);
bool change_make_cable_from(struct booth *b, const struct change *c, struct err *e);
bool change_make_uncable(struct booth *b, const struct change *c, struct err *e);
bool change_make_source(struct booth *b, const struct change *c, struct err *e);
bool change_make_join(struct booth *b, const struct change *c, struct err *e);
bool change_make_leave(struct booth *b, const struct change *c, struct err *e);
bool change_make_order(struct booth *b, const struct change *c, struct err *e);
bool change_make_plug(struct booth *b, const struct change *c, struct err *e);

#endif
