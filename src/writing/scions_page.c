#include "writing/head.h"
#include "writing/pages.h"
#include "writing/words.h"

enum { SHOWN_DAYS = 366 }; /* older batches stand in CSV and JSON alone */

enum {
    BATCH,
    SELECTION,
    SITE,
    CUT_ON,
    FIELD_HOURS,
    STORE_C,
    STORE_DAYS,
    STORE_HOURS,
    HOURS,
    COUNTED_TO,
    GRAFTED,
    MISSING_DAYS,
    REMARK,
    COLUMNS
};

static const struct sheet_column columns[COLUMNS] = {
    [BATCH] = {"batch", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CUT_ON] = {"cut_on", "cut on", CELL_DAY, 0, COLUMN_EVERYWHERE},
    [FIELD_HOURS] = {"field_hours", "on tree", CELL_NUMBER, 0, COLUMN_EVERYWHERE},
    [STORE_C] = {"store_c", NULL, CELL_TEMPERATURE, 1, COLUMN_DATA_ONLY},
    [STORE_DAYS] = {"store_days", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [STORE_HOURS] = {"store_hours", "in store", CELL_NUMBER, 0, COLUMN_EVERYWHERE},
    [HOURS] = {"chilling_hours", "together", CELL_NUMBER, 0, COLUMN_EVERYWHERE},
    [COUNTED_TO] = {"counted_to", "counted to", CELL_DAY, 0, COLUMN_EVERYWHERE},
    [GRAFTED] = {"grafted", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [MISSING_DAYS] = {"missing_days", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [REMARK] = {"remark", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

static void set_row(union cell *cells, const struct scion_chilling *row)
{
    const struct batch *batch = row->batch;
    cells[BATCH].text = batch->name;
    cells[SELECTION].text = batch->selection_name;
    cells[SITE].text = row->site ? row->site->name : NULL;
    cells[CUT_ON].day = batch->cut_on;
    cells[FIELD_HOURS].number = row->field_hours;
    cells[STORE_C].number = batch->store_c;
    cells[STORE_DAYS].number = row->store_end > batch->cut_on ? row->store_end - batch->cut_on : 0;
    cells[STORE_HOURS].number = row->store_hours;
    cells[HOURS].number = row->hours;
    cells[COUNTED_TO].day = row->store_end;
    cells[GRAFTED].text = row->grafted ? "yes" : "no";
    cells[MISSING_DAYS].number = (double)row->missing_days;
    cells[REMARK].text = row->reason;
}

struct sheet scions_sheet(const struct scion_chillings *rows, const struct page_run *run)
{
    struct sheet sheet;
    sheet_init(&sheet, run->arena, "conetide grafting scions 1", COLUMNS, columns);
    size_t older = 0;
    for (size_t i = 0; i < rows->count; i++) {
        set_row(sheet_row(&sheet), &rows->list[i]);
        if (run->as_of - rows->list[i].batch->cut_on >= SHOWN_DAYS)
            older++;
        else
            set_row(sheet_row(sheet_shown(&sheet)), &rows->list[i]);
    }
    (void)sheet_shown(&sheet);
    head_write_title(run, "Chilling of scions", &sheet.head);
    text_add(&sheet.head, "; chilling hours");
    if (older > 0) {
        text_add(&sheet.head, "; ");
        words_add_count(&sheet.head, older, "batch", "batches");
        text_add(&sheet.head, " cut more than a year ago stand in the CSV and JSON forms");
    }
    text_add(&sheet.head, "\n");
    text_add(&sheet.foot,
             "Hours at 0 to 8 deg C (South 2013), from the season's first day to the cut and in "
             "store to the first graft of the batch.  How many a scion needs is told nowhere.  "
             "Loblolly in one nursery had 207 by 23 November and 734 by 18 January; in store at 2 "
             "to 4 deg C buds woke as fast as outdoors, and at 1,234 families no longer differed "
             "(Carlson 1985, abstract).\n");
    return sheet;
}
