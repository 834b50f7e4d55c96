#include "writing/pages.h"

#include "base/test.h"
#include "conetide/projection.h"

struct world {
    struct arena arena;
    struct orchard orchard;
    struct record record;
    struct site site;
    struct selection selection;
    struct graft graft;
    struct graft_state state;
    struct clock clock;
    struct threshold sum, after, calendar;
    struct bloom bloom;
    struct conetide_shifts shifts;
    int32_t opening[3];
    struct flowering_row flowering;
    struct cross cross;
    struct lot mix;
    struct group group;
    struct planned_bag bag;
    struct page_run run;
    struct text out;
};
static const struct sheet_style as_is = {.digits = -1}, narrow = {.digits = -1, .columns = 80};

static void make_bloom(struct world *world)
{
    world->clock = (struct clock){.name = "spring", .start = {1, 15}};
    world->sum = (struct threshold){.kind = THRESHOLD_SUM, .clock = &world->clock};
    world->after = (struct threshold){.kind = THRESHOLD_AFTER, .after = EVENT_PEAK};
    world->calendar = (struct threshold){.kind = THRESHOLD_CALENDAR};
    for (int i = 0; i < 3; i++)
        world->opening[i] = day_from_civil(2028, 3, 1) + i;
    world->bloom = (struct bloom){.site = &world->site,
                                  .season = 2028,
                                  .members = 3,
                                  .basis = BASIS_BORROWED,
                                  .seasons_seen = 5,
                                  .few_members = true};
    world->bloom.days[EVENT_OPENING] = world->opening;
    world->bloom.threshold[EVENT_OPENING] = &world->after;
    world->bloom.threshold[EVENT_PEAK] = &world->sum;
    assert_int_equal(conetide_shifts_of(0, &world->shifts), CONETIDE_OK);
    world->bloom.shifts = world->bloom.shed_shifts = &world->shifts;
}

static void make_row(struct world *world)
{
    world->flowering = (struct flowering_row){.graft = &world->state,
                                              .site = &world->site,
                                              .season = 2028,
                                              .season_number = 1,
                                              .bloom = &world->bloom,
                                              .chance_alive = 0.618,
                                              .strobili = 8.44};
    for (int event = 0; event < EVENTS; event++)
        for (int i = 0; i < THREE_DATES; i++)
            world->flowering.dates[event][i] = day_from_civil(2028, 2, 25) + 3 * event + 4 * i;
}

static int setup(void **state)
{
    static struct world world;
    static double degrees[2] = {1, (double)NAN};
    arena_init(&world.arena, NULL);
    orchard_init(&world.orchard, &world.arena);
    world.orchard.program.name = "Tallow Creek";
    world.orchard.program.dose_ml = 0.5;
    world.record = (struct record){.station = "HOLM",
                                   .first_day = day_from_civil(2027, 12, 1),
                                   .count = 2,
                                   .tmin_c = degrees,
                                   .tmax_c = degrees};
    world.site = (struct site){
        .name = "Holm", .station_name = "HOLM", .record = &world.record, .latitude = 32};
    world.selection = (struct selection){.name = "S12", .flag_colour = "blue"};
    world.graft = (struct graft){
        .tag = "OAK-017C", .tree_name = "HB-12", .crown = CROWN_MIDDLE, .selection_name = "S12"};
    world.state = (struct graft_state){.graft = &world.graft, .selection = &world.selection};
    make_bloom(&world);
    make_row(&world);
    world.run = (struct page_run){
        .orchard = &world.orchard, .as_of = day_from_civil(2027, 12, 3), .arena = &world.arena};
    text_init(&world.out, &world.arena);
    *state = &world;
    return 0;
}

static int teardown(void **state)
{
    struct world *world = *state;
    arena_release(&world->arena);
    return 0;
}

