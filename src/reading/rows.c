/*
 * libcsv is fed one physical line a call, so that its callbacks always know their line, and it is
 * lent a buffer of the arena with a refusing reallocator: it never allocates, and a cell longer
 * than the buffer ends in an error.  Line ends are ours: CR LF becomes LF, a last line without one
 * gets one, and therefore csv_fini (which would hand out half a cell after an error) is never
 * needed.  A lone CR, which libcsv takes for a line end, is made a fault of its cell.
 *
 * A line of printable ASCII without a quote, which is nearly every line, needs none of this:
 * `split` cuts it where it stands, with the same result.
 */
#include "reading/rows.h"

#include <csv.h>
#include <stdint.h>
#include <string.h>

/* libcsv keeps the closing quote for a while, and wants room for one more byte and the NUL. */
enum { LENT_BYTES = READING_CELL_BYTES_MOST + 3 };

enum { FIRST_BYTES = 16384 };

enum { CLASS_TEXT, CLASS_DELIMITER, CLASS_OTHER };

struct line {
    char *bytes;
    size_t length; /* without its line end */
    unsigned number;
};

struct rows {
    const struct source *source;
    const char *file;
    struct arena *scratch;
    struct diags *diags;
    size_t faults_before;

    char *buffer;    /* [capacity + 1]; a row must fit, so that reading can go back into it */
    size_t capacity; /* grows up to ROW_BYTES_MOST */
    size_t at;       /* first byte not yet taken */
    size_t filled;
    size_t total;
    bool ended, failed, stopped;
    unsigned lines; /* taken so far */

    struct csv_parser parser;
    unsigned char *lent;
    unsigned char delimiter;
    unsigned char class[256]; /* of every byte, to `split` */

    bool open, done;   /* a row has begun; it is complete */
    bool plain;        /* every byte of the row is printable ASCII or a tab */
    size_t row_at;     /* where the row begins in the buffer */
    size_t cell_at;    /* where the line begins on which the unfinished cell begins */
    unsigned row_line; /* and the numbers of these two lines */
    unsigned cell_line;
    char *text; /* [capacity + ROW_CELLS_MOST] of finished cells, each with its NUL */
    size_t text_length;
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
        .source = source,
        .file = file,
        .scratch = scratch,
        .diags = diags,
        .faults_before = diags->errors + diags->warnings,
        .buffer = ARENA_ARRAY(scratch, FIRST_BYTES + 1, char),
        .capacity = FIRST_BYTES,
        .cells = ARENA_ARRAY(scratch, ROW_CELLS_MOST, struct cell),
    };
    set_delimiter(rows, ',');
    return rows;
}

