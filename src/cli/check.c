/* check.c - "check": every fault of a programme folder, all at once. */
#include "cli/command.h"

#include "planning/neighbour_offset.h"
#include "planning/task_audit.h"

#include <math.h>
#include <string.h>

static const struct option_row check_options[] = {
    OPTION("strict", NULL, OPTION_FLAG, strict, "warnings count as errors for the exit status"),
    OPTIONS_END,
};

static const struct sheet_column fault_columns[] = {
    {"file", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    {"line", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    {"cell", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    {"level", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    {"code", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    {"message", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

#define FAULT_COLUMNS (sizeof fault_columns / sizeof *fault_columns)

static struct sheet faults_sheet(const struct diags *diags, struct arena *arena)
{
    struct sheet sheet;

    sheet_init(&sheet, arena, "conetide check 1", FAULT_COLUMNS, fault_columns);
    for (size_t i = 0; i < diags->count; i++) {
        const struct diag *diag = &diags->list[i];
        union cell *row = sheet_row(&sheet);

        row[0].text = diag->place.file;
        if (diag->place.line)
            row[1].number = diag->place.line;
        if (diag->place.cell)
            row[2].number = diag->place.cell;
        row[3].text = diag->level == DIAG_ERROR ? "error" : "warning";
        row[4].text = diag->code;
        row[5].text = diag->message;
    }
    return sheet;
}

static void add_count(struct text *out, size_t count, const char *one, const char *many)
{
    text_addf(out, "%zu %s", count, count == 1 ? one : many);
}

static size_t count_local(const struct orchard *orchard)
{
    size_t local = 0;

    for (size_t i = 0; i < orchard->thresholds.count; i++)
        local += !orchard->thresholds.list[i].shipped;
    return local;
}

static void add_weather(const struct orchard *orchard, struct text *out)
{
    char day[DAY_TEXT];

    for (size_t i = 0; i < orchard->records.count; i++) {
        const struct record *record = &orchard->records.list[i];

        if (record->count == 0)
            continue;
        text_addf(out, "weather of %s: %s to ", record->station, day_text(record->first_day, day));
        text_addf(out, "%s\n", day_text(record->first_day + (daynum)record->count - 1, day));
    }
    for (size_t i = 0; i < orchard->forecasts.count; i++) {
        const struct forecast *forecast = &orchard->forecasts.list[i];

        text_addf(out, "forecast of %s: issued %s, ", forecast->station,
                  day_text(forecast->issued, day));
        text_addf(out, "%s to ", day_text(forecast->first_day, day));
        text_addf(out, "%s\n", day_text(forecast->first_day + (daynum)forecast->count - 1, day));
    }
}

/* What each weather file was taken for, by its content.  They are facts of whole files, so a run
 * that may not know what lies after its as-of day does not tell them. */
static void add_weather_files(const struct orchard *orchard, struct text *out)
{
    char day[DAY_TEXT];

    for (size_t i = 0; i < orchard->weather_files.count; i++) {
        const struct weather_file *file = &orchard->weather_files.list[i];

        text_add_printable(out, file->place.file);
        text_addf(out, ": %s, ", file->form);
        if (file->unit)
            text_addf(out, "%s, ", file->unit);
        add_count(out, file->days, "day", "days");
        if (file->days > 0) {
            text_addf(out, " from %s ", day_text(file->first_day, day));
            text_addf(out, "to %s", day_text(file->last_day, day));
        }
        if (file->flagged > 0) {
            text_add(out, "; ");
            add_count(out, file->flagged, "value", "values");
            text_addf(out, " dropped for a quality flag (%s)", file->flags);
        }
        text_add(out, "\n");
    }
}

/* Sites that do not stand at their station's elevation. */
static void add_moved_sites(const struct orchard *orchard, struct text *out)
{
    for (size_t i = 0; i < orchard->sites.count; i++) {
        const struct site *site = &orchard->sites.list[i];
        const struct station *station = site->station;
        double rise_m;

        if (!station)
            continue;
        rise_m = site->elevation_m - station->elevation_m;
        if (!(fabs(rise_m) > 0))
            continue;
        text_add_printable(out, site->name);
        text_addf(out, " lies %.0f m %s ", fabs(rise_m), rise_m > 0 ? "above" : "below");
        text_add_printable(out, station->name);
        text_addf(out, ": its minima are taken %+.1f, its maxima %+.1f deg C\n",
                  elevation_change_c(station->tmin_lapse_c_per_km, 0, rise_m),
                  elevation_change_c(station->tmax_lapse_c_per_km, 0, rise_m));
    }
}

static void add_summary(struct session *session)
{
    const struct orchard *orchard = &session->orchard;
    const struct {
        size_t count;
        const char *one, *many;
    } read[] = {
        {orchard->sites.count, "site", "sites"},
        {orchard->trees.count, "tree", "trees"},
        {orchard->selections.count, "selection", "selections"},
        {orchard->grafts.count, "graft", "grafts"},
        {orchard->crosses.count, "cross", "crosses"},
        {orchard->lots.count, "pollen lot", "pollen lots"},
        {orchard->notes.count, "note", "notes"},
        {count_local(orchard), "local threshold", "local thresholds"},
    };
    struct text *out = &session->out;

    text_addf(out, "%s: ", session->operands[0]);
    add_count(out, session->diags.errors, "error", "errors");
    text_add(out, ", ");
    add_count(out, session->diags.warnings, "warning", "warnings");
    for (size_t i = 0; i < sizeof read / sizeof *read; i++) {
        text_add(out, i == 0 ? "\nread: " : ", ");
        add_count(out, read[i].count, read[i].one, read[i].many);
    }
    text_add(out, "\n");
    if (session->options.as_of == DAY_NONE)
        add_weather_files(orchard, out);
    add_weather(orchard, out);
    add_moved_sites(orchard, out);
}

/* The calendar of tasks.csv needs dates, and dates a day, which a check of all rows has not. */
static void check_calendar(struct session *session, const struct state *state)
{
    struct orchard orchard = session->orchard;
    struct state now = *state;

    orchard.as_of = session->as_of;
    now.orchard = &orchard;
    task_audit(&now, dates_new(&orchard, session->arena), session->arena, &session->diags);
}

static enum exit_status run_check(struct session *session)
{
    enum exit_status status = session_read(session);
    struct diags *diags = &session->diags;
    const struct state *state;

    if (status != STATUS_DONE)
        return status;
    session_set_day(session);
    if (session->options.as_of != DAY_NONE)
        orchard_as_of(&session->orchard, session->as_of);
    orchard_link(&session->orchard, diags);
    orchard_audit(&session->orchard, session->as_of, diags);
    state = state_of(&session->orchard, session->arena, diags);
    (void)pedigree_of(&session->orchard, session->arena, diags);
    if (diags->errors == 0)
        check_calendar(session, state);
    diags_sort(diags);
    if (!session_wants_page(session)) {
        struct sheet sheet = faults_sheet(diags, session->arena);

        session_sheet(session, &sheet);
    } else {
        diags_write(diags, &session->out);
        add_summary(session);
    }
    if (diags->errors > 0 || (session->options.strict && diags->warnings > 0))
        return STATUS_FAULTS;
    return STATUS_DONE;
}

const struct command command_check = {
    .name = "check",
    .summary = "every fault in the tables of a programme folder, at once",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "text csv json sheet",
    .options = check_options,
    .about = "Each fault is a line `file:line:cell: error: what was found, what was expected, what "
             "to do [code]`; cell is the number of the cell in the row, as a spreadsheet user "
             "counts. Text is the form everywhere unless another is asked for. Without --as-of "
             "every row is checked, whatever its date, and each weather file is named with what it "
             "was taken for. Status 1 when there are errors.",
    .example = "conetide check my-programme",
    .run = run_check,
};
