/*
 * The defaults of program.json.  A default that no source supports says so: what a person reads
 * as "own choice" or "common practice, no source" is for the manager to change.
 */
#include "orchard/program.h"

#include "base/arena.h"

#include <math.h>
#include <string.h>

static double c_of_f(double f)
{
    return (f - 32.0) / 1.8;
}

static const struct place nowhere = {0};
static const struct chilling_need no_chilling = {0};

static void default_clocks(struct program *program, struct arena *arena)
{
    const struct clock shipped[] = {
        /* Base and start that explained most of the catkin development of 31 loblolly families in
         * Georgia: Woodbridge, Bridgwater and Bramlett 1995, 23rd Southern Forest Tree Improvement
         * Conference.  The curve is not told there; single sine is an own choice. */
        {"sine-37f",
         {&conetide_sine, CONETIDE_CUTOFF_NONE, c_of_f(37), NAN},
         {1, 17},
         240,
         nowhere,
         NULL,
         no_chilling},
        /* Longleaf pollen, hours above 50 degF from 1 January: Boyer 1972, Ecology 54(2).  Counted
         * in degree-days here: his degree-hours are 24 times as many. */
        {"sine-50f",
         {&conetide_sine, CONETIDE_CUTOFF_NONE, c_of_f(50), NAN},
         {1, 1},
         240,
         nowhere,
         NULL,
         no_chilling},
        /* Daily high less 55 degF from 1 February: Wing 2019, state forestry extension note; the
         * same base in Baker and Langdon 1990, Silvics of North America 1 (from memory). */
        {"daily-maximum-55f",
         {&conetide_daily_maximum, CONETIDE_CUTOFF_NONE, c_of_f(55), NAN},
         {2, 1},
         240,
         nowhere,
         NULL,
         no_chilling},
        /* Hours at 0 to 8 degC, what southern nurseries count as natural chilling: South 2013, USDA
         * RMRS-P-69.  From 1 October: own choice. */
        {"chilling-hours-0-8",
         {&conetide_sine, CONETIDE_CUTOFF_NONE, 0, NAN},
         {10, 1},
         240,
         nowhere,
         conetide_count_named("chilling-hours-0-8"),
         no_chilling},
    };
    program->clock_count = sizeof shipped / sizeof *shipped;
    program->clocks = ARENA_ARRAY(arena, program->clock_count, struct clock);
    memcpy(program->clocks, shipped, sizeof shipped);
}

void program_defaults(struct program *program, struct arena *arena)
{
    *program = (struct program){
        .season_starts_north = {7, 1},
        .season_starts_south = {1, 1},
        .members_most = 30,
        .coancestry_warn = 0.0625,
        .coancestry_refuse = 0.125,
        .assurance = 0.95,
        .priority_weights = {1, 0.7, 0.5, 0.35, 0.25},
        .uncounted_share = 0.8,
        .clean_chance = 0.90,
        .firm_days = 7,
        .keep_share = 0.6,
        .stay_bonus = 0.02,
        .dose_ml = 0.5,
        .germination_full_pct = 50,
        .germination_refuse_pct = 10,
        .freeze_c = -3,
        .freeze_days = 30,
        .graft_night_c = -3,
        .graft_day_low_c = 7,
        .graft_day_high_c = 29,
        .graft_open_share = 0.25,
        .graft_close_share = 0.80,
        .graft_calendar_open = {2, 1},
        .graft_calendar_close = {3, 10},
    };
    default_clocks(program, arena);
}

bool clock_needs_latitude(const struct clock *clock)
{
    return (clock->counts != NULL && conetide_count_needs_latitude(clock->counts)) ||
           (clock->after_chilling.counts != NULL &&
            conetide_count_needs_latitude(clock->after_chilling.counts));
}

bool clock_chills(const struct clock *clock)
{
    return clock->after_chilling.counts != NULL || (clock->counts != NULL && clock->counts->chills);
}

const struct clock *program_clock(const struct program *program, const char *name)
{
    if (!name)
        return NULL;
    for (size_t i = 0; i < program->clock_count; i++)
        if (strcmp(program->clocks[i].name, name) == 0)
            return &program->clocks[i];
    return NULL;
}

static const char own_choice[] = "own choice, no source";
static const char common_practice[] = "common practice, no source";

static const struct {
    const char *key, *source;
} sources[] = {
    {"name", own_choice},
    {"schema", own_choice},
    {"season_starts", "own choice: the middle of the months without strobili on either hemisphere"},
    {"units", own_choice},
    {"clocks",
     "sine-37f: Woodbridge, Bridgwater and Bramlett 1995 (base, start; curve own choice); "
     "sine-50f: Boyer 1972; daily-maximum-55f: Wing 2019, state forestry extension note; "
     "chilling-hours-0-8: South 2013, from 1 October: own choice; end after 240 days: own "
     "choice"},
    {"members_most", "own choice: thirty years, as long as a climatological normal"},
    {"coancestry_warn", "own choice: that of first cousins"},
    {"coancestry_refuse", "own choice: that of half sibs"},
    {"assurance", own_choice},
    {"priority_weights", own_choice},
    {"uncounted_share", own_choice},
    {"clean_chance", own_choice},
    {"firm_days", own_choice},
    {"keep_share", own_choice},
    {"stay_bonus", own_choice},
    {"dose_ml", "common practice; within the range tried by Matthews and Bramlett 1986; 0.3 to 0.4 "
                "in Owens and Fernando 2007 for western white pine"},
    {"germination_full_pct", "own choice beside Matthews and Bramlett 1986"},
    {"germination_refuse_pct", "own choice beside Matthews and Bramlett 1986"},
    {"freeze_c", common_practice},
    {"freeze_days", common_practice},
    {"stage_map", own_choice},
    {"task_order", own_choice},
    {"graft_night_c", common_practice},
    {"graft_day_low_c", common_practice},
    {"graft_day_high_c", common_practice},
    {"graft_open_share", own_choice},
    {"graft_close_share", own_choice},
    {"graft_calendar_open", common_practice},
    {"graft_calendar_close", common_practice},
};

const char *program_source(const char *key)
{
    for (size_t i = 0; i < sizeof sources / sizeof *sources; i++)
        if (strcmp(sources[i].key, key) == 0)
            return sources[i].source;
    return NULL;
}
