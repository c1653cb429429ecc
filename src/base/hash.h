/* A hash of bytes, for telling content apart: FNV-1a with 64 bits, by Fowler, Noll and Vo, with the
 * offset basis and the prime that they published. Against chance, not against anybody's intent. */
#ifndef BASE_HASH_H
#define BASE_HASH_H

#include <stddef.h>
#include <stdint.h>

#define HASH_OF_NOTHING UINT64_C(14695981039346656037)

/* Goes on from a hash: begin with HASH_OF_NOTHING. bytes may be NULL when n is 0. */
uint64_t hash_bytes(uint64_t h, const void *bytes, size_t n);

#endif