static void heat_tells_what_was_filled_and_what_is_missing(void **state)
{
    struct world *world = *state;
    double tmin[] = {-1.5, (double)NAN}, tmax[] = {20, 21}, units[] = {4.126, (double)NAN},
           sum[] = {4.126, (double)NAN};
    struct heat_days heat = {.first_day = day_from_civil(2028, 3, 1),
                             .count = 2,
                             .tmin_c = tmin,
                             .tmax_c = tmax,
                             .heat_units = units,
                             .heat_sum = sum,
                             .filled_days = 3,
                             .missing_days = 8,
                             .own_minimum_as_next = true};
    struct sheet sheet = heat_sheet(&heat, &world->arena);
    sheet_write_csv(&sheet, as_is, &world->out);
    assert_string_equal(world->out.bytes, "date,tmin_c,tmax_c,heat_units,heat_sum\n"
                                          "2028-03-01,-1.50,20.00,4.13,4.13\n"
                                          "2028-03-02,,21.00,,\n");
    text_clear(&world->out);
    sheet_write_text(&sheet, narrow, &world->out);
    assert_non_null(strstr(world->out.bytes, "3 days filled"));
    assert_non_null(strstr(world->out.bytes, "8 days missing: the sum is unknown until"));
    assert_non_null(strstr(world->out.bytes, "its own minimum"));
}

static void old_weather_is_said_aloud(void **state)
{
    struct world *world = *state;
    struct flowering_rows rows = {.list = &world->flowering, .count = 1};
    world->run.as_of = day_from_civil(2027, 12, 4); /* three days after the newest: not yet */
    struct sheet sheet = flowering_sheet(&rows, &world->run);
    assert_non_null(strstr(sheet.head.bytes, "HOLM to 2027-12-01 (3 days old)\n"));
    assert_null(strstr(sheet.head.bytes, "OLD WEATHER"));
    world->run.as_of++;
    sheet = flowering_sheet(&rows, &world->run);
    assert_non_null(strstr(sheet.head.bytes,
                           "OLD WEATHER: HOLM has none after 2027-12-01, so dates "
                           "know nothing of the days since; add it\n"));
    world->run.as_of = day_from_civil(2027, 12, 1);
    sheet = flowering_sheet(&rows, &world->run);
    assert_non_null(strstr(sheet.head.bytes, "HOLM to 2027-12-01\n"));
}

static void flowering_is_one_line_a_graft_under_its_season(void **state)
{
    struct world *world = *state;
    struct flowering_rows rows = {.list = &world->flowering, .count = 1};
    struct sheet sheet = flowering_sheet(&rows, &world->run);
    sheet_write_text(&sheet, narrow, &world->out);
    assert_string_equal(
        world->out.bytes,
        "Flowering of grafts, Tallow Creek\n"
        "As of Fri 3 Dec 2027; weather observed: HOLM to 2027-12-01 (2 days old)\n"
        "Holm 2028: borrowed dates, not measured here; scout from Mon 21 Feb 2028\n"
        "Heat of 2028 is summed from Sat 15 Jan 2028 (Holm); until then its dates know no\n"
        "  more than past years do\n"
        "\n"
        "tag       selection  bag by  first     peak   usual  last      alive  strobili\n"
        "--------  ---------  ------  --------  -----  -----  --------  -----  --------\n"
        "2028, Holm\n"
        "first spring; dates borrowed, 5 seasons seen; 3 past years only\n"
        "OAK-017C  S12        25 Feb  2-10 Mar  9 Mar  -      8-16 Mar   62 %  about 8\n"
        "\n"
        "bag by: a bag hung later is clean in fewer than 9 of 10 futures. first: a fifth\n"
        "  of the strobili partly open; last: four fifths closed; both as days between\n"
        "  which 8 of 10 futures fall. peak: as likely before as after; usual: peak by\n"
        "  past years alone. open, seen: by stages noted of the graft this season, which\n"
        "  move its later dates. Opening and closing stand in the CSV and JSON forms.\n");
}

