#include "writing/head.h"
#include "writing/visit.h"
#include "writing/words.h"

#include <math.h>

enum {
    BAG_HEADING,
    BAG_NAME,
    BAG_SITE,
    BAG_TREE,
    BAG_CROWN,
    BAG_YEAR,
    BAG_SEASON,
    BAG_SEASON_NUMBER,
    BAG_CROP_TEXT,
    BAG_CROSS,
    BAG_TRUE_CROSS,
    BAG_LABELLED,
    BAG_TRUE_PARENT,
    BAG_POLLEN,
    BAG_FATE,
    BAG_CLEAN,
    BAG_CONELETS_TEXT,
    BAG_CONES_TEXT,
    BAG_SEEDS_TEXT,
    BAG_AMOUNTS,
    BAG_COUNTED = BAG_AMOUNTS + 9,
    BAG_STATE,
    BAG_RIPENESS,
    BAG_RIPENESS_ON,
    BAG_FERTILISED_FIRST,
    BAG_FERTILISED_LAST,
    BAG_TEST_FIRST,
    BAG_TEST_LAST,
    BAG_HARVEST_FIRST,
    BAG_HARVEST_LAST,
    BAG_REMARK,
    BAG_COLUMNS
};

#define AMOUNT(place, name)                                                                        \
    [place] = {name "_expected", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},                          \
    [(place) + 1] = {name "_low", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},                         \
    [(place) + 2] = {name "_high", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY}

