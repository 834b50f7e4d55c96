#include "planning/season_heat.h"

#include "conetide/count.h"
#include "conetide/projection.h"
#include "conetide/sum.h"
#include "planning/clock_sums.h"
#include "planning/site_calendar.h"

#include <math.h>
#include <string.h>

void season_heat_init(struct season_heat *heat, const struct orchard *orchard, struct arena *arena)
{
    *heat = (struct season_heat){.orchard = orchard, .arena = arena};
    cache_init(&heat->records, arena);
    cache_init(&heat->weather, arena);
    cache_init(&heat->sums, arena);
    cache_init(&heat->reached, arena);
}

/* Small numbers of a season's rule and year as one word. */
static uint64_t season_word(struct season_rule rule, int season)
{
    return (uint64_t)(uint32_t)season << 16 | (uint64_t)(unsigned)rule.starts.month << 9 |
           (uint64_t)(unsigned)rule.starts.day << 1 | (uint64_t)rule.northern;
}

/* The clocks that ship start on days of the northern year, as calendar dates of the base site do.
 */
static struct month_day start_in(const struct clock *clock, struct month_day start,
                                 struct season_rule rule)
{
    bool shipped = clock->place.file == NULL;

    return shipped && !rule.northern ? other_hemisphere(start) : start;
}

struct month_day season_heat_clock_start(const struct clock *clock, struct season_rule rule)
{
    return start_in(clock, clock->start, rule);
}

/* Whether a threshold hangs on a clock; the plain heat clocks count as used in any folder. */
static bool is_used(const struct orchard *orchard, const struct clock *clock)
{
    if (clock->counts == NULL && clock->after_chilling.counts == NULL)
        return true;
    for (size_t i = 0; i < orchard->thresholds.count; i++) {
        if (orchard->thresholds.list[i].clock == clock)
            return true;
    }
    return false;
}

/* The first and the last start of all that is counted, in the order of the season's days. */
struct starts {
    struct season_asked *asked;
    daynum season_start, first, last;
};

static void take_start(struct starts *starts, struct month_day start)
{
    daynum day = day_on_or_after(start, starts->season_start);

    if (day < starts->first) {
        starts->first = day;
        starts->asked->first_start = start;
    }
    if (day >= starts->last) {
        starts->last = day;
        starts->asked->last_start = start;
    }
}

static void take_starts(const struct orchard *orchard, struct season_asked *asked)
{
    const struct program *program = &orchard->program;
    daynum season_start = day_season_start(asked->rule, asked->season);
    struct starts starts = {asked, season_start, DAY_NEVER, season_start};

    asked->first_start = asked->last_start = asked->rule.starts;
    for (size_t i = 0; i < program->clock_count; i++) {
        const struct clock *clock = &program->clocks[i];

        if (!is_used(orchard, clock))
            continue;
        take_start(&starts, season_heat_clock_start(clock, asked->rule));
        if (clock->after_chilling.counts != NULL)
            take_start(&starts, start_in(clock, clock->after_chilling.start, asked->rule));
    }
}

/* Forecast days are not seen yet, and yield as those do that members lend. */
static void warm(const struct warmer *warmer, struct season_weather *weather)
{
    for (size_t i = 0; i < weather->days; i++) {
        daynum day = weather->first_day + (daynum)i;

        if (day < warmer->from || day > warmer->to)
            continue;
        if (i < weather->known) {
            weather->known_tmin_c[i] += warmer->add_c; /* NaN stays */
            weather->known_tmax_c[i] += warmer->add_c;
        }
        for (size_t m = 0; m < weather->members; m++) {
            weather->member_tmin_c[m * weather->days + i] += warmer->add_c;
            weather->member_tmax_c[m * weather->days + i] += warmer->add_c;
        }
    }
}

const struct station_record *season_heat_record(struct season_heat *heat, const struct site *site)
{
    double elevation_m = site->station != NULL ? site->elevation_m : 0;

    if (heat->given)
        return heat->given;
    bool known = !isnan(elevation_m);
    struct cache_key key = {{cache_pointer(site->record), cache_pointer(site->station), known,
                             known ? cache_double(elevation_m) : 0}};
    void **found = cache_at(&heat->records, key);

    if (*found == NULL) {
        struct station_record *record = ARENA_NEW(heat->arena, struct station_record);

        *record = station_record_of(heat->orchard, site, heat->orchard->as_of, heat->arena);
        *found = record;
    }
    return *found;
}

