/*
 * work_lists.h - what lies around the rows of a worklist, as titled lists of lines: both paper and
 * HTML print the same.
 */
#ifndef WRITING_WORK_LISTS_H
#define WRITING_WORK_LISTS_H

#include "planning/worklist.h"
#include "writing/pages.h"

struct work_section {
    const char *title;
    const char **lines;
    size_t count;
    bool bare; /* the title alone says something */
};

#define WORK_SECTIONS_MOST 8
struct work_sections {
    struct work_section list[WORK_SECTIONS_MOST];
    size_t count;
};

/* Those that have a line, in the order in which they are read. */
struct work_sections work_sections_of(const struct worklist *list, const struct page_run *run);

#endif
