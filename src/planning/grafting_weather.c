#include "planning/grafting_weather.h"

#include "base/text.h"
#include "conetide/quantile.h"
#include "planning/grafting_words.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* The next nights after a good day must stay above graft_night_c (facts/grafting.md 11.3).  The
 * minimum of a day belongs to the night that ends on it, so the day's own is over. */
enum { NIGHTS_AFTER = 3 };

/* As far back as a cold night or a hot day is a caution. */
enum { RECENT_DAYS = 3 };

/* By the gates of program.json; nights past the season's end are not looked at. */
static bool is_good_day(const struct program *program, const struct season_weather *weather,
                        size_t member, size_t i)
{
    double tmax_c = season_weather_tmax_c(weather, member, i);

    if (tmax_c < program->graft_day_low_c || tmax_c > program->graft_day_high_c)
        return false;
    for (size_t night = i + 1; night <= i + NIGHTS_AFTER && night < weather->days; night++) {
        if (season_weather_tmin_c(weather, member, night) <= program->graft_night_c)
            return false;
    }
    return true;
}

static int good_days(const struct grafting_view *view, const struct grafting_window *window,
                     size_t member)
{
    const struct season_weather *weather = window->weather;
    daynum open = grafting_edge_in(&window->open, member);
    daynum close = grafting_edge_in(&window->close, member);
    daynum first = open > view->as_of ? open : view->as_of;
    int good = 0;

    if (first < weather->first_day)
        first = weather->first_day;
    for (daynum day = first; day <= close && day < weather->first_day + (daynum)weather->days;
         day++)
        good += is_good_day(view->program, weather, member, (size_t)(day - weather->first_day));
    return good;
}

static int order_of_numbers(const void *a, const void *b)
{
    double one = *(const double *)a, other = *(const double *)b;

    return (one > other) - (one < other);
}

static int rounded_quantile(size_t n, const double *sorted, double p)
{
    double value;
    enum conetide_status status = conetide_quantile(8, n, sorted, p, &value);

    assert(status == CONETIDE_OK);
    (void)status;
    return (int)lround(value);
}

static void take_good_days(const struct grafting_view *view, const struct grafting_window *window,
                           struct grafting_row *row)
{
    size_t members = window->weather->members;
    double *counts;

    row->good_days_low = row->good_days_left = row->good_days_high = -1;
    if (members < MEMBERS_LEAST)
        return;
    counts = ARENA_ARRAY(view->arena, members, double);
    for (size_t m = 0; m < members; m++)
        counts[m] = good_days(view, window, m);
    qsort(counts, members, sizeof *counts, order_of_numbers);
    row->good_days_low = rounded_quantile(members, counts, three_chances[0]);
    row->good_days_left = rounded_quantile(members, counts, three_chances[1]);
    row->good_days_high = rounded_quantile(members, counts, three_chances[2]);
}

static bool freezes_after(const struct grafting_view *view, const struct season_weather *weather,
                          size_t member, daynum grafted_on)
{
    daynum end = weather->first_day + (daynum)weather->days;

    for (daynum day = grafted_on + 1; day <= grafted_on + view->program->freeze_days; day++) {
        if (day >= weather->first_day && day < end &&
            season_weather_tmin_c(weather, member, (size_t)(day - weather->first_day)) <=
                view->program->freeze_c)
            return true;
    }
    return false;
}

static void take_freeze_chance(const struct grafting_view *view,
                               const struct season_weather *weather, struct grafting_row *row)
{
    daynum grafted_on = row->opens[1] > view->as_of ? row->opens[1] : view->as_of;
    size_t freezing = 0;

    row->freeze_chance = NAN;
    if (weather->members < MEMBERS_LEAST || row->state == GRAFTING_CLOSED ||
        row->state == GRAFTING_NO_DATE)
        return;
    for (size_t m = 0; m < weather->members; m++)
        freezing += freezes_after(view, weather, m, grafted_on);
    row->freeze_chance = (double)freezing / (double)weather->members;
}

static void add_caution(struct text *text, const char *what, daynum day)
{
    if (text->length > 0)
        text_add(text, "; ");
    text_add(text, what);
    if (day != DAY_NONE) {
        text_add(text, " ");
        add_date_in_words(text, day, 0);
    }
}

/* Newest cold night and hot day among the last few known ones; only while grafting goes on. */
static void add_recent_weather(const struct grafting_view *view,
                               const struct season_weather *weather, struct text *text)
{
    daynum cold = DAY_NONE, hot = DAY_NONE;

    for (daynum day = view->as_of - RECENT_DAYS + 1; day <= view->as_of; day++) {
        int64_t i = (int64_t)day - weather->first_day;

        if (i < 0 || i >= (int64_t)weather->known)
            continue;
        if (weather->known_tmin_c[i] <= view->program->graft_night_c)
            cold = day;
        if (weather->known_tmax_c[i] > view->program->graft_day_high_c)
            hot = day;
    }
    if (cold != DAY_NONE)
        add_caution(text, "too cold a night for fresh grafts on", cold);
    if (hot != DAY_NONE)
        add_caution(text, "too hot a day for grafting on", hot);
}

static void take_caution(const struct grafting_view *view, const struct grafting_window *window,
                         struct grafting_row *row)
{
    size_t members = window->weather->members;
    struct text text;

    text_init(&text, view->arena);
    if (row->state == GRAFTING_OPEN)
        add_recent_weather(view, window->weather, &text);
    if (window->remark != NULL)
        add_caution(&text, window->remark, DAY_NONE);
    if (members >= MEMBERS_LEAST && members < MEMBERS_MARKED)
        add_caution(&text, "few past years of weather", DAY_NONE);
    row->caution = text.length > 0 ? text.bytes : NULL;
}

void grafting_weather_take(const struct grafting_view *view, const struct grafting_window *window,
                           struct grafting_row *row)
{
    take_good_days(view, window, row);
    take_freeze_chance(view, window->weather, row);
    take_caution(view, window, row);
}
