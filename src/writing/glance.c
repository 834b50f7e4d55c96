/* glance.c - a heading, a list of what to know, and sections of pictures and tables. */
#include "writing/glance.h"

#include "writing/cell.h"
#include "writing/glance_script.h"
#include "writing/head.h"
#include "writing/markup.h"

#include <string.h>

static bool is_number(const struct sheet_column *column)
{
    return column->kind != CELL_TEXT && column->kind != CELL_DAY;
}

/* A word of `columns`? */
static bool is_shown(const struct sheet_column *column, const char *columns)
{
    size_t length = strlen(column->name);

    for (const char *at = strstr(columns, column->name); at; at = strstr(at + 1, column->name))
        if ((at == columns || at[-1] == ' ') && (at[length] == ' ' || at[length] == '\0'))
            return column_in_data(column);
    return false;
}

/* "seeds_wanted" is "seeds wanted" for people, "first_p50" is "first 50 %". */
static const char *title_of(const struct sheet_column *column, struct arena *arena)
{
    size_t length = strlen(column->name);
    bool chance = length > 4 && strncmp(column->name + length - 4, "_p", 2) == 0;
    struct text title;

    text_init(&title, arena);
    text_add_bytes(&title, chance ? length - 4 : length, column->name);
    if (chance)
        text_addf(&title, " %s %%", column->name + length - 2);
    for (char *at = title.bytes; (at = strchr(at, '_'));)
        *at = ' ';
    return title.bytes;
}

static void add_heads(const struct glance_part *part, struct text *out)
{
    const struct sheet *sheet = part->sheet;
    const char *title;

    text_add(out, "<thead><tr>");
    for (size_t i = 0; i < sheet->column_count; i++) {
        if (!is_shown(&sheet->columns[i], part->columns))
            continue;
        title = title_of(&sheet->columns[i], out->arena);
        /* A button is not painted again on the pages of a print that go on: words for paper. */
        text_add(out, "<th scope=\"col\"><button type=\"button\">");
        markup_add_escaped(out, title);
        text_add(out, "</button><span class=\"paper\" aria-hidden=\"true\">");
        markup_add_escaped(out, title);
        text_add(out, "</span></th>");
    }
    text_add(out, "</tr></thead>\n");
}

/* What sorts by its text as it stands needs no value beside it. */
static void add_cell(const struct sheet_column *column, union cell cell, struct sheet_style style,
                     struct text *out)
{
    struct text value;

    text_init(&value, out->arena);
    text_add(out, is_number(column) ? "<td class=\"n\"" : "<td");
    if (cell_is_missing(column, cell)) {
        text_add(out, " data-v=\"\">-</td>");
        return;
    }
    if (column->kind != CELL_TEXT) {
        cell_add_data(&value, column, cell, style);
        text_add(out, " data-v=\"");
        markup_add_escaped(out, value.bytes);
        text_add(out, "\"");
        text_clear(&value);
    }
    text_add(out, ">");
    cell_add_shown(&value, column, cell, style);
    markup_add_escaped(out, value.bytes);
    text_add(out, "</td>");
}

static void add_filter(const char *id, size_t rows, struct text *out)
{
    text_addf(out,
              "<p class=\"filter\"><label for=\"%s-table-filter\">rows with all of these words: "
              "</label><input id=\"%s-table-filter\" type=\"search\"/> "
              "<span id=\"%s-table-told\" role=\"status\">%zu of %zu rows</span></p>\n",
              id, id, id, rows, rows);
}

