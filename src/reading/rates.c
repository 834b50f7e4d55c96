#include "reading/tables.h"

#include "base/number.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#define AT(member) .offset = offsetof(struct rate, member)
#define MINUTES "minutes_each:"

/* Shares lie between 0 and 1. */
static const char *const rates[] = {
    "survival",   "strobili_per_live_graft", "bags_per_graft", "strobili_per_bag", "conelets_kept",
    "cones_kept", "seeds_per_cone",          "bags_lost",      "minutes_each:TASK"};
static const struct words rate_words = {COUNT_OF(rates), rates};
static const char *const shares[] = {"survival", "conelets_kept", "cones_kept", "bags_lost"};
static const struct words share_words = {COUNT_OF(shares), shares};

/* One of the rates, or `minutes_each:` and a task. */
static bool read_rate(struct reader *reader, const struct cell *cell, void *noun)
{
    struct rate *rate = noun;
    size_t prefix = sizeof MINUTES - 1;
    if (strncmp(cell->text, MINUTES, prefix) == 0 && cell->length > prefix) {
        if (!cell_check_name(reader, cell->length - prefix, cell->text + prefix))
            return false;
    } else if (words_find(cell->text, rate_words) < 0) {
        cell_tell_word(reader, "rate", cell->text, rate_words);
        return false;
    }
    rate->rate = arena_text(reader->arena, cell->length, cell->text);
    return true;
}

static const struct column rate_columns[] = {
    {.name = "rate", .kind = COLUMN_OWN, .required = true, .read = read_rate},
    {.name = "host_species", .kind = COLUMN_NAME, AT(host_species)},
    {.name = "clone", .kind = COLUMN_NAME, AT(clone)},
    {.name = "site", .kind = COLUMN_NAME, AT(site_name)},
    {.name = "selection", .kind = COLUMN_NAME, AT(selection_name)},
    {.name = "season_number", .kind = COLUMN_WHOLE, AT(season_number), .least = 1, .most = 2},
    {.name = "value",
     .kind = COLUMN_DECIMAL,
     .required = true,
     AT(value),
     .least = 0,
     .most = 100000},
    {.name = "low", .kind = COLUMN_NUMBER, AT(low), .least = 0, .most = 100000, .blank = NAN},
    {.name = "high", .kind = COLUMN_NUMBER, AT(high), .least = 0, .most = 100000, .blank = NAN},
    {.name = "seen", .kind = COLUMN_WHOLE, AT(seen), .least = 0, .most = 100000000, .blank = -1},
    {.name = "source", .kind = COLUMN_TEXT, AT(source)},
};

static bool finish_rate(struct reader *reader, void *row)
{
    struct rate *rate = row;
    rate->shipped = reader->shipped;
    if (rate->rate == NULL || words_find(rate->rate, share_words) < 0 ||
        number_of_decimal(rate->value) <= 1)
        return true;
    diag_error(reader->diags, reader_place(reader, "value"), "out-of-range",
               "'%s' is more than 1, expected a share from 0 to 1, write 70 percent as 0.7",
               rate->rate);
    return false;
}

static void append_rate(struct orchard *orchard, const void *row)
{
    APPEND(orchard, rate, rates, row);
}

const struct table rate_table = {.name = "rates.csv",
                                 .row_bytes = sizeof(struct rate),
                                 TABLE_COLUMNS(rate_columns),
                                 .finish = finish_rate,
                                 .append = append_rate};
