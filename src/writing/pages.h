/*
 * pages.h - each plan as a sheet, and the worklist as pages.
 *
 * Sheets come with head lines (what it is, as of when, newest observed day of each station, what is
 * borrowed and not measured) and foot lines (remarks, cautions); CSV and JSON carry the rows alone.
 */
#ifndef WRITING_PAGES_H
#define WRITING_PAGES_H

#include "planning/cross_status.h"
#include "planning/crossing.h"
#include "planning/flowering.h"
#include "planning/flowering_days.h"
#include "planning/grafting.h"
#include "planning/harvest.h"
#include "planning/heat_days.h"
#include "planning/pollen_forecast.h"
#include "planning/scion_chilling.h"
#include "planning/season_rows.h"
#include "planning/why.h"
#include "planning/worklist.h"
#include "writing/sheet.h"

#define CONETIDE_VERSION "0.1.0"

/* What every page says of the run. */
struct page_run {
    const struct orchard *orchard;
    daynum as_of;
    bool units_us;       /* text in deg F and feet */
    struct dates *dates; /* for years left out and filled days in the head */
    struct arena *arena;
};

/* date,tmin_c,tmax_c,heat_units,heat_sum */
struct sheet heat_sheet(const struct heat_days *heat, struct arena *arena);
/* A row a season: where its days come from, and whether it serves as a future. */
struct sheet seasons_sheet(const struct season_rows *rows, struct arena *arena);
struct sheet grafting_sheet(const struct grafting_rows *rows, const struct page_run *run);
struct sheet scions_sheet(const struct scion_chillings *rows, const struct page_run *run);
struct sheet pollen_sheet(const struct pollen_forecast *forecast, const struct page_run *run);
struct sheet flowering_sheet(const struct flowering_rows *rows, const struct page_run *run);
/* A row a day of each distribution. */
struct sheet flowering_days_sheet(const struct flowering_days *days, const struct page_run *run);
/* What stands behind the dates of one graft, a fact a row. */
struct sheet why_sheet(const struct why *why, const struct page_run *run);
/* A row a visit (pencilled ones of the next season too, marked). */
struct sheet crossing_sheet(const struct crossing_plan *plan, const struct page_run *run);
struct sheet cross_status_sheet(const struct cross_statuses *statuses, const struct page_run *run);
struct sheet harvest_bags_sheet(const struct harvest *harvest, const struct page_run *run);
struct sheet harvest_crosses_sheet(const struct harvest *harvest, const struct page_run *run);
struct sheet moves_sheet(const struct crossing_plan *plan, const struct page_run *run);
struct sheet shortfalls_sheet(const struct crossing_plan *plan, const struct page_run *run);

/* The worklist for printing: 80 display columns, 58 lines a page, form feed between pages, check
 * boxes, room to write; no row is split; crew, day and "page 2 of 3" on every page. */
void worklist_write_text(const struct worklist *list, const struct page_run *run, struct text *out);

/* The same rows as CSV with blank result columns, to type back. */
struct sheet worklist_sheet(const struct worklist *list, const struct page_run *run);

/* One self-contained HTML file with print styles. */
void worklist_write_html(const struct worklist *list, const struct page_run *run, struct text *out);

#endif
