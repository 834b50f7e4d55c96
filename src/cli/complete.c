#include "cli/complete.h"

#include "cli/command.h"
#include "cli/files.h"
#include "conetide/count.h"
#include "conetide/heat.h"
#include "planning/propose.h"
#include "writing/demand_page.h"
#include "writing/placement_page.h"

#include <stdlib.h>
#include <string.h>

struct completing {
    struct session *session;
    const struct command *command;
    const char *typed;
    const char *folder; /* NULL: none on the line yet */
    const char **list;
    size_t count, capacity;
};

static void offer(struct completing *completing, const char *word)
{
    if (word && strncmp(word, completing->typed, strlen(completing->typed)) == 0)
        *ARENA_PUSH(completing->session->arena, completing->list, completing->count,
                    completing->capacity) = word;
}

static void offer_all(struct completing *completing, const char *const *words, size_t count)
{
    for (size_t i = 0; i < count && words[i]; i++)
        offer(completing, words[i]);
}

/* Words with blanks between. */
static void offer_words(struct completing *completing, const char *words)
{
    while (*(words += strspn(words, " "))) {
        size_t length = strcspn(words, " ");

        offer(completing, arena_text(completing->session->arena, length, words));
        words += length;
    }
}

/* ---- from the folder ---- */

/* The tables of the folder on the line, as far as they can be read. */
static const struct orchard *orchard_of(struct completing *completing)
{
    struct session *session = completing->session;
    const char **operands = ARENA_ARRAY(session->arena, 1, const char *);

    if (completing->folder && file_kind_of(completing->folder) == FILE_FOLDER &&
        !session->operands) {
        operands[0] = completing->folder;
        session->operands = operands;
        (void)session_read(session); /* what is wrong with it is for check to tell */
        text_clear(&session->err);
    }
    return &session->orchard;
}

static void offer_tags(struct completing *completing)
{
    const struct orchard *orchard = orchard_of(completing);

    for (size_t i = 0; i < orchard->grafts.count; i++)
        offer(completing, orchard->grafts.list[i].tag);
}

static void offer_selections(struct completing *completing)
{
    const struct orchard *orchard = orchard_of(completing);

    for (size_t i = 0; i < orchard->selections.count; i++)
        offer(completing, orchard->selections.list[i].name);
}

static void offer_sites(struct completing *completing)
{
    const struct orchard *orchard = orchard_of(completing);

    for (size_t i = 0; i < orchard->sites.count; i++)
        offer(completing, orchard->sites.list[i].name);
}

static void offer_stations(struct completing *completing)
{
    const struct orchard *orchard = orchard_of(completing);

    for (size_t i = 0; i < orchard->sites.count; i++)
        offer(completing, orchard->sites.list[i].station_name);
    for (size_t i = 0; i < orchard->stations.count; i++)
        offer(completing, orchard->stations.list[i].name);
}

static void offer_clocks(struct completing *completing)
{
    const struct program *program = &orchard_of(completing)->program;

    for (size_t i = 0; i < program->clock_count; i++)
        offer(completing, program->clocks[i].name);
}

/* ---- after an option ---- */

static void offer_formats(struct completing *completing)
{
    offer_words(completing, completing->command->formats);
}

static void offer_units(struct completing *completing)
{
    offer_words(completing, "si us");
}

static void offer_events(struct completing *completing)
{
    offer_all(completing, event_names, EVENTS);
}

static void offer_curves(struct completing *completing)
{
    for (size_t i = 0; conetide_curves[i]; i++)
        offer(completing, conetide_curves[i]->name);
}

static void offer_cutoffs(struct completing *completing)
{
    for (size_t i = 0; conetide_cutoff_names[i]; i++)
        offer(completing, conetide_cutoff_names[i]);
}

static void offer_counts(struct completing *completing)
{
    for (size_t i = 0; conetide_counts[i]; i++)
        offer(completing, conetide_counts[i]->name);
}

static void offer_designs(struct completing *completing)
{
    offer_all(completing, propose_design_names, PROPOSE_DESIGNS);
}