static void flowering_data_hold_every_date_and_where_it_comes_from(void **state)
{
    struct world *world = *state;
    struct flowering_rows rows = {.list = &world->flowering, .count = 1};
    world->flowering.counted = true;
    world->flowering.counted_on = day_from_civil(2028, 2, 20);
    world->flowering.dates[EVENT_CLOSED][2] = DAY_NEVER;
    world->flowering.dates[EVENT_PEAK][0] = DAY_NONE;
    struct sheet sheet = flowering_sheet(&rows, &world->run);
    sheet_write_csv(&sheet, as_is, &world->out);
    assert_string_equal(
        world->out.bytes,
        "tag,selection,site,tree,season,season_number,bag_by_p10,bag_by_p50,bag_by_p90,openin"
        "g_p10,opening_p50,opening_p90,first_p10,first_p50,first_p90,peak_p10,peak_p50,peak_p"
        "90,last_p10,last_p50,last_p90,closed_p10,closed_p50,closed_p90,chance_alive,strobili"
        ",strobili_counted,counted_on,basis,seasons_seen,remark,"
        "past_first_p10,past_first_p50,past_first_p90,past_peak_p10,past_peak_p50,past_peak_p90,"
        "past_last_p10,past_last_p50,past_last_p90,opening_not_yet,opening_seen_by,first_not_yet,"
        "first_seen_by,peak_not_yet,peak_seen_by,last_not_yet,last_seen_by\n"
        "OAK-017C,S12,Holm,HB-12,2028,1,2028-02-25,2028-02-29,2028-03-04,2028-02-28,2028-03-0"
        "3,2028-03-07,2028-03-02,2028-03-06,2028-03-10,,2028-03-09,2028-03-13,2028-03-08,2028"
        "-03-12,2028-03-16,2028-03-11,2028-03-15,not reached,0.618,8.4,yes,2028-02-20,borrowe"
        "d,5,3 past years only,,,,,,,,,,,,,,,,,\n");
}

/* Text groups by spring and by what dates rest on; CSV keeps the order of the tags. */
static void each_basis_stands_once_under_its_season_and_site(void **state)
{
    struct world *world = *state;
    static const char *const tags[] = {"A1", "A2", "A3", "A4"};
    struct graft grafts[COUNT(tags)];
    struct graft_state states[COUNT(tags)];
    struct flowering_row list[COUNT(tags)];
    struct bloom own = world->bloom;
    struct flowering_rows rows = {.list = list, .count = COUNT(tags)};
    own.basis = BASIS_FITTED_HERE;
    own.seasons_seen = 1;
    for (size_t i = 0; i < COUNT(tags); i++) {
        grafts[i] = world->graft;
        grafts[i].tag = tags[i];
        states[i] = world->state;
        states[i].graft = &grafts[i];
        list[i] = world->flowering;
        list[i].graft = &states[i];
    }
    list[1].bloom = list[2].bloom = &own;
    list[2].season_number = 2;
    struct sheet sheet = flowering_sheet(&rows, &world->run);
    sheet_write_text(&sheet, as_is, &world->out);
    assert_non_null(
        strstr(world->out.bytes,
               "2028, Holm\n"
               "first spring; dates fitted here, 1 season seen; 3 past years only\n"
               "A2   S12        25 Feb  2-10 Mar  9 Mar  -      8-16 Mar   62 %  about 8\n"
               "\n"
               "first spring; dates borrowed, 5 seasons seen; 3 past years only\n"
               "A1   S12        25 Feb  2-10 Mar  9 Mar  -      8-16 Mar   62 %  about 8\n"
               "A4   S12        25 Feb  2-10 Mar  9 Mar  -      8-16 Mar   62 %  about 8\n"
               "\n"
               "second spring; dates fitted here, 1 season seen; 3 past years only\n"
               "A3   S12        25 Feb  2-10 Mar  9 Mar  -      8-16 Mar   62 %  about 8\n"));
    text_clear(&world->out);
    sheet_write_csv(&sheet, as_is, &world->out);
    const char *at = world->out.bytes;
    for (size_t i = 0; i < COUNT(tags); i++) {
        at = strstr(at, arena_printf(&world->arena, "\n%s,S12,", tags[i]));
        assert_non_null(at);
    }
}

static void the_head_tells_when_shipped_clocks_start_in_the_south(void **state)
{
    struct world *world = *state;
    struct flowering_rows rows = {.list = &world->flowering, .count = 1};
    world->site.latitude = -32;
    struct sheet sheet = flowering_sheet(&rows, &world->run);
    assert_non_null(strstr(sheet.head.bytes, "Heat of 2028 is summed from Sat 15 Jul 2028 (Holm)"));

    world->clock.place.file = "clocks.csv"; /* the folder's own clock means what it says */
    sheet = flowering_sheet(&rows, &world->run);
    assert_null(strstr(sheet.head.bytes, "15 Jul"));
}

static void sites_that_start_together_share_a_line(void **state)
{
    struct world *world = *state;
    struct site other = world->site;
    struct bloom there = world->bloom;
    struct flowering_row list[] = {world->flowering, world->flowering};
    struct flowering_rows rows = {.list = list, .count = COUNT(list)};
    other.name = "Ridge";
    there.site = list[1].site = &other;
    list[1].bloom = &there;
    struct sheet sheet = flowering_sheet(&rows, &world->run);
    assert_non_null(strstr(sheet.head.bytes,
                           "Heat of 2028 is summed from Sat 15 Jan 2028 (Holm, Ridge); until"));
}

