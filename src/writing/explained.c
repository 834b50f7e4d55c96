#include "writing/dictionary.h"

#include "writing/cell.h"

#include <string.h>

/* Columns that come in threes share the words of their stem. */
static const struct {
    const char *suffix, *words;
} suffixes[] = {
    {"_p10", "1 chance in 10 that it comes earlier"},
    {"_p50", "as likely earlier as later"},
    {"_p90", "9 chances in 10 that it comes by then"},
    {"_expected", "expected"},
    {"_low", "with the low of every rate"},
    {"_high", "with the high of every rate"},
};

static bool is_of(const struct meaning *meaning, const char *schema)
{
    size_t length;
    if (!meaning->schema)
        return true;
    if (strncmp(schema, "conetide ", 9) == 0)
        schema += 9;
    length = strlen(meaning->schema);
    return strncmp(schema, meaning->schema, length) == 0 && schema[length] == ' ' &&
           !strchr(schema + length + 1, ' ');
}

/* The table's own meaning before that of every table. */
static const struct meaning *find(const char *schema, size_t length, const char *name)
{
    const struct meaning *found = NULL;
    for (const struct meaning *row = dictionary; row->name; row++)
        if (strlen(row->name) == length && strncmp(row->name, name, length) == 0 &&
            is_of(row, schema) && (!found || row->schema))
            found = row;
    return found;
}

const char *dictionary_words(const char *schema, const char *name, struct arena *arena)
{
    const struct meaning *meaning = find(schema, strlen(name), name);
    if (meaning)
        return meaning->words;
    for (size_t i = 0; i < sizeof suffixes / sizeof *suffixes; i++) {
        size_t length = strlen(name), cut = strlen(suffixes[i].suffix);
        if (length <= cut || strcmp(name + length - cut, suffixes[i].suffix) != 0)
            continue;
        meaning = find(schema, length - cut, name);
        if (meaning)
            return arena_printf(arena, "%s: %s", meaning->words, suffixes[i].words);
    }
    return NULL;
}

static const char *kind_words(enum cell_kind kind)
{
    switch (kind) {
    case CELL_TEXT:
        return "text";
    case CELL_DAY:
        return "day";
    case CELL_INTEGER:
        return "whole number";
    default:
        return "number";
    }
}

static const char *unit_of(const char *schema, const struct sheet_column *column)
{
    static const char *const by_suffix[][2] = {
        {"_min", "minutes"}, {"_minutes", "minutes"}, {"_ml", "ml"},  {"_days", "days"},
        {"_pct", "%"},       {"_h", "hours"},         {"_hours", "h"}};
    const struct meaning *meaning = find(schema, strlen(column->name), column->name);
    size_t length = strlen(column->name);
    if (meaning && meaning->unit)
        return meaning->unit;
    switch (column->kind) {
    case CELL_TEXT:
        return NULL;
    case CELL_DAY:
        return "YYYY-MM-DD";
    case CELL_TEMPERATURE:
        return "deg C";
    case CELL_HEAT:
        return "deg C day";
    case CELL_LENGTH:
        return "m";
    case CELL_CHANCE:
        return "0 to 1";
    default:
        break;
    }
    for (size_t i = 0; i < sizeof by_suffix / sizeof *by_suffix; i++) {
        size_t cut = strlen(by_suffix[i][0]);
        if (length > cut && strcmp(column->name + length - cut, by_suffix[i][0]) == 0)
            return by_suffix[i][1];
    }
    return NULL;
}

enum { SCHEMA, COLUMN, KIND, UNIT, MEANING, COLUMNS };
static const struct sheet_column columns[COLUMNS] = {
    [SCHEMA] = {"schema", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [COLUMN] = {"column", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [KIND] = {"kind", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [UNIT] = {"unit", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [MEANING] = {"meaning", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

struct sheet dictionary_sheet(size_t count, const struct sheet *sheets, struct arena *arena)
{
    struct sheet sheet;
    sheet_init(&sheet, arena, "conetide explain 1", COLUMNS, columns);
    for (size_t s = 0; s < count; s++)
        for (size_t i = 0; i < sheets[s].column_count; i++) {
            const struct sheet_column *column = &sheets[s].columns[i];
            union cell *row;
            if (!column_in_data(column))
                continue;
            row = sheet_row(&sheet);
            row[SCHEMA].text = sheets[s].schema;
            row[COLUMN].text = column->name;
            row[KIND].text = kind_words(column->kind);
            row[UNIT].text = unit_of(sheets[s].schema, column);
            row[MEANING].text = dictionary_words(sheets[s].schema, column->name, arena);
        }
    return sheet;
}
