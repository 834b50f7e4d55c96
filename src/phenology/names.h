/*
 * names.h - is a method meant by its name?
 */
#ifndef PHENOLOGY_NAMES_H
#define PHENOLOGY_NAMES_H

#include <stdbool.h>

/* strcmp would be the library's only call beyond mathematics, so it is spelt out. */
static inline bool name_is(const char *name, const char *other)
{
    while (*name != '\0' && *name == *other) {
        name++;
        other++;
    }
    return *name == *other;
}

#endif
