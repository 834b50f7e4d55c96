/*
 * One row is one cJSON object that is printed and freed before the next is made, so memory does not
 * grow with the sheet.  When cJSON has no memory everything is freed and the arena's hook is
 * called.
 */
#include "base/number.h"
#include "writing/cell.h"
#include "writing/sheet.h"

#include <cjson/cJSON.h>
#include <stdint.h>
#include <string.h>

/* Adds `item` as cJSON prints it and frees it; NULL is refused memory. */
static void add_item(struct text *out, cJSON *item)
{
    char *printed = item ? cJSON_PrintUnformatted(item) : NULL;
    cJSON_Delete(item);
    if (!printed) {
        arena_alloc(out->arena, SIZE_MAX, 2); /* more than there can be: its refusal is ours */
        return;
    }
    text_add(out, printed);
    cJSON_free(printed);
}

/* JSON is UTF-8; other bytes go as the visible \xNN. */
static cJSON *text_item(const char *value, struct text *scratch)
{
    if (text_is_utf8(strlen(value), value, NULL))
        return cJSON_CreateString(value);
    text_clear(scratch);
    text_add_printable(scratch, value);
    return cJSON_CreateString(scratch->bytes);
}

static cJSON *cell_item(const struct sheet_column *column, union cell cell,
                        struct sheet_style style, struct text *scratch)
{
    if (cell_is_missing(column, cell))
        return cJSON_CreateNull();
    if (column->kind == CELL_TEXT)
        return text_item(cell.text, scratch);

    text_clear(scratch);
    cell_add_data(scratch, column, cell, style);
    if (column->kind == CELL_DAY)
        return cJSON_CreateString(scratch->bytes);

    /* The digits of the CSV, read back: both forms hold the same number. */
    double number = cell.number;
    number_parse(scratch->length, scratch->bytes, &number);
    return cJSON_CreateNumber(number);
}

static cJSON *row_item(const struct sheet *sheet, const union cell *row, struct sheet_style style,
                       struct text *scratch)
{
    cJSON *object = cJSON_CreateObject();
    for (size_t i = 0; object && i < sheet->column_count; i++) {
        const struct sheet_column *column = &sheet->columns[i];
        if (!column_in_data(column))
            continue;
        cJSON *item = cell_item(column, row[i], style, scratch);
        if (!cJSON_AddItemToObjectCS(object, column->name, item)) {
            cJSON_Delete(item);
            cJSON_Delete(object);
            return NULL;
        }
    }
    return object;
}

void sheet_write_json(const struct sheet *sheet, struct sheet_style style, struct text *out)
{
    struct text scratch;
    text_init(&scratch, sheet->arena);

    text_add(out, "{\"schema\":");
    add_item(out, text_item(sheet->schema, &scratch));
    for (size_t i = 0; i < sheet->fact_count; i++) {
        text_addf(out, ",\"%s\":", sheet->facts[i].name);
        add_item(out, cJSON_CreateNumber(sheet->facts[i].number));
    }
    text_add(out, ",\"rows\":[");
    for (size_t i = 0; i < sheet->row_count; i++) {
        text_add(out, i ? ",\n" : "\n");
        add_item(out, row_item(sheet, sheet->cells + i * sheet->column_count, style, &scratch));
    }
    text_add(out, sheet->row_count ? "\n]}\n" : "]}\n");
}
