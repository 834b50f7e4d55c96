#include "planning/season_account.h"

#include "planning/season_stretch.h"

struct season_account season_account_of(const struct station_record *record, daynum first_day,
                                        size_t days, struct arena *arena)
{
    struct season_account account = {0, 0, 0, 0, 0};
    struct known_record known = known_record_of(&record->series, DAY_LAST);
    struct stretch stretch = stretch_new(arena);

    stretch_read(&stretch, &known, first_day, days);
    for (size_t i = 0; i < days; i++) {
        if (stretch_is_missing(&stretch, i)) {
            account.open++;
            continue;
        }
        switch (station_record_kind(record, first_day + (daynum)i)) {
        case DAY_OBSERVED:
            account.observed++;
            break;
        case DAY_NEIGHBOUR:
            account.neighbour++;
            break;
        case DAY_FORECAST:
            account.forecast++;
            break;
        case DAY_OPEN:
            account.on_line++;
            break;
        }
    }
    return account;
}