struct season_asked season_heat_asked(struct season_heat *heat, const struct site *site, int season)
{
    const struct program *program = &heat->orchard->program;
    const struct station_record *record = season_heat_record(heat, site);
    struct season_asked asked = {.record = &record->series,
                                 .rule = orchard_season_rule(heat->orchard, site),
                                 .season = season,
                                 .as_of = heat->orchard->as_of,
                                 .members_most =
                                     program->members_most > 0 ? (size_t)program->members_most : 0,
                                 .as_they_were = heat->as_they_were,
                                 .all_others = heat->all_others,
                                 .days_ahead = heat->all_others ? 0 : record->days_ahead};

    take_starts(heat->orchard, &asked);
    return asked;
}

/* Where the days of the season and of its members come from. */
static void take_accounts(struct season_weather *weather, struct arena *arena)
{
    const struct station_record *record = weather->record;

    weather->account = season_account_of(record, weather->first_day, weather->known, arena);
    for (size_t m = 0; record->neighbour != NULL && m < weather->members; m++) {
        int season = weather->member_season[m];
        struct season_account account =
            season_account_of(record, day_season_start(weather->rule, season),
                              (size_t)day_season_length(weather->rule, season), arena);

        weather->neighbour_members += account.neighbour > 0;
        weather->neighbour_days += (size_t)account.neighbour;
    }
}

/* Sites of one station share its weather, but for those whose clocks ask how far north they lie. */
static double latitude_asked(const struct orchard *orchard, const struct site *site)
{
    for (size_t i = 0; i < orchard->program.clock_count; i++) {
        const struct clock *clock = &orchard->program.clocks[i];

        if (clock_needs_latitude(clock) && is_used(orchard, clock))
            return site_latitude(site);
    }
    return NAN;
}

const struct season_weather *season_heat_weather(struct season_heat *heat, const struct site *site,
                                                 int season)
{
    struct season_rule rule = orchard_season_rule(heat->orchard, site);
    const struct station_record *record = season_heat_record(heat, site);
    double latitude_deg = latitude_asked(heat->orchard, site);
    struct cache_key key = {
        {cache_pointer(record), season_word(rule, season), cache_double(latitude_deg)}};
    void **found = cache_at(&heat->weather, key);

    if (*found == NULL) {
        struct season_weather *weather = ARENA_NEW(heat->arena, struct season_weather);
        struct season_asked asked = season_heat_asked(heat, site, season);
        *weather = heat->lent ? season_weather_on(heat->lent, &asked, heat->arena)
                              : season_weather_of(&asked, heat->arena);
        if (heat->warmer.add_c != 0)
            warm(&heat->warmer, weather);
        weather->record = record;
        take_accounts(weather, heat->arena);
        weather->latitude_deg = latitude_deg;
        *found = weather;
    }
    return *found;
}

/* Known days laid over each member: a longer gap among them is lent by the member itself. */
static struct conetide_members members_of(const struct season_weather *weather,
                                          enum futures futures, struct arena *arena)
{
    size_t n = weather->members * weather->days;
    double *tmin, *tmax;

    if (futures == FUTURES_OF_PAST || weather->known == 0)
        return (struct conetide_members){weather->members, weather->member_tmin_c,
                                         weather->member_tmax_c};
    tmin = ARENA_ARRAY(arena, n, double);
    tmax = ARENA_ARRAY(arena, n, double);
    for (size_t m = 0, at = 0; m < weather->members; m++) {
        for (size_t i = 0; i < weather->days; i++, at++) {
            tmin[at] = season_weather_tmin_c(weather, m, i);
            tmax[at] = season_weather_tmax_c(weather, m, i);
        }
    }
    return (struct conetide_members){weather->members, tmin, tmax};
}

/* A clock that counts something else than heat, or heat after chilling, member by member. */
static void count_members(const struct season_weather *weather, const struct clock *clock,
                          const struct conetide_members *members, struct heat_sums *made,
                          struct arena *arena)
{
    double *sums = ARENA_ARRAY(arena, weather->members * weather->days, double);
    struct month_day chilling = start_in(clock, clock->after_chilling.start, weather->rule);
    struct clock_span span = {made->first, made->end, weather->days};

