/* heat.c - "heat": daily heat units and running sums of a station or of any weather file. */
#include "cli/command.h"

#include "cli/files.h"
#include "conetide/heat.h"
#include "planning/count_days.h"
#include "planning/observed_days.h"
#include "planning/season_heat.h"
#include "planning/season_rows.h"
#include "reading/reading.h"

#include <math.h>
#include <string.h>

static const struct option_row heat_options[] = {
    OPTION("clock", "NAME", OPTION_WORD, clock,
           "a clock of program.json or a shipped one; the options below change its parts"),
    OPTION("counts", "NAME", OPTION_WORD, counts,
           "count cold, forcing or light instead of heat: chilling-hours-0-8, chill-portions, "
           "utah-units, day-length and others"),
    OPTION("latitude", "DEG", OPTION_LATITUDE, latitude_deg,
           "degrees north of the weather, for hours and day length; south is negative"),
    OPTION("utc-offset", "H", OPTION_HOURS, utc_offset_h,
           "hours of local standard time from UTC, to know the days of a forecast file; west is "
           "negative"),
    OPTION("curve", "NAME", OPTION_WORD, curve,
           "average, clipped-average, triangle, double-triangle, sine, double-sine or "
           "daily-maximum; default sine"),
    OPTION(
        "cutoff", "NAME", OPTION_WORD, cutoff,
        "none, horizontal, intermediate or vertical; default horizontal with --upper, else none"),
    OPTION("lower", "T", OPTION_TEMPERATURE, lower_c, "lower threshold: 10, 10c or 50f"),
    OPTION("upper", "T", OPTION_TEMPERATURE, upper_c, "upper threshold"),
    OPTION("start", "MM-DD", OPTION_MONTH_DAY, start,
           "sums start again on each such day; default: one sum from the first day"),
    OPTION("from", "DATE", OPTION_DATE, from, "first day to count"),
    OPTION("to", "DATE", OPTION_DATE, to, "last day to count"),
    OPTION("seasons", NULL, OPTION_FLAG, seasons,
           "instead: where the days of each season come from, and which serve as futures"),
    OPTIONS_END,
};

static enum exit_status usage(struct session *session, const char *what)
{
    session_say(session, "%s", what);
    return STATUS_USAGE;
}

