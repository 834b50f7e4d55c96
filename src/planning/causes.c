/*
 * causes.c - the first cause that holds for a cross that is short of bags.
 */
#include "planning/crossing_parts.h"

const struct candidate *next_of(const struct patient *patient, size_t *at)
{
    const struct candidates *all = &patient->chooser->candidates;

    for (; *at < all->count; (*at)++) {
        const struct candidate *candidate = &all->list[*at];

        if (candidate->want == patient->want && candidate->phase == patient->phase &&
            (patient->promised ? must_come_off(candidate) : is_wanted(candidate)))
            return &all->list[(*at)++];
    }
    return NULL;
}

/* Could this candidate have one more bag, if days and lots allowed? */
static bool has_room(const struct candidate *candidate)
{
    return candidate->group->hangs != NULL ? candidate->planned == 0 : candidate->carrier->left > 0;
}

static const struct candidate *next_with_room(const struct patient *patient, size_t *at)
{
    const struct candidate *candidate = next_of(patient, at);

    while (candidate != NULL && !has_room(candidate))
        candidate = next_of(patient, at);
    return candidate;
}

static struct diagnosis why_refused(const struct patient *patient)
{
    struct arena *arena = patient->arena;
    const struct want *want = patient->want;

    if (want->selfs)
        return (struct diagnosis){CAUSE_COANCESTRY, arena_printf(arena, "%s would be selfed",
                                                                 want->cross->seed_parent->name)};
    return (struct diagnosis){CAUSE_COANCESTRY,
                              arena_printf(arena, "coancestry %.4g is above %.4g", want->coancestry,
                                           patient->orchard->program.coancestry_refuse)};
}

/* Bags of the cross that were hung this season and give it no seed. */
struct spoilt {
    int64_t count;
    struct diagnosis first;
};

static void spoil(const struct patient *patient, struct spoilt *spoilt, enum cause cause,
                  const struct bag *bag)
{
    const char *what = bag->lost_on != DAY_NONE ? "was lost"
                       : cause == CAUSE_WINDOW_PAST
                           ? "hangs unpollinated, and no receptive day is left"
                           : "was not clean when hung";

    if (spoilt->count++ == 0)
        spoilt->first =
            (struct diagnosis){cause, arena_printf(patient->arena, "bag %s %s", bag->name, what)};
}

static struct spoilt spoilt_of(const struct patient *patient)
{
    const struct state *state = patient->chooser->inputs->state;
    const struct candidates *all = &patient->chooser->candidates;
    struct spoilt spoilt = {0, {CAUSE_NONE, ""}};

    for (size_t i = 0; i < state->bag_count; i++) {
        const struct bag *bag = &state->bags[i];

        if (bag->cross == patient->want->cross && bag->season == patient->season &&
            (bag->lost_on != DAY_NONE || !bag->clean))
            spoil(patient, &spoilt, CAUSE_ISOLATION_LOST, bag);
    }
    for (size_t i = 0; i < all->count; i++)
        if (all->list[i].want == patient->want && all->list[i].phase == patient->phase &&
            is_past(&all->list[i]) && all->list[i].group->hangs->clean)
            spoil(patient, &spoilt, CAUSE_WINDOW_PAST, all->list[i].group->hangs);
    return spoilt;
}

static struct diagnosis why_no_place(const struct patient *patient)
{
    struct diagnosis none = {CAUSE_NONE, ""};
    size_t at = 0, grafts = 0;
    int places = 0;
    const char *parent = patient->want->cross->seed_parent->name;
    const struct graft_state *graft = NULL;
    const struct candidate *candidate;

    if (next_with_room(patient, &at) != NULL)
        return none;
    const struct spoilt spoilt = spoilt_of(patient);
    if (spoilt.count >= patient->want->left && spoilt.count > 0)
        return spoilt.first; /* but for these bags it would not be short */
    for (at = 0; (candidate = next_of(patient, &at)) != NULL;) {
        places += candidate->group->places;
        grafts += candidate->group->graft != graft; /* one graft's candidates follow each other */
        graft = candidate->group->graft;
    }
    if (grafts == 0)
        return (struct diagnosis){
            CAUSE_NO_GRAFT, arena_printf(patient->arena, "no live graft of %s may flower in %d",
                                         parent, patient->season)};
    const char *counted =
        arena_printf(patient->arena, "%zu graft%s", grafts, grafts == 1 ? "" : "s");
    if (places == 0)
        return (struct diagnosis){
            CAUSE_NO_STROBILI,
            arena_printf(patient->arena, "%s, none with strobili for a bag more", counted)};
    return (struct diagnosis){
        CAUSE_NO_STROBILI,
        places == 1
            ? arena_printf(patient->arena, "the only bag place on %s is taken", counted)
            : arena_printf(patient->arena, "all %d bag places on %s are taken", places, counted)};
}

/* Best lots of the patient's pollen parent, over both ways round. */
struct lots_seen {
    const struct lot_left *any, *usable, *live, *full;
};

static void see_lots(const struct patient *patient, const struct candidate *candidate,
                     struct lots_seen *seen)
{
    for (size_t i = 0; i < patient->orchard->lots.count; i++) {
        const struct lot_left *lot = &patient->chooser->supply->lots[i];

        if (!lot_is_pollen_of(&patient->orchard->lots.list[i], candidate->group))
            continue;
        seen->any = lot;
        if (lot->balance->usable)
            seen->usable = lot;
        if (lot->balance->usable && !lot->dead)
            seen->live = lot;
        if (lot->balance->usable && !lot->dead && lot->doses > 0)
            seen->full = lot;
    }
}

