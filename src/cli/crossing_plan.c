#include "cli/crossing_plan.h"

#include "planning/check_plan.h"

#include <stdlib.h>
#include <unistd.h>

enum exit_status session_crossing(struct session *session, struct planned *planned)
{
    enum exit_status status = session_plan(session, &planned->opened);
    struct text faults;

    if (status != STATUS_DONE)
        return status;
    if (session->orchard.crosses.count == 0)
        session_say(session, "crosses.csv asks for no cross, so there is nothing to plan");
    planned->inputs = (struct crossing_inputs){
        .state = planned->opened.state,
        .pedigree = planned->opened.pedigree,
        .dates = planned->opened.dates,
        .flowering = flowering_of(planned->opened.state, planned->opened.dates, session->arena),
        .arena = session->arena,
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
