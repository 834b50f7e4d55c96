#include "planning/season_rows.h"

static struct season_row *row_of(struct season_rows *rows, int season)
{
    return &rows->list[season - rows->list[0].season];
}

static void take_uses(const struct season_weather *weather, size_t members_most,
                      struct season_rows *rows)
{
    for (size_t m = 0; m < weather->members; m++) {
        struct season_row *row = row_of(rows, weather->member_season[m]);

        row->use = m < members_most ? SEASON_MEMBER : SEASON_SPARE;
        row->mean_days = weather->member_mean_days[m];
    }
    for (size_t i = 0; i < weather->left_out_count; i++) {
        struct season_row *row = row_of(rows, weather->left_out[i].season);

        row->use = SEASON_LEFT_OUT;
        row->left_out = weather->left_out[i];
    }
}

struct season_rows season_rows_of(struct season_heat *heat, const struct site *site)
{
    struct season_rows rows = {.site = site, .record = season_heat_record(heat, site)};
    const struct record *series = &rows.record->series;
    struct season_rule rule = orchard_season_rule(heat->orchard, site);
    struct season_asked asked;
    struct season_weather weather;
    size_t members_most;
    int first, last;

    if (series->count == 0)
        return rows;
    first = day_season(rule, series->first_day);
    last = day_season(rule, series->first_day + (daynum)series->count - 1);
    if (day_season(rule, heat->orchard->as_of) > last)
        last = day_season(rule, heat->orchard->as_of);
    rows.list = ARENA_ARRAY(heat->arena, (size_t)(last - first + 1), struct season_row);
    for (int season = first; season <= last; season++)
        rows.list[rows.count++] = (struct season_row){
            .season = season,
            .days = season_account_of(rows.record, day_season_start(rule, season),
                                      (size_t)day_season_length(rule, season), heat->arena)};
    asked = season_heat_asked(heat, site, last);
    members_most = asked.members_most;
    asked.members_most = rows.count;
    weather = season_weather_of(&asked, heat->arena);
    take_uses(&weather, members_most, &rows);
    return rows;
}
