/* harvest.c - "harvest": what hangs, what it will give and when. */
#include "cli/command.h"

#include "planning/harvest.h"

static const struct option_row harvest_options[] = {
    OPTION("bags", NULL, OPTION_FLAG, bags, "a row a bag, as sacks are labelled"),
    OPTION("crosses", NULL, OPTION_FLAG, crosses, "a row a cross, over all seasons"),
    OPTIONS_END,
};

static enum exit_status run_harvest(struct session *session)
{
    struct opened opened;
    enum exit_status status = session_plan(session, &opened);
    struct harvest harvest;
    struct sheet bags, crosses;
    enum format format = session_format(session);
    bool both = (format == FORMAT_TEXT || format == FORMAT_SHEET) && !session->options.bags &&
                !session->options.crosses;

    if (status != STATUS_DONE)
        return status;
    harvest = harvest_of(opened.state, opened.pedigree, session->arena);
    bags = harvest_bags_sheet(&harvest, &opened.run);
    crosses = harvest_crosses_sheet(&harvest, &opened.run);
    if (both)
        text_clear(&crosses.head); /* that of the bags holds for both */
    if (both)
        text_add(&crosses.head, "Seed of the crosses\n");
    if (both || !session->options.crosses)
        session_sheet(session, &bags);
    if (both || session->options.crosses)
        session_sheet(session, &crosses);
    return STATUS_DONE;
}

const struct command command_harvest = {
    .name = "harvest",
    .summary = "what hangs, what it will give and when: bags, cones, seed by cross",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "text csv json sheet",
    .options = harvest_options,
    .about = "For every bag the conelets, cones and filled seed expected from what was counted "
             "last and the rates that remain, with a range, when to test ripeness and when to "
             "harvest; both crops of a graft stand under their own years. For every cross the "
             "seed counted and to come against what is wanted. Bags of relabelled grafts stand "
             "under both names with what their seed is good for. Text prints both tables; CSV and "
             "JSON the bags, or with --crosses the crosses.",
    .example = "conetide harvest my-programme",
    .run = run_harvest,
};
