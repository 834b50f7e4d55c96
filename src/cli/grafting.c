/* grafting.c - "grafting": when grafting opens and must stop, and how it stands today. */
#include "cli/command.h"

#include "planning/grafting.h"
#include "planning/scion_chilling.h"

static const struct option_row grafting_options[] = {
    OPTION("scions", NULL, OPTION_FLAG, scions,
           "instead: chilling hours of every batch of scions, on the tree and in store"),
    OPTIONS_END,
};

static struct sheet scions_of(struct session *session, const struct opened *opened)
{
    struct season_heat heat;
    struct scion_chillings rows;

    season_heat_init(&heat, &session->orchard, session->arena);
    rows = scion_chilling(&heat, session->arena);
    return scions_sheet(&rows, &opened->run);
}

static enum exit_status run_grafting(struct session *session)
{
    struct opened opened;
    enum exit_status status = session_plan(session, &opened);
    struct grafting_rows rows;
    struct sheet sheet;

    if (status != STATUS_DONE)
        return status;
    if (session->options.scions) {
        sheet = scions_of(session, &opened);
        session_sheet(session, &sheet);
        return STATUS_DONE;
    }
    rows = grafting_of(opened.state, opened.dates, session->arena);
    sheet = grafting_sheet(&rows, &opened.run);
    session_sheet(session, &sheet);
    return STATUS_DONE;
}

const struct command command_grafting = {
    .name = "grafting",
    .summary = "when grafting opens and must stop, per site and interstock clone",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "text csv json",
    .options = grafting_options,
    .about = "Opening and closing dates at 10, 50 and 90 %, the state today, working days left by "
             "the gates of program.json (cold nights, cool and hot days), and the chance of a "
             "damaging freeze after grafting. Heat decides where there is weather; the calendar "
             "only bounds it.",
    .example = "conetide grafting --as-of 2027-02-10 my-programme",
    .run = run_grafting,
};
