#include "planning/harvest.h"

#include "orchard/task_rules.h"
#include "orchard/words.h"
#include "planning/cycle_day.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *const harvest_state_words[HARVEST_STATES] = {
    "nothing", "growing", "test ripeness", "ripe", "past due", "cones counted", "seed counted",
};

/* Months from pollination to the pollen tube at the egg, as information (southern pines; from
 * memory). */
enum { FERTILISED_AFTER_MONTHS = 13, FERTILISED_UNTIL_MONTHS = 15 };

struct harvesting {
    const struct state *state;
    const struct pedigree *pedigree;
    struct arena *arena;
    const struct task_kind *test, *pick; /* NULL: no such row */
    const struct note **ripeness;        /* such notes, in the order of time */
    size_t ripeness_count;
};

/* The second crop of a graft ripens a year after the first. */
static struct harvest_days span_of(const struct task_kind *task, const struct season_rule rule,
                                   const struct harvest_bag *row)
{
    struct harvest_days span = {DAY_NONE, DAY_NONE};
    struct cycle_day first, last;
    int cycle = row->bag->season - 1;

    if (task != NULL && cycle_day_read(task->earliest, &first) &&
        cycle_day_read(task->latest, &last)) {
        span.first = cycle_day_of(first, rule, cycle);
        span.last = cycle_day_of(last, rule, cycle);
    }
    return span;
}

/* The same day of a month, `months` on; the last of a shorter month. */
static daynum months_after(daynum day, int months)
{
    struct civil civil = day_to_civil(day);
    int month = civil.month - 1 + months;
    int year = civil.year + month / 12, length;

    month = month % 12 + 1;
    if (year > 9999)
        return DAY_NONE;
    length = day_month_length(year, month);
    return day_from_civil(year, month, civil.day < length ? civil.day : length);
}

static bool is_about(const struct note *note, const struct harvest_bag *row)
{
    if (note->bag != NULL)
        return strcmp(note->bag, row->bag->name) == 0;
    return note->tree != NULL && row->bag->graft->tree_name != NULL &&
           strcmp(note->tree, row->bag->graft->tree_name) == 0;
}

static void take_ripeness_notes(struct harvesting *harvesting)
{
    const struct orchard *orchard = harvesting->state->orchard;
    size_t capacity = 0;

    for (size_t i = 0; i < orchard->notes.count; i++)
        if (orchard->notes.list[i].kind == NOTE_RIPENESS)
            *ARENA_PUSH(harvesting->arena, harvesting->ripeness, harvesting->ripeness_count,
                        capacity) = &orchard->notes.list[i];
}

/* The last that fits is the newest. */
static void take_ripeness(const struct harvesting *harvesting, struct season_rule rule,
                          struct harvest_bag *row)
{
    row->ripeness_on = DAY_NONE;
    for (size_t i = 0; i < harvesting->ripeness_count; i++) {
        const struct note *note = harvesting->ripeness[i];

        /* Cones of season N ripen in the season after the next, which starts in their summer. */
        if (is_about(note, row) && day_season(rule, note->date) == row->bag->season + 2) {
            row->ripeness = note->value;
            row->ripeness_on = note->date;
        }
    }
}

/* 19 of 20 float below the line (Karrfalt 2001). */
static bool is_ripe(const char *ripeness)
{
    int below, of;

    return ripeness != NULL && ratio_read(ripeness, &below, &of) && 20 * below >= 19 * of;
}

static enum harvest_state state_of_crop(const struct harvesting *harvesting,
                                        const struct harvest_bag *row)
{
    daynum as_of = harvesting->state->orchard->as_of;

    if (row->yield.counted == COUNTED_SEEDS)
        return HARVEST_SEED_COUNTED;
    if (row->yield.counted == COUNTED_CONES)
        return HARVEST_CONES_COUNTED;
    if (row->yield.cones.high == 0)
        return HARVEST_NOTHING;
    if (row->harvest.last != DAY_NONE && as_of > row->harvest.last)
        return HARVEST_DUE;
    if (is_ripe(row->ripeness))
        return HARVEST_RIPE;
    if (row->test.first != DAY_NONE && as_of >= row->test.first)
        return HARVEST_TEST;
    return HARVEST_GROWING;
}

static struct harvest_bag bag_row_of(const struct harvesting *harvesting, const struct bag *bag)
{
    const struct state *state = harvesting->state;
    struct season_rule rule = orchard_season_rule(state->orchard, bag->graft->tree->site);
    struct bag_truth truth = bag_truth_of(state, bag);
    struct harvest_bag row = {
        .bag = bag,
        .graft = state_graft(state, bag->graft),
        .site = bag->graft->tree->site,
        .season_number = bag->season - orchard_cycle(state->orchard, bag->graft),
        .labelled = bag->graft->selection,
        .truth = truth,
        .fate = bag_fate_of(harvesting->pedigree, &state->orchard->program, bag, &truth),
        .yield = bag_yield_of(state, bag, bag_pollen_share(state, bag)),
        .fertilised = {DAY_NONE, DAY_NONE},
    };

