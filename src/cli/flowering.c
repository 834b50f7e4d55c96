/* flowering.c - "flowering": when each graft's strobili will be receptive, one and two seasons on.
 */
#include "cli/command.h"

#include "planning/flowering.h"

static enum exit_status run_flowering(struct session *session)
{
    struct opened opened;
    enum exit_status status = session_plan(session, &opened);
    struct flowering_rows rows;
    struct sheet sheet;

    if (status != STATUS_DONE)
        return status;
    rows = flowering_of(opened.state, opened.dates, session->arena);
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
    .formats = "text csv json",
    .about = "For every graft that may live: last day to bag, opening, first, peak and last "
             "receptive day and closing at 10, 50 and 90 %, the chance that the graft is alive, "
             "its strobili (counted or expected) and what the dates rest on: fitted here, another "
             "site, borrowed from another species or sex, or the calendar.",
    .example = "conetide flowering my-programme",
    .run = run_flowering,
};
