/* What the steps of the checklist say: one row of sentences for each kind. For order.c alone. */
#ifndef ENGINE_ORDER_SAYS_H
#define ENGINE_ORDER_SAYS_H

#include "engine/order.h"

enum telling {
    TELL_LEVELS_QUIET,
    TELL_LEVELS_LIVE,
    TELL_LAPTOP,
    TELL_POWER,
    TELL_POWER_BY_LEAD, /* the data lead is its supply */
    TELL_FIRMWARE,
    TELL_DRIVER,
    TELL_COMBINATION_SAVED,
    TELL_COMBINATION_NEW,
    TELL_HUB,
    TELL_HUB_SUPPLY,
    TELL_JOIN,
    TELL_JOIN_TICK,     /* combined by hand */
    TELL_JOIN_BUILT_IN, /* inside the laptop: only the tick */
    TELL_PLUG,
    TELL_PLUG_ALONE, /* there is no interface whose channels could be counted */
    TELL_INTERFACE,
    TELL_SOURCE,
    TELL_SOURCE_WAIT, /* an in-use strip hears the player */
    TELL_SELECTOR,
    TELL_SWITCH,
    TELL_SET,
    TELL_CONTROL,
    TELL_CONTROL_RECORD,
    TELL_CHECK_QUIET,
    TELL_CHECK_LIVE,
    TELL_CHECK_WAIT,        /* it would be heard on an in-use strip */
    TELL_CHECK_WAIT_DEVICE, /* it would play through an in-use device */
    TELL_SAVE,
};

/* What a step is about; what its kind does not speak of stays NULL or 0. Borrowed. */
struct about {
    const struct device *device;
    const struct hub *hub;
    const struct strip *strip;
    const struct input *input;
    const struct combination *combination;
    const char *decks; /* their labels, in words */
    enum level level;
    struct pair pair; /* of the deck, in the interface of the circuit */
    int channels;     /* of the interface */
};

/* Fills text, see and why of a step (which owns them). */
void order_tell(const struct circuit *c, enum telling what, const struct about *about,
                struct step *step);

#endif
