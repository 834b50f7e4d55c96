/*
 * worklist.c - the rows of some days by crew, numbered and in the order in which they are walked.
 */
#include "planning/worklist.h"

#include "base/check_character.h"
#include "planning/crews.h"
#include "planning/jobs.h"
#include "planning/worklist_words.h"

#include <math.h>
#include <stdlib.h>
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

static const struct planned_task *task_of(const struct work_row *row)
{
    return &row->bag->tasks[row->task];
}

static const struct tree *tree_of(const struct work_row *row)
{
    return row->bag->group->graft->graft->tree;
}

static int compare_text(const char *a, const char *b)
{
    return a != NULL && b != NULL ? strcmp(a, b) : (a != NULL) - (b != NULL);
}

/* Half-day, site, block and row: what is walked one after the other whatever the direction. */
static int compare_rows_of_trees(const struct work_row *x, const struct work_row *y)
{
    const struct tree *s = tree_of(x), *t = tree_of(y);
    int order = task_of(x)->half_day - task_of(y)->half_day;

    if (order == 0)
        order = strcmp(x->bag->group->site->name, y->bag->group->site->name);
    if (order == 0)
        order = compare_text(s->block, t->block);
    return order != 0 ? order : s->row - t->row;
}

static int compare_on_a_tree(const struct work_row *x, const struct work_row *y)
{
    int order = (int)x->task - (int)y->task;

    return order != 0 ? order : strcmp(x->bag->name, y->bag->name);
}

static int by_page_and_walk(const void *a, const void *b)
{
    const struct work_row *x = a, *y = b;
    int order = (task_of(x)->day > task_of(y)->day) - (task_of(x)->day < task_of(y)->day);

    if (order == 0)
        order = strcmp(task_of(x)->crew, task_of(y)->crew);
    if (order == 0)
        order = compare_rows_of_trees(x, y);
    if (order == 0)
        order = tree_of(x)->position - tree_of(y)->position;
    if (order == 0)
        order = strcmp(tree_of(x)->name, tree_of(y)->name);
    return order != 0 ? order : compare_on_a_tree(x, y);
}

/* Turn the trees of rows [first, end) round, keeping the order on each tree. */
static void walk_back(struct work_row *rows, size_t count, struct arena *arena)
{
    struct work_row *turned = ARENA_ARRAY(arena, count, struct work_row);
    size_t at = 0;

    for (size_t end = count, first; end > 0; end = first) {
        for (first = end - 1; first > 0 && tree_of(&rows[first - 1]) == tree_of(&rows[end - 1]);)
            first--;
        for (size_t i = first; i < end; i++)
            turned[at++] = rows[i];
    }
    memcpy(rows, turned, count * sizeof *rows);
}

/* Every second row of trees on a page is walked back; trees without a row are not turned. */
static void turn_rows(struct work_page *page, struct arena *arena)
{
    bool back = false;

    for (size_t first = 0, end; first < page->row_count; first = end) {
        for (end = first + 1; end < page->row_count &&
                              compare_rows_of_trees(&page->rows[first], &page->rows[end]) == 0;)
            end++;
        if (tree_of(&page->rows[first])->row < 0)
            continue;
        if (back)
            walk_back(&page->rows[first], end - first, arena);
        back = !back;
    }
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
        page->rows[i].brief = decide_briefly[page->rows[i].task];
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

static void fill_page(struct maker *maker, struct work_page *page)
{
    turn_rows(page, maker->arena);
    number_rows(maker, page);
    fill_materials(maker, page);
    fill_minutes(maker, page);
    see_hazards(maker, page);
}

static bool same_page(const struct work_row *a, const struct work_row *b)
{
    return task_of(a)->day == task_of(b)->day && strcmp(task_of(a)->crew, task_of(b)->crew) == 0;
}

/* Rows of crews' work within the days, in walking order but for rows walked back. */
static size_t rows_of(const struct maker *maker, daynum first_day, daynum last_day,
                      struct work_row **rows)
{
    const struct visits visits = crossing_visits(maker->plan, maker->arena);
    size_t count = 0;

    *rows = ARENA_ARRAY(maker->arena, visits.count, struct work_row);
    for (size_t i = 0; i < visits.count; i++) {
        struct work_row row = {.bag = visits.list[i].bag, .task = visits.list[i].task};

        if (task_of(&row)->crew != NULL && task_of(&row)->day >= first_day &&
            task_of(&row)->day <= last_day)
            (*rows)[count++] = row;
    }
    if (count > 1)
        qsort(*rows, count, sizeof **rows, by_page_and_walk);
    return count;
}

struct worklist worklist_of(const struct crossing_plan *plan, const struct crossing_inputs *inputs,
                            daynum first_day, daynum last_day)
{
    struct maker maker = {.orchard = inputs->state->orchard, .plan = plan, .arena = inputs->arena};
    struct worklist list = {.first_day = first_day, .last_day = last_day};
    struct work_row *rows;
    size_t count = rows_of(&maker, first_day, last_day, &rows);

    maker.crew_count = crew_names(maker.orchard, maker.arena, &maker.crews);
    maker.hazards.sprays = sprayed_lately(&maker);
    list.pages = ARENA_ARRAY(maker.arena, count, struct work_page);
    for (size_t first = 0, end; first < count; first = end) {
        struct work_page *page = &list.pages[list.page_count++];

        for (end = first + 1; end < count && same_page(&rows[first], &rows[end]);)
            end++;
        *page = (struct work_page){
            .day = task_of(&rows[first])->day,
            .crew = task_of(&rows[first])->crew,
            .lift = task_of(&rows[first])->lift,
            .rows = &rows[first],
            .row_count = end - first,
        };
        fill_page(&maker, page);
    }
    list.cautions = cautions_of(maker.hazards, maker.arena);
    return list;
}
