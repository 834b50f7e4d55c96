/*
 * firm_reasons.c - why a bag of an issued plan cannot be had on its days, the nearest reason first.
 */
#include "planning/crossing_parts.h"

#include "orchard/words.h"

#include <string.h>

/* Is it a name of this graft in the season: TAG-YY-N? */
static bool names(const char *name, const char *tag, int season)
{
    const size_t length = strlen(tag);

    return strncmp(name, tag, length) == 0 && name[length] == '-' &&
           name[length + 1] == (char)('0' + season % 100 / 10) &&
           name[length + 2] == (char)('0' + season % 10) && name[length + 3] == '-' &&
           strchr(name + length + 4, '-') == NULL;
}

static const char *cross_of(const struct issued_bag *bag)
{
    for (int task = 0; task < BAG_TASKS; task++)
        if (bag->visits[task] != NULL)
            return bag->visits[task]->cross;
    return "";
}

struct candidate *firm_candidate(const struct chooser *chooser, const struct issued_bag *bag)
{
    const struct candidates *all = &chooser->candidates;
    const bool noted = state_bag(chooser->inputs->state, bag->name) != NULL;

    for (size_t i = 0; i < all->count; i++) {
        const struct group *group = all->list[i].group;

        if (all->list[i].phase != 0 || (group->hangs != NULL) != noted)
            continue;
        if (noted ? strcmp(group->hangs->name, bag->name) == 0
                  : names(bag->name, group->graft->graft->tag, group->season) &&
                        strcmp(group->cross->name, cross_of(bag)) == 0)
            return &all->list[i];
    }
    return NULL;
}

/* The graft is known by the longest tag that the name begins with. */
static const struct graft_state *graft_of(const struct state *state, const struct issued_bag *bag)
{
    const struct graft_state *best = NULL;

    for (size_t i = 0; i < state->orchard->grafts.count; i++) {
        const char *tag = state->grafts[i].graft->tag;
        const size_t length = strlen(tag);

        if (strncmp(bag->name, tag, length) == 0 && bag->name[length] == '-' &&
            (best == NULL || length > strlen(best->graft->tag)))
            best = &state->grafts[i];
    }
    return best;
}

static const char *no_bag(const struct chooser *chooser, const struct issued_bag *bag)
{
    const struct state *state = chooser->inputs->state;
    const struct bag *noted = state_bag(state, bag->name);
    const struct graft_state *graft = graft_of(state, bag);

    if (noted != NULL && noted->lost_on != DAY_NONE)
        return "note: the bag was lost";
    if (noted != NULL && noted->unbagged_on != DAY_NONE)
        return "note: the bag is off";
    if (graft != NULL && condition_is_gone(graft->condition))
        return "graft dead";
    if (graft != NULL && graft->relabelled)
        return "graft relabelled";
    for (size_t c = 0; c < state->orchard->crosses.count; c++)
        if (strcmp(state->orchard->crosses.list[c].name, cross_of(bag)) == 0 &&
            state->orchard->crosses.list[c].state == CROSS_WANTED)
            return chooser->supply->wants[c].bags > 0 ? "no strobili for it"
                                                      : "no more bags wanted";
    return "cross no longer wanted";
}

static const char *no_pollen(const struct chooser *chooser, const struct candidate *candidate)
{
    const struct orchard *orchard = chooser->inputs->state->orchard;
    const char *reason = "lot gone";

    for (size_t l = 0; l < candidate->lot_count; l++)
        if (candidate->lots[l]->doses > 0)
            return NULL;
    if (candidate->lot_count > 0)
        return "lot used up";
    for (size_t l = 0; l < orchard->lots.count; l++)
        if (lot_is_pollen_of(&orchard->lots.list[l], candidate->group) &&
            chooser->supply->lots[l].dead)
            reason = "lot dead";
    return reason;
}

/* A day of the bag for which its crew has no lift, or is away. */
static const char *no_crew(const struct chooser *chooser, const struct candidate *candidate,
                           const struct issued_bag *bag)
{
    const struct orchard *orchard = chooser->inputs->state->orchard;
    const char *reason = "crew";

    for (int task = BAG_TASKS - 1; task >= 0; task--) {
        const struct planned_task *own = &bag->tasks[task];

        if (own->crew == NULL || own->day == DAY_NONE || own->day < orchard->as_of)
            continue;
        const struct crew_day day = crew_day_of(orchard, own->crew, own->day);
        if (day.time == NULL)
            reason = "crew away";
        else if (candidate->work[job_of_task[task]] == WORK_LIFT &&
                 crew_half_minutes(&day, candidate->group->site, WORK_LIFT) == 0)
            reason = "lift down";
    }
    return reason;
}

struct choice firm_choice(const struct chooser *chooser, const struct candidate *candidate,
                          const struct option *days, enum fit_mode mode)
{
    const struct ways ways = {.staff = chooser->staff,
                              .mode = mode,
                              .as_of = chooser->inputs->state->orchard->as_of,
                              .fixed = days};

    return choose(&ways, candidate);
}

static bool fits(const struct chooser *chooser, const struct candidate *candidate,
                 const struct option *days, enum fit_mode mode)
{
    return firm_choice(chooser, candidate, days, mode).found;
}

const char *firm_obstacle(const struct chooser *chooser, const struct issued_bag *bag,
                          const struct option *days, enum fit_mode mode)
{
    const struct candidate *candidate = bag->candidate;
    const daynum as_of = chooser->inputs->state->orchard->as_of;
    const struct planned_task *hung = &bag->tasks[TASK_BAG];

    if (candidate == NULL)
        return no_bag(chooser, bag);
    if (candidate->group->hangs == NULL && (hung->day == DAY_NONE || hung->day < as_of))
        return "note: the bag was not hung";
    const bool needs_pollen = candidate->group->stage != BAG_VISITED &&
                              days->visit[1] != DAY_NEVER && !is_past(candidate);
    const char *pollen = needs_pollen ? no_pollen(chooser, candidate) : NULL;
    if (pollen != NULL && candidate->group->stage != BAG_VISITED_ONCE)
        return pollen;
    if (mode == FIT_CREW && is_wanted(candidate) && candidate->want->left <= 0)
        return "no more bags wanted";
    if (mode == FIT_CREW && candidate->group->hangs == NULL && candidate->carrier->left <= 0)
        return "no strobili for it";
    if (!fits(chooser, candidate, days, FIT_ANY_DAY))
        return "weather: its days have moved";
    if (!fits(chooser, candidate, days, FIT_WORKING_DAY))
        return no_crew(chooser, candidate, bag);
    if (mode == FIT_CREW && !fits(chooser, candidate, days, FIT_CREW))
        return fits(chooser, candidate, days, FIT_WITHOUT_LIFT) ? "lift minutes" : "crew minutes";
    return NULL;
}
