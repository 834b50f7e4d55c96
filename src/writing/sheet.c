#include "writing/sheet.h"

#include <assert.h>
#include <math.h>

void sheet_init(struct sheet *sheet, struct arena *arena, const char *schema, size_t column_count,
                const struct sheet_column *columns)
{
    *sheet = (struct sheet){
        .arena = arena,
        .columns = columns,
        .column_count = column_count,
        .schema = schema,
    };
    text_init(&sheet->head, arena);
    text_init(&sheet->foot, arena);
}

static union cell missing(enum cell_kind kind)
{
    switch (kind) {
    case CELL_TEXT:
        return (union cell){.text = NULL};
    case CELL_DAY:
        return (union cell){.day = DAY_NONE};
    default:
        return (union cell){.number = (double)NAN};
    }
}

union cell *sheet_row(struct sheet *sheet)
{
    sheet->cells = arena_grow(sheet->arena, sheet->cells, sheet->row_count, &sheet->row_capacity,
                              sheet->column_count * sizeof *sheet->cells);
    union cell *row = sheet->cells + sheet->row_count++ * sheet->column_count;
    for (size_t i = 0; i < sheet->column_count; i++)
        row[i] = missing(sheet->columns[i].kind);
    return row;
}

struct sheet *sheet_shown(struct sheet *sheet)
{
    if (!sheet->shown) {
        sheet->shown = ARENA_NEW(sheet->arena, struct sheet);
        sheet_init(sheet->shown, sheet->arena, sheet->schema, sheet->column_count, sheet->columns);
    }
    return sheet->shown;
}

void sheet_add_fact(struct sheet *sheet, const char *name, double number)
{
    assert(sheet->fact_count < SHEET_FACTS);
    sheet->facts[sheet->fact_count++] = (struct sheet_fact){name, round(number * 1e6) / 1e6};
}
