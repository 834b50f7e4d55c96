#include "cli/output.h"

#include "cli/session.h"
#include "writing/dictionary.h"
#include "writing/head.h"
#include "writing/workbook.h"

#include <string.h>

enum { TEXT_COLUMNS = 100 }; /* of tables and their words, whatever the terminal: it may scroll */

static const char *const format_names[FORMATS] = {
    [FORMAT_TEXT] = "text", [FORMAT_CSV] = "csv", [FORMAT_JSON] = "json", [FORMAT_SHEET] = "sheet",
    [FORMAT_HTML] = "html", [FORMAT_SVG] = "svg", [FORMAT_ICS] = "ics",
};

enum format session_format(const struct session *session)
{
    const char *name = session->options.format;

    if (!name)
        return session->to_terminal && !session->options.out ? FORMAT_TEXT : FORMAT_CSV;
    for (enum format format = FORMAT_CSV; format < FORMATS; format++)
        if (strcmp(format_names[format], name) == 0)
            return format;
    return FORMAT_TEXT;
}

/* Tests of columns among the words of --only; others are the command's own. */
static size_t count_tests(const struct options *options)
{
    size_t count = 0;

    for (size_t i = 0; i < options->only.count; i++)
        count += strchr(options->only.list[i], '=') != NULL;
    return count;
}

bool session_wants_page(const struct session *session)
{
    const struct options *options = &session->options;

    if (options->explain || options->columns || count_tests(options) > 0)
        return false;
    return !options->format || session_format(session) == FORMAT_TEXT;
}

static struct choice *choice_of(struct session *session)
{
    const struct options *options = &session->options;
    struct output *output = &session->output;
    struct choice *choice = output->choice;
    struct choice_test *tests;

    if (choice)
        return choice;
    choice = output->choice = ARENA_NEW(session->arena, struct choice);
    tests = ARENA_ARRAY(session->arena, options->only.count + 1, struct choice_test);
    for (size_t i = 0; i < options->only.count; i++) {
        const char *word = options->only.list[i], *value = strchr(word, '=');

        if (!value)
            continue;
        tests[choice->test_count++] = (struct choice_test){
            arena_text(session->arena, (size_t)(value - word), word), value + 1};
    }
    choice->tests = tests;
    if (options->columns)
        choice->columns = choice_words(options->columns, session->arena, &choice->column_count);
    output->found =
        ARENA_ARRAY(session->arena, choice->column_count + choice->test_count + 1, bool);
    return choice;
}

/* The name asked for at a place of `found`. */
static const char *name_asked(const struct choice *choice, size_t at)
{
    return at < choice->column_count ? choice->columns[at]
                                     : choice->tests[at - choice->column_count].column;
}

static void mark_found(struct session *session, const struct sheet *sheet)
{
    const struct choice *choice = choice_of(session);
    struct output *output = &session->output;

    for (size_t i = 0; i < choice->column_count + choice->test_count; i++)
        output->found[i] =
            output->found[i] || choice_find(sheet, name_asked(choice, i)) < sheet->column_count;
    *ARENA_PUSH(session->arena, output->tables, output->table_count, output->table_capacity) =
        *sheet;
}

static struct sheet_style style_of(const struct session *session)
{
    const struct options *options = &session->options;

    return (struct sheet_style){
        .units_us = session_units_us(session),
        .plain = options->plain,
        .columns = TEXT_COLUMNS,
        .digits = options->digits,
    };
}

/* The table as it was asked for; false: nothing of it was. */
static bool take(struct session *session, const struct sheet *sheet, struct sheet *taken)
{
    const struct choice *choice = choice_of(session);

    mark_found(session, sheet);
    *taken = *sheet;
    if (choice_is_all(choice))
        return true;
    if (!choice_fits(sheet, choice))
        return false;
    *taken = choice_take(sheet, choice);
    return true;
}

static void keep(struct session *session, const struct sheet *sheet)
{
    struct output *output = &session->output;

    *ARENA_PUSH(session->arena, output->kept, output->kept_count, output->kept_capacity) = *sheet;
}

/* What is too old to go unsaid, where the head that says it is not printed. */
static void say_aloud(struct session *session, const struct sheet *sheet)
{
    for (const char *at = sheet->head.bytes; *at;
         at += strcspn(at, "\n") + (strchr(at, '\n') != NULL))
        if (strncmp(at, HEAD_ALOUD, strlen(HEAD_ALOUD)) == 0)
            session_say(session, "%.*s", (int)strcspn(at, "\n"), at);
}

static void print(struct session *session, const struct sheet *sheet)
{
    struct output *output = &session->output;

    if (session->options.explain) {
        keep(session, sheet);
        return;
    }
    if (output->printed == 0 &&
        (session_format(session) == FORMAT_CSV || session_format(session) == FORMAT_JSON))
        say_aloud(session, sheet);
    switch (session_format(session)) {
    case FORMAT_CSV:
        sheet_write_csv(sheet, style_of(session), &session->out);
        break;
    case FORMAT_JSON:
        sheet_write_json(sheet, style_of(session), &session->out);
        break;
    case FORMAT_SHEET:
        keep(session, sheet);
        break;
    default: /* a command that lists another form writes it itself */
        text_add(&session->out, output->printed > 0 ? "\n" : "");
        sheet_write_text(sheet, style_of(session), &session->out);
        break;
    }
    output->printed++;
}

