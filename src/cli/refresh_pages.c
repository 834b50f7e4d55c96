#include "cli/refresh_pages.h"

#include "cli/command.h"

#include <string.h>

enum { WORDS_MOST = 6 };

/* A page is a command line without its folder: `{}` stands for the day or week. */
struct page {
    const char *name;
    const struct command *command;
    const char *words[WORDS_MOST];
};

static const struct page pages_of_a_run[] = {
    {"grafting.txt", &command_grafting, {"--format", "text"}},
    {"grafting.csv", &command_grafting, {"--format", "csv"}},
    {"placement.txt", &command_grafting, {"--placement", "--format", "text"}},
    {"placement.csv", &command_grafting, {"--placement", "--format", "csv"}},
    {"flowering.txt", &command_flowering, {"--format", "text"}},
    {"flowering.csv", &command_flowering, {"--format", "csv"}},
    {"pollen.txt", &command_flowering, {"--pollen", "--format", "text"}},
    {"pollen.csv", &command_flowering, {"--pollen", "--format", "csv"}},
    {"crossing.txt", &command_crossing, {"--format", "text"}},
    {"crossing.csv", &command_crossing, {"--format", "csv"}},
    {"plan.json", &command_crossing, {"--format", "json"}},
    {"calendar.ics", &command_crossing, {"--format", "ics"}},
    {"status.txt", &command_crossing, {"--status", "--format", "text"}},
    {"status.csv", &command_crossing, {"--status", "--format", "csv"}},
    {"shortfalls.txt", &command_crossing, {"--shortfalls", "--format", "text"}},
    {"shortfalls.csv", &command_crossing, {"--shortfalls", "--format", "csv"}},
    {"demand.txt", &command_demand, {"--format", "text"}},
    {"demand-crosses.csv", &command_demand, {"--table", "crosses", "--format", "csv"}},
    {"demand-selections.csv", &command_demand, {"--table", "selections", "--format", "csv"}},
    {"demand-pollen.csv", &command_demand, {"--table", "pollen", "--format", "csv"}},
    {"demand-supplies.csv", &command_demand, {"--table", "supplies", "--format", "csv"}},
    {"demand-work.csv", &command_demand, {"--table", "work", "--format", "csv"}},
    {"harvest.txt", &command_harvest, {"--format", "text"}},
    {"harvest-bags.csv", &command_harvest, {"--bags", "--format", "csv"}},
    {"harvest-crosses.csv", &command_harvest, {"--crosses", "--format", "csv"}},
    {"windows.svg", &command_chart, {"--format", "svg"}},
    {"heat.svg", &command_chart, {"--format", "svg", "heat"}},
    {"minutes.svg", &command_chart, {"--format", "svg", "minutes"}},
    {"season.html", &command_chart, {"--format", "html"}},
};

/* Pages whose words hold a day: today, this week, next week, each in three forms. */
static const char *const forms[][2] = {{"txt", "text"}, {"html", "html"}, {"csv", "csv"}};
static const struct {
    const char *name, *option;
    int days_on;
} spans[] = {{"today", "--day", 0}, {"this-week", "--week", 0}, {"next-week", "--week", 7}};

/* The options of the run with the words of the page over them; operands come after the folder. */
static enum exit_status set_options(struct session *session, const struct page *page,
                                    const struct options *run)
{
    char *words[WORDS_MOST + 2] = {NULL};
    const char **operands = ARENA_ARRAY(session->arena, WORDS_MOST + 2, const char *);
    struct text fault;
    int count = 1;
    size_t operand_count = 0;

    words[0] = arena_printf(session->arena, "%s", page->command->name);
    for (size_t i = 0; i < WORDS_MOST && page->words[i]; i++)
        words[count++] = arena_printf(session->arena, "%s", page->words[i]);
    text_init(&fault, session->arena);
    options_init(&session->options);
    if (!options_parse(count, words, page->command->options, &session->options, operands + 1,
                       &operand_count, &fault)) {
        session_say(session, "%s: %s", page->name, fault.bytes);
        return STATUS_USAGE;
    }
    operands[0] = session->operands[0];
    session->operands = operands;
    session->operand_count = operand_count + 1;
    session->options.as_of = run->as_of;
    session->options.units = run->units;
    session->options.firm = page->command == &command_crossing ? run->firm : NULL;
    session->options.replaces =
        session->options.format && strcmp(session->options.format, "ics") == 0 ? run->replaces
                                                                               : NULL;
    return STATUS_DONE;
}

/* What the command says beside its page has been said once, or is not of this page. */
static enum exit_status print_page(struct session *session, const struct page *page,
                                   struct refresh_pages *pages)
{
    const struct options run = session->options;
    const char **operands = session->operands;
    const size_t operand_count = session->operand_count;
    struct text err = session->err;
    enum exit_status status;

    text_init(&session->err, session->arena);
    text_init(&session->out, session->arena);
    status = set_options(session, page, &run);
    session->output = (struct output){0};
    if (status == STATUS_DONE)
        status = page->command->run(session);
    if (status == STATUS_DONE)
        status = session_finish(session);
    if (status != STATUS_DONE)
        text_add(&err, session->err.bytes);
    else
        refresh_pages_add(pages, page->name, &session->out);
    session->err = err;
    text_init(&session->out, session->arena);
    session->options = run;
    session->operands = operands;
    session->operand_count = operand_count;
    return status;
}

static enum exit_status print_worklists(struct session *session, struct refresh_pages *pages)
{
    enum exit_status status = STATUS_DONE;

    for (size_t s = 0; status == STATUS_DONE && s < sizeof spans / sizeof *spans; s++) {
        char *on = ARENA_ARRAY(session->arena, DAY_TEXT, char);
        daynum day = session->as_of + spans[s].days_on;

        if (strcmp(spans[s].option, "--day") == 0)
            (void)day_text(day, on);
        else
            (void)day_week_text(day, on);
        for (size_t f = 0; status == STATUS_DONE && f < sizeof forms / sizeof *forms; f++) {
            struct page page = {
                arena_printf(session->arena, "worklist-%s.%s", spans[s].name, forms[f][0]),
                &command_worklist,
                {spans[s].option, on, "--format", forms[f][1]}};

            status = print_page(session, &page, pages);
        }
    }
    return status;
}

enum exit_status refresh_pages_print(struct session *session, const char *replaces,
                                     struct refresh_pages *pages)
{
    enum exit_status status = STATUS_DONE;

    session->options.replaces = replaces;
    for (size_t i = 0; status == STATUS_DONE && i < sizeof pages_of_a_run / sizeof *pages_of_a_run;
         i++)
        status = print_page(session, &pages_of_a_run[i], pages);
    return status == STATUS_DONE ? print_worklists(session, pages) : status;
}

void refresh_pages_add(struct refresh_pages *pages, const char *name, const struct text *bytes)
{
    *ARENA_PUSH(bytes->arena, pages->list, pages->count, pages->capacity) =
        (struct refresh_page){name, *bytes};
}
