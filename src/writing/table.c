/*
 * The text form: columns as wide as their widest cell.  When that is more than there is room for,
 * the widest text columns give way one display column at a time and their cells break over lines.
 */
#include "writing/cell.h"
#include "writing/sheet.h"

#include <stdint.h>
#include <string.h>

enum {
    BELOW = 4,
    BETWEEN = 2,
    WIDTH_LEAST = 2,
    TEXT_LEAST = 8
}; /* text_add_wrapped wants two columns */

struct table {
    const struct sheet *sheet;
    struct sheet_style style;
    struct text *out;
    size_t *widths;       /* [column_count]; 0: not a column of the table */
    struct text *wrapped; /* [column_count] cells of the row at hand, in lines */
    char **rest;          /* [column_count] what of them is not printed yet */
    struct text scratch;
};

static bool is_left(enum cell_kind kind)
{
    return kind == CELL_TEXT || kind == CELL_DAY;
}

/* What stands in a column: the title (row NULL) or a cell, in `scratch`. */
static const char *shown(struct table *table, size_t column, const union cell *row)
{
    const struct sheet_column *of = &table->sheet->columns[column];
    text_clear(&table->scratch);
    if (row)
        cell_add_shown(&table->scratch, of, row[column], table->style);
    else
        cell_add_title(&table->scratch, of, table->style);
    return table->scratch.bytes;
}

static size_t longest_word(struct text *scratch, const char *value)
{
    size_t longest = 0;
    while (*(value += strspn(value, " "))) {
        size_t length = strcspn(value, " ");
        text_clear(scratch);
        text_add_bytes(scratch, length, value);
        size_t columns = text_columns(scratch->bytes);
        longest = columns > longest ? columns : longest;
        value += length;
    }
    return longest;
}

static void measure(struct table *table, bool break_titles)
{
    const struct sheet *sheet = table->sheet;
    struct text word;
    text_init(&word, sheet->arena);
    for (size_t i = 0; i < sheet->column_count; i++) {
        if (!column_in_table(&sheet->columns[i]))
            continue;
        const char *title = shown(table, i, NULL);
        size_t widest = break_titles ? longest_word(&word, title) : text_columns(title);
        for (size_t r = 0; r < sheet->row_count; r++) {
            size_t columns = text_columns(shown(table, i, sheet->cells + r * sheet->column_count));
            widest = columns > widest ? columns : widest;
        }
        table->widths[i] = widest > WIDTH_LEAST ? widest : WIDTH_LEAST;
    }
}

static size_t total_width(const struct table *table)
{
    size_t total = 0;
    for (size_t i = 0; i < table->sheet->column_count; i++)
        if (table->widths[i])
            total += (total ? BETWEEN : 0) + table->widths[i];
    return total;
}

/* Where room is short titles break first; then the widest text columns (the last of equal ones)
 * give way until the table fits. */
static void fit(struct table *table)
{
    measure(table, false);
    if (table->style.columns == 0 || total_width(table) <= table->style.columns)
        return;
    measure(table, true);
    for (size_t total = total_width(table); total > table->style.columns; total--) {
        size_t widest = SIZE_MAX;
        for (size_t i = 0; i < table->sheet->column_count; i++) {
            if (table->sheet->columns[i].kind == CELL_TEXT && table->widths[i] > TEXT_LEAST &&
                (widest == SIZE_MAX || table->widths[i] >= table->widths[widest]))
                widest = i;
        }
        if (widest == SIZE_MAX)
            return;
        table->widths[widest]--;
    }
}

static void end_line(struct text *out)
{
    while (out->length > 0 && out->bytes[out->length - 1] == ' ')
        out->bytes[--out->length] = '\0';
    text_add(out, "\n");
}

/* The next line of a wrapped cell, cut off from the rest of it; "" when there is none. */
static const char *take_line(char **rest)
{
    char *line = *rest;
    char *end = strchr(line, '\n');
    *rest = end ? end + 1 : line + strlen(line);
    if (end)
        *end = '\0';
    return line;
}

/* A row of cells or, with row NULL, of titles; as many lines as its tallest cell. */
static void add_row(struct table *table, const union cell *row)
{
    const struct sheet *sheet = table->sheet;

    for (size_t i = 0; i < sheet->column_count; i++) {
        struct text *wrapped = &table->wrapped[i];
        text_clear(wrapped);
        if (table->widths[i])
            text_add_wrapped(wrapped, table->widths[i], 0, shown(table, i, row));
        table->rest[i] = wrapped->bytes;
    }
    for (bool more = true; more;) {
        more = false;
        for (size_t i = 0, written = 0; i < sheet->column_count; i++) {
            if (!table->widths[i])
                continue;
            if (written++)
                text_add_repeat(table->out, BETWEEN, ' ');
            const char *line = take_line(&table->rest[i]);
            if (is_left(sheet->columns[i].kind))
                text_add_left(table->out, table->widths[i], line);
            else
                text_add_right(table->out, table->widths[i], line);
            more = more || *table->rest[i];
        }
        end_line(table->out);
    }
}

