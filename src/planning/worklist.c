/*
 * worklist.c - the rows of some days by crew, numbered, with what to take along.
 */
#include "planning/worklist.h"

#include "base/check_character.h"
#include "planning/crews.h"
#include "planning/jobs.h"
#include "planning/walk.h"
#include "planning/worklist_words.h"

#include <math.h>
#include <string.h>

#define SPARE_SHARE 0.05 /* of isolation bags; common practice, no source */
#define SHORT_SERIALS 99 /* rows of a crew's day that have a serial of three digits */

struct maker {
    const struct orchard *orchard;
    const struct crossing_plan *plan;
    struct arena *arena;
    const char *const *crews;
    size_t crew_count;
    struct hazards hazards;
};

/* Could the crew hang it on a later day and still be safe?  Minutes are not asked. */
static bool has_later_day(const struct maker *maker, const struct planned_bag *bag)
{
    const struct planned_task *task = &bag->tasks[TASK_BAG];

    for (daynum day = task->day + 1; day <= bag->latest[TASK_BAG]; day++) {
        const struct crew_day crew = crew_day_of(maker->orchard, task->crew, day);
        enum work work = job_work(maker->orchard, JOB_BAG);

        if (day < bag->option.visit[0] && crew_half_minutes(&crew, bag->group->site, work) > 0)
            return true;
    }
    return false;
}

static enum remark remark_of(const struct maker *maker, const struct work_row *row)
{
    const struct bag *hangs = row->bag->group->hangs;

    if (hangs == NULL)
        return row->task == TASK_BAG && !has_later_day(maker, row->bag) ? REMARK_NO_LATER_DAY
                                                                        : REMARK_NONE;
    if (row->bag->option.visit[0] == DAY_NONE)
        return REMARK_NEVER_POLLINATED;
    return hangs->clean ? REMARK_NONE : REMARK_NOT_CLEAN;
}

/* A, B, ... Z, AA, AB, ... */
static const char *letters_of(const struct maker *maker, const char *crew)
{
    size_t number = 0;

    while (number < maker->crew_count && strcmp(maker->crews[number], crew) != 0)
        number++;
    if (number < 26)
        return arena_printf(maker->arena, "%c", (int)('A' + number));
    return arena_printf(maker->arena, "%c%c", (int)('A' + number / 26 - 1),
                        (int)('A' + number % 26));
}

/*
 * Codes to type back: week, crew, and a serial that begins with the day of the week, so that a page
 * printed anew on Wednesday takes no code that was Monday's.
 */
static void number_rows(const struct maker *maker, struct work_page *page)
{
    const char *crew = letters_of(maker, page->crew);
    int weekday = day_weekday(page->day), number = 0;
    char week[DAY_WEEK_TEXT];

    day_week_text(page->day, week);
    for (size_t i = 0; i < page->row_count; i++) {
        char check = '*';
        char *code = NULL;

        while (check == '*' || check == 'I' || check == 'O') {
            number++;
            code = arena_printf(maker->arena, "%s-%s-%d", week, crew,
                                weekday * (number <= SHORT_SERIALS ? 100 : 1000) + number);
            check = check_character(code);
        }
        page->rows[i].entry = arena_printf(maker->arena, "%s%c", code, check);
        page->rows[i].decide = decide_words[page->rows[i].task];
        page->rows[i].brief = decide_briefly[remark_of(maker, &page->rows[i])][page->rows[i].task];
    }
}

static void add_material(struct work_page *page, struct material material)
{
    if (material.amount > 0)
        page->materials[page->material_count++] = material;
}

