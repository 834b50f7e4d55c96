/* note.c - "note": a page that was filled in, checked and appended to notes.csv. */
#include "cli/command.h"

#include "cli/files.h"
#include "cli/lock.h"
#include "orchard/order.h"
#include "orchard/trial.h"
#include "planning/typed_effects.h"
#include "planning/typed_notes.h"
#include "reading/typed.h"
#include "writing/note_lines.h"
#include "writing/note_page.h"

#include <errno.h>
#include <string.h>

static const struct option_row note_options[] = {
    OPTION("page", "FILE", OPTION_WORD, page,
           "the worklist as it was printed (CSV): FILE.csv may then hold codes and results alone"),
    OPTION("dry-run", NULL, OPTION_FLAG, dry_run, "check and tell, add nothing"),
    OPTION("wait", "SECONDS", OPTION_MANY, wait_seconds,
           "wait so long for another run that is adding to this folder"),
    OPTIONS_END,
};

/* One page on its way into the folder. */
struct noting {
    struct session *session;
    const char *path; /* of notes.csv */
    struct orchard linked;
    struct typed_page page, issued;
    struct diags diags; /* of the page */
    struct typed_notes notes;
};

static enum exit_status refused(struct session *session, const char *path)
{
    session_say(session, "%s: %s", path, strerror(errno));
    return STATUS_SYSTEM;
}

/* ---- what was typed ------------------------------------------------------------------------- */

struct typed_reading {
    struct noting *noting;
    struct typed_page *page;
};

static bool read_page(struct session *session, const struct source *source, void *context)
{
    const struct typed_reading *reading = context;

    return read_typed(reading->page, &session->orchard, source, &reading->noting->diags);
}

static enum exit_status read_pages(struct noting *noting)
{
    struct session *session = noting->session;
    struct typed_reading typed = {noting, &noting->page}, issued = {noting, &noting->issued};
    enum exit_status status =
        session_read_path(session, session->operands[1], (struct path_reader){read_page, &typed});

    if (status == STATUS_DONE && session->options.page)
        status = session_read_path(session, session->options.page,
                                   (struct path_reader){read_page, &issued});
    return status;
}

/* The folder as of the day; its own faults end the run as they end any other. */
static enum exit_status link_folder(struct noting *noting)
{
    struct session *session = noting->session;

    noting->linked = orchard_copy(&session->orchard, session->arena);
    orchard_as_of(&noting->linked, session->as_of);
    orchard_link(&noting->linked, &session->diags);
    orchard_audit(&noting->linked, session->as_of, &session->diags);
    (void)state_of(&noting->linked, session->arena, &session->diags);
    return session_faults_of(session, session->operands[0]);
}

/* All faults of the page, and STATUS_INPUT; STATUS_DONE with its warnings: there is none. */
static enum exit_status tell_faults(struct noting *noting)
{
    struct session *session = noting->session;
    size_t errors = noting->diags.errors;

    diags_sort(&noting->diags);
    diags_write(&noting->diags, &session->err);
    if (errors == 0)
        return STATUS_DONE;
    session_say(session, "%zu fault%s in what was typed, so nothing was added", errors,
                errors == 1 ? "" : "s");
    return STATUS_INPUT;
}

static enum exit_status check_page(struct noting *noting)
{
    struct session *session = noting->session;
    const struct typing typing = {
        .read = &session->orchard,
        .linked = &noting->linked,
        .page = &noting->page,
        .issued = session->options.page ? &noting->issued : NULL,
        .as_of = session->as_of,
        .arena = session->arena,
        .diags = &noting->diags,
    };

    noting->notes = typed_notes_of(&typing);
    typed_notes_try(&typing, &noting->notes);
    return tell_faults(noting);
}

/* ---- what is written ------------------------------------------------------------------------ */

/* A note as it is to be written. */
static struct note as_typed(const struct typed_note *of)
{
    struct note note = of->note;

    note.value = of->value_typed;
    return note;
}

