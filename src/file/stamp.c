/* A hash is enough: nobody gains by forging it. */
#include "file/stamp.h"

#include <inttypes.h>

#include "base/hash.h"

struct stamp stamp_of(const char *bytes, size_t n)
{
    return (struct stamp){.exists = true, .size = n, .hash = hash_bytes(HASH_OF_NOTHING, bytes, n)};
}

bool stamp_same(const struct stamp *a, const struct stamp *b)
{
    if (!a->exists || !b->exists)
        return a->exists == b->exists;
    return a->size == b->size && a->hash == b->hash;
}

void stamp_text(const struct stamp *s, struct str *out)
{
    if (s->exists)
        str_addf(out, "%" PRIu64 "-%016" PRIx64, s->size, s->hash);
    else
        str_add(out, "none");
}
