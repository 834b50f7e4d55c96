#include "planning/event_days.h"

#include "base/text.h"
#include "conetide/projection.h"
#include "planning/site_calendar.h"

#include <math.h>

/* Days after `last` and `shed_peak` where no row tells (tables.md: common practice, no source). */
enum { CLOSED_AFTER_LAST = 4, SHED_LAST_AFTER_PEAK = 10 };

/* Where a row leaves it blank, in days.  Fitted and borrowed: error of a heat-sum model of one
 * clone (Woodbridge et al. 1995, at most 2.4) and of one for a species anywhere (1.25 times the
 * mean error of 4 at most of Boyer 1978).  Calendar: what adds up to the 9 days of a date of an
 * unmeasured clone in a season to come, with the two spreads that follow (planning/dates.c).
 * Clones: a range of 18 to 20 days over 31 families (Woodbridge et al. 1995) over 4.11.  Grafts of
 * a clone: genotype by year of lodgepole pine, open survey data.
 */
static const double residual_fitted_days = 2.5, residual_borrowed_days = 5,
                    residual_calendar_days = 7.6, clone_spread_default_days = 4.5,
                    graft_spread_default_days = 1.6;

bool event_follows_unasked(enum event event, enum event *after, int *days)
{
    static const struct {
        enum event event, after;
        int days;
    } rules[] = {{EVENT_BAG_BY, EVENT_OPENING, -1},
                 {EVENT_CLOSED, EVENT_LAST, CLOSED_AFTER_LAST},
                 {EVENT_SHED_LAST, EVENT_SHED_PEAK, SHED_LAST_AFTER_PEAK}};

    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++) {
        if (rules[i].event != event)
            continue;
        *after = rules[i].after;
        *days = rules[i].days;
        return true;
    }
    return false;
}

/* One table in the making. */
struct making {
    struct event_maker *maker;
    const struct event_subject *subject;
    struct event_table *table;
    bool by_heat;     /* members enough for heat sums */
    bool passed_over; /* a heat-sum row was */
    bool begun[EVENTS], settled[EVENTS];
};

void event_maker_init(struct event_maker *maker, struct season_heat *heat)
{
    const struct orchard *orchard = heat->orchard;
    size_t count = 0;

    maker->heat = heat;
    maker->orchard = orchard;
    maker->without_sums = *orchard;
    maker->without_sums.thresholds.list =
        ARENA_ARRAY(heat->arena, orchard->thresholds.count, struct threshold);
    for (size_t i = 0; i < orchard->thresholds.count; i++) {
        if (orchard->thresholds.list[i].kind != THRESHOLD_SUM)
            maker->without_sums.thresholds.list[count++] = orchard->thresholds.list[i];
    }
    maker->without_sums.thresholds.count = maker->without_sums.thresholds.capacity = count;
}

static bool is_graft_event(enum event event)
{
    return event == EVENT_GRAFT_OPEN || event == EVENT_GRAFT_CLOSE;
}

static struct threshold_found find_row(struct making *making, enum event event)
{
    const struct event_subject *subject = making->subject;
    struct threshold_subject asked = {.species = subject->species, .site = subject->site->name};
    struct threshold_found found;

    if (is_graft_event(event))
        asked.selection = subject->clone;
    else if (subject->selection != NULL)
        asked.selection = subject->selection->name;
    found = threshold_find(making->maker->orchard, event, asked);
    if (found.threshold == NULL || found.threshold->kind != THRESHOLD_SUM || making->by_heat)
        return found;
    making->passed_over = true;
    return threshold_find(&making->maker->without_sums, event, asked);
}

static int32_t *copy_days(struct making *making, struct event_days *event, const int32_t *days,
                          int later)
{
    int32_t *copy = ARENA_ARRAY(making->maker->heat->arena, event->members, int32_t);

    for (size_t m = 0; m < event->members; m++)
        copy[m] = days[m] == CONETIDE_NEVER ? CONETIDE_NEVER : days[m] + later;
    event->days = copy;
    return copy;
}

