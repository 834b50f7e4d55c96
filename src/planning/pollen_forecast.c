#include "planning/pollen_forecast.h"

#include "orchard/words.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A count of catkins, on a tree or on a graft. */
struct catkin_count {
    const struct note *note;
    const struct graft *graft; /* NULL: of the tree named */
};

struct forecasting {
    const struct state *state;
    struct dates *dates;
    const struct flowering_rows *flowering;
    struct arena *arena;
    struct pollen_forecast forecast;
    size_t source_capacity, use_capacity;
    struct catkin_count *counts; /* in the order of time */
    size_t count_count;
};

static const enum event shed_events[] = {EVENT_SHED_FIRST, EVENT_SHED_PEAK, EVENT_SHED_LAST};

static bool is_of(const char *name, const char *other)
{
    return name != NULL && other != NULL && strcmp(name, other) == 0;
}

static void take_counts(struct forecasting *forecasting)
{
    const struct orchard *orchard = forecasting->state->orchard;
    size_t capacity = 0;

    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];

        if (note->kind == NOTE_CATKINS && note->number >= 0)
            *ARENA_PUSH(forecasting->arena, forecasting->counts, forecasting->count_count,
                        capacity) = (struct catkin_count){
                note, note->tag != NULL ? orchard_graft(orchard, note->tag) : NULL};
    }
}

static bool is_of_source(const struct catkin_count *count, const struct pollen_source *source)
{
    if (source->graft != NULL)
        return count->graft == source->graft->graft;
    return count->note->tag == NULL && is_of(count->note->tree, source->tree->name);
}

/* The last that fits is the newest. */
static void take_catkins(const struct forecasting *forecasting, struct pollen_source *source)
{
    struct season_rule rule = orchard_season_rule(forecasting->state->orchard, source->site);

    source->catkins = -1;
    source->catkins_on = DAY_NONE;
    for (size_t i = 0; i < forecasting->count_count; i++) {
        const struct catkin_count *count = &forecasting->counts[i];

        if (day_season(rule, count->note->date) == source->season && is_of_source(count, source)) {
            source->catkins = (int)count->note->number;
            source->catkins_on = count->note->date;
        }
    }
}

static void take_dates(const struct forecasting *forecasting, struct pollen_source *source)
{
    const struct bloom *bloom =
        dates_bloom(forecasting->dates, source->site, source->selection->species, source->selection,
                    source->season);

    source->bloom = bloom;
    for (int i = 0; i < THREE_DATES; i++) {
        for (int e = 0; e < 3; e++)
            source->shed[e][i] = bloom_date(bloom, shed_events[e], three_chances[i]);
        source->ready[i] = source->shed[0][i];
        if (source->ready[i] != DAY_NONE && source->ready[i] != DAY_NEVER)
            source->ready[i] += POLLEN_DRYING_DAYS + POLLEN_TEST_DAYS;
    }
    source->over = bloom_by(bloom, EVENT_SHED_LAST, forecasting->state->orchard->as_of - 1) >=
                   1 - CONETIDE_CHANCE_TOLERANCE;
}

static void add_source(struct forecasting *forecasting, const struct tree *tree,
                       const struct graft_state *graft, const struct selection *selection)
{
    const struct orchard *orchard = forecasting->state->orchard;
    struct pollen_source source = {
        .tree = tree, .graft = graft, .selection = selection, .site = tree->site};

    source.season = day_season(orchard_season_rule(orchard, source.site), orchard->as_of);
    take_catkins(forecasting, &source);
    if (graft != NULL && source.catkins <= 0)
        return;
    take_dates(forecasting, &source);
    *ARENA_PUSH(forecasting->arena, forecasting->forecast.sources,
                forecasting->forecast.source_count, forecasting->source_capacity) = source;
}

