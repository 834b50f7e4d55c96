#include "writing/demand_parts.h"
#include "writing/head.h"
#include "writing/words.h"

#include <math.h>
#include <string.h>

enum {
    HEADING,
    CROSS,
    SEED_PARENT,
    POLLEN_PARENT,
    PRIORITY,
    SEASON,
    STATE,
    WANTED,
    IN_STORE,
    EXPECTED,
    OUTSTANDING,
    SEEDS_TEXT,
    POLLEN_SHARE,
    SEEDS_ASKED,
    CHAIN_TEXT,
    CONES,
    CONELETS,
    STROBILI,
    BAGS,
    CHANCE_EXPECTED,
    STROBILI_ASSURED,
    ASSURED,
    FREEZE,
    HANGING,
    SPRING,
    NEW = SPRING + DEMAND_SPRINGS,
    LOST,
    CHANCE,
    COANCESTRY,
    VALUE,
    SEEDS_PER_CONE,
    CONES_KEPT,
    CONELETS_KEPT,
    STROBILI_PER_BAG,
    REMARK,
    COLUMNS
};
static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [CROSS] = {"cross", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SEED_PARENT] = {"seed_parent", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [POLLEN_PARENT] = {"pollen_parent", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [PRIORITY] = {"priority", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [STATE] = {"state", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [WANTED] = {"seeds_wanted", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [IN_STORE] = {"seeds_in_store", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [EXPECTED] = {"seeds_expected", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [OUTSTANDING] = {"seeds_outstanding", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SEEDS_TEXT] = {"seeds", "seeds to make", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [POLLEN_SHARE] = {"pollen_share", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [SEEDS_ASKED] = {"seeds_asked", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [CHAIN_TEXT] = {"chain", "cones, conelets, strobili", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [CONES] = {"cones", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [CONELETS] = {"conelets", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [STROBILI] = {"strobili", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [BAGS] = {"bags_expected", "bags", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CHANCE_EXPECTED] = {"chance_expected", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [STROBILI_ASSURED] = {"strobili_assured", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [ASSURED] = {"bags_assured", "assured", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [FREEZE] = {"bags_freeze", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [HANGING] = {"bags_hanging", "hang", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [SPRING] = {"bags_this_season", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [SPRING + 1] = {"bags_next_season", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [SPRING + 2] = {"bags_season_after", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [NEW] = {"bags_on_new_grafts", "new", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [LOST] = {"bags_lost", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [CHANCE] = {"chance_covered", "chance", CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [COANCESTRY] = {"coancestry", NULL, CELL_NUMBER, 4, COLUMN_DATA_ONLY},
    [VALUE] = {"cross_value", NULL, CELL_NUMBER, 2, COLUMN_DATA_ONLY},
    [SEEDS_PER_CONE] = {"seeds_per_cone", NULL, CELL_NUMBER, 4, COLUMN_DATA_ONLY},
    [CONES_KEPT] = {"cones_kept", NULL, CELL_NUMBER, 4, COLUMN_DATA_ONLY},
    [CONELETS_KEPT] = {"conelets_kept", NULL, CELL_NUMBER, 4, COLUMN_DATA_ONLY},
    [STROBILI_PER_BAG] = {"strobili_per_bag", NULL, CELL_NUMBER, 4, COLUMN_DATA_ONLY},
    [REMARK] = {"remark", NULL, CELL_TEXT, 0, COLUMN_BELOW},
};

static bool is_refused(const struct demand_cross *row)
{
    return row->obstacle == DEMAND_SELF || row->obstacle == DEMAND_RELATED;
}

static const char *state_words(const struct demand_cross *row)
{
    switch (row->obstacle) {
    case DEMAND_SELF:
        return "refused: self";
    case DEMAND_RELATED:
        return "refused: coancestry";
    case DEMAND_NO_RATE:
        return "a rate is missing";
    case DEMAND_FREE:
    case DEMAND_NO_LOT:
    case DEMAND_LOT_DEAD:
        break;
    }
    if (row->bags == 0)
        return "seed enough";
    if (row->obstacle != DEMAND_FREE)
        return row->obstacle == DEMAND_NO_LOT ? "no pollen lot" : "no live pollen";
    if (row->lost > 0)
        return "season past";
    return row->later > 0 ? "grafts wanted" : "covered";
}

static double rate_cell(const struct rate *rate)
{
    return rate != NULL ? number_of_decimal(rate->value) : NAN;
}

static void add_remark(struct text *text, const char *words)
{
    text_add(text, text->length > 0 ? "; " : "");
    text_add(text, words);
}

static const char *remark_of(const struct demand_cross *row, const struct page_run *run)
{
    const struct program *program = &run->orchard->program;
    struct arena *arena = run->arena;
    struct text text;

    text_init(&text, arena);
    if (row->obstacle == DEMAND_SELF)
        add_remark(&text, "refused: the seed parent is its own pollen parent");
    if (row->obstacle == DEMAND_RELATED)
        add_remark(&text, arena_printf(arena, "refused: coancestry %.4g is above %g",
                                       row->coancestry, program->coancestry_refuse));
    if (row->warned)
        add_remark(&text, arena_printf(arena,
                                       "between relatives, coancestry %.4g: inbreeding "
                                       "expected of the seed",
                                       row->coancestry));
    if (row->outstanding == 0)
        add_remark(&text, "seed enough");
    if (is_refused(row) || (row->bags == 0 && row->obstacle != DEMAND_NO_RATE))
        return text.length > 0 ? text.bytes : NULL;
    if (row->obstacle == DEMAND_NO_RATE)
        add_remark(&text, "a rate of its chain is 0 or missing: no number of bags gives the seed");
    if (row->obstacle == DEMAND_NO_LOT)
        add_remark(&text, "no pollen lot yet");
    if (row->obstacle == DEMAND_LOT_DEAD)
        add_remark(&text, "no lot of its pollen may be used: gather new pollen");
    if (row->pollen_share < 1)
        add_remark(&text, arena_printf(arena,
                                       "its pollen gives %.0f %% of full seed: counted as for "
                                       "%lld seeds",
                                       100 * row->pollen_share, (long long)row->chain.seeds));
    if (row->lost > 0)
        add_remark(&text,
                   arena_printf(arena,
                                "no place in %d, the only season asked for, for %lld of its bags",
                                row->cross->season, (long long)row->lost));
    return text.length > 0 ? text.bytes : NULL;
}

static void set_texts(union cell *cells, const struct demand_cross *row, const struct page_run *run)
{
    const struct demand_chain *chain = &row->chain;

    cells[HEADING].text = arena_printf(run->arena, "priority %d", row->cross->priority);
    cells[CROSS].text = row->cross->name;
    cells[SEED_PARENT].text = row->cross->seed_parent_name;
    cells[POLLEN_PARENT].text = row->cross->pollen_parent_name;
    cells[STATE].text = state_words(row);
    cells[SEEDS_TEXT].text = arena_printf(run->arena, "%lld of %d", (long long)row->outstanding,
                                          row->cross->seeds_wanted);
    if (chain->strobili > 0)
        cells[CHAIN_TEXT].text =
            arena_printf(run->arena, "%lld > %lld > %lld", (long long)chain->cones,
                         (long long)chain->conelets, (long long)chain->strobili);
    cells[REMARK].text = remark_of(row, run);
}

static void set_bags(union cell *cells, const struct demand_cross *row)
{
    cells[CONES].number = demand_count_cell(row->chain.cones);
    cells[CONELETS].number = demand_count_cell(row->chain.conelets);
    cells[STROBILI].number = demand_count_cell(row->chain.strobili);
    cells[BAGS].number = demand_count_cell(row->chain.bags);
    cells[CHANCE_EXPECTED].number = row->chance_expected;
    cells[STROBILI_ASSURED].number = demand_count_cell(row->strobili_assured);
    cells[ASSURED].number = demand_count_cell(row->bags_assured);
    cells[FREEZE].number = demand_count_cell(row->bags_freeze);
    cells[HANGING].number = (double)row->hanging;
    for (int spring = 0; spring < DEMAND_SPRINGS; spring++)
        cells[SPRING + spring].number = (double)row->covered[spring];
    cells[NEW].number = (double)row->later;
    cells[LOST].number = (double)row->lost;
    cells[CHANCE].number = row->chance_covered;
}

static void set_row(union cell *cells, const struct demand_cross *row, const struct page_run *run)
{
    set_texts(cells, row, run);
    set_bags(cells, row);
    cells[PRIORITY].number = row->cross->priority;
    if (row->cross->season != 0)
        cells[SEASON].number = row->cross->season;
    cells[WANTED].number = row->cross->seeds_wanted;
    cells[IN_STORE].number = row->cross->seeds_in_store;
    cells[EXPECTED].number = row->seeds_expected;
    cells[OUTSTANDING].number = (double)row->outstanding;
    cells[POLLEN_SHARE].number = row->pollen_share;
    cells[SEEDS_ASKED].number = demand_count_cell(row->chain.seeds);
    cells[COANCESTRY].number = row->coancestry;
    cells[VALUE].number = row->value;
    cells[SEEDS_PER_CONE].number = rate_cell(row->rates.seeds_per_cone);
    cells[CONES_KEPT].number = rate_cell(row->rates.cones_kept);
    cells[CONELETS_KEPT].number = rate_cell(row->rates.conelets_kept);
    cells[STROBILI_PER_BAG].number = rate_cell(row->rates.strobili_per_bag);
}

struct sums {
    int64_t wanted, in_store, outstanding, bags, assured, freeze, hanging, covered[DEMAND_SPRINGS],
        later, lost;
    double expected;
    size_t crosses, refused;
};

static int64_t known(int64_t count)
{
    return count > 0 ? count : 0;
}

/* Of the crosses that are not refused. */
static struct sums sums_of(const struct demand_plan *plan)
{
    struct sums sums = {0};

    for (size_t i = 0; i < plan->crosses.count; i++) {
        const struct demand_cross *row = &plan->crosses.list[i];

        if (is_refused(row)) {
            sums.refused++;
            continue;
        }
        sums.crosses++;
        sums.wanted += row->cross->seeds_wanted;
        sums.in_store += row->cross->seeds_in_store;
        sums.expected += row->seeds_expected;
        sums.outstanding += row->outstanding;
        sums.bags += known(row->chain.bags);
        sums.assured += known(row->bags_assured);
        sums.freeze += known(row->bags_freeze);
        sums.hanging += row->hanging;
        sums.later += row->later;
        sums.lost += row->lost;
        for (int spring = 0; spring < DEMAND_SPRINGS; spring++)
            sums.covered[spring] += row->covered[spring];
    }
    return sums;
}

static void add_sums(const struct demand_plan *plan, const struct page_run *run, struct text *foot)
{
    struct sums sums = sums_of(plan);

    words_add_count(foot, sums.crosses, "cross", "crosses");
    if (sums.refused > 0)
        text_addf(foot, " (%zu more refused)", sums.refused);
    text_addf(foot,
              ": %lld seeds wanted, %lld in store, %.0f expected of bags made; %lld to make\n",
              (long long)sums.wanted, (long long)sums.in_store, sums.expected,
              (long long)sums.outstanding);
    text_addf(foot,
              "bags: %lld by expectation, %lld assured, %lld in a freeze winter; of those "
              "assured %lld hang",
              (long long)sums.bags, (long long)sums.assured, (long long)sums.freeze,
              (long long)sums.hanging);
    for (int spring = 0; spring < DEMAND_SPRINGS; spring++)
        text_addf(foot, ", %s %lld", demand_spring_title(plan, spring, run->arena),
                  (long long)sums.covered[spring]);
    text_addf(foot, ", on new grafts %lld, lost %lld\n", (long long)sums.later,
              (long long)sums.lost);
    if (plan->parents > 0) {
        text_addf(foot,
                  "parents by seed wanted: %zu clones, group coancestry %.4f, status number %.1f",
                  plan->parents, plan->group_coancestry, plan->status_number);
        if (!isnan(plan->mean_value))
            text_addf(foot, ", mean breeding value %.2f", plan->mean_value);
        text_add(foot, "\n");
    }
    text_addf(foot,
              "bags: by expectation.  assured: fewest with a chance of %.0f %% to give the cones.  "
              "a year: on grafts that stand, by the bag places expected.  new: on grafts still to "
              "be made.  chance: of the cones, with the bags that hang and are covered.  Crews, "
              "lifts and dates are the matter of conetide crossing, which plans the bags by "
              "expectation.\n",
              100 * run->orchard->program.assurance);
}

struct sheet demand_crosses_sheet(const struct demand_plan *plan, const struct page_run *run)
{
    struct sheet_column *titled = ARENA_ARRAY(run->arena, COLUMNS, struct sheet_column);
    struct sheet sheet;

    memcpy(titled, columns, sizeof columns);
    for (int spring = 0; spring < DEMAND_SPRINGS; spring++)
        titled[SPRING + spring].title = demand_spring_title(plan, spring, run->arena);
    sheet_init(&sheet, run->arena, "conetide demand crosses 1", COLUMNS, titled);
    for (size_t i = 0; i < plan->crosses.count; i++)
        set_row(sheet_row(&sheet), &plan->crosses.list[i], run);
    head_write_title(run, "Crosses: from seed wanted to bags", &sheet.head);
    text_add(&sheet.head, "\n");
    add_sums(plan, run, &sheet.foot);
    return sheet;
}