static struct diagnosis why_no_pollen(const struct patient *patient)
{
    struct lots_seen seen = {NULL, NULL, NULL, NULL};
    struct arena *arena = patient->arena;
    const struct cross *cross = patient->want->cross;
    const char *parent =
        cross->pollen_parent != NULL ? cross->pollen_parent->name : cross->mix->name;
    size_t at = 0;

    for (const struct candidate *candidate; (candidate = next_with_room(patient, &at)) != NULL;)
        see_lots(patient, candidate, &seen);
    if (seen.full != NULL)
        return (struct diagnosis){CAUSE_NONE, ""};
    if (seen.any == NULL)
        return (struct diagnosis){CAUSE_NO_LOT, arena_printf(arena, "no pollen lot of %s", parent)};
    if (seen.usable == NULL)
        return (struct diagnosis){CAUSE_NO_LOT, arena_printf(arena, "lot %s may not be used",
                                                             seen.any->balance->lot->name)};
    if (seen.live == NULL)
        return (struct diagnosis){CAUSE_LOT_DEAD,
                                  arena_printf(arena, "lot %s germinates %.4g %%",
                                               seen.usable->balance->lot->name,
                                               seen.usable->balance->germination_pct)};
    return (struct diagnosis){
        CAUSE_LOT_USED_UP,
        arena_printf(arena, "lot %s has no whole dose left", seen.live->balance->lot->name)};
}

static bool any_way(const struct patient *patient, enum fit_mode mode)
{
    struct ways ways = {
        .staff = patient->chooser->staff, .mode = mode, .as_of = patient->orchard->as_of};
    size_t at = 0;

    for (const struct candidate *candidate; (candidate = next_with_room(patient, &at)) != NULL;)
        if (choose(&ways, candidate).found)
            return true;
    return false;
}

/* The days of those that have room, each the best of all. */
struct days_seen {
    daynum last_clean, last_visit;
    bool visits_left; /* some day from as-of on is worth a visit */
    bool may_hang;    /* some bag could be hung clean and visited */
    bool comes_off;   /* of these some could be taken off safely */
};

static struct days_seen days_of(const struct patient *patient)
{
    struct days_seen seen = {.last_clean = DAY_NONE, .last_visit = DAY_NONE};
    size_t at = 0;

    for (const struct candidate *candidate; (candidate = next_with_room(patient, &at)) != NULL;) {
        const struct option_table *table = candidate->table;
        bool may_hang = candidate->group->hangs != NULL || table->best_fresh > 0;

        if (table->last_clean > seen.last_clean)
            seen.last_clean = table->last_clean;
        if (table->last_visit > seen.last_visit)
            seen.last_visit = table->last_visit;
        seen.visits_left = seen.visits_left || table->visit_days > 0;
        seen.may_hang = seen.may_hang || may_hang;
        seen.comes_off = seen.comes_off || (may_hang && table->first_safe != DAY_NONE);
    }
    return seen;
}

static struct diagnosis why_no_window(const struct patient *patient)
{
    const struct days_seen seen = days_of(patient);
    const struct spoilt spoilt = spoilt_of(patient);
    struct arena *arena = patient->arena;
    char day[DAY_TEXT];

    if (seen.may_hang && seen.comes_off)
        return (struct diagnosis){CAUSE_NO_LOT, "no lot is ready before the last receptive day"};
    if (seen.may_hang)
        return (struct diagnosis){CAUSE_WINDOW_PAST, "no day is known to be safe for unbagging"};
    if (spoilt.count > 0)
        return spoilt.first;
    if (seen.last_visit == DAY_NONE)
        return (struct diagnosis){CAUSE_WINDOW_PAST, "no receptive days are known"};
    if (seen.visits_left)
        return (struct diagnosis){CAUSE_ISOLATION_LOST,
                                  arena_printf(arena, "the last day to hang a clean bag was %s",
                                               day_text(seen.last_clean, day))};
    return (struct diagnosis){
        CAUSE_WINDOW_PAST,
        arena_printf(arena, "the last day for a visit was %s", day_text(seen.last_visit, day))};
}

static struct diagnosis why_no_crew(const struct patient *patient)
{
    size_t at = 0;
    const struct candidate *first = next_with_room(patient, &at);
    const char *site = first->group->site->name;

    if (!any_way(patient, FIT_WORKING_DAY))
        return (struct diagnosis){
            CAUSE_NO_WORKING_DAY,
            arena_printf(patient->arena, "no crew for this work at %s on the days it needs", site)};
    if (any_way(patient, FIT_WITHOUT_LIFT))
        return (struct diagnosis){
            CAUSE_LIFT_MINUTES,
            arena_printf(patient->arena, "crews have minutes left at %s, their lifts have not",
                         site)};
    return (struct diagnosis){CAUSE_CREW_MINUTES,
                              arena_printf(patient->arena,
                                           "crews have no minutes left at %s on the days it needs",
                                           site)};
}

struct diagnosis diagnose(const struct patient *patient)
{
    struct diagnosis diagnosis;

    if (patient->want->refused && !patient->promised)
        return why_refused(patient);
    diagnosis = why_no_place(patient);
    if (diagnosis.cause == CAUSE_NONE && !patient->promised)
        diagnosis = why_no_pollen(patient);
    if (diagnosis.cause == CAUSE_NONE && !any_way(patient, FIT_ANY_DAY))
        diagnosis = why_no_window(patient);
    return diagnosis.cause != CAUSE_NONE ? diagnosis : why_no_crew(patient);
}
