/*
 * placement_lists_page.c - selections with what found no place, scions, and trees left out.
 */
#include "writing/placement_parts.h"
#include "writing/words.h"

#include <math.h>

enum {
    S_SELECTION,
    S_PRIORITY,
    S_WANTED,
    S_PLACED,
    S_SHORT,
    S_TREES,
    S_CLONES,
    S_BEFORE,
    S_MOST_TREE,
    S_MOST_CLONE,
    S_STROBILI,
    S_STORE,
    S_CUT,
    S_CAUSE,
    S_REMARK,
    S_COLUMNS
};
static const struct sheet_column selection_columns[S_COLUMNS] = {
    [S_SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [S_PRIORITY] = {"priority", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [S_WANTED] = {"grafts_wanted", "grafts wanted", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [S_PLACED] = {"placed", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [S_SHORT] = {"short", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [S_TREES] = {"trees", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [S_CLONES] = {"clones", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [S_BEFORE] = {"trees_before", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [S_MOST_TREE] = {"most_on_a_tree", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [S_MOST_CLONE] = {"most_on_a_clone", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [S_STROBILI] = {"strobili_expected", "strobili expected", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [S_STORE] = {"scions_from_store", "from store", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [S_CUT] = {"scions_to_cut", "to cut", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [S_CAUSE] = {"cause", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [S_REMARK] = {"remark", NULL, CELL_TEXT, 0, COLUMN_BELOW},
};

/* "2 find no place: no more may stand together, 1 on one tree and 1 on one clone". */
static const char *remark_of(const struct placed_selection *row, struct arena *arena)
{
    struct text text;
    int64_t left = row->wanted - row->placed;

    text_init(&text, arena);
    if (left > 0) {
        text_addf(&text, "%lld not placed: %s", (long long)left, placement_cause_words[row->cause]);
        if (row->cause == PLACEMENT_SPREAD)
            text_addf(&text, ", %lld on one tree and %lld on one clone",
                      (long long)row->most_on_tree, (long long)row->most_on_clone);
    } else if (row->cause == PLACEMENT_NO_NUMBER) {
        text_add(&text, "no number of grafts meets the demand; what is in store is placed");
    }
    if (row->placed > 1 && (row->trees < 2 || row->clones < 2)) {
        text_add(&text, text.length > 0 ? "; " : "");
        text_add(&text, row->trees < 2 ? "all of these on one tree" : "all of these on one clone");
    } else if (row->placed == 1 && row->trees_before < 2) {
        text_add(&text, text.length > 0 ? "; " : "");
        text_add(&text, "one graft, and fewer than two trees with older ones");
    }
    return text.length > 0 ? text.bytes : NULL;
}

struct sheet placement_selections_sheet(const struct placement *placement,
                                        const struct page_run *run)
{
    struct sheet sheet;
    int64_t wanted = 0, placed = 0;

    sheet_init(&sheet, run->arena, "conetide placement selections 1", S_COLUMNS, selection_columns);
    for (size_t i = 0; i < placement->selections.count; i++) {
        const struct placed_selection *row = &placement->selections.list[i];
        union cell *cells = sheet_row(&sheet);

        cells[S_SELECTION].text = row->selection->name;
        if (row->priority > 0)
            cells[S_PRIORITY].number = row->priority;
        cells[S_WANTED].number = (double)row->wanted;
        cells[S_PLACED].number = (double)row->placed;
        cells[S_SHORT].number = (double)(row->wanted - row->placed);
        cells[S_TREES].number = (double)row->trees;
        cells[S_CLONES].number = (double)row->clones;
        cells[S_BEFORE].number = (double)row->trees_before;
        cells[S_MOST_TREE].number = (double)row->most_on_tree;
        cells[S_MOST_CLONE].number = (double)row->most_on_clone;
        cells[S_STROBILI].number = row->strobili;
        cells[S_STORE].number = (double)row->in_store;
        cells[S_CUT].number = (double)row->to_cut;
        if (row->cause != PLACEMENT_NONE)
            cells[S_CAUSE].text = placement_cause_words[row->cause];
        cells[S_REMARK].text = remark_of(row, run->arena);
        wanted += row->wanted;
        placed += row->placed;
    }
    text_add(&sheet.head, "Selections: grafts wanted and placed\n");
    text_addf(&sheet.foot, "%lld of %lld grafts wanted have a place%s\n", (long long)placed,
              (long long)wanted,
              placement->spread_again ? "; a second pass spread those that stood too close" : "");
    return sheet;
}

enum { B_BATCH, B_SELECTION, B_CUT_ON, B_AGE, B_LEFT, B_GIVEN, B_CAUSE, B_REMARK, B_COLUMNS };
static const struct sheet_column batch_columns[B_COLUMNS] = {
    [B_BATCH] = {"batch", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [B_SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [B_CUT_ON] = {"cut_on", "cut on", CELL_DAY, 0, COLUMN_EVERYWHERE},
    [B_AGE] = {"age_days", "days since", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [B_LEFT] = {"scions_left", "scions left", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [B_GIVEN] = {"scions_placed", "placed", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [B_CAUSE] = {"cause", "why not all", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [B_REMARK] = {"remark", NULL, CELL_TEXT, 0, COLUMN_BELOW},
};

struct sheet placement_scions_sheet(const struct placement *placement, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide placement scions 1", B_COLUMNS, batch_columns);
    for (size_t i = 0; i < placement->batches.count; i++) {
        const struct placed_batch *row = &placement->batches.list[i];
        union cell *cells = sheet_row(&sheet);

        cells[B_BATCH].text = row->batch->name;
        cells[B_SELECTION].text = row->batch->selection_name;
        cells[B_CUT_ON].day = row->batch->cut_on;
        cells[B_AGE].number = row->age_days;
        cells[B_LEFT].number = row->left < 0 ? (double)NAN : (double)row->left;
        cells[B_GIVEN].number = (double)row->given;
        if (row->cause != PLACEMENT_NONE)
            cells[B_CAUSE].text = placement_cause_words[row->cause];
        if (row->given > 0 && row->age_days > PLACEMENT_STORE_WARN_DAYS)
            cells[B_REMARK].text = arena_printf(run->arena,
                                                "over %d days in store: look at buds and cut faces "
                                                "before grafting",
                                                PLACEMENT_STORE_WARN_DAYS);
    }
    text_addf(&sheet.head,
              "Scions in store, cut for this winter; more than %d days old are not grafted (common "
              "practice, no source)\n",
              PLACEMENT_STORE_MOST_DAYS);
    return sheet;
}

enum { T_TREE, T_SITE, T_CLONE, T_CAUSE, T_NEEDS, T_REACH, T_WORDS, T_COLUMNS };
static const struct sheet_column tree_columns[T_COLUMNS] = {
    [T_TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [T_SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [T_CLONE] = {"clone", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [T_CAUSE] = {"cause", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [T_NEEDS] = {"reach_needed_m", NULL, CELL_LENGTH, 1, COLUMN_DATA_ONLY},
    [T_REACH] = {"reach_m", NULL, CELL_LENGTH, 1, COLUMN_DATA_ONLY},
    [T_WORDS] = {"trees", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
};

/* One row for people of all trees of one cause. */
static size_t show_cause(struct sheet *sheet, const struct placement *placement, size_t first,
                         const struct page_run *run)
{
    enum placement_cause cause = placement->trees.list[first].cause;
    union cell *cells = sheet_row(sheet_shown(sheet));
    struct text names;
    size_t end = first;

    text_init(&names, run->arena);
    for (; end < placement->trees.count && placement->trees.list[end].cause == cause; end++)
        text_addf(&names, "%s%s", end > first ? ", " : "", placement->trees.list[end].tree->name);
    cells[T_CAUSE].text =
        arena_printf(run->arena, "%s (%zu)", placement_cause_words[cause], end - first);
    cells[T_WORDS].text = names.bytes;
    return end;
}

struct sheet placement_trees_sheet(const struct placement *placement, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide placement trees 1", T_COLUMNS, tree_columns);
    (void)sheet_shown(&sheet);
    for (size_t i = 0; i < placement->trees.count; i++) {
        const struct left_tree *row = &placement->trees.list[i];
        union cell *cells = sheet_row(&sheet);

        cells[T_TREE].text = row->tree->name;
        cells[T_SITE].text = row->tree->site_name;
        cells[T_CLONE].text = row->tree->clone;
        cells[T_CAUSE].text = placement_cause_words[row->cause];
        cells[T_NEEDS].number = row->tree->reach_needed_m;
        cells[T_REACH].number = isfinite(row->reach_m) ? row->reach_m : NAN;
    }
    for (size_t i = 0; i < placement->trees.count;)
        i = show_cause(&sheet, placement, i, run);
    text_add(&sheet.head, "Interstock trees that take no graft\n");
    return sheet;
}
