#include "writing/head.h"

enum {
    SEASON,
    CROSS,
    SEED_PARENT,
    POLLEN_PARENT,
    PRIORITY,
    WANTED,
    PLANNED,
    SHORT,
    CAUSE,
    DETAIL,
    COLUMNS
};
static const struct sheet_column columns[COLUMNS] = {
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CROSS] = {"cross", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SEED_PARENT] = {"seed_parent", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [POLLEN_PARENT] = {"pollen_parent", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [PRIORITY] = {"priority", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [WANTED] = {"bags_wanted", "bags wanted", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [PLANNED] = {"bags_planned", "planned", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [SHORT] = {"bags_short", "short", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CAUSE] = {"cause", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [DETAIL] = {"detail", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

struct sheet shortfalls_sheet(const struct crossing_plan *plan, const struct page_run *run)
{
    struct sheet sheet;
    struct head head;
    sheet_init(&sheet, run->arena, "conetide shortfalls 1", COLUMNS, columns);
    for (size_t i = 0; i < plan->shortfall_count; i++) {
        const struct shortfall *shortfall = &plan->shortfalls[i];
        union cell *cells = sheet_row(&sheet);
        cells[SEASON].number = shortfall->season;
        cells[CROSS].text = shortfall->cross->name;
        cells[SEED_PARENT].text = shortfall->cross->seed_parent_name;
        cells[POLLEN_PARENT].text = shortfall->cross->pollen_parent_name;
        cells[PRIORITY].number = shortfall->cross->priority;
        cells[WANTED].number = (double)shortfall->bags_wanted;
        cells[PLANNED].number = (double)shortfall->bags_planned;
        cells[SHORT].number = (double)shortfall->bags_short;
        if (shortfall->cause != CAUSE_NONE)
            cells[CAUSE].text = cause_words[shortfall->cause];
        cells[DETAIL].text = shortfall->detail;
    }
    head_init(&head, run);
    for (size_t i = 0; i < plan->group_count; i++)
        head_see(&head, plan->groups[i].site, plan->groups[i].season, NULL);
    head_write(&head, "Bags that could not be planned", &sheet.head);
    return sheet;
}
