/*
 * fit_chilling_page.h - what a trial of heat after chilling found, as people read it.
 */
#ifndef WRITING_FIT_CHILLING_PAGE_H
#define WRITING_FIT_CHILLING_PAGE_H

#include "planning/fit_chilling.h"
#include "writing/fit_page.h"

/* One line, and when it helps the clock for program.json and the row of thresholds.csv; each begins
 * with two blanks. */
void fit_add_chilling(const struct event_fit *fit, const struct fit_chilling *chilling,
                      const struct page_run *run, struct text *out);

#endif
