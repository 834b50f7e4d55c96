#include "cli/propose.h"

#include "planning/propose.h"
#include "writing/propose_page.h"

#include <math.h>
#include <string.h>

enum { SEEDS_EACH = 300 }; /* where --seeds is not given: own choice */

bool propose_is_meant(const struct options *options)
{
    return options->propose || options->parents || options->testers ||
           options->crosses_per_parent || options->seeds || !isnan(options->coancestry_weight) ||
           !isnan(options->status_number);
}

static enum exit_status find_design(struct session *session, enum propose_design *design)
{
    const char *name = session->options.propose, *nearest;

    if (!name) {
        session_say(session, "--parents, --testers, --seeds, --crosses-per-parent, "
                             "--coancestry-weight and --status-number belong to --propose DESIGN");
        return STATUS_USAGE;
    }
    for (int i = 0; i < PROPOSE_DESIGNS; i++)
        if (strcmp(propose_design_names[i], name) == 0) {
            *design = (enum propose_design)i;
            return STATUS_DONE;
        }
    nearest = text_nearest(name, PROPOSE_DESIGNS, propose_design_names);
    session_say(session, "there is no design '%s'%s%s", name,
                nearest ? ", did you mean " : ", see conetide crossing --help",
                nearest ? nearest : "");
    return STATUS_USAGE;
}

/* What cannot be asked for together. */
static enum exit_status check_request(struct session *session, enum propose_design design)
{
    const struct options *options = &session->options;
    int each = options->crosses_per_parent;
    const char *fault = NULL;

    if (options->shortfalls || options->status)
        fault = "--propose, --status and --shortfalls are three pages, expected one of them";
    else if (design == PROPOSE_FACTORIAL && !options->testers)
        fault = "a factorial needs --testers, the pollen parents that each of --parents meets";
    else if (design != PROPOSE_FACTORIAL && options->testers)
        fault = "--testers belongs to the factorial";
    else if (design == PROPOSE_SINGLE_PAIR && each > 1)
        fault = "in single pairs every parent has one cross, for more take partial-diallel";
    else if (design == PROPOSE_CIRCULAR && each && each != 2)
        fault = "in a ring every parent has two crosses, for other numbers take partial-diallel";
    else if (!isnan(options->coancestry_weight) && !isnan(options->status_number))
        fault = "--coancestry-weight and --status-number both set the weight on kinship, expected "
                "one of them";
    if (!fault)
        return STATUS_DONE;
    session_say(session, "%s", fault);
    return STATUS_USAGE;
}

static bool value_is_known(const struct orchard *orchard, const struct selection *self)
{
    for (size_t i = 0; i < orchard->selections.count; i++)
        if (selection_same(&orchard->selections.list[i], self) &&
            !isnan(orchard->selections.list[i].breeding_value))
            return true;
    return false;
}

static void take_all(const struct orchard *orchard, const struct selection **list, size_t *count)
{
    for (size_t i = 0; i < orchard->selections.count; i++) {
        const struct selection *row = &orchard->selections.list[i];

        if (row->self == row && value_is_known(orchard, row))
            list[(*count)++] = row;
    }
}

static void tell_unknown(struct session *session, const char *option, const char *name)
{
    const struct orchard *orchard = &session->orchard;
    const char **names = ARENA_ARRAY(session->arena, orchard->selections.count, const char *);
    const char *nearest;

    for (size_t i = 0; i < orchard->selections.count; i++)
        names[i] = orchard->selections.list[i].name;
    nearest = text_nearest(name, orchard->selections.count, names);
    session_say(session, "--%s names selection '%s', which is not in selections.csv%s%s%s", option,
                name, nearest ? ", did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
}

/* "S101, S205" or all.  STATUS_USAGE: a name is not known. */
static enum exit_status take_named(struct session *session, const char *option, const char *words,
                                   struct propose_request *request)
{
    const struct orchard *orchard = &session->orchard;
    bool testers = strcmp(option, "testers") == 0;
    const struct selection **list = ARENA_ARRAY(
        session->arena, orchard->selections.count + strlen(words) + 1, const struct selection *);
    enum exit_status status = STATUS_DONE;
    size_t count = 0;

    if (strcmp(words, "all") == 0)
        take_all(orchard, list, &count);
    for (const char *at = words; strcmp(words, "all") != 0 && *at;) {
        size_t length, end;
        const char *name;
        const struct selection *found;

        at += strspn(at, " ,");
        length = end = strcspn(at, ",");
        while (length > 0 && at[length - 1] == ' ')
            length--;
        name = arena_text(session->arena, length, at);
        at += end;
        if (length == 0)
            continue;
        found = orchard_selection(orchard, name);
        if (!found) {
            tell_unknown(session, option, name);
            status = STATUS_USAGE;
            continue;
        }
        list[count++] = found;
    }
    *(testers ? &request->testers : &request->parents) = list;
    *(testers ? &request->tester_count : &request->parent_count) = count;
    return status;
}

static void print_proposal(struct session *session, const struct proposal *proposal,
                           const struct page_run *run)
{
    if (session_format(session) == FORMAT_CSV) {
        struct sheet rows = propose_rows_sheet(proposal, run);

        session_sheet(session, &rows);
        return;
    }
    session_document(session, "conetide crossing proposal 1");
    for (int table = 0; table < PROPOSE_TABLES; table++) {
        struct sheet sheet = propose_sheet(proposal, (enum propose_table)table, run);

        session_member(session, propose_table_names[table], &sheet);
    }
    session_document_end(session);
}

enum exit_status run_propose(struct session *session)
{
    const struct options *options = &session->options;
    struct propose_request request = {
        .crosses_per_parent = options->crosses_per_parent,
        .seeds = options->seeds ? options->seeds : SEEDS_EACH,
        .coancestry_weight = options->coancestry_weight,
        .status_number = options->status_number,
    };
    struct opened opened;
    struct proposal proposal;
    enum exit_status status = find_design(session, &request.design), named;

    if (status == STATUS_DONE)
        status = check_request(session, request.design);
    if (status == STATUS_DONE)
        status = session_plan(session, &opened);
    if (status != STATUS_DONE)
        return status;
    status = take_named(session, "parents", options->parents ? options->parents : "all", &request);
    named =
        options->testers ? take_named(session, "testers", options->testers, &request) : STATUS_DONE;
    if (status != STATUS_DONE || named != STATUS_DONE)
        return STATUS_USAGE;
    proposal = propose(&request, &session->orchard, opened.pedigree, session->arena);
    if (proposal.fault) {
        session_say(session, "%s", proposal.fault);
        return STATUS_USAGE;
    }
    print_proposal(session, &proposal, &opened.run);
    return STATUS_DONE;
}
