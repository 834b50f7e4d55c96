#include "writing/note_lines.h"

#include "base/number.h"
#include "writing/cell.h"

#include <string.h>

enum { COLUMNS = 18 };

const char *const note_columns_all[COLUMNS] = {
    "date",  "note", "tag",   "bag",  "tree",      "crown", "branch", "lot",     "cross",
    "batch", "site", "block", "task", "selection", "value", "by",     "remarks", "entry"};
const size_t note_columns_count = COLUMNS;

/* Column by column as above; NULL: blank. */
static void cells_of(const struct note *note, char day[DAY_TEXT], const char *cells[COLUMNS])
{
    const char *const filled[COLUMNS] = {day_text(note->date, day),
                                         note_names[note->kind],
                                         note->tag,
                                         note->bag,
                                         note->tree,
                                         note->crown,
                                         note->branch,
                                         note->lot,
                                         note->cross,
                                         note->batch,
                                         note->site,
                                         note->block,
                                         note->task,
                                         note->selection,
                                         note->value,
                                         note->by,
                                         note->remarks,
                                         note->entry};

    for (int i = 0; i < COLUMNS; i++)
        cells[i] = filled[i];
}

static int column_named(const char *name)
{
    for (int i = 0; i < COLUMNS; i++)
        if (strcmp(note_columns_all[i], name) == 0)
            return i;
    return COLUMNS;
}

const char *note_line_lacks(const struct note_form *form, const struct note *note)
{
    const char *cells[COLUMNS];
    char day[DAY_TEXT];

    cells_of(note, day, cells);
    for (size_t i = 0; i < form->count; i++) {
        int column = column_named(form->columns[i]);

        if (column < COLUMNS)
            cells[column] = NULL;
    }
    for (int i = 0; i < COLUMNS; i++)
        if (cells[i])
            return note_columns_all[i];
    return NULL;
}

/* csv_add_text knows the comma; a cell that holds another delimiter needs quotes as well. */
static void add_cell(const struct note_form *form, const char *value, struct text *out)
{
    double number;
    bool plain = number_parse(strlen(value), value, &number);
    size_t start = out->length;

    csv_add_text(out, value, plain);
    if (out->bytes[start] != '"' && strchr(value, form->delimiter)) {
        const char *bare = arena_text(out->arena, out->length - start, out->bytes + start);

        out->length = start;
        text_addf(out, "\"%s\"", bare);
    }
}

void note_line_add(const struct note_form *form, const struct note *note, struct text *out)
{
    const char *cells[COLUMNS];
    char day[DAY_TEXT];

    cells_of(note, day, cells);
    for (size_t i = 0; i < form->count; i++) {
        int column = column_named(form->columns[i]);

        if (i > 0)
            text_add_bytes(out, 1, &form->delimiter);
        if (column < COLUMNS && cells[column])
            add_cell(form, cells[column], out);
    }
    text_add(out, form->line_end);
}

void note_header_add(const struct note_form *form, struct text *out)
{
    for (size_t i = 0; i < form->count; i++) {
        if (i > 0)
            text_add_bytes(out, 1, &form->delimiter);
        text_add(out, form->columns[i]);
    }
    text_add(out, form->line_end);
}
