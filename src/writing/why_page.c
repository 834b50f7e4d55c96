#include "writing/head.h"
#include "writing/why_facts.h"
#include "writing/words.h"

#include <math.h>

enum {
    TITLE,
    FACT_TEXT,
    WORDS_TEXT,
    SECTION,
    SEASON,
    FACT,
    EVENT,
    P10,
    P50,
    P90,
    NUMBER,
    UNIT,
    WORDS,
    FILE_NAME,
    LINE,
    COLUMNS
};

static const struct sheet_column columns[COLUMNS] = {
    [TITLE] = {"title", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [FACT_TEXT] = {"fact", "", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [WORDS_TEXT] = {"words", "", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [SECTION] = {"section", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [FACT] = {"fact", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [EVENT] = {"event", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [P10] = {"p10", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [P50] = {"p50", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [P90] = {"p90", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [NUMBER] = {"number", NULL, CELL_NUMBER, 3, COLUMN_DATA_ONLY},
    [UNIT] = {"unit", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [WORDS] = {"words", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [FILE_NAME] = {"file", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [LINE] = {"line", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
};

static void set_cells(union cell *cells, const struct facts *facts, const struct fact *fact)
{
    cells[TITLE].text = facts->title;
    cells[FACT_TEXT].text = fact->name;
    cells[WORDS_TEXT].text = fact->words;
    cells[SECTION].text = facts->section;
    if (facts->season != 0)
        cells[SEASON].number = facts->season;
    cells[FACT].text = fact->name;
    cells[EVENT].text = fact->event;
    for (int i = 0; i < THREE_DATES; i++)
        cells[P10 + i].day = fact->days[i];
    cells[NUMBER].number = fact->number;
    cells[UNIT].text = fact->unit;
    cells[WORDS].text = fact->words;
    if (fact->place == NULL || fact->place->file == NULL)
        return;
    cells[FILE_NAME].text = why_file(fact->place);
    if (fact->place->line > 0)
        cells[LINE].number = fact->place->line;
}

void facts_add(struct facts *facts, struct fact fact)
{
    if (fact.form != FACT_TEXT_ONLY)
        set_cells(sheet_row(&facts->sheet), facts, &fact);
    if (fact.form != FACT_DATA_ONLY && !facts->data_only)
        set_cells(sheet_row(sheet_shown(&facts->sheet)), facts, &fact);
}

static void add_head(struct facts *facts)
{
    struct page_run run = *facts->run;
    struct head head;

    run.dates = NULL; /* past years are told below */
    head_init(&head, &run);
    for (size_t i = 0; i < facts->why->season_count; i++) {
        const struct flowering_row *row = &facts->why->seasons[i].row;

        head_see(&head, row->site, row->season, row->bloom);
    }
    head_write(&head, arena_printf(run.arena, "Why these dates: %s", facts->why->graft->graft->tag),
               &facts->sheet.head);
}

struct sheet why_sheet(const struct why *why, const struct page_run *run)
{
    struct facts facts = {.run = run, .why = why};

    sheet_init(&facts.sheet, run->arena, "conetide why 1", COLUMNS, columns);
    add_head(&facts);
    facts_add_graft(&facts);
    for (size_t i = 0; i < why->season_count; i++)
        facts_add_season(&facts, &why->seasons[i], i > 0 ? &why->seasons[i - 1] : NULL);
    facts_add_notes(&facts);
    facts_add_moves(&facts);
    if (why->season_count > 0)
        text_add(&facts.sheet.foot, "10, 50, 90 %: days by which the event has come in so many of "
                                    "100 futures, a future being one past year's weather from here "
                                    "on. The dates are those of `conetide flowering`.\n");
    return facts.sheet;
}