static void a_graft_of_no_known_selection_has_none_on_paper(void **state)
{
    struct world *world = *state;
    struct flowering_rows rows = {.list = &world->flowering, .count = 1};
    world->state.selection = NULL;
    world->state.relabelled = true;
    struct sheet sheet = flowering_sheet(&rows, &world->run);
    sheet_write_csv(&sheet, as_is, &world->out);
    assert_non_null(strstr(world->out.bytes, "\nOAK-017C,,Holm,HB-12,"));
}

static void the_head_tells_on_how_many_past_years_dates_rest(void **state)
{
    struct world *world = *state;
    enum { DAYS = 366 * 15 };
    static double degrees[DAYS];
    for (size_t i = 0; i < DAYS; i++)
        degrees[i] = (i >= 600 && i < 620) || (i >= 1000 && i < 1009) ? (double)NAN : 15;
    world->record.first_day = day_from_civil(2013, 6, 1);
    world->record.count = DAYS;
    world->record.tmin_c = world->record.tmax_c = degrees;
    world->orchard.as_of = world->run.as_of;
    world->run.dates = dates_new(&world->orchard, &world->arena);
    struct flowering_rows rows = {.list = &world->flowering, .count = 1};
    struct sheet sheet = flowering_sheet(&rows, &world->run);
    assert_non_null(strstr(sheet.head.bytes, "\nHOLM: "));
    assert_non_null(
        strstr(sheet.head.bytes,
               " past years used as futures; left out 2015 (a gap of 20 days), 2013 (the record "
               "lacks 335 days); filled with the mean of the other years: 2016 (9 "
               "days)\n"));
}

static void seasons_tell_where_days_come_from(void **state)
{
    struct world *world = *state;
    struct station_record record = {
        .reads_morning = true, .neighbour = "TARN", .tmin_change_c = -0.9, .tmax_change_c = -1.17};
    struct season_row list[] = {
        {.season = 2025,
         .days = {.open = 60},
         .use = SEASON_LEFT_OUT,
         .left_out = {2025, LEFT_OUT_GAP, 60}},
        {.season = 2026,
         .days = {.observed = 355, .open = 9},
         .mean_days = 9,
         .use = SEASON_MEMBER},
        {.season = 2027, .days = {.observed = 200, .forecast = 7}, .use = SEASON_OF_NOW},
        {.season = 2024, .use = SEASON_SPARE}};
    struct season_rows rows = {&world->site, &record, list, 4};
    struct sheet sheet;
    struct text text;
    for (int month = 0; month < 12; month++)
        record.tmax_offsets.c[month] = month;
    record.tmin_offsets.common_days = 700;
    sheet = seasons_sheet(&rows, &world->arena);
    assert_non_null(strstr(sheet.head.bytes, "Read in the morning"));
    assert_non_null(strstr(sheet.head.bytes, "by minimum +0.0, maximum +0.0 to +11.0 deg C, the "
                                             "month's mean difference over 700 days in common"));
    assert_non_null(strstr(sheet.head.bytes, "minimum -0.9, maximum -1.2 deg C"));
    text_init(&text, &world->arena);
    sheet_write_csv(&sheet, (struct sheet_style){.digits = -1}, &text);
    assert_non_null(strstr(text.bytes, "2025,0,0,0,0,0,60,no,a gap of 60 days\n"));
    assert_non_null(strstr(text.bytes, "2026,355,0,0,0,9,0,yes,\n"));
    assert_non_null(strstr(text.bytes, "2027,200,0,0,7,0,0,no,not over yet\n"));
    assert_non_null(strstr(text.bytes, "2024,0,0,0,0,0,0,no,newer ones are enough\n"));
    record.tmin_offsets.origin[0] = OFFSET_OF_ELEVATION;
    record.tmin_change_c = record.tmax_change_c = 0;
    record.no_elevation = true;
    record.reads_morning = false;
    sheet = seasons_sheet(&rows, &world->arena);
    assert_non_null(strstr(sheet.head.bytes, "by the elevations: too few days in common\n"));
    assert_non_null(strstr(sheet.head.bytes, "Not corrected for elevation"));
    record.tmin_offsets.origin[0] = OFFSET_NONE;
    sheet = seasons_sheet(&rows, &world->arena);
    assert_non_null(strstr(sheet.head.bytes, "not at all: too few days in common"));
}

