/* grafting.c - "grafting": when grafting opens and must stop, and where this winter's grafts go. */
#include "cli/command.h"

#include "cli/placement_now.h"
#include "planning/grafting.h"
#include "planning/scion_chilling.h"
#include "writing/hosts_page.h"
#include "writing/placement_page.h"

#include <string.h>

static const struct option_row grafting_options[] = {
    OPTION("placement", NULL, OPTION_FLAG, placement,
           "instead: which scion goes on which tree and crown zone this winter; CSV gives rows of "
           "grafts.csv"),
    OPTION("trees", "N", OPTION_COUNT, trees,
           "with --placement: trees that a selection's grafts stand on at least (3)"),
    OPTION("clones", "N", OPTION_COUNT, clones,
           "with --placement: interstock clones that they stand on at least (2)"),
    OPTION("weak", NULL, OPTION_FLAG, weak, "with --placement: weak trees too"),
    OPTION("in-store", NULL, OPTION_FLAG, in_store,
           "with --placement: only scions that are cut, none still to be cut"),
    OPTION("table", "NAME", OPTION_WORD, table,
           "with --placement, that table alone: grafts, selections, scions or trees"),
    OPTION("hosts", NULL, OPTION_FLAG, hosts,
           "instead: what each interstock clone has given to grafts"),
    OPTION("scions", NULL, OPTION_FLAG, scions,
           "instead: chilling hours of every batch of scions, on the tree and in store"),
    OPTIONS_END,
};

static void print_scions(struct session *session, const struct opened *opened)
{
    struct season_heat heat;
    struct scion_chillings rows;
    struct sheet sheet;

    season_heat_init(&heat, &session->orchard, session->arena);
    rows = scion_chilling(&heat, session->arena);
    sheet = scions_sheet(&rows, &opened->run);
    session_sheet(session, &sheet);
}

static void print_windows(struct session *session, const struct opened *opened)
{
    struct grafting_rows rows = grafting_of(opened->state, opened->dates, session->arena);
    struct sheet sheet = grafting_sheet(&rows, &opened->run);

    session_sheet(session, &sheet);
}

static void print_hosts(struct session *session, const struct opened *opened)
{
    struct hosts hosts = hosts_of(opened->state, session->arena);
    struct sheet sheet = hosts_sheet(&hosts, &opened->run);

    session_sheet(session, &sheet);
}

static void print_table(struct session *session, const struct placement *placement,
                        enum placement_table table, const struct page_run *run)
{
    struct sheet sheet = table == PLACEMENT_GRAFTS && session_format(session) == FORMAT_CSV
                             ? placement_rows_sheet(placement, run)
                             : placement_sheet(placement, table, run);

    session_sheet(session, &sheet);
}

/* Text without tables that have no row. */
static void print_tables(struct session *session, const struct placement *placement,
                         const struct page_run *run)
{
    bool is_text = session_format(session) == FORMAT_TEXT;

    session_document(session, "conetide placement 1");
    for (int table = 0; table < PLACEMENT_TABLES; table++) {
        bool empty = (table == PLACEMENT_SCIONS && placement->batches.count == 0) ||
                     (table == PLACEMENT_TREES && placement->trees.count == 0);
        struct sheet sheet;

        if (is_text && empty)
            continue;
        sheet = placement_sheet(placement, (enum placement_table)table, run);
        session_member(session, placement_table_names[table], &sheet);
    }
    session_document_end(session);
}

static void print_placement(struct session *session, const struct opened *opened, int table)
{
    struct placement placement = session_placement(session, opened);

    if (table < PLACEMENT_TABLES)
        print_table(session, &placement, (enum placement_table)table, &opened->run);
    else if (session_format(session) == FORMAT_CSV)
        print_table(session, &placement, PLACEMENT_GRAFTS, &opened->run);
    else
        print_tables(session, &placement, &opened->run);
}

/* PLACEMENT_TABLES: none was asked for. */
static enum exit_status find_table(struct session *session, int *table)
{
    const char *name = session->options.table, *nearest;

    for (*table = 0; name && *table < PLACEMENT_TABLES; (*table)++)
        if (strcmp(placement_table_names[*table], name) == 0)
            return STATUS_DONE;
    *table = PLACEMENT_TABLES;
    if (!name)
        return STATUS_DONE;
    nearest = text_nearest(name, PLACEMENT_TABLES, placement_table_names);
    session_say(session, "there is no table '%s'%s%s", name,
                nearest ? ", did you mean " : ", see conetide grafting --help",
                nearest ? nearest : "");
    return STATUS_USAGE;
}

static enum exit_status check_options(struct session *session)
{
    const struct options *options = &session->options;

    if (options->placement + options->hosts + options->scions > 1) {
        session_say(session, "--placement, --hosts and --scions each give a page of their own, "
                             "ask for one");
        return STATUS_USAGE;
    }
    if (!options->placement && (options->trees || options->clones || options->weak ||
                                options->in_store || options->table)) {
        session_say(session,
                    "--trees, --clones, --weak, --in-store and --table belong to --placement, add "
                    "it or leave them out");
        return STATUS_USAGE;
    }
    return STATUS_DONE;
}

static enum exit_status run_grafting(struct session *session)
{
    struct opened opened;
    int table = PLACEMENT_TABLES;
    enum exit_status status = check_options(session);

    if (status == STATUS_DONE)
        status = find_table(session, &table);
    if (status == STATUS_DONE)
        status = session_plan(session, &opened);
    if (status != STATUS_DONE)
        return status;
    if (session->options.placement)
        print_placement(session, &opened, table);
    else if (session->options.hosts)
        print_hosts(session, &opened);
    else if (session->options.scions)
        print_scions(session, &opened);
    else
        print_windows(session, &opened);
    return STATUS_DONE;
}

const struct command command_grafting = {
    .name = "grafting",
    .summary = "when grafting opens and must stop, and which scion goes where",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "text csv json sheet",
    .options = grafting_options,
    .about = "Opening and closing dates at 10, 50 and 90 %, the state today, working days left by "
             "the gates of program.json (cold nights, cool and hot days), and the chance of a "
             "damaging freeze after grafting. Heat decides where there is weather; the calendar "
             "only bounds it. With --placement: a tree and crown zone for every graft that the "
             "demand asks for, so that the most strobili are expected of them, spread over trees "
             "and interstock clones; what found no place and why. With --hosts: grafts made, share "
             "alive and strobili by interstock clone.",
    .example = "conetide grafting --placement my-programme > new-grafts.csv",
    .run = run_grafting,
};
