#include "writing/why_facts.h"

#include "writing/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

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

/* The file as the folder knows it: "thresholds.csv", "weather/HOLM.csv", "defaults/rates.csv". */
static const char *file_in_folder(const struct place *place)
{
    const char *name = place->file, *base = strrchr(name, '/');
    const char *folder;

    if (base == NULL)
        return name;
    for (folder = base; folder > name && folder[-1] != '/';)
        folder--;
    if (strncmp(folder, "weather/", 8) == 0 || strncmp(folder, "defaults/", 9) == 0)
        return folder;
    return base + 1;
}

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
    cells[FILE_NAME].text = file_in_folder(fact->place);
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

static const double ft_per_m = 1 / 0.3048;

void facts_init(struct facts *facts)
{
    sheet_init(&facts->sheet, facts->run->arena, "conetide why 1", COLUMNS, columns);
}

struct fact fact_of(const char *name, const char *words)
{
    return (struct fact){.name = name,
                         .words = words,
                         .days = {DAY_NONE, DAY_NONE, DAY_NONE},
                         .number = (double)NAN};
}

struct fact fact_of_day(const char *name, const char *words, daynum day)
{
    struct fact fact = fact_of(name, words);

    fact.days[1] = day;
    return fact;
}

struct fact fact_of_number(const char *name, const char *words, double number, const char *unit)
{
    struct fact fact = fact_of(name, words);

    fact.number = number;
    fact.unit = unit;
    return fact;
}

void facts_section(struct facts *facts, const char *section, int season, const char *title)
{
    facts->section = section;
    facts->season = season;
    facts->title = title;
}

const char *why_event_words(enum event event)
{
    static const char *const words[EVENTS] = {
        [EVENT_BAG_BY] = "bag by", [EVENT_OPENING] = "opening", [EVENT_FIRST] = "first",
        [EVENT_PEAK] = "peak",     [EVENT_LAST] = "last",       [EVENT_CLOSED] = "closed",
    };

    return words[event];
}

void why_add_place(struct text *out, const struct place *place)
{
    if (place == NULL || place->file == NULL)
        return;
    text_addf(out, " (%s", file_in_folder(place));
    if (place->line > 0)
        text_addf(out, ":%u", place->line);
    text_add(out, ")");
}

void why_add_heat(struct text *out, const struct page_run *run, double heat_c)
{
    if (isnan(heat_c))
        text_add(out, "-");
    else
        text_addf(out, "%.1f", run->units_us ? heat_c * 1.8 : heat_c);
}

void why_add_temperature(struct text *out, const struct page_run *run, double c)
{
    text_addf(out, "%.1f %s", run->units_us ? c * 1.8 + 32 : c, run->units_us ? "F" : "C");
}

void why_add_length(struct text *out, const struct page_run *run, double m)
{
    text_addf(out, "%.0f %s", run->units_us ? m * ft_per_m : m, run->units_us ? "ft" : "m");
}

void why_add_days(struct text *out, double days)
{
    text_addf(out, "%.1f days", days);
}

void why_add_move(struct text *out, int days)
{
    if (days == 0) {
        text_add(out, "on the same day");
        return;
    }
    words_add_count(out, (size_t)abs(days), "day", "days");
    text_add(out, days < 0 ? " earlier" : " later");
}

const char *why_unit(const struct clock *clock)
{
    return clock->counts != NULL ? clock->counts->unit : "degree-days C";
}

double why_need(const struct threshold *row)
{
    return row->clock->counts != NULL ? row->clock_units : row->heat_units_c;
}

void why_add_amount(struct text *out, const struct page_run *run, const struct clock *clock,
                    double amount)
{
    if (clock->counts != NULL && !isnan(amount))
        text_addf(out, "%.1f", amount);
    else
        why_add_heat(out, run, amount);
}

daynum why_date(const struct flowering_row *row, enum event event, int which)
{
    daynum day = row->dates[event][which];

    if (day == DAY_NEVER && bloom_unchilled(row->bloom, event, three_chances[which]))
        return WORDS_UNCHILLED;
    return day;
}
