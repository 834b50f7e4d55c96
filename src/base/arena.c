/*
 * Blocks are chained and filled from the front.  What does not fit in a block of the usual size
 * gets one of its own, put behind the newest so that the room left there is not lost.
 */
#include "base/arena.h"

#include <assert.h>
#include <stdalign.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Under the address sanitizer every piece is a block, so that a step past its end is seen. */
#if defined(__SANITIZE_ADDRESS__)
#define EACH_APART
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define EACH_APART
#endif
#endif

#ifdef EACH_APART
enum { BLOCK_BYTES = 0, STEP = 1 };
#else
enum { BLOCK_BYTES = 256 * 1024, STEP = alignof(max_align_t) };
#endif
enum { FIRST_CAPACITY = 8 };

struct arena_block {
    struct arena_block *older;
    size_t used, capacity;
    alignas(max_align_t) unsigned char bytes[];
};

void arena_init(struct arena *arena, void (*refused)(size_t bytes))
{
    *arena = (struct arena){.refused = refused};
}

void arena_release(struct arena *arena)
{
    for (struct arena_block *block = arena->newest; block;) {
        struct arena_block *older = block->older;
        free(block);
        block = older;
    }
    arena->newest = NULL;
    arena->used_bytes = 0;
}

static _Noreturn void refuse(const struct arena *arena, size_t bytes)
{
    if (arena->refused)
        arena->refused(bytes);
    abort(); /* no hook, or one that broke its word and returned */
}

static struct arena_block *new_block(const struct arena *arena, size_t capacity)
{
    struct arena_block *block = NULL;
    if (capacity <= PTRDIFF_MAX - sizeof *block)
        block = calloc(1, sizeof *block + capacity);
    if (!block)
        refuse(arena, capacity);
    block->capacity = capacity;
    return block;
}

static struct arena_block *block_with_room(struct arena *arena, size_t bytes)
{
    struct arena_block *newest = arena->newest;
    if (newest && newest->capacity - newest->used >= bytes)
        return newest;

    bool own = bytes > BLOCK_BYTES / 4;
    struct arena_block *block = new_block(arena, own ? bytes : BLOCK_BYTES);
    if (own && newest) {
        block->older = newest->older;
        newest->older = block;
    } else {
        block->older = newest;
        arena->newest = block;
    }
    return block;
}

void *arena_alloc(struct arena *arena, size_t count, size_t size)
{
    if (size && count > (PTRDIFF_MAX - STEP) / size)
        refuse(arena, SIZE_MAX);

    /* An empty request still gets an address of its own. */
    size_t bytes = count && size ? count * size : 1;
    bytes = (bytes + STEP - 1) / STEP * STEP;

    struct arena_block *block = block_with_room(arena, bytes);
    void *given = block->bytes + block->used;
    block->used += bytes;
    arena->used_bytes += bytes;
    return given;
}

char *arena_text(struct arena *arena, size_t length, const char *text)
{
    char *copy = arena_alloc(arena, length + 1, 1);
    if (length)
        memcpy(copy, text, length);
    return copy;
}

char *arena_printf(struct arena *arena, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    assert(length >= 0);

    char *text = arena_alloc(arena, (size_t)length + 1, 1);
    va_start(arguments, format);
    vsnprintf(text, (size_t)length + 1, format, arguments);
    va_end(arguments);
    return text;
}

void *arena_grow(struct arena *arena, void *list, size_t count, size_t *capacity, size_t size)
{
    if (count < *capacity)
        return list;

    size_t more = *capacity ? *capacity : FIRST_CAPACITY;
    if (more > SIZE_MAX / 2)
        refuse(arena, SIZE_MAX);
    while (more <= count)
        more *= 2;
    void *grown = arena_alloc(arena, more, size);
    size_t held = count < *capacity ? count : *capacity;
    if (held)
        memcpy(grown, list, held * size);
    *capacity = more;
    return grown;
}
