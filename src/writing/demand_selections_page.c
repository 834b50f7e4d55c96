#include "writing/demand_parts.h"
#include "writing/words.h"

#include <math.h>
#include <string.h>

enum {
    SELECTION,
    CYCLE,
    BAGS,
    EARLY,
    LEFT,
    STANDING_1,
    STANDING_2,
    PLACES_1,
    PLACES_2,
    STANDING_TEXT,
    CHANCE_STANDING,
    SURVIVAL_1,
    SURVIVAL_2,
    GRAFT_PLACES_1,
    GRAFT_PLACES_2,
    FIRST,
    SECOND,
    GRAFTS,
    CHANCE,
    FREEZE,
    FREEZE_CHANCE,
    SCIONS,
    IN_STORE,
    TO_CUT,
    REMARK,
    COLUMNS
};
static const struct sheet_column columns[COLUMNS] = {
    [SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CYCLE] = {"cycle", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [BAGS] = {"bags", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [EARLY] = {"bags_early", "before", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [LEFT] = {"bags_left", "left", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [STANDING_1] = {"standing_season_1", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [STANDING_2] = {"standing_season_2", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [PLACES_1] = {"places_season_1", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [PLACES_2] = {"places_season_2", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [STANDING_TEXT] = {"standing", "places standing", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [CHANCE_STANDING] = {"chance_standing", "enough", CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [SURVIVAL_1] = {"survival_season_1", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [SURVIVAL_2] = {"survival_season_2", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [GRAFT_PLACES_1] = {"places_a_graft_season_1", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [GRAFT_PLACES_2] = {"places_a_graft_season_2", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [FIRST] = {"grafts_season_1_alone", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [SECOND] = {"grafts_season_2_alone", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [GRAFTS] = {"grafts", "grafts to make", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CHANCE] = {"chance", "then enough", CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [FREEZE] = {"grafts_freeze", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [FREEZE_CHANCE] = {"chance_freeze", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [SCIONS] = {"scions", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [IN_STORE] = {"scions_in_store", "in store", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [TO_CUT] = {"scions_to_cut", "to cut", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [REMARK] = {"remark", NULL, CELL_TEXT, 0, COLUMN_BELOW},
};

static const char *remark_of(const struct demand_selection *row, struct arena *arena)
{
    struct text text;

    if (row->grafts < 0)
        return "no number of grafts will do: a rate is 0 or missing, or the bags are too many";
    if (row->grafts == 0)
        return NULL;
    text_init(&text, arena);
    text_add(&text, "in a freeze winter ");
    if (row->grafts_freeze < 0)
        text_add(&text, "no number of grafts");
    else
        words_add_count(&text, (size_t)row->grafts_freeze, "graft", "grafts");
    text_addf(&text, "; %lld would be enough with ", (long long)row->grafts);
    words_add_chance(&text, row->chance_freeze);
    return text.bytes;
}

static void set_row(union cell *cells, const struct demand_selection *row, struct arena *arena)
{
    cells[SELECTION].text = row->selection->name;
    cells[BAGS].number = (double)row->bags;
    cells[EARLY].number = (double)row->bags_early;
    cells[LEFT].number = (double)row->bags_left;
    cells[STANDING_1].number = (double)row->standing[0];
    cells[STANDING_2].number = (double)row->standing[1];
    cells[PLACES_1].number = row->places[0];
    cells[PLACES_2].number = row->places[1];
    cells[STANDING_TEXT].text = arena_printf(arena, "%.1f + %.1f", row->places[0], row->places[1]);
    cells[CHANCE_STANDING].number = row->chance_standing;
    cells[SURVIVAL_1].number = row->graft.survival[0];
    cells[SURVIVAL_2].number = row->graft.survival[1];
    cells[GRAFT_PLACES_1].number = row->graft.places[0];
    cells[GRAFT_PLACES_2].number = row->graft.places[1];
    cells[FIRST].number = demand_count_cell(row->grafts_first);
    cells[SECOND].number = demand_count_cell(row->grafts_second);
    cells[GRAFTS].number = demand_count_cell(row->grafts);
    cells[CHANCE].number = row->chance;
    cells[FREEZE].number = demand_count_cell(row->grafts_freeze);
    cells[FREEZE_CHANCE].number = row->chance_freeze;
    cells[SCIONS].number = (double)row->scions;
    cells[IN_STORE].number = (double)row->scions_in_store;
    cells[TO_CUT].number = (double)row->scions_to_cut;
    cells[REMARK].text = remark_of(row, arena);
}

static void add_foot(const struct demand_plan *plan, const struct page_run *run, struct text *foot)
{
    int64_t grafts = 0, freeze = 0, scions = 0, to_cut = 0, bags = 0, left = 0;

    for (size_t i = 0; i < plan->selections.count; i++) {
        const struct demand_selection *row = &plan->selections.list[i];

        bags += row->bags;
        left += row->bags_left;
        grafts += row->grafts > 0 ? row->grafts : 0;
        freeze += row->grafts_freeze > 0 ? row->grafts_freeze : 0;
        scions += row->scions;
        to_cut += row->scions_to_cut;
    }
    text_addf(foot,
              "%lld bags, %lld of them left; %lld grafts to make (%lld in a freeze winter), %lld "
              "scions with a quarter to spare, %lld to cut\n",
              (long long)bags, (long long)left, (long long)grafts, (long long)freeze,
              (long long)scions, (long long)to_cut);
    text_addf(foot,
              "before: bags on standing grafts earlier than %s.  places standing: bag places "
              "expected on them in %s and in %s.  enough: chance that they carry what is left.  "
              "alone: grafts needed if that spring alone had to do; grafts to make: with both, for "
              "a chance of %.0f %%.\n",
              demand_spring_title(plan, plan->ahead + 1, run->arena),
              demand_spring_title(plan, plan->ahead + 1, run->arena),
              demand_spring_title(plan, plan->ahead + 2, run->arena),
              100 * run->orchard->program.assurance);
    text_addf(foot,
              "Each graft lives or dies by itself in these chances; in one freeze many die "
              "together: see the freeze line, by the lowest survival that rates.csv tells.\n");
}

struct sheet demand_selections_sheet(const struct demand_plan *plan, const struct page_run *run)
{
    struct sheet_column *titled = ARENA_ARRAY(run->arena, COLUMNS, struct sheet_column);
    const char *first = demand_spring_title(plan, plan->ahead + 1, run->arena);
    const char *second = demand_spring_title(plan, plan->ahead + 2, run->arena);
    struct sheet sheet;

    memcpy(titled, columns, sizeof columns);
    titled[FIRST].title = arena_printf(run->arena, "%s alone", first);
    titled[SECOND].title = arena_printf(run->arena, "%s alone", second);
    sheet_init(&sheet, run->arena, "conetide demand selections 1", COLUMNS, titled);
    for (size_t i = 0; i < plan->selections.count; i++) {
        union cell *cells = sheet_row(&sheet);

        set_row(cells, &plan->selections.list[i], run->arena);
        if (plan->season != 0)
            cells[CYCLE].number = plan->season + plan->ahead;
    }
    text_addf(&sheet.head,
              "Selections: grafts to make in the winter of %s, to bear in %s (first "
              "spring) and %s (second spring)\n",
              demand_spring_title(plan, plan->ahead, run->arena), first, second);
    add_foot(plan, run, &sheet.foot);
    return sheet;
}
