/*
 * dates_test.c - what holds of every date, over many random orchards, weathers and days.
 *
 * Orchards come from a generator of our own, so that a case is its number.  How often what is worth
 * testing occurred is printed, and too seldom is a failure.
 */
#include "orchard/state.h"
#include "planning/grafting.h"
#include "planning/record_fixture.h"
#include "planning/weather_fixture.h"

#define ORCHARDS 200

enum seen {
    SEEN_HEAT,
    SEEN_CALENDAR,
    SEEN_FEW_YEARS,
    SEEN_LEFT_OUT,
    SEEN_MEANS,
    SEEN_FILLED,
    SEEN_LENT,
    SEEN_NEVER,
    SEEN_OUT_OF_ORDER,
    SEEN_POLLEN,
    SEEN_SOUTH,
    SEEN_SURE,
    SEEN_STOP,
    SEEN_GOOD_DAYS,
    SEEN_MOVED,
    SEEN_ALONE,
    SEEN_BAG,
    SEEN_OWN,
    SEEN_NEIGHBOUR,
    SEEN_FORECAST,
    SEEN_MORNING,
    SEEN_LAPSE,
    SEEN_KINDS
};
static const struct {
    const char *words;
    double least_share;
} kinds[SEEN_KINDS] = {
    {"dates by heat", 0.5},
    {"dates by the calendar", 0.3},
    {"too few past years for heat", 0.05},
    {"past years left out", 0.2},
    {"gaps filled with means of other years", 0.2},
    {"days of the season filled on a line", 0.2},
    {"days of the season lent by past years", 0.1},
    {"events that some year does not bring", 0.1},
    {"events raised to stand in order", 0.15},
    {"pollen that spreads unlike strobili", 0.3},
    {"southern seasons by heat", 0.2},
    {"dates of a season that is over", 0.02},
    {"grafting closed by the calendar's stop", 0.2},
    {"good days to graft that past years differ in", 0.2},
    {"stages seen that fit the futures and moved a date", 0.2},
    {"stages seen that fit less than 5 % of the futures", 0.2},
    {"bags whose dates are not their graft's", 0.05},
    {"events that spread more than what they follow", 0.1},
    {"past years with days of a neighbour", 0.2},
    {"days of the season from a forecast", 0.2},
    {"stations read in the morning", 0.2},
    {"sites moved to their elevation", 0.2},
};
static int seen[SEEN_KINDS];
static bool seen_here[SEEN_KINDS];

static uint64_t dice;

/* Knuth's MMIX numbers; the high bits are the good ones. */
static int below(int limit)
{
    dice = dice * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (int)((dice >> 33) % (uint64_t)limit);
}

static bool chance(int percent)
{
    return below(100) < percent;
}

/* ---- an orchard ------------------------------------------------------------------------------ */

static double winter_c;
static bool southern;

/* A year's wave, a season of its own, and a day's noise. */
static double mean_c(int season, daynum day)
{
    uint64_t mixed = (uint64_t)(uint32_t)day * UINT64_C(0x9E3779B97F4A7C15);
    double noise = (double)(mixed >> 40) / (1 << 24) * 8 - 4;
    double wave = cos(2 * 3.14159265358979 * (double)(day - 15) / 365.25);

    return winter_c + 8 * (southern ? 1 + wave : 1 - wave) + season % 5 - 2 + noise;
}

static void lose_days(struct record *record, int gaps)
{
    for (int i = 0; i < gaps; i++) {
        size_t days = (size_t)(1 + (chance(50) ? below(9) : below(40)));
        size_t first = (size_t)below((int)(record->count - days));
        int which = below(3); /* both, minimum or maximum */

        for (size_t k = first; k < first + days; k++) {
            if (which != 2)
                record->tmin_c[k] = NAN;
            if (which != 1)
                record->tmax_c[k] = NAN;
        }
    }
}

static void lose_days_before(struct record *record, daynum as_of)
{
    size_t days = (size_t)(1 + below(14)), back = (size_t)below(60);
    int64_t first = (int64_t)as_of - record->first_day - (int64_t)(back + days);

    for (int64_t k = first; k < first + (int64_t)days; k++)
        record->tmin_c[k] = record->tmax_c[k] = NAN;
}

