#include "reading/dated.h"

#include "reading/columns.h"

#include <string.h>

#define AT(member) .offset = offsetof(struct dated_event, member)

enum { NOT_BEFORE = 5 };

static const struct column dated_columns[] = {
    {.name = "site", .kind = COLUMN_NAME, .required = true, AT(site_name)},
    {.name = "selection", .kind = COLUMN_NAME, AT(selection_name)},
    {.name = "event",
     .kind = COLUMN_WORD,
     .required = true,
     AT(event),
     .blank = -1,
     .words = {EVENTS, event_names}},
    {.name = "tag", .kind = COLUMN_NAME, AT(tag)},
    {.name = "date", .kind = COLUMN_DAY, .expected = true, AT(date)},
    [NOT_BEFORE] = {.name = "not_before", .kind = COLUMN_DAY, AT(not_before)},
};

static bool tell(struct reader *reader, const char *column, const char *code, const char *message)
{
    diag_error(reader->diags, reader_place(reader, column), code, "%s", message);
    return false;
}

static bool finish_dated(struct reader *reader, void *row)
{
    const struct dated_event *event = row;
    if (event->event == EVENT_BAG_BY)
        return tell(reader, "event", "derived-event",
                    "'bag_by' is the day before 'opening', expected an event that is seen, give "
                    "the dates of 'opening'");
    if (!reader_filled(reader, "date") && !reader_filled(reader, "not_before"))
        return tell(reader, "date", "event-without-date",
                    "neither 'date' nor 'not_before', expected one of them, fill it in or remove "
                    "the row");
    if (event->date != DAY_NONE && event->not_before != DAY_NONE &&
        event->not_before >= event->date)
        return tell(reader, "not_before", "dates-crossed",
                    "'not_before' is not before 'date', expected the last day on which the event "
                    "had not come yet, correct one");
    return event->date != DAY_NONE || event->not_before != DAY_NONE;
}

static const struct table dated_table = {.name = "dates",
                                         .row_bytes = sizeof(struct dated_event),
                                         TABLE_COLUMNS(dated_columns),
                                         .finish = finish_dated};

static bool has_column(const struct reader *reader, const struct column *column)
{
    for (size_t i = 0; i < reader->header_count; i++)
        if (reader->header[i] == column)
            return true;
    return false;
}

static void take_dated(struct reader *reader, const void *noun, void *context)
{
    struct dated_events *events = context;
    struct dated_event event = *(const struct dated_event *)noun;

    if (!has_column(reader, &dated_columns[NOT_BEFORE])) /* dates to the day */
        event.not_before = event.date - 1;
    *ARENA_PUSH(reader->arena, events->list, events->count, events->capacity) = event;
}

bool read_dated(struct dated_events *events, const struct orchard *orchard,
                const struct source *source, struct diags *diags)
{
    struct reader reader = {.table = &dated_table,
                            .diags = diags,
                            .arena = orchard->arena,
                            .program = &orchard->program};

    return reader_run(&reader, source, (struct row_taker){take_dated, events});
}