bool rows_failed(const struct rows *rows)
{
    return rows->failed;
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

/* ---- bytes ---------------------------------------------------------------------------------- */

/* Bytes into the free end of the buffer until it is full or the source ends. */
static void fill(struct rows *rows)
{
    while (rows->filled < rows->capacity && !rows->ended) {
        long got = rows->source->read(rows->source->context, rows->capacity - rows->filled,
                                      rows->buffer + rows->filled);
        if (got <= 0) {
            rows->failed = got < 0;
            rows->ended = true;
            break;
        }
        rows->filled += (size_t)got;
        rows->total += (size_t)got;
        if (rows->total > READING_TABLE_BYTES_MOST) {
            diag_error(rows->diags, place_of(rows, 0, 0), "file-too-long",
                       "more than %u MiB, expected a smaller file, split it; the rest was not read",
                       READING_TABLE_BYTES_MOST >> 20);
            rows->ended = rows->stopped = true;
        }
    }
}

/* Twice the room for the row that is open, whose finished cells move with it. */
static void grow(struct rows *rows)
{
    const char *old_text = rows->text;
    rows->buffer = memcpy(ARENA_ARRAY(rows->scratch, 2 * rows->capacity + 1, char), rows->buffer,
                          rows->filled);
    rows->capacity *= 2;
    if (old_text == NULL)
        return;
    rows->text = memcpy(ARENA_ARRAY(rows->scratch, rows->capacity + ROW_CELLS_MOST, char), old_text,
                        rows->text_length);
    for (size_t i = 0; rows->open && i < rows->count && i < ROW_CELLS_MOST; i++)
        if (!rows->cells[i].bad)
            rows->cells[i].text = rows->text + (rows->cells[i].text - old_text);
}

/* Move what is still needed to the front of the buffer, and fill the rest. */
static void refill(struct rows *rows)
{
    size_t needed = rows->open ? rows->row_at : rows->at;
    if (needed == 0 && rows->filled == rows->capacity)
        grow(rows);
    memmove(rows->buffer, rows->buffer + needed, rows->filled - needed);
    rows->filled -= needed;
    rows->at -= needed;
    if (rows->open) {
        rows->row_at -= needed;
        rows->cell_at -= needed;
    }
    fill(rows);
}

/* A line that does not fit is told and passed over. */
static void pass_long_line(struct rows *rows)
{
    rows->lines++;
    diag_error(rows->diags, place_of(rows, rows->lines, 0), "line-too-long",
               "a line of more than %u bytes, expected at most that; is it a table? the line was "
               "left out",
               ROW_BYTES_MOST);
    const char *end = NULL;
    do {
        rows->at = rows->filled = 0;
        fill(rows);
        end = memchr(rows->buffer, '\n', rows->filled);
    } while (end == NULL && !rows->ended);
    rows->at = end == NULL ? rows->filled : (size_t)(end - rows->buffer) + 1;
}

static void resume(struct rows *rows);

/* The next physical line, without its line end. */
static bool take_line(struct rows *rows, struct line *line)
{
    for (;;) {
        char *begin = rows->buffer + rows->at;
        size_t left = rows->filled - rows->at;
        const char *end = memchr(begin, '\n', left);
        if (end == NULL && !rows->ended) {
            size_t needed = rows->open ? rows->row_at : rows->at;
            if (needed > 0 || rows->filled < ROW_BYTES_MOST) {
                refill(rows);
            } else if (rows->open) {
                diag_error(rows->diags, place_of(rows, rows->cell_line, 0), "row-too-long",
                           "a row of more than %u bytes begins in line %u, expected at most that; "
                           "is a quote not closed? the row was left out",
                           ROW_BYTES_MOST, rows->row_line);
                resume(rows);
            } else {
                pass_long_line(rows);
            }
            continue;
        }
        if (end == NULL && left == 0)
            return false;
        size_t length = end == NULL ? left : (size_t)(end - begin);
        rows->at += length + (end != NULL);
        rows->lines++;
        if (length > 0 && begin[length - 1] == '\r')
            length--;
        *line = (struct line){.bytes = begin, .length = length, .number = rows->lines};
        /* What stands before a cut is half a line. */
        return end != NULL || !(rows->stopped || rows->failed);
    }
}

/* Go on with the line after the one on which the unfinished cell begins. */
static void resume(struct rows *rows)
{
    const char *begin = rows->buffer + rows->cell_at;
    const char *end = memchr(begin, '\n', rows->filled - rows->cell_at);
    rows->at = end == NULL ? rows->filled : (size_t)(end - rows->buffer) + 1;
    rows->lines = rows->cell_line;
    restart(rows);
}

/* ---- cells ---------------------------------------------------------------------------------- */

/* Are all bytes printable ASCII or tabs?  Eight at a time: this is asked of every line. */
static bool is_plain(size_t length, const char *text)
{
    const uint64_t ones = UINT64_C(0x0101010101010101), tops = ones << 7;
    size_t i = 0;
    for (; i + 8 <= length; i += 8) {
        uint64_t word;
        memcpy(&word, text + i, 8);
        /* a top bit set; or below 0x20; or 0x7f */
        if ((word | (word - ones * 0x20) | (word + ones)) & tops)
            break;
    }
    for (; i < length; i++) {
        unsigned char byte = (unsigned char)text[i];
        if ((byte < 0x20 && byte != '\t') || byte > 0x7e)
            return false;
    }
    return true;
}

/* The first control character of well-formed UTF-8 but tab and line feed: its offset, or `length`.
 */
static size_t find_control(size_t length, const char *text)
{
    for (size_t i = 0; i < length; i++) {
        unsigned char byte = (unsigned char)text[i];
        if ((byte < 0x20 && byte != '\t' && byte != '\n') || byte == 0x7f)
            return i;
        if (byte == 0xc2 && i + 1 < length && (unsigned char)text[i + 1] < 0xa0)
            return i;
    }
    return length;
}

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
    bad = find_control(cell->length, cell->text);
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

/* What a writer puts before a formula sign comes off again. */
static void take_apostrophe(struct cell *cell)
{
    if (cell->text[0] == '\'' && cell->length > 1 && memchr("=+-@\t", cell->text[1], 5) != NULL) {
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
        *cell = (struct cell){.text = text, .length = length, .line = rows->cell_line};
        if (!rows->plain && !check_bytes(rows, cell))
            *cell = (struct cell){.text = "", .line = rows->cell_line, .bad = true};
        take_apostrophe(cell);
    }
    rows->count++;
    rows->cell_line = rows->lines;
}

static void take_row(int line_end, void *context)
{
    (void)line_end;
    ((struct rows *)context)->done = true;
}

/* ---- rows ----------------------------------------------------------------------------------- */

static void tell_quoting(struct rows *rows, size_t offset, const struct line *line)
{
    struct place place = place_of(rows, rows->cell_line, rows->count + 1);
    if (csv_error(&rows->parser) == CSV_ENOMEM)
        diag_error(
            rows->diags, place, "cell-too-long",
            "a cell of more than %d bytes begins here, expected at most that; is a quote not "
            "closed? the row was left out",
            READING_CELL_BYTES_MOST);
    else if (rows->cell_line == rows->lines)
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
            line->number);
}