static void offer_tables(struct completing *completing)
{
    if (completing->command == &command_demand)
        offer_all(completing, demand_table_names, DEMAND_TABLES);
    else
        offer_all(completing, placement_table_names, PLACEMENT_TABLES);
}

static void offer_only(struct completing *completing)
{
    if (option_named(completing->command->options, "only"))
        offer_tags(completing);
}

static const struct {
    const char *option;
    void (*offer)(struct completing *completing);
} values[] = {
    {"format", offer_formats},     {"units", offer_units},    {"event", offer_events},
    {"curve", offer_curves},       {"cutoff", offer_cutoffs}, {"counts", offer_counts},
    {"propose", offer_designs},    {"table", offer_tables},   {"only", offer_only},
    {"parents", offer_selections}, {"site", offer_sites},     {"clock", offer_clocks},
    {"testers", offer_selections},
};

/* The row of a word that is an option of the command; NULL: it is none. */
static const struct option_row *option_of(const struct command *command, const char *word)
{
    const struct option_row *row;

    if (strncmp(word, "--", 2) != 0)
        return NULL;
    row = option_named(command->options, word + 2);
    return row ? row : option_named(common_options, word + 2);
}

static void offer_value(struct completing *completing, const char *option)
{
    for (size_t i = 0; i < sizeof values / sizeof *values; i++)
        if (strcmp(values[i].option, option) == 0)
            values[i].offer(completing);
}

static void offer_options(struct completing *completing)
{
    struct arena *arena = completing->session->arena;
    const struct option_row *own = completing->command->options;

    for (const struct option_row *row = own; row && row->name; row++)
        offer(completing, arena_printf(arena, "--%s", row->name));
    for (const struct option_row *row = common_options; row->name; row++)
        if (!option_named(own, row->name))
            offer(completing, arena_printf(arena, "--%s", row->name));
}

/* ---- operands ---- */

static const struct {
    const struct command *command;
    void (*offer)(struct completing *completing);
} operands[] = {
    {&command_why, offer_tags},
    {&command_tags, offer_tags},
    {&command_heat, offer_stations},
};

/* After the folder. */
static void offer_operand(struct completing *completing)
{
    if (completing->command == &command_chart)
        offer_words(completing, "windows heat minutes map");
    for (size_t i = 0; i < sizeof operands / sizeof *operands; i++)
        if (operands[i].command == completing->command)
            operands[i].offer(completing);
}

static int by_word(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* Sorted, each once. */
static void write_offers(struct completing *completing)
{
    struct text *out = &completing->session->out;

    if (completing->count > 1)
        qsort(completing->list, completing->count, sizeof *completing->list, by_word);
    for (size_t i = 0; i < completing->count; i++)
        if (i == 0 || strcmp(completing->list[i], completing->list[i - 1]) != 0) {
            text_add_printable(out, completing->list[i]);
            text_add(out, "\n");
        }
}

void complete_write(struct session *session, size_t count, const char *const *words)
{
    struct completing completing = {.session = session, .typed = count ? words[count - 1] : ""};
    const struct option_row *option = NULL;

    if (count < 2) {
        for (const struct command *const *command = commands; *command; command++)
            offer(&completing, (*command)->name);
        offer_words(&completing, "--help --version");
    } else {
        completing.command = command_named(words[0]);
    }
    /* The words before: an option that takes one swallows the next. */
    for (size_t i = 1; completing.command && i + 1 < count; i++) {
        if (option) {
            option = NULL;
            continue;
        }
        option = option_of(completing.command, words[i]);
        if (option && option->kind == OPTION_FLAG)
            option = NULL;
        else if (!option && !completing.folder && words[i][0] != '-')
            completing.folder = words[i];
    }
    if (option)
        offer_value(&completing, option->name);
    else if (completing.command && completing.typed[0] == '-')
        offer_options(&completing);
    else if (completing.command && completing.folder)
        offer_operand(&completing);
    write_offers(&completing);
}
