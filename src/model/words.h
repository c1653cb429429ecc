/* Every kind of word in the model: what stands in files, and what people read. One table a kind. */
#ifndef MODEL_WORDS_H
#define MODEL_WORDS_H

#include <stddef.h>

/* The order of each enum is the order of its table in words.c. Where a word may be left unsaid,
 * the first one stands for that and has no word in files. */
enum device_kind { KIND_PLAYER, KIND_TURNTABLE, KIND_MIXER, KIND_INTERFACE, KIND_CONTROLLER };
enum level { LEVEL_UNSAID, LEVEL_LINE, LEVEL_PHONO, LEVEL_DIGITAL, LEVEL_USB };
enum connector {
    CONNECTOR_UNSAID,
    CONNECTOR_RCA,
    CONNECTOR_COAX,
    CONNECTOR_OPTICAL,
    CONNECTOR_TRS,
    CONNECTOR_TS,
    CONNECTOR_XLR,
    CONNECTOR_MINIJACK
};
enum source { SOURCE_OWN_MEDIA, SOURCE_COMPUTER };
enum control { CONTROL_NONE, CONTROL_HID, CONTROL_MIDI, CONTROL_RECORD };
enum crossfader { CROSSFADER_OFF, CROSSFADER_LEFT, CROSSFADER_RIGHT };
enum speed { SPEED_HIGH, SPEED_FULL, SPEED_SUPER };
enum sides { SIDES_STRAIGHT, SIDES_SWAPPED, SIDES_LEFT_ONLY, SIDES_RIGHT_ONLY };
enum combining { COMBINING_NONE, COMBINING_BY_HAND, COMBINING_BY_DRIVER };
enum gap { GAP_CLOSES, GAP_KEEPS };
enum on_drop { DROP_STOPS, DROP_PLAYS_ON };
enum channel_names { NAMES_FROM_0, NAMES_FROM_1, NAMES_BY_DEVICE };
enum way { WAY_MIXER_CARD, WAY_PLAYER_CARDS, WAY_PATCHED }; /* into the mixer */
enum ear { EAR_UNTOLD, EAR_LEFT, EAR_RIGHT, EAR_BOTH, EAR_NONE };

struct word {
    const char *file;   /* NULL: unsaid */
    const char *people; /* never NULL */
};

struct words {
    const char *what; /* what a word of this kind is called: "a level" */
    const struct word *v;
    size_t n;
};

extern const struct words words_device_kind, words_level, words_connector, words_source,
    words_control, words_crossfader, words_speed, words_sides, words_combining, words_gap,
    words_on_drop, words_channel_names, words_way, words_ear;

/* The word in files (NULL for the unsaid), or for people. value must be one of the table's. */
const char *word_file(const struct words *w, int value);
const char *word_people(const struct words *w, int value);

/* The value of a word in files; -1 when there is no such word. */
int word_find(const struct words *w, const char *text);

#endif