static void add_random_weather(struct fixture *fixture, daynum as_of)
{
    for (int south = 0; south < 2; south++) {
        struct season_rule rule = south == 1 ? fixture_south : fixture_north;
        int first = 2002 + below(18), gaps = below(14);
        struct record *record;

        winter_c = below(8) - 3;
        southern = south == 1;
        record = add_seasons(fixture, south == 1 ? "SYD" : "NORD", rule, first, 2028, mean_c);
        lose_days(record, gaps);
        if (chance(60))
            lose_days_before(record, as_of);
    }
}

static void add_random_sum(struct fixture *fixture, enum event event, double units_c)
{
    static const enum basis bases[] = {BASIS_FITTED_HERE, BASIS_FITTED_HERE, BASIS_BORROWED};
    static const char *const species[] = {NULL, "slash", "loblolly"};
    struct threshold *row;

    if (chance(50))
        return;
    row = add_sum(fixture, event, "flat", units_c);
    row->basis = bases[below(COUNT(bases))];
    row->species = species[below(COUNT(species))];
    row->residual_days = chance(50) ? below(7) : (double)NAN;
    if (chance(25))
        row->selection_name = chance(50) ? "S0" : "S1";
    if (chance(30))
        row->site_name = chance(50) ? "Nord" : "Syd";
    if (row->site_name != NULL && strcmp(row->site_name, "Syd") == 0)
        row->clock_name = "flat-south";
}

static void add_random_thresholds(struct fixture *fixture)
{
    static const enum event female[] = {EVENT_OPENING, EVENT_FIRST, EVENT_PEAK, EVENT_LAST};
    int base = 100 + below(500);

    add_calendar_events(fixture);
    for (size_t i = 0; i < COUNT(female); i++) {
        double units_c = base + below(200); /* in any order */

        if (chance(15))
            units_c += 2500;
        add_random_sum(fixture, female[i], units_c);
    }
    add_random_sum(fixture, EVENT_SHED_PEAK, base + 100);
    add_random_sum(fixture, EVENT_SHED_LAST, base + 150);
    if (chance(70))
        add_after(fixture, EVENT_SHED_FIRST, EVENT_PEAK, below(9) - 4)->species = "slash";
    if (chance(50))
        add_after(fixture, EVENT_CLOSED, EVENT_LAST, below(7))->residual_days = 1;
    if (chance(30))
        add_sum(fixture, EVENT_GRAFT_OPEN, "flat", 20 + below(150))->selection_name = "K7";
    if (chance(30))
        add_sum(fixture, EVENT_GRAFT_CLOSE, "flat", 200 + below(900))->selection_name = "K7";
}

static void add_random_trees(struct fixture *fixture)
{
    for (int i = 0; i < 3; i++) {
        const char *name = arena_printf(&fixture->arena, "S%d", i);
        struct selection *selection = add_selection(fixture, name, NULL, NULL);

        selection->species = i == 0 ? "loblolly" : "slash";
        selection->days_late = below(13) - 6;
    }
    for (int i = 0; i < 4; i++) {
        const char *name = arena_printf(&fixture->arena, "T%d", i);
        struct tree *tree = add_tree(fixture, name, i % 2 == 0 ? "Nord" : "Syd");

        tree->clone = i < 2 ? "K7" : "K8";
        tree->species = "slash";
        tree->uses = USE_GRAFT;
        if (chance(70))
            add_graft(fixture, arena_printf(&fixture->arena, "G%d", i), "S0", name);
    }
}

/* A row of stations.csv, with a neighbour that has a record of its own. */
static void add_random_station(struct fixture *fixture, const char *name, const char *neighbour,
                               struct season_rule rule)
{
    struct station *station = add_station(fixture, name);
    int first = 1998 + below(20);

