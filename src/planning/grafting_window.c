#include "planning/grafting_window.h"

#include "orchard/lookup.h"
#include "planning/site_calendar.h"
#include "planning/spread.h"

#include <assert.h>
#include <math.h>

/* Shares of a heat sum are borrowed from nowhere in particular; their error is that of a heat sum
 * for a species anywhere, and that of the calendar likewise, as in event_days.c. */
static const double share_residual_days = 5, calendar_residual_days = 7.6;
static const double sigma_most_days = CONETIDE_REACH_MOST / 4.0;

/* Base and start of this clock are those of the sum that pine catkins were found to follow. */
static const char share_clock[] = "sine-37f";

struct edge_rule {
    enum event event;
    double share;
    struct month_day calendar;
};

struct asking {
    struct dates *dates;
    const struct orchard *orchard;
    struct interstock interstock;
    int season;
    struct arena *arena;
};

/* The usual day of peak: the mean over past years, as no day of this season were known. */
static daynum usual_peak(const struct asking *asking)
{
    const struct interstock *interstock = &asking->interstock;
    const struct bloom *bloom = dates_bloom_of_past(
        asking->dates, interstock->site,
        interstock->grafted_species != NULL ? interstock->grafted_species : interstock->species,
        NULL, asking->season);
    double mean, sd_days;

    if (bloom->days[EVENT_PEAK] == NULL)
        return DAY_NONE;
    conetide_event_spread(bloom->members, bloom->days[EVENT_PEAK], &mean, &sd_days);
    return isnan(mean) ? DAY_NONE : (daynum)lround(mean);
}

/* Days on which a share of the usual sum is reached; NULL when that cannot be told. */
static const int32_t *days_of_share(const struct asking *asking, double share, size_t *members)
{
    const struct site *site = asking->interstock.site;
    const struct season_weather *weather = dates_weather(asking->dates, site, asking->season);
    const struct clock *clock = program_clock(&asking->orchard->program, share_clock);
    daynum peak = usual_peak(asking);
    double usual;

    if (weather->members < MEMBERS_LEAST || clock == NULL || peak == DAY_NONE)
        return NULL;
    usual = dates_mean_sum(asking->dates, site, asking->season, clock, peak);
    if (!(usual > 0))
        return NULL;
    *members = weather->members;
    return dates_reached(asking->dates, site, asking->season, clock, share * usual, 0);
}

/* Rows of the event with the basis calendar alone, however good others are. */
static const struct threshold *calendar_row(const struct asking *asking, enum event event)
{
    const struct interstock *interstock = &asking->interstock;
    const struct threshold *all = asking->orchard->thresholds.list;
    struct threshold_subject subject = {interstock->species, interstock->site->name,
                                        interstock->clone};
    struct orchard calendar = *asking->orchard;
    size_t count = 0;

    for (size_t i = 0; i < asking->orchard->thresholds.count; i++)
        count += all[i].event == event;
    if (count == 0)
        return NULL;
    calendar.thresholds.list = ARENA_ARRAY(asking->arena, count, struct threshold);
    calendar.thresholds.count = 0;
    for (size_t i = 0; i < asking->orchard->thresholds.count; i++) {
        if (all[i].event == event && all[i].kind == THRESHOLD_CALENDAR &&
            all[i].basis == BASIS_CALENDAR)
            calendar.thresholds.list[calendar.thresholds.count++] = all[i];
    }
    return threshold_find(&calendar, event, subject).threshold;
}

static daynum calendar_date(const struct asking *asking, const struct edge_rule *rule,
                            struct season_rule season_rule)
{
    const struct threshold *row = calendar_row(asking, rule->event);

    return site_calendar_day(asking->interstock.site, season_rule,
                             row != NULL ? row->calendar_day : rule->calendar, asking->season);
}

static void take_shifts(struct grafting_edge *edge)
{
    enum conetide_status status;

    if (edge->basis >= BASIS_BORROWED)
        edge->sigma_days = conetide_sigma_at_least(edge->members, edge->days, edge->sigma_days,
                                                   UNMEASURED_SD_DAYS);
    if (!(edge->sigma_days <= sigma_most_days))
        edge->sigma_days = sigma_most_days;
    status = conetide_shifts_of(edge->sigma_days, &edge->shifts);
    assert(status == CONETIDE_OK);
    (void)status;
}