/* The manner of the file that is there, or of a new one with all columns. */
static bool form_of(struct noting *noting, const struct text *bytes, struct note_form *form)
{
    struct manner manner;

    *form = (struct note_form){note_columns_count, note_columns_all, ',', "\n"};
    if (bytes->length == 0)
        return true;
    if (!reading_manner(bytes->length, bytes->bytes, noting->session->arena, &manner))
        return false;
    *form = (struct note_form){manner.count, manner.columns, manner.delimiter,
                               manner.crlf ? "\r\n" : "\n"};
    return true;
}

/* A cell that the file has no column for would be lost. */
static enum exit_status check_columns(struct noting *noting, const struct note_form *form)
{
    const char *told = NULL;

    for (size_t i = 0; i < noting->notes.count; i++) {
        const char *lacks =
            noting->notes.list[i].there ? NULL : note_line_lacks(form, &noting->notes.list[i].note);

        if (!lacks || (told && strcmp(told, lacks) == 0))
            continue;
        diag_error(&noting->diags, (struct place){noting->path, 1, 0}, "missing-column",
                   "no column '%s', which line %u of %s fills, expected it in the header line, add "
                   "the column",
                   lacks, noting->notes.list[i].row->place.line, noting->page.file);
        told = lacks;
    }
    return noting->diags.errors ? tell_faults(noting) : STATUS_DONE;
}

/* What was there, byte for byte, and the new lines after it. */
static void add_lines(const struct noting *noting, const struct note_form *form, struct text *bytes)
{
    if (bytes->length == 0)
        note_header_add(form, bytes);
    else if (bytes->bytes[bytes->length - 1] != '\n')
        text_add(bytes, form->line_end);
    for (size_t i = 0; i < noting->notes.count; i++) {
        struct note note = as_typed(&noting->notes.list[i]);

        if (!noting->notes.list[i].there)
            note_line_add(form, &note, bytes);
    }
}

/* Read it as the next run will: are these the notes that were there, and then the new ones? */
static bool reads_back(const struct noting *noting, const struct text *bytes)
{
    const struct orchard *old = &noting->session->orchard;
    struct orchard orchard;
    struct diags diags;
    struct memory_source memory;
    const struct source source =
        source_of_memory(noting->path, &memory, bytes->length, bytes->bytes);
    size_t at = 0;

    orchard_init(&orchard, noting->session->arena);
    orchard.program = old->program;
    diags_init(&diags, noting->session->arena);
    if (!read_table(&orchard, "notes.csv", &source, false, &diags) || diags.errors)
        return false;
    for (size_t i = 0; i < old->notes.count; i++, at++)
        if (at >= orchard.notes.count ||
            order_note_content(&orchard.notes.list[at], &old->notes.list[i]) != 0)
            return false;
    for (size_t i = 0; i < noting->notes.count; i++)
        if (!noting->notes.list[i].there &&
            (at >= orchard.notes.count ||
             order_note_content(&orchard.notes.list[at++], &noting->notes.list[i].note) != 0))
            return false;
    return at == orchard.notes.count;
}

static enum exit_status write_notes(struct noting *noting)
{
    struct session *session = noting->session;
    struct note_form form;
    struct text bytes;
    enum exit_status status;

    text_init(&bytes, session->arena);
    if (file_kind_of(noting->path) != FILE_ABSENT && !file_read(noting->path, &bytes))
        return refused(session, noting->path);
    if (!form_of(noting, &bytes, &form)) {
        session_say(session, "%s changed while it was read, run this again", noting->path);
        return STATUS_SYSTEM;
    }
    status = check_columns(noting, &form);
    if (status != STATUS_DONE)
        return status;
    add_lines(noting, &form, &bytes);
    if (!reads_back(noting, &bytes)) {
        session_say(session, "%s changed while it was read, run this again", noting->path);
        return STATUS_SYSTEM;
    }
    if (session->options.dry_run)
        return STATUS_DONE;
    if (!file_replace(noting->path, bytes.length, bytes.bytes, session->arena))
        return refused(session, noting->path);
    return STATUS_DONE;
}

/* ---- the run -------------------------------------------------------------------------------- */

static bool anything_new(const struct typed_notes *notes)
{
    for (size_t i = 0; i < notes->count; i++)
        if (!notes->list[i].there)
            return true;
    return false;
}

static struct typed_effects effects_of(struct noting *noting)
{
    struct session *session = noting->session;
    struct orchard after = orchard_copy(&session->orchard, session->arena);
    struct diags unheard;