    station->reads_morning = chance(50);
    station->elevation_m = chance(80) ? below(600) : (double)NAN;
    station->tmin_lapse_c_per_km = chance(50) ? below(12) - 2 : (double)NAN;
    station->tmax_lapse_c_per_km = chance(50) ? below(10) : (double)NAN;
    if (chance(30))
        return;
    station->neighbour = neighbour;
    add_station(fixture, neighbour)->reads_morning = chance(30);
    southern = !rule.northern;
    winter_c = below(8) - 3;
    lose_days(add_seasons(fixture, neighbour, rule, first, first + 3 + below(30), mean_c), 4);
}

static void add_random_forecasts(struct fixture *fixture, const char *station, daynum as_of)
{
    char issued[DAY_TEXT], first[DAY_TEXT];

    for (int i = below(4); i > 0; i--) {
        daynum day = as_of - below(6);
        struct forecast *forecast =
            add_forecast(fixture, station, day_text(day, issued), day_text(day + below(2), first),
                         (size_t)(1 + below(10)), below(16));

        forecast->issued_minute += below(1440);
        if (chance(30))
            forecast->tmin_c[0] = NAN;
        if (chance(30))
            forecast->tmax_c[forecast->count - 1] = NAN;
    }
}

static void add_random_records(struct fixture *fixture, daynum as_of)
{
    if (chance(60))
        add_random_station(fixture, "NORD", "NALT", fixture_north);
    if (chance(60))
        add_random_station(fixture, "SYD", "SALT", fixture_south);
    add_random_forecasts(fixture, "NORD", as_of);
    add_random_forecasts(fixture, "SYD", as_of);
}

static const char *day_words(struct fixture *fixture, daynum day)
{
    char text[DAY_TEXT];

    return arena_printf(&fixture->arena, "%s", day_text(day, text));
}

/* What a run on the day `as_of` cannot know stands in the notes only when `foresee`. */
static void add_look(struct fixture *fixture, const char *tag, const char *bag, daynum day)
{
    static const char *const stages[] = {"1", "2", "3", "2-4", "4", "3-5", "5", "4-6", "6"};
    int from = below((int)COUNT(stages)), stage = chance(50) ? from : below(from + 1);

    if (bag != NULL)
        note_on_bag(fixture, day_words(fixture, day), NOTE_STAGE, bag, stages[stage]);
    else
        note_on_tag(fixture, day_words(fixture, day), NOTE_STAGE, tag, stages[stage]);
}

static void add_random_looks(struct fixture *fixture, daynum as_of, bool foresee)
{
    add_cross(fixture, "C1", "S0", "S1");
    for (size_t i = 0; i < fixture->orchard.grafts.count; i++) {
        const char *tag = fixture->orchard.grafts.list[i].tag, *bag = NULL;
        int looks = chance(75) ? 1 + below(4) : 0;
        daynum hung = as_of - below(20);

        if (chance(40)) {
            bool south = strcmp(fixture->orchard.grafts.list[i].tree_name, "T1") == 0 ||
                         strcmp(fixture->orchard.grafts.list[i].tree_name, "T3") == 0;
            int season = day_season(south ? fixture_south : fixture_north, hung);

            bag = arena_printf(&fixture->arena, "%s-%02d-1", tag, season % 100);
            note_on_bag(fixture, day_words(fixture, hung), NOTE_BAGGED, bag, "3")->cross = "C1";
        }
        for (int k = 0; k < looks; k++)
            add_look(fixture, tag, NULL, as_of - below(30));
        for (int k = 0; k < 2; k++) {
            daynum day = as_of + 1 + below(20), past = hung + below(as_of - hung + 1);
            const char *on = chance(50) ? bag : NULL;
            uint64_t saved;

            if (bag != NULL)
                add_look(fixture, tag, bag, past);
            saved = dice;
            if (foresee)
                add_look(fixture, tag, on, day);
            dice = saved; /* what is to come throws no other dice for the rest */
        }
    }
}

