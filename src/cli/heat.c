/* heat.c - "heat": daily heat units and running sums of a station or of any weather file. */
#include "cli/command.h"

#include "cli/files.h"
#include "conetide/heat.h"
#include "planning/heat_days.h"
#include "reading/reading.h"

#include <errno.h>
#include <math.h>
#include <string.h>

static const struct option_row heat_options[] = {
    OPTION("clock", "NAME", OPTION_WORD, clock,
           "a clock of program.json or a shipped one; the options below change its parts"),
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
    OPTIONS_END,
};

static enum exit_status usage(struct session *session, const char *what)
{
    session_say(session, "%s", what);
    return STATUS_USAGE;
}

/* The clock named, changed by the options; what is left open takes its default. */
static enum exit_status choose_rule(struct session *session, struct conetide_heat_rule *rule,
                                    struct month_day *start)
{
    const struct options *options = &session->options;
    const struct clock *clock =
        options->clock ? program_clock(&session->orchard.program, options->clock) : NULL;

    if (options->clock && !clock) {
        session_say(session, "there is no clock '%s' in program.json, nor a shipped one",
                    options->clock);
        return STATUS_USAGE;
    }
    *rule = clock ? clock->rule
                  : (struct conetide_heat_rule){.curve = &conetide_sine,
                                                .cutoff = CONETIDE_CUTOFF_NONE,
                                                .lower = NAN,
                                                .upper = NAN};
    *start = clock ? clock->start : (struct month_day){0, 0};
    if (options->start.month)
        *start = options->start;
    if (options->curve && !(rule->curve = conetide_curve_named(options->curve)))
        return usage(session, "--curve is none of average, clipped-average, triangle, "
                              "double-triangle, sine, double-sine, daily-maximum");
    if (!isnan(options->lower_c))
        rule->lower = options->lower_c;
    if (!isnan(options->upper_c)) {
        rule->upper = options->upper_c;
        if (rule->cutoff == CONETIDE_CUTOFF_NONE)
            rule->cutoff = CONETIDE_CUTOFF_HORIZONTAL;
    }
    if (options->cutoff && !conetide_cutoff_named(options->cutoff, &rule->cutoff))
        return usage(session, "--cutoff is none of none, horizontal, intermediate, vertical");
    if (isnan(rule->lower))
        return usage(session, "say the lower threshold with --lower, or a --clock");
    if (rule->cutoff != CONETIDE_CUTOFF_NONE && isnan(rule->upper))
        return usage(session, "this cut-off needs an upper threshold: --upper");
    if (rule->cutoff != CONETIDE_CUTOFF_NONE && rule->upper < rule->lower)
        return usage(session, "the upper threshold is below the lower one");
    return STATUS_DONE;
}

/* One weather file, or standard input, without a folder. */
static enum exit_status open_file(struct session *session, const struct record **record)
{
    const char *path = session->operands[0];
    struct file_source file;
    struct source source;
    enum exit_status status = STATUS_DONE;

    if (session->operand_count > 1)
        return usage(session, "a weather file is the only operand");
    if (!file_open(path, &file)) {
        session_say(session, "%s: %s", path, strerror(errno));
        return STATUS_SYSTEM;
    }
    source = file_as_source(path, &file);
    if (!read_weather(&session->orchard, "file", &source, &session->diags)) {
        session_say(session, "%s: %s", path, strerror(file.problem));
        status = STATUS_SYSTEM;
    }
    file_close(&file);
    if (session->options.as_of != DAY_NONE)
        orchard_as_of(&session->orchard, session->options.as_of);
    *record = session->orchard.records.count ? &session->orchard.records.list[0] : NULL;
    return status;
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
    if (!*record && session->diags.errors == 0) {
        session_say(session, "there is no weather of a station '%s' in %s/weather",
                    session->operands[1], session->operands[0]);
        return STATUS_INPUT;
    }
    return STATUS_DONE;
}

static void tell_flags(struct session *session, const struct heat_days *heat)
{
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
    struct conetide_heat_rule rule;
    struct month_day start;
    struct heat_days heat;
    struct sheet sheet;
    enum exit_status status;

    status = kind == FILE_FOLDER ? open_station(session, &record) : open_file(session, &record);
    if (status == STATUS_DONE)
        status = choose_rule(session, &rule, &start);
    if (status != STATUS_DONE)
        return status;
    diags_sort(&session->diags);
    if (session->diags.errors > 0 || !record) {
        diags_write(&session->diags, &session->err);
        session_say(session, "the weather has faults, so there is no result");
        return STATUS_INPUT;
    }
    heat = heat_days_of(record, &rule, start, session->options.from, session->options.to,
                        session->arena);
    tell_flags(session, &heat);
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
    .formats = "text csv json",
    .options = heat_options,
    .about = "A file has the columns date, tmin_c and tmax_c, or tmin_f and tmax_f; - reads "
             "standard input. Rows out: date, tmin_c, tmax_c, heat_units, heat_sum, in deg C and "
             "degree-days C. Gaps of up to 7 days are filled between their neighbours; after a "
             "longer one the sum is empty until the next start.",
    .example = "conetide heat --lower 10 --upper 30 --start 01-01 weather.csv",
    .run = run_heat,
};
