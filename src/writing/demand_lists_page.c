/*
 * demand_lists_page.c - pollen, supplies, work and the rates that the demand rests on.
 */
#include "writing/demand_parts.h"

#include <math.h>
#include <string.h>

enum { P_PARENT, P_BAGS, P_WANTED, P_LOT, P_GERMINATION, P_THERE, P_GIVEN, P_ML, P_COLUMNS };
static const struct sheet_column pollen_columns[P_COLUMNS] = {
    [P_PARENT] = {"pollen", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [P_BAGS] = {"bags", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [P_WANTED] = {"doses_wanted", "doses wanted", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [P_LOT] = {"lot", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [P_GERMINATION] = {"germination_pct", "germination [%]", CELL_NUMBER, 0, COLUMN_EVERYWHERE},
    [P_THERE] = {"doses_there", "doses there", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [P_GIVEN] = {"doses_given", "doses", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [P_ML] = {"ml_given", "ml", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
};

struct sheet demand_pollen_sheet(const struct demand_plan *plan, const struct page_run *run)
{
    struct sheet sheet;
    int64_t wanted = 0, lacking = 0;
    double dose = run->orchard->program.dose_ml;

    sheet_init(&sheet, run->arena, "conetide demand pollen 1", P_COLUMNS, pollen_columns);
    for (size_t i = 0; i < plan->pollen.count; i++) {
        const struct demand_pollen *row = &plan->pollen.list[i];
        union cell *cells = sheet_row(&sheet);

        cells[P_PARENT].text = row->mix != NULL ? row->mix->name : row->parent->name;
        if (row->bags > 0) {
            cells[P_BAGS].number = (double)row->bags;
            cells[P_WANTED].number = (double)row->doses_wanted;
        }
        if (row->lot != NULL) {
            cells[P_LOT].text = row->lot->lot->name;
            cells[P_GERMINATION].number = row->lot->germination_pct;
            cells[P_THERE].number = demand_count_cell(row->doses_there);
        }
        cells[P_GIVEN].number = (double)row->doses_given;
        cells[P_ML].number = row->ml_given;
        wanted += row->doses_wanted;
        lacking += row->lot == NULL ? row->doses_given : 0;
    }
    text_add(&sheet.head, "Pollen: whole doses by lot; a row without a lot is lacking\n");
    text_addf(&sheet.foot,
              "%lld doses wanted, two visits a bag, %.2f ml; %lld doses lacking, %.2f ml\n",
              (long long)wanted, (double)wanted * dose, (long long)lacking, (double)lacking * dose);
    return sheet;
}

enum {
    S_ITEM,
    S_FOR,
    S_OF,
    S_EACH,
    S_SPARE,
    S_SUM,
    S_AMOUNT,
    S_AMOUNT_TEXT,
    S_UNIT,
    S_SOURCE,
    S_COLUMNS
};
static const struct sheet_column supply_columns[S_COLUMNS] = {
    [S_ITEM] = {"item", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [S_FOR] = {"for", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [S_OF] = {"of", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [S_EACH] = {"each", NULL, CELL_NUMBER, 3, COLUMN_DATA_ONLY},
    [S_SPARE] = {"spare", NULL, CELL_NUMBER, 2, COLUMN_DATA_ONLY},
    [S_SUM] = {"sum", "number x each x spare", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [S_AMOUNT] = {"amount", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [S_AMOUNT_TEXT] = {"amount", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [S_UNIT] = {"unit", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [S_SOURCE] = {"source", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
};

struct sheet demand_supplies_sheet(const struct demand_plan *plan, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide demand supplies 1", S_COLUMNS, supply_columns);
    for (size_t i = 0; i < plan->supplies.count; i++) {
        const struct demand_supply *row = &plan->supplies.list[i];
        union cell *cells = sheet_row(&sheet);
        bool feet = run->units_us && row->amount_ft >= 0;

        cells[S_ITEM].text = row->item;
        cells[S_FOR].text = row->for_what;
        cells[S_OF].number = (double)row->of;
        cells[S_EACH].number = row->each;
        cells[S_SPARE].number = row->spare;
        cells[S_SUM].text = arena_printf(run->arena, "%lld x %g x %.2f%s", (long long)row->of,
                                         feet ? row->each_ft : row->each, row->spare,
                                         row->by_selection ? ", by selection" : "");
        cells[S_AMOUNT].number = demand_count_cell(row->amount);
        cells[S_AMOUNT_TEXT].text =
            arena_printf(run->arena, "%lld %s", (long long)(feet ? row->amount_ft : row->amount),
                         feet ? "ft" : row->unit);
        cells[S_UNIT].text = row->unit;
        cells[S_SOURCE].text = row->source;
    }
    text_add(&sheet.head, "Supplies for these grafts and bags, with spares\n");
    text_add(&sheet.foot, "Numbers a graft or bag are common practice, spares an own choice; no "
                          "source was found.\n");
    return sheet;
}

enum { W_TASK, W_TIMES, W_EACH, W_HOURS, W_CREW, W_LIFT, W_DAYS, W_SOURCE, W_COLUMNS };
static const struct sheet_column work_columns[W_COLUMNS] = {
    [W_TASK] = {"task", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [W_TIMES] = {"times", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [W_EACH] = {"minutes_each", "minutes each", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [W_HOURS] = {"crew_hours", "crew-hours", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [W_CREW] = {"crew_days", "crew-days", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [W_LIFT] = {"lift_days", "lift-days", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [W_DAYS] = {"days_to_allow", "days to allow", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [W_SOURCE] = {"source", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
};

struct sheet demand_work_sheet(const struct demand_plan *plan, const struct page_run *run)
{
    struct sheet sheet;
    double hours = 0;

    sheet_init(&sheet, run->arena, "conetide demand work 1", W_COLUMNS, work_columns);
    for (size_t i = 0; i < plan->work.count; i++) {
        const struct demand_work *row = &plan->work.list[i];
        union cell *cells = sheet_row(&sheet);

        cells[W_TASK].text = row->task;
        cells[W_TIMES].number = (double)row->times;
        cells[W_EACH].number = row->minutes_each;
        cells[W_HOURS].number = row->hours;
        cells[W_CREW].number = demand_count_cell(row->crew_days);
        if (row->on_lift)
            cells[W_LIFT].number = demand_count_cell(row->lift_days);
        cells[W_DAYS].number = demand_count_cell(row->days);
        cells[W_SOURCE].text = row->source;
        hours += row->hours;
    }
    text_add(&sheet.head, "Work, over all springs until the seed is made\n");
    text_addf(&sheet.foot,
              "%.1f crew-hours in all.  A crew-day is %g h, a lift-day %g h, each less the minutes "
              "to set up; days to allow: for one crew, when %.0f %% of days are fit for work.\n",
              hours, plan->crew_day_h, plan->lift_day_h, 100 * plan->workable_share);
    return sheet;
}

enum {
    R_RATE,
    R_HOLDS,
    R_VALUE,
    R_LOW,
    R_HIGH,
    R_SEEN,
    R_USED,
    R_SOURCE,
    R_SOURCE_TEXT,
    R_WHERE,
    R_COLUMNS
};
static const struct sheet_column rate_columns[R_COLUMNS] = {
    [R_RATE] = {"rate", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [R_HOLDS] = {"holds_for", "holds for", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [R_VALUE] = {"value", NULL, CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [R_LOW] = {"low", NULL, CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [R_HIGH] = {"high", NULL, CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [R_SEEN] = {"seen", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [R_USED] = {"used_for", "for", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [R_SOURCE] = {"source", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [R_SOURCE_TEXT] = {"source", NULL, CELL_TEXT, 0, COLUMN_BELOW},
    [R_WHERE] = {"where", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
};

static void add_part(struct text *text, const char *part)
{
    if (part == NULL)
        return;
    text_add(text, text->length > 0 ? ", " : "");
    text_add(text, part);
}

static const char *holds_for(const struct rate *rate, struct arena *arena)
{
    struct text text;

    text_init(&text, arena);
    add_part(&text, rate->selection_name);
    add_part(&text, rate->clone);
    add_part(&text, rate->site_name);
    add_part(&text, rate->host_species);
    if (rate->season_number != 0)
        add_part(&text, rate->season_number == 1 ? "first spring" : "second spring");
    return text.length > 0 ? text.bytes : "all";
}

/* Every mixture of uses. */
static const char *used_for(unsigned uses)
{
    static const char *const words[] = {
        "",       "crosses",         "grafts",         "crosses, grafts",
        "freeze", "crosses, freeze", "grafts, freeze", "crosses, grafts, freeze",
    };

    return words[uses & 7];
}

struct sheet demand_rates_sheet(const struct demand_plan *plan, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide demand rates 1", R_COLUMNS, rate_columns);
    for (size_t i = 0; i < plan->rates.count; i++) {
        const struct demand_rate *row = &plan->rates.list[i];
        const struct rate *rate = row->rate;
        union cell *cells = sheet_row(&sheet);

        cells[R_RATE].text = rate->rate;
        cells[R_HOLDS].text = holds_for(rate, run->arena);
        cells[R_VALUE].number = number_of_decimal(rate->value);
        cells[R_LOW].number = rate->low;
        cells[R_HIGH].number = rate->high;
        if (rate->seen >= 0)
            cells[R_SEEN].number = rate->seen;
        cells[R_USED].text = used_for(row->uses);
        cells[R_SOURCE].text = cells[R_SOURCE_TEXT].text = rate->source;
        cells[R_WHERE].text = rate->shipped ? "shipped" : "rates.csv";
    }
    text_add(&sheet.head, "Rates that all this rests on; for a freeze winter the low of the row\n");
    return sheet;
}
