#include "cli/manual.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#define MANUAL_DATE "November 25, 2026" /* of the last change to what stands in this file */
#define MANUAL_COLUMNS 76               /* of the source, whose lines are to be short */

/* One line of text: what a formatter would take for its own is written out. */
static void add_line(struct text *out, const char *line)
{
    bool open = false;

    text_add(out, *line == '.' || *line == '\'' ? "\\&" : "");
    for (; *line; line++) {
        switch (*line) {
        case '\\':
            text_add(out, "\\e");
            break;
        case '-':
            text_add(out, "\\-");
            break;
        case '~':
            text_add(out, "\\(ti");
            break;
        case '^':
            text_add(out, "\\(ha");
            break;
        case '`':
            text_add(out, open ? "\\(cq" : "\\(oq");
            open = !open;
            break;
        default:
            text_add_bytes(out, 1, line);
        }
    }
    text_add(out, "\n");
}

/* The end of the first sentence: where a blank follows what ends one. */
static size_t sentence_length(const char *words)
{
    size_t i = 0;

    while (words[i] && !(strchr(".!?:", words[i]) && words[i + 1] == ' '))
        i++;
    return i + (words[i] != '\0');
}

/* Running text: each sentence begins a line. */
static void add_words(struct text *out, const char *words)
{
    struct text wrapped;

    text_init(&wrapped, out->arena);
    for (words += strspn(words, " "); *words; words += strspn(words, " ")) {
        size_t length = sentence_length(words);

        text_clear(&wrapped);
        text_add_wrapped(&wrapped, MANUAL_COLUMNS, 0, arena_text(out->arena, length, words));
        for (const char *at = wrapped.bytes; *at;) {
            size_t line = strcspn(at, "\n");

            add_line(out, arena_text(out->arena, line, at));
            at += line + (at[line] == '\n');
        }
        words += length;
    }
}

/* Arguments of a macro: each in quotes, so that none is taken for another macro. */
static void add_argument(struct text *out, const char *word)
{
    text_add(out, " \"");
    for (; *word; word++)
        text_add_bytes(out, 1, *word == '"' ? "'" : word);
    text_add(out, "\"");
}

static void add_option_list(struct text *out, const struct option_row *rows,
                            const struct option_row *own)
{
    text_add(out, ".Bl -tag -width Ds\n");
    for (; rows->name; rows++) {
        if (own && option_named(own, rows->name))
            continue;
        text_addf(out, ".It Fl -%s", rows->name);
        if (rows->argument) {
            text_add(out, " Ar");
            add_argument(out, rows->argument);
        }
        text_add(out, "\n");
        add_words(out, rows->help);
    }
    text_add(out, ".El\n");
}

static void add_title(struct text *out, const char *name, const char *summary)
{
    text_add(out, ".Dd " MANUAL_DATE "\n.Dt ");
    for (const char *at = name; *at; at++)
        text_addf(out, "%c", toupper((unsigned char)*at));
    text_addf(out, " 1\n.Os\n.Sh NAME\n.Nm %s\n.Nd", name);
    add_argument(out, summary);
    text_add(out, "\n");
}

static void add_statuses(struct text *out)
{
    text_add(out, ".Sh EXIT STATUS\n.Bl -tag -width Ds\n");
    for (int status = 0; status < STATUSES; status++) {
        text_addf(out, ".It %d\n", status);
        add_words(out, status_words[status]);
    }
    text_add(out, ".El\n");
}

static int by_name(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static void see_commands(struct text *out)
{
    const char *names[COMMANDS_MOST] = {NULL};
    size_t count = 0;

    for (const struct command *const *command = commands; *command; command++)
        names[count++] = (*command)->name;
    qsort(names, count, sizeof *names, by_name);
    for (size_t i = 0; i < count; i++)
        text_addf(out, ".Xr conetide-%s 1 ,\n", names[i]);
}

static void write_program(struct text *out)
{
    add_title(out, "conetide", "a season planner for people who breed forest trees");
    text_add(out, ".Sh SYNOPSIS\n.Nm\n.Ar COMMAND\n.Op Ar options\n.Ar FOLDER\n"
                  ".Op Ar operands\n.Sh DESCRIPTION\n");
    add_words(out, "A programme folder holds tables of sites, trees, selections, grafts, crosses, "
                   "pollen and crews, and a folder of weather. From these each command makes one "
                   "page or table. The same tables and the same day give the same bytes.");
    text_add(out, ".Pp\nThe commands are:\n.Bl -tag -width Ds\n");
    for (const struct command *const *command = commands; *command; command++) {
        text_addf(out, ".It Xr conetide-%s 1\n", (*command)->name);
        add_words(out, (*command)->summary);
    }
    text_add(out, ".El\n.Pp\nOptions of every command:\n");
    add_option_list(out, common_options, NULL);
    text_add(out, ".Pp\n");
    add_words(out, "Dates are plans, not promises: look at the strobili.");
    text_add(out, ".Sh ENVIRONMENT\n");
    add_words(out, "No variable is read, and output has no colours, so there is nothing for "
                   "NO_COLOR to turn off.");
    add_statuses(out);
    text_add(out, ".Sh EXAMPLES\n.Dl conetide check my\\-programme\n"
                  ".Dl conetide worklist \\-\\-week 2027\\-W10 my\\-programme | lp\n"
                  ".Sh SEE ALSO\n");
    see_commands(out);
    text_add(out, ".Xr conetide-tables 5\n");
}

void manual_write(const struct command *command, struct text *out)
{
    if (!command) {
        write_program(out);
        return;
    }
    add_title(out, arena_printf(out->arena, "conetide-%s", command->name), command->summary);
    text_addf(out, ".Sh SYNOPSIS\n.Nm conetide %s\n.Op Ar options\n.Ar", command->name);
    add_argument(out, command->operands);
    text_add(out, "\n.Sh DESCRIPTION\n");
    add_words(out, command->about);
    if (command->options && command->options->name) {
        text_add(out, ".Pp\nThe options are:\n");
        add_option_list(out, command->options, NULL);
    }
    text_add(out, ".Pp\nOptions of every command:\n");
    add_option_list(out, common_options, command->options);
    if (*command->formats) {
        text_add(out, ".Pp\nForms that\n.Fl -format\ntakes:\n");
        add_words(out, command->formats);
    }
    add_statuses(out);
    text_add(out, ".Sh EXAMPLES\n.Dl ");
    add_line(out, command->example);
    text_add(out, ".Sh SEE ALSO\n.Xr conetide 1 ,\n.Xr conetide-tables 5\n");
}
