/*
 * tables.h - the tables of a programme folder, one description each.
 */
#ifndef READING_TABLES_H
#define READING_TABLES_H

#include "reading/columns.h"

extern const struct table site_table, station_table, tree_table, selection_table, scion_table,
    graft_table, cross_table, pollen_table, crew_table, lift_table, threshold_table, rate_table,
    task_table, note_table;

/* Shared by several tables. */
#define CROWN_WORDS 3u
#define WORK_WORDS 3u
extern const char *const crown_words[CROWN_WORDS], *const work_words[WORK_WORDS];

/* A stage, or `LOW-HIGH`, in words of the programme's own scale as one of ours; the text itself
 * when that scale has no such word. */
const char *stage_in_ours(struct reader *reader, const char *value);

/* Add one noun to a list of the orchard. */
#define APPEND(orchard, type, name, row)                                                           \
    (*ARENA_PUSH((orchard)->arena, (orchard)->name.list, (orchard)->name.count,                    \
                 (orchard)->name.capacity) = *(const struct type *)(row))

#endif
