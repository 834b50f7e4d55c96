#include "cli/session.h"

#include "base/hash.h"
#include "cli/clock.h"
#include "cli/files.h"
#include "cli/shipped.h"
#include "reading/reading.h"

#include <errno.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

void session_say(struct session *session, const char *format, ...)
{
    va_list arguments;
    struct text message;

    text_init(&message, session->arena);
    va_start(arguments, format);
    text_addv(&message, format, arguments);
    va_end(arguments);
    text_add(&session->err, "conetide: ");
    if (session->command)
        text_addf(&session->err, "%s: ", session->command);
    text_add_printable(&session->err, message.bytes);
    text_add(&session->err, "\n");
}

static enum exit_status refused(struct session *session, const char *path, int problem)
{
    session_say(session, "%s: %s", path, strerror(problem));
    return STATUS_SYSTEM;
}

/* What to do with an open source: read_table, read_program, read_weather or read_forecast behind
 * one face. */
struct reading {
    struct session *session;
    const char *table;   /* one of reading_tables, or NULL */
    const char *station; /* of a weather or forecast file, or NULL: program.json */
    bool forecast;
};

/* A source that counts among the inputs: its lines, in whatever order and with either line end. */
struct counted {
    const struct source *source;
    uint64_t line, sum;
};

static long read_counted(void *context, size_t size, char *bytes)
{
    struct counted *counted = context;
    long got = counted->source->read(counted->source->context, size, bytes);

    for (long i = 0; i < got; i++) {
        if (bytes[i] == '\n') {
            counted->sum += counted->line;
            counted->line = HASH_START;
        } else if (bytes[i] != '\r') {
            counted->line = hash_bytes(counted->line, 1, &bytes[i]);
        }
    }
    return got;
}

/* program.json or a table.  What lies after the as-of day in notes and weather must not count, so
 * they are left to those who know the day. */
static bool read_table_or_program(struct session *session, const struct source *source,
                                  const char *table)
{
    struct counted counted = {source, HASH_START, 0};
    struct source whole = {source->name, &counted, read_counted};
    bool read;

    if (table && strcmp(table, "notes.csv") == 0)
        return read_table(&session->orchard, table, source, false, &session->diags);
    read = table ? read_table(&session->orchard, table, &whole, false, &session->diags)
                 : read_program(&session->orchard, &whole, &session->diags);
    counted.sum += counted.line; /* of a last line without its end */
    session->inputs = hash_text(session->inputs, table);
    session->inputs = hash_bytes(session->inputs, sizeof counted.sum, &counted.sum);
    return read;
}

static bool read_source(struct session *session, const struct source *source, void *context)
{
    const struct reading *reading = context;

    if (reading->station && reading->forecast)
        return read_forecast(&session->orchard, reading->station, source, &session->diags);
    if (reading->station)
        return read_weather(&session->orchard, reading->station, source, &session->diags);
    return read_table_or_program(session, source, reading->table);
}

enum exit_status session_read_path(struct session *session, const char *path,
                                   struct path_reader reader)
{
    struct file_source file;
    struct source source;
    enum exit_status status = STATUS_DONE;

    if (!file_open(path, &file))
        return refused(session, path, errno);
    source = file_as_source(path, &file);
    if (!reader.read(session, &source, reader.context))
        status = refused(session, path, file.problem ? file.problem : ENOMEM);
    file_close(&file);
    return status;
}

enum exit_status session_faults_of(struct session *session, const char *what)
{
    if (session->diags.errors == 0)
        return STATUS_DONE;
    diags_sort(&session->diags);
    diags_write(&session->diags, &session->err);
    session_say(session, "%s has faults, so there is no result", what);
    return STATUS_INPUT;
}

const char *path_in(struct session *session, const char *folder, const char *name)
{
    size_t length = strlen(folder);

    while (length > 1 && folder[length - 1] == '/')
        length--;
    return arena_printf(session->arena, "%.*s/%s", (int)length, folder, name);
}

/* A file that may be missing; a table that is needed and missing is a fault of the folder. */
static enum exit_status read_optional(struct reading *reading, const char *path, bool needed)
{
    struct session *session = reading->session;

    switch (file_kind_of(path)) {
    case FILE_ABSENT:
        if (needed)
            diag_error(&session->diags, (struct place){.file = path}, "missing-table",
                       "there is no such file, and nothing can be planned without it, write one "
                       "(docs/tables.md has every column)");
        return STATUS_DONE;
    case FILE_REGULAR:
    case FILE_OTHER:
        return session_read_path(session, path, (struct path_reader){read_source, reading});
    case FILE_FOLDER:
        return refused(session, path, EISDIR);
    case FILE_REFUSED:
        break;
    }
    return refused(session, path, errno);
}

