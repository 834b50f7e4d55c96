/*
 * propose_page.h - proposed crosses, as rows for crosses.csv and as tables for people.
 */
#ifndef WRITING_PROPOSE_PAGE_H
#define WRITING_PROPOSE_PAGE_H

#include "planning/propose.h"
#include "writing/pages.h"

/* Rows to paste: exactly the columns of crosses.csv. */
struct sheet propose_rows_sheet(const struct proposal *proposal, const struct page_run *run);

enum propose_table {
    PROPOSE_GROUPS,
    PROPOSE_CROSSES,
    PROPOSE_PARENTS,
    PROPOSE_LEFT_OUT,
    PROPOSE_TABLES
};
extern const char *const propose_table_names[PROPOSE_TABLES]; /* "left_out" */

struct sheet propose_sheet(const struct proposal *proposal, enum propose_table table,
                           const struct page_run *run);

#endif
