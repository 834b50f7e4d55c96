#include "reading/tables.h"

#include <math.h>
#include <stddef.h>

#define AT(member) .offset = offsetof(struct threshold, member)

static const char *const bases[] = {"fitted", "borrowed", "calendar"};
static const enum basis basis_of_word[] = {BASIS_FITTED_HERE, BASIS_BORROWED, BASIS_CALENDAR};

static const struct column threshold_columns[] = {
    {.name = "event",
     .kind = COLUMN_WORD,
     .required = true,
     AT(event),
     .blank = -1, /* what was no event is not the first of them */
     .words = {EVENTS, event_names}},
    {.name = "species", .kind = COLUMN_NAME, AT(species)},
    {.name = "site", .kind = COLUMN_NAME, AT(site_name)},
    {.name = "selection", .kind = COLUMN_NAME, AT(selection_name)},
    {.name = "clock", .kind = COLUMN_NAME, AT(clock_name)},
    {.name = "heat_units_c",
     .kind = COLUMN_NUMBER,
     AT(heat_units_c),
     .least = 0,
     .most = 20000,
     .blank = NAN},
    {.name = "heat_units_f",
     .kind = COLUMN_NUMBER,
     AT(heat_units_c),
     .least = 0,
     .most = 36000,
     .blank = NAN,
     .unit = UNIT_FAHRENHEIT_SUM},
    {.name = "per_day_c", .kind = COLUMN_NUMBER, AT(per_day_c), .least = -200, .most = 200},
    {.name = "per_day_f",
     .kind = COLUMN_NUMBER,
     AT(per_day_c),
     .least = -360,
     .most = 360,
     .unit = UNIT_FAHRENHEIT_SUM},
    {.name = "clock_units",
     .kind = COLUMN_NUMBER,
     AT(clock_units),
     .least = 0,
     .most = 20000,
     .blank = NAN},
    {.name = "after", .kind = COLUMN_WORD, AT(after), .words = {EVENTS, event_names}},
    {.name = "days", .kind = COLUMN_WHOLE, AT(after_days), .least = -366, .most = 366},
    {.name = "calendar_day", .kind = COLUMN_MONTH_DAY, AT(calendar_day)},
    {.name = "residual_days",
     .kind = COLUMN_NUMBER,
     AT(residual_days),
     .least = 0,
     .most = 120,
     .blank = NAN},
    {.name = "spread_days",
     .kind = COLUMN_NUMBER,
     AT(spread_days),
     .least = 0,
     .most = 120,
     .blank = NAN},
    {.name = "clone_spread_days",
     .kind = COLUMN_NUMBER,
     AT(clone_spread_days),
     .least = 0,
     .most = 120,
     .blank = NAN},
    {.name = "basis", .kind = COLUMN_WORD, AT(basis), .words = {COUNT_OF(bases), bases}},
    {.name = "seasons_seen",
     .kind = COLUMN_WHOLE,
     AT(seasons_seen),
     .least = 0,
     .most = 1000,
     .blank = -1},
    {.name = "source", .kind = COLUMN_TEXT, AT(source)},
};

static bool tell(struct reader *reader, const char *column, const char *code, const char *message)
{
    diag_error(reader->diags, reader_place(reader, column), code, "%s", message);
    return false;
}

static bool either_filled(const struct reader *reader, const char *one, const char *other)
{
    return reader_filled(reader, one) || reader_filled(reader, other);
}

/* Which of the three kinds is filled in, whole and alone? */
static bool read_kind(struct reader *reader, enum threshold_kind *kind)
{
    bool clock = reader_filled(reader, "clock");
    bool degrees = either_filled(reader, "heat_units_c", "heat_units_f");
    bool units = degrees || reader_filled(reader, "clock_units");
    bool after = reader_filled(reader, "after");
    bool days = reader_filled(reader, "days");
    bool calendar = reader_filled(reader, "calendar_day");
    int kinds = (clock || units) + (after || days) + calendar;
    if (kinds == 0)
        return tell(reader, "event", "threshold-without-rule",
                    "no rule, expected 'clock' with 'heat_units_c' or 'clock_units', 'after' with "
                    "'days', or 'calendar_day', fill one in");
    if (kinds > 1)
        return tell(reader, "event", "threshold-with-two-rules",
                    "more than one rule, expected one of 'clock' with its units, 'after' with "
                    "'days', and 'calendar_day', clear the others");
    if (degrees && reader_filled(reader, "clock_units"))
        return tell(reader, "clock_units", "threshold-with-two-rules",
                    "beside heat units, expected the one that the clock counts, clear the other");
    if (clock != units)
        return tell(
            reader, clock ? "clock" : "event", "half-a-threshold",
            "a sum without its clock or a clock without its sum, expected 'clock' and one of "
            "'heat_units_c', 'heat_units_f' and 'clock_units', fill in both");
    if (after != days)
        return tell(
            reader, after ? "after" : "days", "half-a-threshold",
            "'after' without 'days' or 'days' without 'after', expected both, fill in both");
    if (!degrees && either_filled(reader, "per_day_c", "per_day_f"))
        return tell(reader, "event", "half-a-threshold",
                    "'per_day' without a heat sum, expected it beside 'clock' and 'heat_units_c', "
                    "clear it");
    *kind = clock ? THRESHOLD_SUM : after ? THRESHOLD_AFTER : THRESHOLD_CALENDAR;
    return true;
}

static bool finish_threshold(struct reader *reader, void *row)
{
    struct threshold *threshold = row;
    threshold->basis = basis_of_word[(int)threshold->basis];
    threshold->shipped = reader->shipped;
    threshold->clock_place = reader_place(reader, "clock");
    threshold->units_place =
        reader_place(reader, reader_filled(reader, "clock_units")    ? "clock_units"
                             : reader_filled(reader, "heat_units_f") ? "heat_units_f"
                                                                     : "heat_units_c");
    if (!read_kind(reader, &threshold->kind))
        return false;
    if (threshold->event == EVENT_BAG_BY)
        return tell(reader, "event", "derived-event",
                    "'bag_by' has no threshold, it is the day before 'opening', give that one's");
    if (threshold->kind == THRESHOLD_AFTER && threshold->after == threshold->event)
        return tell(
            reader, "after", "after-itself",
            "'after' names the event of its own row, expected another event, correct one of them");
    /* A rule whose cell was a fault, which has been told, is no rule. */
    switch (threshold->kind) {
    case THRESHOLD_SUM:
        return threshold->clock_name != NULL &&
               (!isnan(threshold->heat_units_c) || !isnan(threshold->clock_units));
    case THRESHOLD_AFTER:
        return true;
    case THRESHOLD_CALENDAR:
        return threshold->calendar_day.month > 0;
    }
    return false;
}

static void append_threshold(struct orchard *orchard, const void *row)
{
    APPEND(orchard, threshold, thresholds, row);
}

const struct table threshold_table = {.name = "thresholds.csv",
                                      .row_bytes = sizeof(struct threshold),
                                      TABLE_COLUMNS(threshold_columns),
                                      .finish = finish_threshold,
                                      .append = append_threshold};
