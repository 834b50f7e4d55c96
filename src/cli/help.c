/* help.c - the pages of --help, made from the tables that parse and dispatch. */
#include "cli/command.h"

#include <string.h>

#define HELP_COLUMNS 80
#define OPTION_INDENT 22
#define COMMAND_INDENT 14

const struct command *const commands[] = {
    &command_check,
    &command_heat,
    &command_grafting,
    &command_flowering,
    &command_demand,
    &command_crossing,
    &command_worklist,
    &command_note,
    &command_tags,
    &command_harvest,
    &command_fit,
    &command_replay,
    &command_why,
    &command_chart,
    &command_new,
    &command_refresh,
    NULL,
};

const struct command *command_named(const char *name)
{
    for (const struct command *const *command = commands; *command; command++)
        if (strcmp((*command)->name, name) == 0)
            return *command;
    return NULL;
}

static void add_options(struct text *out, const struct option_row *rows)
{
    for (; rows && rows->name; rows++) {
        struct text line;

        text_init(&line, out->arena);
        text_addf(&line, "--%s%s%s", rows->name, rows->argument ? " " : "",
                  rows->argument ? rows->argument : "");
        text_add(out, "  ");
        text_add_left(out, OPTION_INDENT - 2, line.bytes);
        text_add_wrapped(out, HELP_COLUMNS, OPTION_INDENT, rows->help);
        text_add(out, "\n");
    }
}

const char *const status_words[STATUSES] = {
    "done, also when the result has nothing in it",
    "check found errors (with --strict: or warnings), or refresh something that wants a person",
    "the command line is not understood",
    "faults in the input: all are told, and there is no result",
    "the system refused: a file, the disk, memory",
    "another run holds the folder",
};

static void add_statuses(struct text *out)
{
    text_add(out, "\nExit status\n");
    for (int status = 0; status < STATUSES; status++) {
        text_addf(out, "  %d  ", status);
        text_add_wrapped(out, HELP_COLUMNS, 5, status_words[status]);
        text_add(out, "\n");
    }
}

static void write_program(struct text *out)
{
    text_add(out, "conetide - a season planner for people who breed forest trees\n\n"
                  "Usage: conetide COMMAND [OPTIONS] FOLDER [OPERAND...]\n\n"
                  "  conetide check my-programme\n"
                  "  conetide worklist --week 2027-W10 my-programme | lp\n\n"
                  "Commands\n");
    for (const struct command *const *command = commands; *command; command++) {
        text_add(out, "  ");
        text_add_left(out, COMMAND_INDENT - 2, (*command)->name);
        text_add_wrapped(out, HELP_COLUMNS, COMMAND_INDENT, (*command)->summary);
        text_add(out, "\n");
    }
    text_add(out, "\nOptions of every command\n");
    add_options(out, common_options);
    add_statuses(out);
    text_add(out, "\n`conetide COMMAND --help` tells more. Dates are plans, not promises: look at\n"
                  "the strobili.\n");
}

void help_write(const struct command *command, struct text *out)
{
    if (!command) {
        write_program(out);
        return;
    }
    text_addf(out, "conetide %s - ", command->name);
    text_add_wrapped(out, HELP_COLUMNS, 2, command->summary);
    text_addf(out, "\n\nUsage: conetide %s [OPTIONS] %s\n\n  %s\n\n", command->name,
              command->operands, command->example);
    text_add_wrapped(out, HELP_COLUMNS, 0, command->about);
    text_add(out, "\n");
    if (*command->formats)
        text_addf(out, "\nForms (--format): %s\n", command->formats);
    if (command->options) {
        text_add(out, "\nOptions\n");
        add_options(out, command->options);
    }
    text_add(out, "\nOptions of every command\n");
    add_options(out, common_options);
    add_statuses(out);
}
