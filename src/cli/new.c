/* new.c - "new": a starter folder, whole or not at all. */
#include "cli/command.h"

#include "cli/files.h"
#include "cli/starter.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

static const struct option_row new_options[] = {
    OPTION("all", NULL, OPTION_FLAG, all,
           "the tables that may be left out too: their headers, and the shipped kinds of work"),
    OPTIONS_END,
};

static enum exit_status refused(struct session *session, const char *path)
{
    session_say(session, "%s: %s", path, strerror(errno));
    return STATUS_SYSTEM;
}

/* All files into the folder being made; false leaves errno. */
static bool fill(const char *made, bool all, struct arena *arena)
{
    size_t count;
    const struct folder_file *files = starter_files(all, arena, &count);

    for (size_t i = 0; i < count; i++)
        if (!folder_write(made, &files[i], arena))
            return false;
    return folder_sync(arena_printf(arena, "%s/weather", made)) && folder_sync(made);
}

static enum exit_status make(struct session *session, const char *folder)
{
    const char *made = folder_make_beside(folder, ".new-", session->arena);

    if (!made)
        return refused(session, folder);
    /* Moving it onto a folder works while that has nothing in it. */
    if (fill(made, session->options.all, session->arena) && rename(made, folder) == 0 &&
        folder_sync(folder_above(folder, session->arena)))
        return STATUS_DONE;
    int problem = errno;

    folder_remove(made, session->arena);
    errno = problem;
    return refused(session, folder);
}

static enum exit_status run_new(struct session *session)
{
    const char *folder = folder_trim(session->operands[0], session->arena);
    enum file_kind kind = file_kind_of(folder);
    enum exit_status status;

    if (kind == FILE_REFUSED)
        return refused(session, folder);
    if (kind == FILE_REGULAR || kind == FILE_OTHER ||
        (kind == FILE_FOLDER && !folder_is_empty(folder, session->arena))) {
        session_say(session, "%s is %s, expected a new or an empty folder, give another name",
                    folder, kind == FILE_FOLDER ? "a folder with something in it" : "a file");
        return STATUS_USAGE;
    }
    status = make(session, folder);
    if (status == STATUS_DONE)
        session_say(session, "made %s with an example of three grafts, see %s/README.txt", folder,
                    folder);
    return status;
}

const struct command command_new = {
    .name = "new",
    .summary = "a starter folder with an example, which passes check",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "",
    .options = new_options,
    .about = "The four tables that are needed with an example of three grafts, three days of "
             "weather, and program.json with every default. FOLDER must not be there, or be "
             "empty; it is there whole or not at all.",
    .example = "conetide new my-programme",
    .run = run_new,
};
