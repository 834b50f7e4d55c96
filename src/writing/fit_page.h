/*
 * fit_page.h - fitted thresholds as rows to paste into thresholds.csv, and how they were found.
 */
#ifndef WRITING_FIT_PAGE_H
#define WRITING_FIT_PAGE_H

#include "planning/fit.h"
#include "writing/pages.h"

/* Rows of thresholds.csv: of every fit the site's, then those of its selections.  Text has a report
 * of every fit before them, and after them the clocks for program.json. */
struct sheet fit_sheet(const struct fits *fits, const struct page_run *run);

/* What to be careful with, a line each without indent; empty when nothing is. */
void fit_add_warnings(const struct event_fit *fit, const struct page_run *run, struct text *out);

/* "first at Larkmoor, shortleaf". */
const char *fit_title(const struct event_fit *fit, struct arena *arena);

#endif
