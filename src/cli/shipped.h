/*
 * shipped.h - the tables of data/defaults, carried inside the program so that a copied binary
 * works.
 */
#ifndef CLI_SHIPPED_H
#define CLI_SHIPPED_H

#include <stddef.h>

struct shipped {
    const char *table; /* "rates.csv" */
    const unsigned char *bytes;
    size_t length;
};

/* Ended by a NULL table.  Made at build time. */
extern const struct shipped shipped_tables[];

#endif
