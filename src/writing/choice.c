#include "writing/choice.h"

#include "base/number.h"
#include "writing/cell.h"

#include <math.h>
#include <string.h>

bool choice_is_all(const struct choice *choice)
{
    return choice->column_count == 0 && choice->test_count == 0;
}

size_t choice_find(const struct sheet *sheet, const char *name)
{
    size_t i = 0;
    while (i < sheet->column_count &&
           !(column_in_data(&sheet->columns[i]) && strcmp(sheet->columns[i].name, name) == 0))
        i++;
    return i;
}

bool choice_fits(const struct sheet *sheet, const struct choice *choice)
{
    bool any = choice->column_count == 0;
    for (size_t i = 0; i < choice->test_count; i++)
        if (choice_find(sheet, choice->tests[i].column) == sheet->column_count)
            return false;
    for (size_t i = 0; i < choice->column_count; i++)
        any = any || choice_find(sheet, choice->columns[i]) < sheet->column_count;
    return any;
}

static bool is_word(size_t length, const char *value, struct text *cell,
                    const struct sheet_column *column)
{
    double asked, has;
    if (length == cell->length && strncmp(value, cell->bytes, length) == 0)
        return true;
    /* 12 is 12.0, 0.50 is 0.5 */
    return column->kind != CELL_TEXT && column->kind != CELL_DAY &&
           number_parse(length, value, &asked) && number_parse(cell->length, cell->bytes, &has) &&
           !(fabs(asked - has) > 0);
}

static bool holds(const struct sheet_column *column, union cell cell, const char *values,
                  struct text *scratch)
{
    const struct sheet_style exact = {.digits = -1};
    text_clear(scratch);
    cell_add_data(scratch, column, cell, exact);
    if (strcmp(values, scratch->bytes) == 0)
        return true;
    for (const char *at = values; *at;) {
        size_t length = strcspn(at, ",");
        if (length > 0 && is_word(length, at, scratch, column))
            return true;
        at += length + (at[length] == ',');
    }
    return false;
}

/* The rows for which every test holds, with their cells as they stand. */
static struct sheet rows_of(const struct sheet *sheet, const struct choice *choice)
{
    struct sheet left = *sheet;
    struct text scratch;
    text_init(&scratch, sheet->arena);
    left.cells = NULL;
    left.row_count = left.row_capacity = 0;
    left.shown = NULL;
    for (size_t r = 0; r < sheet->row_count; r++) {
        const union cell *row = sheet->cells + r * sheet->column_count;
        bool all = true;
        for (size_t i = 0; i < choice->test_count; i++) {
            size_t at = choice_find(sheet, choice->tests[i].column);
            all = all && holds(&sheet->columns[at], row[at], choice->tests[i].values, &scratch);
        }
        if (all)
            memcpy(sheet_row(&left), row, sheet->column_count * sizeof *row);
    }
    return left;
}

/* Do the rows that people see have cells in every column tested? */
static bool shown_has(const struct sheet *shown, const struct choice *choice)
{
    for (size_t i = 0; i < choice->test_count; i++) {
        size_t at = choice_find(shown, choice->tests[i].column), r = 0;
        while (r < shown->row_count &&
               cell_is_missing(&shown->columns[at], shown->cells[r * shown->column_count + at]))
            r++;
        if (r == shown->row_count)
            return false;
    }
    return true;
}

/* The columns asked for, or all of CSV, in every form; the foot is a key to others. */
static struct sheet columns_of(const struct sheet *sheet, const struct choice *choice)
{
    size_t most = choice->column_count ? choice->column_count : sheet->column_count, count = 0;
    struct sheet_column *columns = ARENA_ARRAY(sheet->arena, most, struct sheet_column);
    size_t *from = ARENA_ARRAY(sheet->arena, most, size_t);
    struct sheet left = *sheet;

    for (size_t i = 0; i < most; i++) {
        size_t at = choice->column_count ? choice_find(sheet, choice->columns[i]) : i;
        if (at == sheet->column_count || !column_in_data(&sheet->columns[at]))
            continue;
        columns[count] = sheet->columns[at];
        columns[count].title = NULL;
        columns[count].where = COLUMN_EVERYWHERE;
        from[count++] = at;
    }
    text_init(&left.foot, sheet->arena);
    left.columns = columns;
    left.column_count = count;
    left.cells = NULL;
    left.row_count = left.row_capacity = 0;
    left.shown = NULL;
    for (size_t r = 0; r < sheet->row_count; r++) {
        union cell *row = sheet_row(&left);
        for (size_t i = 0; i < count; i++)
            row[i] = sheet->cells[r * sheet->column_count + from[i]];
    }
    return left;
}

struct sheet choice_take(const struct sheet *sheet, const struct choice *choice)
{
    struct sheet left = rows_of(sheet, choice);
    if (choice->column_count > 0)
        return columns_of(&left, choice);
    if (!sheet->shown)
        return left;
    if (!shown_has(sheet->shown, choice))
        return columns_of(&left, choice);
    left.shown = ARENA_NEW(sheet->arena, struct sheet);
    *left.shown = rows_of(sheet->shown, choice);
    return left;
}

const char *const *choice_words(const char *list, struct arena *arena, size_t *count)
{
    const char **words = ARENA_ARRAY(arena, strlen(list) + 1, const char *);
    *count = 0;
    for (const char *at = list; *at;) {
        size_t end = strcspn(at, ","), length = end, blanks = strspn(at, " ");
        const char *word = at + (blanks < end ? blanks : end);
        length -= (size_t)(word - at);
        while (length > 0 && word[length - 1] == ' ')
            length--;
        if (length > 0)
            words[(*count)++] = arena_text(arena, length, word);
        at += end + (at[end] == ',');
    }
    return words;
}
