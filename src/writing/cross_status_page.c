#include "writing/head.h"
#include "writing/remedy.h"

#include <math.h>

enum {
    CROSS,
    PRIORITY,
    WANTED,
    IN_STORE,
    COUNTED,
    BAGS_TEXT,
    HUNG,
    CLEAN,
    POLLINATED,
    UNBAGGED,
    TO_COME_TEXT,
    TO_COME,
    PLANNED_TEXT = TO_COME + 3,
    NEXT_TEXT,
    BAGS_PLANNED,
    SEEDS_PLANNED,
    BAGS_PENCILLED,
    SEEDS_PENCILLED,
    SHORT,
    STATE,
    CAUSE,
    DETAIL,
    REMEDY_TEXT,
    REMEDY,
    REMEDY_BY,
    COLUMNS
};

static const struct sheet_column columns[COLUMNS] = {
    [CROSS] = {"cross", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [PRIORITY] = {"priority", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [WANTED] = {"seeds_wanted", "wanted", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [IN_STORE] = {"seeds_in_store", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [COUNTED] = {"seeds_counted", "have", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [BAGS_TEXT] = {"bags", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [HUNG] = {"bags_hung", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [CLEAN] = {"bags_clean", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [POLLINATED] = {"bags_pollinated", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [UNBAGGED] = {"bags_unbagged", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [TO_COME_TEXT] = {"to_come", "to come", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [TO_COME] = {"seeds_to_come", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [TO_COME + 1] = {"seeds_to_come_low", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [TO_COME + 2] = {"seeds_to_come_high", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [PLANNED_TEXT] = {"planned", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [NEXT_TEXT] = {"next", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [BAGS_PLANNED] = {"bags_planned", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SEEDS_PLANNED] = {"seeds_planned", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [BAGS_PENCILLED] = {"bags_pencilled", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SEEDS_PENCILLED] = {"seeds_pencilled", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [SHORT] = {"seeds_short", "short", CELL_NUMBER, 0, COLUMN_EVERYWHERE},
    [STATE] = {"state", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CAUSE] = {"cause", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [DETAIL] = {"detail", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [REMEDY_TEXT] = {"remedy", NULL, CELL_TEXT, 0, COLUMN_BELOW},
    [REMEDY] = {"remedy", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [REMEDY_BY] = {"remedy_by", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
};

/* "4/4/3/0": hung, clean, pollinated, unbagged. */
static const char *bags_text(struct arena *arena, const struct cross_status *status)
{
    if (status->hung == 0)
        return NULL;
    return arena_printf(arena, "%zu/%zu/%zu/%zu", status->hung, status->clean, status->pollinated,
                        status->unbagged);
}

static const char *to_come_text(struct arena *arena, struct amount seeds)
{
    if (!(seeds.high > 0))
        return NULL;
    return arena_printf(arena, "%.0f (%.0f-%.0f)", seeds.expected, seeds.low, seeds.high);
}

/* "51 in 2": seed in bags. */
static const char *planned_text(struct arena *arena, double seeds, int64_t bags)
{
    return bags > 0 ? arena_printf(arena, "%.0f in %lld", seeds, (long long)bags) : NULL;
}

static void set_row(union cell *cells, const struct cross_status *status, struct arena *arena)
{
    cells[CROSS].text = status->cross->name;
    cells[PRIORITY].number = status->cross->priority;
    cells[WANTED].number = status->cross->seeds_wanted;
    cells[IN_STORE].number = status->cross->seeds_in_store;
    cells[COUNTED].number = status->seeds_counted;
    cells[BAGS_TEXT].text = bags_text(arena, status);
    cells[HUNG].number = (double)status->hung;
    cells[CLEAN].number = (double)status->clean;
    cells[POLLINATED].number = (double)status->pollinated;
    cells[UNBAGGED].number = (double)status->unbagged;
    cells[TO_COME_TEXT].text = to_come_text(arena, status->seeds_to_come);
    cells[TO_COME].number = status->seeds_to_come.expected;
    cells[TO_COME + 1].number = status->seeds_to_come.low;
    cells[TO_COME + 2].number = status->seeds_to_come.high;
    cells[PLANNED_TEXT].text = planned_text(arena, status->seeds_planned, status->bags_planned);
    cells[NEXT_TEXT].text = planned_text(arena, status->seeds_pencilled, status->bags_pencilled);
    cells[BAGS_PLANNED].number = (double)status->bags_planned;
    cells[SEEDS_PLANNED].number = status->seeds_planned;
    cells[BAGS_PENCILLED].number = (double)status->bags_pencilled;
    cells[SEEDS_PENCILLED].number = status->seeds_pencilled;
    cells[SHORT].number = status->seeds_short;
    cells[STATE].text = cross_outlook_words[status->outlook];
    if (status->shortfall != NULL && status->outlook >= OUTLOOK_PLANNED) {
        cells[CAUSE].text = cause_words[status->shortfall->cause];
        cells[DETAIL].text = status->shortfall->detail;
        if (status->outlook == OUTLOOK_SHORT)
            cells[REMEDY_TEXT].text = shortfall_remedy_text(arena, status->shortfall);
        cells[REMEDY].text = status->shortfall->remedy;
        cells[REMEDY_BY].day = status->shortfall->remedy_by;
    }
}

struct sheet cross_status_sheet(const struct cross_statuses *statuses, const struct page_run *run)
{
    struct sheet sheet, *shown;
    size_t of_outlook[OUTLOOKS] = {0};

    sheet_init(&sheet, run->arena, "conetide crossing status 1", COLUMNS, columns);
    shown = sheet_shown(&sheet);
    for (size_t i = 0; i < statuses->count; i++) {
        union cell *cells;

        set_row(sheet_row(&sheet), &statuses->list[i], run->arena);
        cells = sheet_row(shown);
        set_row(cells, &statuses->list[i], run->arena);
        cells[COUNTED].number += cells[IN_STORE].number; /* on paper both are seed one has */
        of_outlook[statuses->list[i].outlook]++;
    }
    head_write_title(run, "State of the crosses", &sheet.head);
    text_add(&sheet.head, "\n");
    for (int outlook = 0, told = 0; outlook < OUTLOOKS; outlook++)
        if (of_outlook[outlook] > 0)
            text_addf(&sheet.foot, "%s%zu %s", told++ > 0 ? ", " : "", of_outlook[outlook],
                      cross_outlook_words[outlook]);
    if (statuses->count > 0)
        text_add(&sheet.foot, ".\n");
    text_add(
        &sheet.foot,
        "Filled seed.  have: in store and counted.  bags: of this season, hung/clean/"
        "pollinated/unbagged.  to come: of bags of all seasons, with the low and the high of "
        "every rate.  planned: seed and bags still to be hung or pollinated; next: pencilled "
        "into the next season.  remedy: the cheapest thing that helps, and until when.  Causes in "
        "full: --shortfalls.\n");
    return sheet;
}
