/*
 * layout.h - lines of 80 display columns in blocks that are never split, put on pages of 58 lines.
 */
#ifndef WRITING_LAYOUT_H
#define WRITING_LAYOUT_H

#include "base/text.h"

#include <stdbool.h>

#define PAGE_COLUMNS 80 /* what a line printer and `lp` put on Letter and A4 */
#define PAGE_LINES 58
#define BLOCK_INDENT 4

/* A line under work.  Segments go to columns of a grid; one that finds no room starts a new line.
 */
struct line {
    struct text *out;
    size_t column; /* display columns taken */
};

/* `value`, made printable, at `column` of the grid or as soon after as there is room. */
void line_put(struct line *line, size_t column, const char *value);

/* At the right margin. */
void line_put_right(struct line *line, const char *value);

void line_end(struct line *line);

/* `value` in wrapped lines from where the line stands, at most `most_lines` of them (then cut with
 * '~'), and a line end. */
void line_put_wrapped(struct line *line, size_t most_lines, const char *value);

/* Lines that stay together; `heading` is printed above when it is not yet on the page. */
struct block {
    const char *heading; /* one printable line; NULL: none */
    const char *bytes;   /* every line ended */
    size_t lines;
};

struct flow {
    struct arena *arena;
    const char *titles; /* lines above the first heading of a page; NULL: none */
    size_t title_lines;
    struct block *list;
    size_t count, capacity;
};

/* Copies `text` as one block. */
void flow_add(struct flow *flow, const char *heading, const struct text *text);

/* Blocks from `first` on that go on a page with room for `lines`; at least one (a block, its
 * heading and the titles fit on a page). */
size_t flow_fitting(const struct flow *flow, size_t first, size_t lines);

/* Those blocks, with their headings. */
void flow_write(const struct flow *flow, size_t first, size_t count, struct text *out);

#endif
