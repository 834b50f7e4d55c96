/*
 * labels_page.h - tags as rows and as sheets of labels to print and cut.
 *
 * A label says in words what hangs there: the tag large, the selection (the true one), the flag
 * colour, tree, crown and branch, the day of grafting.  A new tag leaves lines for them.
 */
#ifndef WRITING_LABELS_PAGE_H
#define WRITING_LABELS_PAGE_H

#include "orchard/tag_check.h"
#include "planning/labels.h"
#include "writing/pages.h"

/* Label sheets of html and svg: 62 x 32 mm, which A4 and Letter both hold 24 times. */
enum { LABEL_COLUMNS = 3, LABEL_ROWS = 8, LABELS_A_SHEET = LABEL_COLUMNS * LABEL_ROWS };

/* A row a label: for a printer of labels that reads CSV. */
struct sheet labels_sheet(const struct labels *labels, const struct page_run *run);

/* 80 columns, 58 lines a page, two labels beside each other. */
void labels_write_text(const struct labels *labels, const struct page_run *run, struct text *out);

/* All sheets, one a printed page. */
void labels_write_html(const struct labels *labels, const struct page_run *run, struct text *out);

struct label_paper {
    const char *name; /* "a4", "letter" */
    double width_mm, height_mm;
};
/* Ended by a NULL name. */
extern const struct label_paper label_papers[];

/* One sheet; `page` from 0 on. */
void labels_write_svg(const struct labels *labels, size_t page, const struct label_paper *paper,
                      struct text *out);
size_t labels_pages(const struct labels *labels); /* at least 1 */

/* What is written on a label under its tag, in lines; of a new tag what is to be filled in. */
enum { LABEL_LINES = 4 };
struct label_lines {
    const char *list[LABEL_LINES]; /* selection, flag, place, day */
    bool blank;
};
struct label_lines label_lines_of(const struct label *label, struct arena *arena);

/* New tags, and checked ones. */
struct sheet new_tags_sheet(const struct labels *labels, const struct page_run *run);
void new_tags_write_text(const struct labels *labels, const struct page_run *run, struct text *out);
struct tag_checks {
    const struct state *state;
    const struct tag_check *list;
    size_t count;
};
struct sheet tag_checks_sheet(const struct tag_checks *checks, const struct page_run *run);

#endif
