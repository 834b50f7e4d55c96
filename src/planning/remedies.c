/*
 * remedies.c - one remedy for each shortfall: crew-days, grafts, pollen, or none and why.
 */
#include "planning/remedies.h"

#include "planning/crossing_parts.h"
#include "planning/demand_plan.h"
#include "planning/grafting.h"
#include "planning/more_crews.h"
#include "planning/pollen_forecast.h"

#include <stdlib.h>

struct pharmacy {
    const struct crossing_inputs *inputs;
    struct crossing_plan *plan;
    const struct orchard *orchard;
    struct arena *arena;
    struct demand_plan demand;
    struct more_crews crews;
    struct option_tables *tables;
    daynum grafting_ends; /* the last of the median closing days; DAY_NONE: over, or not known */
};

static void set(struct shortfall *shortfall, const char *words, daynum by)
{
    shortfall->remedy = words;
    shortfall->remedy_by = by;
}

static bool is_of_crews(const struct shortfall *shortfall)
{
    return shortfall->cause == CAUSE_CREW_MINUTES || shortfall->cause == CAUSE_LIFT_MINUTES ||
           shortfall->cause == CAUSE_NO_WORKING_DAY;
}

static bool is_of_group(const struct shortfall *shortfall, const struct group *group)
{
    return group->cross == shortfall->cross && group->season == shortfall->season;
}

/* The sites at which crews are short; false: none. */
static bool short_sites(const struct pharmacy *pharmacy, bool *sites)
{
    const struct crossing_plan *plan = pharmacy->plan;
    bool any = false;

    for (size_t i = 0; i < plan->shortfall_count; i++)
        for (size_t g = 0; is_of_crews(&plan->shortfalls[i]) && g < plan->group_count; g++)
            if (is_of_group(&plan->shortfalls[i], &plan->groups[g]))
                any = sites[plan->groups[g].site - pharmacy->orchard->sites.list] = true;
    return any;
}

/* "one more crew-day with a lift at Nord on 2027-03-08 gives 4 bags, 1 of them of this cross" */
static void more_crew(const struct pharmacy *pharmacy, struct shortfall *shortfall)
{
    const size_t cross = (size_t)(shortfall->cross - pharmacy->orchard->crosses.list);
    const struct more_crew *crew = more_crews_best(&pharmacy->crews, cross);
    struct text words;
    char from[DAY_TEXT], to[DAY_TEXT];

    if (crew == NULL) {
        set(shortfall, "none: one more crew gives this cross no bag", DAY_NONE);
        return;
    }
    const struct more_bags *of = &crew->of[cross];
    const int64_t bags = crew->whole_day ? crew->bags : of->bags;
    const char *lift = crew->lift ? " with a lift" : "";
    day_text(of->first, from);
    day_text(of->last, to);
    text_init(&words, pharmacy->arena);
    if (of->days == 1)
        text_addf(&words, "one more crew-day%s at %s on %s gives", lift, crew->site->name, from);
    else
        text_addf(&words, "%d more crew-days%s at %s from %s to %s give", of->days, lift,
                  crew->site->name, from, to);
    text_addf(&words, " %lld bag%s", (long long)bags, bags == 1 ? "" : "s");
    if (of->bags < bags)
        text_addf(&words, ", %lld of them of this cross", (long long)of->bags);
    else if (!crew->whole_day)
        text_add(&words, " of this cross");
    set(shortfall, words.bytes, of->first);
}

static const struct demand_selection *demand_of(const struct pharmacy *pharmacy,
                                                const struct selection *selection)
{
    for (size_t i = 0; i < pharmacy->demand.selections.count; i++)
        if (selection_same(pharmacy->demand.selections.list[i].selection, selection))
            return &pharmacy->demand.selections.list[i];
    return NULL;
}

static bool has_no_rate(const struct pharmacy *pharmacy, const struct cross *cross)
{
    for (size_t i = 0; i < pharmacy->demand.crosses.count; i++)
        if (pharmacy->demand.crosses.list[i].cross == cross)
            return pharmacy->demand.crosses.list[i].obstacle == DEMAND_NO_RATE;
    return false;
}

/* Grafts that are made in the winter of season S flower first in S + 1. */
static void more_grafts(const struct pharmacy *pharmacy, struct shortfall *shortfall)
{
    const struct cross *cross = shortfall->cross;
    const struct demand_selection *row = demand_of(pharmacy, cross->seed_parent);
    const char *parent = cross->seed_parent->name;
    const int ahead = pharmacy->demand.ahead;

    if (has_no_rate(pharmacy, cross)) {
        set(shortfall, "correct the rate of 0 in rates.csv", DAY_NONE);
    } else if (cross->season != 0 && cross->season <= pharmacy->demand.season + ahead) {
        set(shortfall, "none in time: ask for a later season in crosses.csv", DAY_NONE);
    } else if (row == NULL || row->grafts < 0) {
        set(shortfall,
            arena_printf(pharmacy->arena, "better rates: no number of grafts of %s is enough",
                         parent),
            DAY_NONE);
    } else if (row->grafts == 0) {
        set(shortfall,
            arena_printf(pharmacy->arena, "wait: standing grafts of %s carry it in a later spring",
                         parent),
            DAY_NONE);
    } else {
        set(shortfall,
            arena_printf(pharmacy->arena, "make %lld graft%s of %s %s winter",
                         (long long)row->grafts, row->grafts == 1 ? "" : "s", parent,
                         ahead == 0 ? "this" : "next"),
            ahead == 0 ? pharmacy->grafting_ends : DAY_NONE);
    }
}

