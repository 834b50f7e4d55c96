/*
 * rates_page.h - fitted rates as rows to paste into rates.csv.
 */
#ifndef WRITING_RATES_PAGE_H
#define WRITING_RATES_PAGE_H

#include "planning/rate_fit.h"
#include "writing/pages.h"

/* Columns of rates.csv in CSV and JSON; text has the rate in use beside. */
struct sheet rates_sheet(const struct rate_fit *fit, const struct page_run *run);

/* What the rows alone do not tell, a line each; empty when there is nothing. */
void rates_add_cautions(const struct rate_fit *fit, struct text *out);

#endif