/* No such word for an option: what there is, or the one that was meant. */
static enum exit_status no_such(struct session *session, const char *option, const char *word,
                                const char *const *words)
{
    size_t count = 0;
    const char *nearest;
    struct text list;

    text_init(&list, session->arena);
    for (; words[count]; count++)
        text_addf(&list, "%s%s", count ? ", " : "", words[count]);
    nearest = text_nearest(word, count, words);
    session_say(session, "%s is '%s', not one of %s%s%s%s", option, word, list.bytes,
                nearest ? "; did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
    return STATUS_USAGE;
}

static const char *const *clock_names(const struct session *session)
{
    const struct program *program = &session->orchard.program;
    const char **names = ARENA_ARRAY(session->arena, program->clock_count + 1, const char *);

    for (size_t i = 0; i < program->clock_count; i++)
        names[i] = program->clocks[i].name;
    return names; /* ended by the NULL that the arena left there */
}

static const char *const *curve_names(const struct session *session)
{
    const char **names;
    size_t count = 0;

    while (conetide_curves[count])
        count++;
    names = ARENA_ARRAY(session->arena, count + 1, const char *);
    for (size_t i = 0; i < count; i++)
        names[i] = conetide_curves[i]->name;
    return names;
}

static const char *const *count_names(const struct session *session)
{
    const char **names;
    size_t count = 0;

    while (conetide_counts[count])
        count++;
    names = ARENA_ARRAY(session->arena, count + 1, const char *);
    for (size_t i = 0; i < count; i++)
        names[i] = conetide_counts[i]->name;
    return names;
}

static enum exit_status change_rule(struct session *session, struct conetide_heat_rule *rule)
{
    const struct options *options = &session->options;

    if (options->curve && !(rule->curve = conetide_curve_named(options->curve)))
        return no_such(session, "--curve", options->curve, curve_names(session));
    if (!isnan(options->lower_c))
        rule->lower = options->lower_c;
    if (!isnan(options->upper_c)) {
        rule->upper = options->upper_c;
        if (rule->cutoff == CONETIDE_CUTOFF_NONE)
            rule->cutoff = CONETIDE_CUTOFF_HORIZONTAL;
    }
    if (options->cutoff && !conetide_cutoff_named(options->cutoff, &rule->cutoff))
        return no_such(session, "--cutoff", options->cutoff, conetide_cutoff_names);
    if (isnan(rule->lower))
        return usage(session, "say the lower threshold with --lower, or a --clock");
    if (rule->cutoff != CONETIDE_CUTOFF_NONE && isnan(rule->upper))
        return usage(session, "this cut-off needs an upper threshold: --upper");
    if (rule->cutoff != CONETIDE_CUTOFF_NONE && rule->upper < rule->lower)
        return usage(session, "the upper threshold is below the lower one");
    return STATUS_DONE;
}

/* The clock named, changed by the options; what is left open takes its default. */
static enum exit_status choose_clock(struct session *session, struct season_rule season,
                                     struct clock *chosen)
{
    const struct options *options = &session->options;
    const struct clock *clock =
        options->clock ? program_clock(&session->orchard.program, options->clock) : NULL;

    if (options->clock && !clock)
        return no_such(session, "--clock", options->clock, clock_names(session));
    *chosen = (struct clock){
        .rule = {
            .curve = &conetide_sine, .cutoff = CONETIDE_CUTOFF_NONE, .lower = NAN, .upper = NAN}};
    if (clock) {
        *chosen = *clock;
        chosen->start = season_heat_clock_start(clock, season);
    }
    if (options->start.month)
        chosen->start = options->start;
    if (options->counts && !(chosen->counts = conetide_count_named(options->counts)))
        return no_such(session, "--counts", options->counts, count_names(session));
    if (!chosen->counts)
        return change_rule(session, &chosen->rule);
    if (options->curve || options->cutoff || !isnan(options->lower_c) || !isnan(options->upper_c))
        return usage(session, "--curve, --cutoff, --lower and --upper are for heat, and this "
                              "counts something else");
    return STATUS_DONE;
}

static bool read_days(struct session *session, const struct source *source, void *context)
{
    (void)context;
    return read_weather(&session->orchard, "file", source, &session->diags);
}

/* The days of a forecast as if they had been observed. */
static const struct record *foretold(struct session *session)
{
    const struct forecast *forecast = session->orchard.forecasts.list;
    struct record *record;

    if (session->orchard.forecasts.count == 0)
        return NULL;
    record = ARENA_NEW(session->arena, struct record);
    *record = (struct record){.station = forecast->station,
                              .file = forecast->place.file,
                              .first_day = forecast->first_day,
                              .count = forecast->count,
                              .tmin_c = forecast->tmin_c,
                              .tmax_c = forecast->tmax_c};
    return record;
}

/* One weather file, or standard input, without a folder. */
static enum exit_status open_file(struct session *session, const struct record **record)
{
    struct orchard *orchard = &session->orchard;
    enum exit_status status;

    if (session->operand_count > 1)
        return usage(session, "a weather file is the only operand");
    *ARENA_PUSH(session->arena, orchard->stations.list, orchard->stations.count,
                orchard->stations.capacity) =
        (struct station){.name = "file", .utc_offset_h = session->options.utc_offset_h};
    status =
        session_read_path(session, session->operands[0], (struct path_reader){read_days, NULL});
    if (session->options.as_of != DAY_NONE)
        orchard_as_of(orchard, session->options.as_of);
    *record = orchard->records.count ? &orchard->records.list[0] : foretold(session);
    return status;
}

/* Said when the folder is sound, and has no day of the station that was asked for. */
static enum exit_status no_weather(struct session *session)
{
    const struct orchard *orchard = &session->orchard;
    const char **names = ARENA_ARRAY(session->arena, orchard->records.count, const char *);
    const char *station = session->operands[1], *nearest;
    char day[DAY_TEXT];

    for (size_t i = 0; i < orchard->records.count; i++)
        names[i] = orchard->records.list[i].station;
    nearest = text_nearest(station, orchard->records.count, names);
    session_say(session, "%s/weather has no day of a station '%s' by %s%s%s%s",
                session->operands[0], station, day_text(session->as_of, day),
                nearest ? ", did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
    return STATUS_INPUT;
}

/* A morning reader's days as civil days; the half days at both ends are of no use to a sum. */
static const struct record *put_right(struct session *session, const struct record *record)
{
    struct orchard *orchard = &session->orchard;
    const struct station *station = orchard_station(orchard, record->station);
    struct record *days;

    if (!station || !station->reads_morning)
        return record;
    days = ARENA_NEW(session->arena, struct record);
    *days = observed_days_of(record, station, session->as_of, session->arena);
    if (days->count > 0 && isnan(days->tmax_c[days->count - 1]))
        days->count--;
    if (days->count > 0 && isnan(days->tmin_c[0])) {
        days->first_day++;
        days->count--;
        days->tmin_c++;
        days->tmax_c++;
    }
    return days;
}

static enum exit_status open_station(struct session *session, const struct record **record)
{
    enum exit_status status;

    if (session->operand_count != 2)
        return usage(session, "a folder needs the name of a station after it");
    status = session_open(session);
    if (status != STATUS_DONE)
        return status;
    *record = orchard_record(&session->orchard, session->operands[1]);
    if (!*record && session->diags.errors == 0)
        return no_weather(session);
    if (*record)
        *record = put_right(session, *record);
    return STATUS_DONE;
}

/* The site of a station, first by name; NULL: none. */
static const struct site *site_of(const struct orchard *orchard, const char *station)
{
    for (size_t i = 0; i < orchard->sites.count; i++)
        if (strcmp(orchard->sites.list[i].station_name, station) == 0)
            return &orchard->sites.list[i];
    return NULL;
}

static enum exit_status run_seasons(struct session *session)
{
    const struct site *site;
    struct season_heat heat;
    struct season_rows rows;
    struct sheet sheet;
    enum exit_status status;

    if (session->operand_count != 2)
        return usage(session, "--seasons needs a folder and the name of a station");
    status = session_open(session);
    if (status != STATUS_DONE)
        return status;
    status = session_faults_of(session, "the folder");
    if (status != STATUS_DONE)
        return status;
    site = site_of(&session->orchard, session->operands[1]);
    if (!site) {
        session_say(session, "no site of %s has the station '%s'", session->operands[0],
                    session->operands[1]);
        return STATUS_INPUT;
    }
    season_heat_init(&heat, &session->orchard, session->arena);
    rows = season_rows_of(&heat, site);
    if (rows.count == 0)
        return no_weather(session);
    sheet = seasons_sheet(&rows, session->arena);
    session_sheet(session, &sheet);
    return STATUS_DONE;
}

/* Where the weather was taken: by --latitude, else at the first site of the station that tells it,
 * else by the station. */
static struct count_place place_of(const struct session *session)
{
    const struct orchard *orchard = &session->orchard;
    const char *name = session->operand_count > 1 ? session->operands[1] : NULL;
    const struct station *station = name ? orchard_station(orchard, name) : NULL;
    struct site here = {.latitude = session->options.latitude_deg, .station = station};

    for (size_t i = 0; name && isnan(here.latitude) && i < orchard->sites.count; i++) {
        const struct site *site = &orchard->sites.list[i];

        if (site->station_name && strcmp(site->station_name, name) == 0)
            here.latitude = site->latitude;
    }
    here.latitude = site_latitude(&here);
    return (struct count_place){here.latitude, orchard_season_rule(orchard, &here)};
}

static void tell_flags(struct session *session, const struct heat_days *heat,
                       struct month_day start)
{
    char day[DAY_TEXT];

    if (start.month && heat->count > 0 && isnan(heat->heat_sum[0]) && !isnan(heat->heat_units[0]))
        session_say(session, "the first day is %s: the sum is empty until the next %02d-%02d",
                    day_text(heat->first_day, day), start.month, start.day);
    if (heat->morning)
        session_say(session, "the station is read in the morning: each maximum was moved to the "
                             "day before");
    if (heat->filled_days)
        session_say(session, "%zu days in short gaps were filled between their neighbours",
                    heat->filled_days);
    if (heat->missing_days)
        session_say(session,
                    "%zu days in longer gaps are missing: sums stay empty until the next start",
                    heat->missing_days);
    if (heat->own_minimum_as_next)
        session_say(session, "the last day takes its own minimum as the next day's");
}

static enum exit_status run_heat(struct session *session)
{
    enum file_kind kind =
        strcmp(session->operands[0], "-") == 0 ? FILE_REGULAR : file_kind_of(session->operands[0]);
    const struct record *record = NULL;
    const struct station *station = NULL;
    struct count_place place;
    struct clock clock = {0};
    struct heat_days heat;
    struct sheet sheet;
    enum exit_status status;

    if (session->options.seasons)
        return run_seasons(session);
    if (session->options.from != DAY_NONE && session->options.to != DAY_NONE &&
        session->options.from > session->options.to)
        return usage(session, "--from is after --to");
    status = kind == FILE_FOLDER ? open_station(session, &record) : open_file(session, &record);
    if (status != STATUS_DONE)
        return status;
    place = place_of(session);
    status = choose_clock(session, place.rule, &clock);
    if (status != STATUS_DONE)
        return status;
    if (clock_needs_latitude(&clock) && isnan(place.latitude_deg))
        return usage(session, "hours and day length need the latitude: say it with --latitude, or "
                              "in sites.csv or stations.csv");
    diags_sort(&session->diags);
    if (session->diags.errors > 0 || !record) {
        diags_write(&session->diags, &session->err);
        session_say(session, "the weather has faults, so there is no result");
        return STATUS_INPUT;
    }
    if (clock.counts || clock.after_chilling.counts)
        heat = count_days_of(record, &clock, &place, session->options.from, session->options.to,
                             session->arena);
    else
        heat = heat_days_of(record, &clock.rule, clock.start, session->options.from,
                            session->options.to, session->arena);
    if (kind == FILE_FOLDER)
        station = orchard_station(&session->orchard, record->station);
    heat.morning = station && station->reads_morning;
    tell_flags(session, &heat, clock.start);
    sheet = heat_sheet(&heat, session->arena);
    session_sheet(session, &sheet);
    return STATUS_DONE;
}

const struct command command_heat = {
    .name = "heat",
    .summary = "daily heat units and their running sum, of a station or of any weather file",
    .operands = "FOLDER STATION | FILE | -",
    .operands_least = 1,
    .operands_most = 2,
    .formats = "text csv json sheet",
    .options = heat_options,
    .about =
        "A file is any weather file that a folder may hold: columns date, tmin_c and tmax_c (or "
        "tmin_f and tmax_f), a station file of GHCN-Daily, its rows by year or station, daily "
        "summaries, or a forecast; its content tells which. - reads standard input. Rows out: "
        "date, tmin_c, tmax_c, heat_units, heat_sum, in deg C and "
        "degree-days C; of a clock that counts something else date, tmin_c, tmax_c, units, sum "
        "and, when it asks for chilling first, chilling_sum. Gaps of up to 7 days are filled "
        "between their neighbours; after a "
        "longer one the sum is empty until the next start.",
    .example = "conetide heat --lower 10 --upper 30 --start 01-01 weather.csv",
    .run = run_heat,
};
