/*
 * command.h - a command is one value; the table of them is the dispatcher, the help and the manual.
 */
#ifndef CLI_COMMAND_H
#define CLI_COMMAND_H

#include "cli/options.h"
#include "cli/session.h"
#include "cli/status.h"

struct command {
    const char *name;
    const char *summary;  /* one line */
    const char *operands; /* "FOLDER" */
    size_t operands_least, operands_most;
    const char *formats;              /* "text csv json", the default on a terminal first */
    const struct option_row *options; /* own ones; NULL: none */
    const char *about;                /* paragraphs for --help */
    const char *example;              /* one command line */
    enum exit_status (*run)(struct session *session);
};

extern const struct command command_check, command_heat, command_grafting, command_flowering,
    command_crossing, command_worklist, command_demand, command_harvest, command_fit,
    command_replay, command_why, command_chart, command_note, command_new, command_tags,
    command_refresh;

#define COMMANDS_MOST 32

/* In the order of the help; ended by NULL. */
extern const struct command *const commands[];

/* What each exit status means. */
extern const char *const status_words[STATUSES];

const struct command *command_named(const char *name);

/* The page of a command, or of the program (NULL). */
void help_write(const struct command *command, struct text *out);

#endif
