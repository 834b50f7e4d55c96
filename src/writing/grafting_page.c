#include "writing/head.h"
#include "writing/words.h"

#include <math.h>

enum {
    HEADING,
    SITE,
    CLONE,
    SEASON,
    TREES,
    FREE_PLACES,
    OPENS_TEXT,
    CLOSES_TEXT,
    DAYS_TEXT,
    OPENS,
    CLOSES = OPENS + THREE_DATES,
    DECIDES = CLOSES + THREE_DATES,
    CALENDAR_OPEN,
    CALENDAR_CLOSE,
    STATE,
    CHANCE_OPEN,
    GOOD_DAYS,
    GOOD_LOW,
    GOOD_HIGH,
    FREEZE,
    BASIS,
    SEASONS_SEEN,
    WORDS,
    CAUTION,
    WORDS_TEXT,
    BASIS_TEXT,
    FREEZE_TEXT,
    CAUTION_TEXT,
    COLUMNS
};
static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [CLONE] = {"clone", "interstock clone", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [TREES] = {"trees", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [FREE_PLACES] = {"free_places", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [OPENS_TEXT] = {"opens", "opens 10, 50, 90 %", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [CLOSES_TEXT] = {"closes", "closes 10, 50, 90 %", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [DAYS_TEXT] = {"good_days", "good days", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [OPENS] = {"opens_p10", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [OPENS + 1] = {"opens_p50", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [OPENS + 2] = {"opens_p90", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [CLOSES] = {"closes_p10", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [CLOSES + 1] = {"closes_p50", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [CLOSES + 2] = {"closes_p90", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [DECIDES] = {"decided_by", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [CALENDAR_OPEN] = {"calendar_open", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [CALENDAR_CLOSE] = {"calendar_close", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [STATE] = {"state", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [CHANCE_OPEN] = {"chance_open", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [GOOD_DAYS] = {"good_days", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [GOOD_LOW] = {"good_days_p10", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [GOOD_HIGH] = {"good_days_p90", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [FREEZE] = {"freeze_chance", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [BASIS] = {"basis", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SEASONS_SEEN] = {"seasons_seen", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [WORDS] = {"state_words", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [CAUTION] = {"caution", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [WORDS_TEXT] = {"state_words", NULL, CELL_TEXT, 0, COLUMN_BELOW},
    [BASIS_TEXT] = {"basis", "dates", CELL_TEXT, 0, COLUMN_BELOW},
    [FREEZE_TEXT] = {"freeze", "freeze", CELL_TEXT, 0, COLUMN_BELOW},
    [CAUTION_TEXT] = {"caution", "caution", CELL_TEXT, 0, COLUMN_BELOW},
};

static const char *const state_names[] = {
    [GRAFTING_NOT_YET] = "not yet",
    [GRAFTING_OPEN] = "open",
    [GRAFTING_CLOSED] = "closed",
    [GRAFTING_NO_DATE] = "no date",
};

/* "4 Feb, 10 Feb, 19 Feb". */
static const char *three_days(struct arena *arena, const daynum days[THREE_DATES])
{
    struct text words;
    text_init(&words, arena);
    for (int i = 0; i < THREE_DATES; i++) {
        text_add(&words, i ? ", " : "");
        words_add_day_short(&words, days[i]);
    }
    return words.bytes;
}

static const char *basis_text(struct arena *arena, const struct grafting_row *row)
{
    struct text words;
    text_init(&words, arena);
    text_add(&words, basis_names[row->basis]);
    if (row->seasons_seen >= 0)
        text_addf(&words, ", %d seasons seen", row->seasons_seen);
    text_add(&words, row->by_heat ? "; decided by heat within the calendar of "
                                  : "; decided by the calendar of ");
    words_add_range(&words, row->calendar_open, row->calendar_close);
    return words.bytes;
}

static const char *freeze_text(const struct page_run *run, double chance)
{
    const struct program *program = &run->orchard->program;
    struct text words;
    if (!isfinite(chance))
        return NULL;
    text_init(&words, run->arena);
    words_add_chance(&words, chance);
    text_addf(&words, " chance of a night at or below %.1f C (%.1f F) within %d days",
              program->freeze_c, program->freeze_c * 1.8 + 32, program->freeze_days);
    return words.bytes;
}

static void set_text_only(union cell *cells, const struct grafting_row *row,
                          const struct page_run *run)
{
    cells[HEADING].text =
        arena_printf(run->arena, "%s, season %d", row->site ? row->site->name : "-", row->season);
    cells[OPENS_TEXT].text = three_days(run->arena, row->opens);
    cells[CLOSES_TEXT].text = three_days(run->arena, row->closes);
    if (row->good_days_left >= 0)
        cells[DAYS_TEXT].text = arena_printf(run->arena, "%d (%d-%d)", row->good_days_left,
                                             row->good_days_low, row->good_days_high);
    cells[WORDS_TEXT].text = row->state_words;
    cells[BASIS_TEXT].text = basis_text(run->arena, row);
    cells[FREEZE_TEXT].text = freeze_text(run, row->freeze_chance);
    cells[CAUTION_TEXT].text = row->caution;
}

static double count_of(int count)
{
    return count < 0 ? (double)NAN : count;
}

static void set_data(union cell *cells, const struct grafting_row *row)
{
    cells[SITE].text = row->site ? row->site->name : NULL;
    cells[CLONE].text = row->clone;
    cells[SEASON].number = row->season;
    cells[TREES].number = (double)row->trees;
    cells[FREE_PLACES].number = count_of(row->free_places);
    for (int i = 0; i < THREE_DATES; i++) {
        cells[OPENS + i].day = row->opens[i];
        cells[CLOSES + i].day = row->closes[i];
    }
    cells[DECIDES].text = row->by_heat ? "heat" : "calendar";
    cells[CALENDAR_OPEN].day = row->calendar_open;
    cells[CALENDAR_CLOSE].day = row->calendar_close;
    cells[STATE].text = state_names[row->state];
    cells[CHANCE_OPEN].number = row->chance_open;
    cells[GOOD_DAYS].number = count_of(row->good_days_left);
    cells[GOOD_LOW].number = count_of(row->good_days_low);
    cells[GOOD_HIGH].number = count_of(row->good_days_high);
    cells[FREEZE].number = row->freeze_chance;
    cells[BASIS].text = basis_names[row->basis];
    cells[SEASONS_SEEN].number = count_of(row->seasons_seen);
    cells[WORDS].text = row->state_words;
    cells[CAUTION].text = row->caution;
}

struct sheet grafting_sheet(const struct grafting_rows *rows, const struct page_run *run)
{
    struct sheet sheet;
    struct head head;
    sheet_init(&sheet, run->arena, "conetide grafting 1", COLUMNS, columns);
    head_init(&head, run);
    for (size_t i = 0; i < rows->count; i++) {
        const struct grafting_row *row = &rows->list[i];
        union cell *cells = sheet_row(&sheet);
        set_data(cells, row);
        set_text_only(cells, row, run);
        head_see(&head, row->site, row->season, NULL);
    }
    head_write(&head, "Grafting windows", &sheet.head);
    return sheet;
}
