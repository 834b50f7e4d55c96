/*
 * shortfalls.c - what could not be planned.
 */
#include "planning/crossing_parts.h"

#include <stdlib.h>
#include <string.h>

/* The season of a phase: of the cross's grafts where it has any, else of the first site. */
static int season_of(const struct chooser *chooser, const struct want *want, int phase)
{
    const struct orchard *orchard = chooser->inputs->state->orchard;

    for (size_t i = 0; i < chooser->candidates.count; i++)
        if (chooser->candidates.list[i].want == want)
            return chooser->candidates.list[i].group->season - chooser->candidates.list[i].phase +
                   phase;
    if (orchard->sites.count == 0)
        return day_year(orchard->as_of) + phase;
    struct season_rule rule = orchard_season_rule(orchard, &orchard->sites.list[0]);
    return day_season(rule, orchard->as_of) + phase;
}

static int by_season_and_priority(const void *a, const void *b)
{
    const struct shortfall *x = a, *y = b;
    int order = x->season - y->season;

    if (order == 0)
        order = x->cross->priority - y->cross->priority;
    if (order == 0)
        order = strcmp(x->cross->name, y->cross->name);
    /* One cross has at most two: of bags wanted, and of bags that must come off. */
    return order != 0 ? order : strcmp(x->detail, y->detail);
}

static void add(struct crossing_plan *plan, size_t *capacity, const struct patient *patient,
                const int64_t bags[2], struct diagnosis why)
{
    *ARENA_PUSH(patient->arena, plan->shortfalls, plan->shortfall_count, *capacity) =
        (struct shortfall){
            .cross = patient->want->cross,
            .season = patient->season,
            .bags_wanted = bags[0],
            .bags_planned = bags[1],
            .bags_short = bags[0] - bags[1],
            .cause = why.cause,
            .detail = why.detail,
        };
}

/* Bags that must come off and that nobody takes off. */
static void add_promises(struct crossing_plan *plan, size_t *capacity, struct patient patient)
{
    int64_t bags[2] = {0, 0};
    const struct bag *first = NULL;
    size_t at = 0;

    patient.promised = true;
    for (const struct candidate *candidate; (candidate = next_of(&patient, &at)) != NULL;) {
        bags[0]++;
        bags[1] += candidate->planned;
        if (candidate->planned == 0 && first == NULL)
            first = candidate->group->hangs;
    }
    if (first == NULL)
        return;
    struct diagnosis why = diagnose(&patient);
    why.detail =
        arena_printf(patient.arena, "bag %s %s and cannot be taken off: %s", first->name,
                     first->visits > 0 ? "is pollinated" : "hangs unpollinated", why.detail);
    add(plan, capacity, &patient, bags, why);
}

static void add_wanted(struct crossing_plan *plan, size_t *capacity, const struct patient *patient)
{
    const struct want *want = patient->want;
    int64_t bags[2] = {want->at_start, want->at_start - want->left};
    int due = want->cross->season;
    bool is_due =
        due == 0 || due == patient->season || (due < patient->season && patient->phase == 0);
    bool told = patient->phase == 1 && due == 0 && (want->refused || want->impossible);

    if (!is_due || told)
        return;
    if (want->impossible)
        add(plan, capacity, patient, bags,
            (struct diagnosis){CAUSE_NO_STROBILI, "a rate of 0: no number of bags is enough"});
    else if (want->left > 0 && due != 0 && due < patient->season)
        add(plan, capacity, patient, bags,
            (struct diagnosis){CAUSE_WINDOW_PAST,
                               arena_printf(patient->arena, "its season %d is past", due)});
    else if (want->left > 0)
        add(plan, capacity, patient, bags, diagnose(patient));
}

static struct patient patient_of(const struct chooser *chooser, size_t cross, int phase)
{
    const struct want *want = &chooser->supply->wants[cross];

    return (struct patient){
        .chooser = chooser,
        .orchard = chooser->inputs->state->orchard,
        .arena = chooser->inputs->arena,
        .want = want,
        .phase = phase,
        .season = season_of(chooser, want, phase),
    };
}

void shortfalls_of(const struct chooser *chooser, int phase, struct crossing_plan *plan)
{
    size_t capacity = plan->shortfall_count;

    for (size_t c = 0; c < chooser->inputs->state->orchard->crosses.count; c++) {
        struct patient patient = patient_of(chooser, c, phase);

        add_wanted(plan, &capacity, &patient);
    }
}

void broken_promises_of(const struct chooser *chooser, struct crossing_plan *plan)
{
    size_t capacity = plan->shortfall_count;

    for (size_t c = 0; c < chooser->inputs->state->orchard->crosses.count; c++)
        add_promises(plan, &capacity, patient_of(chooser, c, 0));
    if (plan->shortfall_count > 1)
        qsort(plan->shortfalls, plan->shortfall_count, sizeof *plan->shortfalls,
              by_season_and_priority);
}