/* Shipped rows follow the folder's; a folder with a tasks.csv of its own keeps that alone, so that
 * a task taken out of it disappears. */
static void read_shipped(struct session *session, bool own_tasks)
{
    for (const struct shipped *shipped = shipped_tables; shipped->table; shipped++) {
        struct memory_source memory;
        const char *name = arena_printf(session->arena, "defaults/%s", shipped->table);
        struct source source =
            source_of_memory(name, &memory, shipped->length, (const char *)shipped->bytes);

        if (own_tasks && strcmp(shipped->table, "tasks.csv") == 0)
            continue;
        (void)read_table(&session->orchard, shipped->table, &source, true,
                         &session->diags); /* memory never fails */
    }
}

static enum exit_status read_tables(struct session *session, const char *folder)
{
    bool own_tasks = false;

    for (const char *const *table = reading_tables; *table; table++) {
        struct reading reading = {.session = session, .table = *table};
        const char *path = path_in(session, folder, *table);
        enum exit_status status = read_optional(&reading, path, reading_table_required(*table));

        if (status != STATUS_DONE)
            return status;
        if (strcmp(*table, "tasks.csv") == 0)
            own_tasks = file_kind_of(path) == FILE_REGULAR;
    }
    read_shipped(session, own_tasks);
    return STATUS_DONE;
}

/* A table whose name is nearly right would be passed over in silence: say so. */
static void warn_strangers(struct session *session, const char *folder, size_t count,
                           const char *const *names)
{
    size_t tables = 0;

    while (reading_tables[tables])
        tables++;
    for (size_t i = 0; i < count; i++) {
        size_t length = strlen(names[i]);
        const char *nearest;
        bool known = false;

        if (length < 4 || strcmp(names[i] + length - 4, ".csv") != 0)
            continue;
        for (size_t t = 0; t < tables; t++)
            known = known || strcmp(names[i], reading_tables[t]) == 0;
        if (known)
            continue;
        nearest = text_nearest(names[i], tables, reading_tables);
        diag_warning(&session->diags, (struct place){.file = path_in(session, folder, names[i])},
                     "unread-table",
                     "this is no table of a programme folder and is not read, expected only tables "
                     "there, %s%s",
                     nearest ? "rename it if it is meant for " : "move it elsewhere",
                     nearest ? nearest : "");
    }
}

/* Is `stem` the station's name, or that name, a hyphen and more? */
static bool belongs_to(const char *stem, size_t stem_length, const char *station)
{
    size_t length = strlen(station);

    return stem_length >= length && strncmp(stem, station, length) == 0 &&
           (stem_length == length || stem[length] == '-');
}

/* The station that a weather file's stem names: the longest known one that it begins with. */
static const char *station_of(const struct session *session, const char *stem, size_t length)
{
    const struct orchard *orchard = &session->orchard;
    const char *best = NULL;

    for (size_t i = 0; i < orchard->stations.count; i++) {
        const char *name = orchard->stations.list[i].name;

        if (name && belongs_to(stem, length, name) && (!best || strlen(name) > strlen(best)))
            best = name;
    }
    for (size_t i = 0; i < orchard->sites.count; i++) {
        const char *name = orchard->sites.list[i].station_name;

        if (name && belongs_to(stem, length, name) && (!best || strlen(name) > strlen(best)))
            best = name;
    }
    return best;
}

static bool ends_in(const char *name, size_t length, const char *end)
{
    size_t end_length = strlen(end);

    return length > end_length && strcmp(name + length - end_length, end) == 0;
}

/* The length of the station's name in STATION.forecast*.json; 0: no such name. */
static size_t forecast_stem(const char *name, size_t length)
{
    const char *mark = strstr(name, ".forecast");

    return mark && ends_in(name, length, ".json") ? (size_t)(mark - name) : 0;
}

static enum exit_status read_weather_file(struct session *session, const char *folder,
                                          const char *name)
{
    size_t length = strlen(name), stem = forecast_stem(name, length);
    bool days = ends_in(name, length, ".csv") || ends_in(name, length, ".dly");
    const char *path = path_in(session, folder, name);
    struct place place = {.file = path};
    struct reading reading = {.session = session, .forecast = stem > 0};

    if (stem == 0 && !days) {
        if (name[0] != '.')
            diag_warning(&session->diags, place, "unread-weather",
                         "weather is read from files named STATION.csv or STATION.dly and "
                         "forecasts from STATION.forecast.json, this one is not read");
        return STATUS_DONE;
    }
    reading.station = station_of(session, name, stem > 0 ? stem : length - 4);
    if (!reading.station) {
        diag_warning(&session->diags, place, "unknown-station-file",
                     "no station in sites.csv or stations.csv has this name, the file is not read, "
                     "rename it or add the station");
        return STATUS_DONE;
    }
    return read_optional(&reading, path, false);
}

