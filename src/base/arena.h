/*
 * arena.h - the one allocator of the program.
 *
 * Everything a run makes lives until the run ends, so there are no owners and no free paths.
 * Memory is zeroed and never NULL: when the system refuses, the arena calls the hook it was
 * given, which must not return (cli prints one line and leaves with status 4).
 */
#ifndef BASE_ARENA_H
#define BASE_ARENA_H

#include <stddef.h>

struct arena_block;

struct arena {
    struct arena_block *newest;
    size_t used_bytes;
    void (*refused)(size_t bytes); /* called when the system has no memory; must not return */
};

/* `refused` may be NULL: then the arena aborts. */
void arena_init(struct arena *arena, void (*refused)(size_t bytes));

/* Free everything the arena gave. */
void arena_release(struct arena *arena);

/* `count * size` zeroed bytes, aligned for any type; an overflowing product is refused. */
void *arena_alloc(struct arena *arena, size_t count, size_t size);

#define ARENA_NEW(arena, type) ((type *)arena_alloc((arena), 1, sizeof(type)))
#define ARENA_ARRAY(arena, count, type) ((type *)arena_alloc((arena), (count), sizeof(type)))

/* A NUL-terminated copy of `length` bytes. */
char *arena_text(struct arena *arena, size_t length, const char *text);

/* printf into the arena. */
char *arena_printf(struct arena *arena, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/*
 * Room for one more element in a growing array: returns `list` or a doubled copy of it.
 * `*capacity` is kept by the caller and starts at 0.
 */
void *arena_grow(struct arena *arena, void *list, size_t count, size_t *capacity, size_t size);

#define ARENA_PUSH(arena, list, count, capacity)                                                   \
    ((list) = arena_grow((arena), (list), (count), &(capacity), sizeof *(list)), &(list)[(count)++])

#endif
