#include "writing/head.h"
#include "writing/remedy.h"

enum {
    HEADING,
    SEASON,
    CROSS,
    SEED_PARENT,
    POLLEN_PARENT,
    PRIORITY,
    WANTED,
    PLANNED,
    SHORT,
    SHORT_TEXT,
    CAUSE,
    DETAIL,
    REMEDY_TEXT,
    REMEDY,
    REMEDY_BY,
    COLUMNS
};
static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [CROSS] = {"cross", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SEED_PARENT] = {"seed_parent", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [POLLEN_PARENT] = {"pollen_parent", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [PRIORITY] = {"priority", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [WANTED] = {"bags_wanted", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [PLANNED] = {"bags_planned", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SHORT] = {"bags_short", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SHORT_TEXT] = {"bags_short", "bags short", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [CAUSE] = {"cause", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [DETAIL] = {"detail", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [REMEDY_TEXT] = {"remedy", NULL, CELL_TEXT, 0, COLUMN_BELOW},
    [REMEDY] = {"remedy", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [REMEDY_BY] = {"remedy_by", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
};

/* The most bags first; takes the counts away. */
static void add_causes(int64_t by_cause[CAUSES], struct text *foot)
{
    by_cause[CAUSE_NONE] = 0;
    for (size_t told = 0;; told++) {
        int most = CAUSE_NONE;
        for (int cause = CAUSE_NONE + 1; cause < CAUSES; cause++)
            if (by_cause[cause] > by_cause[most])
                most = cause;
        if (by_cause[most] == 0)
            return;
        text_addf(foot, "%s%s %lld", told ? ", " : "; first causes: ", cause_words[most],
                  (long long)by_cause[most]);
        by_cause[most] = 0;
    }
}

/* "2027: 113 bags short of the 226 that these crosses want; first causes: no strobili 60, ...". */
static size_t add_season_sum(const struct crossing_plan *plan, size_t first, struct text *foot)
{
    int64_t short_of = 0, wanted = 0, by_cause[CAUSES] = {0};
    int season = plan->shortfalls[first].season;
    size_t end = first;
    for (; end < plan->shortfall_count && plan->shortfalls[end].season == season; end++) {
        const struct shortfall *shortfall = &plan->shortfalls[end];
        short_of += shortfall->bags_short;
        wanted += shortfall->bags_wanted;
        by_cause[shortfall->cause] += shortfall->bags_short;
    }
    text_addf(foot, "%d: %lld %s short of the %lld that these crosses want", season,
              (long long)short_of, short_of == 1 ? "bag" : "bags", (long long)wanted);
    add_causes(by_cause, foot);
    text_add(foot, "\n");
    return end;
}

struct sheet shortfalls_sheet(const struct crossing_plan *plan, const struct page_run *run)
{
    struct sheet sheet;
    struct head head;
    sheet_init(&sheet, run->arena, "conetide shortfalls 1", COLUMNS, columns);
    for (size_t i = 0; i < plan->shortfall_count; i++) {
        const struct shortfall *shortfall = &plan->shortfalls[i];
        union cell *cells = sheet_row(&sheet);
        cells[HEADING].text = arena_printf(run->arena, "%d, priority %d", shortfall->season,
                                           shortfall->cross->priority);
        cells[SEASON].number = shortfall->season;
        cells[CROSS].text = shortfall->cross->name;
        cells[SEED_PARENT].text = shortfall->cross->seed_parent_name;
        cells[POLLEN_PARENT].text = shortfall->cross->pollen_parent_name;
        cells[PRIORITY].number = shortfall->cross->priority;
        cells[WANTED].number = (double)shortfall->bags_wanted;
        cells[PLANNED].number = (double)shortfall->bags_planned;
        cells[SHORT].number = (double)shortfall->bags_short;
        cells[SHORT_TEXT].text =
            arena_printf(run->arena, "%lld of %lld", (long long)shortfall->bags_short,
                         (long long)shortfall->bags_wanted);
        if (shortfall->cause != CAUSE_NONE)
            cells[CAUSE].text = cause_words[shortfall->cause];
        cells[DETAIL].text = shortfall->detail;
        cells[REMEDY_TEXT].text = shortfall_remedy_text(run->arena, shortfall);
        cells[REMEDY].text = shortfall->remedy;
        cells[REMEDY_BY].day = shortfall->remedy != NULL ? shortfall->remedy_by : DAY_NONE;
    }
    for (size_t at = 0; at < plan->shortfall_count;)
        at = add_season_sum(plan, at, &sheet.foot);
    head_init(&head, run);
    for (size_t i = 0; i < plan->group_count; i++)
        head_see(&head, plan->groups[i].site, plan->groups[i].season, NULL);
    head_write(&head, "Bags that could not be planned", &sheet.head);
    return sheet;
}
