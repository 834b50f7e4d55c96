#include "planning/season_heat.h"

#include "conetide/projection.h"
#include "conetide/sum.h"
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
struct month_day season_heat_clock_start(const struct clock *clock, struct season_rule rule)
{
    bool shipped = clock->place.file == NULL;

    return shipped && !rule.northern ? other_hemisphere(clock->start) : clock->start;
}

/* The first and the last start of all clocks, in the order of the season's days. */
static void take_starts(const struct program *program, struct season_asked *asked)
{
    daynum season_start = day_season_start(asked->rule, asked->season);
    daynum first = DAY_NEVER, last = season_start;

    asked->first_start = asked->last_start = asked->rule.starts;
    for (size_t i = 0; i < program->clock_count; i++) {
        struct month_day start = season_heat_clock_start(&program->clocks[i], asked->rule);
        daynum day = day_on_or_after(start, season_start);

        if (day < first) {
            first = day;
            asked->first_start = start;
        }
        if (day >= last) {
            last = day;
            asked->last_start = start;
        }
    }
}

static void warm(const struct warmer *warmer, struct season_weather *weather)
{
    for (size_t i = weather->known; i < weather->days; i++) {
        daynum day = weather->first_day + (daynum)i;

        if (day < warmer->from || day > warmer->to)
            continue;
        for (size_t m = 0; m < weather->members; m++) {
            weather->member_tmin_c[m * weather->days + i] += warmer->add_c;
            weather->member_tmax_c[m * weather->days + i] += warmer->add_c;
        }
    }
}

const struct station_record *season_heat_record(struct season_heat *heat, const struct site *site)
{
    double elevation_m = site->station != NULL ? site->elevation_m : 0;
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
                                 .days_ahead = record->days_ahead};

    take_starts(program, &asked);
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

const struct season_weather *season_heat_weather(struct season_heat *heat, const struct site *site,
                                                 int season)
{
    struct season_rule rule = orchard_season_rule(heat->orchard, site);
    const struct station_record *record = season_heat_record(heat, site);
    struct cache_key key = {{cache_pointer(record), season_word(rule, season)}};
    void **found = cache_at(&heat->weather, key);

    if (*found == NULL) {
        struct season_weather *weather = ARENA_NEW(heat->arena, struct season_weather);
        struct season_asked asked = season_heat_asked(heat, site, season);

        *weather = season_weather_of(&asked, heat->arena);
        if (heat->warmer.add_c != 0)
            warm(&heat->warmer, weather);
        weather->record = record;
        take_accounts(weather, heat->arena);
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

static struct heat_sums *work_out_sums(struct season_heat *heat,
                                       const struct season_weather *weather,
                                       const struct clock *clock, enum futures futures)
{
    struct heat_sums *made = ARENA_NEW(heat->arena, struct heat_sums);
    struct conetide_members members = members_of(weather, futures, heat->arena);
    daynum start =
        day_on_or_after(season_heat_clock_start(clock, weather->rule), weather->first_day);
    struct conetide_season season = {.days = weather->days};
    double *sums = ARENA_ARRAY(heat->arena, weather->members * weather->days, double);
    double *workspace = ARENA_ARRAY(heat->arena, 3 * weather->days, double);
    enum conetide_status status;

    made->first = (size_t)(start - weather->first_day);
    if (made->first > weather->days)
        made->first = weather->days;
    made->end = weather->days;
    if (clock->end_days >= 0 && (size_t)clock->end_days < weather->days - made->first)
        made->end = made->first + (size_t)clock->end_days;
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
        size_t index;
        enum conetide_status status =
            conetide_need_reached(sums->end - sums->first, from, line, &index);

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
