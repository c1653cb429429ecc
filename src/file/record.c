/* The head of a line is not parsed: it is printed once more from the payload it claims to have,
 * and compared. So there is one spelling of each line only, and no upper case, blank or sign can
 * slip through. */
#include "file/record.h"

#include <assert.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { SUM_DIGITS = 8, LENGTH_DIGITS = 6, HEAD = SUM_DIGITS + 1 + LENGTH_DIGITS + 1 };

/* Four bits at a time; the table is the remainder of each four bits (polynomial 0xedb88320, the
 * one of RFC 1952 section 8, reflected). */
uint32_t record_sum(const char *bytes, size_t n)
{
    static const uint32_t table[16] = {
        0x00000000, 0x1db71064, 0x3b6e20c8, 0x26d930ac, 0x76dc4190, 0x6b6b51f4,
        0x4db26158, 0x5005713c, 0xedb88320, 0xf00f9344, 0xd6d6a3e8, 0xcb61b38c,
        0x9b64c2b0, 0x86d3d2d4, 0xa00ae278, 0xbdbdf21c,
    };
    uint32_t sum = 0xffffffff;
    for (size_t i = 0; i < n; i++) {
        sum ^= (unsigned char)bytes[i];
        sum = sum >> 4 ^ table[sum & 15];
        sum = sum >> 4 ^ table[sum & 15];
    }
    return ~sum;
}

size_t record_size(size_t n)
{
    return HEAD + n + 1;
}

static void print_head(char head[HEAD + 1], const char *payload, size_t n)
{
    snprintf(head, HEAD + 1, "%08" PRIx32 " %06zx ", record_sum(payload, n), n & 0xffffff);
}

void record_add(struct str *out, const char *payload, size_t n)
{
    char head[HEAD + 1];
    assert(n <= RECORD_MAX && !memchr(payload, '\n', n) && !memchr(payload, '\0', n));
    print_head(head, payload, n);
    str_addn(out, head, HEAD);
    str_addn(out, payload, n);
    str_addc(out, '\n');
}

bool record_next(const char *bytes, size_t n, const char **payload, size_t *len)
{
    const char *end = n > HEAD ? memchr(bytes + HEAD, '\n', n - HEAD) : NULL;
    if (!end || (size_t)(end - bytes) > HEAD + RECORD_MAX)
        return false;
    char head[HEAD + 1];
    *payload = bytes + HEAD;
    *len = (size_t)(end - *payload);
    print_head(head, *payload, *len);
    return memcmp(head, bytes, HEAD) == 0 && !memchr(*payload, '\0', *len);
}
