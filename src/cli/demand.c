/* demand.c - "demand": from wanted seed back to bags, grafts, scions, pollen, supplies and days. */
#include "cli/command.h"

#include "planning/demand_plan.h"
#include "writing/demand_page.h"

#include <string.h>

static const struct option_row demand_options[] = {
    OPTION("table", "NAME", OPTION_WORD, table,
           "that table alone: crosses, selections, pollen, supplies, work or rates; CSV gives one, "
           "crosses by default"),
    OPTIONS_END,
};

/* DEMAND_TABLES: none was asked for. */
static enum exit_status find_table(struct session *session, int *table)
{
    const char *name = session->options.table, *nearest;

    for (*table = 0; name && *table < DEMAND_TABLES; (*table)++)
        if (strcmp(demand_table_names[*table], name) == 0)
            return STATUS_DONE;
    *table = DEMAND_TABLES;
    if (!name)
        return STATUS_DONE;
    nearest = text_nearest(name, DEMAND_TABLES, demand_table_names);
    session_say(session, "there is no table '%s'%s%s", name,
                nearest ? ", did you mean " : ", see conetide demand --help",
                nearest ? nearest : "");
    return STATUS_USAGE;
}

static void print_table(struct session *session, const struct demand_plan *plan,
                        enum demand_table table, const struct page_run *run)
{
    struct sheet sheet = demand_sheet(plan, table, run);

    session_sheet(session, &sheet);
}

static void print_all(struct session *session, const struct demand_plan *plan,
                      const struct page_run *run)
{
    session_document(session, "conetide demand 1");
    for (int table = 0; table < DEMAND_TABLES; table++) {
        struct sheet sheet = demand_sheet(plan, (enum demand_table)table, run);

        session_member(session, demand_table_names[table], &sheet);
    }
    session_document_end(session);
}

static enum exit_status run_demand(struct session *session)
{
    struct opened opened;
    struct crossing_inputs inputs;
    struct demand_plan plan;
    int table;
    enum exit_status status = find_table(session, &table);

    if (status == STATUS_DONE)
        status = session_plan(session, &opened);
    if (status != STATUS_DONE)
        return status;
    if (session->orchard.crosses.count == 0)
        session_say(session, "crosses.csv asks for no cross, so nothing is wanted");
    inputs = (struct crossing_inputs){
        .state = opened.state,
        .pedigree = opened.pedigree,
        .dates = opened.dates,
        .flowering = flowering_of(opened.state, opened.dates, session->arena),
        .arena = session->arena,
    };
    plan = demand_plan_of(&inputs);
    if (table < DEMAND_TABLES)
        print_table(session, &plan, (enum demand_table)table, &opened.run);
    else if (session_format(session) == FORMAT_CSV)
        print_table(session, &plan, DEMAND_CROSSES, &opened.run);
    else
        print_all(session, &plan, &opened.run);
    return STATUS_DONE;
}

const struct command command_demand = {
    .name = "demand",
    .summary = "from wanted seed back to bags, grafts to make, scions, pollen, supplies and days",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "text csv json sheet",
    .options = demand_options,
    .about =
        "Crosses: seed wanted, in store, expected of bags made; cones, conelets, strobili and bags "
        "for the rest, by expectation and for the assurance of program.json; in which spring "
        "standing grafts carry them, and what is left to new grafts. Selections: grafts to make "
        "this winter, were the first spring alone to do, the second alone, and with both; scions "
        "to cut. Pollen by lot in whole doses, supplies, crew-days and lift-days, and the rates "
        "that all of it rests on. Text and JSON give all tables, CSV one.",
    .example = "conetide demand --table selections my-programme > grafts.csv",
    .run = run_demand,
};
