/*
 * libcsv is fed one physical line a call, so that its callbacks always know their line, and is lent
 * a buffer of the arena with a refusing reallocator: it never allocates, and a cell longer
 * than the buffer ends in an error.  Line ends are ours: CR LF becomes LF, a last line without one
 * gets one, and therefore csv_fini (which would hand out half a cell after an error) is never
 * needed.  A lone CR, which libcsv takes for a line end, is made a fault of its cell.
 *
 * A line of printable ASCII without a quote, which is nearly every line, needs none of this:
 * `split` cuts it where it stands, with the same result.
 */
#include "reading/rows.h"

#include "base/text.h"
#include "reading/bytes.h"
#include "reading/lines.h"

#include <csv.h>
#include <string.h>

/* libcsv keeps the closing quote for a while, and wants room for one more byte and the NUL. */
enum { LENT_BYTES = READING_CELL_BYTES_MOST + 3 };

enum { CLASS_TEXT, CLASS_DELIMITER, CLASS_OTHER };

struct rows {
    struct lines lines;
    const char *file;
    struct arena *scratch;
    struct diags *diags;
    size_t faults_before;

    struct csv_parser parser;
    unsigned char *lent;
    unsigned char delimiter;
    unsigned char class[256]; /* of every byte, to `split` */

    bool open, done;       /* a row has begun; it is complete */
    bool plain;            /* every byte of the row is printable ASCII or a tab */
    struct line row_line;  /* on which the row begins; */
    struct line cell_line; /* on which the unfinished cell begins; */
    struct line line;      /* that is being fed.  Their bytes may have moved, but for the last */
    char *text;            /* of finished cells, each with its NUL */
    size_t text_length, text_capacity;
    struct cell *cells; /* [ROW_CELLS_MOST] */
    size_t count;       /* counts on beyond what is kept */
};

static void *refuse(void *buffer, size_t size)
{
    (void)buffer;
    (void)size;
    return NULL;
}

static void keep(void *buffer)
{
    (void)buffer;
}

static int is_line_end(unsigned char byte)
{
    return byte == '\n';
}

/* A fresh parser in the lent buffer; also the way on after an error. */
static void restart(struct rows *rows)
{
    csv_init(&rows->parser, CSV_STRICT | CSV_APPEND_NULL);
    csv_set_realloc_func(&rows->parser, refuse);
    csv_set_free_func(&rows->parser, keep);
    csv_set_delim(&rows->parser, rows->delimiter);
    rows->parser.entry_buf = rows->lent;
    rows->parser.entry_size = LENT_BYTES;
    rows->open = false;
}

static void set_delimiter(struct rows *rows, unsigned char delimiter)
{
    rows->delimiter = delimiter;
    for (unsigned byte = 0; byte < 256; byte++)
        rows->class[byte] = byte >= 0x20 && byte <= 0x7e ? CLASS_TEXT : CLASS_OTHER;
    rows->class['\t'] = CLASS_TEXT;
    rows->class['"'] = CLASS_OTHER;
    rows->class[delimiter] = CLASS_DELIMITER;
    restart(rows);
}

struct rows *rows_open(const struct source *source, const char *file, struct arena *scratch,
                       struct diags *diags)
{
    struct rows *rows = ARENA_NEW(scratch, struct rows);
    *rows = (struct rows){
        .file = file,
        .scratch = scratch,
        .diags = diags,
        .faults_before = diags->errors + diags->warnings,
        .cells = ARENA_ARRAY(scratch, ROW_CELLS_MOST, struct cell),
    };
    lines_open(&rows->lines, source, file, scratch, diags);
    set_delimiter(rows, ',');
    return rows;
}

bool rows_failed(const struct rows *rows)
{
    return rows->lines.failed;
}

char rows_delimiter(const struct rows *rows)
{
    return (char)rows->delimiter;
}

const char *rows_quote(const struct rows *rows, const char *text)
{
    size_t faults = rows->diags->errors + rows->diags->warnings - rows->faults_before;
    return faults > rows->diags->most ? "" : diag_quote(rows->diags, text);
}

