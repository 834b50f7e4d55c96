/*
 * Days that no work of this orchard can have: a mistyped year is the commonest fault of a date.
 */
#include "orchard/audit.h"

enum { YEAR_FIRST = 1950, YEARS_AHEAD = 5 };

enum may_be { PAST_ONLY, MAY_LIE_AHEAD };

struct bounds {
    struct audit *audit;
    daynum first, last;
};

static void check_day(const struct bounds *bounds, struct place place, const char *cell, daynum day,
                      enum may_be may_be)
{
    char text[DAY_TEXT], today[DAY_TEXT];
    if (day == DAY_NONE)
        return;
    if (day < bounds->first || day > bounds->last)
        diag_error(bounds->audit->diags, place, "date-out-of-range",
                   "%s is %s, expected a day from %d to %d years after %s, correct the year", cell,
                   day_text(day, text), YEAR_FIRST, YEARS_AHEAD,
                   day_text(bounds->audit->today, today));
    else if (may_be == PAST_ONLY && day > bounds->audit->today)
        diag_warning(
            bounds->audit->diags, place, "date-ahead",
            "%s is %s, which lies after %s, expected what has happened, correct the year or "
            "wait for the day",
            cell, day_text(day, text), day_text(bounds->audit->today, today));
}

static void check_rows_of_plants(const struct bounds *bounds)
{
    const struct orchard *orchard = bounds->audit->orchard;
    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *row = &orchard->trees.list[i];
        check_day(bounds, row->place, "health_on", row->health_on, PAST_ONLY);
        check_day(bounds, row->place, "label_checked_on", row->label_checked_on, PAST_ONLY);
    }
    for (size_t i = 0; i < orchard->batches.count; i++) {
        const struct batch *row = &orchard->batches.list[i];
        check_day(bounds, row->place, "cut_on", row->cut_on, PAST_ONLY);
        check_day(bounds, row->place, "discarded_on", row->discarded_on, PAST_ONLY);
    }
    for (size_t i = 0; i < orchard->grafts.count; i++) {
        const struct graft *row = &orchard->grafts.list[i];
        if (!row->from_note) /* its note is looked at */
            check_day(bounds, row->place, "grafted_on", row->grafted_on, PAST_ONLY);
        check_day(bounds, row->place, "condition_on", row->condition_on, PAST_ONLY);
        check_day(bounds, row->place, "identity_on", row->identity_on, PAST_ONLY);
    }
    for (size_t i = 0; i < orchard->lots.count; i++) {
        const struct lot *row = &orchard->lots.list[i];
        check_day(bounds, row->place, "ready_on", row->ready_on, MAY_LIE_AHEAD);
        check_day(bounds, row->place, "measured_on", row->measured_on, PAST_ONLY);
        check_day(bounds, row->place, "tested_on", row->tested_on, PAST_ONLY);
    }
}

static void check_rows_of_time(const struct bounds *bounds)
{
    const struct orchard *orchard = bounds->audit->orchard;
    for (size_t i = 0; i < orchard->crews.count; i++) {
        const struct crew_time *row = &orchard->crews.list[i];
        check_day(bounds, row->place, "from", row->from, MAY_LIE_AHEAD);
        check_day(bounds, row->place, "to", row->to, MAY_LIE_AHEAD);
    }
    for (size_t i = 0; i < orchard->lifts.count; i++) {
        const struct lift_time *row = &orchard->lifts.list[i];
        check_day(bounds, row->place, "from", row->from, MAY_LIE_AHEAD);
        check_day(bounds, row->place, "to", row->to, MAY_LIE_AHEAD);
    }
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *row = &orchard->notes.list[i];
        check_day(bounds, row->place, "date", row->date, PAST_ONLY);
    }
}

void audit_dates(struct audit *audit)
{
    struct bounds bounds = {
        .audit = audit,
        .first = day_from_civil(YEAR_FIRST, 1, 1),
        .last = audit->today + YEARS_AHEAD * 366,
    };
    check_rows_of_plants(&bounds);
    check_rows_of_time(&bounds);
    /* Weather may be old, but not ahead. */
    for (size_t i = 0; i < audit->orchard->records.count; i++) {
        const struct record *record = &audit->orchard->records.list[i];
        struct place place = {.file = arena_printf(audit->arena, "weather/%s", record->station)};
        daynum last = record->first_day + (daynum)record->count - 1;
        char text[DAY_TEXT], today[DAY_TEXT];
        if (record->count && last > audit->today)
            diag_warning(audit->diags, place, "date-ahead",
                         "the last observed day is %s, which lies after %s, expected what has been "
                         "observed, correct the year",
                         day_text(last, text), day_text(audit->today, today));
    }
}