static void grafting_tells_window_state_and_freeze(void **state)
{
    struct world *world = *state;
    daynum day = day_from_civil(2028, 2, 1);
    world->orchard.program.freeze_c = -3;
    world->orchard.program.freeze_days = 30;
    struct grafting_row row = {.site = &world->site,
                               .clone = "G7",
                               .season = 2028,
                               .trees = 4,
                               .free_places = -1,
                               .opens = {day - 6, day, day + 5},
                               .closes = {day + 20, day + 29, DAY_NEVER},
                               .by_heat = true,
                               .decided_words =
                                   "decided by heat, bounded by the calendar stop of 12 March",
                               .calendar_open = day - 10,
                               .calendar_close = day + 40,
                               .state = GRAFTING_NOT_YET,
                               .chance_open = 0,
                               .state_words = "not yet: likely to open about 1 February 2028",
                               .good_days_left = 12,
                               .good_days_low = 8,
                               .good_days_high = 15,
                               .freeze_chance = 0.12,
                               .caution = "few past years of weather",
                               .basis = BASIS_OTHER_SITE,
                               .seasons_seen = 3};
    struct grafting_rows rows = {.list = &row, .count = 1};
    struct sheet sheet = grafting_sheet(&rows, &world->run);
    sheet_write_text(&sheet, narrow, &world->out);
    sheet_write_csv(&sheet, as_is, &world->out);
    assert_string_equal(
        world->out.bytes,
        "Grafting windows, Tallow Creek\n"
        "As of Fri 3 Dec 2027; weather observed: HOLM to 2027-12-01 (2 days old)\n"
        "\n"
        "interstock  how it stands                               good days  trees    free\n"
        "clones                                                  left              places\n"
        "----------  ------------------------------------------  ---------  -----  ------\n"
        "Holm, season 2028; 12 % chance of a night at or below -3.0 C within 30 days of\n"
        "  grafting\n"
        "G7          not yet: likely to open about 1 February    12 (8-15)      4       -\n"
        "            2028\n"
        "    opens 26 Jan, 1 Feb, 6 Feb; closes 21 Feb, 1 Mar, not reached (10, 50, 90 %)\n"
        "    dates other site, 3 seasons seen; decided by heat, bounded by the calendar\n"
        "      stop of 12 March\n"
        "    caution: few past years of weather\n"
        "site,clone,season,trees,free_places,opens_p10,opens_p50,opens_p90,closes_p10,closes_"
        "p50,closes_p90,decided_by,calendar_open,calendar_close,state,chance_open,good_days,g"
        "ood_days_p10,good_days_p90,freeze_chance,basis,seasons_seen,state_words,caution\n"
        "Holm,G7,2028,4,,2028-01-26,2028-02-01,2028-02-06,2028-02-21,2028-03-01,not reached,h"
        "eat,2028-01-22,2028-03-12,not yet,0.000,12,8,15,0.120,other site,3,not yet: likely t"
        "o open about 1 February 2028,few past years of weather\n");
}

static struct grafting_row window_of(const struct world *world, const char *clone)
{
    daynum day = day_from_civil(2028, 2, 1);
    return (struct grafting_row){.site = &world->site,
                                 .clone = clone,
                                 .season = 2028,
                                 .trees = 2,
                                 .free_places = 7,
                                 .opens = {day - 6, day, day + 5},
                                 .closes = {day + 20, day + 29, day + 33},
                                 .decided_words =
                                     "decided by the calendar of 22 January to 12 March",
                                 .calendar_open = day - 10,
                                 .calendar_close = day + 40,
                                 .state = GRAFTING_OPEN,
                                 .chance_open = 1,
                                 .state_words = "open since about 1 February 2028",
                                 .good_days_left = -1,
                                 .good_days_low = -1,
                                 .good_days_high = -1,
                                 .freeze_chance = 0.12,
                                 .basis = BASIS_CALENDAR,
                                 .seasons_seen = -1};
}