static struct place place_of(const struct rows *rows, unsigned line, size_t cell)
{
    return (struct place){.file = rows->file, .line = line, .cell = (unsigned)cell};
}

/* ---- cells ---------------------------------------------------------------------------------- */

/* Tell what is wrong with the bytes of a cell; true when nothing is. */
static bool check_bytes(struct rows *rows, const struct cell *cell)
{
    struct place place = place_of(rows, cell->line, rows->count + 1);
    size_t bad = 0;
    if (!text_is_utf8(cell->length, cell->text, &bad)) {
        diag_error(rows->diags, place, "not-utf8",
                   "byte 0x%02x, byte %zu of the cell, is not UTF-8, save the file as UTF-8",
                   (unsigned)(unsigned char)cell->text[bad], bad + 1);
        return false;
    }
    bad = bytes_find_control(cell->length, cell->text);
    if (bad == cell->length)
        return true;
    if (cell->text[bad] == '\r')
        diag_error(
            rows->diags, place, "lone-carriage-return",
            "a carriage return without a line feed, byte %zu of the cell, save the file with "
            "line ends LF or CR LF",
            bad + 1);
    else
        diag_error(rows->diags, place, "control-character",
                   "control character 0x%02x, byte %zu of the cell, expected plain text, remove it",
                   (unsigned)(unsigned char)cell->text[bad], bad + 1);
    return false;
}

/*
 * What a writer puts before a formula sign comes off again.  Text of one's own that begins with
 * apostrophes and such a sign gets one more when written, so one comes off in either case and
 * writing and reading is the identity.
 */
static void take_apostrophe(struct cell *cell)
{
    size_t signs = 0;

    while (signs < cell->length && cell->text[signs] == '\'')
        signs++;
    if (signs > 0 && signs < cell->length && memchr("=+-@\t", cell->text[signs], 5) != NULL) {
        cell->text++;
        cell->length--;
    }
}

static void take_cell(void *bytes, size_t length, void *context)
{
    struct rows *rows = context;
    if (rows->count < ROW_CELLS_MOST) {
        char *text = rows->text + rows->text_length;
        if (length > 0)
            memcpy(text, bytes, length);
        text[length] = '\0';
        rows->text_length += length + 1;
        struct cell *cell = &rows->cells[rows->count];
        *cell = (struct cell){.text = text, .length = length, .line = rows->cell_line.number};
        if (!rows->plain && !check_bytes(rows, cell))
            *cell = (struct cell){.text = "", .line = rows->cell_line.number, .bad = true};
        take_apostrophe(cell);
    }
    rows->count++;
    rows->cell_line = rows->line;
}

static void take_row(int line_end, void *context)
{
    (void)line_end;
    ((struct rows *)context)->done = true;
}

/* ---- rows ----------------------------------------------------------------------------------- */

/* Go on with the line after the one on which the unfinished cell begins. */
static void resume(struct rows *rows)
{
    lines_return_after(&rows->lines, rows->cell_line.position, rows->cell_line.number);
    restart(rows);
}

static void tell_quoting(struct rows *rows, size_t offset)
{
    struct place place = place_of(rows, rows->cell_line.number, rows->count + 1);
    if (csv_error(&rows->parser) == CSV_ENOMEM)
        diag_error(
            rows->diags, place, "cell-too-long",
            "a cell of more than %d bytes begins here, expected at most that; is a quote not "
            "closed? the row was left out",
            READING_CELL_BYTES_MOST);
    else if (rows->cell_line.number == rows->line.number)
        diag_error(
            rows->diags, place, "stray-quote",
            "a double quote inside a cell, before byte %zu of the line, expected quotes around "
            "the whole cell and \"\" for one inside; the row was left out",
            offset + 1);
    else
        diag_error(
            rows->diags, place, "open-quote",
            "a quoted cell begins here and its quote ends inside line %u, expected it before "
            "the delimiter or line end; the row was left out",
            rows->line.number);
}

