/*
 * changes_page.h - what moved since the plan that was given out, as data.
 */
#ifndef WRITING_CHANGES_PAGE_H
#define WRITING_CHANGES_PAGE_H

#include "writing/pages.h"

/* A row a visit that moved, was dropped or added; `why` is what has changed in the inputs since
 * then, in words ("new weather; note"). */
struct sheet changes_sheet(const struct crossing_plan *plan, const char *why,
                           const struct page_run *run);

/* What the summary tells beside the plan. */
struct summary {
    const struct crossing_plan *plan;
    const struct worklist *this_week, *next_week;
    daynum issued_as_of; /* of the earlier plan; DAY_NONE: none */
    const char *why;     /* as above */
    const char *newest;  /* newest observed day of each station */
    size_t wanted_count; /* what wants a person */
    const char *const *wanted;
};

/* Ten lines. */
void summary_write(const struct summary *summary, const struct page_run *run, struct text *out);

#endif