static void add_sources(struct forecasting *forecasting)
{
    const struct orchard *orchard = forecasting->state->orchard;

    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *tree = &orchard->trees.list[i];
        const struct note *relabelled = forecasting->state->relabelled_trees[i];
        const struct selection *selection =
            relabelled != NULL ? orchard_selection(orchard, relabelled->value) : tree->selection;

        if ((tree->uses & USE_POLLEN) != 0 && tree->health != HEALTH_DEAD && tree->site != NULL &&
            selection != NULL)
            add_source(forecasting, tree, NULL, selection);
    }
    for (size_t i = 0; i < orchard->grafts.count; i++) {
        const struct graft_state *graft = &forecasting->state->grafts[i];

        if (graft->selection != NULL && graft->graft->tree != NULL &&
            graft->graft->tree->site != NULL && !condition_is_gone(graft->condition))
            add_source(forecasting, graft->graft->tree, graft, graft->selection);
    }
}

static int order_of_sources(const void *a, const void *b)
{
    const struct pollen_source *x = a, *y = b;
    int order = strcmp(x->selection->name, y->selection->name);

    if (order == 0)
        order = strcmp(x->site->name, y->site->name);
    if (order == 0)
        order = strcmp(x->tree->name, y->tree->name);
    if (order == 0)
        order = (x->graft != NULL) - (y->graft != NULL);
    return order != 0 || x->graft == NULL ? order
                                          : strcmp(x->graft->graft->tag, y->graft->graft->tag);
}

/* Chance that the pollen is ready before day `event` of the seed parent's bloom.  Members are the
 * same past years where both have them; shifts are independent. */
static double ready_before(const struct bloom *pollen, const struct bloom *seed, enum event event)
{
    const int32_t *shed = pollen->days[EVENT_SHED_FIRST], *day = seed->days[event];
    size_t members = pollen->members > seed->members ? pollen->members : seed->members;
    const struct conetide_shifts *shifts = pollen->shed_shifts;
    double total = 0;

    if (shed == NULL || day == NULL)
        return NAN;
    if (pollen->members != seed->members && pollen->members != 1 && seed->members != 1)
        return NAN; /* past years of different stations, that do not pair */
    for (size_t m = 0; m < members; m++) {
        int32_t from = shed[pollen->members == 1 ? 0 : m], to = day[seed->members == 1 ? 0 : m];

        if (from == CONETIDE_NEVER)
            continue;
        for (int j = -shifts->reach; j <= shifts->reach; j++) {
            double weight =
                conetide_shift_cumulative(shifts, j) - conetide_shift_cumulative(shifts, j - 1);
            int64_t ready = (int64_t)from + j + POLLEN_DRYING_DAYS + POLLEN_TEST_DAYS;

            total += weight * (to == CONETIDE_NEVER
                                   ? 1
                                   : 1 - conetide_shift_cumulative(seed->shifts, ready - to - 1));
        }
    }
    return total / (double)members;
}

/* The seed parent's row of the season whose median first day is earliest; NULL: none flowers. */
static const struct flowering_row *earliest_row(const struct forecasting *forecasting,
                                                const struct selection *seed_parent)
{
    const struct flowering_rows *rows = forecasting->flowering;
    daynum as_of = forecasting->state->orchard->as_of;
    const struct flowering_row *found = NULL;

    for (size_t i = 0; i < rows->count; i++) {
        const struct flowering_row *row = &rows->list[i];
        int now = day_season(orchard_season_rule(forecasting->state->orchard, row->site), as_of);

        if (row->season != now || row->over ||
            !selection_same(row->graft->selection, seed_parent) ||
            row->dates[EVENT_FIRST][1] == DAY_NONE)
            continue;
        if (found == NULL || row->dates[EVENT_FIRST][1] < found->dates[EVENT_FIRST][1])
            found = row;
    }
    return found;
}