/* Buffers that many a file never needs: for libcsv, and for the cells of the row so far. */
static void make_room(struct rows *rows)
{
    if (rows->lent == NULL) {
        rows->lent = ARENA_ARRAY(rows->scratch, LENT_BYTES, unsigned char);
        rows->parser.entry_buf = rows->lent;
    }
    /* A cell is no longer than its bytes, and its NUL takes the place of what ends it. */
    size_t room = rows->line.position + rows->line.length + 1 - rows->row_line.position;
    const char *text = rows->text;
    if (room <= rows->text_capacity)
        return;
    rows->text_capacity = 2 * room;
    rows->text = ARENA_ARRAY(rows->scratch, rows->text_capacity, char);
    if (text == NULL)
        return;
    memcpy(rows->text, text, rows->text_length);
    for (size_t i = 0; i < rows->count && i < ROW_CELLS_MOST; i++)
        if (!rows->cells[i].bad)
            rows->cells[i].text = rows->text + (rows->cells[i].text - text);
}

/* Feed the line and its end; false when the row is a fault that has been told. */
static bool feed(struct rows *rows)
{
    const struct line *line = &rows->line;
    bool plain = bytes_are_plain(line->length, line->bytes);
    rows->plain = rows->plain && plain;
    make_room(rows);
    /* A function of our own is slow, so only a line that may hold a lone CR gets it. */
    csv_set_term_func(&rows->parser, plain ? NULL : is_line_end);
    size_t used = csv_parse(&rows->parser, line->bytes, line->length, take_cell, take_row, rows);
    if (used == line->length)
        used += csv_parse(&rows->parser, "\n", 1, take_cell, take_row, rows);
    if (used == line->length + 1)
        return true;
    tell_quoting(rows, used);
    resume(rows);
    return false;
}

static bool is_blank(char byte)
{
    return byte == ' ' || byte == '\t';
}

/* A line of plain unquoted cells, cut in the buffer; false when it is another kind of line, which
 * is left as it was. */
static bool split(struct rows *rows, const struct line *line)
{
    char *at = line->bytes, *end = line->bytes + line->length;
    size_t count = 0;
    if (line->length > READING_CELL_BYTES_MOST)
        return false;
    for (;; at++) {
        char *begin = at;
        while (at < end && rows->class[(unsigned char)*at] == CLASS_TEXT)
            at++;
        if (count == ROW_CELLS_MOST || (at < end && rows->class[(unsigned char)*at] == CLASS_OTHER))
            return false;
        char *last = at;
        while (begin < last && is_blank(*begin))
            begin++;
        while (last > begin && is_blank(last[-1]))
            last--;
        rows->cells[count++] =
            (struct cell){.text = begin, .length = (size_t)(last - begin), .line = line->number};
        if (at == end)
            break;
    }
    for (size_t i = 0; i < count; i++) {
        struct cell *cell = &rows->cells[i];
        line->bytes[(size_t)(cell->text - line->bytes) + cell->length] = '\0';
        take_apostrophe(cell);
    }
    rows->count = count;
    rows->done = true;
    return true;
}

static bool is_blank_line(const struct line *line)
{
    for (size_t i = 0; i < line->length; i++)
        if (!is_blank(line->bytes[i]))
            return false;
    return true;
}

static bool is_blank_row(const struct rows *rows)
{
    if (rows->count > ROW_CELLS_MOST)
        return false;
    for (size_t i = 0; i < rows->count; i++)
        if (rows->cells[i].length > 0 || rows->cells[i].bad)
            return false;
    return true;
}

static void begin_row(struct rows *rows)
{
    rows->open = true;
    rows->done = false;
    rows->plain = true;
    rows->row_line = rows->cell_line = rows->line;
    rows->text_length = rows->count = 0;
}

