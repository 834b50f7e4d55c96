#include "writing/cell.h"
#include "writing/sheet.h"

#include <string.h>

/* Would a spreadsheet compute it?  Apostrophes before are passed over, so that what a reader takes
 * off again is always the one that was put on. */
static bool starts_formula(const char *value)
{
    value += strspn(value, "'");
    return *value && strchr("=+-@\t", *value);
}

/* Blanks at the ends are part of the value and readers trim them where no quotes stand. */
static bool needs_quotes(const char *value)
{
    size_t length = strlen(value);
    if (length == 0)
        return false;
    return strpbrk(value, ",\"\r\n") || strchr(" \t", value[0]) || strchr(" \t", value[length - 1]);
}

void csv_add_text(struct text *out, const char *value, bool plain)
{
    bool guarded = !plain && starts_formula(value);
    bool quoted = needs_quotes(value);

    if (quoted)
        text_add(out, "\"");
    if (guarded)
        text_add(out, "'");
    if (quoted) {
        for (const char *quote; (quote = strchr(value, '"')); value = quote + 1) {
            text_add_bytes(out, (size_t)(quote - value), value);
            text_add(out, "\"\"");
        }
    }
    text_add(out, value);
    if (quoted)
        text_add(out, "\"");
}

static void add_row(const struct sheet *sheet, const union cell *row, struct sheet_style style,
                    struct text *out)
{
    size_t start = out->length, written = 0;
    for (size_t i = 0; i < sheet->column_count; i++) {
        const struct sheet_column *column = &sheet->columns[i];
        if (!column_in_data(column))
            continue;
        if (written++)
            text_add(out, ",");
        if (!row)
            csv_add_text(out, column->name, style.plain);
        else if (column->kind != CELL_TEXT)
            cell_add_data(out, column, row[i], style);
        else if (row[i].text)
            csv_add_text(out, row[i].text, style.plain);
    }
    if (written == 1 && out->length == start)
        text_add(out, "\"\""); /* an empty line would not be a row */
    text_add(out, "\n");
}

void sheet_write_csv(const struct sheet *sheet, struct sheet_style style, struct text *out)
{
    add_row(sheet, NULL, style, out);
    for (size_t i = 0; i < sheet->row_count; i++)
        add_row(sheet, sheet->cells + i * sheet->column_count, style, out);
}
