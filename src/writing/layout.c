#include "writing/layout.h"

#include <assert.h>
#include <string.h>

enum { GAP = 2, SEGMENT_LINES_MOST = 3, INNER = PAGE_COLUMNS - BLOCK_INDENT };

void line_end(struct line *line)
{
    struct text *out = line->out;
    while (out->length > 0 && out->bytes[out->length - 1] == ' ')
        out->bytes[--out->length] = '\0';
    text_add(out, "\n");
    line->column = 0;
}

static void move_to(struct line *line, size_t column)
{
    text_add_repeat(line->out, column - line->column, ' ');
    line->column = column;
}

static void new_line(struct line *line)
{
    line_end(line);
    move_to(line, BLOCK_INDENT);
}

/* `value` in at most `columns`, cut with '~'. */
static void add_cut(struct text *out, size_t columns, const char *value)
{
    size_t width = text_columns(value);
    text_add_left(out, width < columns ? width : columns, value);
}

void line_put(struct line *line, size_t column, const char *value)
{
    size_t width = text_columns(value);
    if (line->column > BLOCK_INDENT && column < line->column + GAP)
        column = line->column + GAP;
    if (column < line->column)
        column = line->column;
    if (column + width <= PAGE_COLUMNS) {
        move_to(line, column);
        text_add_printable(line->out, value);
        line->column += width;
        return;
    }
    if (line->column > BLOCK_INDENT)
        new_line(line);
    if (line->column < BLOCK_INDENT)
        move_to(line, BLOCK_INDENT);
    if (width <= INNER) {
        text_add_printable(line->out, value);
        line->column += width;
        return;
    }
    line_put_wrapped(line, SEGMENT_LINES_MOST, value); /* longer than any line */
    move_to(line, BLOCK_INDENT);
}

void line_put_right(struct line *line, const char *value)
{
    size_t width = text_columns(value);
    size_t column = width < PAGE_COLUMNS ? PAGE_COLUMNS - width : 0;
    if (line->column > BLOCK_INDENT && column < line->column + GAP)
        new_line(line);
    line_put(line, column > BLOCK_INDENT ? column : BLOCK_INDENT, value);
}

void line_put_wrapped(struct line *line, size_t most_lines, const char *value)
{
    struct text whole;
    text_init(&whole, line->out->arena);
    text_add_repeat(&whole, line->column, ' ');
    text_add_wrapped(&whole, PAGE_COLUMNS - 1, BLOCK_INDENT, value); /* 1 for the mark of a cut */
    char *end = whole.bytes;
    size_t lines = 1;
    while ((end = strchr(end, '\n')) && lines++ < most_lines)
        end++;
    if (end)
        *end = '\0';
    text_add(line->out, whole.bytes + line->column);
    if (end)
        text_add(line->out, "~");
    line_end(line);
}

void flow_add(struct flow *flow, const char *heading, const struct text *text)
{
    struct block *block = ARENA_PUSH(flow->arena, flow->list, flow->count, flow->capacity);
    *block = (struct block){.heading = heading,
                            .bytes = arena_text(flow->arena, text->length, text->bytes)};
    for (const char *end = block->bytes; (end = strchr(end, '\n')); end++)
        block->lines++;
}

/* What stands above a block: titles before the first heading of a page, a heading that is new. */
struct above {
    const char *heading;
    bool titled;
};

static size_t lines_above(const struct flow *flow, const struct block *block, struct above *above,
                          struct text *out)
{
    size_t lines = 0;
    if (block->heading && !above->titled && flow->titles) {
        lines += flow->title_lines;
        if (out)
            text_add(out, flow->titles);
    }
    if (block->heading && (!above->heading || strcmp(above->heading, block->heading) != 0)) {
        lines++;
        if (out) {
            add_cut(out, PAGE_COLUMNS, block->heading);
            text_add(out, "\n");
        }
    }
    above->titled = above->titled || block->heading;
    above->heading = block->heading;
    return lines;
}

size_t flow_fitting(const struct flow *flow, size_t first, size_t lines)
{
    struct above above = {.heading = NULL};
    size_t used = 0, count = 0;
    for (size_t i = first; i < flow->count; i++, count++) {
        used += flow->list[i].lines + lines_above(flow, &flow->list[i], &above, NULL);
        if (used > lines)
            break;
    }
    assert(count > 0 || first == flow->count);
    return count;
}

void flow_write(const struct flow *flow, size_t first, size_t count, struct text *out)
{
    struct above above = {.heading = NULL};
    for (size_t i = first; i < first + count; i++) {
        lines_above(flow, &flow->list[i], &above, out);
        text_add(out, flow->list[i].bytes);
    }
}
