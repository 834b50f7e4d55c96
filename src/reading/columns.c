#include "reading/columns.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

enum { COLUMNS_MOST = 64 };

/* Stands in the header for a cell without a name: a spreadsheet's empty columns. */
static const struct column unnamed = {.name = ""};

static const struct column *column_named(const struct table *table, const char *name)
{
    for (size_t i = 0; i < table->column_count; i++)
        if (strcmp(table->columns[i].name, name) == 0)
            return &table->columns[i];
    return NULL;
}

/* "heat_units" of heat_units_c and heat_units_f: the first column that adds a unit to `name`. */
static const struct column *column_with_unit(const struct table *table, const char *name)
{
    size_t length = strlen(name);
    for (size_t i = 0; i < table->column_count; i++) {
        const char *full = table->columns[i].name;
        if (strncmp(full, name, length) == 0 && length > 0 &&
            (strcmp(full + length, "_c") == 0 || strcmp(full + length, "_m") == 0))
            return &table->columns[i];
    }
    return NULL;
}

/* The other column of the same member, in its other unit, or NULL. */
static const struct column *column_twin(const struct table *table, const struct column *column)
{
    for (size_t i = 0; i < table->column_count && column->kind == COLUMN_NUMBER; i++)
        if (table->columns[i].offset == column->offset && &table->columns[i] != column)
            return &table->columns[i];
    return NULL;
}

/* The cell of a column in the header, from 1; 0 when it is not there. */
static size_t header_cell(const struct reader *reader, const struct column *column)
{
    for (size_t i = 0; i < reader->header_count; i++)
        if (reader->header[i] == column)
            return i + 1;
    return 0;
}

struct place reader_place(const struct reader *reader, const char *column)
{
    struct place place = {.file = reader->file, .line = reader->row->first_line};
    size_t cell = header_cell(reader, column_named(reader->table, column));
    if (cell > 0 && cell <= reader->row->count) {
        place.line = reader->row->cells[cell - 1].line;
        place.cell = (unsigned)cell;
    }
    return place;
}

bool reader_filled(const struct reader *reader, const char *column)
{
    size_t cell = header_cell(reader, column_named(reader->table, column));
    if (cell == 0 || cell > reader->row->count)
        return false;
    return reader->row->cells[cell - 1].length > 0 || reader->row->cells[cell - 1].bad;
}

static void tell_unknown(struct reader *reader, const char *name)
{
    const struct table *table = reader->table;
    const struct column *unit = column_with_unit(table, name);
    const struct column *twin = unit == NULL ? NULL : column_twin(table, unit);
    if (unit != NULL && twin != NULL) {
        diag_error(reader->diags, reader->place, "column-without-unit",
                   "column %s does not say its unit, expected %s or %s, rename it",
                   rows_quote(reader->rows, name), unit->name, twin->name);
        return;
    }
    const char *names[COLUMNS_MOST];
    size_t count = table->column_count < COLUMNS_MOST ? table->column_count : COLUMNS_MOST;
    for (size_t i = 0; i < count; i++)
        names[i] = table->columns[i].name;
    struct words words = {count, names};
    const char *near = unit != NULL ? unit->name : words_nearest(name, words);
    if (near != NULL)
        diag_error(reader->diags, reader->place, "unknown-column",
                   "unknown column %s, did you mean %s? a column of your own begins with x_",
                   rows_quote(reader->rows, name), near);
    else
        diag_error(reader->diags, reader->place, "unknown-column",
                   "unknown column %s, expected one of %s; a column of your own begins with x_",
                   rows_quote(reader->rows, name), words_joined(reader->arena, words));
}

/* The column of a header cell, NULL to pass its cells over. */
static const struct column *match(struct reader *reader, const struct cell *cell)
{
    if (cell->length == 0 && !cell->bad)
        return &unnamed;
    if (cell->bad || strncmp(cell->text, "x_", 2) == 0)
        return NULL;
    const struct column *column = column_named(reader->table, cell->text);
    if (column == NULL) {
        tell_unknown(reader, cell->text);
        return NULL;
    }
    size_t before = header_cell(reader, column);
    if (before > 0) {
        diag_error(reader->diags, reader->place, "duplicate-column",
                   "column '%s' stands here and in cell %zu, expected it once, remove one",
                   column->name, before);
        return NULL;
    }
    const struct column *twin = column_twin(reader->table, column);
    before = twin == NULL ? 0 : header_cell(reader, twin);
    if (before > 0) {
        diag_error(reader->diags, reader->place, "twin-columns",
                   "column '%s' stands here and '%s' in cell %zu, expected one unit, remove one",
                   column->name, twin->name, before);
        return NULL;
    }
    return column;
}

