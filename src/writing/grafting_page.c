#include "writing/head.h"
#include "writing/words.h"

#include <math.h>
#include <string.h>

enum {
    HEADING,
    SITE,
    CLONE,
    WORDS_TEXT,
    DAYS_TEXT,
    SEASON,
    TREES,
    FREE_PLACES,
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
    DATES_TEXT,
    BASIS_TEXT,
    FREEZE_TEXT,
    CAUTION_TEXT,
    COLUMNS
};
static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [CLONE] = {"clone", "interstock clones", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [WORDS_TEXT] = {"state_words", "how it stands", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [DAYS_TEXT] = {"good_days", "good days left", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [TREES] = {"trees", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [FREE_PLACES] = {"free_places", "free places", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
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
    [DATES_TEXT] = {"dates", NULL, CELL_TEXT, 0, COLUMN_BELOW},
    [BASIS_TEXT] = {"basis", NULL, CELL_TEXT, 0, COLUMN_BELOW},
    [FREEZE_TEXT] = {"freeze", NULL, CELL_TEXT, 0, COLUMN_BELOW},
    [CAUTION_TEXT] = {"caution", "caution", CELL_TEXT, 0, COLUMN_BELOW},
};

static const char *const state_names[] = {
    [GRAFTING_NOT_YET] = "not yet",
    [GRAFTING_OPEN] = "open",
    [GRAFTING_CLOSED] = "closed",
    [GRAFTING_NO_DATE] = "no date",
};

/* "opens 4 Feb, 10 Feb, 19 Feb". */
static void add_three_days(struct text *words, const char *what, const daynum days[THREE_DATES])
{
    for (int i = 0; i < THREE_DATES; i++) {
        text_add(words, i ? ", " : what);
        words_add_day_short(words, days[i]);
    }
}

static const char *dates_text(struct arena *arena, const struct grafting_row *row)
{
    struct text words;
    text_init(&words, arena);
    add_three_days(&words, "opens ", row->opens);
    add_three_days(&words, "; closes ", row->closes);
    text_add(&words, " (10, 50, 90 %)");
    return words.bytes;
}

static const char *basis_text(struct arena *arena, const struct grafting_row *row)
{
    struct text words;
    text_init(&words, arena);
    text_addf(&words, "dates %s", basis_names[row->basis]);
    if (row->seasons_seen >= 0) {
        text_add(&words, ", ");
        words_add_count(&words, (size_t)row->seasons_seen, "season", "seasons");
        text_add(&words, " seen");
    }
    text_add(&words, "; ");
    text_add(&words, row->decided_words);
    return words.bytes;
}

/* "8 % chance of a night at or below -3.0 C within 30 days of grafting"; NULL: not known. */
static const char *freeze_text(const struct page_run *run, double chance)
{
    const struct program *program = &run->orchard->program;
    struct text words;
    if (!isfinite(chance))
        return NULL;
    text_init(&words, run->arena);
    words_add_chance(&words, chance);
    text_add(&words, " chance of a night at or below ");
    text_addf(&words, run->units_us ? "%.1f F" : "%.1f C",
              run->units_us ? program->freeze_c * 1.8 + 32 : program->freeze_c);
    text_addf(&words, " within %d days of grafting", program->freeze_days);
    return words.bytes;
}

static bool same_number(double a, double b)
{
    return isnan(a) ? isnan(b) : a >= b && a <= b;
}

static bool same_text(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

static bool same_site(const struct grafting_row *a, const struct grafting_row *b)
{
    return a->site == b->site && a->season == b->season;
}

/* Do two clones share all that people are told of them? */
static bool same_window(const struct grafting_row *a, const struct grafting_row *b)
{
    for (int i = 0; i < THREE_DATES; i++)
        if (a->opens[i] != b->opens[i] || a->closes[i] != b->closes[i])
            return false;
    return same_site(a, b) && same_text(a->decided_words, b->decided_words) &&
           a->good_days_left == b->good_days_left && a->good_days_low == b->good_days_low &&
           a->good_days_high == b->good_days_high &&
           same_number(a->freeze_chance, b->freeze_chance) && a->basis == b->basis &&
           a->seasons_seen == b->seasons_seen && same_text(a->state_words, b->state_words) &&
           same_text(a->caution, b->caution);
}

/* Is the chance of a freeze one for the whole site?  Then it stands in the heading. */
static bool one_freeze(const struct grafting_rows *rows, const struct grafting_row *row)
{
    for (size_t i = 0; i < rows->count; i++)
        if (same_site(&rows->list[i], row) &&
            !same_number(rows->list[i].freeze_chance, row->freeze_chance))
            return false;
    return isfinite(row->freeze_chance);
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

/* Clones, trees and places of every row from `first` on with its window. */
static void set_sums(union cell *cells, const struct grafting_rows *rows, size_t first,
                     struct arena *arena)
{
    size_t trees = 0, clones = 0;
    double places = 0;
    struct text names;
    text_init(&names, arena);
    for (size_t i = first; i < rows->count; i++) {
        const struct grafting_row *row = &rows->list[i];
        if (!same_window(row, &rows->list[first]))
            continue;
        text_addf(&names, "%s%s", clones++ ? ", " : "", row->clone ? row->clone : "-");
        trees += row->trees;
        places += count_of(row->free_places); /* one unknown makes the sum unknown */
    }
    cells[CLONE].text = names.bytes;
    cells[TREES].number = (double)trees;
    cells[FREE_PLACES].number = places;
}

/* One row for people of all clones that share a window, in the place of the first. */
static void show_row(struct sheet *sheet, const struct grafting_rows *rows, size_t first,
                     const struct page_run *run)
{
    const struct grafting_row *row = &rows->list[first];
    const char *freeze = freeze_text(run, row->freeze_chance);
    bool above = one_freeze(rows, row);
    for (size_t i = 0; i < first; i++)
        if (same_window(&rows->list[i], row))
            return;
    union cell *cells = sheet_row(sheet_shown(sheet));
    set_sums(cells, rows, first, run->arena);
    cells[HEADING].text =
        arena_printf(run->arena, "%s, season %d%s%s", row->site ? row->site->name : "-",
                     row->season, above ? "; " : "", above ? freeze : "");
    cells[WORDS_TEXT].text = row->state_words;
    if (row->good_days_left >= 0)
        cells[DAYS_TEXT].text = arena_printf(run->arena, "%d (%d-%d)", row->good_days_left,
                                             row->good_days_low, row->good_days_high);
    cells[DATES_TEXT].text = dates_text(run->arena, row);
    cells[BASIS_TEXT].text = basis_text(run->arena, row);
    cells[FREEZE_TEXT].text = above ? NULL : freeze;
    cells[CAUTION_TEXT].text = row->caution;
}

struct sheet grafting_sheet(const struct grafting_rows *rows, const struct page_run *run)
{
    struct sheet sheet;
    struct head head;
    sheet_init(&sheet, run->arena, "conetide grafting 1", COLUMNS, columns);
    head_init(&head, run);
    for (size_t i = 0; i < rows->count; i++) {
        const struct grafting_row *row = &rows->list[i];
        set_data(sheet_row(&sheet), row);
        show_row(&sheet, rows, i, run);
        head_see(&head, row->site, row->season, NULL);
    }
    head_write(&head, "Grafting windows", &sheet.head);
    return sheet;
}
