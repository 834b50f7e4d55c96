#include "reading/typed.h"

#include "reading/columns.h"
#include "reading/tables.h"

#include <string.h>

#define AT(member) .offset = offsetof(struct typed_row, member)
#define PASSED(column)                                                                             \
    {                                                                                              \
        .name = column, .kind = COLUMN_TEXT, AT(passed_over)                                       \
    }

static const struct column typed_columns[] = {
    {.name = "entry", .kind = COLUMN_NAME, AT(entry)},
    {.name = "date", .kind = COLUMN_DAY, AT(date)},
    {.name = "task", .kind = COLUMN_NAME, AT(task)},
    {.name = "site", .kind = COLUMN_NAME, AT(site)},
    {.name = "block", .kind = COLUMN_NAME, AT(block)},
    {.name = "tree", .kind = COLUMN_NAME, AT(tree)},
    {.name = "crown", .kind = COLUMN_ONE_OF, AT(crown), .words = {CROWN_WORDS, crown_words}},
    {.name = "branch", .kind = COLUMN_NAME, AT(branch)},
    {.name = "tag", .kind = COLUMN_NAME, AT(tag)},
    {.name = "bag", .kind = COLUMN_NAME, AT(bag)},
    {.name = "cross", .kind = COLUMN_NAME, AT(cross)},
    {.name = "pollen_lot", .kind = COLUMN_NAME, AT(lot)},
    {.name = "lot", .kind = COLUMN_NAME, AT(lot)}, /* as notes.csv calls it */
    {.name = "selection", .kind = COLUMN_NAME, AT(selection)},
    {.name = "batch", .kind = COLUMN_NAME, AT(batch)},
    {.name = "note", .kind = COLUMN_WORD, .blank = -1, AT(note), .words = {NOTES, note_names}},
    {.name = "done_on", .kind = COLUMN_DAY, AT(done_on)},
    {.name = "not_done", .kind = COLUMN_TEXT, AT(not_done)},
    {.name = "stage", .kind = COLUMN_TEXT, AT(stage)},
    {.name = "value", .kind = COLUMN_TEXT, AT(value)},
    {.name = "by", .kind = COLUMN_TEXT, AT(by)},
    {.name = "remarks", .kind = COLUMN_TEXT, AT(remarks)},
    {.name = "as_of", .kind = COLUMN_DAY, AT(as_of)},
    PASSED("crew"),
    PASSED("lift"),
    PASSED("row"),
    PASSED("position"),
    PASSED("flag"),
    PASSED("seed_parent"),
    PASSED("pollen_parent"),
    PASSED("dose_ml"),
    PASSED("chance"),
    PASSED("latest_safe"),
    PASSED("decide"),
    PASSED("cycle"),
    PASSED("needs"),
};

static bool finish_row(struct reader *reader, void *noun)
{
    struct typed_row *row = noun;
    row->stage_meant = row->stage != NULL ? stage_in_ours(reader, row->stage) : NULL;
    row->value_meant = row->value;
    if (row->value != NULL && row->note == NOTE_STAGE)
        row->value_meant = stage_in_ours(reader, row->value);
    return true;
}

static const struct table typed_table = {.name = "typed page",
                                         .row_bytes = sizeof(struct typed_row),
                                         TABLE_COLUMNS(typed_columns),
                                         .finish = finish_row};

/* The cell of a column, from 1; 0 when the page lacks it. */
static unsigned cell_of(const struct reader *reader, const char *name)
{
    for (size_t i = 0; i < reader->header_count; i++)
        if (reader->header[i] != NULL && strcmp(reader->header[i]->name, name) == 0)
            return (unsigned)i + 1;
    return 0;
}

static void see_header(struct typed_page *page, const struct reader *reader)
{
    for (int column = 0; column < TYPED_COLUMNS; column++)
        page->cells[column] = cell_of(reader, typed_column_names[column]);
    if (page->cells[TYPED_LOT] == 0)
        page->cells[TYPED_LOT] = cell_of(reader, "lot");
    if (page->cells[TYPED_ENTRY] == 0 && page->cells[TYPED_TASK] == 0 &&
        page->cells[TYPED_NOTE] == 0)
        diag_error(reader->diags, (struct place){reader->file, 1, 0}, "missing-column",
                   "no column says what a row is, expected 'entry' or 'task' of a worklist or "
                   "'note' of notes.csv in the header line, add it");
}

static void take_row(struct reader *reader, const void *noun, void *context)
{
    struct typed_page *page = context;
    if (page->file == NULL) {
        page->file = reader->file;
        see_header(page, reader);
    }
    *ARENA_PUSH(reader->arena, page->list, page->count, page->capacity) =
        *(const struct typed_row *)noun;
}

bool read_typed(struct typed_page *page, const struct orchard *orchard, const struct source *source,
                struct diags *diags)
{
    struct reader reader = {.table = &typed_table,
                            .diags = diags,
                            .arena = orchard->arena,
                            .program = &orchard->program};

    return reader_run(&reader, source, (struct row_taker){take_row, page});
}