static void check_required(struct reader *reader)
{
    reader->place.cell = 0;
    for (size_t i = 0; i < reader->table->column_count; i++) {
        const struct column *column = &reader->table->columns[i];
        const struct column *twin = column_twin(reader->table, column);
        if (!(column->required || column->expected) || header_cell(reader, column) > 0 ||
            (twin != NULL && (header_cell(reader, twin) > 0 || twin < column)))
            continue;
        reader->complete = false;
        diag_error(reader->diags, reader->place, "missing-column",
                   "no column '%s'%s%s%s, expected it in the header line, add it", column->name,
                   twin == NULL ? "" : " or '", twin == NULL ? "" : twin->name,
                   twin == NULL ? "" : "'");
    }
}

bool reader_open(struct reader *reader, const struct row *header, struct arena *scratch)
{
    const struct column **columns = ARENA_ARRAY(scratch, header->count, const struct column *);
    reader->header = columns;
    reader->complete = true;
    size_t known = 0;
    for (size_t i = 0; i < header->count; i++) {
        reader->place = (struct place){reader->file, header->cells[i].line, (unsigned)i + 1};
        reader->header_count = i;
        columns[i] = match(reader, &header->cells[i]);
        known += columns[i] != NULL && columns[i] != &unnamed;
    }
    reader->header_count = header->count;
    char *blank = arena_alloc(scratch, 1, reader->table->row_bytes);
    for (size_t i = 0; i < reader->table->column_count; i++)
        cell_blank(&reader->table->columns[i], blank + reader->table->columns[i].offset);
    reader->blank = blank;
    reader->place.line = header->first_line;
    check_required(reader);
    return known > 0;
}

/* One cell into the noun; false when it was a fault, now told. */
static bool take(struct reader *reader, const struct column *column, const struct cell *cell,
                 char *noun)
{
    if (column == &unnamed) {
        if (cell->length > 0)
            diag_error(reader->diags, reader->place, "unnamed-column",
                       "%s stands under a header cell without a name, expected a column name there",
                       rows_quote(reader->rows, cell->text));
        return cell->length == 0;
    }
    if (cell->length == 0 && column->required)
        diag_error(reader->diags, reader->place, "empty-cell",
                   "'%s' is blank, expected a value, fill it in", column->name);
    if (cell->length == 0)
        return !column->required;
    if (cell_read(reader, column, cell, noun + column->offset))
        return true;
    cell_blank(column, noun + column->offset);
    return false;
}

/* Are all required cells good? */
static bool read_cells(struct reader *reader, const struct row *row, char *noun)
{
    bool whole = true;
    for (size_t i = 0; i < row->count; i++) {
        const struct column *column = reader->header[i];
        const struct cell *cell = &row->cells[i];
        if (column == NULL)
            continue;
        reader->place.line = cell->line;
        reader->place.cell = (unsigned)i + 1;
        bool good = !cell->bad && take(reader, column, cell, noun);
        whole = whole && (good || !column->required);
    }
    return whole;
}

bool reader_row(struct reader *reader, const struct row *row, void *noun)
{
    const struct table *table = reader->table;
    reader->row = row;
    reader->place = (struct place){.file = reader->file, .line = row->first_line};
    if (row->count != reader->header_count) {
        diag_error(
            reader->diags, reader->place, "ragged-row",
            "%zu cells, expected %zu as in the header line, add or remove delimiters; the row "
            "was left out",
            row->count, reader->header_count);
        return false;
    }
    memcpy(noun, reader->blank, table->row_bytes);
    *(struct place *)noun = reader->place;
    bool whole = read_cells(reader, row, noun);
    reader->place = *(struct place *)noun;
    return (table->finish == NULL || table->finish(reader, noun)) && whole && reader->complete;
}

bool reader_run(struct reader *reader, const struct source *source, struct row_taker taker)
{
    struct arena scratch;
    arena_init(&scratch, reader->arena->refused);
    reader->file = arena_text(reader->arena, strlen(source->name), source->name);
    reader->rows = rows_open(source, reader->file, &scratch, reader->diags);
    void *noun = arena_alloc(&scratch, 1, reader->table->row_bytes);
    struct row row;
    if (rows_header(reader->rows, &row) && reader_open(reader, &row, &scratch))
        while (rows_next(reader->rows, &row))
            if (reader_row(reader, &row, noun))
                taker.take(reader, noun, taker.context);
    bool failed = rows_failed(reader->rows);
    arena_release(&scratch);
    return !failed;
}
