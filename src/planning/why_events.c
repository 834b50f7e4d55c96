/*
 * Events walked back to the rows that hold, the clocks behind them, the members and the spread.
 */
#include "planning/site_calendar.h"
#include "planning/spread.h"
#include "planning/why_parts.h"

#include <math.h>
#include <stdlib.h>

/* The rows from an event back to the end of its chain, as event_days_of went. */
static void walk_back(const struct event_table *table, struct why_event *why)
{
    enum event event = why->event;

    for (size_t i = 0; i < EVENTS; i++) {
        struct why_step *step = &why->steps[why->step_count++];

        *step = (struct why_step){.event = event, .row = table->event[event].threshold};
        if (event == EVENT_BAG_BY)
            step->row = NULL; /* carries that of opening */
        if (step->row == NULL) {
            if (!event_follows_unasked(event, &step->after, &step->days))
                return;
        } else if (step->row->kind == THRESHOLD_AFTER) {
            step->after = step->row->after;
            step->days = step->row->after_days;
        } else {
            return;
        }
        event = step->after;
    }
}

/* Members that are not where their chain alone would put them: put in order after others. */
static size_t raised_members(const struct bloom *plain, const struct why_event *why)
{
    const struct why_step *step = &why->steps[0];
    const int32_t *days = plain->days[why->event], *before;
    size_t raised = 0;

    if (step->row != NULL && step->row->kind != THRESHOLD_AFTER)
        return 0;
    before = plain->days[step->after];
    for (size_t m = 0; before != NULL && m < plain->members; m++)
        raised += before[m] != CONETIDE_NEVER && days[m] != before[m] + step->days;
    return raised;
}

/* Spread beside that of the leading event, of one that follows it by days. */
static double own_days(const struct event_table *table, enum event event)
{
    const struct event_days *leading = spread_leading_event(table);
    double more = table->event[event].after_variance - leading->after_variance;

    return more > 0 ? sqrt(more) : 0;
}

static void add_event(const struct whying *whying, struct why_season *season, enum event event,
                      const struct bloom *past)
{
    const struct bloom *bloom = season->row.bloom;
    const struct event_table *table = bloom->table;
    const struct event_days *days = &table->event[event];
    struct why_event *why = &season->events[season->event_count];

    if (bloom->days[event] == NULL ||
        (whying->asked.event != EVENTS && whying->asked.event != event))
        return;
    season->event_count++;
    *why = (struct why_event){.event = event};
    walk_back(table, why);
    why->raised = raised_members(season->plain, why);
    why->own_days = own_days(table, event);
    why->unchilled = season->plain->unchilled[event];
    if (bloom->selection != NULL && !days->own)
        why->days_late = (int)lround(bloom->selection->days_late);
    if (days->root->kind == THRESHOLD_CALENDAR)
        why->calendar_days = calendar_shift_days(season->row.site);
    for (int i = 0; i < THREE_DATES; i++) {
        why->unseen[i] = season->plain != bloom ? bloom_date(season->plain, event, three_chances[i])
                                                : (daynum)DAY_NONE;
        why->past[i] =
            table->by_weather ? bloom_date(past, event, three_chances[i]) : (daynum)DAY_NONE;
    }
}

/* The chilling that a clock asks first, as a clock of its own. */
static struct clock *chilling_clock(const struct clock *clock, struct arena *arena)
{
    struct clock *chilling = ARENA_NEW(arena, struct clock);

    *chilling = (struct clock){.name = clock->after_chilling.counts->name,
                               .counts = clock->after_chilling.counts,
                               .start = clock->after_chilling.start,
                               .end_days = -1,
                               .place = clock->place};
    return chilling;
}

static void take_chilling(const struct whying *whying, const struct flowering_row *row,
                          struct why_clock *why)
{
    const struct clock *chilling;

    why->chilling = (struct sum_range){NAN, NAN};
    why->chilling_usual = (double)NAN;
    why->chilling_start = DAY_NONE;
    if (why->clock->after_chilling.counts == NULL)
        return;
    chilling = chilling_clock(why->clock, whying->arena);
    why->chilling_start = dates_sum_start(whying->dates, row->site, row->season, chilling);
    if (why->day == DAY_NONE)
        return;
    why->chilling = dates_sum(whying->dates, row->site, row->season, chilling, why->day);
    why->chilling_usual = dates_mean_sum(whying->dates, row->site, row->season, chilling, why->day);
}

/* To the newest day observed, and to the last one foretold. */
static void take_sums(const struct whying *whying, const struct flowering_row *row,
                      const struct season_weather *weather, struct why_clock *why)
{
    daynum as_of = whying->state->orchard->as_of;

    why->day = weather->first_day + (daynum)weather->known - 1;
    if (why->day > as_of) {
        why->ahead_day = why->day;
        why->ahead = dates_sum(whying->dates, row->site, row->season, why->clock, why->day);
        why->ahead_usual =
            dates_mean_sum(whying->dates, row->site, row->season, why->clock, why->day);
        why->day = as_of;
    }
    why->sum = dates_sum(whying->dates, row->site, row->season, why->clock, why->day);
    why->usual = dates_mean_sum(whying->dates, row->site, row->season, why->clock, why->day);
}