/* The last day that is half as good for a visit as the best, of any of its grafts. */
static daynum latest_visit(const struct pharmacy *pharmacy, const struct shortfall *shortfall)
{
    const struct crossing_plan *plan = pharmacy->plan;
    daynum last = DAY_NONE;

    for (size_t g = 0; g < plan->group_count; g++) {
        const struct group *group = &plan->groups[g];

        if (!is_of_group(shortfall, group) || group->places == 0)
            continue;
        const struct option_table *table =
            option_table_of(pharmacy->tables, group->bloom, group->shed);
        if (table->latest_visit != DAY_NONE && (last == DAY_NONE || table->latest_visit > last))
            last = table->latest_visit;
    }
    return last;
}

/* Two doses a bag, dried and tested before the latest visit. */
static void more_pollen(const struct pharmacy *pharmacy, struct shortfall *shortfall)
{
    const struct cross *cross = shortfall->cross;
    const double ml =
        (double)(shortfall->bags_short * VISITS_MOST) * pharmacy->orchard->program.dose_ml;
    const daynum visit = latest_visit(pharmacy, shortfall);
    const daynum by =
        visit != DAY_NONE ? visit - 1 - POLLEN_DRYING_DAYS - POLLEN_TEST_DAYS : DAY_NONE;
    const char *what =
        arena_printf(pharmacy->arena, "%s %.4g ml of %s", cross->mix != NULL ? "mix" : "gather", ml,
                     cross->mix != NULL ? cross->mix->name : cross->pollen_parent->name);
    char day[DAY_TEXT];

    if (by != DAY_NONE && by < pharmacy->plan->as_of)
        set(shortfall,
            cross->season == shortfall->season
                ? "none in time: ask for a later season in crosses.csv"
                : arena_printf(pharmacy->arena, "%s for %d: too late this season", what,
                               shortfall->season + 1),
            DAY_NONE);
    else if (by != DAY_NONE)
        set(shortfall, arena_printf(pharmacy->arena, "%s by %s", what, day_text(by, day)), by);
    else
        set(shortfall, what, DAY_NONE);
}

static int64_t bags_pencilled(const struct pharmacy *pharmacy, const struct cross *cross)
{
    int64_t bags = 0;

    for (size_t i = 0; i < pharmacy->plan->bag_count; i++)
        bags += pharmacy->plan->bags[i].pencilled && pharmacy->plan->bags[i].group->cross == cross;
    return bags;
}

/* The season is lost for it. */
static void next_season(const struct pharmacy *pharmacy, struct shortfall *shortfall)
{
    const int64_t bags = bags_pencilled(pharmacy, shortfall->cross);

    if (shortfall->cross->season != 0 && shortfall->cross->season <= shortfall->season)
        set(shortfall, "none: ask for a later season in crosses.csv", DAY_NONE);
    else if (bags > 0)
        set(shortfall,
            arena_printf(pharmacy->arena, "none this season: %lld bag%s pencilled into %d",
                         (long long)bags, bags == 1 ? " is" : "s are", shortfall->season + 1),
            DAY_NONE);
    else
        set(shortfall, "none this season", DAY_NONE);
}

static void fill(const struct pharmacy *pharmacy, struct shortfall *shortfall)
{
    switch (shortfall->cause) {
    case CAUSE_COANCESTRY:
        set(shortfall, "another parent, of less near kin", DAY_NONE);
        return;
    case CAUSE_NO_GRAFT:
    case CAUSE_NO_STROBILI:
        more_grafts(pharmacy, shortfall);
        return;
    case CAUSE_NO_LOT:
    case CAUSE_LOT_DEAD:
    case CAUSE_LOT_USED_UP:
        more_pollen(pharmacy, shortfall);
        return;
    case CAUSE_CREW_MINUTES:
    case CAUSE_LIFT_MINUTES:
    case CAUSE_NO_WORKING_DAY:
        more_crew(pharmacy, shortfall);
        return;
    case CAUSE_ISOLATION_LOST:
    case CAUSE_WINDOW_PAST:
    case CAUSE_NONE:
    case CAUSES:
    default:
        next_season(pharmacy, shortfall);
    }
}

static daynum grafting_ends(const struct pharmacy *pharmacy)
{
    const struct grafting_rows rows =
        grafting_of(pharmacy->inputs->state, pharmacy->inputs->dates, pharmacy->arena);
    daynum last = DAY_NONE;

    for (size_t i = 0; i < rows.count; i++)
        if (rows.list[i].state != GRAFTING_CLOSED && rows.list[i].state != GRAFTING_NO_DATE &&
            rows.list[i].closes[1] != DAY_NONE && rows.list[i].closes[1] < DAY_NEVER &&
            (last == DAY_NONE || rows.list[i].closes[1] > last))
            last = rows.list[i].closes[1];
    return last;
}

void remedies_fill(const struct crossing_inputs *inputs, struct crossing_plan *plan)
{
    struct pharmacy pharmacy = {
        .inputs = inputs,
        .plan = plan,
        .orchard = inputs->state->orchard,
        .arena = inputs->arena,
    };
    bool *sites = ARENA_ARRAY(inputs->arena, pharmacy.orchard->sites.count, bool);

    if (plan->shortfall_count == 0)
        return;
    pharmacy.demand = demand_plan_of(inputs);
    pharmacy.tables =
        option_tables_new(inputs->arena, plan->as_of, pharmacy.orchard->program.clean_chance);
    pharmacy.grafting_ends = grafting_ends(&pharmacy);
    if (short_sites(&pharmacy, sites))
        pharmacy.crews = more_crews_of(inputs, plan, sites);
    for (size_t i = 0; i < plan->shortfall_count; i++)
        fill(&pharmacy, &plan->shortfalls[i]);
}