static void clones_with_one_window_are_one_row_for_people(void **state)
{
    struct world *world = *state;
    struct grafting_row list[] = {window_of(world, "C72"), window_of(world, "D08"),
                                  window_of(world, "D15")};
    struct grafting_rows rows = {.list = list, .count = COUNT(list)};
    world->orchard.program.freeze_c = -3;
    world->orchard.program.freeze_days = 30;
    world->run.units_us = true;
    list[1].closes[1]++;
    list[1].freeze_chance = 0.25;
    struct sheet sheet = grafting_sheet(&rows, &world->run);
    sheet_write_text(&sheet, as_is, &world->out);
    assert_non_null(strstr(
        world->out.bytes,
        "\nHolm, season 2028\n"
        "C72, D15           open since about 1 February 2028  -                   4           14\n"
        "    opens 26 Jan, 1 Feb, 6 Feb; closes 21 Feb, 1 Mar, 5 Mar (10, 50, 90 %)\n"
        "    dates calendar; decided by the calendar of 22 January to 12 March\n"
        "    12 % chance of a night at or below 26.6 F within 30 days of grafting\n"
        "D08                open since about 1 February 2028  -                   2            7\n"
        "    opens 26 Jan, 1 Feb, 6 Feb; closes 21 Feb, 2 Mar, 5 Mar (10, 50, 90 %)\n"
        "    dates calendar; decided by the calendar of 22 January to 12 March\n"
        "    25 % chance of a night at or below 26.6 F within 30 days of grafting\n"));
    assert_int_equal(sheet.row_count, COUNT(list)); /* data keep a row a clone */
    list[2].free_places = -1;
    sheet = grafting_sheet(&rows, &world->run);
    text_clear(&world->out);
    sheet_write_text(&sheet, as_is, &world->out);
    assert_non_null(strstr(world->out.bytes, "  4            -\n"));
}

static void make_plan(struct world *world, struct crossing_plan *plan)
{
    static struct shortfall shortfall;
    static struct cross_warning warning;
    world->mix = (struct lot){.name = "=MIX"};
    world->cross = (struct cross){.name = "C12",
                                  .seed_parent_name = "S12",
                                  .pollen_parent_name = "=MIX",
                                  .mix = &world->mix,
                                  .priority = 2};
    world->group = (struct group){.graft = &world->state,
                                  .site = &world->site,
                                  .cross = &world->cross,
                                  .seed_parent = &world->selection,
                                  .season = 2028,
                                  .season_number = 1,
                                  .flowering = &world->flowering,
                                  .bloom = &world->bloom};
    world->bag = (struct planned_bag){.group = &world->group,
                                      .name = "OAK-017C-28-1",
                                      .lot = &world->mix,
                                      .chance = {0.934, 0.87, 0, 0.9999},
                                      .seeds_expected = 20.04};
    for (int i = 0; i < BAG_TASKS; i++) {
        world->bag.latest[i] = day_from_civil(2028, 3, 9) + 4 * i;
        world->bag.tasks[i] = (struct planned_task){
            .day = day_from_civil(2028, 3, 7) + 5 * i, .crew = "A", .lift = "L1", .half_day = 1};
    }
    world->bag.tasks[TASK_POLLINATE_2].day = DAY_NONE;
    world->bag.tasks[TASK_UNBAG].crew = NULL;
    shortfall = (struct shortfall){.cross = &world->cross,
                                   .season = 2028,
                                   .bags_wanted = 9,
                                   .bags_planned = 1,
                                   .bags_short = 8,
                                   .cause = CAUSE_NO_GRAFT,
                                   .detail = "no graft of S12 lives"};
    warning = (struct cross_warning){.cross = &world->cross, .coancestry = 0.0703125};
    *plan = (struct crossing_plan){.as_of = world->run.as_of,
                                   .groups = &world->group,
                                   .group_count = 1,
                                   .bags = &world->bag,
                                   .bag_count = 1,
                                   .shortfalls = &shortfall,
                                   .shortfall_count = 1,
                                   .warnings = &warning,
                                   .warning_count = 1};
}