    diags_init(&unheard, session->arena);
    for (size_t i = 0; i < noting->notes.count; i++)
        if (!noting->notes.list[i].there)
            *ARENA_PUSH(session->arena, after.notes.list, after.notes.count, after.notes.capacity) =
                noting->notes.list[i].note;
    orchard_as_of(&after, session->as_of);
    orchard_link(&after, &unheard);
    return typed_effects_of(state_of(&noting->linked, session->arena, NULL),
                            state_of(&after, session->arena, NULL), session->arena);
}

static enum exit_status add_page(struct session *session, const char *path)
{
    struct noting *noting = ARENA_NEW(session->arena, struct noting);
    struct note_page page = {path, session->options.dry_run, &noting->notes, {0}};
    enum exit_status status = session_read(session);

    if (status != STATUS_DONE)
        return status;
    noting->session = session;
    noting->path = path;
    diags_init(&noting->diags, session->arena);
    session_set_day(session);
    status = link_folder(noting);
    if (status == STATUS_DONE)
        status = read_pages(noting);
    if (status == STATUS_DONE)
        status = check_page(noting);
    if (status == STATUS_DONE && anything_new(&noting->notes))
        status = write_notes(noting);
    if (status != STATUS_DONE)
        return status;
    page.effects = effects_of(noting);
    if (!session_wants_page(session)) {
        struct sheet sheet = note_page_sheet(&page, session->arena);

        session_sheet(session, &sheet);
    } else {
        note_page_write(&page, &session->out);
    }
    return STATUS_DONE;
}

/* What was asked of the table must hold before anything is added. */
static enum exit_status check_output(struct session *session)
{
    struct typed_notes none = {0};
    struct note_page page = {"", true, &none, {0}};
    struct sheet sheet = note_page_sheet(&page, session->arena);

    if (!session->options.explain)
        return session_sheet_check(session, &sheet);
    session_sheet(session, &sheet); /* and nothing is added */
    return STATUS_DONE;
}

static enum exit_status run_note(struct session *session)
{
    const char *folder = session->operands[0];
    const char *path = file_target(path_in(session, folder, "notes.csv"), session->arena);
    const char *lock_path = arena_printf(session->arena, "%s.lock", path);
    struct lock lock = {-1};
    enum exit_status status;

    if (session->options.page && strcmp(session->options.page, session->operands[1]) == 0) {
        session_say(session, "--page is the page as it was printed, and %s is what was typed back",
                    session->operands[1]);
        return STATUS_USAGE;
    }
    if (check_output(session) != STATUS_DONE)
        return STATUS_USAGE;
    if (session->options.explain)
        return STATUS_DONE;
    if (!session->options.dry_run && file_kind_of(folder) == FILE_FOLDER) {
        enum lock_result result = lock_take(lock_path, session->options.wait_seconds, &lock);

        if (result == LOCK_REFUSED)
            return refused(session, lock_path);
        if (result == LOCK_HELD) {
            session_say(session,
                        "another run is adding to %s, try again or wait with --wait SECONDS", path);
            return STATUS_LOCKED;
        }
    }
    status = add_page(session, path);
    lock_release(&lock);
    return status;
}

const struct command command_note = {
    .name = "note",
    .summary = "what a filled-in worklist says, checked and appended to notes.csv",
    .operands = "FOLDER FILE.csv|-",
    .operands_least = 2,
    .operands_most = 2,
    .formats = "text csv json sheet",
    .options = note_options,
    .about =
        "FILE.csv is the CSV of `conetide worklist` with its result columns filled in, or rows in "
        "the columns of notes.csv for what no worklist asked, or both. done_on: the task was done, "
        "and value is what was counted or used (blank pollen: the dose). not_done: rain, wind, "
        "lift, not ready, no time or not found, or `lost: cause` of a bag that is gone. stage: "
        "what was seen, with or without work. Rows without results are left alone. Everything is "
        "checked before anything is added: on a fault notes.csv stays as it is, to the byte. What "
        "is there already adds nothing, so a page may be typed in parts and given again.",
    .example = "conetide note my-programme page.csv",
    .run = run_note,
};