void session_sheet(struct session *session, const struct sheet *sheet)
{
    struct sheet taken;

    if (take(session, sheet, &taken))
        print(session, &taken);
}

void session_document(struct session *session, const char *schema)
{
    if (session_format(session) == FORMAT_JSON && !session->options.explain)
        text_addf(&session->out, "{\"schema\":\"%s\"", schema);
}

void session_member(struct session *session, const char *name, const struct sheet *sheet)
{
    struct sheet taken;

    if (!take(session, sheet, &taken))
        return;
    if (session_format(session) == FORMAT_JSON && !session->options.explain)
        text_addf(&session->out, ",\n\"%s\":", name);
    print(session, &taken);
}

void session_document_end(struct session *session)
{
    if (session_format(session) == FORMAT_JSON && !session->options.explain)
        text_add(&session->out, "}\n");
}

/* No table has this column: the nearest name, or those there are. */
static void tell_unknown(struct session *session, const char *option, const char *name)
{
    const struct output *output = &session->output;
    const char **names, *nearest;
    size_t count = 0, most = 0;
    struct text list;

    for (size_t t = 0; t < output->table_count; t++)
        most += output->tables[t].column_count;
    names = ARENA_ARRAY(session->arena, most + 1, const char *);
    text_init(&list, session->arena);
    for (size_t t = 0; t < output->table_count; t++)
        for (size_t i = 0; i < output->tables[t].column_count; i++) {
            const char *column = output->tables[t].columns[i].name;

            if (choice_find(&output->tables[t], column) == i) {
                text_addf(&list, "%s%s", count ? ", " : "", column);
                names[count++] = column;
            }
        }
    nearest = text_nearest(name, count, names);
    if (nearest)
        session_say(session, "--%s: there is no column '%s', did you mean %s?", option, name,
                    nearest);
    else
        session_say(session, "--%s: there is no column '%s'; there are %s", option, name,
                    list.bytes);
}

/* Its first value, where no row has any of them: no fault, and often a slip. */
static void tell_unmatched(struct session *session, const struct choice_test *test)
{
    const struct output *output = &session->output;
    const struct choice one = {.tests = test, .test_count = 1};
    const char **values, *value, *nearest;
    size_t count = 0, most = 0;

    for (size_t t = 0; t < output->table_count; t++)
        most += output->tables[t].row_count;
    values = ARENA_ARRAY(session->arena, most + 1, const char *);
    for (size_t t = 0; t < output->table_count; t++) {
        const struct sheet *table = &output->tables[t];
        size_t at = choice_find(table, test->column);

        if (at == table->column_count)
            continue;
        if (choice_take(table, &one).row_count > 0)
            return;
        for (size_t r = 0; r < table->row_count && table->columns[at].kind == CELL_TEXT; r++)
            if (table->cells[r * table->column_count + at].text)
                values[count++] = table->cells[r * table->column_count + at].text;
    }
    value = arena_text(session->arena, strcspn(test->values, ","), test->values);
    nearest = text_nearest(value, count, values);
    session_say(session, "--only: no row has %s '%s'%s%s%s", test->column, test->values,
                nearest ? ", did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
}

static enum exit_status tell_lacks(struct session *session)
{
    const struct choice *choice = choice_of(session);
    enum exit_status status = STATUS_DONE;

    for (size_t i = 0; i < choice->column_count + choice->test_count; i++) {
        if (session->output.found[i])
            continue;
        tell_unknown(session, i < choice->column_count ? "columns" : "only", name_asked(choice, i));
        status = STATUS_USAGE;
    }
    return status;
}

enum exit_status session_sheet_check(struct session *session, const struct sheet *sheet)
{
    mark_found(session, sheet);
    return tell_lacks(session);
}

/* What was kept, explained in place of itself. */
static void explain(struct session *session)
{
    struct output *output = &session->output;
    struct sheet sheet = dictionary_sheet(output->kept_count, output->kept, session->arena);

    output->kept_count = 0;
    session->options.explain = false;
    print(session, &sheet);
    session->options.explain = true;
}

enum exit_status session_finish(struct session *session)
{
    struct output *output = &session->output;

    if (output->table_count > 0 && tell_lacks(session) != STATUS_DONE)
        return STATUS_USAGE;
    if (session->options.explain && output->kept_count > 0)
        explain(session);
    for (size_t i = 0;
         !session->options.explain && output->choice && i < output->choice->test_count; i++)
        tell_unmatched(session, &output->choice->tests[i]);
    if (output->kept_count > 0)
        workbook_write(output->kept_count, output->kept, style_of(session), &session->out);
    return STATUS_DONE;
}