/* A row that is complete; false when it is blank or has too many cells. */
static bool finish_row(struct rows *rows, struct row *row)
{
    rows->open = false;
    lines_keep(&rows->lines, LINES_KEEP_NONE);
    if (rows->count > ROW_CELLS_MOST) {
        diag_error(rows->diags, place_of(rows, rows->row_line.number, 0), "too-many-cells",
                   "%zu cells, expected at most %u; the row was left out", rows->count,
                   ROW_CELLS_MOST);
        return false;
    }
    *row = (struct row){.first_line = rows->row_line.number,
                        .last_line = rows->line.number,
                        .count = rows->count,
                        .cells = rows->cells};
    return !is_blank_row(rows);
}

/* The line that was taken, as a row or as more of one; true when it completes one. */
static bool take(struct rows *rows, struct row *row)
{
    if (!rows->open && is_blank_line(&rows->line))
        return false;
    if (!rows->open) {
        begin_row(rows);
        if (split(rows, &rows->line))
            return finish_row(rows, row);
        lines_keep(&rows->lines, rows->row_line.position);
    }
    return feed(rows) && rows->done && finish_row(rows, row);
}

bool rows_next(struct rows *rows, struct row *row)
{
    for (;;) {
        switch (lines_take(&rows->lines, &rows->line)) {
        case LINES_TAKEN:
            if (take(rows, row))
                return true;
            break;
        case LINES_NO_ROOM:
            diag_error(rows->diags, place_of(rows, rows->cell_line.number, 0), "row-too-long",
                       "a row of more than %u bytes begins in line %u, expected at most that; is a "
                       "quote not closed? the row was left out",
                       LINES_BYTES_MOST, rows->row_line.number);
            resume(rows);
            break;
        case LINES_END:
            if (!rows->open || rows->lines.too_long || rows->lines.failed)
                return false;
            diag_error(
                rows->diags, place_of(rows, rows->cell_line.number, rows->count + 1), "open-quote",
                "a quoted cell begins here and never ends, expected a closing quote; the row "
                "was left out");
            resume(rows);
            break;
        }
    }
}

/* ---- the header ----------------------------------------------------------------------------- */

/* The one of , ; and tab that stands most often outside quotes; a comma when none does. */
static unsigned char find_delimiter(const struct line *line)
{
    static const char delimiters[] = ",;\t";
    size_t counts[3] = {0};
    bool quoted = false;
    for (size_t i = 0; i < line->length; i++) {
        const char *found = memchr(delimiters, line->bytes[i], 3);
        if (line->bytes[i] == '"')
            quoted = !quoted;
        else if (found != NULL && !quoted)
            counts[found - delimiters]++;
    }
    size_t best = 0;
    for (size_t i = 1; i < 3; i++)
        if (counts[i] > counts[best])
            best = i;
    return (unsigned char)delimiters[best];
}

/* The first line that is not blank, not yet taken; false when there is none or it is a fault. */
static bool find_header(struct rows *rows, struct line *line)
{
    size_t errors = rows->diags->errors;
    while (lines_take(&rows->lines, line) == LINES_TAKEN && rows->diags->errors == errors) {
        if (is_blank_line(line))
            continue;
        lines_return(&rows->lines, line->position, line->number);
        return true;
    }
    if (rows->diags->errors == errors && !rows->lines.failed)
        diag_error(rows->diags, place_of(rows, 0, 0), "no-header",
                   "the file is %s, expected a first line with the names of the columns",
                   rows->lines.taken == 0 ? "empty" : "blank");
    return false;
}

bool rows_header(struct rows *rows, struct row *header)
{
    struct line line;
    if (!find_header(rows, &line))
        return false;
    set_delimiter(rows, find_delimiter(&line));
    size_t errors = rows->diags->errors;
    bool found = rows_next(rows, header);
    if (found && header->first_line == line.number)
        return true;
    if (rows->diags->errors == errors && !rows->lines.failed)
        diag_error(rows->diags, place_of(rows, line.number, 0), "no-header",
                   "a line of blank cells, expected the names of the columns");
    return false;
}
