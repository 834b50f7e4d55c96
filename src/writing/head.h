/*
 * head.h - the lines at the head of every page: as of when, how far weather reaches, and which
 * dates are not measured.
 */
#ifndef WRITING_HEAD_H
#define WRITING_HEAD_H

#include "writing/pages.h"

/* What the rows of a page rest on, one element a site and season. */
struct head_season {
    const struct site *site;
    int season;
    bool borrowed, calendar;
    daynum scout;      /* earliest median opening of borrowed and calendar dates, less 10 days */
    daynum sums_start; /* first day that heat summing of these dates starts on */
};

struct head {
    const struct page_run *run;
    struct head_season *list;
    size_t count, capacity;
    const struct bloom *newest;
};

/* How a line begins that is to be said aloud, also beside forms without a head. */
#define HEAD_ALOUD "OLD "

void head_init(struct head *head, const struct page_run *run);

/* A row's site and season; `bloom` may be NULL. */
void head_see(struct head *head, const struct site *site, int season, const struct bloom *bloom);

/* "`what`, `programme`\nAs of Tue 2 Mar 2027", made printable; no line end. */
void head_write_title(const struct page_run *run, const char *what, struct text *out);

/* The title and all the rest, a line each, made printable. */
void head_write(const struct head *head, const char *what, struct text *out);

/* Only how far weather reaches at the sites seen, and how old it is: "HOLM to 2027-02-18 (12 days
 * old), RIDGE: no weather". */
void head_add_newest(const struct head *head, struct text *out);

/* Only the warnings, a line each: weather and forecasts older than planning/attention.h allows, and
 * dates that are not measured here. */
void head_add_warnings(const struct head *head, struct text *out);

/* Why a past year is no future: "a gap of 20 days". */
void head_add_left_out(const struct left_out_year *year, struct text *out);

/* "; left out 2014 (a gap of 20 days), ..."; nothing where none is. */
void head_add_left_out_years(const struct season_weather *weather, struct text *out);

/* "`lead`2014 (9 days), ...": past years whose longer gaps are the mean of the others; false and
 * nothing where none is. */
bool head_add_mean_days(const struct season_weather *weather, const char *lead, struct text *out);

/* Degrees a decade by which past years are moved, as people read them; 0: too little to tell. */
double head_warming_a_decade(const struct season_weather *weather, const struct page_run *run);

#endif
