/* Each byte is mixed in, then spread over all the bits. */
#include "base/hash.h"

uint64_t hash_bytes(uint64_t h, const void *bytes, size_t n)
{
    const unsigned char *at = bytes;
    for (size_t i = 0; i < n; i++)
        h = (h ^ at[i]) * UINT64_C(1099511628211);
    return h;
}
