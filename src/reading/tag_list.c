#include "reading/tag_list.h"

#include "reading/rows.h"

#include <string.h>

struct listing {
    struct tag_list *tags;
    struct diags *diags;
    const char *file;
    size_t column; /* of the tags */
    bool table;    /* there is a header */
};

static struct place place_of(const struct listing *listing, const struct row *row, size_t cell)
{
    return (struct place){listing->file, row->cells[cell].line, (unsigned)cell + 1};
}

static void take_row(struct listing *listing, const struct row *row)
{
    struct tag_list *tags = listing->tags;

    if (!listing->table && row->count > 1) {
        diag_error(listing->diags, place_of(listing, row, 1), "no-tag-column",
                   "%zu cells in this row, expected one tag a line, or a first row that names the "
                   "column 'tag', add one",
                   row->count);
        return;
    }
    if (listing->column >= row->count || row->cells[listing->column].length == 0)
        return;
    const struct cell *cell = &row->cells[listing->column];
    *ARENA_PUSH(tags->arena, tags->list, tags->count, tags->capacity) = (struct listed_tag){
        place_of(listing, row, listing->column), arena_text(tags->arena, cell->length, cell->text)};
}

bool read_tag_list(struct tag_list *tags, const struct source *source, struct diags *diags)
{
    struct arena scratch;
    struct listing listing = {.tags = tags,
                              .diags = diags,
                              .file = arena_text(tags->arena, strlen(source->name), source->name)};
    struct row row;
    bool failed;

    arena_init(&scratch, tags->arena->refused);
    struct rows *rows = rows_open(source, listing.file, &scratch, diags);
    if (rows_header(rows, &row)) {
        for (size_t i = 0; i < row.count && !listing.table; i++) {
            listing.table = strcmp(row.cells[i].text, "tag") == 0;
            listing.column = listing.table ? i : 0;
        }
        if (!listing.table)
            take_row(&listing, &row);
        while (rows_next(rows, &row))
            take_row(&listing, &row);
    }
    failed = rows_failed(rows);
    arena_release(&scratch);
    return !failed;
}
