#include "writing/head.h"
#include "writing/visit.h"
#include "writing/words.h"

#include <math.h>

enum {
    HEADING,
    DATE,
    TASK,
    CREW,
    LIFT,
    HALF_DAY,
    SITE,
    TREE,
    CROWN,
    TAG,
    FLAG,
    BAG,
    CROSS,
    SEED_PARENT,
    POLLEN_PARENT,
    POLLEN_LOT,
    DOSE,
    CHANCE,
    LATEST_TEXT,
    LATEST,
    SEEDS,
    BASIS,
    SEASONS_SEEN,
    SEASON,
    SEASON_NUMBER,
    STATE,
    AS_OF,
    COLUMNS
};
static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [DATE] = {"date", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [TASK] = {"task", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CREW] = {"crew", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [LIFT] = {"lift", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [HALF_DAY] = {"half_day", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CROWN] = {"crown", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [FLAG] = {"flag", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BAG] = {"bag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CROSS] = {"cross", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SEED_PARENT] = {"seed_parent", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [POLLEN_PARENT] = {"pollen_parent", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [POLLEN_LOT] = {"pollen_lot", "lot", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [DOSE] = {"dose_ml", "dose [ml]", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [CHANCE] = {"chance", NULL, CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [LATEST_TEXT] = {"latest_safe", "latest safe", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [LATEST] = {"latest_safe", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [SEEDS] = {"seeds_expected", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [BASIS] = {"basis", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SEASONS_SEEN] = {"seasons_seen", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SEASON_NUMBER] = {"season_number", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [STATE] = {"state", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [AS_OF] = {"as_of", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
};

/* "Tue 2 Mar 2027, Holm"; "Fri 3 Mar 2028, Holm, pencilled". */
static const char *heading(struct arena *arena, daynum day, const struct planned_bag *bag)
{
    const struct site *site = bag->group->site;
    struct text words;
    text_init(&words, arena);
    words_add_day(&words, day);
    text_addf(&words, ", %s%s", site ? site->name : "-", bag->pencilled ? ", pencilled" : "");
    return words.bytes;
}

static void set_facts(union cell *cells, const struct visit_facts *facts, struct arena *arena)
{
    cells[SITE].text = facts->site;
    cells[TREE].text = facts->tree;
    cells[CROWN].text = facts->crown;
    cells[TAG].text = facts->tag;
    cells[FLAG].text = facts->flag;
    cells[BAG].text = facts->bag;
    cells[CROSS].text = facts->cross;
    cells[SEED_PARENT].text = facts->seed_parent;
    cells[POLLEN_PARENT].text = facts->pollen_parent;
    cells[POLLEN_LOT].text = facts->lot;
    cells[DOSE].number = facts->dose_ml;
    cells[CHANCE].number = facts->chance;
    cells[LATEST_TEXT].text = words_day_short(arena, facts->latest);
    cells[LATEST].day = facts->latest;
    cells[STATE].text = facts->state;
}

static void set_visit(union cell *cells, const struct visit *visit, const struct page_run *run)
{
    const struct planned_bag *bag = visit->bag;
    const struct planned_task *task = &bag->tasks[visit->task];
    const struct bloom *bloom = bag->group->bloom;
    struct visit_facts facts = visit_facts_of(run->orchard, bag, visit->task);

    set_facts(cells, &facts, run->arena);
    cells[HEADING].text = heading(run->arena, task->day, bag);
    cells[DATE].day = task->day;
    cells[AS_OF].day = run->as_of;
    cells[TASK].text = bag_task_words[visit->task];
    cells[CREW].text = task->crew;
    cells[LIFT].text = task->lift;
    if (task->crew)
        cells[HALF_DAY].text = task->half_day ? "afternoon" : "morning";
    cells[SEEDS].number = bag->seeds_expected;
    if (bloom) {
        cells[BASIS].text = basis_names[bloom->basis];
        if (bloom->seasons_seen >= 0)
            cells[SEASONS_SEEN].number = bloom->seasons_seen;
    }
    cells[SEASON].number = bag->group->season;
    cells[SEASON_NUMBER].number = bag->group->season_number;
}

/* What one season has of bags, and of visits from as-of on. */
struct season_sum {
    int season;
    bool pencilled;
    size_t bags, visits[BAG_TASKS];
};

struct season_sums {
    struct arena *arena;
    struct season_sum *list;
    size_t count, capacity;
};

static struct season_sum *sum_of(struct season_sums *sums, const struct planned_bag *bag)
{
    for (size_t i = 0; i < sums->count; i++)
        if (sums->list[i].season == bag->group->season)
            return &sums->list[i];
    struct season_sum *added = ARENA_PUSH(sums->arena, sums->list, sums->count, sums->capacity);
    *added = (struct season_sum){.season = bag->group->season, .pencilled = bag->pencilled};
    return added;
}

/* "2027: 131 bags planned; visits: bag 131, pollinate 131, pollinate again 95, unbag 131". */
static void add_sum(const struct season_sum *sum, struct text *foot)
{
    size_t told = 0;
    text_addf(foot, "%d: ", sum->season);
    words_add_count(foot, sum->bags, "bag", "bags");
    text_add(foot, sum->pencilled ? " pencilled; visits: " : " planned; visits: ");
    for (int task = 0; task < BAG_TASKS; task++)
        if (sum->visits[task])
            text_addf(foot, "%s%s %zu", told++ ? ", " : "", bag_task_words[task],
                      sum->visits[task]);
    text_add(foot, told ? "\n" : "none\n");
}

static void add_sums(const struct crossing_plan *plan, const struct visits *visits,
                     struct text *foot)
{
    struct season_sums sums = {.arena = foot->arena};
    for (size_t i = 0; i < plan->bag_count; i++) /* sorted by season */
        sum_of(&sums, &plan->bags[i])->bags++;
    for (size_t i = 0; i < visits->count; i++)
        sum_of(&sums, visits->list[i].bag)->visits[visits->list[i].task]++;
    for (size_t i = 0; i < sums.count; i++)
        add_sum(&sums.list[i], foot);
}

static void add_foot(const struct crossing_plan *plan, struct text *foot)
{
    int64_t bags_short = 0;
    for (size_t i = 0; i < plan->shortfall_count; i++)
        bags_short += plan->shortfalls[i].bags_short;
    if (bags_short)
        text_addf(foot, "%lld %s could not be planned: the shortfalls tell why\n",
                  (long long)bags_short, bags_short == 1 ? "bag" : "bags");
    for (size_t i = 0; i < plan->warning_count; i++) {
        text_add(foot, "caution: cross ");
        text_add_printable(foot, plan->warnings[i].cross->name);
        text_addf(foot, " is between relatives, coancestry %.4f\n", plan->warnings[i].coancestry);
    }
    text_add(foot, "chance: bag clean; receptive on the day; safe to unbag.  pencilled: a later "
                   "season, no crew yet\n");
}

/* "Value of 2027: 1,234.5, at most 1,240.1 with crews at these places (gap 0.5 %) ..." */
static void add_value(const struct crossing_plan *plan, struct sheet *sheet)
{
    const struct bounds *season = &plan->season;
    if (!(season->bound > 0))
        return;
    const double here = 100 * (1 - season->value / season->bound);
    const double anywhere = 100 * (1 - season->value / season->bound_free);
    text_addf(
        &sheet->head,
        "Value %.1f (filled seed expected, by priority); no plan is worth more than %.1f with "
        "crews at these places (gap %.1f %%), or %.1f wherever crews stand (gap %.1f %%)\n",
        season->value, season->bound, here > 0 ? here : 0, season->bound_free,
        anywhere > 0 ? anywhere : 0);
    sheet_add_fact(sheet, "value", season->value);
    sheet_add_fact(sheet, "bound", season->bound);
    sheet_add_fact(sheet, "bound_crews_anywhere", season->bound_free);
}

/* "Visits to 12 Mar of the plan of 2 Mar stand where they can: ..." */
static void add_firmness(const struct crossing_plan *plan, const struct page_run *run,
                         struct sheet *sheet)
{
    const double price = plan->free_value - plan->season.value;

    if (plan->issued == NULL)
        return;
    text_add(&sheet->head, "Firm: visits to ");
    words_add_day(&sheet->head, plan->as_of + run->orchard->program.firm_days);
    if (plan->issued->count > 0) {
        text_add(&sheet->head, " of the plan as of ");
        words_add_day(&sheet->head, plan->issued->list[0].as_of);
    }
    text_addf(&sheet->head,
              " stand where they can; value %.1f, at most %.1f with these, price of firmness %.1f "
              "(a free plan is worth %.1f); %zu visits moved\n",
              plan->season.value, plan->season.bound, price > 0 ? price : 0, plan->free_value,
              plan->move_count);
    sheet_add_fact(sheet, "free_value", plan->free_value);
    sheet_add_fact(sheet, "price_of_firmness", price > 0 ? price : 0);
}

struct sheet crossing_sheet(const struct crossing_plan *plan, const struct page_run *run)
{
    struct sheet sheet;
    struct head head;
    struct visits visits = crossing_visits(plan, run->arena);
    sheet_init(&sheet, run->arena, "conetide crossing 1", COLUMNS, columns);
    head_init(&head, run);
    for (size_t i = 0; i < visits.count; i++) {
        const struct group *group = visits.list[i].bag->group;
        set_visit(sheet_row(&sheet), &visits.list[i], run);
        head_see(&head, group->site, group->season, group->bloom);
    }
    head_write(&head, "Crossing plan", &sheet.head);
    add_value(plan, &sheet);
    add_firmness(plan, run, &sheet);
    add_sums(plan, &visits, &sheet.foot);
    add_foot(plan, &sheet.foot);
    return sheet;
}