static void crossing_is_a_row_a_visit(void **state)
{
    struct world *world = *state;
    struct crossing_plan plan;
    make_plan(world, &plan);
    struct sheet sheet = crossing_sheet(&plan, &world->run);
    sheet_write_text(&sheet, narrow, &world->out);
    sheet_write_csv(&sheet, as_is, &world->out);
    assert_string_equal(
        world->out.bytes,
        "Crossing plan, Tallow Creek\n"
        "As of Fri 3 Dec 2027; weather observed: HOLM to 2027-12-01 (2 days old)\n"
        "Holm 2028: borrowed dates, not measured here; scout from Mon 21 Feb 2028\n"
        "Heat of 2028 is summed from Sat 15 Jan 2028 (Holm); until then its dates know no\n"
        "  more than past years do\n"
        "\n"
        "task       crew  tree   bag            cross  lot   dose  chance  latest\n"
        "                                                    [ml]          safe\n"
        "---------  ----  -----  -------------  -----  ----  ----  ------  ------\n"
        "Tue 7 Mar 2028, Holm\n"
        "bag        A     HB-12  OAK-017C-28-1  C12    =MIX     -    93 %  9 Mar\n"
        "\n"
        "Sun 12 Mar 2028, Holm\n"
        "pollinate  A     HB-12  OAK-017C-28-1  C12    =MIX  0.50    87 %  13 Mar\n"
        "\n"
        "Wed 22 Mar 2028, Holm\n"
        "unbag      -     HB-12  OAK-017C-28-1  C12    =MIX     -   >99 %  21 Mar\n"
        "\n"
        "2028: 1 bag planned; visits: bag 1, pollinate 1, unbag 1\n"
        "8 bags could not be planned: the shortfalls tell why\n"
        "caution: cross C12 is between relatives, coancestry 0.0703\n"
        "chance: bag clean; receptive on the day; safe to unbag. pencilled: a later\n"
        "  season, no crew yet\n"
        "date,task,crew,lift,half_day,site,tree,crown,tag,flag,bag,cross,seed_parent,pollen_p"
        "arent,pollen_lot,dose_ml,chance,latest_safe,seeds_expected,basis,seasons_seen,season"
        ",season_number,state,as_of\n"
        "2028-03-07,bag,A,L1,afternoon,Holm,HB-12,middle,OAK-017C,blue,OAK-017C-28-1,C12,S12,"
        "'=MIX,'=MIX,,0.934,2028-03-09,20.0,borrowed,5,2028,1,planned,2027-12-03\n"
        "2028-03-12,pollinate,A,L1,afternoon,Holm,HB-12,middle,OAK-017C,blue,OAK-017C-28-1,C1"
        "2,S12,'=MIX,'=MIX,0.50,0.870,2028-03-13,20.0,borrowed,5,2028,1,planned,2027-12-03\n"
        "2028-03-22,unbag,,L1,,Holm,HB-12,middle,OAK-017C,blue,OAK-017C-28-1,C12,S12,'=MIX,'="
        "MIX,,1.000,2028-03-21,20.0,borrowed,5,2028,1,planned,2027-12-03\n");
}

static void shortfalls_name_their_cause(void **state)
{
    struct world *world = *state;
    struct crossing_plan plan;
    make_plan(world, &plan);
    struct sheet sheet = shortfalls_sheet(&plan, &world->run);
    sheet_write_text(&sheet, narrow, &world->out);
    assert_string_equal(
        world->out.bytes,
        "Bags that could not be planned, Tallow Creek\n"
        "As of Fri 3 Dec 2027; weather observed: HOLM to 2027-12-01 (2 days old)\n"
        "\n"
        "cross  bags short  cause          detail\n"
        "-----  ----------  -------------  ---------------------\n"
        "2028, priority 2\n"
        "C12    8 of 9      no live graft  no graft of S12 lives\n"
        "\n"
        "2028: 8 bags short of the 9 that these crosses want; first causes: no live graft\n"
        "  8\n");
}

static void shortfalls_tell_what_would_help(void **state)
{
    struct world *world = *state;
    struct crossing_plan plan;
    make_plan(world, &plan);
    plan.shortfalls[0].remedy = "make 7 grafts of S12 this winter";
    plan.shortfalls[0].remedy_by = day_from_civil(2028, 3, 8);
    struct sheet sheet = shortfalls_sheet(&plan, &world->run);
    sheet_write_text(&sheet, as_is, &world->out);
    assert_non_null(strstr(world->out.bytes,
                           "\n    remedy: make 7 grafts of S12 this winter (helps "
                           "until 2028-03-08)\n"));
    plan.shortfalls[0].remedy = "gather 1 ml of S3 by 2028-03-08"; /* tells its day itself */
    sheet = shortfalls_sheet(&plan, &world->run);
    text_clear(&world->out);
    sheet_write_text(&sheet, as_is, &world->out);
    assert_non_null(strstr(world->out.bytes, "\n    remedy: gather 1 ml of S3 by 2028-03-08\n"));
    text_clear(&world->out);
    sheet_write_csv(&sheet, as_is, &world->out);
    assert_non_null(strstr(world->out.bytes, ",detail,remedy,remedy_by\n"));
    assert_non_null(strstr(world->out.bytes, ",gather 1 ml of S3 by 2028-03-08,2028-03-08\n"));
}