static void add_table(const struct glance_part *part, const struct page_run *run, struct text *out)
{
    const struct sheet *sheet = part->sheet;
    struct sheet_style style = {.units_us = run->units_us, .digits = -1};
    size_t rows = sheet->row_count < GLANCE_ROWS_MOST ? sheet->row_count : GLANCE_ROWS_MOST;

    if (rows == 0) {
        text_add(out, "<p>No rows.</p>\n");
        return;
    }
    add_filter(part->id, rows, out);
    text_addf(out, "<div class=\"scroll\"><table class=\"rows\" id=\"%s-table\">\n", part->id);
    add_heads(part, out);
    text_add(out, "<tbody>\n");
    for (size_t r = 0; r < rows; r++) {
        text_add(out, "<tr>");
        for (size_t i = 0; i < sheet->column_count; i++)
            if (is_shown(&sheet->columns[i], part->columns))
                add_cell(&sheet->columns[i], sheet->cells[r * sheet->column_count + i], style, out);
        text_add(out, "</tr>\n");
    }
    text_add(out, "</tbody></table></div>\n");
    if (rows < sheet->row_count)
        text_addf(out, "<p>%zu more rows: %s --format csv</p>\n", sheet->row_count - rows,
                  part->command);
}

/* Head lines less the title, and foot lines: they say what the rows rest on. */
static void add_lines(const char *lines, size_t passed_over, struct text *out)
{
    for (; passed_over > 0 && *lines; passed_over--) {
        const char *end = strchr(lines, '\n');

        lines = end ? end + 1 : lines + strlen(lines);
    }
    if (*lines == '\0')
        return;
    text_add(out, "<p class=\"head\">");
    for (const char *end; *lines; lines = end) {
        size_t length = strcspn(lines, "\n");

        markup_add_escaped(out, arena_printf(out->arena, "%.*s", (int)length, lines));
        end = lines + length;
        if (*end == '\n') {
            end++;
            text_add(out, "\n");
        }
    }
    text_add(out, "</p>\n");
}

static void add_part(const struct glance_part *part, const struct page_run *run, struct text *out)
{
    text_addf(out, "<section id=\"%s\">\n", part->id);
    markup_add_element(out, "h2", part->title);
    text_add(out, "\n");
    if (part->svg)
        text_add(out, part->svg);
    if (part->sheet) {
        enum { TITLE_LINES = 2 }; /* what it is; as of when: both stand at the top already */

        add_lines(part->sheet->head.bytes, TITLE_LINES, out);
        add_table(part, run, out);
        add_lines(part->sheet->foot.bytes, 0, out);
    }
    text_add(out, "</section>\n");
}

static void add_top(const struct glance *glance, const struct page_run *run, struct text *out)
{
    struct text title;
    char *as_of;

    text_init(&title, out->arena);
    head_write_title(run, "Season at a glance", &title);
    as_of = strchr(title.bytes, '\n');
    if (as_of)
        *as_of++ = '\0';
    text_add(out, "<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\">\n"
                  "<head>\n<meta charset=\"utf-8\"/>\n"
                  "<meta name=\"viewport\" content=\"width=device-width\"/>\n");
    markup_add_element(out, "title", title.bytes);
    text_addf(out, "\n<style>\n%s</style>\n</head>\n<body>\n", glance_style);
    markup_add_element(out, "h1", title.bytes);
    if (as_of)
        markup_add_element(out, "p", as_of);
    text_add(out, "\n<ul>\n");
    for (size_t i = 0; i < glance->line_count; i++)
        markup_add_element(out, "li", glance->lines[i]);
    text_add(out, "</ul>\n<nav aria-label=\"sections\">\n");
    for (size_t i = 0; i < glance->part_count; i++) {
        text_addf(out, "<a href=\"#%s\">", glance->parts[i].id);
        markup_add_escaped(out, glance->parts[i].title);
        text_add(out, "</a>\n");
    }
    text_add(out, "</nav>\n");
}

void glance_write(const struct glance *glance, const struct page_run *run, struct text *out)
{
    add_top(glance, run, out);
    for (size_t i = 0; i < glance->part_count; i++)
        add_part(&glance->parts[i], run, out);
    text_addf(out, "<script>\n%s</script>\n</body>\n</html>\n", glance_script);
}