static void take_row(const struct event_days *found, bool of_clone, struct grafting_edge *edge)
{
    edge->members = found->members;
    edge->days = found->days;
    edge->by_heat = found->root->kind == THRESHOLD_SUM;
    edge->basis = found->basis;
    edge->seasons_seen = found->root->seasons_seen;
    edge->sigma_days = event_sigma_days(found, of_clone, false);
}

static void take_share_or_calendar(const struct asking *asking, const struct edge_rule *rule,
                                   struct grafting_edge *edge)
{
    edge->seasons_seen = -1;
    edge->days = days_of_share(asking, rule->share, &edge->members);
    edge->by_heat = edge->by_share = edge->days != NULL;
    edge->basis = edge->by_heat ? BASIS_BORROWED : BASIS_CALENDAR;
    edge->sigma_days = edge->by_heat ? share_residual_days : calendar_residual_days;
    if (!edge->by_heat) {
        int32_t *day = ARENA_NEW(asking->arena, int32_t);

        *day = edge->calendar;
        edge->members = 1;
        edge->days = day;
    }
}

static void take_edge(const struct asking *asking, const struct event_table *table,
                      const struct edge_rule *rule, struct grafting_edge *edge)
{
    const struct event_days *found = &table->event[rule->event];
    bool known = found->members > 0;
    bool measured =
        known && (found->basis <= BASIS_OTHER_SITE ||
                  (found->root->kind == THRESHOLD_SUM && found->basis == BASIS_BORROWED));

    edge->earliest = edge->latest = DAY_NONE;
    edge->calendar = calendar_date(asking, rule, table->weather->rule);
    if (known && found->root->kind == THRESHOLD_CALENDAR)
        edge->calendar = found->days[0];
    if (measured)
        take_row(found, asking->interstock.clone != NULL, edge);
    else
        take_share_or_calendar(asking, rule, edge);
    take_shifts(edge);
}

void grafting_window_of(struct dates *dates, const struct orchard *orchard,
                        struct interstock interstock, int season, struct arena *arena,
                        struct grafting_window *window)
{
    const struct program *program = &orchard->program;
    struct asking asking = {dates, orchard, interstock, season, arena};
    struct edge_rule open = {EVENT_GRAFT_OPEN, program->graft_open_share,
                             program->graft_calendar_open};
    struct edge_rule close = {EVENT_GRAFT_CLOSE, program->graft_close_share,
                              program->graft_calendar_close};
    const struct event_table *table =
        dates_interstock(dates, interstock.site, interstock.species, interstock.clone, season);

    *window = (struct grafting_window){.weather = table->weather};
    take_edge(&asking, table, &open, &window->open);
    take_edge(&asking, table, &close, &window->close);
    if (window->open.by_heat)
        window->open.earliest = window->open.calendar - GRAFTING_CALENDAR_BOUND_DAYS;
    if (window->close.by_heat)
        window->close.latest = window->close.calendar;
    if (!(window->open.by_heat && window->close.by_heat) && table->weather->members < MEMBERS_LEAST)
        window->remark = few_years_remark(table->weather, arena);
}

static daynum bounded(const struct grafting_edge *edge, daynum day)
{
    if (edge->earliest != DAY_NONE && day < edge->earliest)
        return edge->earliest;
    return edge->latest != DAY_NONE && day > edge->latest ? edge->latest : day;
}

/* What bounds the day bounds it in every future, after the shift: so it does the quantiles. */
daynum grafting_edge_date(const struct grafting_edge *edge, double p)
{
    int32_t day;
    enum conetide_status status =
        conetide_event_date(edge->members, edge->days, &edge->shifts, p, &day);

    return bounded(edge, status == CONETIDE_OK ? day : DAY_NEVER);
}

double grafting_edge_by(const struct grafting_edge *edge, daynum day)
{
    if (edge->earliest != DAY_NONE && day < edge->earliest)
        return 0;
    if (edge->latest != DAY_NONE && day >= edge->latest)
        return 1;
    return conetide_event_by(edge->members, edge->days, &edge->shifts, day);
}

daynum grafting_edge_in(const struct grafting_edge *edge, size_t member)
{
    int32_t day = edge->days[edge->members == 1 ? 0 : member];

    return bounded(edge, day == CONETIDE_NEVER ? DAY_NEVER : day);
}
