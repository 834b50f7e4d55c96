#include "cli/crossing_plan.h"

#include "cli/placement_now.h"
#include "planning/check_plan.h"
#include "planning/grafts_to_make.h"
#include "planning/remedies.h"
#include "planning/roster.h"
#include "planning/worklist.h"
#include "reading/issued.h"

#include <stdlib.h>
#include <unistd.h>

static bool read_plan(struct session *session, const struct source *source, void *plan)
{
    return read_issued(plan, &session->orchard, source, &session->diags);
}

/* The plan of --firm FILE, if that was given. */
static enum exit_status read_firm(struct session *session, const struct issued_plan **firm)
{
    const char *path = session->options.firm;
    struct issued_plan *issued = ARENA_NEW(session->arena, struct issued_plan);
    enum exit_status status;

    *firm = path != NULL ? issued : NULL;
    if (path == NULL)
        return STATUS_DONE;
    status = session_read_path(session, path, (struct path_reader){read_plan, issued});
    return status == STATUS_DONE ? session_faults_of(session, path) : status;
}

struct session_work_asked session_tasks(struct session *session, const struct opened *opened,
                                        daynum last_day)
{
    const struct tasks_asked asked = {
        .state = opened->state,
        .dates = opened->dates,
        .from = session->as_of,
        .to = last_day > session->as_of ? last_day : session->as_of,
        .ahead_days = COMING_UP_DAYS,
    };
    struct session_work_asked work = {.tasks = tasks_of(&asked, session->arena)};
    struct grafting_rows windows = grafting_of(opened->state, opened->dates, session->arena);
    struct placement *placement;

    if (!grafting_near(&windows, session->as_of, asked.to + COMING_UP_DAYS))
        return work;
    placement = ARENA_NEW(session->arena, struct placement);
    *placement = session_placement(session, opened);
    work.placement = placement;
    work.tasks = with_grafts_to_make(&work.tasks, placement, &windows, &asked);
    return work;
}

/* What the manager ranks before the crossing plan has its minutes first. */
static void give_early(struct session *session, struct planned *planned)
{
    struct session_work_asked work;

    if (!duty_any_early(&session->orchard))
        return;
    work = session_tasks(session, &planned->opened, session->as_of + EARLY_DAYS);
    planned->early = roster_early(&session->orchard, &work.tasks, work.placement);
}

enum exit_status session_crossing(struct session *session, struct planned *planned)
{
    enum exit_status status;
    const struct issued_plan *firm = NULL;
    struct text faults;

    if (session->planned) {
        *planned = *session->planned;
        return STATUS_DONE;
    }
    status = session_plan(session, &planned->opened);
    if (status == STATUS_DONE)
        status = read_firm(session, &firm);
    if (status != STATUS_DONE)
        return status;
    if (session->orchard.crosses.count == 0)
        session_say(session, "crosses.csv asks for no cross, so there is nothing to plan");
    planned->early = (struct duties){0};
    give_early(session, planned);
    planned->inputs = (struct crossing_inputs){
        .state = planned->opened.state,
        .pedigree = planned->opened.pedigree,
        .dates = planned->opened.dates,
        .flowering = flowering_of(planned->opened.state, planned->opened.dates, session->arena),
        .arena = session->arena,
        .issued = firm,
    };
    planned->plan = crossing_plan_of(&planned->inputs);
    text_init(&faults, session->arena);
    if (!plan_check(&planned->plan, &planned->inputs, &faults)) {
        static const char head[] = "conetide: a fault of this program: its own check refused the "
                                   "plan, and nothing is printed; please report it\n";

        (void)!write(STDERR_FILENO, head, sizeof head - 1);
        (void)!write(STDERR_FILENO, faults.bytes, faults.length);
        abort();
    }
    return STATUS_DONE;
}

void session_remedies(struct session *session, struct planned *planned)
{
    if (!session->remedies_filled)
        remedies_fill(&planned->inputs, &planned->plan); /* dear where crews are short */
    session->remedies_filled = session->planned != NULL;
}
