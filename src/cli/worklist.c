/* worklist.c - "worklist": the pages of one week or one day, to print and to fill in. */
#include "cli/command.h"

#include "cli/work_asked.h"
#include "reading/typed.h"

static const struct option_row worklist_options[] = {
    OPTION("week", "YYYY-Www", OPTION_WEEK, week,
           "an ISO week; default: the week of the as-of day"),
    OPTION("day", "DATE", OPTION_DATE, day, "one day"),
    OPTION("replaces", "FILE", OPTION_WORD, replaces,
           "an earlier worklist as CSV, as it was printed: the head tells what moved since"),
    OPTIONS_END,
};

static bool read_earlier(struct session *session, const struct source *source, void *page)
{
    return read_typed(page, &session->orchard, source, &session->diags);
}

/* The page of --replaces FILE; NULL without. */
static enum exit_status find_earlier(struct session *session, const struct typed_page **earlier)
{
    const char *path = session->options.replaces;
    struct typed_page *page = ARENA_NEW(session->arena, struct typed_page);
    enum exit_status status;

    *earlier = NULL;
    if (!path)
        return STATUS_DONE;
    *earlier = page;
    status = session_read_path(session, path, (struct path_reader){read_earlier, page});
    return status == STATUS_DONE ? session_faults_of(session, path) : status;
}

static enum exit_status run_worklist(struct session *session)
{
    const struct options *options = &session->options;
    struct planned planned;
    struct work_asked asked;
    const struct typed_page *earlier;
    struct worklist list;
    struct sheet sheet;
    daynum first, last;
    enum exit_status status;

    if (options->week != DAY_NONE && options->day != DAY_NONE) {
        session_say(session, "--week and --day exclude each other");
        return STATUS_USAGE;
    }
    status = session_crossing(session, &planned);
    if (status == STATUS_DONE)
        status = find_earlier(session, &earlier);
    if (status != STATUS_DONE)
        return status;
    first = options->week != DAY_NONE ? options->week
                                      : session->as_of - day_weekday(session->as_of) + 1;
    last = first + 6;
    if (options->day != DAY_NONE)
        first = last = options->day;
    asked = session_work(session, &planned, first, last);
    asked.earlier = earlier;
    list = worklist_of(&planned.plan, &planned.inputs, &asked);
    if (session_wants_page(session)) {
        worklist_write_text(&list, &planned.opened.run, &session->out);
    } else if (session_format(session) == FORMAT_HTML) {
        worklist_write_html(&list, &planned.opened.run, &session->out);
    } else {
        sheet = worklist_sheet(&list, &planned.opened.run);
        session_sheet(session, &sheet);
    }
    return STATUS_DONE;
}

const struct command command_worklist = {
    .name = "worklist",
    .summary = "one week or one day of work by crew, to print and to fill in",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "text csv html json sheet",
    .options = worklist_options,
    .about = "Text is the form everywhere unless another is asked for: 80 columns and 58 lines a "
             "page with form feeds, made for lp. First what lies around the work (sprays, cold "
             "nights foretold, what is pushed out, overdue and coming up), then a stack of pages a "
             "crew and day, then what needs no crew. CSV has blank result columns to type back.",
    .example = "conetide worklist --week 2027-W10 my-programme | lp",
    .run = run_worklist,
};
