#include "orchard/typed.h"

const char *const typed_column_names[TYPED_COLUMNS] = {
    [TYPED_ENTRY] = "entry",
    [TYPED_DATE] = "date",
    [TYPED_TASK] = "task",
    [TYPED_SITE] = "site",
    [TYPED_BLOCK] = "block",
    [TYPED_TREE] = "tree",
    [TYPED_CROWN] = "crown",
    [TYPED_BRANCH] = "branch",
    [TYPED_TAG] = "tag",
    [TYPED_BAG] = "bag",
    [TYPED_CROSS] = "cross",
    [TYPED_LOT] = "pollen_lot",
    [TYPED_SELECTION] = "selection",
    [TYPED_BATCH] = "batch",
    [TYPED_NOTE] = "note",
    [TYPED_DONE_ON] = "done_on",
    [TYPED_NOT_DONE] = "not_done",
    [TYPED_STAGE] = "stage",
    [TYPED_VALUE] = "value",
    [TYPED_BY] = "by",
    [TYPED_REMARKS] = "remarks",
};

struct place typed_place(const struct typed_page *page, const struct typed_row *row,
                         enum typed_column column)
{
    struct place place = row->place;
    place.cell = page->cells[column];
    return place;
}
