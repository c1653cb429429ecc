/* Standard arrangements: which host deck is heard on which strip. */
#ifndef ENGINE_ARRANGE_H
#define ENGINE_ARRANGE_H

#include "engine/circuit.h"
#include "model/change.h"

enum arrangement {
    ARRANGE_FROM_LEFT, /* the decks in their order on the strips from the left */
    ARRANGE_MIDDLE,    /* the first decks on the middle strips, the next to their outsides */
    ARRANGE_AS_SAVED,  /* as another state of the venue has them */
};

/* The changes that arrange the decks on strips that are not in use; decks for which there is none
 * become undecided. saved is looked at for ARRANGE_AS_SAVED alone. Empty when they stand so. Free
 * with changes_clear(). */
struct changes arrange_decks(const struct circuit *c, enum arrangement how,
                             const struct booth *saved);

#endif
