/*
 * note_lines.h - notes as further lines of a notes.csv, in the columns and manner that it has.
 */
#ifndef WRITING_NOTE_LINES_H
#define WRITING_NOTE_LINES_H

#include "base/text.h"
#include "orchard/nouns.h"

struct note_form {
    size_t count;
    const char *const *columns; /* [count]: names of the header line; others than ours stay blank */
    char delimiter;
    const char *line_end; /* "\n" or "\r\n" */
};

/* The columns of docs/tables.md, for a file that is not there yet. */
extern const char *const note_columns_all[];
extern const size_t note_columns_count;

/* A cell of the note for which the form has no column: its name, or NULL. */
const char *note_line_lacks(const struct note_form *form, const struct note *note);

/* One line, with its end.  Texts are quoted and guarded as in every CSV; numbers stay numbers. */
void note_line_add(const struct note_form *form, const struct note *note, struct text *out);

/* The header line of the form. */
void note_header_add(const struct note_form *form, struct text *out);

#endif
