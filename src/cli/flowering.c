/* flowering.c - "flowering": when each graft's strobili will be receptive. */
#include "cli/command.h"

#include "planning/flowering_days.h"
#include "planning/pollen_forecast.h"
#include "planning/why.h"

#include <string.h>

enum { DISTRIBUTIONS_MOST = 3 }; /* in text: a screen or two each */

/* Warming of springs is carried on so far and no farther: own choice. */
enum { YEARS_AHEAD_MOST = 20 };

static const double told_in_text = 0.005, told_in_data = 0.00005;

static const struct option_row flowering_options[] = {
    OPTION("days", NULL, OPTION_FLAG, days,
           "the whole distribution: chance of every event by every day"),
    OPTION("only", "TAG|COLUMN=V", OPTION_WORDS, only,
           "this graft alone, or as --only of every command; may be given again"),
    OPTION("season", "YEAR", OPTION_YEAR, season, "this spring alone, past ones too: 2029"),
    OPTION("pollen", NULL, OPTION_FLAG, pollen,
           "instead: own pollen of the season, when it flies and for which cross it is ready"),
    OPTIONS_END,
};

/* The tag among the words of --only; NULL: there is none. */
static const char *only_tag(const struct options *options)
{
    for (size_t i = 0; i < options->only.count; i++)
        if (!strchr(options->only.list[i], '='))
            return options->only.list[i];
    return NULL;
}

static enum exit_status find_only(struct session *session, const struct state *state,
                                  const struct graft_state **graft)
{
    const char *names[1], *what, *only = only_tag(&session->options);
    const struct bag *bag;

    *graft = NULL;
    if (!only)
        return STATUS_DONE;
    *graft = why_graft(state, only, &bag);
    if (*graft)
        return STATUS_DONE;
    if (why_meant(state, only, 1, names, &what) == 0)
        session_say(session, "--only: no graft is called '%s'", only);
    else if (what)
        session_say(session, "--only: %s is a %s, and a tag was expected; its first graft is %s",
                    only, what, names[0]);
    else
        session_say(session, "--only: no graft is called '%s', did you mean %s?", only, names[0]);
    return STATUS_USAGE;
}

/* Nothing flowers in the year asked for: from when on something does. */
static enum exit_status no_season(struct session *session, const struct state *state,
                                  const struct graft_state *only)
{
    int first = 0;

    for (size_t i = 0; i < session->orchard.grafts.count; i++) {
        const struct graft *graft = state->grafts[i].graft;
        int cycle = graft->grafted_on != DAY_NONE && graft->tree && graft->tree->site
                        ? orchard_cycle(&session->orchard, graft)
                        : 0;

        if (cycle > 0 && (!only || only == &state->grafts[i]) && (first == 0 || cycle < first))
            first = cycle;
    }
    if (first == 0)
        session_say(session, "no graft has a day on which it was made and a site");
    else if (session->options.season <= first)
        session_say(session, "nothing flowers in %d: the first spring of %s is %d",
                    session->options.season, only ? only->graft->tag : "the oldest graft",
                    first + 1);
    else
        session_say(session, "nothing flowers in %d: no graft of then may be alive",
                    session->options.season);
    return STATUS_USAGE;
}

static enum exit_status check_season(struct session *session)
{
    int most = day_year(session->as_of) + YEARS_AHEAD_MOST;

    if (session->options.season <= most)
        return STATUS_DONE;
    session_say(session, "--season %d: dates are told for %d years ahead at most, up to %d",
                session->options.season, YEARS_AHEAD_MOST, most);
    return STATUS_USAGE;
}

static enum exit_status print_days(struct session *session, const struct opened *opened,
                                   const struct flowering_rows *rows)
{
    bool is_text = session_format(session) == FORMAT_TEXT;
    struct flowering_days days =
        flowering_days_of(rows, is_text ? told_in_text : told_in_data, session->arena);
    struct sheet sheet;

    if (is_text && !session->options.explain && days.count > DISTRIBUTIONS_MOST) {
        session_say(session,
                    "%zu distributions are %zu lines, too many to read: ask for one graft by "
                    "--only TAG, or for --format csv",
                    days.count, days.days);
        return STATUS_USAGE;
    }
    sheet = flowering_days_sheet(&days, &opened->run);
    session_sheet(session, &sheet);
    return STATUS_DONE;
}

static enum exit_status print_pollen(struct session *session, const struct opened *opened)
{
    const struct options *options = &session->options;
    struct flowering_rows rows = flowering_of(opened->state, opened->dates, session->arena);
    struct pollen_forecast forecast;
    struct sheet sheet;

    if (options->days || only_tag(options) || options->season != 0) {
        session_say(session, "--pollen is of the whole folder and this season: --days, --only and "
                             "--season do not go with it");
        return STATUS_USAGE;
    }
    forecast = pollen_forecast_of(opened->state, opened->dates, &rows, session->arena);
    sheet = pollen_sheet(&forecast, &opened->run);
    session_sheet(session, &sheet);
    return STATUS_DONE;
}

static enum exit_status run_flowering(struct session *session)
{
    struct opened opened;
    enum exit_status status = session_plan(session, &opened);
    struct flowering_asked asked = {.season = session->options.season};
    struct flowering_rows rows;
    struct sheet sheet;

    if (status == STATUS_DONE)
        status = find_only(session, opened.state, &asked.only);
    if (status == STATUS_DONE)
        status = check_season(session);
    if (status != STATUS_DONE)
        return status;
    if (session->options.pollen)
        return print_pollen(session, &opened);
    rows = flowering_asked(opened.state, opened.dates, asked, session->arena);
    if (asked.season != 0 && rows.count == 0)
        return no_season(session, opened.state, asked.only);
    if (session->options.days)
        return print_days(session, &opened, &rows);
    sheet = flowering_sheet(&rows, &opened.run);
    session_sheet(session, &sheet);
    return STATUS_DONE;
}

const struct command command_flowering = {
    .name = "flowering",
    .summary = "when each graft's strobili open and are receptive, one and two seasons on",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "text csv json sheet",
    .options = flowering_options,
    .about = "For every graft that may live: last day to bag, opening, first, peak and last "
             "receptive day and closing at 10, 50 and 90 %, what past years alone would say, what "
             "was seen this season, the chance that the graft is alive, its strobili (counted or "
             "expected) and what the dates rest on: fitted here, another site, borrowed from "
             "another species or sex, or the calendar.  Stages noted this season move the dates of "
             "the graft that they were seen on.",
    .example = "conetide flowering --days --only T001G my-programme",
    .run = run_flowering,
};
