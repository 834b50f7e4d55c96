#include "writing/pages.h"
#include "writing/work_row.h"

#include <math.h>

enum {
    ENTRY,
    DATE,
    TASK,
    CREW,
    LIFT,
    SITE,
    BLOCK,
    TREE,
    TREE_ROW,
    POSITION,
    CROWN,
    BRANCH,
    TAG,
    FLAG,
    BAG,
    CROSS,
    SEED_PARENT,
    POLLEN_PARENT,
    POLLEN_LOT,
    DOSE,
    CHANCE,
    LATEST,
    DECIDE,
    DONE_ON,
    NOT_DONE,
    STAGE,
    VALUE,
    BY,
    REMARKS,
    SELECTION,
    BATCH,
    CYCLE,
    NEEDS,
    AS_OF,
    COLUMNS
};
static const struct sheet_column columns[COLUMNS] = {
    [ENTRY] = {"entry", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [DATE] = {"date", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [TASK] = {"task", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CREW] = {"crew", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [LIFT] = {"lift", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [BLOCK] = {"block", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [TREE_ROW] = {"row", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [POSITION] = {"position", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CROWN] = {"crown", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [BRANCH] = {"branch", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [FLAG] = {"flag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [BAG] = {"bag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CROSS] = {"cross", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SEED_PARENT] = {"seed_parent", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [POLLEN_PARENT] = {"pollen_parent", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [POLLEN_LOT] = {"pollen_lot", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [DOSE] = {"dose_ml", NULL, CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [CHANCE] = {"chance", NULL, CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [LATEST] = {"latest_safe", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [DECIDE] = {"decide", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [DONE_ON] = {"done_on", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [NOT_DONE] = {"not_done", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [STAGE] = {"stage", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [VALUE] = {"value", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BY] = {"by", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [REMARKS] = {"remarks", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BATCH] = {"batch", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [CYCLE] = {"cycle", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [NEEDS] = {"needs", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [AS_OF] = {"as_of", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
};

static void set_facts(union cell *cells, const struct visit_facts *facts)
{
    cells[SITE].text = facts->site;
    cells[BLOCK].text = facts->block;
    cells[TREE].text = facts->tree;
    if (facts->row >= 0)
        cells[TREE_ROW].number = facts->row;
    if (facts->position >= 0)
        cells[POSITION].number = facts->position;
    cells[CROWN].text = facts->crown;
    cells[BRANCH].text = facts->branch;
    cells[TAG].text = facts->tag;
    cells[FLAG].text = facts->flag;
    cells[BAG].text = facts->bag;
    cells[CROSS].text = facts->cross;
    cells[SEED_PARENT].text = facts->seed_parent;
    cells[POLLEN_PARENT].text = facts->pollen_parent;
    cells[POLLEN_LOT].text = facts->lot;
    cells[DOSE].number = facts->dose_ml;
    cells[CHANCE].number = facts->chance;
    cells[LATEST].day = facts->latest;
}

static union cell *add_row(struct sheet *sheet, const struct page_run *run,
                           const struct work_row *row)
{
    struct row_facts facts = work_row_facts(run->orchard, row, run->arena);
    union cell *cells = sheet_row(sheet);
    set_facts(cells, &facts.visit);
    cells[ENTRY].text = row->entry;
    cells[TASK].text = facts.task;
    cells[DECIDE].text = row->decide;
    cells[SELECTION].text = facts.visit.selection;
    cells[BATCH].text = facts.batch;
    if (facts.cycle)
        cells[CYCLE].number = facts.cycle;
    cells[NEEDS].text = facts.needs;
    cells[AS_OF].day = run->as_of;
    return cells;
}

struct sheet worklist_sheet(const struct worklist *list, const struct page_run *run)
{
    struct sheet sheet;
    sheet_init(&sheet, run->arena, "conetide worklist 1", COLUMNS, columns);
    for (size_t p = 0; p < list->page_count; p++) {
        const struct work_page *page = &list->pages[p];
        for (size_t i = 0; i < page->row_count; i++) {
            union cell *cells = add_row(&sheet, run, &page->rows[i]);
            cells[DATE].day = page->day;
            cells[CREW].text = page->crew;
            cells[LIFT].text = page->lift;
        }
    }
    for (size_t i = 0; i < list->office_count; i++)
        add_row(&sheet, run, &list->office[i]);
    return sheet;
}
