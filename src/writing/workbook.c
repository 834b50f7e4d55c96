#include "writing/workbook.h"

#include "writing/cell.h"
#include "writing/markup.h"
#include "writing/words.h"

#include <string.h>

enum {
    NAME_MOST = 31, /* characters of a worksheet's name */
    DIGITS_MOST = 15,
    COLUMN_CHARACTERS_LEAST = 6,
    COLUMN_CHARACTERS_MOST = 48,
    POINTS_A_CHARACTER = 6, /* of 10 point type, roomy */
    ABOUT_POINTS = 600
};

#define SPREADSHEET "urn:schemas-microsoft-com:office:spreadsheet"
#define EXCEL "urn:schemas-microsoft-com:office:excel"

/* Text is declared as such by its format too, so that an edited cell stays text. */
static void add_styles(struct text *out)
{
    text_add(out, "<Styles>\n<Style ss:ID=\"Default\"/>\n"
                  "<Style ss:ID=\"names\"><Font ss:Bold=\"1\"/><NumberFormat ss:Format=\"@\"/>"
                  "</Style>\n"
                  "<Style ss:ID=\"text\"><NumberFormat ss:Format=\"@\"/></Style>\n"
                  "<Style ss:ID=\"lines\"><Alignment ss:WrapText=\"1\"/>"
                  "<NumberFormat ss:Format=\"@\"/></Style>\n"
                  "<Style ss:ID=\"day\"><NumberFormat ss:Format=\"yyyy\\-mm\\-dd\"/></Style>\n");
    for (int digits = 0; digits <= DIGITS_MOST; digits++) {
        text_addf(out, "<Style ss:ID=\"digits%d\"><NumberFormat ss:Format=\"0%s", digits,
                  digits ? "." : "");
        text_add_repeat(out, (size_t)digits, '0');
        text_add(out, "\"/></Style>\n");
    }
    text_add(out, "</Styles>\n");
}

/* "conetide demand crosses 1": "demand crosses". */
static void add_name(const char *schema, struct text *out)
{
    const char *name = strncmp(schema, "conetide ", 9) == 0 ? schema + 9 : schema;
    const char *version = strrchr(name, ' ');
    size_t length = version ? (size_t)(version - name) : strlen(name);
    markup_add_escaped(out, arena_text(out->arena, length < NAME_MOST ? length : NAME_MOST, name));
}

static void add_string(const char *style, const char *value, struct text *out)
{
    text_addf(out, "<Cell ss:StyleID=\"%s\"><Data ss:Type=\"String\">", style);
    markup_add_escaped(out, value);
    text_add(out, "</Data></Cell>");
}

/* `data` is the cell as CSV has it. */
static void add_cell(const struct sheet_column *column, union cell cell, const char *data,
                     struct text *out)
{
    const char *point = strchr(data, '.');
    if (cell_is_missing(column, cell))
        text_add(out, "<Cell/>");
    else if (column->kind == CELL_TEXT || (column->kind == CELL_DAY && cell.day >= WORDS_UNCHILLED))
        add_string("text", data, out);
    else if (column->kind == CELL_DAY)
        text_addf(out,
                  "<Cell ss:StyleID=\"day\"><Data ss:Type=\"DateTime\">%sT00:00:00.000</Data>"
                  "</Cell>",
                  data);
    else
        text_addf(out, "<Cell ss:StyleID=\"digits%zu\"><Data ss:Type=\"Number\">%s</Data></Cell>",
                  point ? strlen(point + 1) : 0, data);
}

/* Wide enough for the name and the widest cell, within reason. */
static size_t points_of(const struct sheet *sheet, size_t column, struct sheet_style style,
                        struct text *scratch)
{
    size_t widest = text_columns(sheet->columns[column].name);
    for (size_t r = 0; r < sheet->row_count; r++) {
        text_clear(scratch);
        cell_add_data(scratch, &sheet->columns[column],
                      sheet->cells[r * sheet->column_count + column], style);
        size_t columns = text_columns(scratch->bytes);
        widest = columns > widest ? columns : widest;
    }
    if (widest < COLUMN_CHARACTERS_LEAST)
        widest = COLUMN_CHARACTERS_LEAST;
    return POINTS_A_CHARACTER *
           (widest < COLUMN_CHARACTERS_MOST ? widest + 1 : COLUMN_CHARACTERS_MOST);
}