static const struct sheet_column bag_columns[BAG_COLUMNS] = {
    [BAG_HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [BAG_NAME] = {"bag", "sack label", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [BAG_SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BAG_TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [BAG_CROWN] = {"crown", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [BAG_YEAR] = {"harvest_year", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [BAG_SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [BAG_SEASON_NUMBER] = {"season_number", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [BAG_CROP_TEXT] = {"crop", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [BAG_CROSS] = {"cross", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [BAG_TRUE_CROSS] = {"true_cross", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BAG_LABELLED] = {"labelled", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BAG_TRUE_PARENT] = {"true_seed_parent", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BAG_POLLEN] = {"pollen", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BAG_FATE] = {"fate", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BAG_CLEAN] = {"clean", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BAG_CONELETS_TEXT] = {"conelets", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [BAG_CONES_TEXT] = {"cones", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [BAG_SEEDS_TEXT] = {"seed", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    AMOUNT(BAG_AMOUNTS, "conelets"),
    AMOUNT(BAG_AMOUNTS + 3, "cones"),
    AMOUNT(BAG_AMOUNTS + 6, "seeds"),
    [BAG_COUNTED] = {"counted", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BAG_STATE] = {"state", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [BAG_RIPENESS] = {"ripeness", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BAG_RIPENESS_ON] = {"ripeness_on", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [BAG_FERTILISED_FIRST] = {"fertilised_first", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [BAG_FERTILISED_LAST] = {"fertilised_last", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [BAG_TEST_FIRST] = {"test_first", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [BAG_TEST_LAST] = {"test_last", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [BAG_HARVEST_FIRST] = {"harvest_first", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [BAG_HARVEST_LAST] = {"harvest_last", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [BAG_REMARK] = {"remark", NULL, CELL_TEXT, 0, COLUMN_BELOW},
};

enum {
    CROSS_NAME,
    CROSS_PRIORITY,
    CROSS_WANTED_SEEDS,
    CROSS_IN_STORE,
    CROSS_COUNTED,
    CROSS_BAGS,
    CROSS_CONES_TEXT,
    CROSS_SEEDS_TEXT,
    CROSS_AMOUNTS,
    CROSS_SHORT = CROSS_AMOUNTS + 6,
    CROSS_YEARS,
    CROSS_COLUMNS
};

static const struct sheet_column cross_columns[CROSS_COLUMNS] = {
    [CROSS_NAME] = {"cross", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CROSS_PRIORITY] = {"priority", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [CROSS_WANTED_SEEDS] = {"seeds_wanted", "wanted", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CROSS_IN_STORE] = {"seeds_in_store", "in store", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CROSS_COUNTED] = {"seeds_counted", "counted", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CROSS_BAGS] = {"bags", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CROSS_CONES_TEXT] = {"cones", "cones to come", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [CROSS_SEEDS_TEXT] = {"seeds", "seed to come", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    AMOUNT(CROSS_AMOUNTS, "cones"),
    AMOUNT(CROSS_AMOUNTS + 3, "seeds"),
    [CROSS_SHORT] = {"seeds_short", "short", CELL_NUMBER, 0, COLUMN_EVERYWHERE},
    [CROSS_YEARS] = {"by_year", "by harvest year", CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

static const char *const counted_words[] = {"nothing", "strobili", "conelets", "cones", "seeds"};

/* "3 counted", "4.2 (1.5-6)", "0". */
static const char *amount_text(struct arena *arena, struct amount amount, bool counted)
{
    struct text words;

    if (isnan(amount.expected))
        return NULL;
    text_init(&words, arena);
    if (counted) {
        text_addf(&words, "%.0f counted", amount.expected);
    } else if (amount.high == 0) {
        text_add(&words, "0");
    } else {
        text_addf(&words, "%.*f", amount.expected < 10 ? 1 : 0, amount.expected);
        if (amount.high > amount.low)
            text_addf(&words, " (%.*f-%.*f)", amount.low < 10 ? 1 : 0, amount.low,
                      amount.high < 10 ? 1 : 0, amount.high);
    }
    return words.bytes;
}

static void set_amount(union cell *cells, struct amount amount)
{
    cells[0].number = amount.expected;
    cells[1].number = amount.low;
    cells[2].number = amount.high;
}

static void add_span(struct text *words, const char *what, struct harvest_days span)
{
    if (span.first == DAY_NONE)
        return;
    text_addf(words, "; %s ", what);
    words_add_range(words, span.first, span.last);
}

/* "2028, Hawkfell; ripeness test 5 Sep-15 Oct; harvest 12 Sep-20 Oct (rough)". */
static const char *bag_heading(struct arena *arena, const struct harvest_bag *row)
{
    struct text words;

    text_init(&words, arena);
    text_addf(&words, "%d, %s", row->year, row->site != NULL ? row->site->name : "-");
    add_span(&words, "ripeness test", row->test);
    add_span(&words, "harvest", row->harvest);
    if (row->harvest.first != DAY_NONE)
        text_add(&words, ", rough");
    return words.bytes;
}

static const char *pollen_name(const struct harvest_bag *row)
{
    if (row->truth.mix != NULL)
        return row->truth.mix->name;
    return row->truth.pollen != NULL ? row->truth.pollen->name : NULL;
}

/* What a person must know of a bag whose seed is not simply what its label says. */
static const char *bag_remark(struct arena *arena, const struct harvest_bag *row)
{
    struct text words;

    text_init(&words, arena);
    if (!row->bag->clean)
        text_add(&words, "not clean: its seed may have other fathers; ");
    if (row->fate != FATE_AS_MEANT || row->graft->relabelled) {
        text_addf(&words, "labelled %s, truly %s: %s",
                  row->labelled != NULL ? row->labelled->name : "-",
                  row->truth.seed_parent != NULL ? row->truth.seed_parent->name : "not known",
                  seed_fate_words[row->fate]);
        if (row->truth.cross != NULL && row->truth.cross != row->bag->cross)
            text_addf(&words, " %s", row->truth.cross->name);
        text_add(&words, "; ");
    }
    if (row->ripeness != NULL) {
        text_addf(&words, "%s below the line on ", row->ripeness);
        words_add_day_short(&words, row->ripeness_on);
        text_add(&words, "; ");
    }
    if (words.length == 0)
        return NULL;
    return arena_printf(arena, "%.*s", (int)(words.length - 2), words.bytes);
}

static void set_bag(union cell *cells, const struct harvest_bag *row, struct arena *arena)
{
    const struct bag *bag = row->bag;

    cells[BAG_HEADING].text = bag_heading(arena, row);
    cells[BAG_NAME].text = bag->name;
    cells[BAG_SITE].text = row->site != NULL ? row->site->name : NULL;
    cells[BAG_TREE].text = bag->graft->tree_name;
    cells[BAG_CROWN].text = crown_word(bag->graft->crown);
    cells[BAG_YEAR].number = row->year;
    cells[BAG_SEASON].number = bag->season;
    cells[BAG_SEASON_NUMBER].number = row->season_number;
    cells[BAG_CROP_TEXT].text = row->season_number == 1   ? "first"
                                : row->season_number == 2 ? "second"
                                                          : "other";
    cells[BAG_CROSS].text = bag->cross != NULL ? bag->cross->name : NULL;
    cells[BAG_TRUE_CROSS].text = row->truth.cross != NULL ? row->truth.cross->name : NULL;
    cells[BAG_LABELLED].text = row->labelled != NULL ? row->labelled->name : NULL;
    cells[BAG_TRUE_PARENT].text =
        row->truth.seed_parent != NULL ? row->truth.seed_parent->name : NULL;
    cells[BAG_POLLEN].text = pollen_name(row);
    cells[BAG_FATE].text = seed_fate_words[row->fate];
    cells[BAG_CLEAN].text = bag->clean ? "yes" : "no";
    cells[BAG_CONELETS_TEXT].text = amount_text(arena, row->yield.conelets, bag->conelets >= 0);
    cells[BAG_CONES_TEXT].text = amount_text(arena, row->yield.cones, bag->cones >= 0);
    cells[BAG_SEEDS_TEXT].text = amount_text(arena, row->yield.seeds, bag->seeds >= 0);
    set_amount(cells + BAG_AMOUNTS, row->yield.conelets);
    set_amount(cells + BAG_AMOUNTS + 3, row->yield.cones);
    set_amount(cells + BAG_AMOUNTS + 6, row->yield.seeds);
    cells[BAG_COUNTED].text = counted_words[row->yield.counted];
    cells[BAG_STATE].text = harvest_state_words[row->state];
    cells[BAG_RIPENESS].text = row->ripeness;
    cells[BAG_RIPENESS_ON].day = row->ripeness_on;
    cells[BAG_FERTILISED_FIRST].day = row->fertilised.first;
    cells[BAG_FERTILISED_LAST].day = row->fertilised.last;
    cells[BAG_TEST_FIRST].day = row->test.first;
    cells[BAG_TEST_LAST].day = row->test.last;
    cells[BAG_HARVEST_FIRST].day = row->harvest.first;
    cells[BAG_HARVEST_LAST].day = row->harvest.last;
    cells[BAG_REMARK].text = bag_remark(arena, row);
}

/* On paper: what hangs, and what needs a word. */
static bool is_shown(const struct harvest_bag *row)
{
    if (row->state == HARVEST_SEED_COUNTED)
        return false;
    return row->state != HARVEST_NOTHING || row->graft->relabelled;
}

struct sheet harvest_bags_sheet(const struct harvest *harvest, const struct page_run *run)
{
    struct sheet sheet, *shown;
    size_t counted = 0, nothing = 0;

    sheet_init(&sheet, run->arena, "conetide harvest bags 1", BAG_COLUMNS, bag_columns);
    shown = sheet_shown(&sheet);
    for (size_t i = 0; i < harvest->bag_count; i++) {
        const struct harvest_bag *row = &harvest->bags[i];

        set_bag(sheet_row(&sheet), row, run->arena);
        if (is_shown(row))
            set_bag(sheet_row(shown), row, run->arena);
        counted += row->state == HARVEST_SEED_COUNTED;
        nothing += row->state == HARVEST_NOTHING;
    }
    head_write_title(run, "Cones to harvest", &sheet.head);
    text_add(&sheet.head, "\n");
    text_addf(&sheet.foot,
              "Not listed: %zu bags whose seed is counted, %zu lost or dead.  In brackets: with "
              "the low and the high of every rate.  The name of the bag is the sack's label; one "
              "sack a bag.  Days of test and harvest are rough: cones ripen when the test says "
              "so.\n",
              counted, nothing);
    return sheet;
}

static const char *by_year(struct arena *arena, const struct harvest *harvest,
                           const struct harvest_cross *row)
{
    struct text words;

    text_init(&words, arena);
    for (size_t y = 0; y < harvest->years; y++) {
        const struct amount *seeds = &row->seeds_of_year[y];

        if (seeds->high > 0)
            text_addf(&words, "%s%d: %.0f", words.length > 0 ? "; " : "",
                      harvest->first_year + (int)y, seeds->expected);
    }
    return words.length > 0 ? words.bytes : NULL;
}

struct sheet harvest_crosses_sheet(const struct harvest *harvest, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide harvest crosses 1", CROSS_COLUMNS, cross_columns);
    for (size_t i = 0; i < harvest->cross_count; i++) {
        const struct harvest_cross *row = &harvest->crosses[i];
        union cell *cells = sheet_row(&sheet);

        cells[CROSS_NAME].text = row->cross->name;
        cells[CROSS_PRIORITY].number = row->cross->priority;
        cells[CROSS_WANTED_SEEDS].number = row->cross->seeds_wanted;
        cells[CROSS_IN_STORE].number = row->cross->seeds_in_store;
        cells[CROSS_COUNTED].number = row->seeds_counted;
        cells[CROSS_BAGS].number = (double)row->bags;
        cells[CROSS_CONES_TEXT].text = amount_text(run->arena, row->cones, false);
        cells[CROSS_SEEDS_TEXT].text = amount_text(run->arena, row->seeds, false);
        set_amount(cells + CROSS_AMOUNTS, row->cones);
        set_amount(cells + CROSS_AMOUNTS + 3, row->seeds);
        cells[CROSS_SHORT].number = row->short_of;
        cells[CROSS_YEARS].text = by_year(run->arena, harvest, row);
    }
    head_write_title(run, "Seed of the crosses", &sheet.head);
    text_add(&sheet.head, "\n");
    text_add(&sheet.foot,
             "Filled seed.  bags: pollinated, clean and of this cross by what is known of both "
             "parents today.  short: wanted less in store, counted and to come.\n");
    return sheet;
}
