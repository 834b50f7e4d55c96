#include "base/hash.h"

#include <string.h>

#define PRIME UINT64_C(0x100000001b3)

uint64_t hash_bytes(uint64_t hash, size_t length, const void *bytes)
{
    const unsigned char *at = bytes;

    for (size_t i = 0; i < length; i++)
        hash = (hash ^ at[i]) * PRIME;
    return hash;
}

uint64_t hash_text(uint64_t hash, const char *text)
{
    return text ? hash_bytes(hash, strlen(text) + 1, text) : hash_bytes(hash, 2, "\xff");
}
