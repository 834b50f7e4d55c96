/*
 * worklist_take.c - what a crew takes along, how long its day is, what it has to mind.
 */
#include "planning/worklist_parts.h"

#include "planning/crews.h"
#include "planning/jobs.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SPARE_SHARE 0.05 /* of isolation bags; common practice, no source */

enum { WARM_FROM = 4, WARM_TO = 9, MONTHS_HALF = 6 }; /* April to September in the north */

static void add_material(struct work_page *page, struct material material)
{
    if (material.amount > 0)
        page->materials[page->material_count++] = material;
}

static int by_task(const void *a, const void *b)
{
    const struct task_kind *const *x = a, *const *y = b;

    return strcmp((*x)->task, (*y)->task);
}

static void fill_kinds(const struct list_maker *maker, struct work_page *page)
{
    const struct task_kind **kinds =
        ARENA_ARRAY(maker->arena, page->row_count, const struct task_kind *);
    size_t count = 0;

    for (size_t i = 0; i < page->row_count; i++) {
        const struct work_row *row = &page->rows[i];
        const struct task_kind *kind = row->instance != NULL
                                           ? row->instance->kind
                                           : job_kind(maker->orchard, job_of_task[row->task]);

        if (kind != NULL)
            kinds[count++] = kind;
    }
    if (count > 1)
        qsort(kinds, count, sizeof *kinds, by_task);
    page->kinds = kinds;
    for (size_t i = 0; i < count; i++)
        if (page->kind_count == 0 || kinds[page->kind_count - 1] != kinds[i])
            kinds[page->kind_count++] = kinds[i];
}

void fill_materials(const struct list_maker *maker, struct work_page *page)
{
    size_t lots = maker->orchard->lots.count;
    double *doses = ARENA_ARRAY(maker->arena, lots, double), hung = 0, off = 0;

    page->materials = ARENA_ARRAY(maker->arena, lots + 4, struct material);
    for (size_t i = 0; i < page->row_count; i++) {
        const struct work_row *row = &page->rows[i];

        if (row->bag == NULL)
            continue;
        if (row->task == TASK_BAG)
            hung++;
        else if (row->task == TASK_UNBAG)
            off++;
        else
            doses[row->bag->lot - maker->orchard->lots.list]++;
    }
    double with_spare = ceil(hung * (1.0 + SPARE_SHARE) - 1e-9);
    add_material(page, (struct material){.what = "isolation bags", .amount = with_spare});
    add_material(page, (struct material){.what = "ties", .amount = with_spare});
    add_material(page, (struct material){.what = "bag labels", .amount = with_spare});
    add_material(page, (struct material){.what = "branch labels", .amount = off});
    for (size_t l = 0; l < lots; l++) {
        const struct lot *lot = &maker->orchard->lots.list[l];

        add_material(page, (struct material){
                               .what = arena_printf(maker->arena, "pollen lot %s", lot->name),
                               .amount = doses[l] * maker->orchard->program.dose_ml,
                               .unit = "ml",
                               .kept_at = lot->kept_at,
                           });
    }
    fill_kinds(maker, page);
}

/* Set-up once for each place the crew comes to: not again in the afternoon where it stayed. */
void fill_minutes(const struct list_maker *maker, struct work_page *page, int64_t duty_minutes)
{
    const struct crew_day day = crew_whole_day_of(maker->orchard, page->crew, page->day);
    const struct site *there = NULL;

    page->minutes_given = 2 * day.half_minutes;
    page->lift_minutes = 2 * day.half_lift_minutes;
    page->minutes = duty_minutes;
    for (size_t i = 0; i < page->row_count; i++) {
        const struct work_row *row = &page->rows[i];

        if (row->bag == NULL)
            continue;
        if (row->bag->group->site != there)
            page->minutes += jobs_set_up(maker->orchard);
        there = row->bag->group->site;
        page->minutes += job_minutes(maker->orchard, job_of_task[row->task], row->bag->group->graft,
                                     row->bag->group->season_number);
    }
}

static bool needs_one_of(const struct task_kind *kind, const char *const *words)
{
    for (; kind->needs != NULL && *words != NULL; words++)
        if (strstr(kind->needs, *words) != NULL)
            return true;
    return false;
}

static bool is_warm(const struct list_maker *maker, const struct work_row *row, daynum day)
{
    int month = day_to_civil(day).month;

    if (!orchard_season_rule(maker->orchard, row->site).northern)
        month = (month + MONTHS_HALF - 1) % (2 * MONTHS_HALF) + 1;
    return month >= WARM_FROM && month <= WARM_TO;
}

static void see_instance(const struct list_maker *maker, struct hazards *hazards,
                         const struct work_row *row, daynum day)
{
    static const char *const blades[] = {"knife", "knives", "saw", "shears", "loppers", NULL};
    static const char *const wax[] = {"wax", NULL};
    static const char *const pollen[] = {"pollen", NULL};
    const struct task_kind *kind = row->instance->kind;

    hazards->other = true;
    hazards->crowns = hazards->crowns || kind->work == WORK_LIFT;
    hazards->blades = hazards->blades || needs_one_of(kind, blades);
    hazards->hot = hazards->hot || needs_one_of(kind, wax);
    hazards->pollen = hazards->pollen || needs_one_of(kind, pollen);
    hazards->warm = hazards->warm || is_warm(maker, row, day);
}

void fill_cautions(const struct list_maker *maker, struct work_page *page)
{
    struct hazards hazards = {.sprays = maker->sprayed};

    for (size_t i = 0; i < page->row_count; i++) {
        const struct work_row *row = &page->rows[i];

        if (row->bag == NULL) {
            see_instance(maker, &hazards, row, page->day);
            continue;
        }
        hazards.tasks[row->task] = true;
        if (job_work(maker->orchard, job_of_task[row->task]) == WORK_LIFT)
            hazards.crowns = true;
    }
    page->cautions = cautions_of(hazards, maker->arena);
}