/* The names, or with `row` its cells. */
static void add_row(const struct sheet *sheet, const union cell *row, struct sheet_style style,
                    struct text *out)
{
    struct text data;
    text_init(&data, sheet->arena);
    text_add(out, "<Row>");
    for (size_t i = 0; i < sheet->column_count; i++) {
        const struct sheet_column *column = &sheet->columns[i];
        if (!column_in_data(column))
            continue;
        text_clear(&data);
        if (row)
            cell_add_data(&data, column, row[i], style);
        if (row)
            add_cell(column, row[i], data.bytes, out);
        else
            add_string("names", column->name, out);
    }
    text_add(out, "</Row>\n");
}

static void add_worksheet(const struct sheet *sheet, struct sheet_style style, struct text *out)
{
    struct text scratch;
    size_t columns = 0;

    text_init(&scratch, sheet->arena);
    text_add(out, "<Worksheet ss:Name=\"");
    add_name(sheet->schema, out);
    text_add(out, "\">\n<Table>\n");
    for (size_t i = 0; i < sheet->column_count; i++) {
        if (!column_in_data(&sheet->columns[i]))
            continue;
        columns++;
        text_addf(out, "<Column ss:AutoFitWidth=\"0\" ss:Width=\"%zu\"/>\n",
                  points_of(sheet, i, style, &scratch));
    }
    add_row(sheet, NULL, style, out);
    for (size_t r = 0; r < sheet->row_count; r++)
        add_row(sheet, sheet->cells + r * sheet->column_count, style, out);
    text_add(out, "</Table>\n<WorksheetOptions xmlns=\"" EXCEL "\"><FreezePanes/><FrozenNoSplit/>"
                  "<SplitHorizontal>1</SplitHorizontal><TopRowBottomPane>1</TopRowBottomPane>"
                  "</WorksheetOptions>\n");
    if (sheet->row_count > 0)
        text_addf(out, "<AutoFilter x:Range=\"R1C1:R%zuC%zu\" xmlns=\"" EXCEL "\"/>\n",
                  sheet->row_count + 1, columns);
    text_add(out, "</Worksheet>\n");
}

/* Each line a row; empty ones are left out. */
static void add_lines(const struct text *lines, struct text *out)
{
    for (const char *at = lines->bytes; *at;) {
        size_t length = strcspn(at, "\n");
        if (length > 0) {
            text_add(out, "<Row>");
            add_string("lines", arena_text(out->arena, length, at), out);
            text_add(out, "</Row>\n");
        }
        at += length + (at[length] == '\n');
    }
}

void workbook_write(size_t count, const struct sheet *sheets, struct sheet_style style,
                    struct text *out)
{
    text_add(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                  "<?mso-application progid=\"Excel.Sheet\"?>\n"
                  "<Workbook xmlns=\"" SPREADSHEET "\" xmlns:ss=\"" SPREADSHEET
                  "\" xmlns:x=\"" EXCEL "\">\n");
    add_styles(out);
    for (size_t i = 0; i < count; i++)
        add_worksheet(&sheets[i], style, out);
    text_addf(out,
              "<Worksheet ss:Name=\"about\">\n<Table>\n"
              "<Column ss:AutoFitWidth=\"0\" ss:Width=\"%d\"/>\n",
              ABOUT_POINTS);
    for (size_t i = 0; i < count; i++) {
        text_add(out, "<Row>");
        add_string("names", sheets[i].schema, out);
        text_add(out, "</Row>\n");
        add_lines(&sheets[i].head, out);
        add_lines(&sheets[i].foot, out);
    }
    text_add(out, "</Table>\n</Worksheet>\n</Workbook>\n");
}