static enum exit_status read_all_weather(struct session *session, const char *folder)
{
    const char *weather = path_in(session, folder, "weather");
    const char *const *names;
    size_t count;

    if (file_kind_of(weather) == FILE_ABSENT)
        return STATUS_DONE;
    if (!file_list(weather, session->arena, &names, &count))
        return refused(session, weather, errno);
    for (size_t i = 0; i < count; i++) {
        enum exit_status status = read_weather_file(session, weather, names[i]);

        if (status != STATUS_DONE)
            return status;
    }
    return STATUS_DONE;
}

enum exit_status session_read(struct session *session)
{
    const char *folder = session->operands[0];
    struct reading program = {.session = session};
    const char *const *names;
    size_t count;
    enum exit_status status;

    session->inputs = HASH_START;
    if (file_kind_of(folder) == FILE_REGULAR) {
        session_say(session, "%s is a file, and a programme folder was expected", folder);
        return STATUS_USAGE;
    }
    if (!file_list(folder, session->arena, &names, &count))
        return refused(session, folder, errno);
    status = read_optional(&program, path_in(session, folder, "program.json"), false);
    if (status == STATUS_DONE)
        status = read_tables(session, folder);
    if (status == STATUS_DONE)
        status = read_all_weather(session, folder);
    warn_strangers(session, folder, count, names);
    return status;
}

/* "Today" where the work is: the UTC day may be another one.  The site that is first by name rules,
 * so that the order of rows does not. */
static daynum today_at_site(const struct session *session)
{
    const struct orchard *orchard = &session->orchard;
    const struct site *first = NULL;

    for (size_t i = 0; i < orchard->sites.count; i++) {
        const struct site *site = &orchard->sites.list[i];

        if (!(site->utc_offset_h >= -14 && site->utc_offset_h <= 14))
            continue;
        if (!first || strcmp(site->name, first->name) < 0)
            first = site;
    }
    return clock_today(first ? first->utc_offset_h : 0);
}

static enum exit_status told(struct session *session)
{
    diags_sort(&session->diags);
    if (session->diags.errors == 0)
        return STATUS_DONE;
    diags_write(&session->diags, &session->err);
    session_say(session, "%zu fault%s in the input, so there is no result", session->diags.errors,
                session->diags.errors == 1 ? "" : "s");
    return STATUS_INPUT;
}

void session_set_day(struct session *session)
{
    session->today = today_at_site(session);
    session->as_of = session->options.as_of != DAY_NONE ? session->options.as_of : session->today;
}

enum exit_status session_open(struct session *session)
{
    enum exit_status status = session_read(session);

    if (status != STATUS_DONE)
        return status;
    session_set_day(session);
    orchard_as_of(&session->orchard, session->as_of);
    orchard_link(&session->orchard, &session->diags);
    orchard_audit(&session->orchard, session->as_of, &session->diags);
    return STATUS_DONE;
}

bool session_units_us(const struct session *session)
{
    const char *units = session->options.units;

    return units ? strcmp(units, "us") == 0 : session->orchard.program.units_us;
}

enum exit_status session_plan(struct session *session, struct opened *opened)
{
    enum exit_status status;

    if (session->opened) {
        *opened = *session->opened;
        return STATUS_DONE;
    }
    status = session_open(session);
    if (status != STATUS_DONE)
        return status;
    opened->state = state_of(&session->orchard, session->arena, &session->diags);
    opened->pedigree = pedigree_of(&session->orchard, session->arena, &session->diags);
    opened->dates = dates_new(&session->orchard, session->arena);
    opened->run = (struct page_run){.orchard = &session->orchard,
                                    .as_of = session->as_of,
                                    .units_us = session_units_us(session),
                                    .dates = opened->dates,
                                    .arena = session->arena};
    return told(session);
}

const struct site *session_site(struct session *session, const char *name)
{
    const struct orchard *orchard = &session->orchard;
    const struct site *site = orchard_site(orchard, name);
    const char **names, *nearest;

    if (site)
        return site;
    names = ARENA_ARRAY(session->arena, orchard->sites.count + 1, const char *);
    for (size_t i = 0; i < orchard->sites.count; i++)
        names[i] = orchard->sites.list[i].name;
    nearest = text_nearest(name, orchard->sites.count, names);
    session_say(session, "there is no site '%s' in sites.csv%s%s%s", name,
                nearest ? ", did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
    return NULL;
}