static daynum add_random_orchard(struct fixture *fixture, int number, bool foresee)
{
    daynum as_of;

    dice = (uint64_t)number * UINT64_C(7919) + 17;
    for (int i = 0; i < 5; i++)
        below(2);
    as_of =
        chance(50) ? fixture_day("2026-07-01") + below(560) : fixture_day("2027-02-15") + below(90);
    add_weather_sites(fixture);
    for (size_t i = 0; i < 2; i++) {
        fixture->orchard.sites.list[i].latitude += below(7) - 3;
        fixture->orchard.sites.list[i].elevation_m += below(300);
    }
    fixture->orchard.program.members_most = chance(80) ? 30 : 5 + below(15);
    add_random_weather(fixture, as_of);
    add_random_thresholds(fixture);
    add_random_trees(fixture);
    add_random_records(fixture, as_of);
    dice = (uint64_t)number * UINT64_C(104729) + 5;
    add_random_looks(fixture, as_of, foresee);
    return as_of;
}

/* ---- what holds of a bloom ------------------------------------------------------------------- */

static const enum event female[] = {EVENT_OPENING, EVENT_FIRST, EVENT_PEAK, EVENT_LAST,
                                    EVENT_CLOSED};
static const enum event male[] = {EVENT_SHED_FIRST, EVENT_SHED_PEAK, EVENT_SHED_LAST};

static void check_in_order(const struct bloom *bloom, size_t count, const enum event *events)
{
    for (int percent = 5; percent < 100; percent += 5) {
        daynum before = DAY_NONE;

        for (size_t i = 0; i < count; i++) {
            daynum day = bloom_date(bloom, events[i], percent / 100.0);

            if (day == DAY_NONE)
                continue;
            assert_true(day >= before);
            before = day;
        }
    }
}

static void check_quantiles(const struct bloom *bloom, enum event event)
{
    daynum before = DAY_NONE;

    for (int percent = 1; percent < 100; percent += 7) {
        double p = percent / 100.0;
        daynum day = bloom_date(bloom, event, p);

        assert_true(day >= before);
        before = day;
        if (day == DAY_NONE) {
            assert_null(bloom->days[event]);
        } else if (day == DAY_NEVER) {
            assert_true(bloom_by(bloom, event, DAY_LAST) < p);
        } else {
            assert_true(bloom_by(bloom, event, day) >= p - 2 * CONETIDE_CHANCE_TOLERANCE);
            assert_true(bloom_by(bloom, event, day - 1) < p);
        }
    }
}

static void check_bag_by(const struct bloom *bloom)
{
    for (int percent = 10; percent < 100; percent += 20) {
        daynum opening = bloom_date(bloom, EVENT_OPENING, percent / 100.0);
        daynum bag_by = bloom_date(bloom, EVENT_BAG_BY, percent / 100.0);

        assert_int_equal(bag_by,
                         opening == DAY_NONE || opening == DAY_NEVER ? opening : opening - 1);
    }
}

static struct bloom turned_round(const struct bloom *bloom, struct arena *arena)
{
    struct bloom turned = *bloom;
    size_t n = bloom->members;

    for (int e = 0; e < EVENTS; e++) {
        int32_t *days;

        if (bloom->days[e] == NULL)
            continue;
        days = ARENA_ARRAY(arena, n, int32_t);
        for (size_t m = 0; m < n; m++)
            days[m] = bloom->days[e][n - 1 - m];
        turned.days[e] = days;
    }
    return turned;
}

static void check_order_of_members(const struct bloom *bloom, const struct bloom *shed,
                                   struct arena *arena)
{
    struct bloom turned = turned_round(bloom, arena), shed_turned = turned_round(shed, arena);
    daynum from = day_season_start(fixture_south, bloom->season);

    for (int e = 0; e < EVENTS; e++) {
        for (int percent = 4; percent < 100; percent += 13)
            assert_int_equal(bloom_date(bloom, (enum event)e, percent / 100.0),
                             bloom_date(&turned, (enum event)e, percent / 100.0));
    }
    for (daynum day = from; day < from + 365; day += 9)
        assert_near(bloom_safe_to_unbag(bloom, shed, day),
                    bloom_safe_to_unbag(&turned, &shed_turned, day), 1e-12);
}

