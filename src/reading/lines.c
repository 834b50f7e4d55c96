#include "reading/lines.h"

#include <string.h>

enum { FIRST_BYTES = 16384 };

static struct place place_of(const struct lines *lines, unsigned line)
{
    return (struct place){.file = lines->file, .line = line};
}

/* Bytes into the free end of the buffer until it is full or the source ends. */
static void fill(struct lines *lines)
{
    while (lines->filled < lines->capacity && !lines->ended) {
        long got = lines->source->read(lines->source->context, lines->capacity - lines->filled,
                                       lines->buffer + lines->filled);
        if (got <= 0) {
            lines->failed = got < 0;
            lines->ended = true;
            break;
        }
        lines->filled += (size_t)got;
        if (lines->base + lines->filled > READING_TABLE_BYTES_MOST) {
            diag_error(lines->diags, place_of(lines, 0), "file-too-long",
                       "more than %u MiB, expected a smaller file, split it; the rest was not read",
                       READING_TABLE_BYTES_MOST >> 20);
            lines->ended = lines->too_long = true;
        }
    }
}

void lines_open(struct lines *lines, const struct source *source, const char *file,
                struct arena *scratch, struct diags *diags)
{
    *lines = (struct lines){
        .source = source,
        .file = file,
        .scratch = scratch,
        .diags = diags,
        .buffer = ARENA_ARRAY(scratch, FIRST_BYTES + 1, char),
        .capacity = FIRST_BYTES,
        .keep = LINES_KEEP_NONE,
    };
    fill(lines);
    if (lines->filled >= 3 && memcmp(lines->buffer, "\xef\xbb\xbf", 3) == 0)
        lines->at = 3;
}

/* The first byte of the buffer that is still needed. */
static size_t needed(const struct lines *lines)
{
    return lines->keep == LINES_KEEP_NONE ? lines->at : lines->keep - lines->base;
}

/* Move what is needed to the front, or give it twice the room, and fill the rest. */
static void refill(struct lines *lines)
{
    size_t first = needed(lines), left = lines->filled - first;
    char *buffer = lines->buffer;
    if (left == lines->capacity) {
        lines->capacity *= 2;
        lines->buffer = ARENA_ARRAY(lines->scratch, lines->capacity + 1, char);
    }
    memmove(lines->buffer, buffer + first, left);
    lines->base += first;
    lines->at -= first;
    lines->filled = left;
    fill(lines);
}

/* A line that does not fit is told and passed over. */
static void pass_long_line(struct lines *lines)
{
    lines->taken++;
    diag_error(lines->diags, place_of(lines, lines->taken), "line-too-long",
               "a line of more than %u bytes, expected at most that; is it a table? the line was "
               "left out",
               LINES_BYTES_MOST);
    const char *end = NULL;
    do {
        lines->base += lines->filled;
        lines->filled = 0;
        fill(lines);
        end = memchr(lines->buffer, '\n', lines->filled);
    } while (end == NULL && !lines->ended);
    lines->at = end == NULL ? lines->filled : (size_t)(end - lines->buffer) + 1;
}

enum lines_taken lines_take(struct lines *lines, struct line *line)
{
    for (;;) {
        char *begin = lines->buffer + lines->at;
        size_t left = lines->filled - lines->at;
        const char *end = memchr(begin, '\n', left);
        if (end == NULL && !lines->ended) {
            if (needed(lines) > 0 || lines->filled < LINES_BYTES_MOST)
                refill(lines);
            else if (lines->keep != LINES_KEEP_NONE)
                return LINES_NO_ROOM;
            else
                pass_long_line(lines);
            continue;
        }
        /* What stands before a cut is half a line. */
        if (end == NULL && (left == 0 || lines->too_long || lines->failed))
            return LINES_END;
        size_t length = end == NULL ? left : (size_t)(end - begin);
        *line = (struct line){.bytes = begin,
                              .length = length,
                              .number = ++lines->taken,
                              .position = lines->base + lines->at};
        lines->at += length + (end != NULL);
        if (length > 0 && begin[length - 1] == '\r')
            line->length--;
        return LINES_TAKEN;
    }
}

void lines_keep(struct lines *lines, size_t position)
{
    lines->keep = position;
}

void lines_return(struct lines *lines, size_t position, unsigned number)
{
    lines->at = position - lines->base;
    lines->taken = number - 1;
    lines->keep = LINES_KEEP_NONE;
}

void lines_return_after(struct lines *lines, size_t position, unsigned number)
{
    size_t at = position - lines->base;
    const char *end = memchr(lines->buffer + at, '\n', lines->filled - at);
    lines->at = end == NULL ? lines->filled : (size_t)(end - lines->buffer) + 1;
    lines->taken = number;
    lines->keep = LINES_KEEP_NONE;
}
