/*
 * output.h - the tables of a run, in the form asked for, and what was asked of them.
 */
#ifndef CLI_OUTPUT_H
#define CLI_OUTPUT_H

#include "cli/status.h"
#include "writing/choice.h"
#include "writing/sheet.h"

struct session;

enum format {
    FORMAT_TEXT,
    FORMAT_CSV,
    FORMAT_JSON,
    FORMAT_SHEET,
    FORMAT_HTML,
    FORMAT_SVG,
    FORMAT_ICS,
    FORMATS
};

/* What the tables printed so far leave to the end of the run; zeros to begin with. */
struct output {
    struct sheet *kept; /* worksheets of one workbook */
    size_t kept_count, kept_capacity;
    bool *found;           /* [of choice: columns, then tests] does a table have it? */
    struct choice *choice; /* --columns and --only; NULL: not read yet */
    struct sheet *tables;  /* as the command made them: for messages about what was asked for */
    size_t table_count, table_capacity;
    size_t printed; /* tables in the result */
};

/* The format asked for, or the default: text on a terminal, CSV into a pipe or a file. */
enum format session_format(const struct session *session);

/* Is a page of the command's own wanted, where that is its default?  Not when another form was
 * asked for, nor anything that is of tables alone. */
bool session_wants_page(const struct session *session);

/* Add a table to the output in the format asked for, after an empty line in text. */
void session_sheet(struct session *session, const struct sheet *sheet);

/* One JSON object of several tables: begin it, add members, end it.  In other forms the same as
 * session_sheet alone. */
void session_document(struct session *session, const char *schema);
void session_member(struct session *session, const char *name, const struct sheet *sheet);
void session_document_end(struct session *session);

/* Does what was asked of tables hold for this one?  STATUS_USAGE: told.  For a command that does
 * something before it prints. */
enum exit_status session_sheet_check(struct session *session, const struct sheet *sheet);

/* At the end of a run: the workbook; STATUS_USAGE: a column asked for is in no table, told. */
enum exit_status session_finish(struct session *session);

#endif
