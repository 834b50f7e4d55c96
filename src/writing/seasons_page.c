#include "writing/head.h"
#include "writing/pages.h"
#include "writing/words.h"

enum { SEASON, OBSERVED, LINE, NEIGHBOUR, FORECAST, MEAN, MISSING, MEMBER, REASON, COLUMNS };
static const struct sheet_column columns[COLUMNS] = {
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [OBSERVED] = {"observed", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [LINE] = {"line", "on a line", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [NEIGHBOUR] = {"neighbour", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [FORECAST] = {"forecast", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [MEAN] = {"mean", "mean of others", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [MISSING] = {"missing", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [MEMBER] = {"future", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [REASON] = {"why_not", "why not", CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

static const char *reason_of(const struct season_row *season, struct arena *arena)
{
    struct text words;
    switch (season->use) {
    case SEASON_OF_NOW:
        return "not over yet";
    case SEASON_SPARE:
        return "newer ones are enough";
    case SEASON_MEMBER:
        return NULL;
    case SEASON_LEFT_OUT:
        break;
    }
    text_init(&words, arena);
    head_add_left_out(&season->left_out, &words);
    return words.bytes;
}

static void add_row(struct sheet *sheet, const struct season_row *season)
{
    union cell *row = sheet_row(sheet);
    row[SEASON].number = season->season;
    row[OBSERVED].number = season->days.observed;
    row[LINE].number = season->days.on_line;
    row[NEIGHBOUR].number = season->days.neighbour;
    row[FORECAST].number = season->days.forecast;
    row[MEAN].number = season->mean_days;
    row[MISSING].number = season->days.open - season->mean_days;
    row[MEMBER].text = season->use == SEASON_MEMBER ? "yes" : "no";
    row[REASON].text = reason_of(season, sheet->arena);
}

/* "Offsets from TARN to HOLM: minimum -0.8 to 0.4, maximum ...; by 10114 common days". */
static void add_offset(const char *what, const struct month_offsets *offsets, struct text *out)
{
    double low = offsets->c[0], high = offsets->c[0];
    for (int month = 1; month < 12; month++) {
        low = offsets->c[month] < low ? offsets->c[month] : low;
        high = offsets->c[month] > high ? offsets->c[month] : high;
    }
    text_addf(out, "%s %+.1f", what, low);
    if (high > low)
        text_addf(out, " to %+.1f", high);
}

static void add_neighbour(const struct station_record *record, struct text *out)
{
    enum offset_origin origin = record->tmin_offsets.origin[0];
    text_add(out, "Days of neighbour ");
    text_add_printable(out, record->neighbour);
    text_add(out, " are moved by");
    add_offset(" minimum", &record->tmin_offsets, out);
    add_offset(", maximum", &record->tmax_offsets, out);
    text_add(out, " deg C, ");
    if (origin == OFFSET_OF_ELEVATION)
        text_add(out, "by the elevations: too few days in common");
    else if (origin == OFFSET_NONE)
        text_add(out, "not at all: too few days in common, and no elevations");
    else
        text_addf(out, "the month's mean difference over %zu days in common",
                  record->tmin_offsets.common_days);
    text_add(out, "\n");
}

static void add_site(const struct season_rows *rows, struct text *out)
{
    const struct station_record *record = rows->record;
    text_add(out, "Weather of ");
    text_add_printable(out, rows->site->station_name);
    text_add(out, " as it serves ");
    text_add_printable(out, rows->site->name);
    text_add(out, "\n");
    if (record->reads_morning)
        text_add(out, "Read in the morning: each maximum belongs to the day before\n");
    if (record->neighbour)
        add_neighbour(record, out);
    if (record->no_elevation)
        text_add(out, "Not corrected for elevation: that of the site or the station is missing\n");
    else if (record->tmin_change_c != 0 || record->tmax_change_c != 0)
        text_addf(out, "Moved to the site's elevation: minimum %+.1f, maximum %+.1f deg C\n",
                  record->tmin_change_c, record->tmax_change_c);
}

struct sheet seasons_sheet(const struct season_rows *rows, struct arena *arena)
{
    struct sheet sheet;
    sheet_init(&sheet, arena, "conetide seasons 1", COLUMNS, columns);
    add_site(rows, &sheet.head);
    for (size_t i = 0; i < rows->count; i++)
        add_row(&sheet, &rows->list[i]);
    return sheet;
}