static void add_clock(const struct whying *whying, struct why_season *season,
                      const struct clock *clock)
{
    const struct season_weather *weather = season->weather;
    const struct flowering_row *row = &season->row;
    struct why_clock *why = &season->clocks[season->clock_count];

    for (size_t i = 0; i < season->clock_count; i++) {
        if (season->clocks[i].clock == clock)
            return;
    }
    season->clock_count++;
    *why = (struct why_clock){
        .clock = clock, .day = DAY_NONE, .usual = (double)NAN, .ahead_day = DAY_NONE};
    why->start = dates_sum_start(whying->dates, row->site, row->season, clock);
    if (weather->known > 0)
        take_sums(whying, row, weather, why);
    take_chilling(whying, row, why);
}

static int order_of_members(const void *a, const void *b)
{
    const struct why_member *one = a, *other = b;
    int order = (one->day > other->day) - (one->day < other->day);

    return order != 0 ? order : (one->season > other->season) - (one->season < other->season);
}

/* Years that weigh less are contradicted by what was seen. */
static const double weight_least = 1e-6;

/* By how many days an element is moved on average, within the shifts that no look contradicts. */
static double mean_shift(const struct conetide_given *given)
{
    double total = 0, weight = 0;

    for (int j = given->least; j <= given->most; j++) {
        double p = conetide_shift_cumulative(given->shifts, j) -
                   conetide_shift_cumulative(given->shifts, j - 1);

        total += p * j;
        weight += p;
    }
    return weight > 0 ? total / weight : 0;
}

/* Elements of the bloom by the past year that they come from. */
static void add_up_elements(const struct bloom *bloom, enum event event, double *weights,
                            double *days)
{
    for (size_t i = 0; i < bloom->members; i++) {
        size_t year = bloom->origin != NULL ? bloom->origin[i] : i;
        double weight = bloom->given != NULL ? bloom->given[i].weight : 1 / (double)bloom->members;
        double shift = bloom->given != NULL ? mean_shift(&bloom->given[i]) : 0;

        weights[year] += weight;
        days[year] += bloom->days[event][i] == CONETIDE_NEVER
                          ? (double)INFINITY
                          : weight * (bloom->days[event][i] + shift);
    }
}

static void take_members(const struct whying *whying, struct why_season *season)
{
    const struct bloom *bloom = season->row.bloom, *plain = season->plain;
    double *weights, *days, mean;

    season->member_sd_days = (double)NAN;
    if (plain->member_season == NULL || plain->days[season->told] == NULL)
        return;
    conetide_event_spread(plain->members, plain->days[season->told], &mean,
                          &season->member_sd_days);
    if (bloom->looks_alone || bloom->stands[season->told])
        return;
    weights = ARENA_ARRAY(whying->arena, plain->members, double);
    days = ARENA_ARRAY(whying->arena, plain->members, double);
    add_up_elements(bloom, season->told, weights, days);
    season->members = ARENA_ARRAY(whying->arena, plain->members, struct why_member);
    for (size_t m = 0; m < plain->members; m++) {
        if (weights[m] >= weight_least)
            season->members[season->member_count++] = (struct why_member){
                plain->member_season[m],
                isinf(days[m]) ? (daynum)CONETIDE_NEVER : (daynum)lround(days[m] / weights[m]),
                weights[m]};
    }
    qsort(season->members, season->member_count, sizeof *season->members, order_of_members);
}

static enum event leading_event(const struct event_table *table)
{
    const struct event_days *leading = spread_leading_event(table);

    return leading == NULL ? EVENTS : (enum event)(leading - table->event);
}

void why_take_events(const struct whying *whying, struct why_season *season)
{
    const struct flowering_row *row = &season->row;
    const struct bloom *bloom = row->bloom;
    const struct event_table *table = bloom->table;
    const struct bloom *past = dates_bloom_of_past(whying->dates, row->site, bloom->species,
                                                   bloom->selection, row->season);

    for (int e = EVENT_BAG_BY; e <= EVENT_CLOSED; e++)
        add_event(whying, season, (enum event)e, past);
    season->clocks = ARENA_ARRAY(whying->arena, season->event_count, struct why_clock);
    for (size_t i = 0; i < season->event_count; i++) {
        const struct threshold *root = table->event[season->events[i].event].root;

        if (root->kind == THRESHOLD_SUM)
            add_clock(whying, season, root->clock);
    }
    season->leading = season->told = leading_event(table);
    if (season->leading == EVENTS)
        return;
    if (whying->asked.event != EVENTS)
        season->told = whying->asked.event;
    take_members(whying, season);
    season->unknowns =
        event_unknowns_of(&table->event[season->leading], bloom->selection != NULL, true);
    season->unknowns_sd_days =
        event_sigma_days(&table->event[season->leading], bloom->selection != NULL, true);
}