    if (clock->after_chilling.counts != NULL) {
        daynum day = day_on_or_after(chilling, weather->first_day);

        span.chilling_first = (size_t)(day - weather->first_day);
    }
    for (size_t m = 0; m < weather->members; m++) {
        size_t offset = m * weather->days;
        struct clock_days given = {weather->first_day, weather->days, members->tmin + offset,
                                   members->tmax + offset, weather->latitude_deg};
        struct clock_sums counted = clock_sums_of(clock, &given, span, arena);

        memcpy(sums + offset, counted.sums, weather->days * sizeof *sums);
        made->unchilled += clock->after_chilling.counts != NULL && counted.chilled >= made->end;
    }
    made->sums = sums;
}

static struct heat_sums *work_out_sums(struct season_heat *heat,
                                       const struct season_weather *weather,
                                       const struct clock *clock, enum futures futures)
{
    struct heat_sums *made = ARENA_NEW(heat->arena, struct heat_sums);
    struct conetide_members members = members_of(weather, futures, heat->arena);
    daynum start =
        day_on_or_after(season_heat_clock_start(clock, weather->rule), weather->first_day);
    struct conetide_season season = {.days = weather->days};
    double *sums, *workspace;
    enum conetide_status status;

    made->first = (size_t)(start - weather->first_day);
    if (made->first > weather->days)
        made->first = weather->days;
    made->end = weather->days;
    if (clock->end_days >= 0 && (size_t)clock->end_days < weather->days - made->first)
        made->end = made->first + (size_t)clock->end_days;
    if (clock->counts != NULL || clock->after_chilling.counts != NULL) {
        count_members(weather, clock, &members, made, heat->arena);
        return made;
    }
    sums = ARENA_ARRAY(heat->arena, weather->members * weather->days, double);
    workspace = ARENA_ARRAY(heat->arena, 3 * weather->days, double);
    season.start = made->first;
    /* A clock that cannot be counted leaves NaN sums: nothing is reached, no mean is known. */
    status = conetide_member_sums(&clock->rule, &season, &members, workspace, sums);
    (void)status;
    made->sums = sums;
    return made;
}

const struct heat_sums *season_heat_sums(struct season_heat *heat,
                                         const struct season_weather *weather,
                                         const struct clock *clock, enum futures futures)
{
    struct cache_key key = {{cache_pointer(weather), cache_pointer(clock), (uint64_t)futures}};
    void **found = cache_at(&heat->sums, key);

    if (*found == NULL)
        *found = work_out_sums(heat, weather, clock, futures);
    return *found;
}

static int32_t *work_out_reached(struct season_heat *heat, const struct season_weather *weather,
                                 struct heat_need need, const struct heat_sums *sums)
{
    int32_t *days = ARENA_ARRAY(heat->arena, weather->members, int32_t);
    daynum new_year = day_from_civil(weather->season, weather->rule.northern ? 1 : 7, 1);
    daynum first_day = weather->first_day + (daynum)sums->first;
    struct conetide_need line = {need.units_c, need.per_day_c, first_day - new_year + 1};

    for (size_t m = 0; m < weather->members; m++) {
        const double *from = sums->sums + m * weather->days + sums->first;
        size_t index, count = sums->end - sums->first;
        enum conetide_status status;

        if (need.clock->counts != NULL) { /* sums that may fall, and readings */
            index = conetide_first_at_least(from, 0, count, need.units_c);
            status = index < count ? CONETIDE_OK : CONETIDE_NOT_REACHED;
        } else {
            status = conetide_need_reached(count, from, line, &index);
        }
        days[m] = status == CONETIDE_OK ? first_day + (daynum)index : CONETIDE_NEVER;
    }
    return days;
}

const int32_t *season_heat_reached(struct season_heat *heat, const struct season_weather *weather,
                                   struct heat_need need, enum futures futures)
{
    const struct heat_sums *sums = season_heat_sums(heat, weather, need.clock, futures);
    struct cache_key key = {
        {cache_pointer(sums), cache_double(need.units_c), cache_double(need.per_day_c)}};
    void **found = cache_at(&heat->reached, key);

    if (*found == NULL)
        *found = work_out_reached(heat, weather, need, sums);
    return *found;
}

size_t season_heat_unchilled(struct season_heat *heat, const struct season_weather *weather,
                             struct heat_need need, enum futures futures)
{
    const int32_t *days;
    size_t never = 0;

    if (!clock_chills(need.clock))
        return 0;
    if (need.clock->after_chilling.counts != NULL)
        return season_heat_sums(heat, weather, need.clock, futures)->unchilled;
    days = season_heat_reached(heat, weather, need, futures);
    for (size_t m = 0; m < weather->members; m++)
        never += days[m] == CONETIDE_NEVER;
    return never;
}