static void add_use(struct forecasting *forecasting, size_t index, const struct cross *cross,
                    const struct selection *seed_parent)
{
    const struct pollen_source *source = &forecasting->forecast.sources[index];
    const struct flowering_row *row = earliest_row(forecasting, seed_parent);
    const struct bloom *seed;

    if (row == NULL)
        return;
    seed = dates_bloom(forecasting->dates, row->site, seed_parent->species, row->graft->selection,
                       row->season);
    *ARENA_PUSH(forecasting->arena, forecasting->forecast.uses, forecasting->forecast.use_count,
                forecasting->use_capacity) = (struct pollen_use){
        .source = index,
        .cross = cross,
        .site = row->site,
        .first = bloom_date(seed, EVENT_FIRST, three_chances[1]),
        .last = bloom_date(seed, EVENT_LAST, three_chances[1]),
        .ready_by_first = ready_before(source->bloom, seed, EVENT_FIRST),
        .ready_by_last = ready_before(source->bloom, seed, EVENT_LAST),
    };
}

static void add_uses(struct forecasting *forecasting, size_t index)
{
    const struct orchard *orchard = forecasting->state->orchard;
    const struct selection *pollen = forecasting->forecast.sources[index].selection;

    for (size_t i = 0; i < orchard->crosses.count; i++) {
        const struct cross *cross = &orchard->crosses.list[i];

        if (cross->state != CROSS_WANTED || cross->seed_parent == NULL ||
            cross->pollen_parent == NULL)
            continue;
        if (selection_same(cross->pollen_parent, pollen))
            add_use(forecasting, index, cross, cross->seed_parent);
        else if (cross->either_way && selection_same(cross->seed_parent, pollen))
            add_use(forecasting, index, cross, cross->pollen_parent);
    }
}

/* Catkins last counted on the tree in the season of the gathering, not after it; -1: none. */
static double catkins_before(const struct forecasting *forecasting, const struct note *collected,
                             struct season_rule rule)
{
    double catkins = -1;

    for (size_t i = 0; i < forecasting->count_count; i++) {
        const struct note *note = forecasting->counts[i].note;

        if (note < collected && note->tag == NULL && note->number > 0 &&
            is_of(note->tree, collected->tree) &&
            day_season(rule, note->date) == day_season(rule, collected->date))
            catkins = note->number;
    }
    return catkins;
}

/* What a catkin has given here: millilitres gathered over catkins counted. */
static void take_yield(struct forecasting *forecasting)
{
    const struct orchard *orchard = forecasting->state->orchard;
    struct pollen_forecast *forecast = &forecasting->forecast;
    double ml = 0, catkins = 0;

    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        const struct tree *tree = note->tree != NULL ? orchard_tree(orchard, note->tree) : NULL;
        double counted;

        if (note->kind != NOTE_COLLECTED || tree == NULL || !(note->number > 0))
            continue;
        counted = catkins_before(forecasting, note, orchard_season_rule(orchard, tree->site));
        if (counted < 0)
            continue;
        ml += note->number;
        catkins += counted;
        forecast->ml_seasons++;
    }
    forecast->ml_per_catkin = catkins > 0 ? ml / catkins : (double)NAN;
    for (size_t i = 0; i < forecast->source_count; i++) {
        struct pollen_source *source = &forecast->sources[i];

        source->ml = source->catkins >= 0 ? source->catkins * forecast->ml_per_catkin : (double)NAN;
        if (source->catkins == 0)
            source->ml = 0;
    }
}

struct pollen_forecast pollen_forecast_of(const struct state *state, struct dates *dates,
                                          const struct flowering_rows *flowering,
                                          struct arena *arena)
{
    struct forecasting forecasting = {
        .state = state, .dates = dates, .flowering = flowering, .arena = arena};

    take_counts(&forecasting);
    add_sources(&forecasting);
    if (forecasting.forecast.source_count > 1)
        qsort(forecasting.forecast.sources, forecasting.forecast.source_count,
              sizeof *forecasting.forecast.sources, order_of_sources);
    for (size_t i = 0; i < forecasting.forecast.source_count; i++)
        add_uses(&forecasting, i);
    take_yield(&forecasting);
    return forecasting.forecast;
}