    if (bag->visits > 0) {
        row.fertilised.first = months_after(bag->visit_on[0], FERTILISED_AFTER_MONTHS);
        row.fertilised.last = months_after(bag->visit_on[0], FERTILISED_UNTIL_MONTHS);
    }
    row.test = span_of(harvesting->test, rule, &row);
    row.harvest = span_of(harvesting->pick, rule, &row);
    row.year = row.harvest.first != DAY_NONE ? day_year(row.harvest.first) : bag->season + 1;
    take_ripeness(harvesting, rule, &row);
    row.state = state_of_crop(harvesting, &row);
    return row;
}

static int order_of_bags(const void *a, const void *b)
{
    const struct harvest_bag *x = a, *y = b;
    int order = (x->year > y->year) - (x->year < y->year);

    if (order == 0 && x->site != y->site)
        order = x->site == NULL ? -1 : y->site == NULL ? 1 : strcmp(x->site->name, y->site->name);
    if (order == 0)
        order = strcmp(x->bag->graft->tree->name, y->bag->graft->tree->name);
    return order != 0 ? order : strcmp(x->bag->name, y->bag->name);
}

static void add_amount(struct amount *sum, struct amount more)
{
    sum->expected += more.expected;
    sum->low += more.low;
    sum->high += more.high;
}

/* Years in which seed is still to come. */
static void take_years(struct harvest *harvest)
{
    int last = 0;

    for (size_t i = 0; i < harvest->bag_count; i++) {
        const struct harvest_bag *row = &harvest->bags[i];

        if (row->state == HARVEST_NOTHING || row->state == HARVEST_SEED_COUNTED)
            continue;
        if (harvest->years == 0)
            harvest->first_year = row->year;
        last = row->year;
        harvest->years = (size_t)(last - harvest->first_year) + 1;
    }
}

static void add_bag(const struct harvest *harvest, const struct harvest_bag *row,
                    struct harvest_cross *sum)
{
    if (row->yield.counted == COUNTED_SEEDS) {
        sum->seeds_counted += row->yield.seeds.expected;
        return;
    }
    if (row->state == HARVEST_NOTHING)
        return;
    if (row->yield.counted != COUNTED_CONES)
        add_amount(&sum->cones, row->yield.cones);
    add_amount(&sum->seeds, row->yield.seeds);
    add_amount(&sum->seeds_of_year[row->year - harvest->first_year], row->yield.seeds);
}

static void sum_cross(const struct harvesting *harvesting, const struct harvest *harvest,
                      struct harvest_cross *sum)
{
    const struct orchard *orchard = harvesting->state->orchard;
    struct bulk_seed bulk = bulk_seed_of(orchard, sum->cross);
    double short_of;

    sum->seeds_counted = bulk.seeds;
    sum->seeds_of_year = ARENA_ARRAY(harvesting->arena, harvest->years, struct amount);
    for (size_t y = 0; y < harvest->years; y++)
        sum->seeds_of_year[y] = (struct amount){0};
    for (size_t i = 0; i < harvest->bag_count; i++) {
        const struct harvest_bag *row = &harvest->bags[i];

        if (row->truth.cross != sum->cross || row->bag->lost_on != DAY_NONE || !row->bag->clean)
            continue;
        sum->bags += row->bag->visits > 0;
        if (!bag_in_bulk(orchard, row->bag, bulk))
            add_bag(harvest, row, sum);
    }
    short_of = (double)sum->cross->seeds_wanted - sum->cross->seeds_in_store - sum->seeds_counted -
               sum->seeds.expected;
    sum->short_of = short_of > 0 ? short_of : isnan(short_of) ? NAN : 0;
}

struct harvest harvest_of(const struct state *state, const struct pedigree *pedigree,
                          struct arena *arena)
{
    const struct orchard *orchard = state->orchard;
    struct harvesting harvesting = {.state = state,
                                    .pedigree = pedigree,
                                    .arena = arena,
                                    .test = task_closed_by(orchard, NULL, NOTE_RIPENESS),
                                    .pick = task_closed_by(orchard, NULL, NOTE_CONES)};
    struct harvest harvest = {0};

    take_ripeness_notes(&harvesting);
    harvest.bags = ARENA_ARRAY(arena, state->bag_count, struct harvest_bag);
    for (size_t i = 0; i < state->bag_count; i++)
        if (state->bags[i].graft->tree != NULL)
            harvest.bags[harvest.bag_count++] = bag_row_of(&harvesting, &state->bags[i]);
    if (harvest.bag_count > 1)
        qsort(harvest.bags, harvest.bag_count, sizeof *harvest.bags, order_of_bags);
    take_years(&harvest);
    harvest.crosses = ARENA_ARRAY(arena, orchard->crosses.count, struct harvest_cross);
    for (size_t i = 0; i < orchard->crosses.count; i++) {
        struct harvest_cross *sum = &harvest.crosses[harvest.cross_count];

        *sum = (struct harvest_cross){.cross = &orchard->crosses.list[i]};
        sum_cross(&harvesting, &harvest, sum);
        if (sum->cross->state == CROSS_WANTED || sum->bags > 0 || sum->seeds_counted > 0)
            harvest.cross_count++;
    }
    return harvest;
}