/* A sum or calendar row: the end of a chain, where a selection's own lateness comes in. */
static void take_root(struct making *making, struct threshold_found found, struct event_days *event)
{
    const struct event_subject *subject = making->subject;
    const struct season_weather *weather = making->table->weather;
    const struct threshold *row = found.threshold;
    bool moves = subject->selection != NULL && !found.own_selection && !is_graft_event(row->event);
    int later = moves ? (int)lround(subject->selection->days_late) : 0;

    if (row->kind == THRESHOLD_SUM) {
        struct heat_need need = {row->clock, row->heat_units_c, row->per_day_c};

        if (row->clock == NULL)
            return;
        if (row->clock->counts != NULL)
            need.units_c = row->clock_units;
        event->members = weather->members;
        copy_days(making, event,
                  season_heat_reached(making->maker->heat, weather, need, subject->futures), later);
        event->unchilled =
            season_heat_unchilled(making->maker->heat, weather, need, subject->futures);
        making->table->by_weather = true;
    } else {
        int32_t day =
            site_calendar_day(subject->site, weather->rule, row->calendar_day, subject->season);

        event->members = 1;
        copy_days(making, event, &day, later);
    }
    event->root = row;
    event->basis = found.basis;
    event->own = found.own_selection;
}

static const struct event_days *resolve(struct making *making, enum event event);

static void follow(struct making *making, enum event after, int days, struct event_days *event)
{
    const struct event_days *before = resolve(making, after);

    event->members = before->members;
    event->root = before->root;
    event->basis = before->basis;
    event->own = before->own;
    event->unchilled = before->unchilled;
    event->after_variance = before->after_variance;
    if (before->members > 0)
        copy_days(making, event, before->days, days);
}

/* An event met again while it is being worked out belongs to a ring of `after` rows: unknown. */
static const struct event_days *resolve(struct making *making, enum event event)
{
    struct event_days *made = &making->table->event[event];
    struct threshold_found found;

    if (making->begun[event])
        return made;
    making->begun[event] = true;
    if (event == EVENT_BAG_BY) {
        follow(making, EVENT_OPENING, -1, made);
        made->threshold = making->table->event[EVENT_OPENING].threshold;
        return made;
    }
    found = find_row(making, event);
    if (found.threshold == NULL) {
        if (event == EVENT_CLOSED)
            follow(making, EVENT_LAST, CLOSED_AFTER_LAST, made);
        else if (event == EVENT_SHED_LAST)
            follow(making, EVENT_SHED_PEAK, SHED_LAST_AFTER_PEAK, made);
        return made;
    }
    if (found.threshold->kind == THRESHOLD_AFTER) {
        double residual_days = found.threshold->residual_days;

        follow(making, found.threshold->after, found.threshold->after_days, made);
        if (made->members > 0 && !isnan(residual_days))
            made->after_variance += residual_days * residual_days;
    } else {
        take_root(making, found, made);
    }
    made->threshold = made->members > 0 ? found.threshold : NULL;
    return made;
}

/* Every known event gets as many members as the table has. */
static void spread_over_members(struct making *making)
{
    struct event_table *table = making->table;

    table->members = 1;
    for (int e = 0; e < EVENTS; e++) {
        if (table->event[e].members > table->members)
            table->members = table->event[e].members;
    }
    for (int e = 0; e < EVENTS; e++) {
        struct event_days *event = &table->event[e];
        int32_t *days;

        if (event->members == 0 || event->members == table->members)
            continue;
        days = ARENA_ARRAY(making->maker->heat->arena, table->members, int32_t);
        for (size_t m = 0; m < table->members; m++)
            days[m] = event->days[0];
        event->members = table->members;
        event->days = days;
    }
}

/* The event that `event` follows by a number of days, when that one has been put in order. */
static bool follows_settled(const struct making *making, enum event event, enum event *after,
                            int *days)
{
    const struct threshold *row = making->table->event[event].threshold;

    if (row == NULL) {
        *after = event == EVENT_CLOSED ? EVENT_LAST : EVENT_SHED_PEAK;
        *days = event == EVENT_CLOSED ? CLOSED_AFTER_LAST : SHED_LAST_AFTER_PEAK;
    } else if (row->kind == THRESHOLD_AFTER) {
        *after = row->after;
        *days = row->after_days;
    } else {
        return false;
    }
    return making->settled[*after];
}

static void put_in_order(struct making *making, size_t count, const enum event *order)
{
    const int32_t *previous = NULL;
    size_t unchilled = 0;

    for (size_t e = 0; e < count; e++) {
        struct event_days *event = &making->table->event[order[e]];
        enum event after;
        int later;
        int32_t *days;

        if (event->members == 0)
            continue;
        if (follows_settled(making, order[e], &after, &later))
            days = copy_days(making, event, making->table->event[after].days, later);
        else
            days = copy_days(making, event, event->days, 0);
        for (size_t m = 0; previous != NULL && m < event->members; m++) {
            if (days[m] < previous[m])
                days[m] = previous[m];
        }
        if (event->unchilled < unchilled)
            event->unchilled = unchilled; /* raised to an event that never comes */
        unchilled = event->unchilled;
        making->settled[order[e]] = true;
        previous = days;
    }
}