static bool brings_never(const struct bloom *bloom)
{
    for (size_t i = 0; i < COUNT(female); i++) {
        for (size_t m = 0; bloom->days[female[i]] != NULL && m < bloom->members; m++) {
            if (bloom->days[female[i]][m] == CONETIDE_NEVER)
                return true;
        }
    }
    return false;
}

/* A sum that is met before that of an event which has to come first. */
static bool was_raised(const struct bloom *bloom)
{
    for (size_t i = 0; i < COUNT(female); i++) {
        for (size_t k = i + 1; k < COUNT(female); k++) {
            const struct threshold *one = bloom->threshold[female[i]],
                                   *later = bloom->threshold[female[k]];

            if (one != NULL && later != NULL && one->kind == THRESHOLD_SUM &&
                later->kind == THRESHOLD_SUM && one->clock == later->clock &&
                later->heat_units_c < one->heat_units_c)
                return true;
        }
    }
    return false;
}

static void look_at_bloom(const struct bloom *bloom, daynum as_of)
{
    bool by_heat = bloom->member_season != NULL;

    seen_here[SEEN_HEAT] |= by_heat;
    seen_here[SEEN_CALENDAR] |= !by_heat;
    seen_here[SEEN_FEW_YEARS] |= bloom->remark != NULL;
    seen_here[SEEN_NEVER] |= brings_never(bloom);
    seen_here[SEEN_OUT_OF_ORDER] |= was_raised(bloom);
    seen_here[SEEN_POLLEN] |= bloom->shifts != bloom->shed_shifts;
    seen_here[SEEN_SOUTH] |= by_heat && strcmp(bloom->site->name, "Syd") == 0;
    for (size_t i = 0; i < COUNT(female); i++)
        seen_here[SEEN_OWN] |= bloom->own[female[i]] != NULL;
    seen_here[SEEN_SURE] |= bloom_by(bloom, EVENT_CLOSED, as_of) > 0.99;
}

static void look_at_weather(const struct season_weather *weather)
{
    seen_here[SEEN_LEFT_OUT] |= weather->left_out_count > 0;
    seen_here[SEEN_FILLED] |= weather->filled_days > 0;
    seen_here[SEEN_LENT] |= weather->lent_days > 0;
    seen_here[SEEN_NEIGHBOUR] |= weather->neighbour_members > 0;
    seen_here[SEEN_FORECAST] |= weather->account.forecast > 0;
    seen_here[SEEN_MORNING] |= weather->record->reads_morning;
    seen_here[SEEN_LAPSE] |= weather->record->tmin_change_c != 0;
    for (size_t m = 0; m < weather->members; m++)
        seen_here[SEEN_MEANS] |= weather->member_mean_days[m] > 0;
}

static void check_weather(const struct season_weather *weather)
{
    for (size_t m = 0; m < weather->members; m++) {
        for (size_t i = 0; i < weather->days; i++)
            assert_true(season_weather_tmin_c(weather, m, i) <=
                        season_weather_tmax_c(weather, m, i));
    }
}

/* ---- what is said, as one number ------------------------------------------------------------- */

static void mix(uint64_t *digest, uint64_t word)
{
    *digest = (*digest ^ word) * UINT64_C(0x100000001B3);
    *digest ^= *digest >> 29;
}

static void mix_number(uint64_t *digest, double number)
{
    uint64_t bits;

    memcpy(&bits, &number, sizeof bits);
    mix(digest, isnan(number) ? 1 : bits);
}

static void mix_text(uint64_t *digest, const char *text)
{
    for (; text != NULL && *text != '\0'; text++)
        mix(digest, (unsigned char)*text);
    mix(digest, 0);
}

