/*
 * rows.h - the rows of a CSV file, each cell with the line it begins on.
 *
 * RFC 4180 with LF or CR LF, an optional byte-order mark, and `,`, `;` or tab between cells, which
 * the header line decides.  Blanks around an unquoted cell are taken off; one apostrophe before
 * = + - @ or a tab is taken off; lines and rows of blank cells only are passed over.
 *
 * Memory is bounded whatever the file holds: one buffer in which a row must fit.  After a fault of
 * quoting, reading goes on with the line after the one on which the faulty cell begins, so that a
 * single stray quote costs one row and not the rest of the file.
 */
#ifndef READING_ROWS_H
#define READING_ROWS_H

#include "base/arena.h"
#include "base/diag.h"
#include "reading/reading.h"

#include <stdbool.h>
#include <stddef.h>

#define ROW_CELLS_MOST 1024u

struct cell {
    const char *text; /* NUL-terminated, UTF-8; good until the next row is asked for */
    size_t length;
    unsigned line; /* on which it begins */
    bool bad;      /* its bytes are a fault that has been told: text is "" */
};

struct row {
    unsigned first_line, last_line;
    size_t count;
    const struct cell *cells;
};

struct rows; /* one file being read */

/* `scratch` holds the buffers and must outlive the reading; `file` is how places name the file. */
struct rows *rows_open(const struct source *source, const char *file, struct arena *scratch,
                       struct diags *diags);

/*
 * The first row that is not blank; it decides the delimiter.  false when there is none that can be
 * used, which has been told, or when the source failed.
 */
bool rows_header(struct rows *rows, struct row *header);

/* The byte between cells, after rows_header. */
char rows_delimiter(const struct rows *rows);

/* The next row, whatever its number of cells; false at the end or when the source failed. */
bool rows_next(struct rows *rows, struct row *row);

/* Did the source fail?  Then what was read so far is not the whole file. */
bool rows_failed(const struct rows *rows);

/* The text of a cell made printable for a message; "" once this file has more faults than are kept,
 * so that a file of nothing but faults does not fill the memory. */
const char *rows_quote(const struct rows *rows, const char *text);

#endif
