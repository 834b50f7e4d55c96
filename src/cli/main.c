/*
 * main.c - parse, run, print, leave: the imperative shell around everything else.
 *
 * Only here are standard streams written and is the exit status given; a result is printed whole
 * after the command is done, so that no fault leaves half of one.
 */
#include "cli/command.h"
#include "cli/complete.h"
#include "cli/files.h"
#include "cli/manual.h"
#include "cli/session.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void memory_refused(size_t bytes)
{
    char line[96];
    int length = snprintf(line, sizeof line, "conetide: no memory for %zu more bytes\n", bytes);

    if (length > 0)
        (void)!write(STDERR_FILENO, line, (size_t)length);
    _exit(STATUS_SYSTEM);
}

static bool has_form(const char *formats, const char *form)
{
    size_t length = strlen(form);

    for (const char *at = strstr(formats, form); at; at = strstr(at + 1, form))
        if ((at == formats || at[-1] == ' ') && (at[length] == ' ' || at[length] == '\0'))
            return length > 0;
    return false;
}

/* Is the result made of tables in the form asked for? */
static bool prints_tables(const struct options *options, const struct command *command)
{
    return has_form(command->formats, "csv") &&
           (!options->format || !has_form("html svg ics", options->format));
}

/* Neither a form of the command nor anything like one. */
static void tell_format(struct session *session, const struct command *command)
{
    const char *names[FORMATS], *nearest;
    const char *format = session->options.format;
    size_t count = 0;

    for (const char *at = command->formats; *at && count < FORMATS; at += strspn(at, " ")) {
        size_t length = strcspn(at, " ");

        names[count++] = arena_text(session->arena, length, at);
        at += length;
    }
    nearest = text_nearest(format, count, names);
    session_say(session, "--format is '%s', not one of: %s%s%s%s", format, command->formats,
                nearest ? "; did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
}

/* What is common to all commands: false when the line cannot be run. */
static bool check_usage(struct session *session, const struct command *command)
{
    const struct options *options = &session->options;

    if (options->format && *command->formats == '\0') {
        session_say(session, "--format is '%s', and this command prints no page of its own",
                    options->format);
        return false;
    }
    if (options->format && !has_form(command->formats, options->format)) {
        tell_format(session, command);
        return false;
    }
    for (size_t i = 0; i < options->only.count; i++) {
        if (strchr(options->only.list[i], '=') || option_named(command->options, "only"))
            continue;
        session_say(session, "--only is '%s', not COLUMN=VALUE[,VALUE...]", options->only.list[i]);
        return false;
    }
    if ((options->explain || options->columns || options->only.count > 0) &&
        !prints_tables(options, command)) {
        session_say(
            session,
            "--columns, --only and --explain are of tables, and there is none in this form");
        return false;
    }
    if (options->columns && options->columns[strspn(options->columns, " ,")] == '\0') {
        session_say(session, "--columns is '%s', not names of columns with commas between",
                    options->columns);
        return false;
    }
    if (options->units && strcmp(options->units, "si") != 0 && strcmp(options->units, "us") != 0) {
        session_say(session, "--units is '%s', not si or us", options->units);
        return false;
    }
    if (options->out && file_kind_of(options->out) == FILE_OTHER) {
        session_say(session, "--out is '%s', a device or pipe, and would be replaced by a file",
                    options->out);
        return false;
    }
    if (session->operand_count < command->operands_least ||
        session->operand_count > command->operands_most) {
        session_say(session, "expected %s, found %zu operands, see conetide %s --help",
                    command->operands, session->operand_count, command->name);
        return false;
    }
    return true;
}

static enum exit_status run_command(struct session *session, const struct command *command,
                                    int argc, char **argv)
{
    struct text fault;

    text_init(&fault, session->arena);
    session->operands = ARENA_ARRAY(session->arena, (size_t)argc, const char *);
    if (!options_parse(argc, argv, command->options, &session->options, session->operands,
                       &session->operand_count, &fault)) {
        session_say(session, "%s%s see conetide %s --help", fault.bytes,
                    fault.bytes[fault.length - 1] == '?' ? "" : ",", command->name);
        return STATUS_USAGE;
    }
    if (session->options.help) {
        help_write(command, &session->out);
        return STATUS_DONE;
    }
    if (session->options.version) {
        text_add(&session->out, "conetide " CONETIDE_VERSION "\n");
        return STATUS_DONE;
    }
    if (!check_usage(session, command))
        return STATUS_USAGE;
    return command->run(session);
}

static enum exit_status unknown_command(struct session *session, const char *word)
{
    const char *names[COMMANDS_MOST], *nearest;
    size_t count = 0;

    for (const struct command *const *command = commands; *command; command++)
        names[count++] = (*command)->name;
    nearest = text_nearest(word, count, names);
    if (word[0] == '-')
        session_say(session, "expected a command before '%s', see conetide --help", word);
    else
        session_say(session, "there is no command '%s', %s%s%s", word,
                    nearest ? "did you mean " : "see conetide --help", nearest ? nearest : "",
                    nearest ? "?" : "");
    return STATUS_USAGE;
}

static enum exit_status dispatch(struct session *session, int argc, char **argv)
{
    const char *word = argc > 1 ? argv[1] : "--help";
    const struct command *command;

    if (strcmp(word, "--help") == 0 || strcmp(word, "help") == 0) {
        command = argc > 2 ? command_named(argv[2]) : NULL;
        if (argc > 2 && !command)
            return unknown_command(session, argv[2]);
        help_write(command, argc > 1 ? &session->out : &session->err);
        return argc > 1 ? STATUS_DONE : STATUS_USAGE;
    }
    if (strcmp(word, "--version") == 0) {
        text_add(&session->out, "conetide " CONETIDE_VERSION "\n");
        return STATUS_DONE;
    }
    if (strcmp(word, "--manual") == 0) {
        command = argc > 2 ? command_named(argv[2]) : NULL;
        if (argc > 2 && !command)
            return unknown_command(session, argv[2]);
        manual_write(command, &session->out);
        return STATUS_DONE;
    }
    if (strcmp(word, "--complete") == 0) {
        complete_write(session, (size_t)argc - 2, (const char *const *)argv + 2);
        return STATUS_DONE;
    }
    command = command_named(word);
    if (!command)
        return unknown_command(session, word);
    session->command = command->name;
    return run_command(session, command, argc - 1, argv + 1);
}

/* The result, whole, to --out or to standard output.  A reader that has gone away is no fault. */
static enum exit_status print_result(struct session *session)
{
    const struct text *out = &session->out;
    const char *path = session->options.out;

    if (path) {
        if (file_replace(path, out->length, out->bytes, session->arena))
            return STATUS_DONE;
        session_say(session, "%s: %s", path, strerror(errno));
        return STATUS_SYSTEM;
    }
    if (file_write_all(STDOUT_FILENO, out->length, out->bytes) || errno == EPIPE)
        return STATUS_DONE;
    session_say(session, "standard output: %s", strerror(errno));
    return STATUS_SYSTEM;
}

int main(int argc, char **argv)
{
    struct arena arena;
    struct session session = {.arena = &arena, .to_terminal = isatty(STDOUT_FILENO) == 1};
    enum exit_status status, printed = STATUS_DONE;

    (void)signal(SIGPIPE, SIG_IGN);
    (void)signal(SIGXFSZ, SIG_IGN); /* a file at its limit is told like a full disk */
    arena_init(&arena, memory_refused);
    options_init(&session.options);
    diags_init(&session.diags, &arena);
    orchard_init(&session.orchard, &arena);
    text_init(&session.out, &arena);
    text_init(&session.err, &arena);
    status = dispatch(&session, argc, argv);
    if ((status == STATUS_DONE || status == STATUS_FAULTS) &&
        session_finish(&session) != STATUS_DONE)
        status = STATUS_USAGE;
    if (status == STATUS_DONE || status == STATUS_FAULTS)
        printed = print_result(&session);
    (void)file_write_all(STDERR_FILENO, session.err.length, session.err.bytes);
    arena_release(&arena);
    return (int)(printed != STATUS_DONE ? printed : status);
}