/* Feed one line and its end; false when the row is a fault that has been told. */
static bool feed(struct rows *rows, const struct line *line)
{
    if (rows->lent == NULL) { /* many a file never needs them */
        rows->lent = ARENA_ARRAY(rows->scratch, LENT_BYTES, unsigned char);
        rows->text = ARENA_ARRAY(rows->scratch, rows->capacity + ROW_CELLS_MOST, char);
        rows->parser.entry_buf = rows->lent;
    }
    bool plain = is_plain(line->length, line->bytes);
    rows->plain = rows->plain && plain;
    /* A function of our own is slow, so only a line that may hold a lone CR gets it. */
    csv_set_term_func(&rows->parser, plain ? NULL : is_line_end);
    size_t used = csv_parse(&rows->parser, line->bytes, line->length, take_cell, take_row, rows);
    if (used == line->length)
        used += csv_parse(&rows->parser, "\n", 1, take_cell, take_row, rows);
    if (used == line->length + 1)
        return true;
    tell_quoting(rows, used, line);
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

static void begin_row(struct rows *rows, const struct line *line)
{
    rows->open = true;
    rows->done = false;
    rows->plain = true;
    rows->row_at = rows->cell_at = (size_t)(line->bytes - rows->buffer);
    rows->row_line = rows->cell_line = line->number;
    rows->text_length = rows->count = 0;
}

/* A row that is complete; false when it is blank or has too many cells. */
static bool finish_row(struct rows *rows, const struct line *line, struct row *row)
{
    rows->open = false;
    if (rows->count > ROW_CELLS_MOST) {
        diag_error(rows->diags, place_of(rows, rows->row_line, 0), "too-many-cells",
                   "%zu cells, expected at most %u; the row was left out", rows->count,
                   ROW_CELLS_MOST);
        return false;
    }
    *row = (struct row){.first_line = rows->row_line,
                        .last_line = line->number,
                        .count = rows->count,
                        .cells = rows->cells};
    return !is_blank_row(rows);
}

bool rows_next(struct rows *rows, struct row *row)
{
    for (;;) {
        struct line line;
        while (take_line(rows, &line)) {
            if (!rows->open) {
                if (is_blank_line(&line))
                    continue;
                begin_row(rows, &line);
                if (split(rows, &line)) {
                    if (finish_row(rows, &line, row))
                        return true;
                    continue;
                }
            }
            size_t cells = rows->count;
            if (!feed(rows, &line)) {
                if (rows->count > cells)
                    rows->cell_at = (size_t)(line.bytes - rows->buffer);
                resume(rows);
                continue;
            }
            if (rows->done && finish_row(rows, &line, row))
                return true;
            if (rows->open && rows->count > cells)
                rows->cell_at = (size_t)(line.bytes - rows->buffer);
        }
        if (!rows->open || rows->stopped || rows->failed)
            return false;
        diag_error(
            rows->diags, place_of(rows, rows->cell_line, rows->count + 1), "open-quote",
            "a quoted cell begins here and never ends, expected a closing quote; the row was "
            "left out");
        resume(rows);
    }
}

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
    while (take_line(rows, line) && rows->diags->errors == errors) {
        if (is_blank_line(line))
            continue;
        rows->at = (size_t)(line->bytes - rows->buffer);
        rows->lines--;
        return true;
    }
    if (rows->diags->errors == errors && !rows->failed)
        diag_error(rows->diags, place_of(rows, 0, 0), "no-header",
                   "the file is %s, expected a first line with the names of the columns",
                   rows->lines == 0 ? "empty" : "blank");
    return false;
}

bool rows_header(struct rows *rows, struct row *header)
{
    struct line line;
    fill(rows);
    if (rows->filled >= 3 && memcmp(rows->buffer, "\xef\xbb\xbf", 3) == 0)
        rows->at = 3;
    if (!find_header(rows, &line))
        return false;
    set_delimiter(rows, find_delimiter(&line));
    size_t errors = rows->diags->errors;
    bool found = rows_next(rows, header);
    if (found && header->first_line == line.number)
        return true;
    if (rows->diags->errors == errors && !rows->failed)
        diag_error(rows->diags, place_of(rows, line.number, 0), "no-header",
                   "a line of blank cells, expected the names of the columns");
    return false;
}
