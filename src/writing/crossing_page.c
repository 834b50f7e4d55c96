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
    STATE_TEXT,
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
    [DOSE] = {"dose_ml", NULL, CELL_NUMBER, 2, COLUMN_DATA_ONLY},
    [CHANCE] = {"chance", NULL, CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [LATEST_TEXT] = {"latest_safe", "latest safe", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [LATEST] = {"latest_safe", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [SEEDS] = {"seeds_expected", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [BASIS] = {"basis", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SEASONS_SEEN] = {"seasons_seen", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SEASON_NUMBER] = {"season_number", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [STATE] = {"state", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [STATE_TEXT] = {"state", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
};

/* "Tue 2 Mar 2027, HOLM". */
static const char *day_and_site(struct arena *arena, daynum day, const struct site *site)
{
    struct text words;
    text_init(&words, arena);
    words_add_day(&words, day);
    text_addf(&words, ", %s", site ? site->name : "-");
    return words.bytes;
}

static const char *short_day(struct arena *arena, daynum day)
{
    struct text words;
    if (day == DAY_NONE)
        return NULL;
    text_init(&words, arena);
    words_add_day_short(&words, day);
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
    cells[LATEST_TEXT].text = short_day(arena, facts->latest);
    cells[LATEST].day = facts->latest;
    cells[STATE].text = cells[STATE_TEXT].text = facts->state;
}

static void set_visit(union cell *cells, const struct visit *visit, const struct page_run *run)
{
    const struct planned_bag *bag = visit->bag;
    const struct planned_task *task = &bag->tasks[visit->task];
    const struct bloom *bloom = bag->group->flowering ? bag->group->flowering->bloom : NULL;
    struct visit_facts facts = visit_facts_of(run->orchard, bag, visit->task);

    set_facts(cells, &facts, run->arena);
    cells[HEADING].text = day_and_site(run->arena, task->day, bag->group->site);
    cells[DATE].day = task->day;
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

static void add_foot(const struct crossing_plan *plan, struct text *foot)
{
    int64_t bags_short = 0;
    for (size_t i = 0; i < plan->shortfall_count; i++)
        bags_short += plan->shortfalls[i].bags_short;
    if (bags_short)
        text_addf(foot, "%lld bags could not be planned: the shortfalls tell why\n",
                  (long long)bags_short);
    for (size_t i = 0; i < plan->warning_count; i++) {
        text_add(foot, "caution: cross ");
        text_add_printable(foot, plan->warnings[i].cross->name);
        text_addf(foot, " is between relatives, coancestry %.4f\n", plan->warnings[i].coancestry);
    }
    text_add(foot, "chance: bag clean; receptive on the day; safe to unbag.  pencilled: a later "
                   "season, no crew yet\n");
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
        head_see(&head, group->site, group->season,
                 group->flowering ? group->flowering->bloom : NULL);
    }
    head_write(&head, "Crossing plan", &sheet.head);
    add_foot(plan, &sheet.foot);
    return sheet;
}