static void the_head_tells_what_firmness_costs(void **state)
{
    struct world *world = *state;
    struct crossing_plan plan;
    struct issued_visit visit = {.as_of = day_from_civil(2027, 12, 1)};
    struct issued_plan issued = {&visit, 1, 1};
    make_plan(world, &plan);
    plan.issued = &issued;
    plan.season = (struct bounds){90, 91, 95};
    plan.free_value = 94.5;
    struct sheet sheet = crossing_sheet(&plan, &world->run);
    assert_non_null(strstr(sheet.head.bytes,
                           " of the plan as of Wed 1 Dec 2027 stand where they can; value 90.0, at "
                           "most 91.0 with these, price of firmness 4.5 (a free plan is worth "
                           "94.5); 0 visits moved\n"));
    plan.free_value = 90;
    issued.count = 0;
    sheet = crossing_sheet(&plan, &world->run);
    assert_non_null(strstr(sheet.head.bytes, "price of firmness 0.0"));
}

static void crossing_tells_what_is_pencilled(void **state)
{
    struct world *world = *state;
    struct crossing_plan plan;
    make_plan(world, &plan);
    world->bag.pencilled = true;
    struct sheet sheet = crossing_sheet(&plan, &world->run);
    sheet_write_text(&sheet, as_is, &world->out);
    assert_non_null(strstr(world->out.bytes, "\nTue 7 Mar 2028, Holm, pencilled\nbag        A "));
    assert_non_null(strstr(world->out.bytes, "\n2028: 1 bag pencilled; visits: bag 1, "));
}

static void shortfalls_are_summed_by_season_the_commonest_cause_first(void **state)
{
    struct world *world = *state;
    struct crossing_plan plan;
    make_plan(world, &plan);
    struct shortfall list[4];
    for (size_t i = 0; i < COUNT(list); i++)
        list[i] = plan.shortfalls[0];
    list[1].cause = list[2].cause = CAUSE_LOT_DEAD;
    list[1].bags_short = list[2].bags_short = 5;
    list[3].season = 2029;
    list[3].bags_short = 1;
    list[3].cause = CAUSE_NONE;
    plan.shortfalls = list;
    plan.shortfall_count = COUNT(list);
    struct sheet sheet = shortfalls_sheet(&plan, &world->run);
    assert_string_equal(sheet.foot.bytes,
                        "2028: 18 bags short of the 27 that these crosses want; first causes: lot "
                        "dead 10, no live graft 8\n"
                        "2029: 1 bag short of the 9 that these crosses want\n");
}

int main(void)
{
#define TEST(function) cmocka_unit_test_setup_teardown(function, setup, teardown)
    const struct CMUnitTest tests[] = {
        TEST(heat_tells_what_was_filled_and_what_is_missing),
        TEST(old_weather_is_said_aloud),
        TEST(flowering_is_one_line_a_graft_under_its_season),
        TEST(flowering_data_hold_every_date_and_where_it_comes_from),
        TEST(each_basis_stands_once_under_its_season_and_site),
        TEST(the_head_tells_when_shipped_clocks_start_in_the_south),
        TEST(sites_that_start_together_share_a_line),
        TEST(a_graft_of_no_known_selection_has_none_on_paper),
        TEST(the_head_tells_on_how_many_past_years_dates_rest),
        TEST(seasons_tell_where_days_come_from),
        TEST(grafting_tells_window_state_and_freeze),
        TEST(clones_with_one_window_are_one_row_for_people),
        TEST(crossing_is_a_row_a_visit),
        TEST(shortfalls_tell_what_would_help),
        TEST(the_head_tells_what_firmness_costs),
        TEST(crossing_tells_what_is_pencilled),
        TEST(shortfalls_name_their_cause),
        TEST(shortfalls_are_summed_by_season_the_commonest_cause_first),
    };
    return cmocka_run_group_tests_name("pages", tests, NULL, NULL) != 0;
}