static void add_rule(struct table *table)
{
    for (size_t i = 0, written = 0; i < table->sheet->column_count; i++) {
        if (!table->widths[i])
            continue;
        if (written++)
            text_add_repeat(table->out, BETWEEN, ' ');
        text_add_repeat(table->out, table->widths[i], '-');
    }
    text_add(table->out, "\n");
}

static bool heading_changes(const struct sheet *sheet, size_t column, size_t row)
{
    if (row == 0)
        return true;
    const union cell *cells = sheet->cells + row * sheet->column_count;
    const char *now = cells[column].text, *before = (cells - sheet->column_count)[column].text;
    return now && before ? strcmp(now, before) != 0 : now != before;
}

/* `indent` blanks, `title` and `words`; what goes over the line hangs in by two more. */
static void add_hanging(struct table *table, size_t indent, const char *title, const char *words)
{
    text_add_repeat(table->out, indent, ' ');
    text_add(table->out, title);
    if (table->style.columns)
        text_add_wrapped(table->out, table->style.columns, indent + 2, words);
    else
        text_add_printable(table->out, words);
    end_line(table->out);
}

static void add_headings(struct table *table, size_t row)
{
    const struct sheet *sheet = table->sheet;
    bool above = false; /* a heading to the left has changed */
    for (size_t i = 0; i < sheet->column_count; i++) {
        if (sheet->columns[i].where != COLUMN_HEADING || !(above || heading_changes(sheet, i, row)))
            continue;
        text_add(table->out, row && !above ? "\n" : "");
        above = true;
        if (!cell_is_missing(&sheet->columns[i], sheet->cells[row * sheet->column_count + i]))
            add_hanging(table, 0, "", shown(table, i, sheet->cells + row * sheet->column_count));
    }
}

static void add_below(struct table *table, const union cell *row)
{
    const struct sheet *sheet = table->sheet;
    for (size_t i = 0; i < sheet->column_count; i++) {
        if (sheet->columns[i].where != COLUMN_BELOW || cell_is_missing(&sheet->columns[i], row[i]))
            continue;
        const char *title = sheet->columns[i].title;
        title = title ? arena_printf(sheet->arena, "%s: ", title) : "";
        add_hanging(table, BELOW, title, shown(table, i, row));
    }
}

/* The lines of head or foot, each broken where there is no room for it. */
static void add_lines(struct table *table, const struct text *lines)
{
    struct text line;
    text_init(&line, lines->arena);
    for (const char *at = lines->bytes; *at;) {
        size_t length = strcspn(at, "\n");
        text_clear(&line);
        text_add_bytes(&line, length, at);
        size_t indent = strspn(line.bytes, " ");
        add_hanging(table, indent < BELOW ? indent : BELOW, "", line.bytes + indent);
        at += length + (at[length] == '\n');
    }
}

/* A table whose columns are all untitled needs no line of titles. */
static bool has_titles(const struct sheet *sheet)
{
    for (size_t i = 0; i < sheet->column_count; i++) {
        const struct sheet_column *column = &sheet->columns[i];
        if (column_in_table(column) && !(column->title && column->title[0] == '\0'))
            return true;
    }
    return false;
}

void sheet_write_text(const struct sheet *sheet, struct sheet_style style, struct text *out)
{
    const struct sheet *rows = sheet->shown ? sheet->shown : sheet;
    struct table table = {.sheet = rows, .style = style, .out = out};
    table.widths = ARENA_ARRAY(sheet->arena, sheet->column_count, size_t);
    table.wrapped = ARENA_ARRAY(sheet->arena, sheet->column_count, struct text);
    for (size_t i = 0; i < sheet->column_count; i++)
        text_init(&table.wrapped[i], sheet->arena);
    table.rest = ARENA_ARRAY(sheet->arena, sheet->column_count, char *);
    text_init(&table.scratch, sheet->arena);

    add_lines(&table, &sheet->head);
    if (sheet->head.length)
        text_add(out, "\n");
    if (rows->row_count == 0)
        text_add(out, "none\n");
    else {
        fit(&table);
        if (has_titles(rows)) {
            add_row(&table, NULL);
            add_rule(&table);
        }
    }
    for (size_t r = 0; r < rows->row_count; r++) {
        const union cell *row = rows->cells + r * rows->column_count;
        add_headings(&table, r);
        add_row(&table, row);
        add_below(&table, row);
    }
    if (sheet->foot.length)
        text_add(out, "\n");
    add_lines(&table, &sheet->foot);
}
