/*
 * Days that no work of this orchard can have: a mistyped year is the commonest fault of a date.
 */
#include "orchard/audit.h"
#include "orchard/order.h"

#include <string.h>

enum { YEAR_FIRST = 1950, YEARS_AHEAD = 5, YEARS_REPLAYED = 20, YEAR_DAYS = 366 };

enum may_be { PAST_ONLY, MAY_LIE_AHEAD };

/* Days of one cell that lie ahead: told once, for a clock or an --as-of that is wrong moves all. */
struct ahead {
    const char *cell;
    struct place place; /* of the first row */
    daynum day;
    size_t count;
};

enum { AHEAD_CELLS = 12 };

struct bounds {
    struct audit *audit;
    daynum first, last;
    daynum last_planned; /* of what may lie ahead */
    struct ahead ahead[AHEAD_CELLS];
    size_t ahead_count;
};

static void add_ahead(struct bounds *bounds, struct place place, const char *cell, daynum day)
{
    size_t i = 0;
    while (i < bounds->ahead_count && (strcmp(bounds->ahead[i].cell, cell) != 0 ||
                                       order_text(bounds->ahead[i].place.file, place.file) != 0))
        i++;
    if (i == AHEAD_CELLS)
        return;
    if (i == bounds->ahead_count)
        bounds->ahead[bounds->ahead_count++] = (struct ahead){cell, place, day, 0};
    struct ahead *ahead = &bounds->ahead[i];
    ahead->count++;
    if (order_place(place, ahead->place) < 0) {
        ahead->place = place;
        ahead->day = day;
    }
}

static void tell_ahead(const struct bounds *bounds)
{
    for (size_t i = 0; i < bounds->ahead_count; i++) {
        const struct ahead *ahead = &bounds->ahead[i];
        char day[DAY_TEXT], today[DAY_TEXT];
        const char *more = "";
        if (ahead->count > 1)
            more = arena_printf(bounds->audit->arena, ", as do %zu more rows", ahead->count - 1);
        diag_warning(
            bounds->audit->diags, ahead->place, "date-ahead",
            "'%s' is %s, which lies after %s%s, expected what has happened, correct the year "
            "or wait for the day",
            ahead->cell, day_text(ahead->day, day), day_text(bounds->audit->today, today), more);
    }
}

static void check_day(struct bounds *bounds, struct place place, const char *cell, daynum day,
                      enum may_be may_be)
{
    char text[DAY_TEXT], end[DAY_TEXT];
    if (day == DAY_NONE)
        return;
    daynum last = may_be == MAY_LIE_AHEAD ? bounds->last_planned : bounds->last;
    if (day < bounds->first || day > last)
        diag_error(bounds->audit->diags, place, "date-out-of-range",
                   "'%s' is %s, expected a day from %d to %s, correct the year", cell,
                   day_text(day, text), YEAR_FIRST, day_text(last, end));
    else if (may_be == PAST_ONLY && day > bounds->audit->today)
        add_ahead(bounds, place, cell, day);
}

static void check_rows_of_plants(struct bounds *bounds)
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

static void check_rows_of_time(struct bounds *bounds)
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

/* A season of long ago is replayed with the working times of the folder as it is, so years ahead
 * are counted from the first of them. */
static daynum first_planned(const struct audit *audit)
{
    const struct orchard *orchard = audit->orchard;
    daynum first = audit->today + YEARS_REPLAYED * YEAR_DAYS;
    for (size_t i = 0; i < orchard->crews.count; i++)
        first = orchard->crews.list[i].from < first ? orchard->crews.list[i].from : first;
    for (size_t i = 0; i < orchard->lifts.count; i++)
        first = orchard->lifts.list[i].from < first ? orchard->lifts.list[i].from : first;
    return first > audit->today && orchard->crews.count + orchard->lifts.count ? first
                                                                               : audit->today;
}

static void tell_forecasts_ahead(struct audit *audit)
{
    for (size_t i = 0; i < audit->orchard->forecasts.count; i++) {
        const struct forecast *forecast = &audit->orchard->forecasts.list[i];
        char text[DAY_TEXT], today[DAY_TEXT];
        if (forecast->issued > audit->today)
            diag_warning(audit->diags, forecast->place, "date-ahead",
                         "the forecast was issued on %s, which lies after %s, expected one that "
                         "has been issued, correct the file or wait for the day",
                         day_text(forecast->issued, text), day_text(audit->today, today));
    }
}

void audit_dates(struct audit *audit)
{
    struct bounds bounds = {
        .audit = audit,
        .first = day_from_civil(YEAR_FIRST, 1, 1),
        .last = audit->today + YEARS_AHEAD * YEAR_DAYS,
        .last_planned = first_planned(audit) + YEARS_AHEAD * YEAR_DAYS,
    };
    check_rows_of_plants(&bounds);
    check_rows_of_time(&bounds);
    tell_ahead(&bounds);
    /* Weather may be old, but not ahead. */
    for (size_t i = 0; i < audit->orchard->records.count; i++) {
        const struct record *record = &audit->orchard->records.list[i];
        struct place place = audit_weather_place(audit, record);
        daynum last = record->first_day + (daynum)record->count - 1;
        char text[DAY_TEXT], today[DAY_TEXT];
        if (record->count && last > audit->today)
            diag_warning(audit->diags, place, "date-ahead",
                         "the last observed day of station %s is %s, which lies after %s, expected "
                         "what has been "
                         "observed, correct the year",
                         audit_quote(audit, record->station), day_text(last, text),
                         day_text(audit->today, today));
    }
    tell_forecasts_ahead(audit);
}
