#include "planning/cache.h"

#include <string.h>

struct cache_entry {
    struct cache_key key;
    void *value;
    struct cache_entry *next; /* in the same slot */
};

enum { SLOTS_FIRST = 64 };

void cache_init(struct cache *cache, struct arena *arena)
{
    *cache = (struct cache){.arena = arena};
}

/* Multiply and fold each word: addresses differ in their middle bits, slots are the low ones. */
static uint64_t hash_of(const struct cache_key *key)
{
    uint64_t hash = UINT64_C(0x9E3779B97F4A7C15); /* 2^64 over the golden ratio */

    for (size_t i = 0; i < CACHE_WORDS; i++) {
        hash = (hash ^ key->word[i]) * UINT64_C(0x9E3779B97F4A7C15);
        hash ^= hash >> 32;
    }
    return hash;
}

static struct cache_entry **slot_of(const struct cache *cache, const struct cache_key *key)
{
    return &cache->slots[hash_of(key) & (cache->slot_count - 1)];
}

static void put(struct cache *cache, struct cache_entry *entry)
{
    struct cache_entry **slot = slot_of(cache, &entry->key);

    entry->next = *slot;
    *slot = entry;
}

static void grow(struct cache *cache)
{
    struct cache_entry **old = cache->slots;
    size_t old_count = cache->slot_count;

    cache->slot_count = old_count == 0 ? SLOTS_FIRST : 2 * old_count;
    cache->slots = ARENA_ARRAY(cache->arena, cache->slot_count, struct cache_entry *);
    for (size_t i = 0; i < old_count; i++) {
        for (struct cache_entry *entry = old[i], *next; entry != NULL; entry = next) {
            next = entry->next;
            put(cache, entry);
        }
    }
}

void **cache_at(struct cache *cache, struct cache_key key)
{
    struct cache_entry *entry;

    if (cache->count >= cache->slot_count)
        grow(cache);
    for (entry = *slot_of(cache, &key); entry != NULL; entry = entry->next) {
        if (memcmp(&entry->key, &key, sizeof key) == 0)
            return &entry->value;
    }
    entry = ARENA_NEW(cache->arena, struct cache_entry);
    entry->key = key;
    cache->count++;
    put(cache, entry);
    return &entry->value;
}

uint64_t cache_pointer(const void *pointer)
{
    return (uint64_t)(uintptr_t)pointer;
}

uint64_t cache_double(double value)
{
    uint64_t bits;

    memcpy(&bits, &value, sizeof bits);
    return bits;
}
