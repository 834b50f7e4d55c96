/*
 * clock_audit.c - thresholds against their clocks: the column of units, the latitude that hours
 * and the sun need, and chilling that would start when all is over.
 */
#include "orchard/lookup.h"

#include "base/text.h"

#include <math.h>

/* A clock that counts hours or the sun, at a site that has weather and tells no latitude. */
static void check_latitude(const struct orchard *orchard, const struct threshold *row,
                           struct diags *diags)
{
    for (size_t i = 0; i < orchard->sites.count; i++) {
        const struct site *site = &orchard->sites.list[i];

        if (row->site_name && orchard_site(orchard, row->site_name) != site)
            continue;
        if (site->record && isnan(site_latitude(site)))
            diag_error(
                diags, row->clock_place, "no-latitude",
                "clock %s counts hours or day length, and neither site %s nor its station has a "
                "latitude, expected one in sites.csv or stations.csv, fill it in",
                diag_quote(diags, row->clock_name), diag_quote(diags, site->name));
    }
}

static void check_units(const struct threshold *row, struct diags *diags)
{
    const struct conetide_count *counts = row->clock->counts;
    const char *clock = diag_quote(diags, row->clock_name);

    if (counts && !isnan(row->heat_units_c))
        diag_error(diags, row->units_place, "other-units",
                   "degree-days for clock %s, which counts %s, expected the requirement in "
                   "'clock_units', move it there",
                   clock, counts->unit);
    if (!counts && !isnan(row->clock_units) && isnan(row->heat_units_c))
        diag_error(diags, row->units_place, "other-units",
                   "units for clock %s, which counts degree-days, expected the requirement in "
                   "'heat_units_c' or 'heat_units_f', move it there",
                   clock);
}

/* Chilling counted from a day that comes when the clock has already stopped. */
static void check_chilling(const struct orchard *orchard, const struct threshold *row,
                           struct diags *diags)
{
    struct season_rule rule = {.starts = orchard->program.season_starts_north, .northern = true};
    const struct clock *clock = row->clock;
    daynum season, start, chilling;

    for (size_t i = 0; i < orchard->sites.count; i++)
        if (!row->site_name || orchard_site(orchard, row->site_name) == &orchard->sites.list[i])
            rule = orchard_season_rule(orchard, &orchard->sites.list[i]);
    season = day_season_start(rule, 2001);
    start = day_on_or_after(clock->start, season);
    chilling = day_on_or_after(clock->after_chilling.start, season);
    if (clock->end_days >= 0 && chilling >= start + clock->end_days)
        diag_error(diags, row->clock_place, "chilling-too-late",
                   "clock %s counts chilling from %02d-%02d, when it has stopped for the season "
                   "that starts on %02d-%02d, expected chilling to start before, correct "
                   "'after_chilling' in program.json",
                   diag_quote(diags, row->clock_name), clock->after_chilling.start.month,
                   clock->after_chilling.start.day, rule.starts.month, rule.starts.day);
}

void clock_audit(const struct orchard *orchard, struct diags *diags)
{
    for (size_t i = 0; i < orchard->thresholds.count; i++) {
        const struct threshold *row = &orchard->thresholds.list[i];

        if (row->kind != THRESHOLD_SUM || !row->clock)
            continue;
        check_units(row, diags);
        if (clock_needs_latitude(row->clock))
            check_latitude(orchard, row, diags);
        if (row->clock->after_chilling.counts && row->clock->place.file)
            check_chilling(orchard, row, diags);
    }
}
