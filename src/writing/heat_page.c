#include "writing/pages.h"
#include "writing/words.h"

#include "planning/gaps.h"

enum { DATE, TMIN, TMAX, UNITS, SUM, COLUMNS };
static const struct sheet_column columns[COLUMNS] = {
    [DATE] = {"date", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [TMIN] = {"tmin_c", NULL, CELL_TEMPERATURE, 2, COLUMN_EVERYWHERE},
    [TMAX] = {"tmax_c", NULL, CELL_TEMPERATURE, 2, COLUMN_EVERYWHERE},
    [UNITS] = {"heat_units", "heat units", CELL_HEAT, 2, COLUMN_EVERYWHERE},
    [SUM] = {"heat_sum", "heat sum", CELL_HEAT, 2, COLUMN_EVERYWHERE},
};

/* A clock that counts something else has columns of its own, headed by its unit. */
enum { CHILLING_SUM = COLUMNS, COUNT_COLUMNS };
static const struct sheet_column count_columns[COUNT_COLUMNS] = {
    [DATE] = {"date", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [TMIN] = {"tmin_c", NULL, CELL_TEMPERATURE, 2, COLUMN_EVERYWHERE},
    [TMAX] = {"tmax_c", NULL, CELL_TEMPERATURE, 2, COLUMN_EVERYWHERE},
    [UNITS] = {"units", "units", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [SUM] = {"sum", "sum", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [CHILLING_SUM] = {"chilling_sum", "chilling", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
};

static const struct sheet_column *columns_of(const struct clock *clock, size_t *count,
                                             struct arena *arena)
{
    struct sheet_column *made = ARENA_ARRAY(arena, COUNT_COLUMNS, struct sheet_column);
    bool after_chilling = clock->after_chilling.counts != NULL;
    for (int i = 0; i < COUNT_COLUMNS; i++)
        made[i] = count_columns[i];
    if (clock->counts) {
        made[UNITS].title = clock->counts->unit;
    } else {
        made[UNITS] = columns[UNITS];
        made[SUM] = columns[SUM];
    }
    if (after_chilling)
        made[CHILLING_SUM].title =
            arena_printf(arena, "sum of %s", clock->after_chilling.counts->unit);
    *count = after_chilling                                                 ? COUNT_COLUMNS
             : clock->counts && clock->counts->of == CONETIDE_OF_DAY_LENGTH ? SUM
                                                                            : COLUMNS;
    return made;
}

struct sheet heat_sheet(const struct heat_days *heat, struct arena *arena)
{
    struct sheet sheet;
    size_t column_count = COLUMNS;
    const struct sheet_column *chosen =
        heat->clock ? columns_of(heat->clock, &column_count, arena) : columns;
    sheet_init(&sheet, arena, heat->clock ? "conetide heat count 1" : "conetide heat 1",
               column_count, chosen);
    for (size_t i = 0; i < heat->count; i++) {
        union cell *row = sheet_row(&sheet);
        row[DATE].day = heat->first_day + (daynum)i;
        row[TMIN].number = heat->tmin_c[i];
        row[TMAX].number = heat->tmax_c[i];
        row[UNITS].number = heat->heat_units[i];
        if (column_count > SUM)
            row[SUM].number = heat->heat_sum[i];
        if (heat->chilling_sum)
            row[CHILLING_SUM].number = heat->chilling_sum[i];
    }
    if (heat->morning)
        text_add(&sheet.foot,
                 "the station is read in the morning: each maximum stands on the day before\n");
    if (heat->filled_days) {
        words_add_count(&sheet.foot, heat->filled_days, "day", "days");
        text_addf(&sheet.foot, " filled: gaps of at most %d days lie on a line\n", GAP_LINEAR_MOST);
    }
    if (heat->missing_days) {
        words_add_count(&sheet.foot, heat->missing_days, "day", "days");
        text_add(&sheet.foot, " missing: the sum is unknown until summing starts again\n");
    }
    if (heat->own_minimum_as_next)
        text_add(&sheet.foot, "the last day took its own minimum as that of the day after\n");
    return sheet;
}
