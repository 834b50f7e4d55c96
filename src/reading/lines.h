/*
 * lines.h - the physical lines of a file, in bounded memory, with a way back.
 *
 * One buffer holds what must be kept: from the position given to lines_keep, or else the line just
 * taken.  It grows up to LINES_BYTES_MOST; a longer line is told and passed over, and so is what
 * stands beyond READING_TABLE_BYTES_MOST.
 */
#ifndef READING_LINES_H
#define READING_LINES_H

#include "base/arena.h"
#include "base/diag.h"
#include "reading/reading.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define LINES_BYTES_MOST (256u << 10)
#define LINES_KEEP_NONE SIZE_MAX

struct line {
    char *bytes;   /* may be written to, as may the byte after them; good until the next is taken */
    size_t length; /* without its LF or CR LF */
    unsigned number; /* from 1 */
    size_t position; /* of its first byte in the file */
};

struct lines {
    const struct source *source;
    const char *file;
    struct arena *scratch;
    struct diags *diags;
    char *buffer;    /* [capacity + 1] */
    size_t capacity; /* grows up to LINES_BYTES_MOST */
    size_t base;     /* position in the file of the first byte of the buffer */
    size_t at;       /* first byte of the buffer not yet taken */
    size_t filled;
    size_t keep; /* position of the first byte to be kept */
    unsigned taken;
    bool ended, failed, too_long;
};

enum lines_taken {
    LINES_TAKEN,
    LINES_END,    /* also when the source failed */
    LINES_NO_ROOM /* what is to be kept fills the buffer: keep less */
};

/* The first bytes are read, and a byte-order mark is passed over. */
void lines_open(struct lines *lines, const struct source *source, const char *file,
                struct arena *scratch, struct diags *diags);

enum lines_taken lines_take(struct lines *lines, struct line *line);

/* Keep what stands from this position on, so that lines_return can go there. */
void lines_keep(struct lines *lines, size_t position);

/* Go on with the line that begins at this position, which is kept, and has this number. */
void lines_return(struct lines *lines, size_t position, unsigned number);

/* The same with the line after that one. */
void lines_return_after(struct lines *lines, size_t position, unsigned number);

#endif