static void mix_bloom(uint64_t *digest, const struct bloom *bloom, const struct bloom *shed,
                      daynum as_of)
{
    mix(digest, bloom->members);
    mix(digest, (uint64_t)bloom->basis);
    mix_text(digest, bloom->remark);
    for (int e = 0; e < EVENTS; e++) {
        for (int percent = 5; percent < 100; percent += 15)
            mix(digest, (uint32_t)bloom_date(bloom, (enum event)e, percent / 100.0));
        for (daynum day = as_of; day < as_of + 400; day += 40)
            mix_number(digest, bloom_by(bloom, (enum event)e, day));
    }
    for (daynum day = as_of; day < as_of + 400; day += 40)
        mix_number(digest, bloom_safe_to_unbag(bloom, shed, day));
}

static void mix_row(uint64_t *digest, const struct grafting_row *row)
{
    mix(digest, (uint64_t)row->season);
    for (int i = 0; i < THREE_DATES; i++) {
        mix(digest, (uint32_t)row->opens[i]);
        mix(digest, (uint32_t)row->closes[i]);
    }
    mix(digest, (uint64_t)row->state);
    mix_number(digest, row->chance_open);
    mix_number(digest, row->freeze_chance);
    mix(digest, (uint32_t)row->good_days_low);
    mix(digest, (uint32_t)row->good_days_left);
    mix(digest, (uint32_t)row->good_days_high);
    mix_text(digest, row->state_words);
    mix_text(digest, row->decided_words);
    mix_text(digest, row->caution);
}

/* ---- what holds of a window ------------------------------------------------------------------ */

static void check_row(const struct grafting_row *row)
{
    for (int i = 1; i < THREE_DATES; i++) {
        assert_true(row->opens[i - 1] <= row->opens[i]);
        assert_true(row->closes[i - 1] <= row->closes[i]);
    }
    if (strstr(row->decided_words, "calendar stop") != NULL) {
        assert_true(row->closes[2] <= row->calendar_close);
        seen_here[SEEN_STOP] |= row->closes[1] == row->calendar_close;
    }
    assert_true(row->good_days_low <= row->good_days_left);
    assert_true(row->good_days_left <= row->good_days_high);
    seen_here[SEEN_GOOD_DAYS] |= row->good_days_low < row->good_days_high;
    assert_true(row->chance_open >= 0 && row->chance_open <= 1);
    assert_false(row->freeze_chance < 0 || row->freeze_chance > 1);
}

/* ---- all of it ------------------------------------------------------------------------------- */

static void check_bloom(const struct bloom *bloom, const struct bloom *shed,
                        struct fixture *fixture)
{
    for (int e = 0; e < EVENTS; e++)
        check_quantiles(bloom, (enum event)e);
    check_in_order(bloom, COUNT(female), female);
    check_in_order(bloom, COUNT(male), male);
    check_bag_by(bloom);
    check_order_of_members(bloom, shed, &fixture->arena);
    look_at_bloom(bloom, fixture->orchard.as_of);
}

static void check_chances(const struct bloom *bloom, daynum as_of)
{
    if (bloom->windows == NULL)
        return;
    const struct conetide_futures futures = bloom_futures(bloom);

    for (daynum day = as_of - 40; day < as_of + 200; day += 7) {
        double one = conetide_chance(&futures, day), both;

        both = conetide_chance_both(&futures, day, day + 3);
        assert_true(one >= 0 && one <= 1 + 1e-12 && both >= 0 && both <= one + 1e-12);
        assert_true(conetide_chance_any(&futures, day, day + 3) <= 1 + 1e-12);
        assert_true(conetide_chance_clean_and(&futures, day - 5, day) <= one + 1e-12);
    }
}

/* What was seen lies between its looks, and what was not comes after the last. */
static void check_looks(const struct bloom *bloom)
{
    for (int i = 0; i < LOOKED_EVENTS; i++) {
        enum event event = looked_events[i];
        daynum after = bloom->looks->after[i], by = bloom->looks->by[i];

        if (bloom->days[event] == NULL || bloom->given == NULL)
            continue;
        if (by != DAY_NONE)
            assert_true(bloom_by(bloom, event, by) > 1 - 1e-9);
        if (after != DAY_NONE)
            assert_true(bloom_by(bloom, event, after) < 1e-9);
    }
}

