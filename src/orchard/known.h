/*
 * known.h - the identifiers of one table: which are there twice, which look alike, and what a
 * person may have meant by one that is not there.
 */
#ifndef ORCHARD_KNOWN_H
#define ORCHARD_KNOWN_H

#include "orchard/orchard.h"

enum known_table {
    KNOWN_SITES,
    KNOWN_STATIONS,
    KNOWN_TREES,
    KNOWN_SELECTIONS,
    KNOWN_BATCHES,
    KNOWN_GRAFTS,
    KNOWN_CROSSES,
    KNOWN_LOTS,
    KNOWN_LIFTS,
    KNOWN_TASKS,
    KNOWN_TABLES
};

struct known {
    enum known_table table;
    size_t count;
    const char **names;       /* [count], sorted; a name that stands twice is here twice */
    struct place *places;     /* [count] */
    struct known_fold *folds; /* by folded name; made when first asked for */
    struct arena *arena;
    size_t suggested; /* how often a name was looked for: the search is dear, so it is bounded */
};

/* From the sorted lists of an orchard that is being linked, or is. */
void known_of(struct known *known, const struct orchard *orchard, enum known_table table);

/* The tags that grafts carry now, those made by notes among them. */
void known_of_tags(struct known *known, const struct orchard *orchard);

/* Tell identifiers that stand twice, and ones that differ only by case, blanks or zeros (a warning;
 * an error for stations, whose files may not differ so).  `orchard` knows names of one clone. */
void known_tell_twins(struct known *known, const struct orchard *orchard, struct diags *diags);

/*
 * Tell that `name`, needed by `what` ("tree 'T7'", already quoted), is not in the table: code
 * unknown-site, unknown-tree and so on, with the nearest name that is.
 */
void known_tell_missing(struct known *known, struct diags *diags, struct place place,
                        const char *what, const char *name);

/* What a row of the table is called: "site". */
const char *known_noun(enum known_table table);

#endif
