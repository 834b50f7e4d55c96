/*
 * note_page.h - what became of a page that was typed back.
 */
#ifndef WRITING_NOTE_PAGE_H
#define WRITING_NOTE_PAGE_H

#include "planning/typed_effects.h"
#include "planning/typed_notes.h"
#include "writing/sheet.h"

struct note_page {
    const char *path; /* of notes.csv */
    bool dry_run;
    const struct typed_notes *notes;
    struct typed_effects effects;
};

/* A few lines: how many notes of which kinds, what follows, which rows gave none. */
void note_page_write(const struct note_page *page, struct text *out);

/* A row a note, with what became of it. */
struct sheet note_page_sheet(const struct note_page *page, struct arena *arena);

#endif
