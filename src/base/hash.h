/*
 * hash.h - a short number of any bytes, to tell whether two are the same.
 *
 * 64 bits by the FNV-1a rule (Fowler, Noll and Vo; RFC 9923 gives the constants, from memory): not
 * proof against people who want two texts to look the same, and nothing here rests on that.
 */
#ifndef BASE_HASH_H
#define BASE_HASH_H

#include <stddef.h>
#include <stdint.h>

#define HASH_START UINT64_C(0xcbf29ce484222325)

/* The hash of what was hashed so far and these bytes. */
uint64_t hash_bytes(uint64_t hash, size_t length, const void *bytes);

/* The same with a text and its end, so that "a", "b" and "ab", "" differ; NULL counts as a text of
 * its own. */
uint64_t hash_text(uint64_t hash, const char *text);

#endif
