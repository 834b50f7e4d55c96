#include "reading/reading.h"

#include <string.h>

static long read_memory(void *context, size_t size, char *bytes)
{
    struct memory_source *memory = context;
    size_t left = memory->length - memory->given;
    size_t count = left < size ? left : size;
    if (count > 0)
        memcpy(bytes, memory->bytes + memory->given, count);
    memory->given += count;
    return (long)count;
}

struct source source_of_memory(const char *name, struct memory_source *memory, size_t length,
                               const char *bytes)
{
    *memory = (struct memory_source){.bytes = bytes, .length = length};
    return (struct source){.name = name, .context = memory, .read = read_memory};
}