const char *few_years_remark(const struct season_weather *weather, struct arena *arena)
{
    struct text text;

    if (weather->record == NULL || weather->record->series.count == 0)
        return "no weather of this site: calendar date";
    if (weather->members == 0)
        return "no whole past year of weather: calendar date";
    text_init(&text, arena);
    text_addf(&text, "%zu past %s only: calendar date", weather->members,
              weather->members == 1 ? "year" : "years");
    return text.bytes;
}

/* "chilling not met in 7 of 20 past years", of the event that most of them lack; NULL: in none. */
static const char *chilling_remark(const struct event_table *table, struct arena *arena)
{
    size_t most = 0;
    struct text text;

    for (int e = 0; e < EVENTS; e++) {
        if (table->event[e].unchilled > most)
            most = table->event[e].unchilled;
    }
    if (most == 0)
        return NULL;
    text_init(&text, arena);
    text_addf(&text, "chilling not met in %zu of %zu past years", most, table->weather->members);
    return text.bytes;
}

struct event_table event_days_of(struct event_maker *maker, const struct event_subject *subject)
{
    static const enum event female[] = {EVENT_OPENING, EVENT_FIRST, EVENT_PEAK, EVENT_LAST,
                                        EVENT_CLOSED};
    static const enum event male[] = {EVENT_SHED_FIRST, EVENT_SHED_PEAK, EVENT_SHED_LAST};
    struct event_table table = {0};
    struct making making = {.maker = maker, .subject = subject, .table = &table};

    table.weather = season_heat_weather(maker->heat, subject->site, subject->season);
    making.by_heat = table.weather->members >= MEMBERS_LEAST;
    for (int e = 0; e < EVENTS; e++) {
        if (subject->interstock || !is_graft_event((enum event)e))
            resolve(&making, (enum event)e);
    }
    spread_over_members(&making);
    put_in_order(&making, sizeof female / sizeof *female, female);
    put_in_order(&making, sizeof male / sizeof *male, male);
    if (table.event[EVENT_BAG_BY].members > 0)
        copy_days(&making, &table.event[EVENT_BAG_BY], table.event[EVENT_OPENING].days, -1);
    table.event[EVENT_BAG_BY].unchilled = table.event[EVENT_OPENING].unchilled;
    if (making.passed_over)
        table.remark = few_years_remark(table.weather, maker->heat->arena);
    else
        table.remark = chilling_remark(&table, maker->heat->arena);
    return table;
}

static double or_default(double days, double default_days)
{
    return isnan(days) ? default_days : days;
}

/* A sum fitted at another site is no better known here than one for the species anywhere: own
 * choice, so its residual is raised to that. */
static double residual_of(const struct event_days *event)
{
    double days = event->root->residual_days;

    switch (event->basis) {
    case BASIS_FITTED_HERE:
        return or_default(days, residual_fitted_days);
    case BASIS_OTHER_SITE:
        return fmax(or_default(days, residual_borrowed_days), residual_borrowed_days);
    case BASIS_BORROWED:
        return or_default(days, residual_borrowed_days);
    case BASIS_CALENDAR:
    case BASES:
        break;
    }
    return or_default(days, residual_calendar_days);
}

struct event_unknowns event_unknowns_of(const struct event_days *event, bool of_one,
                                        bool of_one_graft)
{
    struct event_unknowns parts = {.residual_days = residual_of(event),
                                   .after_days = sqrt(event->after_variance)};

    parts.residual_raised =
        event->basis == BASIS_OTHER_SITE && !(event->root->residual_days >= parts.residual_days);
    if (of_one && !event->own)
        parts.clone_days = or_default(event->root->clone_spread_days, clone_spread_default_days);
    if (of_one_graft)
        parts.graft_days = or_default(event->root->spread_days, graft_spread_default_days);
    return parts;
}

double event_sigma_days(const struct event_days *event, bool of_one, bool of_one_graft)
{
    struct event_unknowns parts = event_unknowns_of(event, of_one, of_one_graft);

    return sqrt(parts.residual_days * parts.residual_days + event->after_variance +
                parts.clone_days * parts.clone_days + parts.graft_days * parts.graft_days);
}