static void fill_materials(const struct maker *maker, struct work_page *page)
{
    size_t lots = maker->orchard->lots.count;
    double *doses = ARENA_ARRAY(maker->arena, lots, double), hung = 0, off = 0;

    page->materials = ARENA_ARRAY(maker->arena, lots + 4, struct material);
    for (size_t i = 0; i < page->row_count; i++) {
        const struct work_row *row = &page->rows[i];

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
}

/* Set-up once for each place the crew comes to: not again in the afternoon where it stayed. */
static void fill_minutes(const struct maker *maker, struct work_page *page)
{
    const struct crew_day day = crew_day_of(maker->orchard, page->crew, page->day);
    const struct site *there = NULL;

    page->minutes_given = 2 * day.half_minutes;
    page->lift_minutes = 2 * day.half_lift_minutes;
    for (size_t i = 0; i < page->row_count; i++) {
        const struct work_row *row = &page->rows[i];

        if (row->bag->group->site != there)
            page->minutes += jobs_set_up(maker->orchard);
        there = row->bag->group->site;
        page->minutes += job_minutes(maker->orchard, job_of_task[row->task], row->bag->group->graft,
                                     row->bag->group->season_number);
    }
}

static bool sprayed_lately(const struct maker *maker)
{
    for (size_t i = 0; i < maker->orchard->notes.count; i++) {
        const struct note *note = &maker->orchard->notes.list[i];

        if (note->kind == NOTE_SPRAYED && maker->plan->as_of - note->date <= 90)
            return true;
    }
    return false;
}

static void see_hazards(struct maker *maker, const struct work_page *page)
{
    for (size_t i = 0; i < page->row_count; i++) {
        maker->hazards.tasks[page->rows[i].task] = true;
        if (job_work(maker->orchard, job_of_task[page->rows[i].task]) == WORK_LIFT)
            maker->hazards.crowns = true;
    }
}

/* What crews do within the days, in walking order. */
static struct visits walk_of(const struct maker *maker, daynum first_day, daynum last_day)
{
    struct visits visits = crossing_visits(maker->plan, maker->arena);
    size_t count = 0;

    for (size_t i = 0; i < visits.count; i++) {
        const struct visit *visit = &visits.list[i];
        const struct planned_task *task = &visit->bag->tasks[visit->task];

        if (task->crew != NULL && task->day >= first_day && task->day <= last_day)
            visits.list[count++] = *visit;
    }
    visits.count = count;
    walk_visits(visits, maker->orchard, maker->arena);
    return visits;
}

/* One crew's day. */
static struct work_page page_of(struct maker *maker, const struct visit *visits, size_t count)
{
    const struct planned_task *task = &visits->bag->tasks[visits->task];
    struct work_page page = {
        .day = task->day,
        .crew = task->crew,
        .lift = task->lift,
        .rows = ARENA_ARRAY(maker->arena, count, struct work_row),
        .row_count = count,
    };

    for (size_t i = 0; i < count; i++)
        page.rows[i] = (struct work_row){.bag = visits[i].bag, .task = visits[i].task};
    number_rows(maker, &page);
    fill_materials(maker, &page);
    fill_minutes(maker, &page);
    see_hazards(maker, &page);
    return page;
}

struct worklist worklist_of(const struct crossing_plan *plan, const struct crossing_inputs *inputs,
                            daynum first_day, daynum last_day)
{
    struct maker maker = {.orchard = inputs->state->orchard, .plan = plan, .arena = inputs->arena};
    struct worklist list = {.first_day = first_day, .last_day = last_day};
    const struct visits walk = walk_of(&maker, first_day, last_day);

    maker.crew_count = crew_names(maker.orchard, maker.arena, &maker.crews);
    maker.hazards.sprays = sprayed_lately(&maker);
    list.pages = ARENA_ARRAY(maker.arena, walk.count, struct work_page);
    for (size_t first = 0, end; first < walk.count; first = end) {
        for (end = first + 1;
             end < walk.count && walk_is_of_one_day(&walk.list[first], &walk.list[end]);)
            end++;
        list.pages[list.page_count++] = page_of(&maker, &walk.list[first], end - first);
    }
    list.cautions = cautions_of(maker.hazards, maker.arena);
    return list;
}