static void look_at_looks(const struct bloom *bloom)
{
    for (size_t i = 0; i < COUNT(female); i++)
        seen_here[SEEN_MOVED] |=
            bloom_date(bloom, female[i], 0.5) != bloom_date(bloom->plain, female[i], 0.5);
    seen_here[SEEN_ALONE] |= bloom->looks_alone;
}

static void check_seen(const struct bloom *bloom, daynum as_of)
{
    for (int e = 0; e < EVENTS; e++)
        check_quantiles(bloom, (enum event)e);
    check_in_order(bloom, COUNT(female), female);
    check_bag_by(bloom);
    check_chances(bloom, as_of);
    if (bloom->looks != NULL) {
        check_looks(bloom);
        look_at_looks(bloom);
    }
}

/* Dates of each graft and of each bag that hangs, as far as they were seen. */
static void ask_grafts(struct fixture *fixture, struct dates *dates, const struct state *state,
                       bool check, uint64_t *digest)
{
    daynum as_of = fixture->orchard.as_of;

    for (size_t i = 0; i < fixture->orchard.grafts.count; i++) {
        const struct graft_state *graft = &state->grafts[i];
        const struct site *site = graft->graft->tree->site;
        int now = day_season(orchard_season_rule(&fixture->orchard, site), as_of);
        const struct bloom *shed = dates_bloom(dates, site, "slash", NULL, now);
        const struct bloom *bloom = dates_graft_bloom(dates, state, graft, now);

        if (check)
            check_seen(bloom, as_of);
        mix_bloom(digest, bloom, shed, as_of);
        for (size_t b = 0; b < state->bag_count; b++) {
            const struct bloom *of_bag;

            if (state->bags[b].graft != graft->graft || state->bags[b].season != now)
                continue;
            of_bag = dates_bag_bloom(dates, state, &state->bags[b]);
            if (check)
                check_seen(of_bag, as_of);
            seen_here[SEEN_BAG] |= of_bag != bloom;
            mix_bloom(digest, of_bag, shed, as_of);
        }
    }
}

/* Asks everything of everything, checks it when `check`, and says what was said as one number. */
static uint64_t ask_all(struct fixture *fixture, struct dates *dates, const struct state *state,
                        bool check)
{
    daynum as_of = fixture->orchard.as_of;
    uint64_t digest = 0;
    struct grafting_rows rows;

    for (size_t s = 0; s < 2; s++) {
        const struct site *site = &fixture->orchard.sites.list[s];
        int now = day_season(orchard_season_rule(&fixture->orchard, site), as_of);

        for (int season = now; season <= now + 2; season++) {
            const struct bloom *shed = dates_bloom(dates, site, "slash", NULL, season);

            if (check) {
                check_weather(dates_weather(dates, site, season));
                look_at_weather(dates_weather(dates, site, season));
            }
            for (size_t i = 0; i <= fixture->orchard.selections.count; i++) {
                const struct selection *selection =
                    i == 0 ? NULL : &fixture->orchard.selections.list[i - 1];
                const char *species = selection == NULL ? "slash" : selection->species;
                const struct bloom *bloom = dates_bloom(dates, site, species, selection, season);

                if (check)
                    check_bloom(bloom, shed, fixture);
                mix_bloom(&digest, bloom, shed, as_of);
            }
        }
    }
    ask_grafts(fixture, dates, state, check, &digest);
    rows = grafting_of(state, dates, &fixture->arena);
    for (size_t i = 0; i < rows.count; i++) {
        if (check)
            check_row(&rows.list[i]);
        mix_row(&digest, &rows.list[i]);
    }
    return digest;
}

/* A heat wave follows the as-of day at once. */
static void foresee_heat(struct fixture *fixture)
{
    for (size_t r = 0; r < fixture->orchard.records.count; r++) {
        struct record *record = &fixture->orchard.records.list[r];
        size_t count = (size_t)(fixture->orchard.as_of - record->first_day) + 1, more = 500;
        double *tmin_c = ARENA_ARRAY(&fixture->arena, count + more, double);
        double *tmax_c = ARENA_ARRAY(&fixture->arena, count + more, double);

        for (size_t i = 0; i < count + more; i++) {
            tmin_c[i] = i < record->count ? record->tmin_c[i] : i < count ? (double)NAN : 25;
            tmax_c[i] = i < record->count ? record->tmax_c[i] : i < count ? (double)NAN : 41;
        }
        record->tmin_c = tmin_c;
        record->tmax_c = tmax_c;
        record->count = count + more;
    }
}

