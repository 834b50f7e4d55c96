/*
 * tag_list.h - a list of tags that somebody typed: one a line, or the column `tag` of a CSV.
 */
#ifndef READING_TAG_LIST_H
#define READING_TAG_LIST_H

#include "reading/reading.h"

struct listed_tag {
    struct place place;
    const char *tag;
};

struct tag_list {
    struct listed_tag *list; /* as in the file */
    size_t count, capacity;
    struct arena *arena;
};

/*
 * Append the tags of a file.  A first row with a cell `tag` is the header of a CSV, and that column
 * is read; without one every row must be a single cell, the first row too.  Blank cells are passed
 * over.  false: the source failed.
 */
bool read_tag_list(struct tag_list *tags, const struct source *source, struct diags *diags);

#endif
