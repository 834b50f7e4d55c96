/*
 * charts.h - pictures of a run, each one SVG file: direct labels, greys and shapes, no colour code.
 */
#ifndef WRITING_CHARTS_H
#define WRITING_CHARTS_H

#include "planning/heat_fan.h"
#include "planning/selection_windows.h"
#include "writing/pages.h"
#include "writing/svg.h"

/* The picture begun: what it shows, of which programme and as of when, on top. */
void chart_begin(struct text *out, struct svg_size size, const char *what,
                 const struct page_run *run);

/* A panel a site and clock: the heat sum as known and as it may go on, the usual one, and the
 * requirements with the dates on which they are met. */
void chart_write_heat(const struct heat_fans *fans, const struct page_run *run, struct text *out);

/* A line a selection of each site: receptive days with their spread; days to bag and to pollinate.
 */
void chart_write_windows(const struct selection_windows *windows, const struct page_run *run,
                         struct text *out);

/* A panel a crew: minutes planned on each of its days against those it has. */
void chart_write_minutes(const struct worklist *list, const struct page_run *run, struct text *out);

/* Trees of a site by row and position, with their grafts and state. */
void chart_write_map(const struct state *state, const struct site *site, const struct page_run *run,
                     struct text *out);

#endif
