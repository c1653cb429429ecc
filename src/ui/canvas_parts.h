/* What the canvas is made of: for the files canvas*.c only.
 *
 *   decks     ┌H1────┐         bands from top to bottom, boxes from left to right;
 *             └──┬───┘  upper  two channels of wires between them
 *   devices   ┌P1┴───┐
 *             └─●──○─┘  lower
 *   strips    ┌─●──○─┬─○──○─┐  strips of a mixer share their borders
 *   mixers    └─House mixer─┘
 */
#ifndef UI_CANVAS_PARTS_H
#define UI_CANVAS_PARTS_H

#include "ui/canvas.h"
#include "ui/spread.h"
#include "ui/wires.h"

enum band { BAND_DECKS, BAND_DEVICES, BAND_STRIPS, BAND_MIXERS, BAND_COUNT };

struct box {
    struct spot spot;
    struct rect at; /* a strip: without a right border that belongs to the next one */
    enum band band;
    int number; /* of the deck, device or strip, as in the circuit; of a hub, in the booth's list */
};

/* A jack stands on its box's border, its name right inside. */
struct jack {
    struct spot spot;
    int x, y;
    int name_x, name_y, name_w; /* columns of the name, perhaps fewer than it has letters */
    size_t box;                 /* of c->boxes */
    bool cabled;                /* a cable is in it; a usb input: its card is in the interface */
    bool selected;              /* its strip is switched to it */
};

/* What a wire stands for. */
struct thread {
    int deck, cable; /* one of them; the other is -1 */
    enum line line;
    bool faint;       /* it ends in an input that is not selected */
    size_t box[2];    /* the boxes at its ends */
    const char *mark; /* what the cable does to the sides: "x", "L", "R"; NULL: nothing */
};

struct channel {
    int top, height; /* rows between the borders above and below */
    int rows;        /* that the wires need */
    struct wire *wires;
    struct thread *threads; /* one for each wire */
    size_t n;
};

struct canvas {
    const struct derived *d;
    const struct circuit *c;
    const struct booth *b;
    int width, height;     /* of the whole layout */
    int want_w, want_h;    /* of the window */
    int left, right;       /* the columns that boxes may take, right not included */
    int strip_w, player_w; /* a strip's inside; a player's whole box */
    int deck_w, gap;       /* a deck's whole box; columns between devices */
    bool tight;            /* wires pass right beside the boxes */
    int margin;            /* columns at the right for the names of the bands; 0: none */
    int top[BAND_COUNT], tall[BAND_COUNT];
    bool deck_warns, device_in_use, strip_in_use; /* a band has one row more for that */
    bool says_from_where;                         /* there is a row for that below the mixers */
    struct box *boxes;                            /* by band, then from left to right */
    size_t n_boxes, boxes_cap;
    size_t first[BAND_COUNT + 1]; /* where each band starts in boxes */
    struct jack *jacks;           /* inputs as in the circuit, then outputs */
    struct channel upper, lower;
    int *passes; /* for each deck the column where its wire passes the devices; -1: it does not */
};

/* What stands in the row of devices: a device, a hub, or the wire of a deck that passes. */
struct stand {
    int device, hub, deck; /* one of them, the others -1 */
    int rank[3];           /* group, place, order in the file */
};
struct row {
    struct stand *stands;
    struct spread *at;
    size_t n;
};

enum {
    MIXERS_APART = 2,
    FIRM = 64, /* the weight of a wish that a wire depends on, against 1 of mere order */
};

/* canvas_boxes.c: every box gets its columns, every jack with it. */
void canvas_place_boxes(struct canvas *c);
/* The box of a device; never NULL once it is placed. */
const struct box *canvas_device_box(const struct canvas *c, int device);

/* canvas_widths.c: chooses all the widths in *c, in columns, for the devices' row r. */
void canvas_choose_widths(struct canvas *c, const struct row *r);
/* The columns of one thing in the row, or of the whole row, when players are so wide and that far
 * apart. */
int canvas_stand_width(const struct canvas *c, const struct stand *s, int player);
int canvas_row_width(const struct canvas *c, const struct row *r, int player, int gap);
/* The columns of a mixer, or of all of them, when the inside of a strip is strip_w wide. */
int canvas_mixer_width(const struct device *d, int strip_w);
int canvas_strips_width(const struct canvas *c, int strip_w);
/* Whether a deck plays through a mixer's own card, so that its wire passes the devices. */
bool canvas_deck_passes(const struct canvas *c, size_t deck);

/* canvas_jacks.c: the jack of an input or an output, by its number in the circuit. */
struct jack *canvas_input(const struct canvas *c, int input);
struct jack *canvas_output(const struct canvas *c, int output);
/* The first input of a strip, output and input of a device, as numbers of the circuit. */
int canvas_strip_input(const struct canvas *c, int strip);
int canvas_device_output(const struct canvas *c, int device);
int canvas_device_input(const struct canvas *c, int device);
/* Names all jacks and tells which are cabled and selected. */
void canvas_name_jacks(struct canvas *c);
/* Columns for the jacks of a strip whose left border is at x; for those of a device at column 0
 * (inputs left of outputs), and when it moves. */
void canvas_lay_strip(struct canvas *c, int strip, int x);
void canvas_lay_device(struct canvas *c, int device, int width);
void canvas_shift_jacks(struct canvas *c, int device, int by);
/* Moves the jacks of a device whose box is at, within the box and in their order, towards what
 * they are wired to. */
void canvas_aim_jacks(struct canvas *c, int device, struct rect at);

/* The fewest columns that a name can be drawn in: one, or two when it ends in a digit. */
int canvas_name_least(const char *name);
/* Appends a name in w columns: its first letters, and its digit at the end ("line2": "l2"). */
void canvas_name_short(const char *name, int w, struct str *out);

/* canvas_wires.c: the wires of both channels, as far as columns go, and how each is drawn. */
void canvas_make_wires(struct canvas *c);
/* The corners of a thread's wire in the layout; returns how many. */
int canvas_thread_path(const struct channel *channel, size_t i, struct point p[WIRE_POINTS]);

/* canvas_words.c: the words in the boxes; each appends what fits into room columns. A device's
 * place in the interface, where a data lead goes, why a deck has no pair, all about a mixer's card.
 */
void canvas_say_place(const struct canvas *c, int device, int room, struct str *out);
void canvas_say_lead(const struct canvas *c, const struct plug *p, int room, struct str *out);
void canvas_say_no_pair(const struct canvas *c, int deck, int room, struct str *out);
void canvas_say_card(const struct canvas *c, int device, int room, struct str *out);

/* Whether a deck is set to something else than its route. */
bool canvas_deck_is_stale(const struct canvas *c, int deck);

/* Who is at a strip: decks that want it and those heard there. */
struct guest {
    int deck;
    bool wants, heard, rightly; /* rightly: left on the left, right on the right, nothing else */
};
/* At most max of them, those that want it first; returns how many. */
size_t canvas_guests(const struct canvas *c, int strip, struct guest *v, size_t max);

/* Appends what the line check says of a deck at a strip: expected there, heard there, both; nothing
 * for neither. Marks that are out of date count as none. Returns how it looks. */
enum look canvas_say_listened(const struct canvas *c, int strip, int deck, struct str *out);

/* The device whose own sound comes through the strip's selected input; -1: none. */
int canvas_own_sound(const struct canvas *c, int strip);

/* Whether sound leaves by an output: the host's, or the device's own. */
bool canvas_output_sounds(const struct canvas *c, int output);

#endif