static uint64_t ask_with_notes_to_come(int number)
{
    void *fresh;
    struct fixture *fixture;
    struct dates *dates;
    char as_of[DAY_TEXT];
    uint64_t said;

    fixture_setup(&fresh);
    fixture = fresh;
    dates = dates_on(fixture, day_text(add_random_orchard(fixture, number, true), as_of));
    said = ask_all(fixture, dates, state_of(&fixture->orchard, &fixture->arena, &fixture->diags),
                   false);
    fixture_teardown(&fresh);
    return said;
}

/* And for each station a forecast of it is issued on the next day. */
static void foretell_heat(struct fixture *fixture)
{
    static const char *const stations[] = {"NORD", "SYD"}; /* as linking orders them */
    char issued[DAY_TEXT], first[DAY_TEXT];
    struct fixture later = *fixture;

    later.orchard.forecasts.list = NULL;
    later.orchard.forecasts.count = later.orchard.forecasts.capacity = 0;
    day_text(fixture->orchard.as_of + 1, issued);
    day_text(fixture->orchard.as_of - 3, first);
    for (size_t s = 0; s < COUNT(stations); s++) {
        add_forecast(&later, stations[s], issued, first, 16, 30);
        for (size_t i = 0; i < fixture->orchard.forecasts.count; i++) {
            if (strcmp(fixture->orchard.forecasts.list[i].station, stations[s]) == 0)
                *FIXTURE_PUSH(&later, forecasts) = fixture->orchard.forecasts.list[i];
        }
    }
    fixture->arena = later.arena;
    memcpy(&fixture->orchard.forecasts, &later.orchard.forecasts,
           sizeof fixture->orchard.forecasts);
}

static void every_date_holds_and_knows_nothing_of_days_to_come(void **state)
{
    for (int number = 0; number < ORCHARDS; number++) {
        void *fresh;
        struct fixture *fixture;
        const struct state *nouns;
        struct dates *dates;
        char as_of[DAY_TEXT];
        uint64_t said;

        fixture_setup(&fresh);
        fixture = fresh;
        dates = dates_on(fixture, day_text(add_random_orchard(fixture, number, false), as_of));
        nouns = state_of(&fixture->orchard, &fixture->arena, &fixture->diags);
        memset(seen_here, 0, sizeof seen_here);
        said = ask_all(fixture, dates, nouns, true);
        for (int kind = 0; kind < SEEN_KINDS; kind++)
            seen[kind] += seen_here[kind];
        foresee_heat(fixture);
        foretell_heat(fixture);
        dates = dates_new(&fixture->orchard, &fixture->arena);
        if (ask_all(fixture, dates, nouns, false) != said)
            fail_msg("orchard %d on %s: weather to come shows", number, as_of);
        fixture_teardown(&fresh);
        if (ask_with_notes_to_come(number) != said)
            fail_msg("orchard %d on %s: notes to come show", number, as_of);
    }
    (void)state;
}

static void what_is_worth_testing_occurred(void **state)
{
    (void)state;
    for (int kind = 0; kind < SEEN_KINDS; kind++)
        printf("seen: %3d of %d orchards: %s\n", seen[kind], ORCHARDS, kinds[kind].words);
    for (int kind = 0; kind < SEEN_KINDS; kind++) {
        if (seen[kind] < kinds[kind].least_share * ORCHARDS)
            fail_msg("%s: too seldom", kinds[kind].words);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_date_holds_and_knows_nothing_of_days_to_come),
        cmocka_unit_test(what_is_worth_testing_occurred),
    };

    return cmocka_run_group_tests_name("random dates", tests, NULL, NULL) != 0;
}
