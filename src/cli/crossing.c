/* crossing.c - "crossing": the dated crossing schedule. */
#include "cli/command.h"

#include "cli/crossing_plan.h"
#include "cli/propose.h"
#include "planning/work_calendar.h"
#include "reading/calendar.h"
#include "writing/calendar.h"

static const struct option_row crossing_options[] = {
    OPTION("shortfalls", NULL, OPTION_FLAG, shortfalls,
           "instead of the schedule: what could not be planned, why, and what would help"),
    OPTION("status", NULL, OPTION_FLAG, status,
           "instead of the schedule: every cross on one line, what hangs, what is to come, what "
           "stands in its way"),
    OPTION("firm", "FILE", OPTION_WORD, firm,
           "a schedule that was printed earlier as CSV: its visits of the next days stay unless "
           "they became impossible or worth too little"),
    OPTION("moves", NULL, OPTION_FLAG, moves,
           "with --firm, instead of the schedule: the visits that moved, and why"),
    OPTION("replaces", "FILE", OPTION_WORD, replaces,
           "with --format ics: the calendar that was given out before, so that what moved is "
           "renumbered and what is dropped is cancelled"),
    OPTION("propose", "DESIGN", OPTION_WORD, propose,
           "instead of the schedule: crosses to want, and why these: half-diallel, factorial, "
           "single-pair, circular, partial-diallel or disconnected-half-diallel"),
    OPTION("parents", "S1,S2,...", OPTION_WORD, parents,
           "candidates of a proposal; default: all, that is every clone with a breeding value"),
    OPTION("testers", "S1,S2,...", OPTION_WORD, testers, "pollen parents of a factorial, or all"),
    OPTION("crosses-per-parent", "N", OPTION_MANY, crosses_per_parent,
           "at most so many, in a partial diallel exactly (default: 3, or 2 among an odd number of "
           "parents), in groups one less than a group holds (default: 3)"),
    OPTION("seeds", "N", OPTION_MANY, seeds,
           "filled seeds to want of a cross proposed, on the average; default: 300"),
    OPTION("coancestry-weight", "X", OPTION_AMOUNT, coancestry_weight,
           "share the seed out by breeding value against kinship: mean breeding value less X "
           "times group coancestry is made greatest; default: equal seed"),
    OPTION("status-number", "X", OPTION_AMOUNT, status_number,
           "the same, with the weight at which the best parents count as X unrelated clones"),
    OPTIONS_END,
};

static void print_status(struct session *session, const struct planned *planned)
{
    struct harvest harvest =
        harvest_of(planned->opened.state, planned->opened.pedigree, session->arena);
    struct cross_statuses statuses =
        cross_statuses_of(&planned->plan, &harvest, planned->opened.state, session->arena);
    struct sheet sheet = cross_status_sheet(&statuses, &planned->opened.run);

    session_sheet(session, &sheet);
}

/* A list under the schedule, whose head holds for it too. */
static void print_below(struct session *session, struct sheet *sheet, const char *title)
{
    text_clear(&sheet->head);
    text_add(&sheet->head, title);
    session_sheet(session, sheet);
}

static void print_schedule(struct session *session, struct planned *planned)
{
    struct sheet schedule = crossing_sheet(&planned->plan, &planned->opened.run), below;

    session_sheet(session, &schedule);
    if (session_format(session) != FORMAT_TEXT && session_format(session) != FORMAT_SHEET)
        return;
    if (session->options.firm) {
        below = moves_sheet(&planned->plan, &planned->opened.run);
        print_below(session, &below, "Visits that moved\n");
    }
    session_remedies(session, planned);
    below = shortfalls_sheet(&planned->plan, &planned->opened.run);
    print_below(session, &below, "Bags that could not be planned\n");
}

static bool take_calendar(struct session *session, const struct source *source, void *calendar)
{
    return read_calendar(calendar, source, &session->diags);
}

static enum exit_status print_calendar(struct session *session, const struct planned *planned)
{
    struct calendar earlier = {NULL, 0, 0}, calendar;
    const char *path = session->options.replaces;

    if (path != NULL) {
        enum exit_status status =
            session_read_path(session, path, (struct path_reader){take_calendar, &earlier});

        if (status == STATUS_DONE)
            status = session_faults_of(session, path);
        if (status != STATUS_DONE)
            return status;
    }
    calendar =
        work_calendar_of(&planned->plan, &session->orchard, path ? &earlier : NULL, session->arena);
    calendar_write(&calendar, &planned->opened.run, &session->out);
    return STATUS_DONE;
}

/* What options must not stand together; true: told. */
static bool is_misused(struct session *session)
{
    const struct options *options = &session->options;
    bool calendar = session_format(session) == FORMAT_ICS;

    if (options->moves && !options->firm)
        session_say(session, "--moves tells what moved since an earlier plan: give it with --firm "
                             "FILE");
    else if (options->replaces && !calendar)
        session_say(session, "--replaces is of a calendar: give it with --format ics");
    else if (calendar && (options->moves || options->status || options->shortfalls ||
                          propose_is_meant(options)))
        session_say(session, "--format ics is of the schedule alone");
    else
        return false;
    return true;
}

static enum exit_status run_crossing(struct session *session)
{
    const struct options *options = &session->options;
    struct planned planned;
    enum exit_status status;
    struct sheet sheet;

    if (is_misused(session))
        return STATUS_USAGE;
    if (propose_is_meant(options))
        return run_propose(session);
    status = session_crossing(session, &planned);
    if (status != STATUS_DONE)
        return status;
    if (session_format(session) == FORMAT_ICS)
        return print_calendar(session, &planned);
    if (options->status || (options->shortfalls && !options->moves))
        session_remedies(session, &planned);
    if (options->status) {
        print_status(session, &planned);
    } else if (options->moves) {
        sheet = moves_sheet(&planned.plan, &planned.opened.run);
        session_sheet(session, &sheet);
    } else if (options->shortfalls) {
        sheet = shortfalls_sheet(&planned.plan, &planned.opened.run);
        session_sheet(session, &sheet);
    } else {
        print_schedule(session, &planned);
    }
    return STATUS_DONE;
}

const struct command command_crossing = {
    .name = "crossing",
    .summary = "the dated crossing schedule: bag, pollinate, pollinate again, unbag",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "text csv json sheet ics",
    .options = crossing_options,
    .about =
        "A row a visit. The season of the as-of day is planned within the crews' minutes; what "
        "it leaves short is pencilled into the next. Text ends with the list of what could not "
        "be planned; --shortfalls gives that list alone, in any form. Keep the CSV that you hand "
        "out: with --firm FILE a later plan keeps its visits of the next firm_days (program.json), "
        "and lists every visit that moved and why. --propose works from selections instead of "
        "crosses: its CSV form is rows for crosses.csv. --format ics gives the schedule as a "
        "calendar, an entry a crew, day and site; with --replaces FILE entries that changed take "
        "the next number and those no longer planned are cancelled.",
    .example = "conetide crossing --format csv my-programme > schedule.csv",
    .run = run_crossing,
};
