/* The booth compiled to small integers: what the engine computes with.
 *
 *   channel of the interface -> joined card, card channel -> output -> cable -> input -> strip
 *
 * Everything has the number that it has in the booth's lists (strips, inputs and outputs are
 * counted through the devices, in the file's order). A hypothesis ("what if this selector stood
 * elsewhere") is a copy with one change; the booth keeps the names. */
#ifndef ENGINE_CIRCUIT_H
#define ENGINE_CIRCUIT_H

#include <stdbool.h>
#include <stddef.h>

#include "model/booth.h"

struct circuit_device {
    int joined;   /* position in the joined list, or -1 */
    int first;    /* its first channel in the interface; meaningless unless joined */
    int channels; /* of its card; 0 without one */
    bool mixer;
    bool plays; /* its outputs carry the host's sound: not a player on its own media */
};

/* What a side carries: a card channel from 1, or 0 for none. */
struct circuit_output {
    int device;
    int carries[2];
    bool digital;
};

struct circuit_input {
    int device;     /* the mixer or interface */
    int strip;      /* -1: an input of an interface */
    int carries[2]; /* of a usb input of our socket; else 0 */
    bool usb, ours, digital;
};

struct circuit_strip {
    int mixer, selected /* an input */, rank /* from the left, from 0 */;
    bool dead; /* passes nothing; never so when compiled: a hypothesis */
};

struct circuit_cable {
    int output, input;
    enum sides sides;
};

struct circuit_deck {
    int wants; /* a strip, or -1 */
    struct pair set_to;
};

struct circuit {
    const struct booth *booth; /* borrowed: for names */
    int channels;              /* of the interface */
    size_t n_devices, n_outputs, n_inputs, n_strips, n_cables, n_decks, n_joined;
    struct circuit_device *devices;
    struct circuit_output *outputs;
    struct circuit_input *inputs;
    struct circuit_strip *strips;
    struct circuit_cable *cables;
    struct circuit_deck *decks;
    int *joined;  /* devices in joining order */
    int *by_rank; /* strips from the left: by their mixer's place, then their own */
};

/* Compiles a sound booth, which must outlive the circuit. Free with circuit_free(). */
struct circuit *circuit_new(const struct booth *b);
struct circuit *circuit_copy(const struct circuit *c);
void circuit_free(struct circuit *c);

/* Makes a copy (from circuit_copy()) the same as another circuit of the same booth, without new
 * memory. */
void circuit_assign(struct circuit *copy, const struct circuit *c);

/* Gives the joined cards their first channels again, after joined or devices were changed. */
void circuit_number_channels(struct circuit *c);

/* The joined device that owns a channel of the interface, or -1; *card_channel (from 1). */
int circuit_owner(const struct circuit *c, int channel, int *card_channel);

/* Names, as in the booth. The jack names are written into out. */
const struct device *circuit_device(const struct circuit *c, int device);
const struct strip *circuit_strip(const struct circuit *c, int strip);
void circuit_output_name(const struct circuit *c, int output, char out[REF_SIZE]);
void circuit_input_name(const struct circuit *c, int input, char out[REF_SIZE]);

/* The number of a strip or device by id; -1 when there is none. */
int circuit_find_strip(const struct circuit *c, const char *id);
int circuit_find_device(const struct circuit *c, const char *id);

/* Whether a joined device reaches an input: by a cable from one of its outputs, or as the mixer
 * of a usb input of our socket; whatever the levels, sides and sources. */
bool circuit_reaches(const struct circuit *c, int device, int input);

#endif
