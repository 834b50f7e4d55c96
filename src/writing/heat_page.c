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

struct sheet heat_sheet(const struct heat_days *heat, struct arena *arena)
{
    struct sheet sheet;
    sheet_init(&sheet, arena, "conetide heat 1", COLUMNS, columns);
    for (size_t i = 0; i < heat->count; i++) {
        union cell *row = sheet_row(&sheet);
        row[DATE].day = heat->first_day + (daynum)i;
        row[TMIN].number = heat->tmin_c[i];
        row[TMAX].number = heat->tmax_c[i];
        row[UNITS].number = heat->heat_units[i];
        row[SUM].number = heat->heat_sum[i];
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
