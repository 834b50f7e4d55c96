/*
 * placement_page.c - the grafts: for people, as JSON, and as rows of grafts.csv.
 */
#include "writing/head.h"
#include "writing/placement_parts.h"
#include "writing/words.h"

#include <math.h>

const char *const placement_table_names[PLACEMENT_TABLES] = {"grafts", "selections", "scions",
                                                             "trees"};

static const char *const crown_names[CROWNS] = {
    [CROWN_TOP] = "top", [CROWN_MIDDLE] = "middle", [CROWN_LOW] = "low"};

enum {
    HEADING,
    SITE,
    BLOCK,
    ROW,
    POSITION,
    TREE,
    REACH,
    CLONE,
    CROWN,
    TAG,
    SELECTION,
    FLAG,
    BATCH,
    SCION,
    STROBILI,
    ALIVE_1,
    STROBILI_1,
    ALIVE_2,
    STROBILI_2,
    REMARK,
    COLUMNS
};
static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BLOCK] = {"block", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [ROW] = {"row", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [POSITION] = {"position", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [REACH] = {"reach_needed_m", "reach", CELL_LENGTH, 1, COLUMN_EVERYWHERE},
    [CLONE] = {"clone", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CROWN] = {"crown", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [FLAG] = {"flag_colour", "flag", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [BATCH] = {"batch", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SCION] = {"scion", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [STROBILI] = {"strobili_expected", "strobili expected", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [ALIVE_1] = {"alive_season_1", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [STROBILI_1] = {"strobili_season_1", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [ALIVE_2] = {"alive_season_2", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [STROBILI_2] = {"strobili_season_2", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [REMARK] = {"remark", NULL, CELL_TEXT, 0, COLUMN_BELOW},
};

static double whole_cell(int number)
{
    return number < 0 ? (double)NAN : number;
}

static void set_graft(union cell *cells, const struct placed_graft *graft, struct arena *arena)
{
    const struct tree *tree = graft->tree;
    double share = placement_crown_share[graft->crown];

    cells[HEADING].text = arena_printf(arena, "%s%s%s", tree->site_name, tree->block ? ", " : "",
                                       tree->block ? tree->block : "");
    cells[SITE].text = tree->site_name;
    cells[BLOCK].text = tree->block;
    cells[ROW].number = whole_cell(tree->row);
    cells[POSITION].number = whole_cell(tree->position);
    cells[TREE].text = tree->name;
    cells[REACH].number = tree->reach_needed_m;
    cells[CLONE].text = tree->clone;
    cells[CROWN].text = crown_names[graft->crown];
    cells[TAG].text = graft->tag;
    cells[SELECTION].text = graft->selection->name;
    cells[FLAG].text = graft->selection->flag_colour;
    cells[BATCH].text = graft->batch != NULL ? graft->batch->name : NULL;
    cells[SCION].text = graft->batch != NULL ? graft->batch->name : "to cut";
    cells[STROBILI].number = graft->strobili;
    cells[ALIVE_1].number = graft->promise.survival[0];
    cells[STROBILI_1].number = graft->promise.strobili[0] * share;
    cells[ALIVE_2].number = graft->promise.survival[1];
    cells[STROBILI_2].number = graft->promise.strobili[1] * share;
    if (graft->beside_its_like)
        cells[REMARK].text = "a living graft of this selection stands on the tree already";
}

static void add_foot(const struct placement *placement, struct text *foot)
{
    int64_t to_cut = 0;
    double strobili = 0;

    for (size_t i = 0; i < placement->selections.count; i++) {
        to_cut += placement->selections.list[i].to_cut;
        strobili += placement->selections.list[i].strobili;
    }
    words_add_count(foot, placement->grafts.count, "graft", "grafts");
    text_addf(foot,
              " for %lld free places, %lld of scions still to be cut; %.0f strobili expected over "
              "two springs\n",
              (long long)placement->places, (long long)to_cut, strobili);
    text_addf(foot,
              "Strobili expected: of a graft made, both springs together; %.1f times its clone's "
              "in the top, %.1f in the middle, %.1f in the low crown (own choice).  Tags are "
              "proposed; --format csv gives rows for grafts.csv, to be completed with grafted_on "
              "when the graft is made.\n",
              placement_crown_share[CROWN_TOP], placement_crown_share[CROWN_MIDDLE],
              placement_crown_share[CROWN_LOW]);
    if (!placement->reach_known)
        text_add(foot, "No reach stands in lifts.csv, so every tree is taken to be in reach.\n");
}

static struct sheet placement_grafts_sheet(const struct placement *placement,
                                           const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide placement grafts 1", COLUMNS, columns);
    for (size_t i = 0; i < placement->grafts.count; i++)
        set_graft(sheet_row(&sheet), &placement->grafts.list[i], run->arena);
    head_write_title(
        run, arena_printf(run->arena, "Where to graft in the winter of %d", placement->season),
        &sheet.head);
    text_add(&sheet.head, placement->by_demand
                              ? "; as many grafts as conetide demand asks for\n"
                              : "; no cross is wanted, so a place for every scion in store\n");
    if (placement->too_large)
        text_add(&sheet.head, "The numbers are too large to be reckoned; nothing is placed\n");
    add_foot(placement, &sheet.foot);
    return sheet;
}

struct sheet placement_sheet(const struct placement *placement, enum placement_table table,
                             const struct page_run *run)
{
    switch (table) {
    case PLACEMENT_GRAFTS:
        return placement_grafts_sheet(placement, run);
    case PLACEMENT_SELECTIONS:
        return placement_selections_sheet(placement, run);
    case PLACEMENT_SCIONS:
        return placement_scions_sheet(placement, run);
    case PLACEMENT_TREES:
    case PLACEMENT_TABLES:
        break;
    }
    return placement_trees_sheet(placement, run);
}

enum {
    G_TAG,
    G_SELECTION,
    G_TREE,
    G_CROWN,
    G_BRANCH,
    G_GRAFTED_ON,
    G_BATCH,
    G_CONDITION,
    G_CONDITION_ON,
    G_IDENTITY,
    G_IDENTITY_ON,
    G_IDENTITY_HOW,
    G_NOTES,
    G_COLUMNS
};
static const struct sheet_column graft_columns[G_COLUMNS] = {
    [G_TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [G_SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [G_TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [G_CROWN] = {"crown", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [G_BRANCH] = {"branch", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [G_GRAFTED_ON] = {"grafted_on", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [G_BATCH] = {"batch", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [G_CONDITION] = {"condition", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [G_CONDITION_ON] = {"condition_on", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [G_IDENTITY] = {"identity", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [G_IDENTITY_ON] = {"identity_on", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [G_IDENTITY_HOW] = {"identity_how", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [G_NOTES] = {"notes", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

struct sheet placement_rows_sheet(const struct placement *placement, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide placement rows 1", G_COLUMNS, graft_columns);
    for (size_t i = 0; i < placement->grafts.count; i++) {
        const struct placed_graft *graft = &placement->grafts.list[i];
        union cell *cells = sheet_row(&sheet);

        cells[G_TAG].text = graft->tag;
        cells[G_SELECTION].text = graft->selection->name;
        cells[G_TREE].text = graft->tree->name;
        cells[G_CROWN].text = crown_names[graft->crown];
        cells[G_BATCH].text = graft->batch != NULL ? graft->batch->name : NULL;
        cells[G_IDENTITY].text = "unchecked";
    }
    return sheet;
}
