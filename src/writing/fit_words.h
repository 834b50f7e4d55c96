/*
 * fit_words.h - a fit as people read it.
 */
#ifndef WRITING_FIT_WORDS_H
#define WRITING_FIT_WORDS_H

#include "writing/fit_page.h"

/* The errors to be expected of the orchard's date; only when judged. */
const struct conetide_errors *fit_expected(const struct event_fit *fit);

/* "1997-2006", of the seasons used. */
void fit_add_years(const struct event_fit *fit, struct text *out);

/* The given clock's name, or "Larkmoor-first" for one that was searched. */
const char *fit_clock_name(const struct event_fit *fit, struct arena *arena);

/* The lines of one fit, with its warnings. */
void fit_add_report(const struct event_fit *fit, const struct page_run *run, struct text *out);

/*   "Larkmoor-first": {"curve": "sine", ...} */
void fit_add_clock_block(const struct event_fit *fit, struct arena *arena, struct text *out);

#endif
