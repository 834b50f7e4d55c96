/*
 * cache.h - what a run has worked out already, by its key.
 *
 * Keys are a few words compared word for word: addresses of nouns, numbers, the bits of a double.
 * Nothing is ever listed from a cache, so addresses in keys cannot change any output.
 */
#ifndef PLANNING_CACHE_H
#define PLANNING_CACHE_H

#include "base/arena.h"

#include <stddef.h>
#include <stdint.h>

#define CACHE_WORDS 6

struct cache_key {
    uint64_t word[CACHE_WORDS]; /* unused ones 0 */
};

struct cache_entry;

struct cache {
    struct arena *arena;
    struct cache_entry **slots;
    size_t slot_count; /* 0, or a power of two */
    size_t count;
};

void cache_init(struct cache *cache, struct arena *arena);

/* Where the value of `key` stands: NULL in it when the key is new.  Holds until the run ends. */
void **cache_at(struct cache *cache, struct cache_key key);

uint64_t cache_pointer(const void *pointer);
uint64_t cache_double(double value);

#endif
